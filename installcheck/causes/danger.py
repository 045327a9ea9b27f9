"""What a verdict's mistake endangers, to tell the worst first. The order is a judgement of ours: no document ranks them."""

from __future__ import annotations

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
        "engine-strapped",
        "live-terminals-covered",
        "ignition-grounds-apart",
    )
)
"""Rules of wiring of which a breach can burn a wire or stop an engine, beside all of power."""
_READINGS = frozenset(("thermocouples", "probes", "senders", "indications", "measured"))
"""Subjects of which a breach makes an indication false."""
LEAST = 3


def danger(verdict: Verdict) -> int:
    """0: fuel, oil or fire, or an engine without its feed; 1: a wire that burns or power that fails; 2: a false indication; 3: the rest."""
    if verdict.rule in FIRE:
        return 0
    rule = all_rules().get(verdict.rule)
    subject = rule.judge.__module__.split(".")[-2] if rule is not None else ""
    if subject == "power" or verdict.rule in HEAT:
        return 1
    return 2 if subject in _READINGS else LEAST
