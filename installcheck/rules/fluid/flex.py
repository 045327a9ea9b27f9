"""What moves: flexible lengths to the engine, hose slack and straight ends, and tubes that are not strained."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import FLAMMABLE, Part, carried, highest_pressure, hoses, listed, runs, zones_of
from ...analysis.fluid.stock import hose_row
from ...analysis.study import Study
from ...graph import total_length
from ...model.comparing import at_least, at_most
from ...model.fluid import FluidLine
from ...model.quantities import in_unit, plain_number
from ...physics.hoses import LEAST_SLACK, MOST_SLACK, SHRINK_UNDER_PRESSURE, STRAIGHT_AT_END
from ..part_23 import breach
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "flexible-length",
    title="A line from the engine to the airframe is flexible where it leaves the engine",
    why="The engine rocks on its mounts. A rigid tube between it and the airframe works until its flare or its nut cracks: a "
    "rigid copper sensor line failed so in about three flight hours.",
    source="14 CFR 23.993(b), (c) as before amendment 23-64; NTSB ERA22FA261",
    formula="a line with one end in a zone that moves with the engine and the other in one that does not is a hose",
    example="a 1/4 in tube from the oil gallery to the firewall: a hose of the same size replaces it",
    over=runs,
)
def flexible_length(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """Whether it is a hose, if it runs from what moves with the engine to what does not."""
    zones = zones_of(study, part.line)
    kind = part.line.spec.kind
    if kind == "hose":
        return subject.meets(f"line {part.ident} is a hose")
    if zones is None:
        return subject.lacks(missing.LINE_ROUTE)
    moving = [study.model.zones[z].vibrates for z in zones]
    if len(zones) == 1 or set(moving) <= {False} or set(moving) == {True}:
        return None
    if None in moving and not {True, False} <= set(moving):
        return subject.placed("zones", zones[moving.index(None)]).lacks(missing.ZONE_MOVEMENT)
    if kind is None:
        return subject.lacks(missing.LINE_KIND)
    return _rigid(subject, part, zones)


def _rigid(subject: Subject, part: Part, zones: tuple[str, ...]) -> Verdict:
    study, spec = subject.study, part.line.spec
    moving = [z for z in zones if study.model.zones[z].vibrates]
    still = [z for z in zones if study.model.zones[z].vibrates is False]
    text = f"{spec.kind} {part.ident} is rigid from the {listed(moving)}, which moves with the engine, to the {listed(still)}"
    size = f" -{round(spec.outside_diameter / 0.0254 * 16)}" if spec.outside_diameter is not None else ""
    remedy = f"fit a hose{size} from the engine to the first fixed point, with 5 to 8 % slack and its far end clamped"
    told = carried(study, part.ident)
    if told and not told & FLAMMABLE:
        return subject.advisory(f"{text}: it will crack and the reading is lost", remedy=remedy)
    return breach(subject, text, remedy=remedy)


@rule(
    "hose-slack",
    title="A hose has 5 to 8 % slack",
    why="A hose shrinks by up to 4 % under pressure: one without slack pulls at its ends. One with much slack chafes.",
    source="FAA-H-8083-30 fluid lines chapter and NAVEDTRA 14105 (5 to 8 %); AC 43.13-1B figure 9-9 (+2 to -4 % under pressure)",
    formula="slack/(length - slack) from 5 % to 8 %; less than 4 % pulls tight",
    example="18 in between fittings: a hose of 18.9 to 19.44 in",
    over=hoses,
)
def hose_slack(study: Study, subject: Subject, part: Part) -> Verdict:
    """Its slack as a share of the distance it spans."""
    length, slack = total_length(part.line), part.line.slack
    if slack is None or (length is None and slack.kind != "ratio"):
        needs = ((missing.LINE_LENGTH, length), (missing.HOSE_SLACK, slack))
        return subject.lacks(*(w for w, v in needs if v is None))
    subject = subject.field("slack")
    share, least, most = 100 * float(slack), 100 * LEAST_SLACK, 100 * MOST_SLACK
    over, remedy = "", "fit a hose with 5 to 8 % slack"
    if length is not None and slack.kind != "ratio":
        if slack >= length:
            return subject.discrepancy(f"hose {part.ident} cannot have more slack than length")
        distance = length - float(slack)
        share, over = 100 * float(slack) / distance, f" over {_inches(distance)}"
        remedy = (
            f"fit a hose of {_inches(distance * (1 + LEAST_SLACK))} to {_inches(distance * (1 + MOST_SLACK))}"
        )
    text = f"hose {part.ident} has {plain_number(share)} % slack{over}"
    if not at_most(share, most):
        broken = f"{text}; more than 8 % chafes unless it is held"
        return subject.at_most(share, most, "%", text, broken=broken, remedy=remedy, practice=True)
    working, _ = highest_pressure(study, part.ident)
    tight = not at_least(share, 100 * SHRINK_UNDER_PRESSURE) and working is not None and working > 0
    broken = (
        f"{text}, and shrinks by up to 4 % under pressure: it pulls tight"
        if tight
        else f"{text}; 5 to 8 % is wanted"
    )
    return subject.at_least(share, least, "%", text, broken=broken, remedy=remedy, practice=not tight)


def _inches(metres: float) -> str:
    return f"{plain_number(in_unit(metres, 'in', 'length'))} in"


@rule(
    "line-straight-at-fitting",
    title="A line meets its fitting straight and without strain",
    why="A bend at the fitting, or a tube pulled into line by its nut, loads the flare until it cracks: oil-gauge lines did so "
    "at the firewall.",
    source="FAA AD 57-10-02; FAA-H-8083-30 fluid lines chapter; AC 43.13-1B 8-31c (at least one bend between rigid ends)",
    formula="hose: straight for two outside diameters at each end; tube: not strained, at least one bend",
    example="hose of 0.52 in outside diameter: 1.04 in straight at each end",
    over=runs,
)
def line_straight_at_fitting(study: Study, subject: Subject, part: Part) -> Iterator[Verdict]:
    """A hose by its straight ends, a tube by strain and bends."""
    if part.line.spec.kind == "hose":
        if part.line.strained:
            yield subject.field("strained").discrepancy(
                f"hose {part.ident} is pulled or twisted into line by its nut",
                remedy="loosen it, let it lie free of twist, and tighten its nut with the hose held; fit a longer one if it pulls",
            )
        yield _hose_ends(subject, part.line)
    elif part.line.spec.kind == "tube":
        yield _strain(subject, part.line)
        yield _bends(subject, part.line.bends)


def _hose_ends(subject: Subject, line: FluidLine) -> Verdict:
    straight, outer = line.straight_at_fittings, _outside_diameter(line)
    if straight is None:
        return subject.lacks(missing.LINE_STRAIGHT)
    if outer is None:
        return subject.lacks(missing.HOSE_DIAMETER)
    got, need = in_unit(straight, "in", "length"), in_unit(STRAIGHT_AT_END * outer, "in", "length")
    if line.spec.outside_diameter is None and not at_least(got, need):
        return subject.lacks(missing.HOSE_DIAMETER)
    return subject.field("straight_at_fittings").at_least(
        got,
        need,
        "in",
        f"hose {subject.ident} is straight for {plain_number(got)} in at its fittings, two diameters being {plain_number(need)} in",
        remedy="lengthen the hose, or turn the fitting with an elbow",
        practice=True,
    )


def _outside_diameter(line: FluidLine) -> float | None:
    """Outside diameter in metres; that of MIL-H-8794 rubber hose, the thicker kind, where the hose does not say."""
    if line.spec.outside_diameter is not None:
        return float(line.spec.outside_diameter)
    row = hose_row(line)
    return row.outside_diameter if row is not None else None


def _strain(subject: Subject, line: FluidLine) -> Verdict:
    if line.strained:
        return subject.field("strained").discrepancy(
            f"tube {subject.ident} is pulled into line by its nut",
            remedy="bend a new tube that meets both fittings straight, or splice in a hose",
        )
    if line.strained is None:
        return subject.lacks(missing.LINE_STRAIN)
    if line.straight_at_fittings is not None and line.straight_at_fittings <= 0:
        return subject.field("straight_at_fittings").discrepancy(
            f"tube {subject.ident} bends right at its fitting",
            remedy="leave a straight length behind the nut, or fit an elbow",
        )
    return subject.field("strained").meets(f"tube {subject.ident} is not strained")


def _bends(subject: Subject, bends: int | None) -> Verdict:
    if bends is None:
        return subject.lacks(missing.LINE_BENDS)
    if bends == 0:
        return subject.field("bends").discrepancy(
            f"tube {subject.ident} runs straight between two rigid ends: nothing takes up growth or vibration",
            remedy="put at least one bend in it, or fit a hose",
        )
    return subject.field("bends").meets(f"tube {subject.ident} has {bends} bend{'s' * (bends > 1)}")
