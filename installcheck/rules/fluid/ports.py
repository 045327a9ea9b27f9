"""Ports: each is joined, or closed, whether something removed left it or not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...analysis import missing
from ...analysis.fluid.facts import FLAMMABLE, LIQUID, MANIFOLD, listed, media
from ...analysis.missing import Missing
from ...analysis.study import Study, once
from ...model.fields import Medium
from ...model.fluid import Fitting, Tap
from ...model.installation import inputs_of, split_end
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_CLOSING = frozenset(("cap", "plug", "drain"))
"""Fittings that are themselves what closes a port, or that are shut until something is drawn off."""


@rule(
    "port-closed",
    title="Every port is joined, or capped",
    why="An open port on the engine is an oil leak at the first start; a tee with an open branch is one too. A test gauge left in "
    "a fuel line burned an aircraft.",
    source="14 CFR 43.13(b); NTSB 20001212X22555",
    formula="each port of a tap, fitting, sender or gauge is joined, or closed by a cap or plug; so is what a removed thing leaves",
    example="old oil-gauge line removed, its tee left: cap the branch with an AN929 of its size",
    over=lambda study: [
        *study.model.removed,
        *study.model.taps,
        *study.model.fittings,
        *study.model.senders,
        *study.model.indicators,
        *study.model.fluid_lines,
    ],
)
def port_closed(study: Study) -> Iterator[Verdict]:
    """What is removed, the lines and ports it leaves, and the open ports of what stays."""
    yield from _removed(study)
    yield from _lines_left(study)
    for ident, tap in study.model.taps.items():
        yield from _tap(Subject(study, (ident,), ("taps", ident)), tap)
    for ident, fitting in study.model.fittings.items():
        yield from _fitting(Subject(study, (ident,), ("fittings", ident)), fitting)
    if not _plumbed(study):
        return
    for ident, sender in study.model.senders.items():
        subject = Subject(study, (ident,), ("senders", ident))
        yield from _ends(subject, sender.spec.ports or (), missing.SENDER_JOINT)
    for ident, indicator in study.model.indicators.items():
        ports = [port for _, spec in inputs_of(indicator) for port in spec.ports or ()]
        yield from _ends(Subject(study, (ident,), ("indicators", ident)), ports, missing.GAUGE_JOINT)


@once
def _plumbed(study: Study) -> bool:
    """Whether anything is joined for a fluid: a document that tells of no such joint leaves every port unsaid."""
    return any(
        edge.kind == "fluid line" or edge.name == "thread" for edge in study.graph.of("fluid line", "passage")
    )


@once
def _told_of(study: Study) -> tuple[frozenset[str], frozenset[str]]:
    """Ends that the document says are closed, and ends that it says are left open."""
    closed: set[str] = set()
    opened: set[str] = set()
    for gone in study.model.removed.values():
        if gone.left is not None:
            (closed if gone.left in ("capped", "blanked") else opened).update(gone.ends or ())
    for ident in study.taken_out("fluid_lines"):
        line = study.whole.fluid_lines[ident]
        if line.open_ends is not None:
            (closed if line.open_ends == "capped" else opened).update((line.from_, line.to))
    return frozenset(closed), frozenset(opened)


def _removed(study: Study) -> Iterator[Verdict]:
    for ident, gone in study.model.removed.items():
        ends = list(gone.ends or ())
        if gone.kind == "wire" or (ends and gone.kind != "fluid line" and not _was_wet(study, ends)):
            continue
        if gone.kind != "fluid line" and not ends and gone.left in (None, "tied back"):
            continue
        subject = Subject(study, (ident, *ends), ("removed", ident))
        text = f"what the removed {gone.kind} {ident} leaves is {gone.left}"
        if gone.left is None:
            yield subject.lacks(missing.REMOVED_CLOSING)
        elif gone.left in ("capped", "blanked"):
            yield subject.field("left").meets(text)
        else:
            remedy = f"cap or plug {listed(ends) or 'each port it leaves'}"
            yield subject.field("left").discrepancy(text, remedy=remedy)


def _was_wet(study: Study, ends: Iterable[str]) -> bool:
    """Whether one of some ends is a fluid port of what stays."""
    return any(split_end(e)[0] in study.model.taps or split_end(e)[0] in study.model.fittings for e in ends)


def _lines_left(study: Study) -> Iterator[Verdict]:
    """Lines that stay and lead to something this change takes out."""
    for ident, line in study.model.fluid_lines.items():
        for word, end in (("from", line.from_), ("to", line.to)):
            if study.model.find(split_end(end)[0]) is not None:
                continue
            subject = Subject(study, (ident, split_end(end)[0]), ("fluid_lines", ident, word))
            text = f"line {ident} leads to {end}, which is removed"
            if line.open_ends is None:
                yield subject.lacks(missing.LINE_OPEN_ENDS)
            elif line.open_ends == "capped":
                yield subject.meets(f"{text}, and is capped")
            else:
                yield subject.discrepancy(
                    f"{text}, and stands open", remedy="cap the line, or take it out as well"
                )


def _tap(subject: Subject, tap: Tap) -> Iterator[Verdict]:
    study, ident = subject.study, subject.ident
    joined = any(e.kind in ("fluid line", "passage") for e in study.graph.at(ident))
    if joined and tap.capped:
        yield subject.field("capped").discrepancy(
            f"{ident} is said to be capped, and a line or fitting stands on it", remedy="say which it is"
        )
        return
    left_by = [
        i
        for i, line in study.taken_out("fluid_lines").items()
        if ident in (split_end(line.from_)[0], split_end(line.to)[0])  # type: ignore[attr-defined]
    ]
    subject = subject.along(*left_by)
    name = f"{ident}, which the removed line {listed(left_by)} leaves," if left_by else ident
    plug = f"close it with a plug{f' of {tap.thread}' if tap.thread else ''}"
    closed, opened = _told_of(study)
    if joined:
        yield subject.meets(f"{name} is in use")
    elif tap.capped is False or (tap.capped is None and ident in opened):
        yield subject.discrepancy(f"{name} is open", remedy=plug)
    elif tap.capped or ident in closed:
        yield subject.meets(f"{name} is capped")
    elif left_by or _plumbed(study):
        yield subject.lacks(missing.TAP_CLOSING)


def _fitting(subject: Subject, fitting: Fitting) -> Iterator[Verdict]:
    """The ports of a fitting that a medium reaches."""
    if fitting.spec.kind in _CLOSING:
        return
    study, ident = subject.study, subject.ident
    closed, opened = _told_of(study)
    wet = {n: media(study).at(n) for p in fitting.spec.ports or () if media(study).at(n := f"{ident}.{p}")}
    free = [n for n in wet if not _is_joined(study, ident, n)]
    for node in free:
        at_port = subject.along(node)
        if node in closed:
            yield at_port.meets(f"{node} is capped")
        elif node in opened:
            yield _open(at_port, fitting, node, wet[node])
        else:
            yield at_port.lacks(missing.FITTING_PORTS)
    if wet and not free:
        yield subject.meets(f"every port of {ident} is joined or closed")


def _open(subject: Subject, fitting: Fitting, node: str, wet: frozenset[Medium]) -> Verdict:
    made = (fitting.spec.ends or {}).get(split_end(node)[1], "")
    text = f"{node} stands open since its line was removed, and {listed(sorted(wet))} reaches it"
    remedy = f"close it with a cap{f' for a {made}' if made else ''}"
    judge = subject.discrepancy if wet & (FLAMMABLE | LIQUID | MANIFOLD) else subject.advisory
    return judge(text, remedy=remedy)


def _ends(subject: Subject, ports: Iterable[str], ask: Missing) -> Iterator[Verdict]:
    """The ports of a sender or gauge."""
    study, ident = subject.study, subject.ident
    free = [n for p in ports if not _is_joined(study, ident, n := f"{ident}.{p}")]
    closed, _ = _told_of(study)
    for node in free:
        if node not in closed:
            yield subject.along(node).lacks(ask)
    if ports and not free:
        yield subject.meets(f"every port of {ident} is joined")


def _is_joined(study: Study, ident: str, node: str) -> bool:
    """Whether a line, or something screwed in, stands on a port."""
    return any(
        (e.kind == "fluid line" or (e.kind == "passage" and (e.name == "thread" or e.ident != ident)))
        for e in study.graph.at(node)
    )
