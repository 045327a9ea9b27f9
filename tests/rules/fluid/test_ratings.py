import pytest

TEXT = """
zones: {{bay: {{{zone}}}}}
taps: {{tap: {{medium: oil, zone: bay{tap}}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P], zone: bay{sender}}}}}
fittings: {{union: {{kind: union, ports: ['1', '2'], zone: bay, rated_pressure: 500 psi}}}}
fluid_lines:
  L1: {{from: tap, to: union.1, {line}}}
  L2: {{from: union.2, to: sender.P, rated_pressure: 3000 psi}}
"""
TUBE = "kind: tube, material: 5052-O aluminium, outside_diameter: 1/4 in, wall: 0.035 in"


def text(line: str = TUBE, **words: str) -> str:
    usual = {
        "zone": "temperature: {lowest: -20 degC, highest: 85 degC}",
        "tap": ", pressure: 100 psi",
        "sender": "",
    }
    return TEXT.format(**{**usual, **words}, line=line)


def of(verdicts, ident):
    [one] = [v for v in verdicts if v.at[0] == ident]
    return one


def test_burst_of_a_tube(judged):
    verdict = of(judged(text(), "line-pressure"), "L1")
    assert verdict.outcome == "meets"
    # 2 * 25000 * 0.035/0.25 = 7000 psi, 70 times 100 psi
    assert (verdict.value, verdict.limit, verdict.margin) == (pytest.approx(70), 4, pytest.approx(66))


def test_a_tube_that_yields_at_its_proof_test(judged):
    # 2 * 9500 * 0.035/0.25 = 2660 psi; proof 2 * 1500 = 3000 psi
    verdict = of(judged(text(tap=", pressure: 1500 psi"), "line-pressure"), "L1")
    assert verdict.outcome == "discrepancy"
    assert (verdict.value, verdict.limit) == (pytest.approx(3000), pytest.approx(2660))


def test_a_rating_passed(judged):
    verdict = of(judged(text("kind: tube, material: nylon, rated_pressure: 50 psi"), "line-pressure"), "L1")
    assert verdict.outcome == "discrepancy"
    assert verdict.margin == pytest.approx(-50)


@pytest.mark.parametrize(
    ("burst", "outcome", "value", "agrees"),
    # over the 100 psi of the tap: 4 times, 1.5 times, and 0.2 times, at which it has burst
    [
        ("4000 psi", "meets", 100, "meets"),
        ("400 psi", "meets", 100, "discrepancy"),
        ("150 psi", "advisory", 1.5, "discrepancy"),
        ("20 psi", "discrepancy", 0.2, "discrepancy"),
    ],
)
def test_the_safer_of_rating_and_burst_counts(judged, burst, outcome, value, agrees):
    body = text(f"kind: hose, rated_pressure: 1000 psi, burst_pressure: {burst}")
    verdict = of(judged(body, "line-pressure"), "L1")
    assert (verdict.outcome, verdict.value) == (outcome, pytest.approx(value))
    [told_twice] = judged(body, "burst-agrees")
    assert told_twice.outcome == agrees


def test_a_line_is_rated_too_low_however_late_it_bursts(judged):
    body = text("kind: hose, rated_pressure: 50 psi, burst_pressure: 4000 psi")
    # 50 psi - 100 psi
    assert of(judged(body, "line-pressure"), "L1").margin == pytest.approx(-50)


def test_a_rubber_hose_takes_its_rating_from_its_standard(judged):
    verdict = of(
        judged(text("kind: hose, standard: MIL-H-8794, end_form: hose end -4"), "line-pressure"), "L1"
    )
    # AC 43.13-1B table 9-3: -4 works at 3000 psi
    assert (verdict.outcome, verdict.limit) == ("meets", pytest.approx(3000))


def test_neither_rating_nor_size(judged):
    assert of(judged(text("kind: hose"), "line-pressure"), "L1").outcome == "undetermined"


def test_a_tap_without_a_pressure(judged):
    verdicts = judged(text(tap=""), "line-pressure")
    assert {v.missing for v in verdicts} == {("pressure at the tap",)}


def test_suction_is_not_concerned(judged):
    assert judged(text(tap=", pressure: -4 psi"), "line-pressure") == []


def test_sender_and_fitting(judged):
    verdicts = judged(text(sender=", proof_pressure: 60 psi"), "fitting-pressure")
    assert of(verdicts, "union").margin == pytest.approx(400)
    sender = of(verdicts, "sender")
    assert (sender.outcome, sender.margin) == ("discrepancy", pytest.approx(-40))
    assert of(judged(text(), "fitting-pressure"), "sender").outcome == "undetermined"


HOSE = "kind: hose, material: rubber"


@pytest.mark.parametrize(("proof", "outcome"), [("150 psi", "meets"), ("50 psi", "discrepancy"), ("", None)])
def test_a_sender_whose_line_is_not_drawn_bears_what_the_engine_is_allowed(judged, proof, outcome):
    alone = f"""
zones: {{bay: {{}}}}
engines: {{engine: {{limits: {{oil pressure: {{maximum: 100 psi}}}}}}}}
senders: {{sender: {{measures: oil pressure, ports: [P], zone: bay{f", proof_pressure: {proof}" if proof else ""}}}}}
"""
    assert [v.outcome for v in judged(alone, "fitting-pressure")] == ([outcome] if outcome else [])


def test_a_hose_in_a_hot_zone(judged):
    zone = "temperature: {lowest: -20 degC, highest: 300 degF}"
    verdict = of(judged(text(f"{HOSE}, temperature_rating: 250 degF", zone=zone), "line-temperature"), "L1")
    assert verdict.outcome == "discrepancy"
    assert (verdict.value, verdict.margin, verdict.unit) == (pytest.approx(300), pytest.approx(-50), "degF")


def test_a_hose_in_a_cool_zone_with_hot_oil(judged):
    body = text(f"{HOSE}, temperature_rating: 250 degF", tap=", pressure: 60 psi, temperature: 110 degC")
    verdict = of(judged(body, "line-temperature"), "L1")
    # 110 degC is 230 degF
    assert (verdict.outcome, verdict.value) == ("meets", pytest.approx(230))


def test_a_hose_without_a_rating_or_a_zone_without_a_temperature(judged):
    assert of(judged(text(HOSE), "line-temperature"), "L1").missing == ("temperature rating of the line",)
    body = text(f"{HOSE}, temperature_rating: 250 degF", zone="vibrates: no")
    assert of(judged(body, "line-temperature"), "L1").missing == ("temperature of the zone",)


@pytest.mark.parametrize("tap", [", pressure: 60 psi", ", pressure: 60 psi, temperature: unknown"])
def test_a_hose_whose_oil_is_of_unknown_heat(judged, tap):
    body = text(f"{HOSE}, temperature_rating: 250 degF", tap=tap)
    assert of(judged(body, "line-temperature"), "L1").missing == ("temperature of the fluid at the tap",)


def test_metal_tube_is_not_concerned(judged):
    assert judged(text(), "line-temperature") == []


ENGINE = """
engines: {{engine: {{limits: {{oil pressure: {{maximum: 115 psi}}}}}}}}
operating_points: {{cold start: {{readings: {{oil pressure: {reading}}}}}}}
"""


@pytest.mark.parametrize(
    ("tap", "reading", "highest"),
    [
        # the highest of what the tap, the engine's limit and a reading say; all at the gallery
        (", location: gallery, pressure: 60 psi", "70 psi", 115),
        (", location: gallery, pressure: 60 psi", "140 psi", 140),
        (", location: gallery, pressure: 60 psi, max_pressure: 150 psi", "140 psi", 150),
        # the pressure of the gallery does not stand in the sump
        (", location: sump, pressure: 60 psi", "140 psi", 60),
    ],
)
def test_the_highest_pressure_that_can_occur(judged, tap, reading, highest):
    body = ENGINE.format(reading=reading) + text("kind: hose, rated_pressure: 1000 psi", tap=tap)
    assert of(judged(body, "line-pressure"), "L1").value == pytest.approx(highest)


@pytest.mark.parametrize(
    "line",
    [
        f"{TUBE}, rated_pressure: unknown",
        f"{TUBE}, burst_pressure: unknown",
        "kind: hose, standard: MIL-H-8794, end_form: hose end -4, rated_pressure: unknown",
    ],
)
def test_a_pressure_said_to_be_unknown_is_not_worked_out(judged, line):
    verdict = of(judged(text(line), "line-pressure"), "L1")
    assert verdict.outcome == "undetermined"
    assert "rated pressure of the line" in verdict.missing[0]


def test_a_highest_pressure_said_to_be_unknown(judged):
    body = text(tap=", pressure: 60 psi, max_pressure: unknown")
    assert of(judged(body, "line-pressure"), "L1").missing == ("pressure at the tap",)
    assert of(judged(body, "fitting-pressure"), "union").missing == ("pressure at the tap",)


def test_a_fitting_whose_pressure_is_said_to_be_unknown(judged):
    body = text().replace("rated_pressure: 500 psi", "rated_pressure: unknown")
    assert of(judged(body, "fitting-pressure"), "union").missing == ("working pressure of the fitting",)


@pytest.mark.parametrize("size", ["wall: 0.2 in", "wall: 0.035 in, bore: 0.150 in", "bore: 0.26 in"])
def test_three_figures_that_do_not_go_together(judged, size):
    # 1/4 in outside: two walls of 0.2 in are 0.4 in; of 0.035 in they leave 0.180 in, 0.008 in at most off
    line = f"kind: tube, material: 5052-O aluminium, outside_diameter: 1/4 in, {size}"
    assert of(judged(text(line), "line-size"), "L1").outcome == "discrepancy"
    assert of(judged(text(line), "line-pressure"), "L1").outcome == "undetermined"


def test_figures_that_go_together(judged):
    line = "kind: tube, outside_diameter: 1/4 in, wall: 0.035 in, bore: 0.18 in"
    assert of(judged(text(line), "line-size"), "L1").outcome == "meets"
