import pytest

BUS = """
aircraft: {{system_voltage: 14 V, ceiling: {ceiling}}}
zones: {{cabin: {{occupied: yes, temperature: {{lowest: 0 degC, highest: {ambient}}}}}}}
supplies: {{bus: {{kind: bus, zone: cabin}}}}
loads: {{pump: {{current: {amps} A, zone: cabin, terminals: ['+', '-']}}}}
bundles: {{harness: {bundle}}}
wire_runs: {{W1: {{from: bus, to: pump.+, part: {part}, gauge: 22 AWG, {more}}}}}
"""


def document(amps, *, bundle="{wires: 6, load_share: 100 %}", ambient="70 degC", **more):
    told = {"ceiling": "12500 ft", "part": "AS22759/16", "more": "length: 4 ft, bundle: harness"} | more
    return BUS.format(amps=amps, bundle=bundle, ambient=ambient, **told)


# 22 AWG, 150 degC, 70 degC, 6 wires all loaded, 12500 ft: 1.225 sqrt(80) = 10.957 A in free air; 3.6^-0.46 = 0.5547;
# p/p0 = (1 - 0.0065 x 3810 / 288.15)^5.25588 = 0.6249, sqrt(0.48 + 0.52 sqrt(0.6249)) = 0.9440; product 5.74 A.
LIMIT = pytest.approx(5.74, abs=0.01)


def test_current_in_its_bundle_meets(judged):
    [verdict] = judged(document(3), "wire-ampacity")
    assert (verdict.outcome, verdict.value, verdict.limit, verdict.unit) == ("meets", 3, LIMIT, "A")
    assert verdict.margin == pytest.approx(2.74, abs=0.01)


@pytest.mark.parametrize("amps", [5.8, 6.5])
def test_little_above_the_formulas_the_curve_itself_decides(judged, amps):
    [verdict] = judged(document(amps), "wire-ampacity")
    # 5.74 x 1.15 = 6.60 A
    assert verdict.margin < 0
    assert (verdict.outcome, verdict.limit) == ("advisory", LIMIT)
    assert "published curve" in verdict.message


def test_too_much_current_is_a_discrepancy_with_a_gauge_that_carries_it(judged):
    [verdict] = judged(document(8), "wire-ampacity")
    assert (verdict.outcome, verdict.value, verdict.limit) == ("discrepancy", 8, LIMIT)
    # 20 AWG: 1.633 x 8.944 x 0.5237 = 7.65 A; 18 AWG: 2.431 x 8.944 x 0.5237 = 11.39 A
    assert verdict.remedy == "use 18 AWG"


def test_table_counts_as_it_stands_in_its_own_conditions(judged):
    # table 11-9, note 1: 33 wires, 20 percent, 70 degC: 5 A for 22 AWG at 150 degC, 4.8 A needing no look at a curve
    [verdict] = judged(document(4.8, bundle="{wires: 33, load_share: 20 %}"), "wire-ampacity")
    assert (verdict.outcome, verdict.limit) == ("meets", pytest.approx(5.27, abs=0.01))
    # 10.957 x (1 + 0.52 x 0.2 x 32)^-0.46 0.5097 x 0.9440 = 5.27 A, above the table's 5 A, which was made for 60000 ft


def test_more_wires_than_the_curve_goes_to(judged):
    # 40 wires all loaded: 2.53 A (below); among 60 a wire may carry less, so that 4 A fails for certain
    [verdict] = judged(document(4, bundle="{wires: 60, load_share: 100 %}"), "wire-ampacity")
    assert (verdict.outcome, verdict.limit) == ("discrepancy", pytest.approx(2.53, abs=0.01))
    assert "even with 40 wires" in verdict.message
    for amps in (2, 2.7):  # below the limit of 40, and within 15 percent above it
        [verdict] = judged(document(amps, bundle="{wires: 60, load_share: 100 %}"), "wire-ampacity")
        assert verdict.outcome == "undetermined"


def test_bundle_left_open_is_taken_at_its_worst(judged):
    # 40 wires all loaded, 21.28^-0.46 = 0.2450: 10.957 x 0.2450 x 0.9440 = 2.53 A; a wire with 1 A passes whatever its bundle
    [verdict] = judged(document(1, bundle="{}", more="length: 4 ft"), "wire-ampacity")
    assert (verdict.outcome, verdict.limit) == ("meets", pytest.approx(2.53, abs=0.01))
    [verdict] = judged(document(4, bundle="{}", more="length: 4 ft"), "wire-ampacity")
    assert verdict.outcome == "undetermined"
    assert "free_air" in verdict.missing[0]


def test_altitude_left_open_is_the_highest_there_is(judged):
    text = document(4, ceiling="unknown", bundle="{}", more="length: 4 ft, free_air: yes")
    [verdict] = judged(text, "wire-ampacity")
    # sqrt(0.48 + 0.52 sqrt(0.0708)) = 0.7863 at 60000 ft: 10.957 x 0.7863 = 8.62 A
    assert (verdict.outcome, verdict.limit) == ("meets", pytest.approx(8.62, abs=0.02))


@pytest.mark.parametrize(
    ("more", "missing"),
    [
        ({"ambient": "unknown"}, "temperature of the zone"),
        ({"bundle": "{wires: 60, load_share: 20 %}"}, "current limit of a bundle of more than 40 wires"),
        ({"ceiling": "61000 ft"}, "from its own sheet"),
    ],
)
def test_outside_the_data_is_undetermined(judged, more, missing):
    if more.get("ambient") == "unknown":
        text = document(4).replace(", temperature: {lowest: 0 degC, highest: 70 degC}", "")
    else:
        text = document(4, **more)
    [verdict] = judged(text, "wire-ampacity")
    assert verdict.outcome == "undetermined"
    assert missing in verdict.missing[0]


def test_load_of_no_stated_current_is_undetermined(judged):
    text = document(4).replace("current: 4 A, ", "")
    [verdict] = judged(text, "wire-ampacity")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("current of the load",))


def test_signal_leads_are_no_concern_of_ampacity(judged):
    text = """
zones: {cabin: {occupied: yes}}
senders: {bulb: {principle: resistance bulb, curve: {law: Pt100}, terminals: [A, B], zone: cabin}}
indicators: {gauge: {principle: electronic resistance, terminals: [A, B], zone: cabin}}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, gauge: 22 AWG, part: AS22759/16, length: 3 ft}
"""
    assert judged(text, "wire-ampacity") == []


def test_more_than_any_surroundings_allow_is_certain_whatever_is_left_open(judged):
    # no ceiling, no bundle: at best alone at sea level, 1.225 sqrt(80) = 10.96 A, and 15 percent over 12.6 A
    text = document(15, ceiling="unknown", bundle="{}", more="length: 4 ft")
    [verdict] = judged(text, "wire-ampacity")
    assert (verdict.outcome, verdict.limit) == ("discrepancy", pytest.approx(10.96, abs=0.01))
    assert "at best" in verdict.message
    [verdict] = judged(text.replace("15 A", "12 A"), "wire-ampacity")
    assert verdict.outcome == "undetermined"


def test_more_than_any_wire_bears_is_certain_in_an_unknown_place(judged):
    # neither zone nor rating: 260 degC at a mild 20 degC, 1.225 sqrt(240) x 0.9440 = 17.91 A; 15 percent over 20.6 A
    text = document(25, part="unknown", more="metal: copper, length: 4 ft").replace(
        ", temperature: {lowest: 0 degC, highest: 70 degC}", ""
    )
    [verdict] = judged(text, "wire-ampacity")
    assert (verdict.outcome, verdict.limit) == ("discrepancy", pytest.approx(17.91, abs=0.01))


def eight(bundle):
    """Eight wires of 20 AWG side by side in one bundle, 7 A in each."""
    names = range(8)
    loads = ", ".join(f"l{i}: {{current: 7 A, zone: cabin, terminals: ['+']}}" for i in names)
    protectors = ", ".join(f"b{i}: {{kind: breaker, rating: 10 A, zone: cabin}}" for i in names)
    runs = "\n".join(
        f"  W{i}: {{from: b{i}.out, to: l{i}.+, part: AS22759/16, gauge: 20 AWG, length: 4 ft, bundle: b}}"
        for i in names
    )
    return f"""
aircraft: {{system_voltage: 14 V, ceiling: 14000 ft}}
zones: {{cabin: {{occupied: yes, temperature: {{lowest: 0 degC, highest: 70 degC}}}}}}
supplies: {{{protectors}}}
loads: {{{loads}}}
bundles: {{b: {bundle}}}
wire_runs:
{runs}
"""


def test_the_currents_of_the_runs_outweigh_the_share_stated(judged):
    # 1.633 sqrt(80) = 14.61 A, (1 + 0.52 x 7)^-0.46 = 0.4937, 0.937 at 14000 ft: 6.76 A with all in use; 8 x 7 A = 56 A is
    # more than the 8 x 6.76 A = 54 A of the whole bundle, so it is not loaded to 10 percent
    verdicts = judged(eight("{wires: 8, load_share: 10 %}"), "wire-ampacity")
    assert {(v.outcome, round(v.limit, 2)) for v in verdicts} == {("advisory", 6.76)}
    assert "more than the share it states" in verdicts[0].message


def test_more_runs_than_wires_stated_leave_the_bundle_open(judged):
    for verdict in judged(eight("{wires: 2, load_share: 100 %}"), "wire-ampacity"):
        assert verdict.outcome == "undetermined"
        assert verdict.missing == ("number of wires in the bundle that agrees with the runs listed in it",)


PARALLEL = """
aircraft: {{system_voltage: 14 V, ceiling: 12500 ft}}
zones: {{cabin: {{occupied: yes, temperature: {{lowest: 0 degC, highest: 50 degC}}}}}}
supplies:
  battery: {{kind: battery, zone: cabin}}
  avionics contactor: {{kind: contactor, coil_current: 1 A, zone: cabin}}
  avionics bus: {{kind: bus, zone: cabin}}
  a: {{kind: breaker, rating: 10 A, zone: cabin}}
  b: {{kind: breaker, rating: 15 A, zone: cabin}}
  c: {{kind: breaker, rating: 7.5 A, zone: cabin}}
wire_runs:
  M1: {{from: battery.+, to: avionics contactor.in, part: AS22759/16, gauge: 4 AWG, length: 2 ft, free_air: yes}}
  M2: {{from: battery.+, to: avionics contactor.coil +, part: AS22759/16, gauge: 20 AWG, length: 3 ft, free_air: yes}}
  F1: {{from: avionics contactor.out, to: avionics bus, part: AS22759/16, gauge: {gauge}, length: 2 ft, free_air: yes}}
  F2: {{from: avionics contactor.out, to: avionics bus, part: AS22759/16, gauge: {gauge}, length: 2 ft, free_air: yes}}
  B1: {{from: avionics bus, to: a.in, part: AS22759/16, gauge: 16 AWG, length: 3 in}}
  B2: {{from: avionics bus, to: b.in, part: AS22759/16, gauge: 16 AWG, length: 3 in}}
  B3: {{from: avionics bus, to: c.in, part: AS22759/16, gauge: 16 AWG, length: 3 in}}
"""


def test_two_parallel_feeds_with_one_open(judged):
    [verdict] = judged(PARALLEL.format(gauge="12 AWG"), "parallel-wires")
    # breakers of 10 + 15 + 7.5 = 32.5 A, 16.25 A each; table 11-3 allows 30 A on 12 AWG, 40 A on 10 AWG
    assert (verdict.outcome, verdict.value, verdict.limit) == ("discrepancy", 32.5, 30)
    assert "16.2 A in each" in verdict.message
    assert verdict.remedy.startswith("use 10 AWG")
    assert set(verdict.at) == {"F1", "F2"}


def test_each_parallel_feed_bears_all_of_it(judged):
    [verdict] = judged(PARALLEL.format(gauge="10 AWG"), "parallel-wires")
    assert (verdict.outcome, verdict.limit, verdict.margin) == ("meets", 40, 7.5)


def test_parallel_feeds_of_unknown_gauge(judged):
    text = (
        PARALLEL.format(gauge="12 AWG")
        .replace("gauge: 12 AWG", "temperature_rating: 150 degC")
        .replace("bus, part: AS22759/16, temp", "bus, temp")
    )
    [verdict] = judged(text, "parallel-wires")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("gauge of the run",))


HOT = """
zones: {{engine: {{temperature: {{lowest: -20 degC, highest: {hot}}}}}}}
probes: {{p: {{thermocouple: K, zone: engine}}}}
indicators: {{gauge: {{terminals: ['+', '-'], zone: engine}}}}
wire_runs: {{W1: {{from: p.+, to: gauge.+, {spec}, gauge: 20 AWG, length: 3 ft}}}}
"""


def test_wire_rated_for_its_zone(judged):
    [verdict] = judged(HOT.format(hot="110 degC", spec="part: AS22759/16"), "wire-temperature")
    assert (verdict.outcome, verdict.margin, verdict.unit) == ("meets", pytest.approx(40), "degC")


def test_wire_too_cool_for_its_zone(judged):
    [verdict] = judged(HOT.format(hot="110 degC", spec="part: copper wire 105 degC"), "wire-temperature")
    assert verdict.outcome == "discrepancy"
    assert (verdict.value, verdict.limit, verdict.margin) == (
        pytest.approx(110),
        pytest.approx(105),
        pytest.approx(-5),
    )


AT_A_POINT = "operating_points: {cruise: {zone_temperatures: {engine: %s}}}\n"


def test_one_point_is_not_the_hottest_a_zone_gets(judged):
    text = HOT.format(hot="25 degC", spec="part: AS22759/16").replace(
        "temperature: {lowest: -20 degC, highest: 25 degC}", ""
    )
    [verdict] = judged(AT_A_POINT % "25 degC" + text, "wire-temperature")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("temperature of the zone",))
    # and 160 degC at one point is too much for 150 degC, however hot it gets elsewhere
    [verdict] = judged(AT_A_POINT % "160 degC" + text, "wire-temperature")
    assert (verdict.outcome, verdict.margin) == ("discrepancy", pytest.approx(-10))


def test_wire_of_unknown_rating(judged):
    [verdict] = judged(HOT.format(hot="110 degC", spec="metal: copper"), "wire-temperature")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("temperature rating of the wire",))


def test_plating_is_asked_for_above_105_degc(judged):
    assert judged(HOT.format(hot="100 degC", spec="part: AS22759/16"), "conductor-plating") == []
    [verdict] = judged(HOT.format(hot="120 degC", spec="part: AS22759/16"), "conductor-plating")
    assert (verdict.outcome, verdict.limit, verdict.margin) == ("meets", 150, pytest.approx(30))
    [verdict] = judged(HOT.format(hot="180 degC", spec="part: AS22759/16"), "conductor-plating")
    assert (verdict.outcome, verdict.margin) == ("advisory", pytest.approx(-30))
    [verdict] = judged(HOT.format(hot="180 degC", spec="temperature_rating: 200 degC"), "conductor-plating")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("metal and plating of the conductor",))


PLATED = """
aircraft: {{system_voltage: 14 V, ceiling: 12500 ft}}
zones: {{bay: {{temperature: {{lowest: 0 degC, highest: 120 degC}}}}}}
supplies: {{bus: {{kind: bus, zone: bay}}}}
loads: {{pump: {{current: {amps}, zone: bay, terminals: ['+']}}}}
wire_runs: {{W1: {{from: bus, to: pump.+, metal: tin-plated copper, gauge: 20 AWG, temperature_rating: {rating}, length: 4 ft, free_air: yes}}}}
"""


@pytest.mark.parametrize(
    ("amps", "rating", "outcome"),
    [
        ("unknown", "150 degC", "meets"),  # at most 150 degC, whatever flows, and tin lasts that long
        ("unknown", "200 degC", "undetermined"),  # 120 to 200 degC
        ("1 A", "unknown", "undetermined"),
        # 120 + (200 - 120) sqrt(1 / (1.633 sqrt(80) x 0.944)) = 120 + 80 x 0.269 = 142 degC
        ("1 A", "200 degC", "meets"),
        # sqrt(6 / 13.79) = 0.660: 173 degC
        ("6 A", "200 degC", "advisory"),
    ],
)
def test_plating_by_what_its_conductor_can_reach(judged, amps, rating, outcome):
    [verdict] = judged(PLATED.format(amps=amps, rating=rating), "conductor-plating")
    assert verdict.outcome == outcome


def test_a_supply_of_no_stated_kind_may_drive_a_wire(judged):
    text = """
aircraft: {system_voltage: 14 V, ceiling: 12500 ft}
zones: {cabin: {temperature: {lowest: 0 degC, highest: 50 degC}}}
supplies: {battery: {kind: battery, zone: cabin}, alternator: {kind: unknown, rated_current: 60 A, zone: cabin}, bus: {kind: bus, zone: cabin}}
wire_runs:
  P1: {from: battery.+, to: bus, part: AS22759/16, gauge: 10 AWG, length: 4 ft, free_air: yes}
  P2: {from: alternator.+, to: bus, part: AS22759/16, gauge: 10 AWG, length: 4 ft, free_air: yes}
"""
    verdicts = {v.at[0]: v for v in judged(text, "wire-ampacity")}
    assert verdicts["P2"].outcome == "undetermined"
    assert "kind of the supply" in verdicts["P2"].missing
