import pytest

THREE_WIRE = """
zones: {{engine: {{}}, cabin: {{}}}}
engines: {{engine: {{speed: 2700 rpm{engine}}}}}
senders: {{generator: {{principle: tachometer generator, measures: engine speed, terminals: ['1', '2', '3'], poles: {poles}{sender}, zone: engine}}}}
indicators: {{tach: {{principle: synchronous tachometer, terminals: [a, b, c], poles: 4, generator_poles: 2, engine_ratio: 2, budget: 50 rpm, zone: cabin}}}}
wire_runs:
  A: {{from: generator.1, to: tach.{a}}}
  B: {{from: generator.2, to: tach.{b}}}
  C: {{from: generator.3, to: tach.{c}}}
"""


def three_wire(*, engine="", sender=", drive_ratio: 2", poles=2, order="abc"):
    a, b, c = order
    return THREE_WIRE.format(engine=engine, sender=sender, poles=poles, a=a, b=b, c=c)


def test_ratio_as_made_for(judged):
    [verdict] = judged(three_wire(), "tachometer-ratio")
    assert verdict.outcome == "meets"
    assert (verdict.value, verdict.limit, verdict.margin) == tuple(
        pytest.approx(x, abs=1e-6) for x in (0, 50, 50)
    )


def test_drive_at_engine_speed(judged):
    [verdict] = judged(three_wire(sender=", drive_ratio: 1"), "tachometer-ratio")
    assert verdict.outcome == "discrepancy"
    # 2700 x 2/1 = 5400 shown: 2700 too many, 50 allowed
    assert (verdict.value, verdict.margin) == (pytest.approx(2700), pytest.approx(50 - 2700))
    assert verdict.path == ("senders", "generator", "drive_ratio")


def test_ratio_written_upside_down(judged):
    [verdict] = judged(three_wire(sender=", drive_ratio: 0.5"), "tachometer-ratio")
    assert "write drive_ratio: 2" in verdict.remedy


def test_generator_with_other_poles(judged):
    [verdict] = judged(three_wire(poles=4), "tachometer-ratio")
    # twice the frequency: 5400 shown
    assert verdict.value == pytest.approx(2700)
    assert "has 4 poles and it is made for 2" in verdict.message


def test_drive_of_the_engine_stands_in_or_contradicts(judged):
    engine = ", tachometer_drive: 2"
    assert judged(three_wire(engine=engine, sender=""), "tachometer-ratio")[0].outcome == "meets"
    [verdict] = judged(three_wire(engine=engine, sender=", drive_ratio: 1"), "tachometer-ratio")
    assert "the drive of engine engine turns once in 2" in verdict.message


def test_no_ratio(judged):
    [verdict] = judged(three_wire(sender=""), "tachometer-ratio")
    assert verdict.outcome == "undetermined"
    assert len(verdict.missing) == 1


def sense(judged, order, drive="clockwise", made="anticlockwise"):
    # A drive that turns clockwise seen from outside turns the generator anticlockwise seen from its shaft end.
    engine = f", drive_sense: {drive}" if drive else ""
    sender = f", drive_ratio: 2, sense: {made}" if made else ""
    [verdict] = judged(three_wire(engine=engine, sender=sender, order=order), "tachometer-sense")
    return verdict


@pytest.mark.parametrize("order", ["abc", "bca", "cab"])
def test_leads_moved_on_keep_the_sense(judged, order):
    assert sense(judged, order).outcome == "meets"
    assert sense(judged, order, drive="anticlockwise").outcome == "discrepancy"


@pytest.mark.parametrize("order", ["acb", "bac", "cba"])
def test_two_leads_exchanged_reverse_it(judged, order):
    verdict = sense(judged, order)
    assert verdict.outcome == "discrepancy"
    assert verdict.remedy == "exchange any two of the three leads"
    assert sense(judged, order, drive="anticlockwise").outcome == "meets"


def test_sense_not_said(judged):
    verdict = sense(judged, "abc", drive="")
    assert verdict.outcome == "undetermined"
    assert verdict.missing == ("sense of the tachometer drive ('drive_sense' of the engine)",)
    assert len(sense(judged, "acb", drive="", made="").missing) == 2


def test_a_lead_is_not_joined(judged):
    text = three_wire().replace("  C: {from: generator.3, to: tach.c}\n", "")
    [verdict] = judged(text, "tachometer-sense")
    assert verdict.outcome == "discrepancy"
    assert "2 of three leads" in verdict.message


PULSES = """
zones: {{engine: {{}}, cabin: {{}}}}
engines: {{engine: {{speed: 2700 rpm}}}}
senders: {{pick-up: {{principle: pulse pick-up, measures: engine speed, terminals: [s, g]{given}, zone: engine}}}}
indicators: {{tach: {{principle: pulse counter, measures: engine speed, terminals: [s, g], max_pulse_rate: 500 Hz{expected}, zone: cabin}}}}
wire_runs: {{S: {{from: pick-up.s, to: tach.s}}, G: {{from: pick-up.g, to: tach.g}}}}
"""


def pulses(given, expected):
    one = f", pulses_per_revolution: {given}" if given else ""
    return PULSES.format(given=one, expected=f", pulses_per_revolution: {expected}" if expected else "")


def test_pulses_counted_as_given(judged):
    [verdict] = judged(pulses(2, 2), "pulse-count")
    assert verdict.outcome == "meets"


def test_pulses_counted_wrong(judged):
    [verdict] = judged(pulses(2, 4), "pulse-count")
    assert verdict.outcome == "discrepancy"
    # 2700 x 2/4 = 1350
    assert verdict.value == pytest.approx(1350)
    assert verdict.remedy == "set tach to 2 pulses per revolution"


def test_pulses_not_said(judged):
    [verdict] = judged(pulses(2, None), "pulse-count")
    assert verdict.outcome == "undetermined"
    [verdict] = judged(pulses(None, 2), "pulse-rate")
    assert verdict.outcome == "undetermined"


def test_pulse_rate(judged):
    # 2700/60 x 2 = 90 Hz; x 12 = 540 Hz; 500 x 60/2700 = 11.1 pulses at most
    [verdict] = judged(pulses(2, 2), "pulse-rate")
    assert (verdict.outcome, verdict.value, verdict.margin) == (
        "meets",
        pytest.approx(90),
        pytest.approx(410),
    )
    [verdict] = judged(pulses(12, 12), "pulse-rate")
    assert (verdict.outcome, verdict.margin) == ("discrepancy", pytest.approx(-40))
    assert "at most 11.1 pulses" in verdict.remedy


def test_poles_come_in_pairs(judged):
    [verdict] = judged(three_wire(poles=3), "tachometer-ratio")
    assert verdict.outcome == "undetermined"


def test_generator_and_drive_are_seen_from_opposite_ends(judged):
    verdict = sense(judged, "abc", drive="clockwise", made="clockwise")
    assert verdict.outcome == "discrepancy"
    assert "the generator anticlockwise seen from its shaft end" in verdict.message
    assert sense(judged, "acb", drive="clockwise", made="clockwise").outcome == "meets"
