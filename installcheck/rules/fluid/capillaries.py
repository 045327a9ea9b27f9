"""The capillary of a sealed temperature system as a line: whole, long enough, not kinked, its excess coiled."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import lines, sealed
from ...analysis.study import Study
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import total_length
from ...model.devices import Sender
from ...model.fluid import FluidLine
from ...model.installation import split_end
from ...model.quantities import in_unit, plain_number
from ...physics.capillaries import coil_turns, least_bend_radius_m, spare_length_m
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_CLIPPED_M = 0.15
"""Spare length that needs no coil: about the slack at the gauge."""
_SYSTEMS = frozenset(("vapour-pressure bulb", "liquid-filled bulb"))


@dataclass(frozen=True, slots=True)
class _Capillary:
    """A capillary with the bulb it is made on."""

    ident: str
    line: FluidLine
    path: DocPath
    bulb: str | None
    sender: Sender | None

    @property
    def made(self) -> float | None:
        """Metres of capillary the system is made with; none is never made."""
        length = self.sender.spec.capillary_length if self.sender is not None else None
        return float(length) if length is not None and length > 0 else None

    @property
    def excess(self) -> float | None:
        """Metres that are left over: coiled as stated, else what its way does not take."""
        if self.line.coiled is not None:
            return float(self.line.coiled)
        route = total_length(self.line)
        return self.made - route if self.made is not None and route is not None else None


def _capillaries(study: Study) -> Iterator[_Capillary]:
    for part in lines(study, capillaries=True):
        if not (part.is_capillary or sealed(study, part.ident)):
            continue
        ends = (split_end(e)[0] for e in (part.line.from_, part.line.to))
        senders = study.model.senders
        bulb = next((i for i in ends if i in senders and senders[i].spec.principle in _SYSTEMS), None)
        yield _Capillary(part.ident, part.line, part.path, bulb, senders[bulb] if bulb is not None else None)


@rule(
    "capillary-whole",
    title="A capillary runs whole from bulb to gauge, and is long enough",
    why="Bulb, capillary and gauge are one sealed system. It is never cut, joined or lengthened: a cut is the end of it.",
    source="an industrial capillary manual: an interruption is a permanent failure; length of the system as made",
    formula="spare = length as made - route; no fitting between bulb and gauge",
    example="a 10 ft capillary on a route of 11 ft 6 in is 18 in short",
    over=_capillaries,
)
def capillary_whole(study: Study, subject: Subject, one: _Capillary) -> Verdict:
    """What it ends at, and the length it was made with against its way."""
    joined = [
        i for i in (split_end(e)[0] for e in (one.line.from_, one.line.to)) if i in study.model.fittings
    ]
    if joined:
        return subject.along(*joined).discrepancy(
            f"capillary {one.ident} ends at the fitting {joined[0]}: it is never cut or joined",
            remedy="fit a system whose capillary is long enough, and pass the barrier by its own split grommet",
        )
    if one.bulb is None:
        return subject.lacks(missing.CAPILLARY_BULB)
    subject = subject.along(one.bulb)
    made, route = one.made, total_length(one.line)
    if made is None or route is None:
        lacking = [
            w for w, v in ((missing.CAPILLARY_LENGTH, made), (missing.LINE_LENGTH, route)) if v is None
        ]
        return subject.lacks(*lacking)
    route += float(one.line.coiled or 0.0)
    have, need = in_unit(made, "in", "length"), in_unit(route, "in", "length")
    spare = in_unit(spare_length_m(made, route), "in", "length")
    return subject.at_least(
        have,
        need,
        "in",
        f"capillary {one.ident} is whole and has {plain_number(max(spare, 0.0))} in to spare",
        broken=f"capillary {one.ident} is {plain_number(-spare)} in too short for its way of {plain_number(need)} in",
        remedy=f"fit a system with a capillary of {plain_number(need)} in or more; it cannot be spliced",
    )


@rule(
    "capillary-bend",
    title="A capillary is not bent or coiled tighter than its limit",
    why="A kink closes the bore or cracks the tube, and the gauge stays where it was.",
    source="limit of the part; else an industrial capillary manual (50 mm for stainless, 5 mm for copper), 50 mm by default",
    formula="bend radius and coil radius >= least radius; turns = spare/(2 pi r)",
    example="36 in of excess on a 50 mm radius: 2.9 turns",
    over=_capillaries,
)
def capillary_bend(study: Study, subject: Subject, one: _Capillary) -> Iterator[Verdict]:
    """Its bends, and the coil of what is left over."""
    if one.bulb is not None:
        subject = subject.along(one.bulb)
    own = one.sender.spec.min_bend_radius if one.sender is not None else None
    least = own if own is not None else one.line.spec.min_bend_radius
    limit = float(least) if least is not None else _least(one.line)
    document = study.document
    if one.bulb is not None and document.declared_unknown(("senders", one.bulb, "min_bend_radius")):
        yield subject.lacks(missing.CAPILLARY_LEAST_BEND)
        return
    if one.line.bend_radius is None:
        yield subject.lacks(missing.LINE_BEND)
    else:
        yield _radius(subject.field("bend_radius"), float(one.line.bend_radius), limit, "is bent to")
    if one.excess is None or one.excess <= _CLIPPED_M:
        return
    if one.line.coil_radius is None:
        yield subject.lacks(missing.LINE_COIL)
        return
    turns = coil_turns(one.excess, float(one.line.coil_radius))
    how = f"takes up {plain_number(in_unit(one.excess, 'in', 'length'))} in in {plain_number(turns, 2)} turns of"
    yield _radius(subject.field("coil_radius"), float(one.line.coil_radius), limit, how)


def _least(line: FluidLine) -> float:
    made = {"304 stainless": "stainless steel", "copper": "copper"}
    return least_bend_radius_m(made.get(line.spec.material or "", "default"))


def _radius(subject: Subject, radius: float, limit: float, how: str) -> Verdict:
    got, need = in_unit(radius, "mm", "length"), in_unit(limit, "mm", "length")
    return subject.at_least(
        got,
        need,
        "mm",
        f"capillary {subject.ident} {how} {plain_number(got)} mm radius, {plain_number(need)} mm being the least",
        remedy=f"lead it in loops of {plain_number(need)} mm radius or more",
        practice=True,  # no aircraft figure was found: the industrial one is good practice
    )


@rule(
    "bulb-immersed",
    title="The bulb of a sealed temperature system, or in the coolant, is wholly in the fluid it measures",
    why="In a vapour-pressure bulb the pressure is that of the coldest place the liquid stands in: what sticks out of the oil is "
    "what the pointer shows.",
    source="plain physics: vapour pressure follows the coldest free surface; practice for liquid-filled bulbs",
    formula="the whole bulb in the fluid ('immersed: yes')",
    example="a bulb half out of a shallow fitting: it reads the air of the engine bay in part",
    over="senders",
)
def bulb_immersed(study: Study, subject: Subject, sender: Sender) -> Verdict | None:
    """A bulb of a sealed system, and one of the coolant; those of oil and air are judged with their places."""
    if sender.spec.principle not in _SYSTEMS and sender.spec.measures != "coolant temperature":
        return None
    if sender.immersed is None:
        return subject.lacks(missing.SENDER_IMMERSED)
    subject = subject.field("immersed")
    if sender.immersed:
        return subject.meets(f"{subject.ident} is wholly in the fluid")
    reads = (
        "it shows the coldest place its liquid stands in"
        if sender.spec.principle == "vapour-pressure bulb"
        else "it shows a mean of what it touches"
    )
    return subject.advisory(
        f"{subject.ident} is not wholly in the fluid: {reads}",
        remedy="fit it so that the fluid covers the whole bulb: a fitting of the bulb's own depth, or a shorter bulb",
    )
