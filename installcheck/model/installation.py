"""The whole document as one typed model, its sections, and how things in it are named and found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property, lru_cache
from operator import attrgetter
from types import MappingProxyType
from typing import Any, TypeAlias

from pydantic import BaseModel

from .abreast import abreast
from .aircraft import Aircraft, Barrier, Engine, Header, OperatingPoint, Zone
from .devices import Indicator, IndicatorSpec, InputSpec, Probe, ProbeSpec, Sender, SenderSpec
from .fields import Id, Model
from .fluid import Fitting, FittingSpec, FluidLine, LineSpec, Tap
from .live import without_removed
from .power import Ground, Load, LoadSpec, Supply, SupplySpec
from .quantities import Quantity
from .records import Deviation, Measurement, Notice, Removed, SeenLine, Survey
from .things import Span, Spec
from .wiring import Bundle, Junction, JunctionSpec, WireRun, WireSpec

Device: TypeAlias = Sender | Indicator | Probe | Supply | Load | Junction | Fitting
Thing: TypeAlias = Device | Ground | Tap

SPECS: Mapping[str, type[Spec]] = MappingProxyType(
    {
        "senders": SenderSpec,
        "indicators": IndicatorSpec,
        "probes": ProbeSpec,
        "supplies": SupplySpec,
        "loads": LoadSpec,
        "junctions": JunctionSpec,
        "wire_runs": WireSpec,
        "fittings": FittingSpec,
        "fluid_lines": LineSpec,
    }
)
"""Sections whose things have a spec that a part can fill."""

JOINABLE = (
    "senders",
    "indicators",
    "probes",
    "supplies",
    "loads",
    "grounds",
    "junctions",
    "taps",
    "fittings",
)
"""Sections whose things a run or a line can end at."""


class Installation(Model):
    """One installation: everything the document says."""

    installation: Header
    aircraft: Aircraft = Aircraft()
    engines: dict[Id, Engine] = {}
    zones: dict[Id, Zone] = {}
    barriers: dict[Id, Barrier] = {}
    operating_points: dict[Id, OperatingPoint] = {}
    senders: dict[Id, Sender] = {}
    indicators: dict[Id, Indicator] = {}
    probes: dict[Id, Probe] = {}
    supplies: dict[Id, Supply] = {}
    loads: dict[Id, Load] = {}
    grounds: dict[Id, Ground] = {}
    junctions: dict[Id, Junction] = {}
    bundles: dict[Id, Bundle] = {}
    wire_runs: dict[Id, WireRun] = {}
    taps: dict[Id, Tap] = {}
    fittings: dict[Id, Fitting] = {}
    fluid_lines: dict[Id, FluidLine] = {}
    survey: dict[Id, Survey] = {}
    measured: list[Measurement] = []
    seen: list[SeenLine] = []
    deviations: list[Deviation] = []
    notices: list[Notice] = []
    removed: dict[Id, Removed] = {}

    @cached_property
    def live(self) -> Installation:
        """What is in the aircraft after the change: without what is removed and what names it."""
        changed = without_removed({name: getattr(self, name) for name in type(self).model_fields})
        return self.model_copy(update=changed) if changed else self

    @cached_property
    def zones_abreast(self) -> tuple[str, ...]:
        """Zones in the order in which a drawing sets them side by side."""
        zone_of = {ident: getattr(thing, "zone", None) for _, ident, thing in self.things()}

        def way(run: WireRun | FluidLine) -> list[str | None]:
            start, end = (zone_of.get(split_end(one)[0]) if one else None for one in (run.from_, run.to))
            return [start, *(step.zone for step in run.route or ()), end]

        ways = [*map(way, self.wire_runs.values()), *map(way, self.fluid_lines.values())]
        return tuple(abreast(tuple(self.zones), ways, [b.between for b in self.barriers.values()]))

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Installation:
        """A copy with some sections changed; what was worked out for this one is not carried along."""
        copied = super().model_copy(update=update, deep=deep)
        for name in ("_by_id", "live", "zones_abreast"):
            copied.__dict__.pop(name, None)
        return copied

    def section(self, name: str) -> Mapping[str, BaseModel]:
        """A section that maps ids to things.

        Raises:
            AttributeError: no such section.
        """
        found: Mapping[str, BaseModel] = getattr(self, name)
        return found

    def things(self) -> Iterator[tuple[str, str, Thing]]:
        """Everything a run or line can end at: (section, id, thing)."""
        for name in JOINABLE:
            for ident, thing in getattr(self, name).items():
                yield name, ident, thing

    def find(self, ident: str) -> tuple[str, Thing] | None:
        """The section and thing of an id a run or line can end at."""
        return self._by_id.get(ident)

    @cached_property
    def _by_id(self) -> dict[str, tuple[str, Thing]]:
        return {
            ident: (section, thing) for section in JOINABLE for ident, thing in getattr(self, section).items()
        }

    def engine_of(self, thing: BaseModel) -> tuple[str, Engine] | None:
        """The engine a thing serves: the one it names, or the only one."""
        named = getattr(thing, "engine", None)
        if named is not None:
            return (named, self.engines[named]) if named in self.engines else None
        return next(iter(self.engines.items())) if len(self.engines) == 1 else None


@lru_cache(maxsize=1 << 16)
def split_end(end: str) -> tuple[str, str]:
    """``oil bulb.A`` as ('oil bulb', 'A'); an end without a dot has the empty terminal."""
    ident, _, terminal = end.partition(".")
    return ident, terminal


def is_one_point(thing: Thing | None) -> bool:
    """Whether all terminals of a thing are the same point: grounds, taps, buses, splices and studs."""
    if isinstance(thing, (Ground, Tap)):
        return not (isinstance(thing, Ground) and thing.kind in ("strap", "bond"))
    if isinstance(thing, Supply):
        return thing.spec.kind == "bus"
    return (
        isinstance(thing, Junction)
        and not thing.spec.pins
        and thing.spec.kind in ("splice", "stud", "spark plug")
    )


_TERMINALS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "battery": ("+", "-"),
        "alternator": ("+", "-"),
        "generator": ("+", "-"),
        "inverter": ("in", "out", "-"),
        "breaker": ("in", "out"),
        "fuse": ("in", "out"),
        "current limiter": ("in", "out"),
        "switch": ("in", "out"),
        "contactor": ("in", "out", "coil +", "coil -"),
        "spool": ("in", "out"),
        "shunt": ("in", "out", "sense +", "sense -"),
        "resistor": ("in", "out"),
        "ignition coil": ("+", "-", "lead"),
        "synchro transmitter": ("S1", "S2", "S3", "R1", "R2"),
        "tachometer generator": ("1", "2", "3"),
        "restrictor": ("in", "out"),
        "cock": ("in", "out"),
        "check valve": ("in", "out"),
    }
)


def terminals_of(section: str, thing: Thing) -> tuple[str, ...] | None:
    """Names of a thing's terminals and ports together; ``None`` where any name will do."""
    if isinstance(thing, (Ground, Tap)):
        return None
    spec = thing.spec
    named = [*(spec.terminals or ()), *(spec.ports or ())]
    if isinstance(spec, IndicatorSpec):
        for one in (spec.inputs or {}).values():
            named += [*(one.terminals or ()), *(one.ports or ())]
        named += list(spec.supply_terminals or ())
    if isinstance(spec, JunctionSpec) and spec.pins:
        named += list(spec.pins)
    if not named:
        kind = getattr(spec, "kind", None) or getattr(spec, "principle", None)
        default = _TERMINALS.get(kind or "", ("+", "-") if section in ("probes", "loads") else ())
        if not default:
            return None
        named = list(default)
    cased = isinstance(spec, JunctionSpec) and spec.kind == "magneto"
    if "case" not in named and (
        cased or getattr(thing, "grounding", None) or getattr(spec, "case_return", None)
    ):
        named.append("case")
    return tuple(dict.fromkeys(named))


def switched(terminals: Iterable[str], common: str) -> Iterator[tuple[str, str, str]]:
    """What a selector or block can join: (position, common terminal, terminal of that position).

    ``1 +`` is position 1 of the pole whose common terminal is ``common +``; with a single pole, ``1`` of ``common``.
    """
    names = list(terminals)
    poles = {n.removeprefix(common).strip(): n for n in names if n == common or n.startswith(f"{common} ")}
    for name in names:
        for pole, shared in poles.items():
            if name not in poles.values() and (not pole or name.endswith(f" {pole}")):
                yield name.removesuffix(pole).rstrip(), shared, name
                break


def _of_its_unit(difference: Quantity | None, scale: Span | None) -> bool:
    """Whether a difference can be one of the indication on a scale; yes where either is not told."""
    if difference is None or scale is None:
        return True
    return difference.kind.removesuffix(" difference") == scale.lowest.kind


def inputs_of(indicator: Indicator) -> Iterator[tuple[str, InputSpec]]:
    """The inputs of an indicator by name, what they leave out filled in from the indicator itself.

    An indicator with one input yields it under the empty name.
    """
    spec = indicator.spec
    own = _WORDS_OF_INPUT(spec)
    if not spec.inputs:
        yield "", _input(dict(zip(InputSpec.model_fields, own, strict=True)))
        return
    for name, one in spec.inputs.items():
        told = zip(InputSpec.model_fields, _WORDS_OF_INPUT(one), own, strict=True)
        filled = {f: mine if mine is not None else common for f, mine, common in told}
        if one.terminals is None:
            filled["terminals"] = None
        for word in ("budget", "accuracy"):
            if getattr(one, word) is None and not _of_its_unit(filled[word], filled["scale"]):
                filled[word] = None
        yield name, _input(filled)


_WORDS_OF_INPUT = attrgetter(*InputSpec.model_fields)


def _input(words: dict[str, Any]) -> InputSpec:
    """An input of all its words, as ``model_construct`` makes it, in a quarter of the time."""
    made = InputSpec.__new__(InputSpec)
    for name, held in (
        ("__dict__", words),
        ("__pydantic_fields_set__", set(words)),
        ("__pydantic_extra__", None),
        ("__pydantic_private__", None),
    ):
        object.__setattr__(made, name, held)
    return made
