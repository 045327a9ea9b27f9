"""What an alteration adds to the electrical load, the weight and the moment."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from pydantic import BaseModel

from ..document.installation import SPECS, Installation
from ..document.items import FluidLine, Indicator, Load, Supply, WireRun
from ..document.quantities import Quantity
from ..graph import total_length
from .differences import SAME, Pair
from .names import standing


@dataclass(frozen=True, slots=True)
class LoadChange:
    """Load of one document against the other, in ampere.

    Attributes:
        old, new: current of everything on continuously.
        old_short, new_short: current of what is on for a short time.
        items: (id, old, new) of everything whose current differs; 0 where it is not there.
        unknown: what draws current but does not say how much, in either document.
    """

    old: float
    new: float
    old_short: float
    new_short: float
    items: tuple[tuple[str, float, float], ...]
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WeightItem:
    """Weight of one thing before and after in kg, and its arm in metres from the datum."""

    section: str
    ident: str
    old: float
    new: float
    old_arm: float | None
    new_arm: float | None


@dataclass(frozen=True, slots=True)
class WeightChange:
    """Weight and moment of what differs.

    Attributes:
        items: everything whose weight or arm differs.
        change: kg; moment: kg m about the datum, of the items whose arm is known.
        no_weight: what was added, removed or changed and says no weight.
        no_arm: what of the items has a weight but no arm.
        said_removed: what the new document's own list of removed things says was taken out, kg; not in ``change``.
        unit: the documents' own unit of weight.
    """

    items: tuple[WeightItem, ...]
    change: float
    moment: float
    no_weight: tuple[str, ...]
    no_arm: tuple[str, ...]
    said_removed: float
    unit: str


def load_change(pair: Pair) -> LoadChange:
    """The load before and after; what draws by power or resistance is taken at the system voltage."""
    before, after = _currents(pair.old.model), _currents(pair.new.model)
    old = {pair.names.of("loads", ident): value for ident, value in before.items()}
    items = []
    for ident in dict.fromkeys((*old, *after)):
        a, b = old.get(ident, (0.0, False))[0] or 0.0, after.get(ident, (0.0, False))[0] or 0.0
        if abs(a - b) > SAME * max(a, b):
            items.append((ident, a, b))
    unknown = [ident for ident, (amps, _) in {**old, **after}.items() if amps is None]

    def total(of: dict[str, tuple[float | None, bool]], *, short: bool) -> float:
        return sum(amps or 0.0 for amps, brief in of.values() if brief is short)

    return LoadChange(
        total(old, short=False),
        total(after, short=False),
        total(old, short=True),
        total(after, short=True),
        tuple(items),
        tuple(unknown),
    )


def _currents(model: Installation) -> dict[str, tuple[float | None, bool]]:
    """By id, the current drawn in ampere and whether it is on for a short time only."""
    found: dict[str, tuple[float | None, bool]] = {}
    volts = model.aircraft.system_voltage
    for section in ("loads", "indicators", "supplies"):
        for ident, thing in standing(model, section).items():
            count = getattr(thing, "quantity", None) or 1
            if isinstance(thing, Load):
                amps = _load_current(thing, volts)
                found[ident] = (None if amps is None else amps * count, thing.duty == "intermittent")
            elif isinstance(thing, Indicator):
                own = [c for c in (thing.spec.supply_current, thing.spec.lamp_current) if c is not None]
                if own or thing.spec.supply_terminals:
                    found[ident] = (sum(own) * count if own else None, False)
            elif isinstance(thing, Supply) and thing.spec.coil_current is not None:
                found[ident] = (float(thing.spec.coil_current) * count, False)
    return found


def _load_current(load: Load, volts: Quantity | None) -> float | None:
    spec = load.spec
    if spec.current is not None:
        return float(spec.current)
    if volts and spec.power is not None:
        return spec.power / volts
    if volts and spec.resistance:
        return volts / spec.resistance
    return None


def weight_change(pair: Pair) -> WeightChange:
    """Weight and moment of everything that was added, removed or changed."""
    before, after = dict(_weights(pair.old.model)), dict(_weights(pair.new.model))
    old = {(section, pair.names.of(section, ident)): found for (section, ident), found in before.items()}
    items, no_weight = [], []
    for key in dict.fromkeys((*old, *after)):
        was, now = old.get(key, _NOTHING), after.get(key, _NOTHING)
        if (was.thing is None or now.thing is None) and None in (was.weight, now.weight):
            no_weight.append(key[1])
        a, b = was.weight or 0.0, now.weight or 0.0
        if abs(a - b) > SAME * max(a, b) or (a and b and was.arm != now.arm):
            items.append(WeightItem(*key, a, b, was.arm, now.arm))
    moment = sum(i.new * (i.new_arm or 0.0) - i.old * (i.old_arm or 0.0) for i in items)
    no_arm = [i.ident for i in items if (i.old and i.old_arm is None) or (i.new and i.new_arm is None)]
    said = [gone.weight for gone in pair.new.model.removed.values() if gone.weight is not None]
    units = [w.unit for w in _stated(pair)] + [w.unit for w in said]
    return WeightChange(
        tuple(items),
        sum(i.new - i.old for i in items),
        moment,
        tuple(no_weight),
        tuple(no_arm),
        float(sum(said)),
        "kg" if units and units[0] in ("kg", "g") else "lb",
    )


@dataclass(frozen=True, slots=True)
class _Weighed:
    thing: BaseModel | None
    weight: float | None
    arm: float | None


_NOTHING = _Weighed(None, 0.0, None)


def _weights(model: Installation) -> Iterator[tuple[tuple[str, str], _Weighed]]:
    for section in SPECS:
        for ident, thing in standing(model, section).items():
            station = getattr(thing, "station", None)
            yield (
                (section, ident),
                _Weighed(thing, _weight(thing), None if station is None else float(station)),
            )


def _weight(thing: BaseModel) -> float | None:
    spec = getattr(thing, "spec", None)
    each: Quantity | None = getattr(spec, "weight", None)
    count = getattr(thing, "quantity", None) or 1
    if each is not None:
        return each * count
    by_length: Quantity | None = getattr(spec, "linear_weight", None)
    if by_length is not None and isinstance(thing, (WireRun, FluidLine)):
        length = total_length(thing)
        return None if length is None else by_length * length * count
    return None


def _stated(pair: Pair) -> Iterator[Quantity]:
    for graph in (pair.new, pair.old):
        for section in SPECS:
            for thing in graph.model.section(section).values():
                weight = getattr(getattr(thing, "spec", None), "weight", None)
                if weight is not None:
                    yield weight
