"""Fluid lines parted from what does not belong in them, and direct-reading gauges made electric."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from ...analysis.study import Study
from ...dataclass import dataclass
from ...graph import Indication
from ...model.devices import Indicator
from ...model.edits import Change, Drop, Edit, Put, Written
from ...model.fluid import FluidLine
from ...model.installation import split_end
from ...model.quantities import in_unit, plain_number
from .ends import of_run
from .places import by_itself
from .spots import written

_RUN_ID = re.compile(r"(.*?)([0-9]+)$")
_SUMMED = ("slack", "rise")
_TEES = ("tee", "cross", "manifold")


@dataclass(frozen=True, slots=True)
class _Stub:
    """A line at a fitting: whether it begins there, and what it leads to."""

    ident: str
    line: FluidLine
    begins: bool

    @property
    def far(self) -> str:
        """Its other end."""
        return self.line.to if self.begins else self.line.from_


def parted(study: Study, tap: str) -> Iterator[Edit]:
    """A tap taken off the line of another: its branch and the tee taken out, one line in place of the two that met there."""
    model = study.model
    fittings = [
        i
        for i, f in model.fittings.items()
        if f.screwed_into is not None and split_end(f.screwed_into)[0] == tap
    ]
    for start in fittings or [tap]:
        branch = _stubs(study, start)
        if len(branch) != 1:
            continue
        tee = split_end(branch[0].far)[0]
        others = [s for s in _stubs(study, tee) if s.ident != branch[0].ident]
        if tee not in model.fittings or model.fittings[tee].spec.kind not in _TEES or len(others) != 2:
            continue
        kept, gone = sorted(others, key=lambda s: s.begins)
        if (kept.line.part, kept.line.size) != (gone.line.part, gone.line.size):
            continue
        changes: list[Change] = [
            Put(("fluid_lines", kept.ident, "from" if kept.begins else "to"), gone.far),
            *_lengthened(kept, gone),
            Drop(("fluid_lines", gone.ident)),
            Drop(("fluid_lines", branch[0].ident)),
            Drop(("fittings", tee)),
            *(Drop(("fittings", one)) for one in fittings),
            Put(("taps", tap, "capped"), "yes"),
        ]
        yield Edit(
            tuple(changes),
            f"take {branch[0].ident} and {tee} out, run {kept.ident} through to {gone.far} in one piece, and cap the port of {tap}",
            f"{tap} is joined to {kept.ident} by {branch[0].ident} and {tee}",
        )


def _stubs(study: Study, ident: str) -> list[_Stub]:
    found = []
    for name, line in study.model.fluid_lines.items():
        if split_end(line.from_)[0] == ident:
            found.append(_Stub(name, line, True))
        elif split_end(line.to)[0] == ident:
            found.append(_Stub(name, line, False))
    return found


def _lengthened(kept: _Stub, gone: _Stub) -> Iterator[Change]:
    """The route of two lines in one, with the slack and rise of both."""
    first = list(kept.line.route or ())
    then = list(gone.line.route or ())
    if gone.begins == kept.begins:
        then.reverse()
    steps: list[Written] = []
    for step in [*first, *then] if not kept.begins else [*then[::-1], *first]:
        last = steps[-1] if steps else None
        plain = written(step)
        if (
            isinstance(last, dict)
            and isinstance(plain, dict)
            and step.length is not None
            and last.get("zone") == step.zone
        ):
            before = next(s.length for s in (*first, *then) if s.zone == step.zone and s.length is not None)
            total = in_unit(float(before) + float(step.length), before.unit, "length")
            steps[-1] = {**last, "length": f"{plain_number(total, 4)} {before.unit}"}
        else:
            steps.append(plain)
    if steps:
        yield Put(("fluid_lines", kept.ident, "route"), steps)
    for word in _SUMMED:
        one, other = getattr(kept.line, word), getattr(gone.line, word)
        if one is not None and other is not None and "ratio" not in (one.kind, other.kind):
            total = in_unit(float(one) + float(other), one.unit, one.kind)
            yield Put(("fluid_lines", kept.ident, word), f"{plain_number(total, 4)} {one.unit}")


def electric(study: Study, ident: str) -> Iterator[Edit]:
    """A direct-reading gauge made electric, wired as another electric indication of the document is.

    The sender stands at the barrier, where the line left the engine side; what lay beyond it is taken out.
    """
    indicator = study.model.indicators[ident]
    if indicator.spec.principle != "direct pressure" or indicator.spec.inputs:
        return
    line = next(iter(_to_gauge(study, ident)), None)
    if line is None:
        return
    for like in study.indications:
        if (
            like.section == "senders"
            and like.spec.principle in ("voltage", "current loop")
            and not like.input
        ):
            yield from _as(study, ident, indicator, line, like)


@dataclass(frozen=True, slots=True)
class _Crossing:
    """The line that reaches a gauge, the adapter at the gauge, the fitting in the barrier and the line before it."""

    line: str
    adapter: str | None
    bulkhead: str
    before: _Stub


def _to_gauge(study: Study, ident: str) -> Iterator[_Crossing]:
    model = study.model
    adapter = next(
        (
            i
            for i, f in model.fittings.items()
            if f.screwed_into is not None and split_end(f.screwed_into)[0] == ident
        ),
        None,
    )
    for stub in _stubs(study, adapter or ident):
        bulkhead = split_end(stub.far)[0]
        if bulkhead in model.fittings and model.fittings[bulkhead].barrier is not None:
            before = [s for s in _stubs(study, bulkhead) if s.ident != stub.ident]
            if len(before) == 1:
                yield _Crossing(stub.ident, adapter, bulkhead, before[0])


def _as(study: Study, ident: str, indicator: Indicator, way: _Crossing, like: Indication) -> Iterator[Edit]:
    model, library = study.model, study.document.library
    sender = model.senders[like.source]
    measure = indicator.spec.measures
    gauges = [
        p
        for p in library.parts.values()
        if p.section == "indicators"
        and p.raw.get("measures") == measure
        and p.raw.get("principle") == like.spec.principle
    ]
    senders = [
        p
        for p in library.parts.values()
        if p.section == "senders"
        and p.raw.get("principle") == sender.spec.principle
        and p.raw.get("terminals") == list(sender.spec.terminals or ())
        and p.raw.get("measures", measure) == measure
    ]
    exact = [p for p in senders if p.raw.get("measures") == measure] or senders
    for gauge in gauges:
        for part in exact:
            for size in (s for s in gauge.sizes if s in part.sizes):
                for alone in (False, True):
                    yield _made(
                        study,
                        ident,
                        indicator,
                        way,
                        like,
                        gauge.key,
                        part.key,
                        gauge.spelling(size),
                        alone=alone,
                    )


def _made(
    study: Study,
    ident: str,
    indicator: Indicator,
    way: _Crossing,
    like: Indication,
    gauge: str,
    part: str,
    size: str,
    *,
    alone: bool,
) -> Edit:
    """``alone``: whether the signal is led outside the bundle of the other."""
    measure = str(indicator.spec.measures)
    name = f"{measure} transducer"
    changes: tuple[Change, ...] = (
        Put(("indicators", ident, "part"), gauge),
        Put(("indicators", ident, "size"), size),
        *([Drop(("indicators", ident, "elevation"))] if indicator.elevation is not None else []),
        Put(("indicators", ident, "status"), "new"),
        Put(("senders", name), _sender(study, like, part, size, measure, way)),
        *_joined(study, way, name),
        *_wired(study, ident, name, like, alone=alone),
    )
    apart = ", its signal wire outside the bundle of that one" if alone else ""
    return Edit(
        changes,
        f"make {ident} electric: {part} {size} on {way.before.ident} before the wall, {gauge} {size} wired as "
        f"{like.indicator}{apart}; take out {way.line} and {way.bulkhead} and close the hole",
        f"{ident} reads by {way.line}, a line through the wall",
    )


def _sender(study: Study, like: Indication, part: str, size: str, measure: str, way: _Crossing) -> Written:
    sender = study.model.senders[like.source]
    made: dict[str, Written] = {"part": part, "size": size, "measures": measure, "status": "new"}
    for word in ("zone", "mounted_on"):
        value = getattr(sender, word)
        if value is not None:
            made[word] = written(value)
    if sender.spec.port_thread is not None:
        made["port_thread"] = sender.spec.port_thread
    place, rise = _back_to_tap(study, way.before)
    if place is not None:
        made["location"] = place
    if rise is not None:
        made["elevation"] = f"{plain_number(in_unit(rise, 'in', 'length'), 4)} in"
    return made


def _back_to_tap(study: Study, start: _Stub) -> tuple[str | None, float | None]:
    """The place of the tap a line comes from, and how far the line rises from there in m, where it says."""
    rise: float | None = 0.0
    stub, seen = start, {start.ident}
    while True:
        step = stub.line.rise
        up = None if step is None else -float(step) if stub.begins else float(step)
        rise = rise + up if rise is not None and up is not None else None
        ident = split_end(stub.far)[0]
        fitting = study.model.fittings.get(ident)
        into = split_end(fitting.screwed_into)[0] if fitting is not None and fitting.screwed_into else ident
        if into in study.model.taps:
            return study.model.taps[into].location, rise
        further = [s for s in _stubs(study, ident) if s.ident not in seen]
        if not further:
            return None, None
        # what begins elsewhere and ends here comes from the tap; a branch of a tee that starts at one does as well
        stub = further[0]
        seen.add(stub.ident)


def _joined(study: Study, way: _Crossing, sender: str) -> Iterator[Change]:
    word = "from" if way.before.begins else "to"
    zone = study.model.fittings[way.bulkhead].zone
    if way.adapter is not None:
        port = next(split_end(e)[1] for e in _line_ends(study, way.line) if split_end(e)[0] == way.adapter)
        yield Put(("fluid_lines", way.before.ident, word), f"{way.adapter}.{port}")
        yield Put(("fittings", way.adapter, "screwed_into"), f"{sender}.P")
        if zone is not None:
            yield Put(("fittings", way.adapter, "zone"), zone)
    else:
        yield Put(("fluid_lines", way.before.ident, word), f"{sender}.P")
    yield Drop(("fluid_lines", way.line))
    yield Drop(("fittings", way.bulkhead))


def _line_ends(study: Study, line: str) -> tuple[str, str]:
    one = study.model.fluid_lines[line]
    return one.from_, one.to


def _wired(study: Study, ident: str, sender: str, like: Indication, *, alone: bool) -> Iterator[Change]:
    """Every run at the pattern, laid again for the new indication."""
    taken = set(study.whole.wire_runs)
    for name, run in study.model.wire_runs.items():
        met = {e.device for e in of_run(study, name)}
        if not met & {like.indicator, like.source}:
            continue
        plain = written(run)
        assert isinstance(plain, dict)
        made = dict(plain)
        for word in ("from", "to"):
            if word in made:
                made[word] = _renamed(str(made[word]), like, ident, sender)
        conductors = made.get("conductors")
        if isinstance(conductors, dict):
            made["conductors"] = {
                key: {
                    w: _renamed(str(v), like, ident, sender) if w in ("from", "to") else v
                    for w, v in one.items()
                }
                for key, one in conductors.items()
                if isinstance(one, dict)
            }
        shield = made.get("shield")
        if isinstance(shield, dict) and shield.get("to") not in (None, "open"):
            made["shield"] = {**shield, "from": "open"}
        new = next_id(name, taken)
        taken.add(new)
        if like.source in met and alone:
            made.pop("bundle", None)
            beside, own = by_itself(study, new, run, plain)
            yield from beside
            made |= own
        yield Put(("wire_runs", new), made)


def next_id(like: str, taken: Collection[str]) -> str:
    """The next free id of a run, in the manner of another: P26 after P25.

    >>> next_id("P9", {"P9", "P10"})
    'P11'
    """
    found = _RUN_ID.match(like)
    stem, number = (found[1], int(found[2])) if found is not None else (f"{like} ", 1)
    while f"{stem}{number}" in taken:
        number += 1
    return f"{stem}{number}"


def _renamed(end: str, like: Indication, ident: str, sender: str) -> str:
    thing, terminal = split_end(end)
    new = {like.indicator: ident, like.source: sender}.get(thing, thing)
    return f"{new}.{terminal}" if terminal else new
