import pytest

TEXT = """
aircraft: {{system_voltage: 14 V}}
zones: {{bay: {{}}}}
senders: {{s: {{principle: resistance bulb, terminals: [A], zone: bay}}}}
indicators: {{g: {{principle: bridge, terminals: [A], zone: bay}}}}
supplies: {{bus: {{kind: bus}}, b: {{kind: breaker, rating: 15 A}}}}
loads: {{pump: {{current: {amps}}}, starter: {{current: 200 A, duty: intermittent}}}}
bundles: {{harness: {{wires: 5{clearances}}}}}
wire_runs:
  W1: {{from: s.A, to: g.A, bundle: harness}}
  P1: {{from: bus, to: b.in, length: 3 in}}
  P2: {{from: b.out, to: pump.+, bundle: harness{twisted}}}
  P3: {{from: {feed}, to: starter.+, {other}}}
"""


def document(amps="5 A", other="", clearances="", twisted="", feed="bus"):
    return TEXT.format(
        amps=amps, other=other or "length: 3 ft", clearances=clearances, twisted=twisted, feed=feed
    )


def test_bundle_with_light_loads(judged):
    [verdict] = judged(document(), "sensing-apart")
    assert (verdict.outcome, verdict.at) == ("meets", ("harness",))


@pytest.mark.parametrize(
    ("more", "run"),
    [
        ({"amps": "12 A"}, "P2"),
        ({"other": "bundle: harness"}, "P3"),
        ({"other": "bundle: harness, kind: ignition lead"}, "P3"),
    ],
)
def test_bundle_with_what_disturbs(judged, more, run):
    [verdict] = judged(document(**more), "sensing-apart")
    assert (verdict.outcome, verdict.at) == ("advisory", ("harness", run, "W1"))
    assert "the signal run W1 beside" in verdict.message
    assert run in verdict.remedy


def test_unknown_load(judged):
    text = document("unknown").replace(", rating: 15 A", "")
    [verdict] = judged(text, "sensing-apart")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("current of the load",))


def test_passing_ignition_leads(judged):
    near = ", clearances: [{to: plug leads, kind: ignition lead, distance: %s}]"
    assert [v.outcome for v in judged(document(clearances=near % "8 in"), "sensing-apart")] == [
        "meets",
        "meets",
    ]
    assert [v.outcome for v in judged(document(clearances=near % "0 in"), "sensing-apart")] == [
        "meets",
        "advisory",
    ]
    assert [v.outcome for v in judged(document(clearances=near % "unknown"), "sensing-apart")] == [
        "meets",
        "undetermined",
    ]


def test_running_close_along_ignition_leads(judged):
    near = ", clearances: [{to: plug leads, kind: ignition lead, distance: %s, along: 24 in%s}]"
    verdict = judged(document(clearances=near % ("1 in", "")), "sensing-apart")[-1]
    assert (verdict.outcome, round(verdict.value, 6), verdict.limit) == ("advisory", 1, 3)
    for more in (", position: crossing", ", guarded: yes"):
        assert judged(document(clearances=near % ("1 in", more)), "sensing-apart")[-1].outcome == "meets"
    assert judged(document(clearances=near % ("3 in", "")), "sensing-apart")[-1].outcome == "meets"


def test_touching_a_heavy_run_by_its_name(judged):
    text = document("12 A", clearances=", clearances: [{to: P2, kind: wire, distance: 0 in}]").replace(
        "to: pump.+, bundle: harness", "to: pump.+"
    )
    assert [v.outcome for v in judged(text, "sensing-apart")] == ["meets", "advisory"]


COMPASS = ", clearances: [{to: compass, kind: compass, distance: %s}]"


def test_weak_wire_at_the_compass(judged):
    [verdict] = judged(document(clearances=COMPASS % "14 in"), "compass-field")
    # 4e-7 pi x 5 A / (2 pi x 0.3556 m) = 2.812 microtesla; atan(2.812 / 20) = 8.00 deg
    assert (verdict.outcome, verdict.value, verdict.limit) == ("meets", pytest.approx(8.00, abs=0.01), 10)


def test_strong_wire_at_the_compass(judged):
    [verdict] = judged(document(clearances=COMPASS % "7 in"), "compass-field")
    # twice the field: atan(5.624 / 20) = 15.7 deg
    assert (verdict.outcome, verdict.value) == ("advisory", pytest.approx(15.7, abs=0.05))


def test_twisted_wire_at_the_compass(judged):
    [verdict] = judged(document(clearances=COMPASS % "7 in", twisted=", twisted: yes"), "compass-field")
    assert verdict.outcome == "meets"


def test_distance_to_the_compass_not_told(judged):
    [verdict] = judged(document(clearances=COMPASS % "unknown"), "compass-field")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("distance to the compass",))


@pytest.mark.parametrize(("feeder", "outcome"), [("battery.+", "advisory"), ("inverter.out", "meets")])
def test_unprotected_feed_in_the_bundle(judged, feeder, outcome):
    # an inverter gives no more than its rating into a short; a battery gives all it has
    text = document().replace(
        "supplies: {bus", "supplies: {battery: {kind: battery}, inverter: {kind: inverter}, bus"
    )
    text += f"  P4: {{from: {feeder}, to: starter.-, current: 1 A, bundle: harness}}\n"
    verdict = judged(text, "sensing-apart")[0]
    assert verdict.outcome == outcome
