"""What is written under ``measured`` is traced as if it had been told: nothing that physics excludes stands, nothing is overlooked."""

from pathlib import Path

import pytest
import yaml
from bench_document import TWO_WIRE

from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.tracing.phrases import read_lines
from installcheck.tracing.trace import Trace, Tracer
from installcheck.tracing.written import written

HERE = Path(__file__).parent / "reports"


def traced(name: str, measured: list[dict]) -> Trace:
    return traced_in((HERE / name).read_text(), measured)


def traced_in(text: str, measured: list[dict]) -> Trace:
    plain = yaml.load(text, yaml.CSafeLoader)
    plain["measured"] = measured
    study = Study(loads(yaml.safe_dump(plain, sort_keys=False)))
    seen, problems = written(study)
    assert problems == []
    assert len(seen) == len(measured)
    return Tracer(study).step(seen)


def keys(some) -> list[str]:
    return [r.hypothesis.key for r in some]


def test_loop_resistance_explains_nothing_on_an_input_of_a_million_ohms():
    found = traced("couples.yaml", [{"of": "head gauge", "value": "159 degC", "true_value": "200 degC"}])
    excluded = keys(found.ranking.excluded)
    assert {"bad joint at T1 +", "bad joint at T2 -", "bad joint at head splice contact +"} <= set(excluded)
    assert "lead of wrong metal at T2" in keys(found.ranking.standing)


def test_legs_that_touch_in_a_bay_show_no_more_than_the_bay_has():
    """The engine bay is at 60 degC and the engine at 80: no contact there shows 454."""
    found = traced("couples.yaml", [{"of": "exhaust gauge", "value": "454 degC", "true_value": "760 degC"}])
    assert not [k for k in keys(found.ranking.standing) if k.startswith(("lead legs", "probe legs"))]
    assert [k for k in keys(found.ranking.excluded) if k.startswith("lead legs touching")]


@pytest.mark.parametrize(
    ("with_another", "standing", "excluded"),
    [
        ("200 degF", "sender drifted at oil sender", "gauge drifted at oil temperature gauge"),
        ("150 degF", "gauge drifted at oil temperature gauge", "sender drifted at oil sender"),
    ],
)
def test_a_swap_test_parts_the_sender_from_the_rest(with_another, standing, excluded):
    seen = {"of": "oil temperature gauge", "value": "150 degF", "true_value": "200 degF"}
    swapped = {**seen, "value": with_another, "swapped_for": "second sender"}
    lines = [seen, swapped]
    found = traced("oil.yaml", lines)
    assert standing in keys(found.ranking.standing)
    assert excluded in keys(found.ranking.excluded)


def test_a_remark_counts_where_no_true_value_was_written():
    told = {"of": "oil pressure gauge", "value": "60 psi", "as_expected": True}
    wrong = {"of": "oil temperature gauge", "value": "150 degF", "as_expected": False}
    found = traced("oil.yaml", [told, wrong])
    assert [str(c) for c in found.bad] == ["oil temperature gauge"]
    # The two gauges have one breaker and one ground: what took both would not leave one right.
    assert "breaker open at gauge breaker" in keys(found.ranking.excluded)


def test_ohms_with_the_ends_still_connected_see_what_lies_beside():
    """With the sender on, the loop holds its ohms; freed, the wire alone is next to nothing."""
    ends = {"between": ["oil temperature gauge.S", "airframe"], "value": "0.1 ohm"}
    seen = {"of": "oil temperature gauge", "value": "150 degF", "as_expected": False}
    joined = traced("oil.yaml", [seen, {**ends, "connected": True}])
    assert "short to ground at E1" in keys(joined.ranking.standing)


def test_one_ground_is_one_cause_for_all_that_stand_on_it():
    lines = [
        {"of": "oil temperature gauge", "value": "185 degF", "as_expected": False},
        {"of": "oil pressure gauge", "value": "85 psi", "true_value": "60 psi"},
    ]
    found = traced("oil.yaml", lines)
    assert {str(c) for c in found.bad} == {"oil temperature gauge", "oil pressure gauge"}
    shared = ("panel ground", "engine strap", "gauge breaker", "P3", "R1", "R2")
    first = found.ranking.standing[0].hypothesis if found.explained else None
    assert first is None or any(at in shared for at in first.at), first.key


def test_good_probes_are_not_condemned():
    """An isolated probe is clear of ground, a grounded one is on it by its body: neither is a fault of a lead."""
    lines = [
        {"between": ["head 3.+", "engine case"], "what": "insulation", "value": "0.2 ohm"},
        {"of": "head gauge", "value": "200 degC", "true_value": "200 degC"},
    ]
    found = traced("couples.yaml", lines)
    assert not found.dangers
    best = found.ranking.standing[0]
    assert not best.hypothesis.kind.startswith("short"), best.hypothesis.key


@pytest.mark.parametrize("ends", [["gauge.power", "airframe"], ["airframe", "gauge.power"]])
def test_volts_with_the_load_off_and_on_part_a_bad_joint_from_a_weak_source(ends):
    """12 V with nothing on the wire and 3 V with the gauge on it: 180 ohm in series at its 50 mA, and the battery is sound."""
    sign = 1 if ends[0] == "gauge.power" else -1
    dead = {"of": "gauge", "value": "0 degC", "true_value": "100 degC"}
    off, on = (
        {"between": ends, "value": f"{sign * volts} V", "connected": state}
        for volts, state in ((12, False), (3, True))
    )
    found = traced_in(TWO_WIRE, [dead, off, on])
    first = found.ranking.standing[0].hypothesis
    assert (first.kind, first.at[0] in ("P1", "P2", "breaker")) == ("bad joint", True), first.key
    assert "low supply at battery" not in keys(found.ranking.standing)


@pytest.mark.parametrize("off", ["with gauge.power lifted", "with gauge disconnected"])
def test_volts_of_a_lifted_lead_are_those_of_its_end(off):
    """As it is said: 12 V at the lead that is taken off the gauge leave its joints in question, 0 V say that it is open or shorted."""
    study = Study(loads(TWO_WIRE))

    def standing(volts: int) -> set[str]:
        seen, problems = read_lines(
            study, ["gauge is dead", f"gauge.power to airframe measures {volts} V {off}"]
        )
        assert problems == []
        return set(keys(Tracer(study).step(seen).ranking.standing))

    assert {"bad joint at P2", "gauge dead at gauge"} <= standing(12)
    assert "open at P2" not in standing(12)
    assert {"open at P1", "open at P2", "breaker open at breaker"} <= standing(0)
    assert "gauge dead at gauge" not in standing(0)


def test_ohms_of_the_leads_of_a_gauge_are_those_of_its_sender_whether_it_is_said_to_be_off_or_not():
    """The bulb of 100 ohm at 100 degC is bridged to 30 by something: 30 ohm are found at the leads, the gauge on the bench or not."""
    study = Study(loads(TWO_WIRE))
    said = []
    for off in ("", " with gauge disconnected"):
        seen, problems = read_lines(
            study, ["gauge is off scale low", f"gauge.S to gauge.R measures 30 ohm{off}"]
        )
        assert problems == []
        said.append(
            [(r.hypothesis.key, round(r.share, 6)) for r in Tracer(study).step(seen).ranking.standing]
        )
    assert said[0]
    assert said[0] == said[1]


def test_a_wrong_sender_with_a_steep_curve_is_known_no_better_than_the_day():
    """A 10 kohm thermistor gives 12.5 kohm at 20 degC and 4.4 % more a kelvin below: 13.8 kohm are two kelvin, no other fault."""
    plain = yaml.load(TWO_WIRE, yaml.CSafeLoader)
    law = {"law": "Pt100"}
    plain["senders"]["bulb"] |= {"principle": "resistance bulb", "curve": law}
    plain["indicators"]["gauge"] |= {"curve": law}
    study = Study(loads(yaml.safe_dump(plain, sort_keys=False)))
    seen, problems = read_lines(study, ["gauge is off scale high", "gauge.S to gauge.R measures 13800 ohm"])
    assert problems == []
    assert "wrong sender at bulb" in keys(Tracer(study).step(seen).ranking.standing)
