"""What the document says wrongly, as far as it can be told: to be looked at or measured before it is written.

Two statements of one fact disagree, or one cannot be true. Which of them holds nobody can tell from the document, so none of
these is ever written without a person having looked: :attr:`Edit.must_measure`.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import media
from ...analysis.routing import bundled
from ...analysis.statements.figures import fullest
from ...analysis.study import Study
from ...graph import zone_lengths
from ...model.edits import Change, Drop, Edit, Put, Swap
from ...model.quantities import in_unit, plain_number
from ...rules.verdicts import Verdict

_ENDS = (("minimum", "maximum"), ("normal_low", "normal_high"), ("caution_low", "caution_high"))


def told_wrong(study: Study, verdict: Verdict) -> Iterator[Edit]:
    """What the fact at which a verdict stands may be instead."""
    path = verdict.path
    if len(path) < 2:
        return
    section, ident, word = str(path[0]), str(path[1]), str(path[-1])
    if word == "length" and section in ("wire_runs", "fluid_lines"):
        yield from _length(study, section, ident)
    elif section == "bundles" and word == "wires":
        yield from _count(study, ident)
    elif section == "loads" and word == "power":
        yield from _draw(study, ident)
    elif section == "zones" and word == "fire_zone":
        put = Put(("zones", ident, "fire_zone"), "yes")
        words = f"look at what runs through the {ident}, and call it a fire zone if it is so"
        yield _found((put,), words, f"the {ident} is said to be no fire zone")
    elif section == "barriers" and word == "material":
        now = study.model.barriers[ident].material
        put = Put(("barriers", ident, "material"), "stainless steel")
        words = f"face the {ident} with stainless steel of 0.015 in or more"
        yield _found((put,), words, f"the {ident} is of {now}")
    elif section == "engines" and "limits" in path:
        yield from _limits(study, verdict)
    elif section == "fluid_lines" and word == "medium":
        yield from _label(study, ident)
    elif word == "colour" and "conductors" in path:
        yield _coloured(path, ident)


def _found(changes: tuple[Change, ...], words: str, wrong: str) -> Edit:
    return Edit(changes, words, wrong, must_measure=True)


def _length(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """A run as long as its route adds up to."""
    run = study.model.section(section)[ident]
    split, length = zone_lengths(run), getattr(run, "length", None)  # type: ignore[arg-type]
    if split is None or length is None:
        return
    total = in_unit(sum(step for _, step in split), length.unit, "length")
    text = f"{plain_number(total)} {length.unit}"
    words = f"measure {ident}, and write {text} as its length if its route is right"
    yield _found((Put((section, ident, "length"), text),), words, f"{ident} is said to be {length.text} long")


def _count(study: Study, ident: str) -> Iterator[Edit]:
    """A bundle of at least the wires that the document leads in it."""
    _, held = fullest(study, bundled(study).get(ident, ()))
    now = study.model.bundles[ident].wires
    if now is not None and held > now:
        put = Put(("bundles", ident, "wires"), str(held))
        words = f"count the wires of {ident}: {held} at least, where {now} are told"
        yield _found((put,), words, f"{ident} is said to hold {now} wires")


def _draw(study: Study, ident: str) -> Iterator[Edit]:
    """A load that draws the current it is said to, its watts left out."""
    load = study.model.loads[ident].spec
    if load.current is not None and load.power is not None:
        words = (
            f"measure what {ident} draws, and leave its {load.power.text} out if it is {load.current.text}"
        )
        yield _found((Drop(("loads", ident, "power")),), words, f"{ident} is said to take {load.power.text}")


def _limits(study: Study, verdict: Verdict) -> Iterator[Edit]:
    """The two ends of a range, the other way round."""
    holder = verdict.path[:-1]
    measure = str(holder[-1])
    for low, high in _ENDS:
        if verdict.path[-1] in (low, high):
            words = (
                f"look up the {measure} of {verdict.path[1]} in its papers, and write {_spaced(low)} and {_spaced(high)} "
                "the other way round if they are so"
            )
            wrong = f"the {measure} limits of {verdict.path[1]} are upside down"
            yield _found((Swap((*holder, low), (*holder, high)),), words, wrong)


def _spaced(word: str) -> str:
    return word.replace("_", " ")


def _label(study: Study, ident: str) -> Iterator[Edit]:
    """A line labelled for the one fluid that reaches it."""
    label = study.model.fluid_lines[ident].medium
    reached = media(study).in_line(ident)
    if len(reached) == 1 and label is not None and label not in reached:
        [carried] = reached
        words = f"make sure that {carried} is in {ident}, and label it {carried} in place of {label}"
        put = Put(("fluid_lines", ident, "medium"), str(carried))
        yield _found((put,), words, f"{ident} is labelled {label} and carries {carried}")


def _coloured(path: tuple[str | int, ...], ident: str) -> Edit:
    """A leg in the colours of its part."""
    leg = path[path.index("conductors") + 1]
    words = f"find the metals of {ident} by magnet or ohmmeter, and mark its {leg} leg in its own colour"
    return _found(
        (Drop(path),), words, f"the {leg} leg of {ident} has another colour than its lead is made in"
    )
