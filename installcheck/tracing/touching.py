"""What wires that touch do beside what the solver tells: a protector that blew leaves one on the other, a feed may be driven."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from math import isnan

import numpy as np
from numpy.typing import NDArray

from ..analysis.circuit.solved import Circuit
from ..physics.network_faults import Short
from ..physics.network_parts import SMALLEST_RESISTANCE, Network

_DRIVEN_A = -0.01
"""A out of the feed of a transducer, below which something else drives it: more than rounding."""
_MOST_A = 1.0
"""A out of it, above which the feed gives up: a transducer takes some 10 mA, a small regulator limits below this. A judgement."""
FloatArray = NDArray[np.float64]


def driven_and_spent(net: Circuit, v: FloatArray) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Terminals that feed transducers and are held above what they give, whose regulator takes no current in; and those that
    are shorted, whose regulator gives up, and with it all that hangs on it.
    """
    given = list(_given(net, v))
    driven = tuple(node for node, amps in given if amps < _DRIVEN_A)
    return driven, tuple(node for node, amps in given if amps > _MOST_A)


def _given(net: Circuit, v: FloatArray) -> Iterator[tuple[str, float]]:
    """A out of each terminal that feeds transducers."""
    network = net.solution.network
    for node, number in net.outlets.items():
        if number is not None and not network.is_open[number]:
            short_of = v[network.start[number]] - v[network.end[number]] + network.emf[number]
            resistance = max(float(network.resistance[number]), SMALLEST_RESISTANCE)
            yield node, 0.0 if isnan(short_of) else float(short_of) / resistance


def held_on(network: Network, v: FloatArray, short: Short) -> FloatArray:
    """Voltages with what a blown protector leaves floating at those of what it is shorted to."""
    dead, live = (short.first, short.second) if np.isnan(v[short.first]) else (short.second, short.first)
    if not np.isnan(v[dead]) or np.isnan(v[live]):
        return v
    beside: dict[int, list[int]] = defaultdict(list)
    for i, j in zip(*(ends[~network.is_open].tolist() for ends in (network.start, network.end)), strict=True):
        beside[i].append(j)
        beside[j].append(i)
    held, found = v.copy(), [dead]
    while found:
        node = found.pop()
        if np.isnan(held[node]):
            held[node] = v[live]
            found += beside[node]
    return held
