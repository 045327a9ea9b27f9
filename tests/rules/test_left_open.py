"""What a word that is unknown, or told otherwise elsewhere, leaves open in the demos: no budget is kept on it."""

import pytest
from harm import applied, right
from installations import read

from installcheck import check
from installcheck.model.edits import Drop, Edit, Put, Swap

BUDGETS = ("indication-within-budget", "true-at-the-limit")


def outcomes(name, change, rules, ident):
    document = read(applied(right(name), Edit((change,), "change it")))
    return {
        (v.rule, str(v.outcome)) for v in check(document).verdicts if v.rule in rules and v.at[0] == ident
    }


@pytest.mark.parametrize(
    "change",
    [
        Put(("engines", "engine", "tachometer_drive"), "unknown"),
        Put(("senders", "tachometer generator", "drive_ratio"), "unknown"),
        # one revolution in two, and one in one: one of the two is wrong, and the pointer may show double
        Put(("engines", "engine", "tachometer_drive"), 1),
    ],
)
def test_no_tachometer_is_true_on_a_drive_that_is_not_known(change):
    told = outcomes("retrofit_corrected", change, BUDGETS, "tachometer")
    assert told == {(rule, "undetermined") for rule in BUDGETS}


@pytest.mark.parametrize("zone", ["cabin", "engine bay", "engine"])
def test_no_exhaust_gauge_is_true_in_a_zone_of_unknown_temperature(zone):
    change = Put(("operating_points", "idle", "zone_temperatures", zone), "unknown")
    told = outcomes("retrofit_corrected", change, BUDGETS, "exhaust gauge")
    assert not {(rule, "meets") for rule in BUDGETS} & told


@pytest.mark.parametrize(
    ("change", "outcome"),
    [
        (Put(("wire_runs", "L82", "from"), "main bus"), "discrepancy"),
        (Put(("wire_runs", "L82", "from"), "battery.+"), "discrepancy"),
        (Put(("wire_runs", "L83", "to"), "synchro bus"), "discrepancy"),
        # an alternator that tells no frequency gives direct current
        (Put(("wire_runs", "L82", "from"), "left alternator.+"), "discrepancy"),
        (Drop(("wire_runs", "L82")), "discrepancy"),
        # the bus of the rotors is fed by nothing that is drawn
        (Drop(("wire_runs", "B9")), "undetermined"),
        (Drop(("wire_runs", "B6")), "undetermined"),
        (Put(("wire_runs", "L40", "from"), "right instrument breaker.out"), "meets"),
    ],
)
def test_no_synchro_is_powered_by_what_does_not_excite_it(change, outcome):
    told = outcomes("twin", change, ("required-powered",), "left oil pressure")
    assert told == {("required-powered", outcome)}


@pytest.mark.parametrize(
    ("changes", "outcome"),
    [
        ((), "meets"),
        # screws of copper at one temperature do no harm, and whether they are nobody says
        ((("metal", "copper"), ("isothermal", "yes")), "meets"),
        ((("metal", "copper"), ("isothermal", "no")), "undetermined"),
        (
            (("metal", "copper"), ("isothermal", "no"), ("pin_temperature_difference", "10 degC")),
            "discrepancy",
        ),
    ],
)
def test_what_is_written_of_a_joint_goes_before_the_pins_of_its_part(changes, outcome):
    puts = tuple(Put(("junctions", "head block", word), value) for word, value in changes)
    document = read(applied(right("retrofit_corrected"), Edit(puts, "change it")))
    told = {
        v.outcome
        for v in check(document).verdicts
        if v.rule == "thermocouple-joints" and v.at[0] == "head block"
    }
    assert told == {outcome}


def test_no_plastic_fitting_bears_fire_whatever_its_part_says():
    change = Put(("fittings", "oil adapter", "material"), "plastic")
    told = outcomes("retrofit_corrected", change, ("fire-zone-fitting",), "oil adapter")
    assert told == {("fire-zone-fitting", "discrepancy")}


def test_a_gauge_on_the_sender_of_another_is_not_judged_at_its_limit_by_what_that_one_senses():
    """Ohms of a pressure sender make the temperature gauge show something, but no error of a temperature in degrees."""
    exchange = Swap(("wire_runs", "E1", "to"), ("wire_runs", "E5", "to"))
    document = read(applied(right("retrofit_corrected"), Edit((exchange,), "change it")))
    told = [v for v in check(document).verdicts if v.rule in (*BUDGETS, "indication-measure")]
    for gauge, unit in (("oil pressure gauge", "psi"), ("oil temperature gauge", "degF")):
        assert {v.unit for v in told if v.rule == "true-at-the-limit" and v.at[0] == gauge} <= {unit, ""}
        assert "discrepancy" in {
            str(v.outcome) for v in told if v.rule == "indication-measure" and v.at[0] == gauge
        }


ON_ANOTHERS_SENDER = """
zones: {cabin: {}, bay: {}}
grounds: {stud: {kind: stud, zone: cabin}}
supplies: {bus: {kind: bus, zone: cabin, voltage: 14 V}}
senders:
  s: {principle: resistive, measures: oil pressure, terminals: [A, B], curve: {points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}, tolerance: 2 psi, zone: bay}
indicators:
  g: {principle: electronic resistance, measures: oil temperature, terminals: [A, B, '+'], curve: {points: [[100 degF, 10 ohm], [300 degF, 180 ohm]]}, scale: {lowest: 100 degF, highest: 300 degF}, accuracy: 5 degF, budget: 10 degF, zone: cabin, supply_current: 0.1 A}
wire_runs:
  W1: {from: s.A, to: g.A, gauge: 20 AWG, length: 3 ft}
  W2: {from: s.B, to: g.B, gauge: 20 AWG, length: 3 ft}
  W3: {from: bus, to: g.+, gauge: 20 AWG, length: 3 ft}
measured: [{of: g, value: 180 degF, true_value: 180 degF}]
"""


def test_what_a_gauge_on_the_sender_of_another_showed_is_not_compared_with_what_that_one_senses(judged):
    """At 180 degF the bulb of this gauge would give 78 ohm; what the pressure sender gives then nobody knows."""
    (told,) = judged(ON_ANOTHERS_SENDER, "indication-agrees")
    assert (str(told.outcome), told.value) == ("undetermined", None)
    (told,) = judged(ON_ANOTHERS_SENDER, "indication-measure")
    assert str(told.outcome) == "discrepancy"
