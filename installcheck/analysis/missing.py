"""What a document can leave unsaid, in one wording each: the catalogue that every 'cannot be judged' is made from.

Grouped by the section that would say it, in alphabetical order. A rule or a computation that lacks a fact names the
entry of this module; a fact has one entry, however many ask for it.
"""

from __future__ import annotations

from typing import Final


class Missing(str):
    """A fact a document does not give: words that do not name the item ('route of the run'), and where it is said.

    Attributes:
        section: section of the document that says it; empty where several could.
        field: word under an item of that section, or ``word.word``; empty where it is a whole item.
    """

    __slots__ = ("field", "section")
    section: str
    field: str

    def __new__(cls, words: str, section: str = "", field: str = "") -> Missing:
        made = super().__new__(cls, words)
        made.section, made.field = section, field
        return made


CLEARANCE_COMPASS: Final = Missing("distance to the compass", "", "clearances.distance")
CLEARANCE_NOISE: Final = Missing("smallest distance to the lead that makes noise", "", "clearances.distance")
STACK: Final = Missing("stack of the stud from the bottom up, washers and nuts included", "", "stack")
STACK_NAMES: Final = Missing("names of the terminals in the stack", "", "stack")
CEILING: Final = Missing("highest operating altitude of the aircraft", "aircraft", "ceiling")
BUNDLE_SHARE: Final = Missing("share of the bundle's current capacity in use", "bundles", "load_share")
BUNDLE_WIRES: Final = Missing(
    "number of wires in the bundle, or 'free_air: yes' for a run that lies alone", "bundles", "wires"
)
GROUND_RESISTANCE: Final = Missing("resistance of the ground strap or joint", "grounds", "resistance")
JOINT_CURRENT: Final = Missing("largest current of the contact", "junctions", "max_current")
JOINT_GAUGES: Final = Missing(
    "smallest and largest gauge the joint takes, or its contact size", "junctions", "smallest_gauge"
)
SPLICE_RATING: Final = Missing("temperature rating of the splice", "junctions", "temperature_rating")
SPLICE_ZONE: Final = Missing("zone of the splice", "junctions", "zone")
LOAD_CURRENT: Final = Missing("current of the load", "loads", "current")
RUN_CURRENT: Final = Missing("current of the run, or of the loads behind it", "wire_runs", "current")
RUN_GAUGE: Final = Missing("gauge of the run", "wire_runs", "gauge")
RUN_LENGTH: Final = Missing("length of the run", "wire_runs", "length")
RUN_LIMIT: Final = Missing("current limit of the wire, from its own sheet", "wire_runs")
RUN_MARKING: Final = Missing("marking of the run ('marked: yes')", "wire_runs", "marked")
RUN_METAL: Final = Missing("metal and plating of the conductor", "wire_runs", "metal")
RUN_RATING: Final = Missing("temperature rating of the wire", "wire_runs", "temperature_rating")
RUN_ROUTE: Final = Missing("route of the run with the length in each zone", "wire_runs", "route")
RUN_TERMINALS: Final = Missing(
    "terminals on the ends of the run, with the gauges and stud they take", "wire_runs", "terminations"
)
RUN_WAY: Final = Missing(
    "bundle of the run, or its route with the length in each zone", "wire_runs", "bundle"
)
TERMINAL_GAUGES: Final = Missing(
    "smallest and largest gauge the terminal takes", "wire_runs", "terminations.smallest_gauge"
)
ZONE_TEMPERATURE: Final = Missing("temperature of the zone", "zones", "temperature")
ZONE_VIBRATION: Final = Missing("vibration of the zone ('vibrates: yes' or 'no')", "zones", "vibrates")


def run_limit_of(metal: str) -> Missing:
    """The current limit of a wire of a metal the tables do not list."""
    return Missing(f"current limit of a wire of {metal}, from its own sheet", "wire_runs")


def bundle_limit_beyond(wires: int) -> Missing:
    """The current limit in a bundle larger than the curve reaches."""
    return Missing(
        f"current limit of a bundle of more than {wires} wires, from the published curve", "bundles"
    )
