"""What a voltmeter, or an ammeter on its shunt, shows in a world: the volts at its terminals against those of a sound aircraft."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..analysis.errors.in_state import Seen, on_dial
from ..analysis.errors.reading import Shown
from ..analysis.study import Point
from .changes import World
from .channels import Channel, stated_truth
from .feeling import sensed
from .powered import Powered, Solved
from .probing import volts

_NOTHING_V = 1e-9
"""V, below which nothing flows through a shunt."""


def shown(
    powered: Powered, point: Point, read: Channel, worlds: Sequence[World], states: Sequence[Solved]
) -> list[Seen | None]:
    """What it shows in each world; ``None`` where nothing tells what is true."""
    stated = stated_truth(powered.study, read, point)
    if stated is None:
        return [None] * len(worlds)
    plus, minus = metered_ends(read)
    had = powered.bare.voltage(plus), powered.bare.voltage(minus)
    sound = float(np.nan_to_num((had[0] or 0.0) - (had[1] or 0.0)))
    found: list[Seen | None] = []
    for world, state in zip(worlds, states, strict=True):
        true = sensed(powered.study, powered.setup, point, read.source, stated, world)
        share = volts(powered, state, plus, minus) / sound if abs(sound) > _NOTHING_V else 0.0
        found.append(on_dial(read.spec, Shown(true * share)))
    return found


def metered_ends(read: Channel) -> tuple[str, str]:
    """Its two terminals, the positive one first."""
    plus, minus = (f"{read.indicator}.{end}" for end in read.spec.terminals or ("", ""))
    return plus, minus
