"""What an alteration changes, in the terminal: what to test again, what is worse and new, then the things, by indication."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence

from rich.console import Console
from rich.padding import Padding

from ...comparison import Change, Comparison, IndicationChange, Kind, Retest, VerdictChange
from ...comparison.belonging import most_at
from ...comparison.differences import NOT_GIVEN
from ...document import Document
from ...model.quantities import plain_number
from ...rules.decisions import Decided, LeftOpen
from ...rules.verdicts import Outcome, Verdict
from ..wording import CAUTION, OUTCOME_WORDS, UNTRIED, drawn_together, error_told, load_lines, weight_lines
from .compare_whole import print_changes, print_verdicts
from .words import seen

_NO_ONE = "what serves several indications, or none"
_MOST_IDS = 8
_MANY = 40
"""Ids of one test; more are counted, for they are in the papers anyhow."""
_SEVERAL = 3
"""Indications with the same rule broken from which on it is told once for all."""
"""Ids of one line; more are counted."""
_SHORT = 150
"""Characters of a verdict told in one line or two."""
_CLAUSE = re.compile(r"; |: | \(|, (?=up to |so |and \d)")


def print_comparison(
    found: Comparison,
    console: Console,
    *,
    every: bool = False,
    refused: Sequence[Decided] = (),
    asked: Sequence[LeftOpen] = (),
) -> None:
    """The comparison; ``every`` adds each change and verdict in full, what was only reworded and what meets.

    ``refused`` is what the last review refused and still stands, ``asked`` what it asked for and still cannot be judged.
    """
    console.print(
        seen(_name(found.new), style="bold") + seen("  against  ") + seen(_name(found.old), style="bold")
    )
    if refused:
        _head(console, f"REFUSED BY THE LAST REVIEW, STILL STANDING ({len(refused)})")
        for one in refused:
            _line(console, f"! {one.words}{f': {one.comment}' if one.comment else ''}")
    if asked:
        _head(console, f"ASKED FOR BY THE LAST REVIEW, STILL NOT JUDGED ({len(asked)})")
        for question in asked:
            _line(console, f"? {question.words}{f': {question.comment}' if question.comment else ''}")
    _tests(found, console, every=every)
    _left(found, console)
    _worse(found, console)
    if every:
        print_verdicts(found.verdicts, console)
    _things(found, console)
    if every:
        print_changes(found.changes, console)
    _figures(found, console, every=every)
    console.print()
    console.print(seen(_counts(found), style="bold"), soft_wrap=True)
    console.print(seen(CAUTION, style="dim"))


def _name(document: Document) -> str:
    header = document.installation.installation
    revision = f", revision {header.revision}" if header.revision else ""
    return f"{header.name}{revision} ({document.name})"


def _head(console: Console, title: str) -> None:
    console.print()
    console.print(seen(title, style="bold cyan"))


def _line(console: Console, text: str, indent: int = 2) -> None:
    console.print(Padding(seen(text), (0, 0, 0, indent), expand=False))


def _listed(idents: Iterable[str]) -> str:
    """``P20, P21, E1 and 14 more``."""
    told = list(dict.fromkeys(idents))
    more = len(told) - _MOST_IDS
    return ", ".join(told) if more <= 1 else f"{', '.join(told[:_MOST_IDS])} and {more} more"


def _tests(found: Comparison, console: Console, *, every: bool) -> None:
    if not found.retests:
        return
    _head(console, "TEST, INSPECT OR RECORD AGAIN")
    if every:
        for i, one in enumerate(found.retests, 1):
            _line(console, f"{i}. {one.what}")
            _line(console, f"at: {', '.join(one.at)}", 6)
            _line(console, f"because: {one.why}", 6)
        return
    for i, (parts, group) in enumerate(_alike(found.retests).items(), 1):
        at = [ident for one in group for ident in one.at if len(parts) == 1]
        what = " and ".join(one.at[0] for one in group).join(parts)
        told = _listed(at) if len(at) > _MANY else drawn_together(at)
        _line(console, f"{i}. {what}" + (f": {told}" if at else ""))


def _alike(retests: Iterable[Retest]) -> dict[tuple[str, ...], list[Retest]]:
    """Tests that are one but for what they are made at, by their words around that."""
    groups: dict[tuple[str, ...], list[Retest]] = {}
    for one in retests:
        groups.setdefault(tuple(one.what.split(one.at[0])), []).append(one)
    return groups


def _left(found: Comparison, console: Console) -> None:
    if found.left:
        _head(console, f"LEFT BEHIND ({len(found.left)})")
        for one in found.left:
            remedy = f"; {UNTRIED}: {one.remedy}" if one.remedy else ""
            _line(console, f"! {one.kind}: {one.message}{remedy}")


def _by_indication(found: Comparison) -> list[str]:
    return [*(one.name for one in found.indications), ""]


def _worse(found: Comparison, console: Console) -> None:
    """What is new or worse, by indication and rule: the worst of each in words, the others by their ids."""
    worse = [v for v in found.verdicts if v.trend in ("new", "worse") and v.matters]
    shared = _broken_alike(found, worse)
    groups: dict[str, dict[tuple[Outcome, str], list[VerdictChange]]] = {}
    for change in sorted(worse, key=lambda c: not c.alarming):
        key = change.either.outcome, change.either.rule
        name = "" if key in shared else most_at(found.belongs, change.either.at)
        groups.setdefault(name, {}).setdefault(key, []).append(change)
    mended = [f"{n} {t}" for t in ("better", "gone") if (n := _count(found, t))]
    if not worse and mended:
        _head(console, f"VERDICTS: {' and '.join(mended)}, none new or worse")
        return
    if worse:
        alarming = sum(1 for v in worse if v.alarming)
        _head(console, f"WORSE OR NEW ({alarming} {'discrepancy' if alarming == 1 else 'discrepancies'})")
    for name in _by_indication(found):
        if name not in groups:
            continue
        _line(console, name or _NO_ONE)
        advisories: dict[Outcome, list[str]] = {}
        for (outcome, rule), changes in groups[name].items():
            if outcome is Outcome.DISCREPANCY:
                _line(console, _told(changes), 4)
            else:
                at = _listed(c.either.at[0] for c in changes)
                advisories.setdefault(outcome, []).append(f"{rule} ({at})")
        for outcome, told in advisories.items():
            _line(console, f"{OUTCOME_WORDS[outcome].lower()}: {', '.join(told)}", 4)
    if mended:
        _line(console, f"besides, {' and '.join(mended)}")


def _count(found: Comparison, trend: str) -> int:
    return sum(1 for v in found.verdicts if v.trend == trend and v.matters)


def _broken_alike(found: Comparison, worse: Iterable[VerdictChange]) -> set[tuple[Outcome, str]]:
    """Rules that runs of several indications break alike: one cause, told once."""
    names: dict[tuple[Outcome, str], set[str]] = {}
    for change in worse:
        if change.either.path[:1] == ("wire_runs",):
            key = change.either.outcome, change.either.rule
            names.setdefault(key, set()).add(most_at(found.belongs, change.either.at))
    return {key for key, told in names.items() if len(told) >= _SEVERAL}


def _told(changes: Sequence[VerdictChange]) -> str:
    worst = min((c.either for c in changes), key=_rank)
    rest = [c.either.at[0] for c in changes if c.either is not worst and c.either.at[0] != worst.at[0]]
    also = f"; also {_listed(rest)}" if rest else ""
    unit = f" {worst.unit}" if worst.unit else ""
    margin = f", margin {plain_number(worst.margin)}{unit}" if worst.margin is not None else ""
    return f"▲ {_first_words(worst)}{margin}{also} ({worst.rule})"


def _rank(verdict: Verdict) -> float:
    if verdict.margin is None or not verdict.limit:
        return 0.0
    return verdict.margin / abs(verdict.limit)


def _first_words(verdict: Verdict) -> str:
    """The message as far as its first clause; the whole of it where that says too little."""
    message = verdict.message
    cut = next((m.start() for m in _CLAUSE.finditer(message) if m.start() > 30), len(message))
    short = message[:cut]
    return short if len(short) <= _SHORT else f"{short[:_SHORT].rpartition(' ')[0]} …"


def _things(found: Comparison, console: Console) -> None:
    """Every thing that changed, under the indication it belongs to, and what became of the indication."""
    changes = [c for c in found.changes if c.kind is not Kind.REWORDED]
    groups: dict[str, list[Change]] = {}
    for change in changes:
        groups.setdefault(found.belongs.get(change.ident, ""), []).append(change)
    fates = {one.name: one for one in found.indications}
    if groups or any(one.fate != "kept" for one in found.indications):
        _head(console, f"THINGS ({_plural(len(changes), 'change')})")
    for name in _by_indication(found):
        fate = _fate(fates[name]) if name else _NO_ONE
        if name in groups or (name and fates[name].fate != "kept"):
            _line(console, fate)
            _kinds(groups.get(name, ()), console)
    reworded = len(found.changes) - len(changes)
    if reworded:
        _line(console, f"{reworded} more only say the same in other words")


def _fate(one: IndicationChange) -> str:
    told = one.name if one.fate == "kept" else f"{one.name}: {one.fate}"
    if one.old_source != one.new_source and one.old_source and one.new_source:
        told += f", {', '.join(one.new_source)} (was {', '.join(one.old_source)})"
    old, new = error_told(one.old_error), error_told(one.new_error)
    if old != new:
        told += f"; largest error {new or 'not known'}" + (f", was {old}" if old else "")
    return told


def _kinds(changes: Sequence[Change], console: Console) -> None:
    by_kind: dict[Kind, list[Change]] = {}
    for change in changes:
        by_kind.setdefault(change.kind, []).append(change)
    short: list[str] = []
    for kind in (Kind.REMOVED, Kind.ADDED):
        if kind in by_kind:
            mark = "-" if kind is Kind.REMOVED else "+"
            short.append(f"{mark} {kind.value}: {drawn_together([c.ident for c in by_kind.pop(kind)])}")
    for line in short:
        _line(console, line, 4)
    another = {change.ident for change in by_kind.get(Kind.REPLACED, ())}
    gauges: dict[str, set[tuple[str, str]]] = {}
    for change in changes:
        gauges.setdefault(change.ident, set()).update(
            (d.old, d.new) for d in change.details if d.what == "gauge"
        )
    told: dict[str, list[str]] = {}
    for kind, group in by_kind.items():
        for change in group:
            # What another part no longer says was said of the one it replaces.
            words = _details(change, gauges.get(change.ident, ()), lost=change.ident not in another)
            if words or kind is not Kind.CHANGED:
                told.setdefault(change.ident, []).extend(words or [kind.value])
    if told:
        alike: dict[str, list[str]] = {}
        for ident, words in told.items():
            alike.setdefault(", ".join(words), []).append(ident)
        _line(console, "~ " + "; ".join(f"{' and '.join(ids)} {words}" for words, ids in alike.items()), 4)


def _details(change: Change, gauges: Collection[tuple[str, str]], *, lost: bool) -> list[str]:
    """``gauge 18 AWG to 24 AWG``, what is long or only follows left out, as terminals do that follow the gauge."""
    if change.kind in (Kind.REROUTED, Kind.RECONNECTED):
        return [change.kind.value]
    said = [d for d in change.details if not d.follows and d.old != NOT_GIVEN]
    if change.kind is Kind.REPLACED:
        said = [d for d in said if d.what == "part"] or said[:1]
    said = [d for d in said if not (d.what.startswith("terminations") and (d.old, d.new) in gauges)]
    gone = [d.what for d in said if d.new == NOT_GIVEN and lost]
    told = [f"{d.what} {d.old} to {d.new}" for d in said if d.new != NOT_GIVEN]
    return told + ([f"{' and '.join(gone)} no longer given"] if gone else [])


def _figures(found: Comparison, console: Console, *, every: bool) -> None:
    lines = [*load_lines(found.load), *weight_lines(found.weight, every=every)]
    if lines:
        _head(console, "LOAD AND WEIGHT")
        for line in lines:
            _line(console, line)


def _counts(found: Comparison) -> str:
    alarming = sum(1 for v in found.verdicts if v.alarming)
    return (
        f"{_plural(len(found.changes), 'change')}, {len(found.left)} left behind, "
        f"{_plural(alarming, 'discrepancy', 'discrepancies')} new or worse, "
        f"{_plural(len(_alike(found.retests)), 'thing')} to test, inspect or record again; --every tells each in full"
    )


def _plural(count: int, word: str, words: str = "") -> str:
    return f"{count} {word if count == 1 else words or word + 's'}"
