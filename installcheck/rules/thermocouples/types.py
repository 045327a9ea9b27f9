"""Probe and indicator: the same couple, within its range, on an input made for a couple."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.study import Study
from ...analysis.thermocouple.circuits import PRINCIPLES, Loop, loops, loops_of
from ...analysis.thermocouple.effects import Effect, beyond_dial
from ...analysis.thermocouple.points import limit_of, scale_of, true_values
from ...analysis.thermocouple.readings import read_scale, right_emf
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import Indication
from ...model.comparing import at_most, same
from ...physics.thermocouple_limits import limits
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@dataclass(frozen=True, slots=True)
class Pair:
    """What an indication reads, and its circuit where it can be walked."""

    indication: Indication
    loop: Loop | None

    @property
    def ident(self) -> str:
        """Id of the probe or sender."""
        return self.indication.source

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return self.indication.path


def _pairs(study: Study) -> Iterator[Pair]:
    """Indications with a probe on one end or a thermocouple input on the other."""
    for one in study.indications:
        if one.section == "probes" or one.spec.principle in PRINCIPLES:
            own = loops_of(study).get(one.source, ())
            yield Pair(one, next((loop for loop in own if loop.indication == one), None))


@rule(
    "thermocouple-type-match",
    title="Probe and indicator are made for the same couple",
    why="The scale of an indicator is drawn for one pair of metals. Another pair gives another emf, and nothing looks wrong.",
    source="ASTM E230; NIST ITS-90 reference functions (NIST Monograph 175)",
    formula="reading = T_indicator[E_probe(T) - E_probe(T_ref) + E_indicator(T_ref)]",
    example="type J probe at 205 degC on a type K indicator at 25 degC: 265.3 degC",
    over=_pairs,
)
def type_match(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every probe that is read, and every sender on a thermocouple input."""
    one = pair.indication
    subject = subject.along(one.indicator)
    if one.section != "probes":
        return subject.discrepancy(
            f"{one.name} is made for a thermocouple and {one.source} is a sender",
            remedy=f"fit an indicator made for {one.source}, or a probe made for {one.indicator}",
        )
    if one.spec.principle is not None and one.spec.principle not in PRINCIPLES:
        return subject.discrepancy(
            f"{one.source} is a thermocouple and {one.name} is a {one.spec.principle} input",
            remedy="fit an indicator made for a thermocouple",
        )
    couple, scale = study.model.probes[one.source].spec.thermocouple, one.spec.thermocouple
    if couple is None or scale is None:
        said = ((missing.PROBE_COUPLE, couple), (missing.INDICATOR_COUPLE, scale))
        return subject.lacks(*(word for word, stated in said if stated is None))
    if couple == scale:
        return subject.meets(f"{one.source} and {one.name} are both type {couple}")
    text = f"{one.source} is type {couple} and {one.name} is drawn for type {scale}"
    remedy = f"fit a type {scale} probe and type {scale} lead, or an indicator for type {couple}"
    subject = subject.field("thermocouple")
    loop = pair.loop
    worst = _worst(study, loop) if loop is not None else None
    if loop is None or worst is None:
        return subject.discrepancy(text, remedy=remedy)
    words = scale_of(study, loop)
    seen = f"{text}: at {worst.point.name} it"
    if worst.shown.c is None:
        return subject.discrepancy(
            f"{seen} is driven {worst.shown.beyond} its scale at a true {words.at(worst.true)}", remedy=remedy
        )
    value, side = words.number(abs(worst.error)), beyond_dial(loop, worst.shown)
    if side:
        seen += f" is driven {side} its scale at a true {words.at(worst.true)}"
        return subject.at_most(value, 0.0, words.unit, seen, remedy=remedy)
    seen += f" shows {words.at(worst.shown.c)} for a true {words.at(worst.true)}"
    if same(worst.shown.c, worst.true):
        return subject.discrepancy(f"{seen}, which is right there only", remedy=remedy)
    return subject.at_most(value, 0.0, words.unit, f"{seen}, {words.off(worst.error)}", remedy=remedy)


def _worst(study: Study, loop: Loop) -> Effect | None:
    """What the probe alone does on the scale of the other couple, its lead being of its own metals."""
    found = []
    for point, true_c in true_values(study, loop):
        emf = right_emf(study, loop, point, true_c)
        shown = read_scale(study, loop, point, emf, loop.spec.thermocouple or loop.kind, ideal=True)
        if not shown.missing:
            found.append(Effect(point, true_c, shown, true_c))
    return max(found, key=lambda e: abs(e.error), default=None)


@rule(
    "thermocouple-range",
    title="A couple is used within the range its limits of error are given for",
    why="Beyond it nothing is promised of the reading, and iron rusts away: a type J probe does not last in an exhaust.",
    source="ASTM E230 table of limits of error: J to 760, K and N to 1260, E to 870, T to 370 degC",
    formula="highest true value or limit <= highest temperature of the couple",
    example="1650 degF (899 degC) on type J: 139 degC above its range",
    over=loops,
)
def couple_range(study: Study, subject: Subject, loop: Loop) -> Verdict:
    """Every probe that an indicator reads."""
    subject = subject.along(loop.indication.indicator).placed("probes", loop.probe_id)
    words, limit = scale_of(study, loop), limit_of(study, loop)
    seen = [true_c for _, true_c in true_values(study, loop)] + ([float(limit)] if limit is not None else [])
    if not seen:
        return subject.lacks(missing.POINT_READING)
    rows = [r for r in limits("thermocouple_limits") if (r.standard, r.type) == ("ASTM E230", loop.kind)]
    most, top = max(r.t_high_c for r in rows), max(seen)
    return subject.at_most(
        words.degrees(top),
        words.degrees(most),
        words.unit,
        f"{loop.probe_id} sees up to {words.at(top)}, and type {loop.kind} is good to {words.at(most)}",
        remedy=lambda: _hotter(top),
    )


def _hotter(top: float) -> str:
    """The couples of base metal that bear a temperature in degC."""
    rows = [r for r in limits("thermocouple_limits") if (r.standard, r.grade) == ("ASTM E230", "standard")]
    bear = sorted({r.type for r in rows if at_most(top, r.t_high_c)})
    if not bear:
        return "see whether the value is right: no couple of base metal is good so far"
    named = f"{', '.join(bear[:-1])} or {bear[-1]}" if len(bear) > 1 else bear[0]
    return f"fit a probe, lead and indicator of type {named}"
