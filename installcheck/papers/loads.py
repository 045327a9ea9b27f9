"""Electrical load table: what each bus feeds in each phase of flight, and the margin of the source, before and after."""

from __future__ import annotations

from collections.abc import Iterable

from ..analysis.power.draws import ANY_PHASE, Draw, draws
from ..analysis.study import Study
from ..physics.sources import SOURCE_SHARE, continuous_load_limit
from .replaced import NotThereError, before
from .tables import Cell, Table, rounded

PHASES = ("ground", "start", "take-off", "climb", "cruise", "descent", "landing", "emergency")


def phases_used(cases: Iterable[Study], found: Iterable[Draw]) -> list[str]:
    """Phases the documents speak of, in order of flight; one column for all when they speak of none."""
    named = {p for d in found for p in d.phases}
    named |= {p.phase for c in cases for p in c.model.operating_points.values() if p.phase is not None}
    return [p for p in PHASES if p in named] or [ANY_PHASE]


def total(found: Iterable[Draw], phase: str, *, duty: str | None = None) -> float:
    """Amps of some draws in a phase; without a duty, all that are not intermittent."""
    return sum(
        d.amps_in(phase) for d in found if (d.duty == duty if duty is not None else d.duty != "intermittent")
    )


def source_limit(study: Study) -> tuple[float, float] | None:
    """Rated amps of all alternators and generators, and the part of it a continuous load may take."""
    rating = sum(
        float(s.spec.rated_current)
        for s in study.whole.supplies.values()
        if s.spec.kind in ("alternator", "generator")
        and s.spec.rated_current is not None
        and s.status != "removed"
    )
    if not rating:
        return None
    return rating, continuous_load_limit(rating, bool(study.whole.aircraft.load_monitored))


def load_table(study: Study) -> Table:
    """Amps of each load by phase, totals by bus, and the margin to what the sources may give."""
    found = list(draws(study))
    phases = phases_used([study], found)
    rows: list[tuple[Cell, ...]] = []
    for bus in dict.fromkeys(d.bus for d in found):
        members = [d for d in found if d.bus == bus]
        named = bus or "bus not known"
        for one in members:
            known = one.amps is not None
            cells = (rounded(one.amps_in(p)) if known else None for p in phases)
            rows.append((named, one.ident, one.duty, *cells))
        for duty in dict.fromkeys(d.duty for d in members):
            sums = (rounded(total(members, p, duty=duty)) for p in phases)
            rows.append((named, f"total {duty}", duty, *sums))
    notes: list[str] = []
    limit = source_limit(study)
    if limit is not None:
        whole = [total(found, p) for p in phases]
        rows.append(("all", "all but intermittent", "", *(rounded(w) for w in whole)))
        rows.append(("all", "margin of the sources", "", *(rounded(limit[1] - w) for w in whole)))
        notes.append(_limit_note(study, limit))
    notes += _unknown_note(found)
    columns = ("bus", "load", "duty", *(f"{p} [A]" for p in phases))
    return Table("load table", columns, tuple(rows), tuple(notes))


def _limit_note(study: Study, limit: tuple[float, float]) -> str:
    rating, usable = limit
    if study.whole.aircraft.load_monitored:
        return f"Sources give {rating:g} A together, all of it to be used since a placard or monitor keeps the load down."
    return (
        f"Sources give {rating:g} A together; {usable:g} A, {SOURCE_SHARE:.0%} of it, is the most where no placard or monitor "
        "keeps the load down (AC 43.13-1B 11-35a)."
    )


def _unknown_note(found: Iterable[Draw]) -> list[str]:
    unknown = [d.ident for d in found if d.amps is None]
    return [f"Current not given, not in the totals: {', '.join(unknown)}."] if unknown else []


def load_change_table(study: Study) -> Table:
    """The load change against the installation this one replaces; empty with the reason when there is none to read."""
    try:
        return load_change(before(study), study)
    except NotThereError as why:
        return Table("load change", ("bus", "load"), (), (str(why),))


def load_change(earlier: Study, after: Study) -> Table:
    """The load table of two installations side by side: what each bus and load took, takes, and the margin."""
    old, new = list(draws(earlier)), list(draws(after))
    phases = phases_used([earlier, after], [*old, *new])
    rows: list[tuple[Cell, ...]] = []

    def row(bus: str, name: str, was: Iterable[float | None], now: Iterable[float | None]) -> None:
        pairs = list(zip(was, now, strict=True))
        cells: list[Cell] = []
        for a, b in pairs:
            cells += [rounded(a), rounded(b), None if a is None or b is None else rounded(b - a)]
        rows.append((bus, name, *cells))

    buses = dict.fromkeys(d.bus for d in (*old, *new))
    for bus in buses:
        was = {d.ident: d for d in old if d.bus == bus}
        now = {d.ident: d for d in new if d.bus == bus}
        for ident in dict.fromkeys((*was, *now)):
            row(
                bus or "bus not known",
                ident,
                (_amps(was.get(ident), p) for p in phases),
                (_amps(now.get(ident), p) for p in phases),
            )
        row(
            bus or "bus not known",
            "total, intermittent apart",
            (total(was.values(), p) for p in phases),
            (total(now.values(), p) for p in phases),
        )
    row("all", "all but intermittent", (total(old, p) for p in phases), (total(new, p) for p in phases))
    limits = source_limit(earlier), source_limit(after)
    notes = [
        f"Before: {_named(earlier)}. After: {_named(after)}.",
        *(f"{when}: {_limit_note(c, lim)}" for when, c, lim in zip(("Before", "After"), (earlier, after), limits, strict=True) if lim),
        *_unknown_note((*old, *new)),
    ]  # fmt: skip
    row(
        "all",
        "margin of the sources",
        (None if limits[0] is None else limits[0][1] - total(old, p) for p in phases),
        (None if limits[1] is None else limits[1][1] - total(new, p) for p in phases),
    )
    columns = [f"{p} {what} [A]" for p in phases for what in ("before", "after", "change")]
    return Table("load change", ("bus", "load", *columns), tuple(rows), tuple(notes))


def _amps(one: Draw | None, phase: str) -> float | None:
    if one is None:
        return 0.0
    return None if one.amps is None else one.amps_in(phase)


def _named(study: Study) -> str:
    header = study.whole.installation
    return f"{header.name}, revision {header.revision or '-'}"
