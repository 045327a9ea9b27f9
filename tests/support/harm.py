"""Single harmful edits of right installations, as data: each is one mistake of the trade, with the thing it is made at.

``harms()`` is the list. A kind of harm stands in a module beside this, ``harm_wires`` and the like, as a function that
finds every thing of an installation it can be done to; at most ``most`` of them are taken from each.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

import yaml
from installations import Plain, demo, read

from installcheck import check
from installcheck.model.edits import Change, Drop, Edit, Put, Swap
from installcheck.rules.verdicts import Outcome, Verdict

RIGHT = Path(__file__).parents[1] / "harm" / "right"
DEMOS = ("retrofit_corrected", "twin", "poor_ground_cured")
WRITTEN = tuple(sorted(p.stem for p in RIGHT.glob("*.yaml")))
INSTALLATIONS = (*DEMOS, *WRITTEN)
"""Right installations by name: the demos, and those of ``tests/harm/right``."""

Found = tuple[Sequence[Change], str, tuple[str, ...]]
"""Changes, what a mechanic would say was done, and the ids at which it is rightly told: the edited thing first."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of harm.

    Attributes:
        name: in trade words.
        why: why it is a harm, by a standard or by physics.
        practice: whether it only breaks good practice: an advisory is then enough.
        most: how many are taken from one installation.
        find: every place of an installation at which it can be done.
    """

    name: str
    why: str
    practice: bool
    most: int
    find: Callable[[Plain], Iterator[Found]]


KINDS: dict[str, Kind] = {}
_KINDS_OF = (
    "harm_wires",
    "harm_couples",
    "harm_signals",
    "harm_fluid",
    "harm_power",
    "harm_statements",
    "harm_details",
)


def kind(
    name: str, why: str, *, practice: bool = False, most: int = 1
) -> Callable[[Callable[[Plain], Iterator[Found]]], Callable[[Plain], Iterator[Found]]]:
    """Register a kind of harm."""

    def register(find: Callable[[Plain], Iterator[Found]]) -> Callable[[Plain], Iterator[Found]]:
        assert name not in KINDS, name
        KINDS[name] = Kind(name, why, practice, most, find)
        return find

    return register


@dataclass(frozen=True, slots=True)
class Harm:
    """One harmful edit of one right installation.

    Attributes:
        kind: name of its kind.
        installation: name of the right installation.
        edit: what is changed.
        at: ids at which it is rightly told, the edited thing first.
    """

    kind: str
    installation: str
    edit: Edit
    at: tuple[str, ...]

    @property
    def name(self) -> str:
        """A name of its own in the whole list."""
        return f"{self.installation}: {self.edit.words}"


@cache
def _right(name: str) -> Plain:
    if name in DEMOS:
        return demo(name)
    read_as: Plain = yaml.load((RIGHT / f"{name}.yaml").read_text(encoding="utf-8"), yaml.CSafeLoader)
    return read_as


def right(name: str) -> Plain:
    """A right installation as one mapping of its own, aliases written out."""
    return _without_aliases(_right(name))


def _without_aliases(node: Any) -> Any:
    if isinstance(node, dict):
        return {key: _without_aliases(value) for key, value in node.items()}
    return [_without_aliases(value) for value in node] if isinstance(node, list) else node


def applied(plain: Plain, edit: Edit) -> Plain:
    """A copy with the changes of an edit made.

    Raises:
        KeyError: what is to be dropped or exchanged is not there.
    """
    made = _without_aliases(plain)
    for change in edit.changes:
        holder, last = _holder(made, change.path)
        if isinstance(change, Put):
            holder[last] = _without_aliases(change.value)
        elif isinstance(change, Drop):
            del holder[last]
        elif isinstance(change, Swap):
            other, end = _holder(made, change.other)
            holder[last], other[end] = other[end], holder[last]
    return made


def _holder(made: Any, path: Sequence[str | int]) -> tuple[Any, Any]:
    for step in path[:-1]:
        if isinstance(made, dict) and step not in made:
            made[step] = {}
        made = made[step]
    return made, path[-1]


@cache
def harms() -> tuple[Harm, ...]:
    """The whole list, in the order of the kinds and of the installations."""
    for module in _KINDS_OF:
        import_module(module)
    found_in = {name: right(name) for name in INSTALLATIONS}
    return tuple(
        Harm(one.name, name, Edit(tuple(changes), words), at)
        for one in KINDS.values()
        for name in INSTALLATIONS
        for changes, words, at in _spread(list(one.find(found_in[name])), one.most)
    )


def _spread(found: list[Found], most: int) -> list[Found]:
    """At most so many of them, evenly taken."""
    if len(found) <= most:
        return found
    return [found[i * len(found) // most] for i in range(most)]


@cache
def _before(name: str) -> tuple[tuple[str, Outcome, tuple[str, ...]], ...]:
    return tuple((v.rule, v.outcome, v.at) for v in check(read(right(name))).verdicts)


def comes(harm: Harm) -> list[Verdict]:
    """The discrepancies that come with it, and the advisories where it only breaks good practice."""
    told = {Outcome.DISCREPANCY, Outcome.ADVISORY} if KINDS[harm.kind].practice else {Outcome.DISCREPANCY}
    before = set(_before(harm.installation))
    document = read(applied(right(harm.installation), harm.edit))
    return [
        v for v in check(document).verdicts if v.outcome in told and (v.rule, v.outcome, v.at) not in before
    ]


def names(verdict: Verdict, idents: Sequence[str]) -> bool:
    """Whether a verdict names one of some ids, among what it concerns or in its words."""
    return any(
        i in verdict.at or re.search(rf"(?<![\w]){re.escape(i)}(?![\w])", verdict.message) for i in idents
    )


def caught(harm: Harm) -> bool:
    """Whether one of the verdicts that come names the edited thing or its place."""
    return any(names(v, harm.at) for v in comes(harm))
