"""What indicators show at a known true value, and the fault the figures point to."""

import pytest

DOC = """
installation: {name: test}
zones: {engine: {}, cabin: {}}
senders:
  bulb: {principle: resistive, terminals: [A, B], zone: engine, measures: oil pressure, curve: {points: [[0 psi, 10 ohm], [100 psi, 210 ohm]]}}
probes: {head probe: {thermocouple: K, resistance: 0.5 ohm, zone: engine, measures: head temperature}}
indicators:
  gauge:
    {principle: electronic resistance, measures: oil pressure, terminals: [A, B], zone: cabin, budget: 5 psi, excitation: 5 V,
    pull_up: 200 ohm, ratiometric: yes, curve: {points: [[0 psi, 10 ohm], [100 psi, 210 ohm]]}}
  head gauge: {principle: electronic thermocouple, thermocouple: K, measures: head temperature, terminals: [+, '-'], zone: cabin, budget: 10 degF, compensation: at its terminals}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, part: AS22759/16, gauge: 20 AWG, route: [{zone: engine, length: 5 ft}, {zone: cabin, length: 5 ft}]}
  W2: {from: bulb.B, to: gauge.B, part: AS22759/16, gauge: 20 AWG, route: [{zone: engine, length: 5 ft}, {zone: cabin, length: 5 ft}]}
  T1:
    {part: thermocouple lead K, gauge: 20 AWG, route: [{zone: engine, length: 5 ft}, {zone: cabin, length: 5 ft}],
    conductors: {+: {from: head probe.+, to: head gauge.+}, '-': {from: 'head probe.-', to: 'head gauge.-'}}}
measured:
"""


def seen(judged, *values):
    return judged(DOC + "".join(f"  - {{{value}}}\n" for value in values), "indication-agrees")


def test_a_reading_within_its_budget(judged):
    # leads of 0.198 ohm at 2 ohm a psi: 0.1 psi
    [one] = seen(judged, "of: gauge, value: 52 psi, true_value: 50 psi")
    assert one.outcome == "meets"
    assert (one.value, one.limit, one.unit) == (pytest.approx(1.9, abs=0.02), pytest.approx(5), "psi")


def test_a_reading_out_of_budget_in_ohms(judged):
    # 60 psi shown where 50.1 is computed: 9.9 psi at 2 ohm a psi: 19.8 ohm
    [one] = seen(judged, "of: gauge, value: 60 psi, true_value: 50 psi")
    assert one.outcome == "discrepancy"
    assert "19.8 ohm more in its circuit" in one.remedy


@pytest.mark.parametrize(
    ("shown", "cause"),
    [
        ("-70 degF", "the two legs of T1 are crossed"),  # 68 degF ambient, 212 true: 68 - 144 = -76
        ("70 degF", "touch each other"),  # the terminals, at 68 degF
        (
            "150 degF",
            "loose in its seat, or cooling air washes it: 50 to 65 %",
        ),  # (150 - 68) / (212 - 68) = 57 %
        ("300 degF", "another probe than drawn is fitted for head probe: one of type E"),
    ],
)
def test_thermocouples_in_boiling_water(judged, shown, cause):
    [one] = seen(judged, f"of: head gauge, value: {shown}, true_value: 212 degF, at_temperature: 68 degF")
    assert one.outcome == "discrepancy"
    assert cause in one.remedy
    assert "copper" not in one.remedy  # all wiring is at one temperature: its metal does nothing


def test_a_sound_thermocouple_in_boiling_water(judged):
    [one] = seen(judged, "of: head gauge, value: 210 degF, true_value: 212 degF, at_temperature: 68 degF")
    assert one.outcome == "meets"


def test_an_open_channel_names_the_wires_to_ring_out(judged):
    [one] = seen(judged, "of: gauge, value: open")
    assert one.outcome == "discrepancy"
    assert "W1, W2" in one.remedy


def test_without_the_true_value_nothing_is_said(judged):
    [one] = seen(judged, "of: gauge, value: 50 psi")
    assert one.outcome == "undetermined"
    assert "true value" in one.missing[0]


def plugged(*results):
    """Six bulbs, each by a pair of cavities of one 14-cavity plug: channel n in 2n - 1 and 2n; 13 and 14 are empty."""
    lines = ["installation: {name: test}", "zones: {cabin: {}}", "senders:"]
    curve = "{points: [[0 degF, 100 ohm], [300 degF, 200 ohm]]}"
    lines += [
        f"  bulb {n}: {{principle: resistive, measures: oil temperature, terminals: [A, B], zone: cabin, curve: {curve}}}"
        for n in range(1, 7)
    ]
    lines += ["indicators:", "  monitor:", "    zone: cabin", "    inputs:"]
    lines += [
        f"      c{n}: {{principle: electronic resistance, measures: oil temperature, terminals: [{n}A, {n}B], excitation: 5 V, "
        f"pull_up: 200 ohm, ratiometric: yes, budget: 5 degF, curve: {curve}}}"
        for n in range(1, 7)
    ]
    pins = ", ".join(f"'{p}'" for p in range(1, 15))
    lines += [
        "junctions:",
        f"  P1: {{kind: plug, zone: cabin, terminals: [{pins}], mates: J1}}",
        f"  J1: {{kind: plug, zone: cabin, terminals: [{pins}]}}",
        "wire_runs:",
    ]
    for n in range(1, 7):
        for side, pin in (("A", 2 * n - 1), ("B", 2 * n)):
            more = "part: AS22759/16, gauge: 22 AWG, route: [{zone: cabin, length: 2 ft}]"
            lines.append(f"  S{n}{side}: {{from: bulb {n}.{side}, to: P1.{pin}, {more}}}")
            lines.append(f"  M{n}{side}: {{from: J1.{pin}, to: monitor.{n}{side}, {more}}}")
    lines.append("measured:")
    for n, good in enumerate(results, start=1):
        value = "70 degF, true_value: 70 degF" if good else "open"
        lines.append(f"  - {{of: monitor.c{n}, what: indication, value: {value}}}")
    return "\n".join(lines)


def test_one_empty_cavity_shifts_five_pins(judged):
    """Channels 4, 5 and 6 are bad and 1 to 3 good; cavities 8 to 12 or 7 to 12 each one towards the empty 13 explain it."""
    verdicts = judged(plugged(True, True, True, False, False, False), "indication-agrees")
    assert [v.outcome for v in verdicts] == ["meets"] * 3 + ["discrepancy"] * 3
    words = verdicts[3].remedy
    assert "P1 cavities 8 to 12 are each one off towards 13" in words
    assert "P1 cavities 7 to 12 are each one off towards 13" in words
    assert "cavities 9 to" not in words, "channel 4 would then be good"


def test_scattered_bad_channels_are_no_shift(judged):
    verdicts = judged(plugged(False, True, True, False, True, True), "indication-agrees")
    assert "cavities" not in verdicts[0].remedy


def test_a_sender_without_terminals_is_undetermined(judged):
    text = """
senders: {bulb: {}}
indicators: {gauge: {principle: electronic resistance, terminals: [B], curve: {points: [[0 psi, 10 ohm], [100 psi, 210 ohm]]}}}
wire_runs: {W2: {from: bulb.B, to: gauge.B}}
measured: [{of: gauge, value: 60 psi, true_value: 50 psi}]
"""
    [one] = judged(text, "indication-agrees")
    assert one.outcome == "undetermined"


DIRECT = """
zones: {engine: {}, cabin: {}}
taps: {plenum: {medium: fuel-air mixture, zone: engine}}
indicators:
  gauge: {principle: direct pressure, measures: manifold pressure, ports: [P], zone: cabin, budget: 1 inHg}
  tachometer: {principle: pulse counter, measures: engine speed, terminals: [A], pulses_per_revolution: 2, zone: cabin, budget: 50 rpm}
senders: {pick-up: {principle: pulse pick-up, terminals: [A], pulses_per_revolution: 2, zone: engine}}
fluid_lines: {line: {from: plenum, to: gauge.P, medium: fuel-air mixture, route: [{zone: engine, length: 4 ft}]}}
wire_runs: {W1: {from: pick-up.A, to: tachometer.A, length: 5 ft}}
"""


def test_a_direct_gauge_is_held_against_its_true_value(judged):
    told = "measured: [{of: gauge, what: indication, value: 28.8 inHg, true_value: 29 inHg}]\n"
    [sound] = judged(DIRECT + told, "indication-agrees")
    [low] = judged(DIRECT + told.replace("28.8", "16"), "indication-agrees")
    assert (sound.outcome, low.outcome) == ("meets", "discrepancy")
    assert (low.value, low.limit) == (pytest.approx(13), pytest.approx(1))
    assert "line is blocked" in low.remedy
    assert "leaks" not in low.remedy  # a leak lets in the outside, where 29.92 inHg stand


def test_a_tachometer_that_counts_its_neighbours(judged):
    [one] = judged(
        DIRECT + "measured: [{of: tachometer, what: indication, value: 7200 rpm, true_value: 2400 rpm}]\n",
        "indication-agrees",
    )
    assert (one.outcome, one.value) == ("discrepancy", pytest.approx(4800))
    assert "3 times what is true" in one.remedy


def test_as_expected_is_held_against_the_figures(judged):
    said_wrong, said_right, only_said = seen(
        judged,
        "of: gauge, value: 52 psi, true_value: 50 psi, as_expected: no",
        "of: gauge, value: 60 psi, true_value: 50 psi, as_expected: yes",
        "of: gauge, value: 60 psi, as_expected: no",
    )
    assert {v.outcome for v in (said_wrong, said_right, only_said)} == {"discrepancy"}
    assert "not as it should be" in said_wrong.message
    assert "took it for right" in said_right.message
    assert "not as it should be" in only_said.message


@pytest.mark.parametrize(
    ("value", "told", "excluded"),
    [
        ("51 psi", "bulb has drifted", "gauge itself is off"),
        ("60 psi", "gauge itself is off", "bulb has drifted"),
    ],
)
def test_a_swap_test_tells_on_which_side_the_fault_is(judged, value, told, excluded):
    wrong, _ = seen(
        judged,
        "of: gauge, value: 60 psi, true_value: 50 psi",
        f"of: gauge, value: {value}, true_value: 50 psi, swapped_for: bulb",
    )
    assert told in wrong.remedy
    assert excluded not in wrong.remedy


@pytest.mark.parametrize(("shown", "outcome"), [("3 psi", "meets"), ("12 psi", "discrepancy")])
def test_pressure_with_the_engine_stopped_is_nothing(judged, shown, outcome):
    [one] = seen(judged, f"of: gauge, what: engine-off indication, value: {shown}")
    assert one.outcome == outcome
    # the leads of 0.198 ohm at 2 ohm a psi are 0.1 psi of what is shown
    assert one.value == pytest.approx(float(shown.split()[0]) - 0.1, abs=0.02)


def test_a_temperature_with_the_engine_stopped_has_to_be_read(judged):
    [one] = seen(judged, "of: head gauge, what: engine-off indication, value: 90 degF")
    assert (one.outcome, one.missing) == ("undetermined", ("true value at the time ('true_value')",))
    [one] = seen(judged, "of: head gauge, what: engine-off indication, value: 90 degF, true_value: 68 degF")
    assert one.outcome == "discrepancy"


def test_an_oil_pressure_of_a_monitor_is_not_held_to_the_barometer(judged):
    text = """
installation: {name: test}
aircraft: {field_elevation: 0 ft}
zones: {cabin: {}}
indicators:
  monitor:
    zone: cabin
    inputs:
      oil: {principle: voltage, measures: oil pressure, terminals: [A, B], scale: {lowest: 0 psi, highest: 100 psi}}
      manifold: {principle: voltage, measures: manifold pressure, terminals: [C, D], scale: {lowest: 0 inHg, highest: 35 inHg}}
measured:
  - {of: monitor.oil, what: engine-off indication, value: 0 psi}
  - {of: monitor.manifold, what: engine-off indication, value: 16 inHg}
"""
    [one] = judged(text, "manifold-gauge-engine-off")
    assert (one.outcome, one.path) == ("discrepancy", ("measured", 1))
