"""A cause in words: what is wrong, what it makes wrong besides, and the cure that was tried."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..causes.found import Cause, Causes
from ..document.source import DocPath
from ..model.quantities import plain_number
from ..rules.verdicts import Outcome, Verdict
from .wording import clause, remedy_of

ROOM = 96
"""Characters of a sentence that a line shows."""


def path_of(cause: Cause) -> DocPath:
    """Where the document tells of what is wrong."""
    return cause.edits[0].changes[0].path if cause.edits else cause.verdicts[0].path


def wrong_of(cause: Cause) -> str:
    """What is wrong, in a line."""
    told = cause.edits[0].wrong if cause.edits else ""
    return told or clause(cause.verdicts[0].message, ROOM)


def consequences(cause: Cause) -> Iterator[str]:
    """The first of all it makes wrong in a sentence, the others by rule with their numbers."""
    first, *others = cause.verdicts
    yield clause(first.message, ROOM) if cause.edits else first.message
    shared = {id(v): by for v, by in cause.shares}
    by_rule: dict[str, list[Verdict]] = {}
    for verdict in others:
        by_rule.setdefault(verdict.rule, []).append(verdict)
    for rule, group in by_rule.items():
        told = [_short(v, shared.get(id(v), ())) for v in group]
        yield f"{rule} {', '.join(told)}"


def _short(verdict: Verdict, shared: tuple[int, ...]) -> str:
    """``P9A 15 A (7.5)``."""
    told = verdict.at[0] if verdict.at else ""
    if verdict.value is not None and verdict.limit is not None:
        unit = f" {verdict.unit}" if verdict.unit else ""
        told += f" {plain_number(verdict.value)}{unit} ({plain_number(verdict.limit)})"
    return f"{told} with {' and '.join(map(str, shared))}" if shared else told


def cure_of(causes: Causes, cause: Cause) -> str:
    """What to do, and the figure it comes to; what the rule says where nothing that was tried puts it right."""
    first = cause.verdicts[0]
    if not cause.edits:
        told = remedy_of(first)
        return f"no change that was tried puts it right{'; ' if told else ''}{told}"
    told = cause.words
    told += "".join(f"; or {edit.words}" for edit in cause.instead)
    then = _then(causes.after, first)
    if then:
        told += f"; then {then}"
    if cause.brings:
        told += f"; with it comes the advice: {'; '.join(clause(v.message, ROOM) for v in cause.brings)}"
    if cause.after:
        told += (
            f"; once {' and '.join(map(str, cause.after))} {'is' if len(cause.after) == 1 else 'are'} done"
        )
    return told


def _then(after: Iterable[Verdict], verdict: Verdict) -> str:
    """What the figure of a verdict is with every cure made."""
    for now in after:
        if now.rule == verdict.rule and now.at[:1] == verdict.at[:1] and now.value is not None:
            if now.limit is None or now.outcome is not Outcome.MEETS or now.value < 0:
                return ""
            return f"{plain_number(now.value)} {now.unit} (limit {plain_number(now.limit)})"
    return ""
