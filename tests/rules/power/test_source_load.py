import pytest

TEXT = """
aircraft: {{system_voltage: 14 V, load_monitored: {monitored}, ceiling: {ceiling}}}
supplies:
  alternator: {{kind: alternator, voltage: 14 V, rated_current: {rated}}}
  battery: {{kind: battery, voltage: 12.6 V, capacity: {capacity}{usable}}}
indicators: {{gauge: {{supply_terminals: [power, ground], supply_current: 1.0 A}}}}
loads:
  radios: {{current: 12 A, duty: continuous, essential: yes}}
  lights: {{current: {lights}, duty: continuous, essential: {essential}}}
  pump: {{current: 4.5 A, duty: continuous, essential: no}}
  beacon: {{current: 6 A, duty: continuous, essential: no, phases: [cruise]}}
  strobes: {{current: 5.2 A, duty: continuous, essential: no}}
  flaps: {{current: {flaps}, duty: intermittent}}
  starter: {{current: 200 A, duty: intermittent}}
{points}
"""


def document(**more):
    told = {
        "monitored": "no",
        "ceiling": "14000 ft",
        "rated": "60 A",
        "lights": "8.5 A",
        "flaps": "15 A",
        "capacity": "24 Ah",
        "usable": ", usable: 80 %",
        "essential": "no",
        "points": "",
    }
    return TEXT.format(**told | more)


def test_load_within_eighty_percent(judged):
    steady, peak = judged(document(), "source-load")
    # 12 + 4.5 + 6 + 8.5 + 5.2 + 1.0 = 37.2 A of 0.8 x 60 = 48 A; with 15 A of flaps 52.2 A of 60 A
    assert (steady.outcome, steady.value, steady.limit) == ("meets", pytest.approx(37.2), 48)
    assert steady.margin == pytest.approx(10.8)
    assert (peak.outcome, peak.value, peak.limit) == ("meets", pytest.approx(52.2), 60)


def test_load_over_eighty_percent(judged):
    steady, peak = judged(document(lights="19.5 A"), "source-load")
    # 11 A more: 48.2 A; 48.2 / 0.8 = 60.25 A, so 61 A. Peak 63.2 A, 3.2 A of it from the battery
    assert (steady.outcome, steady.margin) == ("discrepancy", pytest.approx(-0.2))
    assert steady.remedy == "take 0.2 A off, or fit 61 A or more"
    assert (peak.outcome, peak.margin) == ("advisory", pytest.approx(-3.2))


def test_a_placard_or_monitor_allows_all_of_it(judged):
    steady, _ = judged(document(lights="19.5 A", monitored="yes"), "source-load")
    assert (steady.outcome, steady.limit) == ("meets", 60)
    steady, _ = judged(document(lights="19.5 A", monitored="unknown"), "source-load")
    assert (steady.outcome, steady.path) == ("undetermined", ("aircraft",))


def test_load_of_no_stated_current(judged):
    [verdict] = judged(document(lights="unknown"), "source-load")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("current of the load",))
    [verdict] = judged(document(rated="unknown"), "source-load")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("rated current of the alternator",))


def test_worst_phase(judged):
    points = "operating_points: {climb: {phase: climb}, cruise: {phase: cruise}, lost: {dead_supplies: [alternator]}}"
    steady, _ = judged(document(points=points), "source-load")
    assert steady.value == pytest.approx(37.2)
    assert steady.message.endswith("at cruise")
    points = (
        "operating_points: {climb: {phase: climb, loads_on: [radios, lights]}, "
        "cruise: {phase: cruise, loads_on: [radios]}}"
    )
    steady, _ = judged(document(points=points), "source-load")
    # 12 + 8.5 + 1.0
    assert steady.value == pytest.approx(21.5)


def test_minutes_on_battery(judged):
    [verdict] = judged(document(), "battery-endurance")
    # 24 Ah x 0.8 / (12 + 1) A = 1.477 h = 88.6 min; nothing shed 19.2 / 37.2 = 31.0 min
    assert (verdict.outcome, verdict.value, verdict.limit) == ("meets", pytest.approx(88.6, abs=0.05), 30)
    assert "31 min if nothing is shed" in verdict.message


def test_too_few_minutes(judged):
    [verdict] = judged(document(capacity="10 Ah", usable=""), "battery-endurance")
    # 10 Ah x 0.75 / 13 A = 34.6 min
    assert (verdict.outcome, verdict.value) == ("meets", pytest.approx(34.6, abs=0.05))
    assert "75 percent taken" in verdict.message
    [verdict] = judged(document(capacity="10 Ah", usable="", ceiling="26000 ft"), "battery-endurance")
    assert (verdict.outcome, verdict.limit) == ("advisory", 60)
    # 7.5 Ah over one hour; 13 A x 1 h / 0.75 = 17.3 Ah, so 18 Ah
    assert verdict.remedy == "shed to 7.5 A, or fit 18 Ah or more"


def test_essential_or_not_matters_only_when_it_tips_the_scale(judged):
    [verdict] = judged(document(essential="unknown"), "battery-endurance")
    # 19.2 Ah / 21.5 A = 53.6 min even with the lights on
    assert (verdict.outcome, verdict.value) == ("meets", pytest.approx(53.6, abs=0.05))
    [verdict] = judged(document(essential="unknown", capacity="12 Ah"), "battery-endurance")
    # 9.6 Ah / 21.5 A = 26.8 min
    assert verdict.outcome == "undetermined"
    [verdict] = judged(document(capacity="unknown"), "battery-endurance")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("capacity of the battery",))


def test_a_removed_battery_helps_nobody(judged):
    body = document(lights="19.5 A").replace("kind: battery,", "kind: battery, status: removed,")
    # 63.2 A of 60 A at the peak: with the battery gone no one gives the other 3.2 A
    _, peak = judged(body, "source-load")
    assert (peak.outcome, peak.margin) == ("discrepancy", pytest.approx(-3.2))
    assert not judged(body, "battery-endurance")


def test_a_phase_without_an_operating_point_still_loads_the_source(judged):
    points = "operating_points: {climb: {phase: climb, loads_on: [radios, lights]}}"
    steady, _ = judged(document(points=points), "source-load")
    # The beacon is on in cruise, of which there is no point: 12 + 4.5 + 6 + 8.5 + 5.2 + 1.0 = 37.2 A
    assert steady.value == pytest.approx(37.2)
    assert steady.message.endswith("at cruise")


def test_an_alternator_of_no_output_carries_nothing(judged):
    steady, peak = judged(document(rated="0 A"), "source-load")
    assert (steady.outcome, steady.limit, steady.value) == ("discrepancy", 0, pytest.approx(37.2))
    assert (peak.outcome, peak.limit) == ("advisory", 0)


def test_minutes_of_watts_go_by_the_voltage_of_the_battery(judged):
    body = """
aircraft: {system_voltage: 14 V, ceiling: 14000 ft}
supplies: {battery: {kind: battery, capacity: 24 Ah, usable: 80 %, voltage: VOLTS}}
loads: {radios: {power: 240 W, essential: yes}}
"""
    [verdict] = judged(body.replace("VOLTS", "12 V"), "battery-endurance")
    # 240 W at 12 V: 20 A; 24 Ah x 0.8 / 20 A = 0.96 h
    assert (verdict.outcome, verdict.value) == ("meets", pytest.approx(57.6))
    [verdict] = judged(body.replace("VOLTS", "unknown"), "battery-endurance")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("voltage of the supply",))
