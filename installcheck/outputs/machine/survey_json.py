"""A survey of head temperatures as JSON, its temperatures in the unit of the log."""

from __future__ import annotations

from typing import Any

from ...model.quantities import in_unit
from ...survey import Head, Phase, Ranking, Survey
from ..wording import CAUTION, VERSION
from .json_text import json_text
from .verdicts_json import number


def survey_json(survey: Survey) -> str:
    """``survey`` as the text of a JSON object."""
    make = _Fields(survey.unit)
    return json_text(make.survey(survey))


class _Fields:
    def __init__(self, unit: str) -> None:
        self.unit = unit

    def at(self, temperature: float | None) -> float | None:
        return None if temperature is None else number(in_unit(temperature, self.unit, "temperature"))

    def apart(self, difference: float | None) -> float | None:
        return (
            None if difference is None else number(in_unit(difference, self.unit, "temperature difference"))
        )

    def survey(self, one: Survey) -> dict[str, Any]:
        return {
            "tool": {"name": "installcheck", "version": VERSION},
            "log": one.file,
            "unit": one.unit,
            "finding": one.finding,
            "limit": self.at(one.limit),
            "probes": one.grade,
            "cylinders": list(one.cylinders),
            "unmeasured": list(one.unmeasured),
            "on_hot_day": one.corrected,
            "governing": one.governing,
            "hottest": list(one.hottest),
            "probed": one.probed,
            "shortfall": {phase: self.apart(value) for phase, value in one.shortfall.items()},
            "shortfall_less_margin": {
                str(cylinder): self.apart(value) for cylinder, value in one.weighted.items()
            },
            "phases": [self.phase(phase) for phase in one.phases],
            "order_changes": [
                {
                    "phase": c.phase,
                    "hottest": list(c.hottest),
                    "other_phase": c.other_phase,
                    "other_hottest": list(c.other_hottest),
                    "sure": c.sure,
                }
                for c in one.changes
            ],
            "left_out": [{"column": left.column, "reason": left.reason} for left in one.left_out],
            "notes": [*one.notes, *(str(note) for note in one.log_notes)],
            "caution": CAUTION,
        }

    def phase(self, one: Phase) -> dict[str, Any]:
        repeat = one.repeat
        return {
            "name": one.name,
            "finding": one.finding,
            "rows": one.rows,
            "seconds": number(one.seconds),
            "passes": one.passes,
            "margin": self.apart(one.margin),
            "heat_left_from_before": one.carried_in,
            "by_peak": self.ranking(one.by_peak),
            "settled": None if one.by_steady is None else self.ranking(one.by_steady),
            "hottest_in_most_rows": list(one.by_time),
            "rows_compared": one.rows_compared,
            "rows_tied": one.rows_tied,
            "repeats": None
            if repeat is None
            else {
                "of": one.repeat_of,
                "count": repeat.count,
                "mean": self.apart(repeat.mean),
                "proven": repeat.proven,
            },
            "heads": [self.head(head) for head in one.heads],
        }

    def ranking(self, one: Ranking) -> dict[str, Any]:
        return {
            "hottest": list(one.hottest),
            "next": one.next,
            "lead": self.apart(one.lead),
            "probe_tolerance": self.apart(one.tolerance),
            "candidates": list(one.candidates),
            "sure": one.sure,
            "chance_wrong_at_most": number(one.chance_wrong),
        }

    def head(self, one: Head) -> dict[str, Any]:
        return {
            "cylinder": one.cylinder,
            "highest": self.at(one.peak),
            "highest_on_hot_day": self.at(one.corrected),
            "line": one.line,
            "time": number(one.time),
            "mean": self.at(one.mean),
            "rows": one.rows,
            "rows_hottest": one.rows_hottest,
        }
