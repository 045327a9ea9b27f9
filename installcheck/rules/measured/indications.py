"""What indicators were seen to show, against what they should, and which fault would explain the set."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.errors.indicated import Reader, readers
from ...analysis.errors.reading import curve_read
from ...analysis.evidence.at_rest import ENGINE_OFF, manifold_input, value_at_rest
from ...analysis.evidence.measured_ohms import what_of
from ...analysis.evidence.pin_shift import shifts
from ...analysis.evidence.spans import BENCH_C
from ...analysis.sender_curves import falls, output, output_kind
from ...analysis.study import Point, Study
from ...analysis.true_value import difference_kind
from ...graph import Indication
from ...model.comparing import at_most
from ...model.quantities import Quantity, in_unit, plain_number, show
from ...model.records import Measurement
from ..verdicts import Outcome, Verdict
from ..vocabulary import Subject, rule
from .explained import explained

_TOLERANCES = frozenset(
    (
        missing.INDICATOR_ACCURACY,
        missing.SENDER_TOLERANCE,
        missing.TOLERANCE_OF_KIND,
        missing.PROBE_GRADE,
        missing.PROBE_TEMPERATURE_LIMITS,
        missing.LEAD_TOLERANCE,
    )
)
"""What a budget, where one is stated, stands for."""
_TRACE = "'installcheck trace' asks for the next best test"


def _seen(study: Study) -> list[tuple[int, Measurement]]:
    return [
        (i, one)
        for i, one in enumerate(study.model.measured)
        if (what_of(one) == "indication" and not _is_current_of_a_run(study, one))
        or (what_of(one) == ENGINE_OFF and manifold_input(study, one) is None)
    ]


def _is_current_of_a_run(study: Study, one: Measurement) -> bool:
    return one.what is None and isinstance(one.value, Quantity) and one.value.kind == "current"


@rule(
    "indication-agrees",
    title="An indicator shows on the aircraft what the description says it would",
    why="What a channel shows at a known true value tells a sound circuit from a swapped, shorted or shifted one before flight.",
    source="plain physics; the part's own tolerances",
    formula="|shown - computed for the true value at the temperature of the wiring| <= budget of the indication, else its tolerances",
    example="212 degF true and 210 degF computed, 190 degF shown: 20 degF low, 14 degF is its budget",
    over=lambda study: [str(i) for i, _ in _seen(study)],
)
def indication_agrees(study: Study) -> Iterator[Verdict]:
    """Every value an indicator was seen to show; with the engine stopped, pressures, speed and flow are nothing."""
    seen = _seen(study)
    judged = [(*_judge(study, i, one), one) for i, one in seen]
    good = {name for name, verdict, _ in judged if name and verdict.outcome is Outcome.MEETS}
    bad = {name for name, verdict, _ in judged if name and verdict.outcome is Outcome.DISCREPANCY}
    shifted = [str(s) for s in shifts(study, good, bad)]
    for name, verdict, _ in judged:
        if name in bad and shifted:
            words = f"of single shifts in a plug, this pattern of good and bad channels fits: {'; or '.join(shifted)}"
            verdict.remedy = f"{words}; else: {verdict.remedy}" if verdict.remedy else words
        yield verdict


def _judge(study: Study, index: int, one: Measurement) -> tuple[str, Verdict]:
    """Name of the indication, and the verdict on it."""
    ident, _, input_ = (one.of or (one.between or ("",))[0]).partition(".")
    name = f"{ident} {input_}".strip()
    subject = Subject(study, (ident or "measured value",), ("measured", index))
    if isinstance(one.value, str):
        return name, _open(subject, name)
    found = _indications(study, name, one.position)
    read = [r for r in readers(study) if r.name == name and _reads(r, found)]
    if len(read) != 1 or len(found) > 1:
        return name, subject.lacks(missing.MEASURED_INDICATION)
    true = one.true_value
    if true is None and one.what == ENGINE_OFF:
        true = value_at_rest(read[0].measure, one.value)
    if true is None:
        told = f"{name} shows {one.value.text}, and whoever read it says that it is not as it should be"
        if one.as_expected is False:
            return name, subject.discrepancy(
                told, remedy="read it again with its true value, and ring out its circuit"
            )
        return name, subject.lacks(missing.MEASURED_TRUE_VALUE)
    indication = found[0] if found else None
    verdict = _compare(subject, index, one, one.value, true, indication, read[0])
    return name, _as_said(subject, verdict, one)


def _as_said(subject: Subject, verdict: Verdict, one: Measurement) -> Verdict:
    """The verdict, where whoever read the value found it otherwise."""
    if verdict.outcome is Outcome.MEETS and one.as_expected is False:
        return subject.discrepancy(
            f"{verdict.message}; yet whoever read it says that it is not as it should be",
            remedy="read it again: the true value, the budget or the remark is wrong",
        )
    if verdict.outcome is Outcome.DISCREPANCY and one.as_expected:
        verdict.message += "; whoever read it took it for right"
    return verdict


def _reads(reader: Reader, found: list[Indication]) -> bool:
    """Whether a reader is that of the indications found; a direct gauge is read through none."""
    return not found or any(reader.averaged or reader.source == one.source for one in found)


def _indications(study: Study, name: str, position: str | None) -> list[Indication]:
    found = [i for i in study.indications if i.name == name]
    if found and all(i.averaged for i in found):
        return found[:1]
    if position is None and len(found) > 1:
        return [i for i in found if _stands(study, i)]
    return [i for i in found if position is None or i.position == position]


def _stands(study: Study, one: Indication) -> bool:
    return all(s.edge.closed for leg in one.legs for s in leg.steps if s.edge.kind == "contact")


def _open(subject: Subject, name: str) -> Verdict:
    found = _indications(subject.study, name, None)
    legs = [
        s.edge.label for i in found[:1] for leg in i.legs for s in leg.steps if s.edge.kind == "conductor"
    ]
    ring = f"ring out {', '.join(dict.fromkeys(legs))}" if legs else "ring out its wires"
    return subject.discrepancy(
        f"{name} shows its input open",
        remedy=f"a broken wire, or a pin not in its cavity, would explain it; {ring}",
    )


def _compare(
    subject: Subject,
    index: int,
    one: Measurement,
    value: Quantity,
    true: Quantity,
    indication: Indication | None,
    reader: Reader,
) -> Verdict:
    if value.kind != true.kind:
        told = f"{subject.ident}: cannot be judged without the true value as a {value.kind}"
        return subject.lacks(missing.MEASURED_TRUE_VALUE, because=told)
    study = subject.study
    warm = BENCH_C if one.at_temperature is None else float(one.at_temperature)
    point = Point(f"measured {subject.path[1]}", dict.fromkeys(study.model.zones, warm))
    budget = reader.at(point, float(true))
    computed = budget.indicated
    if computed is None or budget.kind != value.kind:  # the sender of another gauge is on it
        return subject.lacks(*(budget.missing or (missing.INDICATOR_CIRCUIT,)))
    stated = reader.spec.budget
    unsaid = [m for m in budget.missing if m in _TOLERANCES]
    allowed = float(stated) if stated is not None else budget.tolerances
    if allowed <= 0 or (stated is None and unsaid):
        return subject.lacks(missing.INDICATOR_ACCURACY_OR_BUDGET)
    off = float(value) - computed
    kind = difference_kind(value.kind)
    width, most = abs(in_unit(off, value.unit, kind)), in_unit(allowed, value.unit, kind)
    lacking = [m for m in budget.missing if m not in _TOLERANCES]
    if lacking and at_most(width, most):
        return subject.lacks(*lacking)
    return subject.at_most(
        width,
        most,
        value.unit,
        f"{reader.name} shows {value.text} where {true.text} is true and {show(computed, value.unit, value.kind)} "
        f"works out: {plain_number(width)} {value.unit} {'low' if off < 0 else 'high'}, "
        f"and {plain_number(most)} {value.unit} is {'its budget' if stated is not None else 'what tolerances leave'}",
        remedy=lambda: _why(study, index, indication, reader, float(value), computed),
    )


def _why(
    study: Study, index: int, indication: Indication | None, reader: Reader, shown: float, computed: float
) -> str:
    """What explains a wrong reading: the size of it in the circuit, and what tracing does not exclude."""
    told = explained(study, index)
    more = _ohms_more(study, indication, shown, computed)
    return "; ".join(t for t in (more, told, _TRACE) if t)


def _ohms_more(study: Study, indication: Indication | None, shown: float, computed: float) -> str:
    """Ohms by which the circuit of a resistance sender seems to differ; empty where it is no such circuit."""
    curve = (
        curve_read(study, indication) if indication is not None and indication.section == "senders" else None
    )
    if curve is None or output_kind(curve) != "resistance":
        return ""
    try:
        more = output(curve, shown) - output(curve, computed)
    except ValueError:
        return ""
    way = "rising" if not falls(curve) else "falling"
    ohms = show(abs(more), "ohm", "resistance")
    return f"{ohms} {'more' if more > 0 else 'less'} in its circuit than described (sender curve {way})"
