"""Firewalls: a wall between a fire zone and people stops fire, and is of a material that does."""

from __future__ import annotations

import re

from ...analysis import missing
from ...analysis.study import Study
from ...analysis.zones import stops_fire
from ...model.aircraft import Barrier
from ...model.comparing import at_least
from ..part_23 import breach
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_STOPS = re.compile(r"stainless|\bsteel\b|\bterne|\bmonel\b|\btitanium\b", re.IGNORECASE)
"""Materials that need no fire test when they are thick enough (14 CFR 23.1191(h))."""
_LEAST_IN = (
    (re.compile(r"stainless", re.IGNORECASE), 0.015),
    (re.compile(r"\btitanium\b", re.IGNORECASE), 0.016),
    (re.compile(r"\bsteel\b|\bterne|\bmonel\b", re.IGNORECASE), 0.018),
)
"""Least thickness in inches without a fire test, by material: 14 CFR 23.1191(h), as before amendment 23-64."""
_THICK = re.compile(r"(\d*\.?\d+)\s*(in|inch|mm)\b", re.IGNORECASE)
"""A thickness in the words of the material: '0.016 in', '0.4 mm'."""
_MELTS = re.compile(r"alumin|magnesium", re.IGNORECASE)
_BURNS_THROUGH = re.compile(
    r"alumin|magnesium|wood|plastic|acrylic|abs\b|fib(re|er)glass|glass fib(re|er)|carbon|composite|fabric|cloth|foam|rubber",
    re.IGNORECASE,
)
"""Materials that melt or burn well below 2000 degF; a composite can be built to stand it, and is then said to be fireproof."""


@rule(
    "firewall-made",
    title="The wall between a fire zone and the cabin is a firewall of a material that stops fire",
    why="The wall is what there is between an engine fire and the people; aluminium is gone in a minute.",
    source="14 CFR 23.1191(f) to (h) as before amendment 23-64; where a firewall is asked for: 23.1191(a) (recalled)",
    formula="fire zone beside an occupied zone: kind firewall or 'fireproof: yes'; stainless steel 0.015 in, titanium 0.016, other "
    "steel, terne plate and monel 0.018, or tested; a thickness is read in the words of 'material'",
    example="a firewall of aluminium sheet",
    over="barriers",
)
def firewall_made(study: Study, subject: Subject, wall: Barrier) -> Verdict | None:
    """Every firewall, and every wall between a fire zone and a zone that people sit in."""
    ident = subject.ident
    zones = [study.model.zones[name] for name in wall.between if name in study.model.zones]
    parts = any(z.fire_zone for z in zones) and any(z.occupied for z in zones)
    stops = stops_fire(study, ident)
    if stops is None:
        return subject.lacks(missing.BARRIER_KIND)
    if not stops:
        if not parts:
            return _who_sits_there(subject, wall)
        told = f"a {wall.kind}" if wall.kind not in (None, "firewall") else "said not to stop fire"
        return breach(
            subject.field("fireproof" if wall.fireproof is False else "kind"),
            f"the {ident} parts the {wall.between[0]} and the {wall.between[1]}, a fire zone and where people sit, and is {told}",
            remedy="make it a firewall, or say 'kind: firewall' if it is one",
        )
    if wall.material is None:
        return subject.meets(f"the {ident} is a firewall") if parts else None
    if wall.fireproof and not _MELTS.search(wall.material):
        return subject.field("material").meets(f"the {ident} of {wall.material} is stated to be fireproof")
    if _BURNS_THROUGH.search(wall.material):
        return breach(
            subject.field("material"),
            f"the {ident} is of {wall.material}, which does not stop fire",
            remedy="face it with stainless steel of 0.015 in or more, or show by test that it stands 2000 degF for 15 minutes",
        )
    if _STOPS.search(wall.material):
        return _thick_enough(subject, wall.material)
    return subject.field("material").lacks(missing.BARRIER_MATERIAL)


def _who_sits_there(subject: Subject, wall: Barrier) -> Verdict | None:
    """Of a wall that stops no fire, beside a fire zone: whether people sit on its other side, if nobody says."""
    zones = subject.study.model.zones
    if not any(zones[name].fire_zone for name in wall.between if name in zones):
        return None
    for name in wall.between:
        if name in zones and zones[name].occupied is None and not zones[name].fire_zone:
            return subject.placed("zones", name).lacks(missing.ZONE_OCCUPIED)
    return None


def _thick_enough(subject: Subject, material: str) -> Verdict:
    """A wall of a material that needs no test from a thickness on."""
    least = next(inches for words, inches in _LEAST_IN if words.search(material))
    told = f"the {subject.ident} is of {material}"
    subject = subject.field("material")
    thick = _THICK.search(material)
    if thick is None:
        return subject.meets(f"{told}, which needs no fire test from {least:g} in up")
    inches = float(thick[1]) / (25.4 if thick[2].lower() == "mm" else 1.0)
    if at_least(inches, least):
        return subject.meets(told)
    return breach(
        subject,
        f"{told}, thinner than the {least:g} in that need no fire test",
        remedy=f"use {least:g} in or more, or show by test that it stands 2000 degF for 15 minutes, and say 'fireproof: yes'",
    )
