"""Bus bars and ground points drawn again for each circuit they serve, where one outline would draw a comb of crossing feeds."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations

from .captions import NAME, Caption, heading
from .items import Item, Pin, Pins, Role
from .kinds import Change, DeviceKind
from .sheet import Device, Sheet

_RAILS = (DeviceKind.SUPPLY, DeviceKind.GROUND)


def again(sheet: Sheet, items: list[Item], pins: Pins) -> list[Item]:
    """The items, with those added that are drawn again; ``pins`` learns where their runs end.

    Two rails of one zone that serve the same circuits are drawn for each of these, and the crossings of their feeds stay
    within a circuit. The first outline of a rail keeps its text, its verdicts and all that belongs to no circuit.
    """
    served = _served(sheet, items, pins)
    combed: dict[Item, list[str]] = {}
    for one, other in combinations(served, 2):
        if one.thing.band == other.thing.band:  # type: ignore[union-attr]
            shared = [circuit for circuit in served[one] if circuit in served[other]]
            if len(shared) > 1:
                combed[one], combed[other] = served[one], served[other]
    return [made for item in items for made in (item, *_copies(item, combed.get(item, ())[1:], pins))]


def _served(sheet: Sheet, items: Iterable[Item], pins: Pins) -> dict[Item, list[str]]:
    """The circuits at every rail, in the order of their runs."""
    rails = {
        item: item.thing for item in items if isinstance(item.thing, Device) and item.thing.kind in _RAILS
    }
    found: dict[Item, dict[str, None]] = defaultdict(dict)
    for run in sheet.runs:
        for end in (run.start, run.end):
            item, _ = pins[end, ""]
            if item in rails and run.circuit:
                found[item][run.circuit] = None
    return {item: list(circuits) for item, circuits in found.items()}


def _copies(item: Item, circuits: Iterable[str], pins: Pins) -> list[Item]:
    made = []
    for circuit in circuits:
        assert isinstance(item.thing, Device)
        thing = replace(item.thing, lines=item.thing.lines[:1], elsewhere=(), change=Change.NONE)
        copies = [Pin(pin.id, Caption(plain=pin.caption.plain)) for pin in item.pins]
        title = heading((thing.lines[0], "again"), Change.NONE, (), (), 60.0, NAME)
        copy = Item(item.id, Role.DEVICE, thing, copies, title, order=item.order, again=True)
        made.append(copy)
        for pin in copies:
            pins[pin.id, circuit] = (copy, pin)
    return made
