"""What an alteration adds to the electrical load, the weight and the moment."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..analysis.power.draws import Draw, draws
from ..analysis.study import Study
from ..analysis.weights import Weighed, weighed_things
from ..dataclass import dataclass
from ..model.comparing import same
from ..model.installation import SPECS
from ..model.quantities import Quantity
from .matching import Names


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


def load_change(old: Study, new: Study, names: Names) -> LoadChange:
    """The load before and after, of what the load table counts."""
    before = {names.of("loads", draw.ident): draw for draw in draws(old)}
    after = {draw.ident: draw for draw in draws(new)}
    items = []
    for ident in dict.fromkeys((*before, *after)):
        a, b = (side[ident].amps or 0.0 if ident in side else 0.0 for side in (before, after))
        if not same(a, b):
            items.append((ident, a, b))
    unknown = [ident for ident, draw in {**before, **after}.items() if draw.amps is None]
    return LoadChange(
        _total(before.values(), short=False),
        _total(after.values(), short=False),
        _total(before.values(), short=True),
        _total(after.values(), short=True),
        tuple(items),
        tuple(unknown),
    )


def _total(found: Iterable[Draw], *, short: bool) -> float:
    return sum(draw.amps or 0.0 for draw in found if (draw.duty == "intermittent") is short)


def weight_change(old: Study, new: Study, names: Names) -> WeightChange:
    """Weight and moment of everything that was added, removed or changed."""
    before = {(one.kind, names.of(one.kind, one.ident)): one for one in _standing(old)}
    after = {(one.kind, one.ident): one for one in _standing(new)}
    items, no_weight = [], []
    for key in dict.fromkeys((*before, *after)):
        was, now = before.get(key), after.get(key)
        if (was is None or now is None) and any(one is not None and one.weight is None for one in (was, now)):
            no_weight.append(key[1])
        a, b = (one.weight or 0.0 if one else 0.0 for one in (was, now))
        old_arm, new_arm = (one.arm if one else None for one in (was, now))
        if not same(a, b) or (a and b and not _same_arm(old_arm, new_arm)):
            items.append(WeightItem(*key, a, b, old_arm, new_arm))
    moment = sum(i.new * (i.new_arm or 0.0) - i.old * (i.old_arm or 0.0) for i in items)
    no_arm = [i.ident for i in items if (i.old and i.old_arm is None) or (i.new and i.new_arm is None)]
    said = [gone.weight for gone in new.whole.removed.values() if gone.weight is not None]
    units = [weight.unit for weight in (*_stated(new), *_stated(old), *said)]
    return WeightChange(
        tuple(items),
        sum(i.new - i.old for i in items),
        moment,
        tuple(no_weight),
        tuple(no_arm),
        float(sum(said)),
        "kg" if units and units[0] in ("kg", "g") else "lb",
    )


def _standing(study: Study) -> Iterator[Weighed]:
    return (one for one in weighed_things(study) if one.status != "removed")


def _same_arm(a: float | None, b: float | None) -> bool:
    return a == b or (a is not None and b is not None and same(a, b))


def _stated(study: Study) -> Iterator[Quantity]:
    for section in SPECS:
        for thing in study.whole.section(section).values():
            weight = getattr(getattr(thing, "spec", None), "weight", None)
            if weight is not None:
                yield weight
