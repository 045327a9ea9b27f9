"""Warning lights: their colour says what the pilot has to do."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.shown import Shown, limit_of, shown
from ...analysis.study import Study
from ...model.aircraft import Limit
from ...model.comparing import at_least, at_most
from ...model.quantities import Quantity
from ..part_23 import breach
from ..verdicts import Verdict
from ..vocabulary import Answer, Subject, rule


def _lights(study: Study) -> list[Shown]:
    return [one for one in shown(study) if one.spec.principle == "warning light"]


@rule(
    "light-colours",
    title="A light that warns is red, one that cautions is amber, and green says that all is well",
    why="Red asks for a deed at once. A red light for something harmless, or a green one at a limit, is answered wrongly.",
    source="14 CFR 23.1322 (a 1999 printing): warning, caution and advisory lights only",
    formula="at or beyond a limit: red; in the caution range: amber ('yellow'); green only inside the limits",
    example="an amber light that comes on at the lowest oil pressure of 25 psi: red is asked for",
    over=_lights,
)
def light_colours(study: Study, subject: Subject, light: Shown) -> Answer:
    """Every warning light of an indication with limits: each value it comes on at, as its ``markings`` tell."""
    limit = limit_of(study, light)
    if limit is None:
        return subject.lacks(missing.ENGINE_INDICATION_LIMITS)
    if not light.spec.markings:
        return subject.lacks(missing.LIGHT_COLOUR)
    return _judged(subject, light, limit)


def _judged(subject: Subject, light: Shown, limit: Limit) -> Iterator[Verdict]:
    for i, mark in enumerate(light.spec.markings or ()):
        place = subject.field("markings", i)
        if mark.at is None:
            yield place.lacks(missing.LIGHT_COLOUR)
            continue
        asked = _asked(mark.at, limit)
        text = f"{light.name} shows {_said(mark.colour)} at {mark.at.text}"
        if asked is None or mark.colour == asked:
            fits = mark.colour != "red" if asked is None else True
            wrong = f"{text}, where nothing is to be warned of: red is for a warning"
            yield place.meets(text) if fits else breach(place, wrong, remedy="fit a lens of another colour")
        else:
            wrong = f"{text}, where {_said(asked)} is asked for"
            yield breach(place, wrong, remedy=f"fit a lens of {_said(asked)}")


def _asked(at: Quantity, limit: Limit) -> str | None:
    """The colour of a light that comes on at a value; ``None`` inside the limits, where any but red will do."""
    if limit.maximum is not None and limit.maximum.kind == at.kind and at_least(at, limit.maximum):
        return "red"
    if limit.minimum is not None and limit.minimum.kind == at.kind and at_most(at, limit.minimum):
        return "red"
    low, high = limit.caution_low, limit.caution_high
    if (
        low is not None
        and high is not None
        and low.kind == at.kind
        and at_least(at, low)
        and at_most(at, high)
    ):
        return "yellow"
    return None


def _said(colour: str) -> str:
    return "amber" if colour == "yellow" else colour
