"""What supply an indicator has in a world."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, TypeAlias

from .channels import Channel
from .collapsing import least_of
from .powered import Powered, Solved
from .probing import volts

UNPOWERED = frozenset(("moving-coil thermocouple", "direct pressure", "capillary"))
"""Principles of indicators that need no supply."""
_SURELY_DEAD = 0.3
"""Share of its usual supply below which a gauge is dead."""
Fed: TypeAlias = Literal["fed", "starved", "dead"]


def supplied(powered: Powered, channel: Channel, states: Sequence[Solved]) -> list[Fed]:
    """What supply the indicator has in each state: enough, too little to say what it does with it, or none."""
    spec = powered.study.model.indicators[channel.indicator].spec
    nodes = powered.net.nodes
    plus, minus = (f"{channel.indicator}.{t}" for t in spec.supply_terminals or ("", ""))
    if plus not in powered.net.draw_nodes or plus not in nodes or minus not in nodes:
        return ["fed"] * len(states)
    had = powered.bare.solution.voltage
    usual = float(had[nodes[plus]] - had[nodes[minus]])
    least = least_of(spec.supply_voltage, usual)
    found: list[Fed] = []
    for state in states:
        across = volts(powered, state, plus, minus)
        enough: Fed = "fed" if across >= least else "starved"
        found.append(enough if across > _SURELY_DEAD * usual else "dead")
    return found
