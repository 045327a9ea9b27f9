"""What zones and barriers are said to be against what is in them, and where things sit against what they are fastened to."""

from __future__ import annotations

from collections.abc import Iterator

from ..study import Study
from ..zones import flammable_zones, is_open
from .pairs import Pair

_FASTENED = frozenset(("thread", "gasket", "sealed thread", "bolts", "painted bolts", "clamp"))
"""Ways to ground by which a thing is held on the body that grounds it."""


def fire_zones(study: Study) -> Iterator[Pair]:
    """Zones that are said to be no fire zone, though what burns and what lights it are both in them."""
    for ident, zone in study.model.zones.items():
        if zone.fire_zone is None or not zone.hot_parts or ident not in flammable_zones(study):
            continue
        yield Pair(
            ident,
            ("zones", ident, "fire_zone"),
            zone.fire_zone,
            f"the {ident} holds exhaust parts and lines that burn, and is a fire zone"
            if zone.fire_zone
            else f"the {ident} is said to be no fire zone, and exhaust parts and lines that burn run through it",
            "say 'fire_zone: yes', or correct what runs through it",
            taken=((("zones", ident, "fire_zone"), True),),
        )


def firewalls(study: Study) -> Iterator[Pair]:
    """Firewalls, which part a fire zone from the rest of the aircraft."""
    zones = study.model.zones
    for ident, wall in study.model.barriers.items():
        sides = [(name, zones[name].fire_zone) for name in wall.between if name in zones]
        if wall.kind != "firewall" or any(fire is None for _, fire in sides):
            continue
        burns = [name for name, fire in sides if fire]
        yield Pair(
            ident,
            ("barriers", ident, "between"),
            bool(burns),
            f"the {ident} parts the {burns[0]}, a fire zone, from the rest"
            if burns
            else f"the {ident} is a firewall, and neither the {sides[0][0]} nor the {sides[-1][0]} is said to be a fire zone",
            "say 'fire_zone: yes' of the zone on the engine's side",
            beside=tuple(name for name, _ in sides),
            taken=tuple(
                (("zones", name, "fire_zone"), True) for name, _ in sides if not zones[name].occupied
            ),
            instead=tuple(
                (("zones", name, "fire_zone"), "yes") for name, _ in sides if not zones[name].occupied
            ),
        )


_BODY = {"engine": "engine case", "firewall": "structure", "airframe": "structure"}
"""Ground that a thing is on by what carries its weight."""


def _seated(study: Study) -> Iterator[Pair]:
    """Senders that say what carries them, and are grounded by a fastening to a body: it is the same body."""
    grounds = study.model.grounds
    for ident, sender in study.model.senders.items():
        grounding, body = sender.grounding, _BODY.get(sender.mounted_on or "")
        if grounding is None or grounding.through not in _FASTENED or body is None:
            continue
        ground = grounds.get(grounding.to)
        for _ in grounds:
            if ground is not None and ground.joins is not None:
                ground = grounds.get(ground.joins)
        if ground is None or ground.kind not in _BODY.values():
            continue
        text = f"{ident} is carried by the {sender.mounted_on}, and its {grounding.through} grounds it on {grounding.to}"
        yield Pair(
            ident,
            ("senders", ident, "mounted_on"),
            ground.kind == body,
            text,
            "correct what carries it, or what it is grounded to",
            beside=(grounding.to,),
            open=(("senders", ident, "mounted_on"), ("senders", ident, "grounding")),
        )


def _on_engine(study: Study) -> Iterator[Pair]:
    """Senders the engine carries: they are where its case is, and where they are shakes."""
    cases = {
        ground.zone: ident
        for ident, ground in study.model.grounds.items()
        if ground.kind == "engine case" and ground.zone is not None
    }
    for ident, sender in study.model.senders.items():
        zone = sender.zone
        if sender.mounted_on != "engine" or zone is None:
            continue
        place = study.model.zones.get(zone)
        still = place is not None and place.vibrates is False
        if not cases and not still:
            continue
        case = next(iter(cases), zone)
        agree = (not cases or zone in cases) and not still
        yield Pair(
            ident,
            ("senders", ident, "mounted_on"),
            agree,
            f"{ident} is carried by the engine and sits in the {zone}"
            + (
                ""
                if agree
                else ", which does not move with it"
                if still
                else f"; {cases[case]} is in the {case}"
            ),
            "correct what carries it, or the zone of one of them",
            beside=() if agree or still else (cases[case],),
            open=(("senders", ident, "mounted_on"), ("senders", ident, "zone")),
            certain=still or not is_open(study, zone, case),
        )


def _fastened(study: Study) -> Iterator[Pair]:
    """Studs and ground buses fastened to the engine case or to another: they are where it is; structure is everywhere."""
    grounds = study.model.grounds
    for ident, ground in grounds.items():
        holder = grounds.get(ground.joins or "")
        if holder is None or ground.joins is None or holder.kind == "structure":
            continue
        if ground.zone is None or holder.zone is None:
            continue
        both = {ground.zone, holder.zone}
        if any(both == set(wall.between) for wall in study.model.barriers.values()):
            continue  # one stud through the wall between them
        agree = len(both) == 1
        yield Pair(
            ident,
            ("grounds", ident, "joins"),
            agree,
            f"{ident} and {ground.joins}, which it is fastened to, are both in the {ground.zone}"
            if agree
            else f"{ident} is in the {ground.zone}, and {ground.joins}, which it is fastened to, is in the {holder.zone}",
            "correct what it is fastened to, or the zone of one of them",
            beside=(ground.joins,),
            open=(("grounds", ident, "zone"), ("grounds", ident, "joins")),
            certain=not is_open(study, ground.zone, holder.zone),
        )


def seats(study: Study) -> Iterator[Pair]:
    """Things held by another that is in another zone: by a screw thread, or by the fastening that grounds them."""
    yield from _seated(study)
    yield from _on_engine(study)
    yield from _fastened(study)
    model = study.model
    for section, ident, thing in model.things():
        zone = getattr(thing, "zone", None)
        if zone is None:
            continue
        grounding = getattr(thing, "grounding", None)
        holders = [getattr(thing, "screwed_into", None)]
        if grounding is not None and grounding.through in _FASTENED:
            holders.append(grounding.to)
        for end in holders:
            holder = str(end or "").partition(".")[0]
            found = model.find(holder)
            if found is None or (found[0] == "grounds" and model.grounds[holder].kind == "structure"):
                continue
            other = getattr(found[1], "zone", None)
            fixed = getattr(thing, "barrier", None) or getattr(found[1], "barrier", None)
            if other is None or fixed is not None:
                continue
            yield Pair(
                ident,
                (section, ident, "zone"),
                zone == other,
                f"{ident} is in the {zone}, and {holder}, which it is fastened to, is in the {other}"
                if zone != other
                else f"{ident} and {holder}, which it is fastened to, are both in the {zone}",
                "correct the zone of one of them, or what it is fastened to",
                beside=(holder,),
                open=((section, ident, "zone"), (found[0], holder, "zone")),
                instead=(((section, ident, "zone"), other),),
                certain=not is_open(study, zone, other),
            )
