"""Synchro pairs: the receiver stands as the transmitter does, and each is off by its own tolerance at most."""

from __future__ import annotations

from ...graph.indications import measure_of
from ...model.comparing import same
from ...physics.synchros import LEADS
from .. import missing
from ..excitation import unsaid, wrong
from ..missing import Missing
from ..sender_pairs import Pair, lead_order, synchros
from ..study import Point, Study, once
from .count_budget import at_points, pair_budget
from .error_budget import Cause, ErrorBudget, tolerance
from .line_head import feeds_of, head_causes

RANGE = "range of the transmitter"


@once
def joined_right(study: Study) -> tuple[Pair, ...]:
    """Every synchro pair joined lead for lead and not known to be excited wrong.

    What another order shows, or a rotor without its excitation, has no error but a fault of its own.
    """
    return tuple(p for p in synchros(study) if lead_order(p) == LEADS and wrong(study, p) is None)


def synchro_budgets(study: Study) -> list[ErrorBudget]:
    """A budget for each at each operating point that tells its true value, else at the engine's limit."""
    return [
        synchro_budget(study, pair, point, true)
        for pair in joined_right(study)
        for point, true in at_points(study, pair, _kind(pair))
    ]


def _kind(pair: Pair) -> str:
    dial = pair.reads.scale
    return dial.highest.kind if dial is not None else "pressure"


def synchro_budget(study: Study, pair: Pair, point: Point, true: float) -> ErrorBudget:
    """The budget of a synchro indication at a true value in SI.

    Rotors turn by the same angle over the full scale of each: a transmitter of another range moves the pointer in
    proportion.
    """
    kind = _kind(pair)
    fact, _ = unsaid(study, pair)
    lacks: list[Missing] = [fact] if fact is not None else []
    gives, reads = pair.gives.full_scale, pair.reads.full_scale
    shown: float | None = None
    if gives is None or reads is None:
        facts = ((missing.SENDER_FULL_SCALE, gives), (missing.INDICATOR_FULL_SCALE, reads))
        lacks += [word for word, value in facts if value is None]
    else:
        shown = true if same(gives, reads) else true * float(reads) / float(gives)
    causes = [Cause(RANGE, shown - true)] if shown is not None and shown != true else []
    feeds = feeds_of(study, pair.source, pair.gives.ports) if kind == "pressure" else ()
    heads = list(head_causes(study, pair.sender, feeds, lacks))
    if shown is not None:
        turned = shown / true if true else 1.0
        causes += [Cause(c.name, c.amount * turned) for c in heads]
        shown += sum(c.amount * turned for c in heads)
    causes += tolerance("indicator accuracy", pair.reads.accuracy, kind, missing.INDICATOR_ACCURACY, lacks)
    causes += tolerance("sender tolerance", pair.gives.tolerance, kind, missing.SENDER_TOLERANCE, lacks)
    return pair_budget(
        pair, measure_of(study.graph, pair.indication), point, (kind, "psi"), true, shown, causes, lacks
    )
