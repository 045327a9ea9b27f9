"""What to say next in a document: what cannot be judged, gathered to the lines that settle most."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from ..analysis.missing import Missing
from ..analysis.study import Study
from ..dataclass import dataclass
from ..model.routes import RouteStep
from .verdicts import Ledger, Outcome, Verdict

_UNNAMED = "more of the document"


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact a document does not give.

    Attributes:
        words: what it is, in words that name no thing.
        section: where it is said; empty where that cannot be told.
        items: ids of the things it is said of, those that settle most first.
    """

    words: str
    section: str
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ask:
    """One answer to give.

    Attributes:
        facts: what to say: one fact, or several that settle nothing one without the other.
        settles: the verdicts that can be judged with it, once what is asked before it is said.
        waits: how many more it has a part in, that wait for something else as well.
    """

    facts: tuple[Fact, ...]
    settles: tuple[Verdict, ...]
    waits: int


def key_of(ask: Ask) -> str:
    """What tells an answer from every other, in a file that outlives the words it is asked in."""
    return "; ".join(f"{fact.section}: {fact.words}" for fact in ask.facts)


def asks(ledger: Ledger) -> list[Ask]:
    """What could not be judged, as answers to give: each time the one that settles most for each fact it takes.

    Every verdict that cannot be judged stands in one of them, at the answer that makes it whole; so a fact that matters only
    with another known is not asked before it.
    """
    waiting = [v for v in ledger.verdicts if v.outcome is Outcome.UNDETERMINED and not v.failed]
    needs = {id(v): frozenset(v.missing or (_UNNAMED,)) for v in waiting}
    order = {
        datum: n
        for n, datum in enumerate(dict.fromkeys(d for v in waiting for d in v.missing or (_UNNAMED,)))
    }
    found: list[Ask] = []
    said: set[str] = set()
    while waiting:
        settled = Counter(needs[id(v)] - said for v in waiting)
        best = max(
            settled,
            key=lambda data: (
                sum(n for other, n in settled.items() if other <= data) / len(data),
                -min(order[d] for d in data),
            ),
        )
        said |= best
        done = [v for v in waiting if needs[id(v)] <= said]
        waiting = [v for v in waiting if not needs[id(v)] <= said]
        further = sum(1 for v in waiting if needs[id(v)] & best)
        facts = tuple(_fact(ledger.study, datum, done) for datum in sorted(best, key=lambda d: order[d]))
        found.append(Ask(facts, tuple(done), further))
    return found


def _fact(study: Study, datum: str, verdicts: Iterable[Verdict]) -> Fact:
    """A fact with the things it is said of: those of verdicts that lack it, or what these lie in."""
    section, field = (datum.section, datum.field) if isinstance(datum, Missing) else ("", "")
    counted: Counter[str] = Counter()
    near: Counter[str] = Counter()
    for verdict in verdicts:
        if datum in (verdict.missing or (_UNNAMED,)):
            counted.update(_holders(study, section, field, verdict))
            near.update(verdict.at[:1])
    counted = counted or near
    items = tuple(ident for ident, _ in counted.most_common())
    held = {found for ident in items if (found := _section_of(study, ident))}
    return Fact(str(datum), section or (held.pop() if len(held) == 1 else ""), items)


def _section_of(study: Study, ident: str) -> str:
    if ident in study.model.bundles:
        return "bundles"
    found = study.model.find(ident)
    return found[0] if found is not None else ""


def _holders(study: Study, section: str, field: str, verdict: Verdict) -> list[str]:
    """Things of a section that a verdict turns on, those that do not say a word if there are such."""
    named = [*verdict.at, *map(str, verdict.path[1:2])]
    if not section:
        bundles = [b for i in named[:1] if (run := study.model.wire_runs.get(i)) and (b := run.bundle)]
        return [b for b in bundles if b in study.model.bundles]
    held = study.model.section(section)
    if not isinstance(held, Mapping):
        return [section]
    near = [i for i in named if i in held]
    if not near and section == "zones":
        near = next((zones for i in named if (zones := _zones_of(study, i))), [])
    if not near and section == "bundles":
        near = [run.bundle for i in named[:1] if (run := study.model.wire_runs.get(i)) and run.bundle]
    if not near and section == "wire_runs":
        near = [i for i, run in study.model.wire_runs.items() if run.bundle in named[:1]]
    each = list(dict.fromkeys(near))
    if not field:
        return each
    place, document = field.split("."), study.document
    return (
        [i for i in each if document.declared_unknown((section, i, *place))]
        or [i for i in each if not document.holds((section, i, *place))]
        or [i for i in held if document.declared_unknown((section, i, *place))]
        or each
    )


def _zones_of(study: Study, ident: str) -> list[str]:
    """Where a thing sits, or a run or line goes."""
    model = study.model
    held = model.find(ident)
    thing = held[1] if held is not None else model.wire_runs.get(ident) or model.fluid_lines.get(ident)
    route: list[RouteStep] = getattr(thing, "route", None) or []
    zones = [getattr(thing, "zone", None), *(step.zone for step in route)]
    return [z for z in dict.fromkeys(zones) if z is not None and z in model.zones]
