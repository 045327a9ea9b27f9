"""Scales that cover limits and normal operation, fine enough at the limit, with the red line where it can be read."""

from __future__ import annotations

from collections.abc import Iterable

from ...analysis import missing
from ...analysis.missing import Missing
from ...analysis.required import required_inputs
from ...analysis.shown import Shown, limit_of, listed, number, shown, text, width, width_text
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.aircraft import Limit
from ...model.comparing import at_least, at_most, room_above, room_below
from ...model.quantities import Quantity
from ...model.things import Span
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_LIMITED = frozenset(
    (
        "head temperature",
        "oil temperature",
        "oil pressure",
        "fuel pressure",
        "coolant temperature",
        "turbine inlet temperature",
        "engine speed",
    )
)
"""What engines have limits for; without them a required indication cannot be judged."""
_POINTERS = frozenset(
    (
        "direct pressure",
        "capillary",
        "moving-coil thermocouple",
        "bridge",
        "ratio meter",
        "series meter",
        "synchro receiver",
        "synchronous tachometer",
    )
)
"""Principles that move a pointer over a dial; of others only those with divisions are dials."""
_LOWEST_PLACE, _HIGHEST_PLACE = 0.5, 0.9
"""Share of the span at which a red line is well read: engineering practice."""


@dataclass(frozen=True, slots=True)
class Dial:
    """An indication with the limits it is there for; ``limit`` is ``None`` where they are wanted and not given."""

    shown: Shown
    limit: Limit | None
    required: bool

    @property
    def ident(self) -> str:
        """Name of the indication."""
        return self.shown.name

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return self.shown.path

    @property
    def is_pointer(self) -> bool:
        """Whether it is read by a pointer between divisions."""
        scale = self.shown.spec.scale
        return self.shown.spec.principle in _POINTERS or (scale is not None and scale.division is not None)


@once
def dials(study: Study) -> tuple[Dial, ...]:
    """Every indication with engine limits, and every required one that should have them."""
    needed = required_inputs(study)
    found = []
    for one in shown(study):
        if one.spec.principle == "warning light":
            continue
        limit, required = limit_of(study, one), one.name in needed
        if limit is not None or (required and one.measure in _LIMITED):
            found.append(Dial(one, limit, required))
    return tuple(found)


@once
def _without_limits(study: Study) -> frozenset[str]:
    """The indications whose limits are wanted and not given."""
    return frozenset(dial.ident for dial in dials(study) if dial.limit is None)


def settled_by_limits(study: Study, name: str, facts: Iterable[Missing]) -> list[Missing]:
    """What an indication lacks; its limits in the place of a reading, where it should have some: they settle both."""
    wanted = name in _without_limits(study)
    told = ((missing.ENGINE_INDICATION_LIMITS if wanted and f == missing.POINT_READING else f) for f in facts)
    return list(dict.fromkeys(told))


def edges(limit: Limit) -> list[tuple[str, Quantity]]:
    """Every value a limit names, with what it is."""
    named = (
        ("lowest allowed", limit.minimum),
        ("bottom of the normal range", limit.normal_low),
        ("top of the normal range", limit.normal_high),
        ("bottom of the caution range", limit.caution_low),
        ("top of the caution range", limit.caution_high),
        ("limit", limit.maximum),
    )
    return [(word, value) for word, value in named if value is not None]


@rule(
    "scale-covers-limits",
    title="A scale covers every limit and normal operation",
    why="A pointer against its stop says neither how far beyond the limit the engine is nor that it is coming back.",
    source="14 CFR 23.1301, 25.1549(a): each limit is marked on the instrument, so it lies on its scale",
    formula="scale lowest <= lowest limit or reading; scale highest >= highest limit or reading",
    example="fuel gauge to 35 psi with a 42 psi limit: 7 psi short",
    over=dials,
)
def scale_covers_limits(study: Study, subject: Subject, dial: Dial) -> Verdict:
    """Every indication with engine limits."""
    one, limit, scale = dial.shown, dial.limit, dial.shown.spec.scale
    if scale is None or limit is None:
        wanted = ((missing.ENGINE_INDICATION_LIMITS, limit), (missing.INDICATOR_SCALE, scale))
        return subject.lacks(*(word for word, value in wanted if value is None))
    read = [
        (f"reading at the point '{p.name}'", r)
        for p in study.points
        if p.given is not None and (r := p.reading(one.measure)) is not None
    ]
    named = edges(limit)
    if any(v.kind != scale.lowest.kind for _, v in (*named, *read)):
        return subject.lacks(missing.ENGINE_LIMITS_OF_KIND)
    return _covered(subject, dial.shown, scale, limit, read)


def _told(limit: Limit, named: list[tuple[str, Quantity]], read: list[tuple[str, Quantity]]) -> str:
    """What a scale covers: all there can be, or what the document tells of it."""
    if None not in (limit.minimum, limit.maximum, limit.normal_low, limit.normal_high):
        return "its limits and normal operation"
    told = [f"{word} {value.text}" for word, value in named] + ["its readings"] * bool(read)
    return f"what is told of it: {listed(told)}"


def _covered(
    subject: Subject, one: Shown, scale: Span, limit: Limit, read: list[tuple[str, Quantity]]
) -> Verdict:
    """The end of the scale that is nearest to what it must show, or farthest short of it."""
    rooms, named = [], edges(limit)
    for is_limit, (word, value) in [*((True, n) for n in named), *((False, r) for r in read)]:
        rooms.append((room_above(value, scale.lowest), is_limit, word, value, scale.lowest, "lowest"))
        rooms.append((room_below(value, scale.highest), is_limit, word, value, scale.highest, "highest"))
    short = [r for r in rooms if r[0] < 0]
    # A limit off the scale weighs more than a reading off it.
    room, is_limit, word, value, end, side = min(short or rooms, key=lambda r: (not (short and r[1]), r[0]))
    ends = f"{one.name} shows {text(scale.lowest, value)} to {text(scale.highest, value)}"
    values = [v for _, v in named + read]
    place = subject.field("scale", side)
    compared = place.at_least if side == "lowest" else place.at_most
    return compared(
        number(value, value),
        number(end, value),
        value.unit,
        f"{ends}, which covers {_told(limit, named, read)}",
        broken=f"{ends}, but the {word} is {text(value, value)}: {width_text(-room, value)} beyond the scale",
        remedy=f"fit a scale of at least {text(min(values), value)} to {text(max(values), value)}",
        practice=not is_limit,
    )


@rule(
    "scale-resolution",
    title="The dial is fine enough to tell a limit from the range beside it",
    why="A pointer is read to half a division. If the band between normal and the limit is a division wide, nobody sees which it is.",
    source="engineering practice",
    formula="division <= half of the narrowest range next to a limit; reading error half a division",
    example="limit 245 degF, green to 220 degF: 12.5 degF is the most, and 25 degF divisions are too coarse",
    over=dials,
)
def scale_resolution(study: Study, subject: Subject, dial: Dial) -> Verdict | None:
    """Every dial with a limit and a normal range that do not meet."""
    one, scale = dial.shown, dial.shown.spec.scale
    gap = _narrowest(dial.limit) if dial.limit is not None else None
    if gap is None or not dial.is_pointer:
        return None
    if scale is None or scale.division is None:
        lacking = missing.INDICATOR_SCALE if scale is None else missing.INDICATOR_DIVISION
        return subject.lacks(lacking) if dial.required else None
    wide, like = gap
    division = float(scale.division)
    told = (
        f"{one.name} has divisions of {width_text(division, like)}, and {width_text(wide, like)} lie between its normal range "
        "and the limit"
    )
    return subject.field("scale", "division").at_most(
        width(division, like),
        width(wide / 2, like),
        like.unit,
        told,
        broken=f"{told}: the pointer is read to {width_text(division / 2, like)}",
        remedy=f"fit a dial with divisions of {width_text(wide / 2, like)} or finer",
        practice=True,
    )


def _narrowest(limit: Limit) -> tuple[float, Quantity] | None:
    """The narrowest range between the normal range and a limit [SI, K]; ``None`` if there is none."""
    gaps = []
    if limit.maximum is not None and limit.normal_high is not None:
        gaps.append((limit.maximum - limit.normal_high, limit.maximum))
    if limit.minimum is not None and limit.normal_low is not None:
        gaps.append((limit.normal_low - limit.minimum, limit.minimum))
    wide = [g for g in gaps if g[0] > 0]
    return min(wide, key=lambda g: g[0]) if wide else None


@rule(
    "red-line-place",
    title="The red line stands in the upper half of the dial, short of its end",
    why="Low on the scale the limit is read coarsely; at the end of the scale nothing shows how far it is passed.",
    source="engineering practice, no rule",
    formula="(limit - lowest) / (highest - lowest) from 50 to 90 %",
    example="460 degF on 100 to 600 degF: 72 %",
    over=dials,
)
def red_line_place(study: Study, subject: Subject, dial: Dial) -> Verdict | None:
    """Every dial with an upper limit on it."""
    one, scale = dial.shown, dial.shown.spec.scale
    top = dial.limit.maximum if dial.limit is not None else None
    if scale is None or top is None or not dial.is_pointer or top.kind != scale.highest.kind:
        return None
    if not (at_least(top, scale.lowest) and at_most(top, scale.highest)):
        return None
    place = (top - scale.lowest) / (scale.highest - scale.lowest)
    told = f"the limit of {one.name}, {text(top, top)}, stands at {100 * place:.0f} % of its scale"
    best = 100 * (_LOWEST_PLACE if place < _LOWEST_PLACE else _HIGHEST_PLACE)
    base = scale.lowest + (top - scale.lowest) / (best / 100)
    return subject.field("scale").between(
        100 * place,
        100 * _LOWEST_PLACE,
        100 * _HIGHEST_PLACE,
        "%",
        told,
        broken=f"{told}, and 50 to 90 % reads best",
        remedy=f"a scale from {text(scale.lowest, top)} to {text(base, top)} puts it at {best:.0f} %",
        practice=True,
    )
