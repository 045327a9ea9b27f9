"""What each load, indicator, coil and inverter draws from which bus, in which phase of flight."""

from __future__ import annotations

from collections.abc import Iterator

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import Edge, Walk
from ...model.power import SOURCES, Load
from .. import missing
from ..missing import Missing
from ..study import Study, once
from .wiring import is_starter, load_amps

ANY_PHASE = "any phase"
_LEADS_ON = frozenset(("conductor", "joint", "contact", "spool"))


@dataclass(frozen=True, slots=True)
class Draw:
    """Something that draws current.

    Attributes:
        section, ident: what it is.
        amps: ampere; ``None`` where the document does not say.
        lacking: the fact to add then.
        duty: 'continuous', 'intermittent', or that it is not given.
        phases: phases of flight it is on in; empty for all.
        bus: the bus that feeds it, or the source where no bus does; empty where neither is drawn.
        essential: whether it stays on when the source is lost.
        watts: constant power it draws, where that is what the document states.
        starter: whether it is a part of engine starting, which is over before a source runs.
    """

    section: str
    ident: str
    amps: float | None
    lacking: Missing
    duty: str
    phases: tuple[str, ...]
    bus: str
    essential: bool | None
    watts: float | None = None
    starter: bool = False

    @property
    def path(self) -> DocPath:
        """Where the document tells of it."""
        return (self.section, self.ident)

    @property
    def intermittent(self) -> bool:
        """Whether it is on for a short time only."""
        return self.duty == "intermittent"

    def amps_at(self, volts: float | None) -> float | None:
        """Ampere at a voltage that is not the system's; what states its watts draws more of a lower one."""
        return self.amps if self.watts is None or not volts else self.watts / volts

    def amps_in(self, phase: str) -> float:
        """Ampere in a phase; 0 when it is off then or its current is not given."""
        if phase == "emergency" and self.essential is False:
            return 0.0
        on = phase == ANY_PHASE or not self.phases or phase in self.phases
        return (self.amps or 0.0) if on else 0.0


@once
def draws(study: Study) -> list[Draw]:
    """Every load, every indicator's own supply and lamps, every inverter and every contactor's coil."""
    return list(_draws(study))


def _draws(study: Study) -> Iterator[Draw]:
    model, buses = study.model, _buses(study)
    for ident, load in model.loads.items():
        yield Draw(
            "loads",
            ident,
            load_amps(study, load),
            missing.LOAD_CURRENT,
            load.duty or "duty not given",
            tuple(load.phases or ()),
            load.connected_at or buses.get(ident, ""),
            load.essential,
            _watts(load),
            is_starter(ident, load),
        )
    for ident, indicator in model.indicators.items():
        if indicator.spec.supply_terminals is None:
            continue
        own = indicator.spec.supply_current
        yield Draw(
            "indicators",
            ident,
            None if own is None else float(own) + float(indicator.spec.lamp_current or 0.0),
            missing.INDICATOR_SUPPLY_CURRENT,
            "continuous",
            (),
            buses.get(ident, ""),
            indicator.required,
        )
    for ident, supply in model.supplies.items():
        spec = supply.spec
        if spec.kind not in ("inverter", "contactor"):
            continue
        coil = spec.kind == "contactor"
        taken = spec.coil_current if coil else spec.max_current
        yield Draw(
            "supplies",
            ident,
            None if taken is None else float(taken),
            missing.CONTACTOR_COIL if coil else missing.INVERTER_CURRENT,
            "continuous",
            (),
            buses.get(ident, ""),
            supply.essential,
            None,
            coil and "starter" in f"{ident} {supply.title or ''} {supply.part or ''}".lower(),
        )


def _watts(load: Load) -> float | None:
    if load.spec.current is not None or load.spec.power is None:
        return None
    return float(load.spec.power) * (load.quantity or 1)


def _buses(study: Study) -> dict[str, str]:
    """Thing -> the bus that feeds it, or the source where no bus does, followed through wires and contacts."""
    model = study.model
    found: dict[str, str] = {}
    starts = [i for i, s in model.supplies.items() if s.spec.kind == "bus"]
    starts += [f"{i}.+" for i, s in model.supplies.items() if s.spec.kind in SOURCES]

    def passes(edge: Edge, there: str) -> bool:
        return edge.kind in _LEADS_ON and not study.graph.is_ground(there)

    def takes(node: str) -> bool:
        name, _, terminal = node.partition(".")
        supply = model.supplies.get(name)
        inside = supply is not None and (supply.spec.kind == "inverter" or terminal == "coil +")
        return name in model.loads or name in model.indicators or inside

    def feeds(node: str) -> bool:
        supply = model.supplies.get(node.partition(".")[0])
        return supply is not None and supply.spec.kind in ("bus", "inverter", *SOURCES)

    def ends(node: str) -> bool:
        return node != start and (takes(node) or feeds(node))

    for start in starts:
        for node in Walk([start], study.graph.at, passes, ends):
            if node != start and takes(node):
                found.setdefault(node.partition(".")[0], start.partition(".")[0])
    return found
