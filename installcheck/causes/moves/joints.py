"""Joints cleaned and measured: the figure that would have to hold, which no document can promise."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...model.edits import Edit, Put
from ...model.power import Ground
from ...model.quantities import Quantity, QuantityError, in_unit, parse, plain_number
from ...model.things import Grounding
from ...rules.verdicts import Verdict
from .spots import spot

_GOOD = "1 milliohm"
"""A strap of an engine with both joints, new and clean: below the 3 milliohm of one joint (AC 43.13-1B 11-189)."""
_CLEAN = "10 milliohm"
"""A body bolted to clean metal, where the document gives none: what an ohmmeter of the shop can tell from nothing (assumed)."""

_DIRTY = 10
"""Times the resistance of a clean joint beyond which one is the first thing to look at (a judgement)."""


def measured_joint(study: Study, verdict: Verdict) -> Iterator[Edit]:
    """The joint at which a verdict stands, cleaned until it measures the limit of the verdict."""
    here = spot(study, verdict.path)
    if here is None or here.path[-1] != "resistance" or here.path[0] != "grounds" or verdict.limit is None:
        return
    if not isinstance(here.value, Quantity):
        return
    try:
        limit = parse(f"{verdict.limit:.9g} {verdict.unit}", "resistance")
    except QuantityError:
        return
    text = f"{plain_number(in_unit(float(limit), here.value.unit, 'resistance'))} {here.value.unit}"
    yield _cleaned(here.path, str(here.path[1]), text, here.value.text)


def clean_joints(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """The joints of a strap, or that by which the body of a thing reaches ground, as clean as the best of its like."""
    thing = study.model.section(section)[ident]
    if isinstance(thing, Ground):
        if thing.resistance is not None and thing.resistance > parse(_GOOD, "resistance"):
            yield _cleaned((section, ident, "resistance"), ident, _GOOD, thing.resistance.text)
        return
    grounding: Grounding | None = getattr(thing, "grounding", None)
    if grounding is None or grounding.resistance is None:
        return
    like = (getattr(other, "grounding", None) for other in study.model.section(section).values())
    best = min(g.resistance for g in like if g is not None and g.resistance is not None)
    text = best.text if best < grounding.resistance else _CLEAN
    path = (section, ident, "grounding")
    made = _cleaned(
        (*path, "resistance"), f"the body of {ident} at {grounding.to}", text, grounding.resistance.text
    )
    more = (Put((*path, "through"), "bolts"),) if grounding.through == "painted bolts" else ()
    yield Edit((*made.changes, *more), made.words, made.wrong, must_measure=True)


def dirty(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """The joint of a body to ground that is painted, or far worse than a clean one is."""
    grounding: Grounding | None = getattr(study.model.section(section)[ident], "grounding", None)
    if grounding is None or grounding.resistance is None:
        return
    if grounding.through == "painted bolts" or grounding.resistance > _DIRTY * parse(_CLEAN, "resistance"):
        yield from clean_joints(study, section, ident)


def _cleaned(path: tuple[str | int, ...], what: str, text: str, now: str) -> Edit:
    return Edit(
        (Put(path, text),),
        f"clean the joints of {what} to bright metal, and measure: {text} or less must be found in place of {now}",
        f"{what} measures {now}" if path[0] == "grounds" else f"the joint of {what} measures {now}",
        must_measure=True,
    )
