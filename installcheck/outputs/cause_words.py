"""A cause in words: what is wrong, what it makes wrong besides, and the cure that was tried."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from ..analysis.missing import without
from ..analysis.shown import listed
from ..causes.found import Cause, Causes
from ..document.source import DocPath
from ..model.quantities import plain_number
from ..rules.verdicts import Outcome, Verdict
from .wording import clause, count_of, remedy_of

ROOM = 96
"""Characters of a sentence that a line shows."""
_LONG = 160
"""Characters of one that goes over lines."""


def path_of(cause: Cause) -> DocPath:
    """Where the document tells of what is wrong."""
    return cause.edits[0].changes[0].path if cause.edits else cause.verdicts[0].path


def wrong_of(cause: Cause) -> str:
    """What is wrong, in a line."""
    told = cause.edits[0].wrong if cause.edits else ""
    return told or clause(cause.verdicts[0].message, ROOM)


def first_of(cause: Cause) -> str:
    """The first of all it makes wrong, in a sentence with its limit."""
    first = cause.verdicts[0]
    told = clause(first.message, ROOM) if cause.edits else first.message
    return told + _limit_untold(told, first)


def consequences(cause: Cause) -> Iterator[str]:
    """The first of all it makes wrong in a sentence, the others by rule with their numbers, and how much advice goes with it."""
    yield first_of(cause)
    shared, advised = dict(_shared(cause)), 0
    for rule, group in _others(cause).items():
        broken = [v for v in group if v.outcome is not Outcome.ADVISORY]
        advised += len(group) - len(broken)
        if broken:
            yield f"{rule} {_short(broken, shared)}"
    if advised:
        yield count_of(advised, "advisory", "advisories")


def sentences(cause: Cause) -> Iterator[str]:
    """What it makes wrong besides the first: of each rule one in a sentence with its limit, and what is likewise."""
    shared = dict(_shared(cause))
    for rule, group in _others(cause).items():
        lead, more = group[0], group[1:]
        told = ""
        if rule == cause.verdicts[0].rule:
            more = group
        else:
            told = clause(lead.message, _LONG)
            told += _limit_untold(told, lead) + shared.get(id(lead), "")
        yield ", ".join(part for part in (told, f"likewise {_short(more, shared)}" if more else "") if part)


def _others(cause: Cause) -> dict[str, list[Verdict]]:
    by_rule: dict[str, list[Verdict]] = {}
    for verdict in cause.verdicts[1:]:
        by_rule.setdefault(verdict.rule, []).append(verdict)
    return by_rule


def _shared(cause: Cause) -> Iterator[tuple[int, str]]:
    """What a verdict hangs on besides: `` with 7 and 8``."""
    for verdict, others in cause.shares:
        yield id(verdict), f" with {' and '.join(map(str, others))}" if others else ""


def _short(verdicts: Iterable[Verdict], shared: Mapping[int, str]) -> str:
    """``P9B 15 A (limit 7.5); P9, P20 15 A (limit 5)``: things of the same figures together."""
    by_figures: dict[str, list[str]] = {}
    for verdict in verdicts:
        told = ""
        if verdict.value is not None and verdict.limit is not None:
            limit = f" (limit {plain_number(verdict.limit)})" if verdict.limit else ""
            told = f" {plain_number(verdict.value)}{f' {verdict.unit}' if verdict.unit else ''}{limit}"
        by_figures.setdefault(told + shared.get(id(verdict), ""), []).extend(verdict.at[:1])
    return ", ".join(", ".join(dict.fromkeys(names)) + told for told, names in by_figures.items())


def _limit_untold(told: str, verdict: Verdict) -> str:
    """The value and the limit of a verdict, as far as a sentence does not tell them: `` (limit 8 ohm)``."""
    if verdict.value is None or not verdict.limit:
        return ""
    unit = f" {verdict.unit}" if verdict.unit else ""
    value, limit = f"{plain_number(verdict.value)}{unit}", f"limit {plain_number(verdict.limit)}{unit}"
    parts = [value] if not _tells(told, verdict.value) else []
    parts += [limit] if not _tells(told, verdict.limit) else []
    return f" ({', '.join(parts)})" if parts else ""


def _tells(told: str, number: float) -> bool:
    return re.search(rf"(?<![\w.]){re.escape(plain_number(number))}(?![\w.]?\d)", told) is not None


def cure_of(causes: Causes, cause: Cause) -> str:
    """What to do, and the figure it comes to; what the rule says where nothing that was tried puts it right."""
    first = cause.verdicts[0]
    if not cause.edits:
        told = remedy_of(first)
        return f"no change that was tried puts it right{'; ' if told else ''}{told}"
    told = cause.words
    told += "".join(f"; or {edit.words}" for edit in cause.instead)
    then = _then(causes.after, first)
    if then and then not in told:
        told += f"; then {then}"
    if cause.brings:
        told += f"; with it comes the advice: {'; '.join(clause(v.message, ROOM) for v in cause.brings)}"
    if cause.waits:
        names = dict.fromkeys(ident for verdict in cause.waits for ident in verdict.at[:1])
        facts = dict.fromkeys(fact for verdict in cause.waits for fact in verdict.missing)
        told += f"; then {listed(list(names))} cannot be judged {without(facts)}"
    if cause.after:
        told += (
            f"; once {' and '.join(map(str, cause.after))} {'is' if len(cause.after) == 1 else 'are'} done"
        )
    return told + "".join(f"; {one}" for one in _in_one_go(causes, cause))


def _in_one_go(causes: Causes, cause: Cause) -> Iterator[str]:
    """Which other cures change the same again, or first: what the one lays the other lays anew, and need not be laid twice."""
    number = next(n for n, one in enumerate(causes.causes, 1) if one is cause)
    for n, other in enumerate(causes.causes, 1):
        things = " and ".join(_changed_by_both(cause, other))
        if things and number in other.after:
            yield f"{n} changes {things} again: do both in one go, {things} as in {n}"
        elif things and n in cause.after:
            yield f"{n} changes {things} too: do both in one go, {things} as told here"


def _changed_by_both(cause: Cause, other: Cause) -> list[str]:
    """The things of which two causes change the same word, or of which one changes a word and the other all."""
    one, two = ({path for edit in c.edits for path in edit.paths} for c in (cause, other))
    met = {p[1] for p in one for q in two if min(len(p), len(q)) > 1 and p[: len(q)] == q[: len(p)]}
    return sorted(map(str, met))


def _then(after: Iterable[Verdict], verdict: Verdict) -> str:
    """What the figure of a verdict is with every cure made."""
    for now in after:
        if now.rule == verdict.rule and now.at[:1] == verdict.at[:1] and now.value is not None:
            if now.limit is None or now.outcome is not Outcome.MEETS or now.value < 0:
                return ""
            return f"{plain_number(now.value)} {now.unit}"
    return ""
