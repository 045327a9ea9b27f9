"""What lands on a terminal: how many conductors, straps and shields end at each."""

from __future__ import annotations

from collections import Counter

from .study import Study, once


@once
def conductors_at(study: Study) -> Counter[str]:
    """How many conductors and straps end at each node."""
    return Counter(node for edge in study.graph.of("conductor", "bond") for node in (edge.a, edge.b))


@once
def joined_at(study: Study) -> Counter[str]:
    """How many conductors, straps and shields end at each node."""
    shields = (run.shield for run in study.model.wire_runs.values() if run.shield is not None)
    ends = (end for shield in shields for end in (shield.from_, shield.to) if end is not None)
    return conductors_at(study) + Counter(study.graph.nodes_of(ends))
