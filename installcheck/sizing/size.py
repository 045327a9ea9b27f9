"""Gauge and protection chosen: the lightest set that the rules do not fault, with what binds each wire.

Every run starts at the thinnest gauge its terminals take and every protector at the smallest rating. The rules are judged;
each fault makes the run bigger that wins most for its weight, until nothing that a size can cure is left. Then all are tried
one gauge thinner: a rule about a wire alone that faults the trial binds that wire. Those left, which only a rule about the
whole way can bind, are tried one by one, and where nothing faults the trial the thinner gauge is taken. So no single run of
the set can be thinner. What no size cures is told, not proposed; a wire that the document does not say enough of is left as
it is.
"""

from __future__ import annotations

from ..analysis.power.wire_sizes import WireSize, sizes_of
from ..analysis.study import Study
from ..dataclass import dataclass
from ..document import Document
from ..model.quantities import Gauge
from ..rules.verdicts import Outcome, Verdict
from .candidates import Candidates
from .choices import Choice, applied, weight_of
from .search import Search


@dataclass(frozen=True, slots=True)
class SizedRun:
    """A run as sized.

    Attributes:
        binding: the rules that fault it one gauge thinner, those about the whole way only where none about the wire
            alone does; empty at the thinnest there is.
        unjudged: rules that could not judge it.
    """

    run: str
    was: Gauge | None
    gauge: Gauge
    weight: float
    binding: tuple[str, ...]
    unjudged: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SizedProtector:
    """A protector as sized, ratings in A. ``binding`` names the rules that fault the next smaller rating."""

    protector: str
    was: float | None
    rating: float
    binding: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sizing:
    """The set chosen.

    Attributes:
        runs, protectors: what is proposed.
        left: runs this tool does not choose, and why.
        unmet: faults no size cures; what they concern is proposed at the size that does the others no harm.
        weight, weight_before: of all sized runs in kg; before is ``None`` where a gauge was not given.
        document: the document with the set applied.
    """

    runs: tuple[SizedRun, ...]
    protectors: tuple[SizedProtector, ...]
    left: tuple[tuple[str, str], ...]
    unmet: tuple[Verdict, ...]
    weight: float
    weight_before: float | None
    document: Document


def size(document: Document) -> Sizing:
    """Choose gauge and protection for a document.

    Raises:
        RuleFailedError: a rule that judges sizes itself failed.

    Cost: a dozen judgements of the sizing rules, and one for each run that only its whole way binds.
    """
    among = Candidates(document)
    among.leave_unheated()
    while among.leave_unjudged(among.judged(among.least())):
        pass
    search = Search(among)
    while True:
        choice, bound = search.shrink(search.grow(among.least()))
        verdicts = among.judged(choice)
        if not among.leave_unjudged(verdicts):
            break
    unjudged: dict[str, list[str]] = {}
    for verdict in verdicts:
        if verdict.outcome is Outcome.UNDETERMINED:
            for ident in among.runs(verdict):
                unjudged.setdefault(ident, []).append(verdict.rule)
    return _report(among, choice, bound, unjudged, tuple(among.faults(verdicts).values()))


def _report(
    among: Candidates,
    choice: Choice,
    bound: dict[str, tuple[str, ...]],
    unjudged: dict[str, list[str]],
    unmet: tuple[Verdict, ...],
) -> Sizing:
    model = among.study.model
    runs = tuple(
        SizedRun(
            i, model.wire_runs[i].gauge, s.gauge, weight_of(among.study, i, s), bound.get(i, ()),
            tuple(dict.fromkeys(unjudged.get(i, ()))),
        )
        for i, s in choice.runs.items()
    )  # fmt: skip
    protectors = tuple(
        SizedProtector(i, _amperes(model.supplies[i].spec.rating), r, bound.get(i, ()))
        for i, r in choice.ratings.items()
    )
    before: float | None = 0.0
    for ident, sizes in among.sizes.items():
        was = next(
            (s for s in _all_sizes(among.study, ident, sizes) if s.gauge == model.wire_runs[ident].gauge),
            None,
        )
        before = None if before is None or was is None else before + weight_of(among.study, ident, was)
    weight = sum(r.weight for r in runs)
    return Sizing(runs, protectors, among.left, unmet, weight, before, applied(among.document, choice))


def _all_sizes(study: Study, ident: str, fitting: list[WireSize]) -> list[WireSize]:
    return [*fitting, *sizes_of(study, study.model.wire_runs[ident])]


def _amperes(rating: float | None) -> float | None:
    return None if rating is None else float(rating)
