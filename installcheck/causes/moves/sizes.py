"""Gauges with the terminals they take, and protectors: chosen as ``size`` chooses them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from ...analysis.circuit.drop_paths import consumers
from ...analysis.power.feeds import beyond
from ...analysis.power.wire_sizes import sizes_of
from ...analysis.study import Study, once
from ...model.edits import Change, Edit, Put
from ...model.installation import split_end
from ...model.quantities import Gauge, plain_number
from ...model.wiring import Termination, WireRun
from ...sizing.choices import ratings_for
from .spots import written

_HEAVY = Gauge("8")
"""The thinnest of what a mechanic calls a cable."""
_STEPS = 6
"""Gauges thicker than now that are tried."""
_WORTH_ASKING = 3
"""Changes of gauge from which it is worth a trial whether all of them together would do."""
_MOST_TERMINALS = 6
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


def thickens(study: Study, edit: Edit) -> bool:
    """Whether a change does nothing but make runs thicker, with terminals to suit."""
    chosen = [(str(c.path[1]), _gauge_in(c)) for c in edit.changes if c.path[2:] == ("gauge",)]
    here = ((i, g, study.model.wire_runs[i].gauge) for i, g in chosen)
    return (
        bool(chosen)
        and all(g is not None and now is not None and g.number < now.number for _, g, now in here)
        and all(c.path[0] == "wire_runs" and c.path[2] in ("gauge", "terminations") for c in edit.changes)
    )


def thickest(study: Study, edits: Iterable[Edit]) -> Edit | None:
    """Of changes that make runs thicker, for each run the thickest, all at once; ``None`` where there are too few of them.

    What that does not put right by resistance, none of them does: it leaves less of all errors that resistance makes.
    """
    several = [edit for edit in edits if thickens(study, edit)]
    chosen: dict[str, tuple[int, list[Change]]] = {}
    for edit in several:
        for gauge in (c for c in edit.changes if c.path[2:] == ("gauge",)):
            ident, size = str(gauge.path[1]), _gauge_in(gauge)
            assert size is not None
            if ident not in chosen or size.number < chosen[ident][0]:
                chosen[ident] = size.number, [c for c in edit.changes if c.path[1] == ident]
    if len(several) < _WORTH_ASKING:
        return None
    return Edit(tuple(c for _, changes in chosen.values() for c in changes), "make all of them thicker")


def _gauge_in(change: Change) -> Gauge | None:
    return Gauge(str(change.value).removesuffix(" AWG")) if isinstance(change, Put) else None


def cables(study: Study, ident: str) -> Iterator[Edit]:
    """All heavy runs on the way of a load, out and home, with those of the battery, a gauge or two thicker together."""
    way = [c for c in consumers(study) if c.ident == ident and c.out is not None and c.back is not None]
    runs = [e.ident for c in way for e in (*(c.out or ()), *(c.back or ())) if e.kind == "conductor"]
    posts = {node for e in study.graph.of("supply") if _is_battery(study, e.ident) for node in (e.a, e.b)}
    runs += [e.ident for post in posts for e in study.graph.at(post) if e.kind == "conductor"]
    heavy = [i for i in dict.fromkeys(runs) if _is_heavy(study.model.wire_runs[i])]
    for steps in (1, 2) if len(heavy) > 1 else ():
        changes = [c for i in heavy for c in _thicker(study, i, steps)]
        if changes:
            names = f"{', '.join(heavy[:-1])} and {heavy[-1]}"
            by = "a gauge" if steps == 1 else "two gauges"
            words = f"make {names} {by} thicker{_with(changes)}"
            yield Edit(tuple(changes), words, f"{names} are thin for what {ident} draws")


def _is_battery(study: Study, ident: str) -> bool:
    supply = study.model.supplies.get(ident)
    return supply is not None and supply.spec.kind == "battery"


def _is_heavy(run: WireRun) -> bool:
    return run.gauge is not None and run.gauge.number <= _HEAVY.number


def _thicker(study: Study, ident: str, steps: int) -> list[Change]:
    run = study.model.wire_runs[ident]
    known = [s.gauge for s in sizes_of(study, run)] or _of_part(study, run)
    thicker = [g for g in known if run.gauge is not None and g.number < run.gauge.number]
    return regauged(study, ident, thicker[min(steps, len(thicker)) - 1]) if thicker else []


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
        if takes(one, gauge):
            continue
        other = _terminal_for(study, one, gauge)
        if other is None:
            return []
        changes.append(Put(("wire_runs", ident, "terminations", index), written(other)))
    return changes


def terminals(study: Study, ident: str) -> Iterator[Edit]:
    """On each end of a run another terminal that takes its gauge: as on the same stud, else one the document uses."""
    run = study.model.wire_runs[ident]
    if run.gauge is None:
        return
    whole: list[Change] = []
    for index, one in enumerate(run.terminations or ()):
        if not takes(one, run.gauge) and (other := _terminal_for(study, one, run.gauge)) is not None:
            whole.append(Put(("wire_runs", ident, "terminations", index), written(other)))
    wrong = f"{ident} of {run.gauge} AWG has terminals for another gauge"
    if whole:
        yield Edit(tuple(whole), f"crimp terminals that take {run.gauge} AWG on {ident}", wrong)
    for index, one in enumerate(run.terminations or ()):
        place = _end_of(run, index)
        for other in _others(study, one, place, run.gauge)[:_MOST_TERMINALS]:
            size = f" for a {other.stud.text} stud" if other.stud is not None else ""
            amps = f", {other.max_current.text}" if other.max_current is not None else ""
            words = f"crimp a {other.kind}{size}{amps} on {ident} at {place}"
            put = Put(("wire_runs", ident, "terminations", index), written(other))
            yield Edit((put,), words, f"{ident} has the wrong terminal at {place}")


def _end_of(run: WireRun, index: int) -> str:
    """What an end of a run is joined to, by the first conductor of a cable."""
    held = next(iter(run.conductors.values())) if run.conductors else run
    return (held.from_ if index == 0 else held.to) or ""


def _others(study: Study, one: Termination, place: str, gauge: Gauge) -> list[Termination]:
    """Terminals of the document that take a gauge, those at the same thing first; each also for the stud of one there."""
    here = _landing(study).get(split_end(place)[0], [])
    stud = next((t.stud for t in here if t.stud is not None and t != one), None) or one.stud
    fits = [t for t in (*here, *_terminals(study)) if t.kind == one.kind and takes(t, gauge)]
    made = [t if t.stud == stud else t.model_copy(update={"stud": stud}) for t in fits]
    return list({repr(t): t for t in (*made, *fits) if t != one}.values())


@once
def _landing(study: Study) -> dict[str, list[Termination]]:
    """What is crimped on the wires at each thing."""
    found: dict[str, list[Termination]] = {}
    for run in study.model.wire_runs.values():
        for index, one in enumerate(run.terminations or ()):
            found.setdefault(split_end(_end_of(run, index))[0], []).append(one)
    return found


def takes(one: Termination, gauge: Gauge) -> bool:
    """Whether a terminal is made for a gauge, as far as it says."""
    low, high = one.smallest_gauge, one.largest_gauge
    return (low is None or gauge.number <= low.number) and (high is None or gauge.number >= high.number)


def _terminal_for(study: Study, like: Termination, gauge: Gauge) -> Termination | None:
    for other in _terminals(study):
        if other.kind == like.kind and other.smallest_gauge is not None and takes(other, gauge):
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
    beside = {other for thing in things for other in _runs_at(study)[thing]}
    alike = {
        other
        for other in beside | _in_series(study).get(ident, set())
        if (study.model.wire_runs[other].part, study.model.wire_runs[other].gauge) == (run.part, run.gauge)
    }
    return tuple(i for i in study.model.wire_runs if i in alike or i == ident)


@once
def _runs_at(study: Study) -> dict[str, list[str]]:
    """The runs that end at each thing."""
    found: dict[str, list[str]] = {}
    for ident, run in study.model.wire_runs.items():
        for thing in _things(run):
            found.setdefault(thing, []).append(ident)
    return found


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
    larger = [r for r in known if r > rating]
    hung = beyond(study).get(ident)
    behind = [r for r in larger if hung is not None and r > max(hung.load, hung.sources)]
    larger = list(dict.fromkeys((*larger[:3], *behind[:2])))
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
