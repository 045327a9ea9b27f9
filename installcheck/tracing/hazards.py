"""What must be safe before a test: power, fuel, hot parts, the propeller. Printed before each, in the order to be done."""

from __future__ import annotations

from collections.abc import Iterable

from ..analysis.study import Study
from .channels import Channel
from .looks import (
    STOPPED,
    Compared,
    Followed,
    Holding,
    Insulated,
    Look,
    Marked,
    Ohms,
    Rung,
    Setup,
    Shaken,
    Show,
    TrueValue,
    Volts,
)

PROPELLER = "propeller: ignition off and grounded, key out, mixture at cut-off, wheels chocked; stay out of its arc and treat it as live"
HOT = "hot parts: let heads and exhaust cool before reaching in"
POWER_OFF = "power off: master off; an ohmmeter on a live circuit reads wrong and can be destroyed"
POWER_ON = "power on: no rings or watch, one hand, insulated probes; a slip of the probe shorts the bus"
LIFTING = "power off while a terminal, plug or sender is taken off or put back; mark each lead first"
RUNNING = "engine running: a second person at the controls, brakes set, nobody forward of the wing; look only, touch nothing ahead of the firewall"
FUEL = "fuel: cock shut, no flame, spark or lamp that is not sealed, extinguisher at hand; catch what runs out, and test for leaks after"
OIL = "oil: engine stopped, no pressure on the line before a fitting is opened; hot oil scalds"
AIR = "open no line with the engine running; blow or suck gently, with the gauge off the line unless told otherwise"
READING = "master off while you reach in; disturb no joint on the way, or what is loose makes again"
RESISTOR = "the resistor in the sender's place only as long as it takes to read"
BATH = "boiling water scalds; keep connectors and leads dry, and let the probe cool before it goes back"
SHORTING = "join the leads only for as long as it takes to read, never a supply lead"


def hazards(
    study: Study, at: Setup, look: Look, channel: Channel | None, nodes: Iterable[str]
) -> tuple[str, ...]:
    """What to make safe, in order."""
    found: dict[str, None] = {}
    zones = [study.model.zones.get(z) for n in nodes if (z := zone_of(study, n)) is not None]
    ahead = any(z is not None and (z.hot_parts or z.fire_zone) for z in zones)
    if ahead or isinstance(look, (TrueValue, Holding)):
        found[PROPELLER] = None
        if any(z is not None and z.hot_parts for z in zones):
            found[HOT] = None
    if isinstance(look, (Ohms, Rung, Insulated)):
        found[POWER_OFF] = None
    if isinstance(look, (Compared, Marked)):
        found[READING] = None
    if isinstance(look, Shaken):
        found[POWER_ON] = None
    if at.lifted or at.replaced or at.swapped or isinstance(look, (Ohms, Rung, Insulated)):
        found[LIFTING] = None
    if at.bathed:
        found[BATH] = None
    if isinstance(look, (Volts, Followed)):
        found[POWER_ON] = None
    if at.joined and isinstance(look, Show):
        found[SHORTING] = None
    if at.replaced and isinstance(look, Show):
        found[RESISTOR] = None
    if isinstance(look, (Show, Volts)) and at.point != STOPPED:
        found[RUNNING] = None
    if isinstance(look, (TrueValue, Holding)) and channel is not None:
        measure = channel.measure or ""
        if "fuel" in measure:
            found[FUEL] = None
        elif "oil pressure" in measure or "hydraulic" in measure:
            found[OIL] = None
        elif measure in ("manifold pressure", "vacuum"):
            found[AIR] = None
    return tuple(found)


def zone_of(study: Study, node: str) -> str | None:
    """Zone of a node or a thing."""
    zone = study.graph.zone_of(node)
    if zone is not None:
        return zone
    found = study.model.find(node.partition(".")[0])
    return getattr(found[1], "zone", None) if found is not None else None
