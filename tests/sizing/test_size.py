"""Chosen gauges: hand-worked choices, and the promise that a proposal is never faulted."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from installcheck import check, load
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.rules.engine import judge
from installcheck.sizing.candidates import SIZED_BY
from installcheck.sizing.choices import Choice, applied, sizes_for
from installcheck.sizing.size import size

DEMO = Path(__file__).parents[2] / "demo_aircraft"

FEED = """
installation: {{name: test}}
aircraft: {{system_voltage: 14 V, ceiling: 12000 ft}}
zones: {{cabin: {{vibrates: no, temperature: {{lowest: -30 degC, highest: {hot} degC, normal: {hot} degC}}}}}}
supplies:
  alternator: {{kind: alternator, voltage: 14 V, rated_current: 60 A, status: existing, zone: cabin}}
  bus: {{kind: bus, zone: cabin}}
  breaker: {{kind: breaker, zone: cabin, distance_from_source: 3 in}}
grounds: {{airframe: {{kind: structure, zone: cabin}}}}
loads: {{lamp: {{current: {amps} A, duty: {duty}, zone: cabin}}}}
bundles: {{harness: {{zone: cabin, wires: {wires}, load_share: {share} %, outside_diameter: 0.5 in, bend_radius: 12 in}}}}
wire_runs:
  A1: {{from: alternator.+, to: bus, part: AS22759/16, gauge: 4 AWG, status: existing, route: [{{zone: cabin, length: 2 ft}}]}}
  A2: {{from: alternator.-, to: airframe, part: AS22759/16, gauge: 4 AWG, status: existing, route: [{{zone: cabin, length: 1 ft}}]}}
  W1: {{from: bus, to: breaker.in, part: AS22759/16, gauge: 8 AWG, bundle: harness, route: [{{zone: cabin, length: 3 in}}]}}
  W2: {{from: breaker.out, to: lamp.+, part: AS22759/16, gauge: 8 AWG, bundle: harness, route: [{{zone: cabin, length: {feet} ft}}]}}
  W3: {{from: lamp.-, to: airframe, part: AS22759/16, gauge: 8 AWG, bundle: harness, route: [{{zone: cabin, length: 2 ft}}]}}
"""


def feed(amps=1.0, feet=10.0, hot=20, duty="continuous", wires=10, share=20):
    return loads(FEED.format(amps=amps, feet=feet, hot=hot, duty=duty, wires=wires, share=share))


def test_drop_binds_a_long_feed():
    found = {r.run: r for r in size(feed(amps=2.0, feet=30.0)).runs}
    # 30 ft at 2 A: size 20 drops 0.59 V cold and fails 0.5 V, size 18 drops 0.37 V cold in it and meets
    assert str(found["W2"].gauge) == "18"
    assert found["W2"].binding == ("voltage-drop",)
    # and 2 ft of size 22 more would be 0.439 V cold, over 0.5 V at the 1.2 times of wire heated by 2 A; of size 20, 0.413 V
    assert str(found["W3"].gauge) == "20"


def test_short_feed_of_a_small_load_takes_the_thinnest_wire_and_the_smallest_breaker():
    sizing = size(feed(amps=0.8, feet=5.0))
    assert {str(r.gauge) for r in sizing.runs} == {"22"}
    [breaker] = sizing.protectors
    assert breaker.rating == 1.0  # the smallest above 0.8 A
    assert sizing.weight < sizing.weight_before


def test_a_run_in_place_is_left():
    assert ("A1", "in place already") in size(feed()).left


def test_what_no_size_cures_is_told():
    sizing = size(feed(amps=30.0, feet=400.0))
    assert any(v.rule == "voltage-drop" for v in sizing.unmet)


def test_no_run_of_the_set_can_be_thinner():
    """Each run that is not at its thinnest names the rule that faults it one gauge thinner."""
    for run in size(feed(amps=6.0, feet=25.0)).runs:
        assert run.binding or str(run.gauge) == "22"


def unproposed_faults(sizing):
    told = {(v.rule, v.at) for v in sizing.unmet}
    sized = {r.run for r in sizing.runs} | {p.protector for p in sizing.protectors}
    return [
        v
        for v in check(sizing.document).verdicts
        if v.outcome == "discrepancy"
        and (v.rule in SIZED_BY or v.path[-1:] in (("gauge",), ("rating",)))
        and sized & {str(p) for p in (*v.at, *v.path)}
        and (v.rule, v.at) not in told
    ]


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(
    amps=st.floats(0.05, 25.0),
    feet=st.floats(0.5, 60.0),
    hot=st.integers(-20, 90),
    duty=st.sampled_from(["continuous", "intermittent"]),
    wires=st.integers(1, 40),
    share=st.integers(5, 100),
)
def test_what_is_proposed_is_never_faulted(amps, feet, hot, duty, wires, share):
    sizing = size(feed(round(amps, 3), round(feet, 2), hot, duty, wires, share))
    assert unproposed_faults(sizing) == []


@pytest.mark.parametrize("name", ["retrofit.yaml", "retrofit_corrected.yaml", "poor_ground_cured.yaml"])
def test_the_demo_as_proposed_is_never_faulted(name):
    assert unproposed_faults(size(load(DEMO / name))) == []


def flagged(document):
    verdicts = judge(Study(document), SIZED_BY).verdicts
    return {(v.rule, v.at[0]) for v in verdicts if v.outcome in ("discrepancy", "advisory")}


@pytest.mark.parametrize("name", ["retrofit_corrected.yaml", "poor_ground.yaml", "twin.yaml"])
def test_no_run_of_a_demo_can_be_thinner_alone(name):
    """Tried one by one here; the choice itself tries them together."""
    document = load(DEMO / name)
    sizing, study = size(document), Study(document)
    before = flagged(sizing.document)
    for run in sizing.runs:
        sizes = sizes_for(study, run.run)
        at = [s.gauge for s in sizes].index(run.gauge)
        assert bool(at) is bool(run.binding), run
        if at:
            thinner = applied(sizing.document, Choice({run.run: sizes[at - 1]}, {}))
            assert set(run.binding) <= {rule for rule, _ in flagged(thinner) - before}, run


@pytest.mark.parametrize("name", ["retrofit.yaml", "poor_ground.yaml", "twin.yaml"])
def test_few_judgements_are_enough(name, monkeypatch):
    made = []

    def counted(study, rules):
        made.append(study)
        return judge(study, rules)

    monkeypatch.setattr("installcheck.sizing.candidates.judge", counted)
    sizing = size(load(DEMO / name))
    assert len(made) < 15 < 2 * len(sizing.runs)


def test_a_wire_that_cannot_be_judged_is_left_as_it_is():
    """Without its bundle the heat of a wire is not known: it must not come out thinner than it is."""
    text = FEED.format(amps=9.0, feet=4.0, hot=20, duty="continuous", wires=10, share=20)
    sizing = size(loads(text.replace("gauge: 8 AWG, bundle: harness,", "gauge: 8 AWG,")))
    left = dict(sizing.left)
    assert {"W2", "W3"} <= set(left)
    assert left["W2"].startswith("cannot be judged without the ")
    assert sizing.document.installation.wire_runs["W2"].gauge == "8"


def test_the_wires_of_a_starter_are_left_as_they_are():
    left = dict(size(load(DEMO / "poor_ground_cured.yaml")).left)
    for run in ("P1", "P2", "P3", "P4"):  # feed, return, and the battery's own ground
        assert left[run].startswith("it carries the starter's current")
    assert "P6" not in left
    assert "E1" not in left
