"""What no cure may touch: a change that only silences, or that takes away what the engine or the pilot needs."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.study import Study
from ..model.edits import Change, Drop, Edit, Path, Put, Swap
from ..model.installation import Installation
from .moves.labels import BURNS

_CLOSED_SECTIONS = frozenset(
    (
        "installation",
        "aircraft",
        "engines",
        "zones",
        "barriers",
        "operating_points",
        "survey",
        "measured",
        "deviations",
        "notices",
    )
)
"""What the aircraft is, what was measured, and what was said about it: facts, not choices."""
_CLOSED_WORDS = frozenset(
    (
        "budget",
        "accuracy",
        "tolerance",
        "loop_tolerance",
        "limits",
        "required",
        "measures",
        "medium",
        "purpose",
        "title",
        "source",
        "status",
        "notes",
        "temperature",
        "temperature_rating",
        "rated_pressure",
        "burst_pressure",
        "voltage_rating",
        "max_current",
        "max_stack",
        "rated_current",
        "contact_resistance",
        "joint_temperatures",
        "in_series",
        "current",
        "power",
        "duty",
        "on_time",
        "phases",
        "min_voltage",
        "essential",
        "distance_tolerance",
        "location_note",
        "backs_up",
        "fireproof",
        "fire_rated",
        "fire",
        "material",
        "max_pressure",
        "pressure",
        "shutoff_time",
        "shutoff",
        "grade",
        "fitted",
        "life",
        "colour_us",
        "colour_iec",
        "colour_military",
        "outside_diameter",
        "load_share",
        "wires",
        "inner_resistance",
        "calibrated",
        "resistance",
        "connected_at",
        "selected",
        "lead_allowance",
        "function",
    )
)
"""Words that say what a thing is, must do or was found to be: another word there would only silence."""
_OF_MAKE = frozenset(
    (word,)
    for word in (
        "accuracy",
        "tolerance",
        "max_current",
        "rated_pressure",
        "burst_pressure",
        "contact_resistance",
        "temperature_rating",
        "voltage_rating",
        "inner_resistance",
        "material",
        "fireproof",
        "rated_current",
        "outside_diameter",
    )
)
"""Words that come with a thing as it is bought: they go where it is replaced by one of the library."""
_LOOKED_AT = frozenset(
    (
        "fitted",
        "length",
        "wires",
        "power",
        "fire_zone",
        "minimum",
        "maximum",
        "normal_low",
        "normal_high",
        "caution_low",
        "caution_high",
        "medium",
        "colour",
        "material",
        "route",
        "max_current",
        "rated_current",
    )
)
"""Facts that a change may set right which is not written before somebody has looked or measured."""
_NEEDED = ("senders", "probes", "indicators", "supplies", "loads")
"""What is not taken away unless another does its work."""


def allowed(edit: Edit) -> bool:
    """Whether a change is one that a cure may make: a choice of who builds, and not a fact."""
    renewed = {c.path[:2] for c in edit.changes if isinstance(c, Put) and c.path[2:] == ("part",)}
    return all(
        (edit.must_measure and (_is_joint(path) or path[-1] in _LOOKED_AT))
        or _open(path, change)
        or (isinstance(change, Drop) and path[:2] in renewed and path[2:] in _OF_MAKE)
        for change in edit.changes
        for path in _paths(change)
    )


def _is_joint(path: Path) -> bool:
    """Whether a path is to the resistance of a joint, which cleaning it brings down."""
    return path[-1] == "resistance" and (
        path[0] == "grounds" or "grounding" in path or "terminations" in path
    )


def _paths(change: Change) -> Iterator[Path]:
    yield change.path
    if isinstance(change, Swap):
        yield change.other


def _open(path: Path, change: Change) -> bool:
    if len(path) < 2 or path[0] in _CLOSED_SECTIONS:
        return False
    if isinstance(change, Drop) and len(path) == 2 and path[0] in _NEEDED:
        return False
    if isinstance(change, Put) and path[2:] == ("status",):
        return change.value == "new"
    if path[0] == "fluid_lines" and path[2:] == ("medium",):
        return (
            isinstance(change, Put) and change.value == BURNS
        )  # a worse label than moves/labels finds there
    if path[0] == "junctions" and path[2:] == ("resistance",):
        return True  # a spool is trimmed, a resistor chosen
    return len(path) == 2 or not _CLOSED_WORDS & {str(step) for step in path[2:]}


def indications_read(study: Study) -> frozenset[tuple[str, str]]:
    """Indicator and input of every indication that is read."""
    return frozenset((i.indicator, i.input) for i in study.indications)


def keeps_what_is_needed(before: Installation, read: frozenset[tuple[str, str]], after: Study) -> bool:
    """Whether every indication that was read still is, and everything needed is still there."""
    for section in _NEEDED:
        if not before.section(section).keys() <= after.model.section(section).keys():
            return False
    return read <= indications_read(after)
