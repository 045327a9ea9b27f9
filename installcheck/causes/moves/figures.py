"""The figure or word at which a verdict points: another that would keep the rule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, floor, log10

from pydantic import BaseModel

from ...analysis.study import Study
from ...graph import total_length
from ...model.edits import Edit
from ...model.quantities import Quantity, QuantityError, in_unit, parse, plain_number
from ...rules.verdicts import Verdict
from .headings import does, says
from .spots import Spot, spot

_MOST_WORDS = 6
_CHOSEN = frozenset(
    (
        "through",
        "supported_by",
        "position",
        "location",
        "mount",
        "seat",
        "side",
        "mounted_on",
        "connected_to",
        "left",
        "open_ends",
    )
)
"""Words of a field that a builder chooses."""
_DONE = frozenset(
    (
        "marked",
        "sleeve",
        "clamped",
        "guarded",
        "low_point_drain",
        "drip_loop",
        "twisted",
        "crimped",
        "isothermal",
        "immersed",
        "shrouded",
        "in_view",
        "strained",
        "sealed",
        "capped",
    )
)
"""Fields that tell of an act: done, or to be done."""
_NEVER = frozenset(("none", "other", "hose", "pipe"))
"""Words that nobody chooses: nothing, what is not said, and what a sender ought not to hang on."""
_MEASURED_OUT = frozenset(
    (
        "distance",
        "bend_radius",
        "support_spacing",
        "slack",
        "mark_spacing",
        "clearance",
        "distance_from_end",
        "straight_at_fittings",
        "length",
        "coil_radius",
        "rise",
        "elevation",
        "distance_from_source",
        "bends",
    )
)
"""Figures that a builder lays out."""


def figures(study: Study, verdict: Verdict) -> Iterator[Edit]:
    """Other values of the field a verdict stands at, or of the fields within it."""
    here = spot(study, verdict.path)
    if here is None:
        return
    spots = list(_inner(study, here)) if isinstance(here.value, BaseModel) else [here]
    for one in spots:
        yield from _other_values(study, one, verdict, _beside(here))
    if here.path[-1] == "stack":
        yield from _stacked(here)


def _stacked(here: Spot) -> Iterator[Edit]:
    """A stack put in order: a flat washer, the terminals, then flat washer, lock washer and nut."""
    items = [str(one) for one in here.value] if isinstance(here.value, list) else []
    flat = [one for one in items if "flat" in one]
    locks = [one for one in items if "lock" in one]
    nuts = [one for one in items if "nut" in one.split()]
    lugs = [one for one in items if one not in (*flat, *locks, *nuts)]
    wanted = [*flat[:1], *lugs, *flat[1:], *locks, *nuts]
    if wanted != items:
        name = here.path[1]
        yield Edit(
            (here.put(wanted),),
            f"stack {name} anew: {', '.join(wanted)}",
            f"the stack of {name} is out of order",
        )


def _beside(holder: Spot) -> str:
    """What a clearance is to, where the field is of one of a list of them."""
    to = getattr(holder.value, "to", None)
    return f" from {to}" if isinstance(to, str) and "clearances" in holder.path else ""


def _inner(study: Study, holder: Spot) -> Iterator[Spot]:
    assert isinstance(holder.value, BaseModel)
    for name, info in type(holder.value).model_fields.items():
        found = spot(study, (*holder.path, info.alias or name))
        if found is not None and found.value is not None:
            yield found


def _other_values(study: Study, one: Spot, verdict: Verdict, beside: str) -> Iterator[Edit]:
    word, thing = str(one.path[-1]), str(one.path[1])
    label = word.replace("_", " ")
    if one.yes_or_no and word in _DONE:
        value = one.value is not True
        words = f"see that {says(study, replace(one, value=value), beside)}"
        yield Edit((one.put(value),), words, says(study, one, beside))
    elif one.words and word in _CHOSEN:
        for other in [w for w in one.words if w != one.value and w not in _NEVER][:_MOST_WORDS]:
            yield Edit((one.put(other),), does(study, one, other), says(study, one, beside))
    elif isinstance(one.value, Quantity) and word in _MEASURED_OUT:
        for text in (*_kept(study, one, verdict), *_elsewhere(study, one, verdict)):
            words = f"make the {label} of {thing}{beside} {text} (now {one.value.text})"
            yield Edit((one.put(text),), words, says(study, one, beside))


def _kept(study: Study, one: Spot, verdict: Verdict) -> Iterator[str]:
    """The limit of a verdict as a text in the unit of the field, on the safe side of it, rounded and as it is.

    A limit in per cent of a length is one of the whole run or line.
    """
    now = one.value
    if verdict.limit is None or verdict.value is None or not isinstance(now, Quantity):
        return
    limit: float
    if verdict.unit == "%" and now.kind == "length":
        whole = total_length(study.model.section(str(one.path[0]))[str(one.path[1])])  # type: ignore[arg-type]
        if whole is None:
            return
        limit = verdict.limit / 100 * whole
    else:
        try:
            limit = parse(f"{verdict.limit:.9g} {verdict.unit}", now.kind)
        except QuantityError:
            return
    number = in_unit(float(limit), now.unit, now.kind)
    up = verdict.limit > verdict.value
    for digits in (2, 4):
        text = f"{plain_number(_rounded(number, digits, up=up), digits + 1)} {now.unit}"
        yield text


def _elsewhere(study: Study, one: Spot, verdict: Verdict) -> Iterator[str]:
    """What the document says in the same field of other things of the section, on the safe side of now, the nearest first."""
    up = verdict.limit is not None and verdict.value is not None and verdict.limit > verdict.value
    found: dict[str, Quantity] = {}
    section, rest = str(one.path[0]), one.path[2:]
    for ident, thing in study.model.section(section).items():
        places = [(section, ident, *rest)]
        if "clearances" in rest:
            places = [
                (section, ident, *rest[:-2], i, rest[-1])
                for i in range(len(getattr(thing, "clearances", None) or ()))
            ]
        for place in places:
            there = spot(study, place)
            value = there.value if there is not None else None
            if isinstance(value, Quantity) and isinstance(one.value, Quantity) and (value > one.value) == up:
                found.setdefault(value.text, value)
    yield from sorted(found, key=lambda t: float(found[t]), reverse=not up)[:3]


def _rounded(number: float, digits: int, *, up: bool) -> float:
    if not number:
        return number
    step = 10.0 ** (floor(log10(abs(number))) - digits + 1)
    return (ceil(number / step - 1e-9) if up else floor(number / step + 1e-9)) * step
