"""Voltage drop of feeds, each value worked by hand beside it."""

import pytest

FEED = """
aircraft: {{system_voltage: 14 V}}
zones: {{cabin: {{temperature: {{lowest: 20 degC, highest: {hot} degC}}}}}}
supplies:
  alternator: {{kind: alternator, voltage: 14 V, rated_current: 20 A}}
  bus: {{kind: bus}}
grounds: {{airframe: {{kind: structure}}}}
loads: {{lamp: {{current: {amps}{duty}}}}}
wire_runs:
  A1: {{from: alternator.+, to: bus, part: AS22759/16, gauge: 10 AWG, route: [{{zone: cabin, length: 2 ft}}]}}
  A2: {{from: alternator.-, to: airframe, part: AS22759/16, gauge: 10 AWG, route: [{{zone: cabin, length: 1 ft}}]}}
  W1: {{from: bus, to: lamp.+, part: AS22759/16, gauge: 22 AWG, {way}}}
  W2: {{from: lamp.-, to: airframe, part: AS22759/16, gauge: 22 AWG, route: [{{zone: cabin, length: 3 ft}}]}}
"""


def feed(amps="1 A", way="route: [{zone: cabin, length: 15 ft}]", hot=20, duty=""):
    return FEED.format(amps=amps, way=way, hot=hot, duty=duty)


def hot_factor(amps, ambient, limit=5.0, rating=150.0):
    """Table 11-9: size 22 rated 150 degC carries 5 A; T2 = T1 + (TR - T1) sqrt(I / Imax); (234.5 + T2) / 254.5."""
    return (234.5 + ambient + (rating - ambient) * (amps / limit) ** 0.5) / 254.5


def test_drop_within_limit(judged):
    [verdict] = judged(feed(amps="0.4 A"), "voltage-drop")
    assert verdict.outcome == "meets"
    # 18 ft x 0.0162 ohm/ft x 0.4 A = 0.1166 V cold, x hot factor at 20 degC
    assert verdict.value == pytest.approx(0.11664 * hot_factor(0.4, 20), rel=1e-3)
    assert (verdict.limit, verdict.unit) == (0.5, "V")


def test_two_of_a_load_draw_twice(judged):
    [one] = judged(feed(amps="1.6 A"), "voltage-drop")
    [two] = judged(
        feed(amps="0.8 A").replace("current: 0.8 A", "current: 0.8 A, quantity: 2"), "voltage-drop"
    )
    assert two.value == pytest.approx(one.value)


def test_drop_over_limit_names_the_gauge_that_meets(judged):
    [verdict] = judged(feed(amps="1.5 A"), "voltage-drop")
    assert verdict.outcome == "discrepancy"
    # 18 ft x 0.0162 x 1.5 = 0.4374 V, x hot factor 1.2815
    assert verdict.value == pytest.approx(0.4374 * hot_factor(1.5, 20), rel=1e-3)
    assert verdict.path == ("wire_runs", "W1", "gauge")
    # size 20 in W1 alone, at the temperature of size 22: (15 x 0.00988 + 3 x 0.0162) x 1.5 x 1.2815 = 0.378 V
    assert verdict.remedy.startswith("20 AWG in run W1 gives 0.378 V")


def test_remedy_cures(judged):
    cured = feed(amps="1.5 A").replace(
        "W1: {from: bus, to: lamp.+, part: AS22759/16, gauge: 22",
        "W1: {from: bus, to: lamp.+, part: AS22759/16, gauge: 20",
    )
    [verdict] = judged(cured, "voltage-drop")
    assert verdict.outcome == "meets"


def test_hot_zone_counts(judged):
    [verdict] = judged(feed(amps="0.4 A", hot=70), "voltage-drop")
    # 150 degC wire in 70 degC: 0.11664 x (234.5 + 70 + 80 x 0.2828) / 254.5
    assert verdict.value == pytest.approx(0.11664 * hot_factor(0.4, 70), rel=1e-3)


def test_intermittent_load_has_its_own_limit_and_is_laid_upon_the_rest(judged):
    [verdict] = judged(feed(amps="2 A", duty=", duty: intermittent"), "voltage-drop")
    assert verdict.outcome == "meets"
    assert verdict.limit == 1.0
    assert verdict.value == pytest.approx(18 * 0.0162 * 2 * hot_factor(2, 20), rel=1e-3)


def test_unknown_route_is_no_pass_when_heat_could_matter(judged):
    [verdict] = judged(feed(amps="1.5 A", way="length: 15 ft"), "voltage-drop")
    assert verdict.outcome == "undetermined"
    assert "route of the run with the length in each zone" in verdict.missing


def test_unknown_route_is_not_asked_for_when_even_the_hottest_wire_meets(judged):
    [verdict] = judged(feed(amps="0.4 A", way="length: 15 ft"), "voltage-drop")
    assert verdict.outcome == "meets"


def test_unknown_length_and_unknown_load(judged):
    [verdict] = judged(
        feed().replace("gauge: 22 AWG, route: [{zone: cabin, length: 15 ft}]", "gauge: 22 AWG"),
        "voltage-drop",
    )
    assert verdict.missing == ("length of the run",)
    [verdict] = judged(feed().replace("lamp: {current: 1 A}", "lamp: {zone: cabin}"), "voltage-drop")
    assert verdict.missing == ("current of the load",)


def test_load_without_a_return(judged):
    text = feed().replace(
        "  W2: {from: lamp.-, to: airframe, part: AS22759/16, gauge: 22 AWG, route: [{zone: cabin, length: 3 ft}]}\n",
        "",
    )
    [verdict] = judged(text, "voltage-drop")
    assert verdict.missing == ("wire run or body that returns it to ground",)


def test_load_fed_at_a_bus_is_not_concerned(judged):
    text = feed().replace("lamp: {current: 1 A}", "lamp: {current: 1 A, connected_at: bus}")
    assert judged(text, "voltage-drop") == []


def test_28_volt_example_of_the_circular(judged):
    """AC 43.13-1B example 1: 50 ft with the ground wire, 20 A, 28 V: size 10 drops 1.26 V cold and fails, size 8 meets."""
    text = feed(amps="20 A", way="route: [{zone: cabin, length: 47 ft}]").replace("14 V", "28 V")
    ten = text.replace("gauge: 22 AWG", "gauge: 10 AWG")
    eight = text.replace("gauge: 22 AWG", "gauge: 8 AWG")
    [fails] = judged(ten, "voltage-drop")
    [meets] = judged(eight, "voltage-drop")
    # the resistance of size 8 is the higher 0.701 ohm/1000 ft of the wire's own sheet; table 11-9 carries 26 and 57 A
    assert fails.value == pytest.approx(1.26 * hot_factor(20, 20, limit=26), rel=1e-3)
    assert meets.value == pytest.approx(0.701 * hot_factor(20, 20, limit=57), rel=1e-3)
    assert (fails.outcome, meets.outcome) == ("discrepancy", "meets")


def test_feeder(judged):
    [verdict] = judged(feed(), "feeder-drop")
    # size 10, 2 ft x 0.00126 x 20 A = 0.0504 V, table 11-9 26 A
    assert verdict.value == pytest.approx(0.0504 * hot_factor(20, 20, limit=26), rel=1e-3)
    assert verdict.limit == pytest.approx(0.28)
    assert verdict.outcome == "meets"


def test_feeder_too_thin_and_feeder_unknown(judged):
    long = feed().replace(
        "gauge: 10 AWG, route: [{zone: cabin, length: 2 ft}]",
        "gauge: 10 AWG, route: [{zone: cabin, length: 10 ft}]",
    )
    [verdict] = judged(long, "feeder-drop")
    assert verdict.outcome == "discrepancy"
    assert verdict.path == ("wire_runs", "A1", "gauge")
    [verdict] = judged(feed().replace(", rated_current: 20 A", ""), "feeder-drop")
    assert verdict.missing == ("rated current of the alternator",)


def test_a_removed_supply_does_not_set_the_system_voltage(judged):
    text = """
supplies:
  old alternator: {kind: alternator, voltage: 28 V, status: removed}
  alternator: {kind: alternator, voltage: 14 V}
  bus: {kind: bus}
grounds: {airframe: {kind: structure}}
loads: {lamp: {current: 10 A}}
wire_runs:
  W1: {from: alternator.+, to: bus, metal: copper, resistance: 0.001 ohm/m, length: 1 m}
  W2: {from: alternator.-, to: airframe, metal: copper, resistance: 0.001 ohm/m, length: 1 m}
  W3: {from: bus, to: lamp.+, metal: copper, resistance: 0.03 ohm/m, length: 2 m}
  W4: {from: lamp.-, to: airframe, metal: copper, resistance: 0.001 ohm/m, length: 1 m}
"""
    # 10 A through 60 and 1 milliohm: 0.61 V, over the 0.5 V of a 14 V system and under the 1 V of a 28 V one
    [verdict] = judged(text, "voltage-drop")
    assert (verdict.outcome, verdict.limit) == ("discrepancy", 0.5)
    assert verdict.value == pytest.approx(0.61, abs=1e-6)


def test_the_drop_is_that_of_the_hottest_the_zone_gets(judged):
    text = """
aircraft: {system_voltage: 14 V}
zones: {engine: {temperature: {lowest: 0 degC, highest: 120 degC, normal: 25 degC}}}
supplies: {alternator: {kind: alternator, voltage: 14 V}, bus: {kind: bus}}
grounds: {airframe: {kind: structure}}
loads: {lamp: {current: 4 A}}
operating_points: {cruise: {phase: cruise, zone_temperatures: {engine: 25 degC}}}
wire_runs:
  W1: {from: alternator.+, to: bus, metal: copper, resistance: 1 ohm/km, route: [{zone: engine, length: 1 cm}]}
  W2: {from: alternator.-, to: airframe, metal: copper, resistance: 1 ohm/km, route: [{zone: engine, length: 1 cm}]}
  W3: {from: bus, to: lamp.+, metal: copper, resistance: 10 ohm/km, route: [{zone: engine, length: 10 m}]}
  W4: {from: lamp.-, to: airframe, metal: copper, resistance: 1 ohm/km, route: [{zone: engine, length: 1 cm}]}
"""
    [verdict] = judged(text, "voltage-drop")
    # 0.1 ohm at 20 degC is (234.5 + 120) / 254.5 = 1.393 times as much at 120 degC: 4 A x 0.1393 ohm = 0.557 V
    assert (verdict.outcome, verdict.limit) == ("discrepancy", 0.5)
    assert verdict.value == pytest.approx(0.5572, abs=1e-3)
