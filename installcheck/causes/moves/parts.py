"""Another part of the library in the place of one: of the same section and sort, its ends joined as before."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from difflib import SequenceMatcher

from ...analysis.study import Study, once
from ...document.parts import Part, canonical_size
from ...document.source import Plain
from ...document.wording import a
from ...model.edits import Change, Drop, Edit, Put
from ...model.installation import JOINABLE, terminals_of
from ...model.wiring import WireRun
from .ends import ends
from .headings import made_of

_USED = 0.1
"""How much likelier a part is that the document uses already, on the scale of likeness of names from 0 to 1."""
_MOST_PARTS = 4
_MOST_SIZES = 2
_SEATED = {"well": ("bayonet", "screw-in"), "gasket ring": ("gasket ring 14 mm", "gasket ring 18 mm")}
"""By the place where the limit of a head temperature is measured, the kinds of probe that sit there."""
_MOUNTS = {"well": "well"}
_SAME = {
    "wire_runs": ("kind",),
    "probes": ("kind",),
    "senders": ("measures",),
    "indicators": ("measures",),
    "junctions": ("kind",),
    "fittings": ("kind",),
    "fluid_lines": ("kind",),
    "supplies": ("kind",),
}
"""By section, what a part in place of another must have in common with it."""


def other_parts(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """Parts of the library that can take the place of a thing's own: most like it first, those the document uses before others."""
    thing = study.model.section(section)[ident]
    name = getattr(thing, "part", None)
    now = study.document.library.parts.get(name or "")
    if now is None or section not in _SAME:
        return
    written = getattr(thing, "gauge", None) or getattr(thing, "size", None)
    size = canonical_size(str(written)) if written is not None else None
    for part in _nearest(study, now, thing)[:_MOST_PARTS]:
        for wanted in _sizes(study, part, size):
            yield from _fitted(study, section, ident, now, part, wanted, size)


def of_the_couple(study: Study, ident: str) -> Iterator[Edit]:
    """An indicator for the couple it reads, where it is made for another."""
    thing = study.model.indicators[ident]
    now = study.document.library.parts.get(thing.part or "")
    couples = {
        study.model.probes[i.source].spec.thermocouple
        for i in study.indications
        if i.indicator == ident and i.section == "probes"
    }
    if now is None or thing.spec.inputs or len(couples) != 1 or thing.spec.thermocouple in couples:
        return
    size = canonical_size(thing.size) if thing.size is not None else None
    for part in _nearest(study, now, thing):
        if part.raw.get("thermocouple") in couples:
            for wanted in _sizes(study, part, size):
                yield from _fitted(study, "indicators", ident, now, part, wanted, size)


def where_the_limit_is(study: Study, ident: str) -> Iterator[Edit]:
    """A head probe of the kind and at the place for which the engine's papers give the limit."""
    probe, found = study.model.probes[ident], study.model.engine_of(study.model.probes[ident])
    place = found[1].head_reference if found is not None else None
    if probe.spec.kind is None or place is None or probe.spec.kind in _SEATED.get(place, ()):
        return
    fits = [
        p
        for p in study.document.library.parts.values()
        if p.section == "probes"
        and p.raw.get("kind") in _SEATED.get(place, ())
        and p.raw.get("thermocouple") == probe.spec.thermocouple
    ]
    for part in fits[:_MOST_PARTS]:
        size = _sizes(study, part, None)[0]
        changes: list[Change] = [Put(("probes", ident, "part"), part.key)]
        if size is not None:
            changes.append(Put(("probes", ident, "size"), size))
        elif probe.size is not None:
            changes.append(Drop(("probes", ident, "size")))
        mount = _MOUNTS.get(place)
        if mount is not None and probe.mount is not None:
            changes.append(Put(("probes", ident, "mount"), mount))
        words = (
            f"fit {ident} as {part.key}{f' {size}' if size else ''} at the {place}, in place of {probe.part}"
        )
        yield Edit(tuple(changes), words, f"{ident} is {a(str(probe.part or probe.spec.kind))}")


def leads_of_its_couple(study: Study, ident: str) -> Iterator[Edit]:
    """A run of a thermocouple that is not of its couple made of such a lead: that of the next run of the signal, else the library's."""
    run = study.model.wire_runs[ident]
    for one in study.indications:
        if one.section != "probes" or ident not in {s.edge.ident for leg in one.legs for s in leg.steps}:
            continue
        couple = study.model.probes[one.source].spec.thermocouple
        if run.spec.thermocouple == couple:
            return
        beside = {s.edge.ident for leg in one.legs for s in leg.steps if s.edge.section == "wire_runs"} - {
            ident
        }
        near = [
            study.model.wire_runs[i] for i in beside if study.model.wire_runs[i].spec.thermocouple == couple
        ]
        for other in near:
            if other.part is not None and other.part != run.part and other.gauge is not None:
                yield _relaid(study, run, ident, other.part, str(other.gauge))
        for part in study.document.library.parts.values():
            if (
                part.section == "wire_runs"
                and part.raw.get("thermocouple") == couple
                and part.key != run.part
            ):
                own = canonical_size(f"{run.gauge} AWG") if run.gauge is not None else None
                for size in [own] if own in part.sizes else list(part.sizes)[:_MOST_SIZES]:
                    yield _relaid(study, run, ident, part.key, str(size))
        return


def _relaid(study: Study, run: WireRun, ident: str, part: str, gauge: str) -> Edit:
    changes: list[Change] = [Put(("wire_runs", ident, "part"), part)]
    size = ""
    if str(run.gauge) != gauge:
        changes.append(Put(("wire_runs", ident, "gauge"), f"{gauge} AWG"))
        size = f" {gauge} AWG"
    now = f"{run.part}" if run.part is not None else "other wire"
    return Edit(tuple(changes), f"make {ident} of {part}{size} in place of {now}", made_of(study, ident))


def in_place(study: Study, section: str, ident: str, kind: str) -> Iterator[Edit]:
    """Parts of one kind in the place of a thing's own, most like it first."""
    thing = study.model.section(section)[ident]
    now = study.document.library.parts.get(getattr(thing, "part", None) or "")
    size = getattr(thing, "size", None)
    if now is None:
        return
    before = canonical_size(size) if size is not None else None
    for part in _nearest(study, now, thing, kind)[:_MOST_PARTS]:
        for wanted in _sizes(study, part, before):
            yield from _fitted(study, section, ident, now, part, wanted, before)


def flexible(study: Study, ident: str) -> Iterator[Edit]:
    """A hose in place of a tube."""
    if study.model.fluid_lines[ident].spec.kind == "tube":
        yield from in_place(study, "fluid_lines", ident, "hose")


def other_sizes(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """The other sizes of a thing's own part."""
    thing = study.model.section(section)[ident]
    part = study.document.library.parts.get(getattr(thing, "part", None) or "")
    size = getattr(thing, "size", None)
    if part is None or size is None or section == "wire_runs":
        return
    for other in _near(part, canonical_size(size))[:3]:
        told = part.spelling(other)
        changes = (Put((section, ident, "size"), told),)
        yield Edit(changes, f"fit {ident} in size {told} in place of {size}", f"{ident} is of size {size}")


def _nearest(study: Study, now: Part, thing: object, kind: str | None = None) -> list[Part]:
    """Parts of the library that can stand for another, most like it first; of another kind, if one is wanted."""
    used = _used(study)

    def likeness(part: Part) -> float:
        return SequenceMatcher(None, now.key, part.key).ratio() + (_USED if used[part.key] else 0.0)

    own = _own(now.section, thing)
    fits = [
        p
        for p in study.document.library.parts.values()
        if p.section == now.section
        and p.key != now.key
        and (kind is None or p.raw.get("kind") == kind)
        and all(_says(p.raw, word, value) for word, value in own.items() if word != "kind" or kind is None)
    ]
    return sorted(fits, key=likeness, reverse=True)


def _own(section: str, thing: object) -> dict[str, object]:
    """What a part in place of a thing's own must say as it does."""
    spec = getattr(thing, "spec", None)
    return {w: getattr(thing, w, None) or getattr(spec, w, None) for w in _SAME[section]}


def _says(raw: Mapping[str, Plain], word: str, wanted: object) -> bool:
    return wanted is None or raw.get(word) == wanted


@once
def _used(study: Study) -> Counter[str | tuple[str, str]]:
    """How often the document uses each part, and each part in each size."""
    found: Counter[str | tuple[str, str]] = Counter()
    for section in _SAME:
        for thing in study.model.section(section).values():
            part, size = getattr(thing, "part", None), getattr(thing, "size", None)
            if part is not None:
                found[part] += 1
            if part is not None and size is not None:
                found[part, canonical_size(size)] += 1
    return found


def _sizes(study: Study, part: Part, size: str | None) -> list[str | None]:
    """Sizes of a part: the one wanted if it has it, else those the document uses of it, then the first of its list."""
    if not part.sizes:
        return [None]
    if size in part.sizes:
        return [size]
    used = [s for s in part.sizes if _used(study)[part.key, s]]
    found: list[str | None] = list(dict.fromkeys([*used, *_near(part, size)]))
    return found[:_MOST_SIZES]


def _near(part: Part, size: str | None) -> list[str]:
    """Sizes of a part, those that stand nearest to one in its own list first."""
    known = list(part.sizes)
    at = known.index(size) if size in known else 0
    return [s for s in sorted(known, key=lambda s: abs(known.index(s) - at)) if s != size]


def _fitted(
    study: Study, section: str, ident: str, now: Part, part: Part, size: str | None, before: str | None
) -> Iterator[Edit]:
    word = "gauge" if section == "wire_runs" else "size"
    changes: list[Change] = [Put((section, ident, "part"), part.key)]
    if size is not None and size != before:
        changes.append(Put((section, ident, word), f"{size} AWG" if word == "gauge" else part.spelling(size)))
    elif size is None and before is not None and word == "size":
        changes.append(Drop((section, ident, "size")))
    if section in JOINABLE:
        joined = _joined_again(study, section, ident, part)
        if joined is None:
            return
        changes += joined
    what = f"{part.key} {part.spelling(size)}" if size is not None and word == "size" else part.key
    wrong = (
        made_of(study, ident)
        if section == "wire_runs"
        else f"{ident} is made of {now.key}"
        if section == "fluid_lines"
        else f"{ident} is {a(now.key)}"
    )
    verb = "make" if section in ("wire_runs", "fluid_lines") else "fit"
    yield Edit(
        tuple(changes),
        f"{verb} {ident} {'of' if verb == 'make' else 'as'} {what} in place of {now.key}",
        wrong,
    )


def _joined_again(study: Study, section: str, ident: str, part: Part) -> list[Change] | None:
    """The ends at a thing on the terminals of another part: by name, else by place; ``None`` if it has too few."""
    thing = study.model.section(section)[ident]
    old = list(terminals_of(section, thing) or ())  # type: ignore[arg-type]
    new = [str(n) for w in ("terminals", "ports") for n in _names(part.raw.get(w))] or old
    changes: list[Change] = []
    for path, end in _ends_at(study, ident):
        terminal = end.partition(".")[2]
        if not terminal or terminal in new or terminal == "case":
            continue
        if terminal not in old or old.index(terminal) >= len(new):
            return None
        changes.append(Put(path, f"{ident}.{new[old.index(terminal)]}"))
    return changes


def _names(value: Plain) -> list[Plain]:
    return value if isinstance(value, list) else []


def _ends_at(study: Study, ident: str) -> Iterator[tuple[tuple[str | int, ...], str]]:
    for one in ends(study).get(ident, ()):
        yield one.path, one.end
    for line_id, line in study.model.fluid_lines.items():
        for word, end in (("from", line.from_), ("to", line.to)):
            if end.partition(".")[0] == ident:
                yield ("fluid_lines", line_id, word), end
    for section in ("fittings", "senders"):
        for other, thing in study.model.section(section).items():
            into = getattr(thing, "screwed_into", None)
            if into is not None and into.partition(".")[0] == ident:
                yield (section, other, "screwed_into"), into
