"""What is unlike the others of its kind: where most of a thing's like say the same and it says another."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from ...analysis.study import Study, once
from ...document.parts import canonical_size
from ...model.edits import Drop, Edit, Put
from ...model.installation import split_end
from ...model.wiring import WireRun
from .headings import does, says
from .spots import Spot, own_fields, spot, told, written

_OWN_WORDS = frozenset(
    (
        "from",
        "to",
        "conductors",
        "route",
        "title",
        "size",
        "notes",
        "station",
        "weight",
        "cylinder",
        "seat",
        "terminations",
        "shield",
        "measures",
        "markings",
    )
)
"""Words in which two things alike differ by right."""
_NAMES = frozenset(("title", "notes", "terminals", "ports", "inputs"))
"""Words that name a thing and its ends, of which the document has its own."""
_LEAST = 2


def like_the_others(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """For each word in which a thing is the odd one out among its like, what they say; their way, if it has another length."""
    others = [study.model.section(section)[i] for i in _like(study).get((section, ident), ()) if i != ident]
    if len(others) < _LEAST:
        return
    odd: list[tuple[Spot, object]] = []
    for one in own_fields(study, section, ident):
        word = str(one.path[-1])
        if word in _OWN_WORDS:
            continue
        usual = _usual(study, section, ident, one)
        if usual is not None:
            odd.append((one, usual.value))
            words = does(study, one, usual.value, ", as its like,")
            yield Edit((one.put(usual.value),), words, says(study, one))
    if section == "wire_runs":
        yield from _route(study, ident)
    elif len(odd) > 1:
        changes = tuple(one.put(value) for one, value in odd)
        named = " and ".join(str(one.path[-1]).replace("_", " ") for one, _ in odd)
        words = f"fit {ident} as its like are fitted: {told([value for _, value in odd])}"
        yield Edit(changes, words, f"{ident} has another {named} than its like")


def as_its_part(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """What a thing says otherwise than its part, left to the part: the thing as it is bought."""
    thing = study.model.section(section)[ident]
    part = study.document.library.parts.get(getattr(thing, "part", None) or "")
    if part is None:
        return
    size = getattr(thing, "size", None)
    made = {**part.raw, **(part.sizes.get(canonical_size(size)) or {} if size is not None else {})}
    for one in own_fields(study, section, ident):
        word = str(one.path[-1])
        if word not in made or word in _NAMES or _spelled(made[word]) == _spelled(written(one.value)):
            continue
        label = word.replace("_", " ")
        if isinstance(made[word], (dict, list)):
            words = f"fit {ident} as {part.key} is made, with its {label}"
            wrong = f"{ident} differs from {part.key} in its {label}"
        else:
            words = f"fit {ident} as {part.key} is made: {label} {made[word]}"
            wrong = f"{ident} has the {label} {told(one.value)}, where {part.key} has {made[word]}"
        yield Edit((Put((section, ident, "part"), part.key), Drop(one.path)), words, wrong)
    conductors = thing.conductors if isinstance(thing, WireRun) else None
    other = [n for n, c in (conductors or {}).items() if c.metal is not None]
    if other:
        metals = " and ".join(dict.fromkeys(str(conductors[n].metal) for n in other)) if conductors else ""
        drops = tuple(Drop((section, ident, "conductors", n, "metal")) for n in other)
        yield Edit(drops, f"make {ident} of {part.key} in place of {metals}", f"{ident} is of {metals}")


def _spelled(value: object) -> object:
    """A plain value with every figure as text, to compare what a document and a part write."""
    if isinstance(value, dict):
        return {str(key): _spelled(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_spelled(one) for one in value]
    return str(value)


def _usual(study: Study, section: str, ident: str, one: Spot) -> Spot | None:
    word = one.path[2]
    others = [i for i in _like(study)[section, ident] if i != ident]
    theirs = [s for s in (spot(study, (section, i, word)) for i in others) if s is not None]
    counts = Counter(repr(written(s.value)) for s in theirs if s.value is not None)
    if not counts:
        return None
    most, count = counts.most_common(1)[0]
    if most == repr(written(one.value)) or 2 * count <= len(theirs):
        return None
    return next(s for s in theirs if s.value is not None and repr(written(s.value)) == most)


def _route(study: Study, ident: str) -> Iterator[Edit]:
    """The lengths of its like, where the run takes the same way."""
    run = study.model.wire_runs[ident]
    for index, step in enumerate(run.route or ()):
        theirs = []
        for other in _like(study)["wire_runs", ident]:
            route = study.model.wire_runs[other].route or ()
            if other != ident and len(route) == len(run.route or ()) and route[index].zone == step.zone:
                theirs.append(route[index])
        lengths = Counter(s.length.text for s in theirs if s.length is not None)
        if step.length is None or not lengths:
            continue
        most, count = lengths.most_common(1)[0]
        if most != step.length.text and 2 * count > len(theirs):
            found = spot(study, ("wire_runs", ident, "route", index, "length"))
            if found is not None:
                words = f"make {ident} {most} long in the {step.zone}, as its like, in place of {step.length.text}"
                yield Edit(
                    (found.put(most),), words, f"{ident} is {step.length.text} long in the {step.zone}"
                )


@once
def _like(study: Study) -> dict[tuple[str, str], list[str]]:
    """Of every thing, those of its section that do the same work."""
    groups: dict[tuple[str, object], list[str]] = {}
    for section in ("wire_runs", "probes", "senders", "supplies", "junctions", "fittings", "fluid_lines"):
        for ident, thing in study.model.section(section).items():
            groups.setdefault((section, _work(study, section, thing)), []).append(ident)
    return {(key[0], ident): group for key, group in groups.items() for ident in group}


def _work(study: Study, section: str, thing: object) -> object:
    if not isinstance(thing, WireRun):
        kind = None if section == "probes" else getattr(getattr(thing, "spec", None), "kind", None)
        return kind, getattr(thing, "measures", None) or getattr(
            getattr(thing, "spec", None), "measures", None
        )
    ends = [thing.from_, thing.to]
    for conductor in (thing.conductors or {}).values():
        ends += [conductor.from_, conductor.to]
    devices = []
    for end in ends:
        if end is not None:
            ident, _ = split_end(end)
            found = study.model.find(ident)
            kind = getattr(getattr(found[1], "spec", None), "kind", None) if found is not None else None
            devices.append((found[0] if found is not None else ident, kind))
    return tuple(sorted(set(devices), key=str))
