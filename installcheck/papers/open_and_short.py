"""What an indication shows with its input open, and joined to its return: they tell sender, wire and gauge apart."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.sender_curves import falls
from ..analysis.study import Study
from ..graph import Indication
from ..graph.indications import source_of
from ..model.devices import Sender
from ..model.quantities import Quantity

LEADS = ("resistance bulb", "thermistor", "resistive")
"""Principles of senders that an ohmmeter reads."""
_COUPLES = ("moving-coil thermocouple", "electronic thermocouple")


def open_and_short(study: Study) -> Iterator[tuple[str, str, tuple[str, str], str, str]]:
    """Check, of what, between which ends, what it shows, and how it is done.

    It is done at the indicator; where a selector stands before it, at the leads of the probe of each of its positions.
    """
    seen: set[tuple[str, str]] = set()
    for one in study.indications:
        key = (one.name, one.position or "")
        if key in seen or not one.legs:
            continue
        seen.add(key)
        name = f"{one.name} at {one.position}" if one.position else one.name
        ends = _leads_of_source(one) if one.position else _signal_and_return(one)
        for state, said in (("open", shows_open(study, one)), ("short", shows_short(study, one))):
            if said:
                how = "signal lead lifted" if state == "open" else "input joined to its return"
                if one.position:
                    done = "a lead lifted" if state == "open" else "its leads joined"
                    how = f"selector at {one.position}; {one.source}, {done}"
                    said = said.replace("of its terminals", "where they are joined")
                yield f"{state} input", name, ends, said, how


def _leads_of_source(one: Indication) -> tuple[str, str]:
    """The ends of the legs at the sender or probe."""
    reached = sorted(leg.reaches for leg in one.legs)
    return reached[0], reached[-1]


def _signal_and_return(one: Indication) -> tuple[str, str]:
    """The indicator's terminal that takes the signal, and the other end of its input."""
    legs = sorted(one.legs, key=lambda leg: leg.reaches.rpartition(".")[2] != "signal")
    named = [f"{one.indicator}.{leg.terminal}" for leg in legs]
    return named[0], named[-1] if len(named) > 1 else "its return"


def shows_open(study: Study, one: Indication) -> str:
    """What an indication shows with its signal lead open; empty where neither its part nor its circuit tells."""
    told = one.spec.open_shows
    if isinstance(told, Quantity):
        return told.text
    if told is not None:
        return told
    if one.spec.principle == "moving-coil thermocouple":
        return "pointer at rest"
    if one.spec.principle == "current loop":
        return "off scale low"
    return _off_scale(study, one, rising="high")


def shows_short(study: Study, one: Indication) -> str:
    """What an indication shows with its input joined to its return; empty where its circuit does not tell."""
    if one.spec.principle in _COUPLES:
        return "the temperature of its terminals" if one.spec.compensation != "none" else "pointer at rest"
    if one.spec.principle == "current loop":
        return ""
    return _off_scale(study, one, rising="low")


def _off_scale(study: Study, one: Indication, *, rising: str) -> str:
    source = source_of(study.graph, one)
    if not isinstance(source, Sender) or source.spec.principle not in LEADS or source.spec.curve is None:
        return ""
    falling = {"high": "low", "low": "high"}[rising]
    return f"off scale {falling if falls(source.spec.curve) else rising}"
