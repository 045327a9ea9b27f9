"""What might put a verdict right, likeliest and simplest first: what its rule proposes, then what could be done to what it names."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from functools import cache
from itertools import chain, islice

from ..analysis.study import Study, once
from ..model.edits import Change, Drop, Edit, Swap
from ..model.installation import split_end
from ..model.power import SOURCES
from ..rules.engine import all_rules
from ..rules.verdicts import Verdict
from .allowed import allowed
from .moves import (
    absent,
    additions,
    alike,
    ends,
    figures,
    joints,
    labels,
    lines,
    marks,
    parts,
    places,
    ports,
    renewed,
    required,
    restrictors,
    returns,
    settings,
    sizes,
    sources,
    told_wrong,
)

MOST = 44
"""Changes considered for one verdict."""
Thing = tuple[str, str]
_Moves = Callable[[Study, str], Iterator[Edit]]


def candidates(study: Study, verdict: Verdict, shared: Collection[str] = ()) -> list[Edit]:
    """Changes that may put a verdict right, each once, in the order in which they are worth a trial.

    ``shared``: ids that every other verdict of its rule names as well; what is done to them comes first.
    """
    named = sorted(_named(study, verdict), key=lambda thing: thing[1] not in shared)
    common = [t for t in named if t[1] in shared]
    near = [t for t in _beside(study, named) if t not in named]
    found = chain(
        verdict.cures,
        joints.measured_joint(study, verdict),
        told_wrong.told_wrong(study, verdict),
        (e for s, i in (*named, *near) if s == "grounds" for e in joints.clean_joints(study, s, i)),
        (
            e
            for s, i in named
            if s == "wire_runs" and verdict.unit == "terminals"
            for e in ends.shared_out(study, i)
        ),
        (e for i in _lacking_sources(study, verdict) for e in absent.laid(study, i)),
        _fitting_exactly(study, verdict, [*named, *near]),
        (e for s, i in named if s in _GROUNDED for e in joints.dirty(study, s, i)),
        _simplest(_of(study, common)),
        _simplest(chain(figures.figures(study, verdict), _unlike(study, named))),
        (e for s, i in named if s == "wire_runs" for e in ends.exchanged(study, i)),
        _simplest(_of(study, named)),
        _simplest(_unlike(study, near)),
        _simplest(_of(study, near)),
        required.stronger(study, verdict),
        additions.straps(study),
        (e for s, i in (*named, *near) if s in _GROUNDED for e in joints.clean_joints(study, s, i)),
    )
    apart = _never_read_by(verdict.rule) - {str(step) for step in verdict.path[:1]}
    each = {
        repr(edit.changes): edit
        for edit in islice(found, 6 * MOST)
        if allowed(edit) and not all(str(p[0]) in apart for p in edit.paths)
    }
    return list(each.values())[:MOST]


def simplicity(edit: Edit) -> tuple[int, int]:
    """How much a change asks of who makes it: its sort first (leads, length, gauge, protector, part, place), then how many."""
    different = {(str(c.path[2:]), str(getattr(c, "value", ""))) for c in edit.changes}
    return max(map(_sort, edit.changes)), len(different)


_SORTS = {"gauge": 2, "terminations": 2, "rating": 3, "part": 4, "size": 4}
_PLACES = frozenset(
    ("cylinder", "mount", "seat", "location", "bundle", "barrier", "to", "from", "joins", "screwed_into")
)


def _sort(change: Change) -> int:
    word = str(change.path[2]) if len(change.path) > 2 else ""
    if isinstance(change, Swap):
        return 5 if word in ("cylinder", "seat") else 0
    if isinstance(change, Drop):
        return 1 if word else 7
    if not word:
        return 4
    if change.path[0] == "supplies" and word == "size":
        return 3
    return _SORTS.get(word, 5 if word in _PLACES or change.path[-1] in _PLACES else 1)


_FLUID = frozenset(("fittings", "fluid_lines", "taps"))
_ELECTRIC = frozenset(("wire_runs", "junctions", "supplies", "loads", "grounds"))


@cache
def _never_read_by(rule: str) -> frozenset[str]:
    """Sections that have nothing to do with a rule: wires with one of fluids, lines with one of wires."""
    subject = all_rules()[rule].subject if rule in all_rules() else ""
    if subject == "fluid":
        return _ELECTRIC
    return _FLUID if subject in ("wiring", "power", "thermocouples", "probes", "senders") else frozenset()


def things_of(study: Study, verdict: Verdict) -> set[str]:
    """Ids of what a verdict may turn on."""
    named = _named(study, verdict)
    return {*verdict.at, *(ident for _, ident in (*named, *_beside(study, named)))}


def involved(study: Study, verdict: Verdict) -> int:
    """How many things a verdict may turn on: those it names and what is joined to them; what an indicator shows comes last."""
    named = _named(study, verdict)
    return (100 if verdict.path[:1] == ("indicators",) else 0) + len(named) + len(_beside(study, named))


def _simplest(edits: Iterable[Edit]) -> Iterator[Edit]:
    yield from sorted(edits, key=simplicity)


def _named(study: Study, verdict: Verdict) -> list[Thing]:
    """The things a verdict names, where it stands first."""
    named: dict[Thing, None] = {}
    path = verdict.path
    if len(path) > 1 and isinstance(path[1], str):
        named[str(path[0]), path[1]] = None
    for ident in verdict.at:
        for section in _SECTIONS:
            if ident in study.model.section(section):
                named[section, ident] = None
    return [t for t in named if t[0] in _SECTIONS and t[1] in study.model.section(t[0])]


def _beside(study: Study, named: Iterable[Thing]) -> list[Thing]:
    """What is joined to the things named: the runs of a signal, the wires at a device, the devices of a wire."""
    found: dict[Thing, None] = {}
    idents = {ident for _, ident in named}
    for one in study.indications:
        if one.indicator in idents or one.source in idents:
            found[one.section, one.source] = None
            for leg in one.legs:
                for step in leg.steps:
                    if step.edge.section in _SECTIONS:
                        found[step.edge.section, step.edge.ident] = None
            found["indicators", one.indicator] = None
    for section, ident in named:
        if section == "wire_runs":
            for end in ends.of_run(study, ident):
                met = study.model.find(end.device)
                if met is not None and met[0] in _SECTIONS:
                    found[met[0], end.device] = None
        elif section not in ("grounds", "supplies"):
            found.update(dict.fromkeys(("wire_runs", e.run) for e in ends.ends(study).get(ident, ())))
        for line_id, line in study.model.fluid_lines.items():
            if ident in (split_end(line.from_)[0], split_end(line.to)[0]):
                found["fluid_lines", line_id] = None
            if section == "fluid_lines" and line_id == ident:
                for tip in (line.from_, line.to):
                    met = study.model.find(split_end(tip)[0])
                    if met is not None and met[0] in _SECTIONS:
                        found[met[0], split_end(tip)[0]] = None
    return list(found)


def _unlike(study: Study, things: Iterable[Thing]) -> Iterator[Edit]:
    return (edit for thing in things for edit in _unlike_one(study, *thing))


@once
def _unlike_one(study: Study, section: str, ident: str) -> tuple[Edit, ...]:
    if section == "grounds":
        return ()
    parted = section in _PARTED or section == "supplies"
    return (
        *(alike.as_its_part(study, section, ident) if parted else ()),
        *alike.like_the_others(study, section, ident),
    )


def _lacking_sources(study: Study, verdict: Verdict) -> Iterator[str]:
    """Sources with a terminal that nothing is on, for what an indicator shows: it sags with them."""
    for ident in absent.unwired(study) if verdict.path[:1] == ("indicators",) else ():
        supply = study.model.supplies.get(ident)
        if supply is not None and supply.spec.kind in SOURCES:
            yield ident


def _fitting_exactly(study: Study, verdict: Verdict, things: Iterable[Thing]) -> Iterator[Edit]:
    """Changes that suit one pattern only, and are seldom wrong where it is met."""
    if verdict.path[:1] == ("senders",) and verdict.path[2:] == ("grounding",):
        yield from returns.own_return(study, str(verdict.path[1]))
    for section, ident in things:
        yield from _fitting_one(study, section, ident)


@once
def _fitting_one(study: Study, section: str, ident: str) -> tuple[Edit, ...]:
    return tuple(edit for move in _EXACT.get(section, ()) for edit in move(study, ident))


def _of(study: Study, things: Iterable[Thing]) -> Iterator[Edit]:
    return (edit for thing in things for edit in _of_one(study, *thing))


@once
def _of_one(study: Study, section: str, ident: str) -> tuple[Edit, ...]:
    return tuple(_moves(study, section, ident))


def _moves(study: Study, section: str, ident: str) -> Iterator[Edit]:
    for move in _MOVES.get(section, ()):
        yield from move(study, ident)
    if section in _PARTED:
        if section in ("senders", "probes", "junctions", "fittings"):
            yield from places.where_its_runs_end(study, section, ident)
        yield from parts.other_sizes(study, section, ident)
        yield from parts.other_parts(study, section, ident)
    if section in _GROUNDED:
        yield from places.grounded(study, section, ident)
        yield from additions.bonding_wires(study, section, ident)


_MOVES: dict[str, tuple[_Moves, ...]] = {
    "wire_runs": (
        absent.past_a_protector,
        ends.exchanged,
        ends.moved,
        ends.doubled,
        sizes.terminals,
        sizes.gauges,
        places.bundles,
        places.crossings,
        additions.shields,
    ),
    "probes": (ends.exchanged_at, places.cylinders, places.probe_places),
    "senders": (ends.exchanged_at, places.sender_places, places.lowered, returns.own_return),
    "indicators": (ends.exchanged_at,),
    "junctions": (ends.exchanged_at,),
    "loads": (sizes.cables,),
    "supplies": (ends.exchanged_at, sizes.protectors),
}
_EXACT: dict[str, tuple[_Moves, ...]] = {
    "indicators": (marks.painted, settings.settings, parts.of_the_couple, lines.electric, absent.laid),
    "senders": (absent.laid,),
    "probes": (absent.laid, parts.where_the_limit_is),
    "loads": (absent.laid,),
    "supplies": (sources.of_the_system, sources.nearer, absent.laid, sources.larger),
    "wire_runs": (
        parts.leads_of_its_couple,
        ends.bridging,
        absent.where_its_like_goes,
        absent.to_what_lacks_one,
    ),
    "taps": (restrictors.restricted, lines.parted, ports.closed),
    "fluid_lines": (renewed.hoses, parts.flexible, restrictors.at_source, labels.as_it_carries),
    "junctions": (absent.laid,),
}
_PARTED = frozenset(("wire_runs", "probes", "senders", "indicators", "junctions", "fittings", "fluid_lines"))
_GROUNDED = frozenset(("senders", "probes", "indicators", "loads"))
_SECTIONS = frozenset((*_MOVES, "fittings", "fluid_lines", "grounds", "bundles", "loads", "taps"))
