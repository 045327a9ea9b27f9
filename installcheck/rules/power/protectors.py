"""Protectors themselves: near what feeds them, and rated above what they feed."""

from __future__ import annotations

from collections.abc import Iterable

from ...analysis import missing
from ...analysis.power.feeds import beyond
from ...analysis.power.guards import (
    BATTERY_M,
    NEAR,
    SHEATHED_M,
    TAP_M,
    Guard,
    PowerWire,
    from_battery,
    power_wires,
)
from ...analysis.power.through import steadily_through
from ...analysis.power.wiring import PROTECTORS, Hung
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import total_length
from ...model.comparing import at_most, same
from ...model.power import Supply
from ...model.quantities import Quantity, in_unit, plain_number
from ...physics.ampacity import smallest_rating
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "protector-near-source",
    title="A protector sits close to the source or bus that feeds it",
    why="The wire before the protector has none: a short there is fed by the whole battery.",
    source=NEAR,
    formula="bare wire between the source, or the last protector small enough for it, and the protector <= 7 in; in a sheath or "
    "conduit all the way ('sheathed: yes') <= 72 in from a battery, 40 in from elsewhere",
    example="bus tap of 18 AWG, 3 in to its breaker: 3 in of 7 in",
    over="supplies",
)
def protector_near_source(study: Study, subject: Subject, supply: Supply) -> Iterable[Verdict]:
    """A protector, by each wire that leads to it and is not covered by another before it."""
    for wire in _led_to(study).get(subject.ident, ()) if supply.spec.kind in PROTECTORS else ():
        guard, branch = wire.guard, wire.branch
        if guard is None or branch is None:
            continue
        if guard.bare != 0.0 and guard.origin != "unknown" and not branch.starter:
            yield _near(subject.along(wire.ident), wire, supply, guard)


@once
def _led_to(study: Study) -> dict[str, list[PowerWire]]:
    """The wires that lead to each thing that may guard them."""
    found: dict[str, list[PowerWire]] = {}
    for wire in power_wires(study):
        if wire.guard is not None:
            found.setdefault(wire.guard.far.partition(".")[0], []).append(wire)
    return found


def _near(subject: Subject, wire: PowerWire, supply: Supply, guard: Guard) -> Verdict:
    ident = subject.ident
    stated = supply.distance_from_source
    if stated is not None:
        subject = subject.field("distance_from_source")
    bare = guard.bare if stated is None else max(float(stated), guard.bare or 0.0)
    if bare is None:
        unmeasured = total_length(subject.study.model.wire_runs[wire.ident]) is None
        return subject.lacks(missing.RUN_LENGTH if unmeasured else missing.RUN_LENGTHS_BEFORE)
    most = BATTERY_M if from_battery(subject.study, guard) else SHEATHED_M
    beyond_all = not at_most(bare, most)
    long = not at_most(bare, TAP_M)
    if long and guard.unsaid and not (beyond_all or guard.exposed):
        return subject.along(*guard.unsaid).lacks(missing.RUN_SHEATH)
    covered = long and not guard.exposed
    inches, near, far = (in_unit(m, "in", "length") for m in (bare, TAP_M, most))
    limit = far if covered else near
    before = guard.origin if not guard.protectors else guard.near.partition(".")[0]
    text = f"{ident} stands {plain_number(inches)} in from {before}, with no protector small enough for that wire"
    return subject.at_most(
        inches,
        limit,
        "in",
        f"{text}, in a sheath or conduit all the way" if covered else text,
        broken=f"{text}; {plain_number(limit)} in is the most by practice",
        remedy=f"move it within {plain_number(near)} in of {before}, or feed it by a wire the protector before it covers",
        practice=True,
    )


@rule(
    "protector-above-load",
    title="A protector is rated above the loads behind it, and an alternator's above its output",
    why="A breaker loaded to its rating trips in a warm panel, and takes its indications with it.",
    source="AC 43.13-1B 11-48; plain physics",
    formula="sum of the loads behind it < rating; rated output of the alternator behind it <= rating",
    example="0.45 A of gauges behind 5 A: 4.55 A to spare",
    over="supplies",
)
def protector_above_load(study: Study, subject: Subject, supply: Supply) -> Verdict | None:
    """A protector with a load or an alternator behind it."""
    behind, rating = beyond(study).get(subject.ident), supply.spec.rating
    if supply.spec.kind not in PROTECTORS or behind is None or not (behind.loads or behind.sources):
        return None
    if rating is None or behind.missing:
        return subject.lacks(*behind.missing, *((missing.PROTECTOR_RATING,) if rating is None else ()))
    amps, rated = max(behind.load, behind.sources), float(rating)
    text = f"{subject.ident} of {rating.text} has {plain_number(amps)} A behind it"
    flowing, at = steadily_through(study, subject.ident)
    if at_most(behind.load, rated) and not at_most(flowing, rated):
        text += f", and {plain_number(flowing)} A flow at {at}"
    if same(behind.load, rated):
        return subject.field("rating").advisory(
            f"{text} and may trip in a warm panel",
            remedy="part the loads, or fit the next larger rating with wire behind it that bears it",
        )
    larger = smallest_rating("breaker", amps, 1e6)
    trips = not at_most(max(behind.load, flowing), rated)
    return (subject if at_most(amps, rated) else subject.field("rating")).at_most(
        amps,
        rated,
        "A",
        text,
        broken=f"{text}: it trips" if trips else f"{text} and may trip in a warm panel",
        remedy="part the loads"
        + (f", or fit {plain_number(larger)} A with wire behind it that bears it" if larger else ""),
        practice=not trips,
    )


def _contacts(study: Study) -> list[Contact]:
    """Switches and contactors, and shunts, that something hangs behind."""
    model, found = study.model, beyond(study)
    some: dict[str, tuple[str, Quantity | None]] = {
        i: ("supplies", s.spec.max_current)
        for i, s in model.supplies.items()
        if s.spec.kind in ("switch", "contactor")
    }
    some |= {
        i: ("junctions", j.spec.max_current) for i, j in model.junctions.items() if j.spec.kind == "shunt"
    }
    return [Contact(i, section, most, found[i]) for i, (section, most) in some.items() if i in found]


@dataclass(frozen=True, slots=True)
class Contact:
    """A switch, contactor or shunt: the most it may carry, and what hangs behind it."""

    ident: str
    section: str
    most: Quantity | None
    behind: Hung

    @property
    def path(self) -> DocPath:
        """Where the document tells of it."""
        return (self.section, self.ident)


@rule(
    "contacts-above-load",
    title="A switch, contactor or shunt may carry what hangs behind it",
    why="Contacts that carry more than they are made for weld shut or burn open; a shunt comes unsoldered and reads wrong.",
    source="the part's own limit; plain physics",
    formula="sum of the loads behind it, or the rated output of the alternator behind it <= largest current of the part",
    example="master contactor of 100 A with 23 A of loads and a 60 A alternator behind it: 40 A to spare",
    over=_contacts,
)
def contacts_above_load(study: Study, subject: Subject, contact: Contact) -> Verdict | None:
    """A switch, contactor or shunt with a load or an alternator behind it; a starter beside others draws for seconds only."""
    behind = contact.behind
    amps = max(behind.load, behind.sources) or behind.starter
    if not (amps or behind.missing):
        return None
    if contact.most is None or behind.missing:
        stated = () if contact.most is not None else (missing.CONTACT_CURRENT,)
        return subject.lacks(*behind.missing, *stated)
    most = float(contact.most)
    text = f"{contact.ident} may carry {contact.most.text} and has {plain_number(amps)} A behind it"
    return subject.field("max_current").at_most(
        amps,
        most,
        "A",
        text,
        remedy=f"fit one for {plain_number(amps)} A or more, or part the loads",
        practice=at_most(behind.load or behind.starter, most),
    )
