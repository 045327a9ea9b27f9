"""Single harms put right again: what the first cause names, and what is left with every cure made."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from random import Random

from harm import KINDS, WRITTEN, Harm, applied, harms, right
from installations import read

from installcheck import check
from installcheck.causes.causes import find_causes
from installcheck.causes.found import Cause
from installcheck.rules.verdicts import Outcome

_SMALL = ("wren", "osprey", "finch", "teal", "plover", "poor_ground_cured", "retrofit_corrected", "twin")
"""Installations in the order of what a search of one costs."""
assert set(WRITTEN) <= set(_SMALL)


def one_of_each_kind() -> list[Harm]:
    """One harm of each kind, done to the smallest installation it can be done to."""
    found: dict[str, Harm] = {}
    for harm in sorted(harms(), key=lambda h: _SMALL.index(h.installation)):
        found.setdefault(harm.kind, harm)
    return [found[kind] for kind in KINDS if kind in found]


@dataclass(frozen=True, slots=True)
class Righted:
    """What comes of looking for the cause of a harm.

    Attributes:
        caught: whether the harm makes any discrepancy.
        named: whether the first cause names the edited thing, in its heading or its cure.
        cured: whether no discrepancy is left with every cure made.
        told: heading and cure of every cause.
    """

    caught: bool
    named: bool
    cured: bool
    told: tuple[str, ...]


def righted(harm: Harm) -> Righted:
    """Do a harm, and look for its cause."""
    ledger = check(read(applied(right(harm.installation), harm.edit)))
    found = find_causes(ledger)
    told = tuple(f"{c.heading} -> {c.words or 'no cure'}" for c in found.causes)
    left = sum(1 for v in found.after if v.outcome is Outcome.DISCREPANCY)
    named = bool(found.causes) and names(found.causes[0], harm.at)
    return Righted(ledger.count(Outcome.DISCREPANCY) > 0, named, not left, told)


def pairs(installation: str, count: int, without: Collection[str]) -> list[tuple[Harm, Harm]]:
    """Harms of other kinds to other things of one installation, two and two: always the same ones."""
    some = [h for h in harms() if h.installation == installation and h.kind not in without]
    Random(7).shuffle(some)
    met = zip(some[::2], some[1::2], strict=False)
    return [(one, other) for one, other in met if one.kind != other.kind and not {*one.at} & {*other.at}][
        :count
    ]


def done_to(installation: str, ident: str, kind: str) -> Harm:
    """The first harm of a kind to a thing of an installation."""
    return next(h for h in harms() if (h.installation, h.kind) == (installation, kind) and ident in h.at)


@dataclass(frozen=True, slots=True)
class BothRighted:
    """What comes of looking for the causes of two harms at once: how many, whether each is named by one, and :class:`Righted`."""

    causes: int
    named: bool
    cured: bool
    told: tuple[str, ...]


def both_righted(one: Harm, other: Harm) -> BothRighted:
    """Do two harms to one installation, and look for their causes."""
    done = applied(applied(right(one.installation), one.edit), other.edit)
    found = find_causes(check(read(done)))
    named = all(any(names(cause, harm.at) for cause in found.causes) for harm in (one, other))
    left = any(v.outcome is Outcome.DISCREPANCY for v in found.after)
    told = tuple(f"{c.heading} -> {c.words or 'no cure'}" for c in found.causes)
    return BothRighted(len(found.causes), named, not left, told)


def names(cause: Cause, idents: tuple[str, ...]) -> bool:
    """Whether a cause names one of some things, in its heading, its cure or what the cure touches."""
    edits = (*cause.edits, *cause.instead)
    text = " ".join((cause.heading, *(edit.words for edit in edits)))
    touched = {ident for edit in edits for _, ident in edit.touches}
    return any(i in touched or re.search(rf"(?<![\w]){re.escape(i)}(?![\w])", text) for i in idents)
