"""What wires keep clear of: lines that burn, hot parts, controls, edges; judged once for a bundle, or for a run that lies alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ...analysis.fluid.facts import (
    FLAMMABLE,
    carried,
    lines,
    zones_of,
)
from ...analysis.routing import (
    ROUTE,
    Carrier,
    carrier_ids,
    carrier_zones,
    carriers,
)
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.quantities import in_unit, plain_number
from ...model.routes import Clearance
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_BURNS = frozenset(("flammable line", "oxygen line"))
_HOT = frozenset(("exhaust", "hot equipment"))
_MOVES = frozenset(("control cable", "movable control", "structure edge"))
_FAR_IN, _NEAR_IN, _LEAST_IN = 6.0, 2.0, 0.5
"""Inch from a line that burns: normal, rigidly clamped (AC 43.13-1B 11-96), positively clamped (11-126, recalled)."""
_HOT_IN = 6.0
"""Inch from exhaust: shop practice; no published figure was found."""
_CABLE_IN, _CONTROL_IN = 3.0, 0.5
"""Inch from control cables without a guard, and from other moving controls: AC practice, 11-125 (recalled)."""
_CLEARANCES = (
    "clearances of the run or its bundle: what it passes and how far off ('clearances: []' if nothing)"
)

Judge = Callable[[Carrier, Clearance, DocPath], Verdict]


def _flammable_zones(study: Study) -> frozenset[str]:
    """Zones that a line with something that burns in it runs through."""
    return study.memo("flammable zones", _find_flammable_zones)


def _find_flammable_zones(study: Study) -> frozenset[str]:
    found: set[str] = set()
    for part in lines(study):
        media = carried(study, part.ident)
        if not media or media & FLAMMABLE:
            found.update(zones_of(study, part.line) or ())
    return frozenset(found)


def _hot_zones(study: Study) -> frozenset[str]:
    """Zones that exhaust parts run through; a fire zone that does not say is taken for one."""
    return frozenset(
        ident
        for ident, zone in study.model.zones.items()
        if (zone.hot_parts if zone.hot_parts is not None else zone.fire_zone)
    )


def _over(
    study: Study, kinds: frozenset[str], holds: frozenset[str], what: str, judge: Judge
) -> Iterator[Verdict]:
    """Judge every clearance of some kinds; ask for it where a zone of the carrier holds such a thing."""
    for carrier in carriers(study, "clearances"):
        told = [(i, one) for i, one in enumerate(carrier.said.clearances or ()) if one.kind in kinds]
        for i, one in told:
            yield judge(carrier, one, (*carrier.path, "clearances", i))
        if told or not holds:
            continue
        zones = carrier_zones(study, carrier)
        if zones is None:
            yield undetermined((carrier.ident,), carrier.path, ROUTE)
        elif not zones.isdisjoint(holds):
            if carrier.said.clearances is None:
                yield undetermined((carrier.ident,), carrier.path, _CLEARANCES)
            elif not carrier.said.clearances:
                yield meets(
                    (carrier.ident,),
                    (*carrier.path, "clearances"),
                    f"{carrier.name} passes nothing that can hurt it",
                )
            else:
                yield undetermined(
                    (carrier.ident,), (*carrier.path, "clearances"), f"clearance to the {what} of its zone"
                )


def _figures(distance: float, limit: float) -> dict[str, object]:
    return {"value": distance, "limit": limit, "margin": distance - limit, "unit": "in"}


@rule(
    "wire-from-flammable-line",
    title="Wires run above lines that burn and at least 6 in from them, or 2 in with both clamped",
    why="A leak drips on what is below it; a chafed wire that touches a fuel line burns a hole in it and lights what comes out.",
    source="AC 43.13-1B 11-96 (6 in, 2 in); 11-126 (1/2 in, recalled); above the line: FAA-H-8083-31",
    formula="distance >= 6 in; or above the line, rigidly clamped and >= 2 in",
    example="3 in above a fuel hose, both clamped: meets; 3 in below it: a discrepancy",
    over=carrier_ids,
)
def wire_from_flammable_line(study: Study) -> Iterator[Verdict]:
    """Every bundle, and every run that lies alone, in a zone with such a line."""
    return _over(study, _BURNS, _flammable_zones(study), "flammable lines", _burning)


def _burning(carrier: Carrier, one: Clearance, path: DocPath) -> Verdict:
    at = (carrier.ident, one.to)
    if one.distance is None:
        return undetermined(at, path, "smallest distance to the flammable line")
    distance = in_unit(one.distance, "in", "length")
    text = f"{carrier.name} passes {one.to} ({one.kind}) at {plain_number(distance)} in"
    if distance >= _FAR_IN * 0.999:
        return meets(at, path, text, **_figures(distance, _FAR_IN))
    away = "move the wires 6 in away, or above the line with both clamped to structure"
    if distance < _LEAST_IN * 0.999:
        return discrepancy(
            at,
            path,
            f"{text}; 1/2 in with both clamped is the least",
            remedy=away,
            **_figures(distance, _LEAST_IN),
        )
    if one.position == "below":
        return discrepancy(
            at,
            path,
            f"{text}, below it: a leak drips on the wires",
            remedy=away,
            **_figures(distance, _FAR_IN),
        )
    if one.clamped is None:
        return undetermined(at, path, "clamping of wires and line ('clamped: yes' or 'no')")
    if not one.clamped:
        return discrepancy(
            at,
            path,
            f"{text} without both being clamped; 6 in is the least then",
            remedy=away,
            **_figures(distance, _FAR_IN),
        )
    if one.position is None:
        return undetermined(at, path, "position of the wires, above or below the line")
    if distance < _NEAR_IN * 0.999:
        return advisory(
            at,
            path,
            f"{text}, clamped; 2 in is the least but where they are positively clamped together",
            remedy="move the wires 2 in away, or check the clamps against AC 43.13-1B 11-126",
            **_figures(distance, _NEAR_IN),
        )
    return meets(at, path, f"{text}, {one.position} it and clamped", **_figures(distance, _NEAR_IN))


@rule(
    "wire-from-heat",
    title="Wires keep clear of exhaust and other hot parts, or a shield stands between",
    why="Radiant heat chars insulation well below the temperature of the air around it says.",
    source="FAA-H-8083-31, TM 1-1500-204-23-4 (kept apart; no distance published); 6 in: shop practice",
    formula="distance >= 6 in, or a shield between",
    example="8 in from the stacks: 2 in to spare",
    over=carrier_ids,
)
def wire_from_heat(study: Study) -> Iterator[Verdict]:
    """Every bundle, and every run that lies alone, in a zone with exhaust parts."""
    return _over(study, _HOT, _hot_zones(study), "exhaust parts", _hot)


def _hot(carrier: Carrier, one: Clearance, path: DocPath) -> Verdict:
    at = (carrier.ident, one.to)
    if one.distance is None:
        return undetermined(at, path, "smallest distance to the hot part")
    distance = in_unit(one.distance, "in", "length")
    text = f"{carrier.name} passes {one.to} ({one.kind}) at {plain_number(distance)} in"
    if distance <= 0:
        return discrepancy(
            at, path, f"{text}: it touches", remedy="clamp it 6 in away", **_figures(distance, _HOT_IN)
        )
    if distance >= _HOT_IN * 0.999:
        return meets(at, path, text, **_figures(distance, _HOT_IN))
    if one.guarded:
        return meets(at, path, f"{text}, with a shield between")
    return advisory(
        at,
        path,
        f"{text}; 6 in or a shield is practice",
        remedy=f"move it {plain_number(_HOT_IN - distance)} in further off, or fit a heat shield",
        **_figures(distance, _HOT_IN),
    )


@rule(
    "wire-from-controls",
    title="Wires keep clear of control cables, moving controls and bare edges",
    why="A cable saws through a wire, and a wire that fouls a control jams it.",
    source="AC 43.13-1B 11-125 (1/2 in, recalled); 3 in or a guard at control cables: AC practice (recalled)",
    formula="control cable: >= 3 in or guarded; other controls >= 1/2 in; edges: no contact",
    example="1 in from a control cable with no guard: 2 in short",
    over=carrier_ids,
)
def wire_from_controls(study: Study) -> Iterator[Verdict]:
    """Every such clearance that is told: the document does not say where controls run."""
    return _over(study, _MOVES, frozenset(), "controls", _moving)


def _moving(carrier: Carrier, one: Clearance, path: DocPath) -> Verdict:
    at = (carrier.ident, one.to)
    if one.distance is None:
        return undetermined(at, path, "smallest distance to the control or edge")
    distance = in_unit(one.distance, "in", "length")
    text = f"{carrier.name} passes {one.to} ({one.kind}) at {plain_number(distance)} in"
    least = {"control cable": _CABLE_IN, "movable control": _CONTROL_IN}.get(one.kind, 0.0)
    if one.guarded:
        return meets(at, path, f"{text}, guarded")
    if distance <= 0:
        return discrepancy(
            at, path, f"{text}: it chafes", remedy="clamp it clear, or guard it", **_figures(distance, least)
        )
    if distance >= least * 0.999:
        return meets(at, path, text, **_figures(distance, least))
    return advisory(
        at,
        path,
        f"{text}; {plain_number(least)} in or a guard is practice",
        remedy=f"clamp it {plain_number(least - distance)} in further off, or fit a guard",
        **_figures(distance, least),
    )
