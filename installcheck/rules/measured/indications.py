"""What indicators were seen to show, against what they should, and which fault would explain the set."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from ...analysis.errors.indicated import Reader, readers
from ...analysis.errors.reading_back import curve_read
from ...analysis.evidence.bench import BENCH_C
from ...analysis.evidence.measured_ohms import what_of
from ...analysis.evidence.pin_shift import shifts
from ...analysis.sender_curves import falls, output, output_kind
from ...analysis.study import Point, Study
from ...document.source import DocPath
from ...graph import Indication
from ...model.quantities import (
    Quantity,
    in_unit,
    plain_number,
    show,
)
from ...model.records import Measurement
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

TRUE = "true value at the time ('true_value')"
WHICH = "indicator or input the value was seen on ('of'), with the selector's position where there is one"
ACCURACY = "accuracy of the indicator, or its budget"
_NEAR = 0.25
"""Share of the way from true to ambient within which a thermocouple is taken to show a junction near the indicator."""


def _seen(study: Study) -> list[tuple[int, Measurement]]:
    return [
        (i, one)
        for i, one in enumerate(study.model.measured)
        if what_of(one) == "indication" and not _is_current_of_a_run(study, one)
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
    """Every value an indicator was seen to show."""
    judged = [(one, _judge(study, i, one)) for i, one in _seen(study)]
    good = {name for _, (name, ok, _) in judged if name and ok}
    bad = {name for _, (name, ok, _) in judged if name and ok is False}
    shifted = [str(s) for s in shifts(study, good, bad)]
    for _, (_name, ok, verdict) in judged:
        if ok is False and shifted:
            words = f"of single shifts in a plug, this pattern of good and bad channels fits: {'; or '.join(shifted)}"
            verdict.remedy = f"{words}; else: {verdict.remedy}" if verdict.remedy else words
        yield verdict


def _judge(study: Study, index: int, one: Measurement) -> tuple[str, bool | None, Verdict]:
    """Name of the indication, whether it is good, and the verdict."""
    path: DocPath = ("measured", index)
    ident, _, name = (one.of or (one.between or ("",))[0]).partition(".")
    full = f"{ident} {name}".strip()
    at = (ident or "measured value",)
    if isinstance(one.value, str):
        return full, False, _open(study, at, path, full)
    found = _indications(study, full, one.position)
    read = [r for r in readers(study) if any(_is(r, i) for i in found)]
    if len(found) != 1 or not read:
        return full, None, undetermined(at, path, WHICH)
    if one.true_value is None:
        return full, None, undetermined(at, path, TRUE)
    return (full, *_compare(study, at, path, index, one, found[0], read[0]))


def _indications(study: Study, name: str, position: str | None) -> list[Indication]:
    found = [i for i in study.indications if i.name == name]
    if found and all(i.averaged for i in found):
        return found[:1]
    if position is None and len(found) > 1:
        return [i for i in found if _stands(study, i)]
    return [i for i in found if position is None or i.position == position]


def _stands(study: Study, one: Indication) -> bool:
    return all(s.edge.closed for leg in one.legs for s in leg.steps if s.edge.kind == "contact")


def _is(reader: Reader, one: Indication) -> bool:
    return reader.name == one.name and (reader.averaged or reader.source == one.source)


def _open(study: Study, at: tuple[str, ...], path: DocPath, name: str) -> Verdict:
    found = _indications(study, name, None)
    legs = [
        s.edge.label for i in found[:1] for leg in i.legs for s in leg.steps if s.edge.kind == "conductor"
    ]
    ring = f"ring out {', '.join(dict.fromkeys(legs))}" if legs else "ring out its wires"
    return discrepancy(
        at,
        path,
        f"{name} shows its input open",
        remedy=f"likeliest: a broken wire, or a pin not in its cavity; {ring}",
    )


def _compare(
    study: Study,
    at: tuple[str, ...],
    path: DocPath,
    index: int,
    one: Measurement,
    indication: Indication,
    reader: Reader,
) -> tuple[bool | None, Verdict]:
    value, true = one.value, one.true_value
    assert isinstance(value, Quantity)
    assert true is not None
    if value.kind != true.kind:
        return None, undetermined(at, path, f"true value as a {value.kind}")
    warm = BENCH_C if one.at_temperature is None else float(one.at_temperature)
    point = Point(f"measured {index}", dict.fromkeys(study.model.zones, warm))
    budget = reader.at(point, float(true))
    computed = budget.indicated
    if computed is None:
        return None, undetermined(at, path, budget.missing or ("circuit of the indication",))
    tolerances = hypot(*(c.amount for c in budget.causes if c.tolerance))
    stated = indication.spec.budget
    allowed = float(stated) if stated is not None else tolerances
    if allowed <= 0:
        return None, undetermined(at, path, ACCURACY)
    off = float(value) - computed
    kind = "temperature difference" if value.kind == "temperature" else value.kind
    width, most = in_unit(off, value.unit, kind), in_unit(allowed, value.unit, kind)
    text = (
        f"{indication.name} shows {value.text} where {true.text} is true and {show(computed, value.unit, value.kind)} "
        f"works out: {plain_number(abs(width))} {value.unit} {'low' if off < 0 else 'high'}, "
        f"and {plain_number(most)} {value.unit} is {'its budget' if stated is not None else 'what tolerances leave'}"
    )
    numbers = {"value": abs(width), "limit": most, "margin": most - abs(width), "unit": value.unit}
    if abs(off) <= allowed:
        return True, meets(at, path, text, **numbers)
    remedy = _why(study, indication, float(value), computed, float(true), warm)
    return False, discrepancy(at, path, text, remedy=remedy, **numbers)


def _why(
    study: Study, indication: Indication, shown: float, computed: float, true: float, ambient: float
) -> str:
    if indication.section == "probes":
        return _thermocouple(shown, true, ambient)
    curve = curve_read(study, indication)
    if curve is None or output_kind(curve) != "resistance":
        return "likeliest: its supply, its ground or its sender; measure the sender's output at the indicator"
    try:
        more = output(curve, shown) - output(curve, computed)
    except ValueError:
        return "likeliest: an open or shorted lead; ring out the circuit"
    ohms = show(abs(more), "ohm", "resistance")
    way = "rising" if not falls(curve) else "falling"
    if more > 0:
        return (
            f"likeliest: {ohms} more in its circuit than described (sender curve {way}): a joint, a ground or a thinner wire; "
            "ring out the loop and the ground of the sender"
        )
    return (
        f"likeliest: {ohms} less in its circuit than described (sender curve {way}): a path beside the sender, or another "
        "sender than described"
    )


def _thermocouple(shown: float, true: float, ambient: float) -> str:
    if abs(true - ambient) < 1e-9:
        return "likeliest: the sender and wiring at different temperatures; read again when all is soaked"
    share = (shown - ambient) / (true - ambient)
    if share < -_NEAR:
        return "likeliest: the two legs are crossed; the pointer goes down as the probe warms"
    if share < _NEAR:
        return "likeliest: the legs touch near the indicator, or the loop is open; ring out the loop"
    if share < 1:
        return (
            "likeliest: resistance in the loop of a moving coil, copper in place of a leg, or the legs touch on the way "
            f"where it is {show(shown, 'degC', 'temperature')}; ring out each leg"
        )
    return "likeliest: a loop of less resistance than the indicator is made for, or another couple than its scale"
