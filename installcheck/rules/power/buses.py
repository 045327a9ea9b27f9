"""Buses: something feeds what they feed."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.power.unfed import drawn, unfed
from ...analysis.study import Study
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "bus-fed",
    title="A source reaches every bus and every inverter",
    why="A bus that nothing feeds takes all with it that hangs on it, and each of those looks right by itself.",
    source="plain physics: Kirchhoff's laws",
    formula="battery, alternator, generator or inverter to the bus, through closed switches and protectors",
    example="the wire from the inverter to the synchro bus left out: no synchro moves",
    over=lambda study: [*drawn(study)],
)
def bus_fed(study: Study) -> Iterator[Verdict]:
    """Every bus and inverter with a wire, where the document draws a source; of a part of an aircraft the rest may not be drawn."""
    for ident in drawn(study):
        subject = Subject(study, (ident,), ("supplies", ident))
        if ident not in unfed(study):
            yield subject.meets(f"a source reaches {ident}")
        elif study.model.installation.scope == "part":
            yield subject.lacks(missing.BUS_FEED)
        else:
            yield subject.discrepancy(
                f"no source reaches {ident}: what it feeds is dead",
                remedy=f"join {ident} to a source, through a protector",
            )
