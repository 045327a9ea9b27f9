"""Gauges with the terminals they take, and protectors: chosen as ``size`` chooses them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...analysis.power.wire_sizes import sizes_of
from ...analysis.study import Study, once
from ...model.edits import Change, Edit, Put
from ...model.installation import split_end
from ...model.quantities import Gauge, plain_number
from ...model.wiring import Termination, WireRun
from ...sizing.choices import ratings_for
from .spots import written

_STEPS = 6
"""Gauges thicker than now that are tried."""
_PAIRED = frozenset(("senders", "probes", "indicators", "loads"))


def gauges(study: Study, ident: str) -> Iterator[Edit]:
    """The next gauges of a run's part, thicker first, with those of its twins, then alone."""
    twins = together(study, ident)
    for group in (twins, (ident,)) if len(twins) > 1 else ((ident,),):
        yield from _gauges(study, group)


def _gauges(study: Study, group: Sequence[str]) -> Iterator[Edit]:
    run = study.model.wire_runs[group[0]]
    if run.gauge is None:
        return
    known = [s.gauge for s in sizes_of(study, run)] or _of_part(study, run)
    thicker = [g for g in known if g.number < run.gauge.number][:_STEPS]
    thinner = [g for g in reversed(known) if g.number > run.gauge.number][:1]
    for gauge in [*thicker, *thinner]:
        changes = [c for ident in group for c in regauged(study, ident, gauge)]
        if changes:
            names = " and ".join(group) if len(group) < 3 else f"{', '.join(group[:-1])} and {group[-1]}"
            words = f"make {names} of {gauge} AWG in place of {run.gauge} AWG{_with(changes)}"
            wrong = f"{names} {'is' if len(group) == 1 else 'are'} of {run.gauge} AWG"
            yield Edit(tuple(changes), words, wrong)


def _with(changes: Sequence[Change]) -> str:
    return ", with terminals to suit" if any("terminations" in c.path for c in changes) else ""


def _of_part(study: Study, run: WireRun) -> list[Gauge]:
    part = study.document.library.parts.get(run.part or "")
    if part is None:
        return []
    made = [Gauge(size) for size in part.sizes if size.replace("/", "").isdigit()]
    return sorted(made, key=lambda g: -g.number)


def regauged(study: Study, ident: str, gauge: Gauge) -> list[Change]:
    """A run in another gauge, each terminal that does not take it replaced by one the document uses for it; else nothing."""
    run = study.model.wire_runs[ident]
    changes: list[Change] = [Put(("wire_runs", ident, "gauge"), f"{gauge} AWG")]
    for index, one in enumerate(run.terminations or ()):
        if _takes(one, gauge):
            continue
        other = _terminal_for(study, one, gauge)
        if other is None:
            return []
        changes.append(Put(("wire_runs", ident, "terminations", index), written(other)))
    return changes


def terminals(study: Study, ident: str) -> Iterator[Edit]:
    """Terminals that take the gauge of a run, of those the document uses."""
    run = study.model.wire_runs[ident]
    if run.gauge is None:
        return
    changes: list[Change] = []
    for index, one in enumerate(run.terminations or ()):
        if not _takes(one, run.gauge):
            other = _terminal_for(study, one, run.gauge)
            if other is None:
                return
            changes.append(Put(("wire_runs", ident, "terminations", index), written(other)))
    if changes:
        wrong = f"{ident} of {run.gauge} AWG has terminals for another gauge"
        yield Edit(tuple(changes), f"crimp terminals that take {run.gauge} AWG on {ident}", wrong)


def _takes(one: Termination, gauge: Gauge) -> bool:
    low, high = one.smallest_gauge, one.largest_gauge
    return (low is None or gauge.number <= low.number) and (high is None or gauge.number >= high.number)


def _terminal_for(study: Study, like: Termination, gauge: Gauge) -> Termination | None:
    for other in _terminals(study):
        if other.kind == like.kind and other.smallest_gauge is not None and _takes(other, gauge):
            return other.model_copy(update={"stud": like.stud, "resistance": None})
    return None


@once
def _terminals(study: Study) -> list[Termination]:
    return list({repr(t): t for r in study.model.wire_runs.values() for t in r.terminations or ()}.values())


def together(study: Study, ident: str) -> tuple[str, ...]:
    """A run with those of the same part and gauge that do its work with it: out and return, the leads of one bulb, one after
    another."""
    run = study.model.wire_runs[ident]
    things = {i for i in _things(run) if (found := study.model.find(i)) is not None and found[0] in _PAIRED}
    beside = {other for other, one in study.model.wire_runs.items() if things & set(_things(one))}
    alike = {
        other
        for other in beside | _in_series(study).get(ident, set())
        if (study.model.wire_runs[other].part, study.model.wire_runs[other].gauge) == (run.part, run.gauge)
    }
    return tuple(i for i in study.model.wire_runs if i in alike or i == ident)


@once
def _in_series(study: Study) -> dict[str, set[str]]:
    """Of each run of a thermocouple, those between the same probe and the indicator."""
    found: dict[str, set[str]] = {}
    for one in study.indications:
        if one.section == "probes":
            runs = {s.edge.ident for leg in one.legs for s in leg.steps if s.edge.kind == "conductor"}
            for run in runs:
                found.setdefault(run, set()).update(runs)
    return found


def _things(run: WireRun) -> Iterator[str]:
    pieces = [(run.from_, run.to), *((c.from_, c.to) for c in (run.conductors or {}).values())]
    yield from (split_end(end)[0] for piece in pieces for end in piece if end is not None)


def protectors(study: Study, ident: str) -> Iterator[Edit]:
    """Stocked ratings of a protector: smaller first, nearest first; then the next larger ones."""
    supply = study.model.supplies[ident]
    rating = supply.spec.rating
    known = ratings_for(supply)
    if rating is None or not known:
        return
    smaller = [r for r in reversed(known) if r < rating][:_STEPS]
    larger = [r for r in known if r > rating][:3]
    for wanted in (*smaller, *larger):
        yield rated(study, ident, wanted)


def rated(study: Study, ident: str, amps: float) -> Edit:
    """A protector of another rating."""
    supply = study.model.supplies[ident]
    word = "size" if study.document.holds(("supplies", ident, "size")) else "rating"
    now = f" in place of {supply.spec.rating.text}" if supply.spec.rating is not None else ""
    text = f"{plain_number(amps)} A"
    wrong = (
        f"{ident} is of {supply.spec.rating.text}"
        if supply.spec.rating is not None
        else f"{ident} has no rating"
    )
    return Edit(
        (Put(("supplies", ident, word), text),), f"fit a {text} {supply.spec.kind} as {ident}{now}", wrong
    )
