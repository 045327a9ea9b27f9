"""What a drawing writes beside things: lengths as the document gives them, gauge, metal, part and rating."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...drawing.kinds import Change
from ...graph import Edge, total_length
from ...model.devices import Indicator, Probe
from ...model.fluid import FluidLine, Tap
from ...model.installation import Installation
from ...model.power import Ground, Load, Supply
from ...model.quantities import Quantity, in_unit, plain_number, show
from ...model.wiring import Junction, WireRun

_METRIC = frozenset(("m", "mm", "cm", "km"))
_LEGS = frozenset(("chromel", "alumel", "iron", "constantan"))
FOLDED = frozenset(("adapter", "union", "elbow", "restrictor", "damper", "cap", "plug"))
"""Small fittings that are drawn as part of the port they are screwed into."""


def change_of(thing: object) -> Change:
    """What the alteration does to a thing."""
    status = getattr(thing, "status", None)
    return Change.NEW if status == "new" else Change.REMOVED if status == "removed" else Change.NONE


def length_words(thing: WireRun | FluidLine) -> str:
    """The whole length, in feet and inches or in metres as the document writes it; empty if it does not."""
    metres = total_length(thing)
    if metres is None:
        return ""
    return length_text(metres, [thing])


def length_text(metres: float, things: Iterable[WireRun | FluidLine]) -> str:
    """The length of some runs or lines together in the units they are written in: ``5 ft 6 in``, ``4 in``, ``1.2 m``."""
    if all(q.unit in _METRIC for one in things for q in _lengths(one)):
        return show(metres, "m", "length") if metres >= 1 else show(metres, "mm", "length")
    inches = round(in_unit(metres, "in", "length"), 1)
    feet, rest = divmod(inches, 12)
    if inches < 24 and rest:
        return f"{plain_number(inches)} in"
    return f"{feet:.0f} ft" + (f" {plain_number(rest)} in" if rest else "")


def _lengths(thing: WireRun | FluidLine) -> list[Quantity]:
    split = [s.length for s in thing.route or () if s.length is not None]
    return split or ([thing.length] if thing.length is not None else [])


def is_thermocouple(edge: Edge) -> bool:
    """Whether a conductor is a leg of thermocouple wire."""
    return edge.run is not None and (edge.run.spec.thermocouple is not None or edge.metal in _LEGS)


def wire_words(edge: Edge) -> Iterator[str]:
    """The flag of a conductor: gauge, metal or colour, length, twist."""
    run = edge.run
    assert run is not None
    own = edge.conductor.gauge if edge.conductor is not None else None
    gauge = own if own is not None else run.gauge
    if gauge is not None:
        yield f"{gauge} AWG"
    if is_thermocouple(edge) and edge.metal:
        yield edge.metal
    elif edge.colour:
        yield edge.colour
    length = length_words(run)
    if length:
        yield length
    if run.twisted:
        yield "twisted"


def line_words(line: FluidLine) -> Iterator[str]:
    """Material and size of a fluid line."""
    spec = line.spec
    if spec.material is not None:
        yield spec.material
    if line.size is not None:
        yield line.size
    elif spec.outside_diameter is not None:
        yield show(spec.outside_diameter, "in", "length")


def thing_words(model: Installation, ident: str, thing: object) -> Iterator[str]:
    """What stands under the name of a device."""
    spec = getattr(thing, "spec", None)
    part = getattr(thing, "part", None)
    if isinstance(thing, Supply):
        rating = thing.spec.rating or thing.spec.rated_current or thing.spec.voltage
        yield f"{thing.spec.kind or ''} {rating.text if rating is not None else ''}".strip()
    elif isinstance(thing, Tap):
        yield f"{thing.medium}{', ' + thing.pressure.text if thing.pressure is not None else ''}"
    elif isinstance(thing, Ground):
        if thing.kind != ident:
            yield thing.kind
        if thing.through is not None:
            yield f"fastened through {thing.through}"
        if thing.material is not None:
            yield f"on {thing.material}"
    elif getattr(thing, "cylinder", None) is not None:
        yield f"cylinder {getattr(thing, 'cylinder', '')}"
    elif part:
        yield str(part)
    if isinstance(thing, Probe):
        if thing.spec.lead_length is not None:
            yield f"own lead {thing.spec.lead_length.text}"
        if thing.location_note is not None:
            yield thing.location_note
    if isinstance(thing, Indicator) and thing.label is not None:
        yield f"marked '{thing.label}'"
    if isinstance(thing, Load):
        drawn = thing.spec.current or thing.spec.power or thing.spec.resistance
        if drawn is not None:
            yield drawn.text
        if thing.connected_at is not None:
            yield f"fed at {thing.connected_at}"
            yield "wiring not described"
    if (
        isinstance(thing, Junction)
        and thing.spec.kind in ("spool", "resistor", "shunt")
        and thing.spec.resistance is not None
    ):
        yield thing.spec.resistance.text
    if (
        spec is not None
        and getattr(spec, "kind", None) == "selector switch"
        and getattr(thing, "selected", None)
    ):
        yield f"stands at {getattr(thing, 'selected', '')}"
    for _, words in folded_on(model, ident):
        yield words


def folded_on(model: Installation, ident: str) -> Iterator[tuple[str, str]]:
    """Small fittings screwed into a thing: id, and what is written for each."""
    for fitting_id, fitting in model.fittings.items():
        if (
            fitting.spec.kind in FOLDED
            and fitting.screwed_into is not None
            and fitting.screwed_into.partition(".")[0] == ident
        ):
            bore = fitting.spec.bore if fitting.spec.kind == "restrictor" else None
            size = f" {bore.text}" if bore is not None else ""
            named = str(fitting.spec.kind) in fitting_id.split()
            yield fitting_id, f"{fitting_id}{size}" if named else f"{fitting_id}: {fitting.spec.kind}{size}"


def ohms_words(ohms: float | None) -> str:
    """A resistance in ohm or milliohm; 'ohms not given' where the document is silent."""
    if ohms is None:
        return "ohms not given"
    return show(ohms, "ohm" if ohms >= 1 else "milliohm", "resistance")
