"""Quantities by a float, and the suction of the vacuum system."""

from __future__ import annotations

from ..document.source import Plain
from .kit import ALONE, NARROW_V, SIGNAL, Kit, Spot, Things, dial, fed, inside, laid, placed


def quantity(measure: str, what: str, *, on_engine: bool = False) -> Kit:
    """A quantity by a float with a return wire of its own."""

    def kit(spot: Spot) -> Things:
        sender, shown = spot.named(f"{what} sender"), spot.named(f"{what} gauge")
        told: dict[str, Plain] = {"part": f"{what} sender falling two wire", "measures": measure}
        if on_engine:
            place = placed(spot, spot.engine_zone, **told, location="sump", mounted_on="engine")
        else:
            place = placed(spot, spot.panel_zone, **told)
        gauge: dict[str, Plain] = {
            **dial(spot, measure, f"{what} gauge falling{' 28 V' if spot.volts > NARROW_V else ''}"),
            "terminals": ["S", "G"],
        }
        runs: dict[str, dict[str, Plain]] = {}
        for leg in ("S", "G"):
            one, other = f"{sender}.{leg}", f"{shown}.{leg}"
            runs[spot.named(f"{what} {leg}")] = (
                laid(spot, spot.engine_zone, from_=one, to=other, part="AS22759/16", gauge=ALONE)
                if on_engine
                else inside(spot, one, other, SIGNAL)
            )
        return fed(spot, {"senders": {sender: place}, "indicators": {shown: gauge}, "wire_runs": runs}, shown)

    return kit


def suction(spot: Spot) -> Things:
    """Vacuum by a gauge of its own pressure, its line from the suction side of the pump through the wall."""
    shown, port = spot.named("vacuum gauge"), spot.named("vacuum port")
    engine_end, panel_end = spot.named("vacuum adapter"), spot.named("vacuum gauge adapter")
    fittings: dict[str, dict[str, Plain]] = {
        engine_end: _adapter(port, spot.engine_zone),
        panel_end: _adapter(f"{shown}.P", spot.panel_zone),
    }
    way = spot.route(spot.engine_zone)
    steps = [step if isinstance(step, dict) else {} for step in way]
    wall = next((i for i, step in enumerate(steps) if "barrier" in step), None)
    hose: dict[str, Plain] = {"medium": "air", "part": "hose TSO-C53a type D", "size": "-4"}
    lines: dict[str, dict[str, Plain]] = {}
    if wall is None:
        lines[spot.named("vacuum hose")] = {
            "from": f"{engine_end}.flare",
            "to": f"{panel_end}.flare",
            **hose,
            "route": way,
        }
    else:
        union = spot.named("vacuum bulkhead")
        before = str(steps[wall - 1].get("zone")) if wall else spot.near_zone
        fittings[union] = {
            "part": "bulkhead union AN832 steel",
            "size": "-4",
            "zone": before,
            "barrier": steps[wall]["barrier"],
        }
        lines[spot.named("vacuum hose")] = {
            "from": f"{engine_end}.flare",
            "to": f"{union}.1",
            **hose,
            "route": way[:wall],
        }
        lines[spot.named("vacuum panel line")] = {
            "from": f"{union}.2",
            "to": f"{panel_end}.flare",
            **hose,
            "route": way[wall + 1 :],
        }
    tap = placed(
        spot,
        spot.engine_zone,
        title="suction side of the vacuum pump",
        medium="air",
        location="vacuum pump",
        thread="1/8 pipe thread",
        pressure="unknown",
    )
    return {
        "indicators": {shown: dial(spot, "vacuum", "direct vacuum gauge")},
        "taps": {port: tap},
        "fittings": fittings,
        "fluid_lines": lines,
    }


def _adapter(port: str, zone: str) -> dict[str, Plain]:
    return {"part": "adapter AN816 steel", "size": "-4", "screwed_into": port, "zone": zone}
