"""The comparison of two documents."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Literal

from ..analysis.study import Study
from ..dataclass import dataclass
from ..document import Document
from ..model.installation import SPECS
from ..rules.engine import judge
from ..rules.verdicts import Ledger
from .altered_things import altered_things
from .belonging import belonging
from .chains import Chain, chains
from .change import Change, Kind
from .differences import Pair
from .figures import LoadChange, WeightChange, load_change, weight_change
from .largest_errors import LargestError, largest_errors
from .left_behind import Left, left_behind
from .matching import Names, match
from .retest import Retest, retests
from .verdict_changes import VerdictChange, verdict_changes

Fate = Literal["new", "gone", "reads nothing now", "reads something else", "replaced", "kept"]


@dataclass(frozen=True, slots=True)
class IndicationChange:
    """One indication in two documents.

    Attributes:
        name: the indicator, with the input where it has several.
        measure: what it is of.
        fate: what became of it; ``replaced`` if it or what it reads is another part under the same name.
        old_source, new_source: what it read and reads.
        old_error, new_error: its largest error, where the rules give a budget.
    """

    name: str
    measure: str
    fate: Fate
    old_source: tuple[str, ...]
    new_source: tuple[str, ...]
    old_error: LargestError | None = None
    new_error: LargestError | None = None


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two documents compared.

    Attributes:
        old, new: the documents; ``old_ledger``, ``new_ledger`` their verdicts.
        changes: what happened to things, by kind.
        left: what is left behind.
        verdicts: verdicts new, worse, better and gone.
        indications: every indication and what became of it.
        load, weight: electrical load; weight and moment.
        retests: what to test, inspect or record again.
        belongs: the one indication a thing belongs to, by the thing's id in the new document, or in the old if it is gone.
    """

    old: Document
    new: Document
    old_ledger: Ledger
    new_ledger: Ledger
    changes: tuple[Change, ...]
    left: tuple[Left, ...]
    verdicts: tuple[VerdictChange, ...]
    indications: tuple[IndicationChange, ...]
    load: LoadChange
    weight: WeightChange
    retests: tuple[Retest, ...]
    belongs: Mapping[str, str]

    @property
    def alarming(self) -> bool:
        """Whether the new document has a discrepancy that the old one had not, or had less of."""
        return any(change.alarming for change in self.verdicts)


def compare(old: Document, new: Document) -> Comparison:
    """Compare two documents by what they mean: order, layout, comments and units make no difference."""
    return compare_judged(judge(Study(old)), judge(Study(new)))


def compare_judged(old_ledger: Ledger, new_ledger: Ledger) -> Comparison:
    """Compare two documents that are judged already."""
    before, after = old_ledger.study, new_ledger.study
    names = match(before.graph, after.graph)
    pair = Pair(before.graph, after.graph, names)
    found = altered_things(pair)
    replaced = {change.ident for change in found if change.kind in (Kind.REPLACED, Kind.ADDED)}
    was, now = chains(before.graph, before.indications), chains(after.graph, after.indications)
    load, weight = load_change(before, after, names), weight_change(before, after, names)
    return Comparison(
        before.document,
        after.document,
        old_ledger,
        new_ledger,
        tuple(found),
        tuple(left_behind(pair, replaced)),
        tuple(verdict_changes(old_ledger.verdicts, new_ledger.verdicts, names)),
        tuple(_indications(before, after, was, now, pair, replaced)),
        load,
        weight,
        tuple(retests(pair, found, now, load, weight)),
        {**_before(before, was, names, after), **belonging(after.graph, now)},
    )


def _before(study: Study, was: dict[str, Chain], names: Names, after: Study) -> dict[str, str]:
    """Which indication each thing that is gone belonged to, by the name the new document gives it."""
    called = {name: f"{names.of('indicators', c.indicator)} {c.input}".strip() for name, c in was.items()}
    found: dict[str, str] = {}
    for ident, name in belonging(study.graph, was).items():
        section = next((s for s in SPECS if ident in study.whole.section(s)), "taps")
        if names.of(section, ident) not in after.model.section(section):
            found[ident] = called[name]
    return found


def _indications(
    before: Study, after: Study, was: dict[str, Chain], now: dict[str, Chain], pair: Pair, replaced: set[str]
) -> Iterator[IndicationChange]:
    old_errors, new_errors = largest_errors(before), largest_errors(after)
    old = {f"{pair.names.of('indicators', one.indicator)} {one.input}".strip(): one for one in was.values()}
    for name in dict.fromkeys((*old, *now)):
        a, b = old.get(name), now.get(name)
        read = tuple(pair.names.end(source) for source in a.sources) if a else ()
        reads = b.sources if b else ()
        yield IndicationChange(
            name,
            b.measure if b else a.measure if a else "",
            _fate(a, b, read, replaced),
            read,
            reads,
            old_errors.get(a.name) if a else None,
            new_errors.get(name),
        )


def _fate(a: Chain | None, b: Chain | None, read: tuple[str, ...], replaced: set[str]) -> Fate:
    if a is None:
        return "new"
    if b is None:
        return "gone"
    if read and not b.sources:
        return "reads nothing now"
    if set(read) != set(b.sources):
        return "reads something else"
    return "replaced" if replaced & {b.indicator, *b.sources} else "kept"
