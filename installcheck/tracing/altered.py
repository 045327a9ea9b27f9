"""Changes of a world made in the arrays of the solved network."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..analysis.circuit.solved import Circuit
from ..analysis.errors.reading import element_of
from ..analysis.sender_curves import output_kind
from ..physics.network_parts import LARGEST_RESISTANCE, SMALLEST_RESISTANCE, Branch, Network
from .changes import Adds, Change, Cut, Joins, Reached, Sends


def altered(
    bare: Circuit, network: Network, changes: Sequence[Change], outputs: dict[str, float]
) -> tuple[Network, dict[str, float]]:
    """The network with changes made in its arrays, and the outputs of altered senders."""
    made = dict(outputs)
    opened = [bare.branch_of[c.edge] for c in changes if isinstance(c, Cut) and c.edge in bare.branch_of]
    if opened:
        network = network.with_open(opened)
    for change in changes:
        if isinstance(change, Adds) and change.edge in bare.branch_of:
            resistance = network.resistance.copy()
            number = bare.branch_of[change.edge]
            resistance[number] = min(resistance[number] + change.ohms, LARGEST_RESISTANCE)
            network = network.with_resistance(resistance)
        elif isinstance(change, Cut) and change.edge in bare.draw_of:
            value = network.draw_value.copy()
            value[bare.draw_of[change.edge]] = 0.0
            network = replace(network, draw_value=value)
        elif isinstance(change, Reached):
            network = _moved(bare, network, change)
        elif isinstance(change, Sends):
            made[change.sender] = change.out
        elif isinstance(change, Joins):
            one, other = (bare.nodes.get(n) for n in (change.a, change.b))
            if one is not None and other is not None and one != other:
                network = network.with_branch(Branch(one, other, max(change.ohms, SMALLEST_RESISTANCE)))
    for ident, out in made.items():
        network = _sends(bare, network, ident, out)
    return network, made


def _moved(bare: Circuit, network: Network, change: Reached) -> Network:
    start, end, is_open = network.start.copy(), network.end.copy(), network.is_open.copy()
    for edge, node, there in change.moves:
        number, to = bare.branch_of.get(edge), bare.nodes.get(there)
        if number is None or node not in bare.nodes:
            continue
        if to is None:  # a cavity nothing else is in
            is_open[number] = True
            continue
        at = bare.nodes[node]
        if start[number] == at:
            start[number] = to
        elif end[number] == at:
            end[number] = to
    return replace(network, start=start, end=end, is_open=is_open)


def _sends(bare: Circuit, network: Network, ident: str, out: float) -> Network:
    element, sender = element_of(bare.study, ident), bare.senders.get(ident)
    if element is None or sender is None or sender.curve is None:
        return network
    if element in bare.draw_of:
        value = network.draw_value.copy()
        value[bare.draw_of[element]] = max(out, 0.0)
        return replace(network, draw_value=value)
    number = bare.branch_of.get(element)
    if number is None:
        return network
    if output_kind(sender.curve) == "resistance":
        resistance = network.resistance.copy()
        resistance[number] = min(max(out, SMALLEST_RESISTANCE), LARGEST_RESISTANCE)
        return network.with_resistance(resistance)
    emf = network.emf.copy()
    emf[number] = emf[number] * out / sender.output if sender.output else out
    return replace(network, emf=emf)
