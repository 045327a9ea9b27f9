"""What a verdict's mistake endangers, to tell the worst first. The order is a judgement of ours: no document ranks them."""

from __future__ import annotations

from collections.abc import Collection

from ..rules.engine import all_rules
from ..rules.verdicts import Verdict

FIRE = frozenset(
    (
        "line-through-barrier",
        "fire-zone-line",
        "fire-zone-fitting",
        "fluid-into-cabin",
        "line-medium",
        "media-joined",
        "primer-apart",
        "port-closed",
        "feed-open",
        "feed-cock-open",
        "fuel-cock-place",
        "line-pressure",
        "fitting-pressure",
        "line-temperature",
        "restrictor-at-source",
        "fuel-line-shutoff",
        "hose-slack",
        "hose-age",
        "wire-through-barrier",
        "firewall-made",
        "wire-from-flammable-line",
    )
)
"""Rules of which a breach brings fuel, oil or fire where people sit, or starves an engine."""
HEAT = frozenset(
    (
        "wire-ampacity",
        "wire-temperature",
        "wire-from-heat",
        "wire-in-fire",
        "light-beside-heavy",
        "return-path-kept",
        "return-protected",
        "engine-strapped",
        "live-terminals-covered",
        "ignition-grounds-apart",
        "wire-protected",
        "protector-near-source",
        "protector-above-load",
        "contacts-above-load",
        "intermittent-duty",
        "parallel-wires",
        "wire-voltage",
        "wire-insulation",
    )
)
"""Rules of wiring and protection of which a breach can burn a wire, or stop an engine."""
LOST = frozenset(
    (
        "required-indication",
        "required-powered",
        "required-in-view",
        "protector-takes-out",
        "single-part-takes-out",
        "backup-independent",
        "sender-supply",
    )
)
"""Rules of which a breach takes an indication away, or lets one fault do so, beside those of power."""
_DROPS = frozenset(("voltage-drop", "feeder-drop"))
"""Rules of power of which a breach still lets what is fed work: another rule says where it does not."""
_READINGS = frozenset(("thermocouples", "probes", "senders", "indications", "measured"))
"""Subjects of which a breach makes an indication false."""
LEAST = 4
ENDANGERS = ("fire, fuel", "wire can burn", "reading or power lost", "false reading", "other")
"""What each grade of danger is called on paper, the worst first."""
ORDER = (
    "Worst first: fire and fuel; a wire that can burn; a reading or its power lost; a false reading; the rest. "
    "In each, what is furthest beyond its limit, in parts of the limit. What must be cured first stands before."
)
"""The order of the causes in words."""
NO_FIGURE = 1.0
"""How far what has no figure, or a limit of zero, is taken to be beyond its limit: as far as the limit itself."""


def danger(verdict: Verdict) -> int:
    """What a breach endangers, the worst first.

    0: fuel, oil or fire, or an engine without its feed; 1: a wire that can burn; 2: an indication lost, or power that does
    not reach; 3: a false indication; 4: the rest.
    """
    if verdict.rule in FIRE:
        return 0
    if verdict.rule in HEAT:
        return 1
    rule = all_rules().get(verdict.rule)
    subject = rule.subject if rule is not None else ""
    if verdict.rule in LOST or (subject == "power" and verdict.rule not in _DROPS):
        return 2
    return 3 if subject in _READINGS else LEAST


def beyond(verdict: Verdict) -> float:
    """How far a verdict is beyond its limit, in parts of the limit; 4 psi where 2 psi are allowed: 1."""
    if verdict.margin is None or not verdict.limit:
        return NO_FIGURE
    return max(0.0, -verdict.margin) / abs(verdict.limit)


def badness(verdicts: Collection[Verdict]) -> tuple[int, float, int]:
    """What sorts causes by their discrepancies, the worst first: what they endanger, how far beyond the limit, how many."""
    worst = min(map(danger, verdicts), default=LEAST)
    return worst, -max((beyond(v) for v in verdicts if danger(v) == worst), default=0.0), -len(verdicts)
