"""What the document says wrongly, as far as it can be told: to be looked at or measured before it is written.

Two statements of one fact disagree, or one cannot be true. Which of them holds nobody can tell from the document, so none of
these is ever written without a person having looked: :attr:`Edit.must_measure`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...analysis.fluid.facts import media
from ...analysis.routing import bundled
from ...analysis.statements.figures import fullest
from ...analysis.study import Study
from ...graph import zone_lengths
from ...model.edits import Change, Drop, Edit, Put, Swap
from ...model.installation import split_end
from ...model.quantities import in_unit, plain_number
from ...model.routes import RouteStep
from ...rules.verdicts import Verdict
from .spots import written

_MOST_WAYS = 3
_ENDS = (("minimum", "maximum"), ("normal_low", "normal_high"), ("caution_low", "caution_high"))


def told_wrong(study: Study, verdict: Verdict) -> Iterator[Edit]:
    """What the fact at which a verdict stands may be instead."""
    path = verdict.path
    if len(path) < 2:
        return
    section, ident, word = str(path[0]), str(path[1]), str(path[-1])
    if word == "length" and section in ("wire_runs", "fluid_lines"):
        yield from _length(study, section, ident)
    elif word == "route" and section == "wire_runs":
        yield from _way(study, ident)
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
        yield from _limits(verdict)
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


def _way(study: Study, ident: str) -> Iterator[Edit]:
    """A run on the way of another between the zones its ends are in."""
    run = study.model.wire_runs[ident]
    wires_of = [run, *(run.conductors or {}).values()]
    first, last = (
        {_zone(study, getattr(one, word)) for one in wires_of} - {None} for word in ("from_", "to")
    )
    if len(first) != 1 or len(last) != 1:
        return
    [start], [end] = first, last
    seen = []
    for other, one in study.model.wire_runs.items():
        way = _part(one.route or [], start, end) or _part((one.route or [])[::-1], start, end)
        if other != ident and len(way) > 1 and way != run.route and way not in seen:
            seen.append(way)
            words = (
                f"look how {ident} goes, and write the way of {other} if it is that one, with its own lengths"
            )
            put = Put(("wire_runs", ident, "route"), written(way))
            yield _found((put,), words, f"the route of {ident} is not told to its end")
        if len(seen) == _MOST_WAYS:
            return


def _part(steps: Sequence[RouteStep], start: str | None, end: str | None) -> list[RouteStep]:
    """The part of a way from one zone to its end in another; empty if it does not lead there."""
    zones = [step.zone for step in steps]
    if start not in zones or zones[-1] != end:
        return []
    return list(steps[zones.index(start) :])


def _zone(study: Study, end: str | None) -> str | None:
    found = study.model.find(split_end(end)[0]) if end is not None else None
    return getattr(found[1], "zone", None) if found is not None else None


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


def _limits(verdict: Verdict) -> Iterator[Edit]:
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
