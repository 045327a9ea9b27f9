import pytest

from installcheck.analysis import missing

TEXT = """
aircraft: {{system_voltage: {volts}}}
zones:
  bay: {{occupied: no, fire_zone: yes, vibrates: yes{heat}}}
  cabin: {{occupied: yes, fire_zone: no, vibrates: no, temperature: {{lowest: 0 degC, highest: 50 degC}}}}
supplies: {{battery: {{kind: battery, voltage: 28 V, zone: cabin}}, inverter: {{kind: inverter, voltage: 115 V, zone: cabin}}}}
loads: {{valve: {{current: 1 A, terminals: ['+'], zone: bay{valve}}}, radio: {{current: 1 A, terminals: ['+'], zone: cabin}}}}
junctions: {{plug: {{kind: plug, zone: {where}, terminals: [A]{plug}}}}}
wire_runs:
  W1: {{from: battery.+, to: valve.+, gauge: 20 AWG, route: [{{zone: cabin, length: 3 ft}}, {{zone: bay, length: 3 ft}}]{run}}}
  W2: {{from: inverter.out, to: radio.+, gauge: 20 AWG, length: 3 ft{other}}}
"""
HOT = ", temperature: {lowest: -20 degC, highest: 110 degC}"


def document(volts="28 V", heat=HOT, valve="", where="bay", plug="", run="", other=""):
    return TEXT.format(volts=volts, heat=heat, valve=valve, where=where, plug=plug, run=run, other=other)


def test_wire_of_too_little_voltage(judged):
    [verdict] = judged(document(run=", voltage_rating: 12 V"), "wire-voltage")
    assert (verdict.outcome, verdict.value, verdict.limit, verdict.margin) == ("discrepancy", 28, 12, -16)


def test_a_wire_of_the_battery_does_not_see_the_inverter(judged):
    [verdict] = judged(document(run=", voltage_rating: 60 V"), "wire-voltage")
    assert (verdict.outcome, verdict.value) == ("meets", 28)
    [verdict] = judged(document(other=", voltage_rating: 60 V"), "wire-voltage")
    assert (verdict.outcome, verdict.value) == ("discrepancy", 115)


def test_a_wire_that_still_ends_at_what_is_taken_out(judged):
    taken_out = document(run=", voltage_rating: 12 V", valve=", status: removed")
    [verdict] = judged(taken_out, "wire-voltage")
    # its other end is at the battery still: 12 V - 28 V
    assert (verdict.outcome, verdict.value, verdict.margin) == ("discrepancy", 28, -16)


def test_voltage_rating_said_to_be_unknown(judged):
    [verdict] = judged(document(run=", voltage_rating: unknown"), "wire-voltage")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("voltage rating of the wire",))


@pytest.mark.parametrize(
    ("run", "valve", "outcomes"),
    [
        (", fire_rated: no", ", essential: yes", ["advisory"]),
        (", fire_rated: yes", ", essential: yes", ["meets"]),
        ("", ", essential: yes", ["undetermined"]),
        (", fire_rated: no", "", ["meets"]),
        ("", "", []),
    ],
)
def test_what_must_work_in_a_fire(judged, run, valve, outcomes):
    assert [v.outcome for v in judged(document(run=run, valve=valve), "wire-in-fire")] == outcomes


def test_part_too_cool_for_its_zone(judged):
    [verdict] = judged(document(valve=", temperature_rating: 85 degC"), "part-temperature")
    # 85 degC - 110 degC
    assert (verdict.outcome, verdict.at) == ("discrepancy", ("valve",))
    assert verdict.margin == pytest.approx(-25)
    cooler = ", temperature_rating: 85 degC, temperature: {lowest: 0 degC, highest: 60 degC}"
    [verdict] = judged(document(valve=cooler), "part-temperature")
    assert verdict.outcome == "meets"


def test_heat_of_a_part_not_told(judged):
    rated = ", temperature_rating: 85 degC"
    [verdict] = judged(document(valve=rated, heat=""), "part-temperature")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("temperature of the zone",))
    [verdict] = judged(document(valve=", temperature_rating: unknown"), "part-temperature")
    assert (verdict.outcome, verdict.missing) == ("undetermined", (missing.PART_TEMPERATURE_RATING,))
    # one point is not the hottest a zone gets, yet 90 degC there is too much
    point = "operating_points: {cruise: {zone_temperatures: {bay: %s}}}"
    for seen, outcome in (("60 degC", "undetermined"), ("90 degC", "discrepancy")):
        [verdict] = judged(point % seen + document(valve=rated, heat=""), "part-temperature")
        assert verdict.outcome == outcome


@pytest.mark.parametrize(("rule", "word"), [("joint-sealed", "sealed"), ("joint-crimped", "crimped")])
def test_open_and_soldered_joints(judged, rule, word):
    def outcome(value, where="bay"):
        return [v.outcome for v in judged(document(plug=f", {word}: {value}", where=where), rule)]

    assert outcome("yes") == ["meets"]
    assert outcome("no") == ["advisory"]
    assert outcome("no", "cabin") == ["meets"]
    assert outcome("unknown") == ["undetermined"]
    assert judged(document(), rule) == []


@pytest.mark.parametrize(
    ("said", "outcomes"),
    [
        ("cross-linked ETFE", ["meets"]),
        ("PVC and nylon", ["meets"]),
        ("car-grade PVC", ["advisory"]),
        ("household rubber", ["advisory"]),
        ("PVC and nylon, or not known", ["undetermined"]),
        ("blue", ["undetermined"]),
        ("unknown", ["undetermined"]),
        ("", []),
    ],
)
def test_insulation(judged, said, outcomes):
    text = document(run=f", insulation: '{said}'" if said and said != "unknown" else "")
    if said == "unknown":
        text = document(run=", insulation: unknown")
    assert [v.outcome for v in judged(text, "wire-insulation") if v.at == ("W1",)] == outcomes


def test_ignition_lead_has_its_own_insulation(judged):
    assert not judged(document(run=", kind: ignition lead, insulation: rubber"), "wire-insulation")
