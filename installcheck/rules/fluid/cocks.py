"""Cocks in what feeds the engine: open, and on the right side of the firewall."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import media
from ...analysis.fluid.purposes import feed_cocks
from ...analysis.study import Study
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.fluid import Fitting
from ..part_23 import breach
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@dataclass(frozen=True, slots=True)
class Cock:
    """A cock in a feed, and whether it shuts that off."""

    ident: str
    fitting: Fitting
    shuts: bool

    @property
    def path(self) -> DocPath:
        return ("fittings", self.ident)


def _cocks(study: Study) -> Iterator[Cock]:
    return (Cock(ident, study.model.fittings[ident], shuts) for ident, shuts in feed_cocks(study).items())


@rule(
    "feed-cock-open",
    title="No cock stands closed in the only feed of an engine",
    why="An engine runs for a minute on what its carburettor and lines hold, and stops after take-off.",
    source="plain physics: a closed cock passes nothing",
    formula="'position' of every cock between what gives fuel or oil and what nothing else feeds; a cock whose position is not said "
    "is set by whoever flies",
    example="'position: closed' of the selector between tank and carburettor",
    over=_cocks,
)
def feed_cock_open(study: Study, subject: Subject, cock: Cock) -> Verdict | None:
    """A cock in a feed that says how it stands."""
    subject = subject.field("position")
    if cock.shuts:
        return subject.discrepancy(
            f"{cock.ident} stands closed in the only feed beyond it", remedy="open it: 'position: open'"
        )
    return None if cock.fitting.position is None else subject.meets(f"{cock.ident} cuts no feed off")


@rule(
    "fuel-cock-place",
    title="No fuel shutoff of the engine sits on the engine's side of the firewall",
    why="In an engine fire the cock itself burns, and the fuel that it should stop feeds the fire.",
    source="14 CFR 23.995(b) as before amendment 23-64 (second-hand); its guard against accidental operation is looked at, not judged",
    formula="zone of a cock in a fuel feed is no designated fire zone",
    example="a selector in the engine bay: a discrepancy; an existing one: an inspection item",
    over=_cocks,
)
def fuel_cock_place(study: Study, subject: Subject, cock: Cock) -> Verdict | None:
    """A cock in a feed of fuel."""
    ports = [n for e in study.graph.by_thing.get(("fittings", cock.ident), ()) for n in (e.a, e.b)]
    if not any("fuel" in media(study).at(port) for port in ports):
        return None
    subject = subject.field("zone")
    zone = study.model.zones.get(cock.fitting.zone or "")
    if zone is None:
        return subject.lacks(missing.FITTING_ZONE)
    if zone.fire_zone is None and not zone.occupied:
        return subject.placed("zones", cock.fitting.zone or "").lacks(missing.ZONE_FIRE)
    if not zone.fire_zone:
        return subject.meets(f"fuel cock {cock.ident} sits outside every fire zone")
    told = (
        f"fuel cock {cock.ident} sits in the {cock.fitting.zone}, where it burns with what it should shut off"
    )
    remedy = "fit it on the cabin's side of the firewall, or have the design that put it there at hand"
    if cock.fitting.status == "existing":
        return subject.advisory(f"{told}; it is an existing one, and an inspection item", remedy=remedy)
    return breach(subject, told, remedy=remedy)
