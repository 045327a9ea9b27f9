"""Single faults on small installations whose answer can be worked by hand."""

import pytest

from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.faults.play import play

PANEL = """
installation: {name: test}
aircraft: {system_voltage: 14 V}
zones: {bay: {temperature: {lowest: 20 degC, highest: 20 degC}}}
operating_points: {cruise: {phase: cruise, readings: {oil pressure: 50 psi, oil temperature: 80 degC, head temperature: 180 degC}}}
supplies:
  battery: {kind: battery, voltage: 12.6 V, inner_resistance: 10 milliohm}
  alternator: {kind: alternator, voltage: 14 V}
  bus: {kind: bus}
  main fuse: {kind: fuse, rating: 50 A}
  gauge breaker: {kind: breaker, rating: 5 A}
grounds:
  airframe: {kind: structure}
  engine: {kind: engine case}
  strap: {kind: strap, from: engine, to: airframe, resistance: 1 milliohm}
senders:
  pressure: {principle: resistive, measures: oil pressure, terminals: [S], case_return: yes,
    grounding: {to: engine, through: thread, resistance: 0 ohm}, curve: {points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}}
  bulb: {principle: thermistor, measures: oil temperature, terminals: [S, G], curve: {points: [[0 degC, 2000 ohm], [150 degC, 30 ohm]]}}
probes:
  head: {thermocouple: K, measures: head temperature, junction: grounded, grounding: {to: engine, through: thread}}
indicators:
  pressure gauge: {principle: ratio meter, measures: oil pressure, terminals: [S], inner_resistance: 100 ohm, budget: 5 psi, required: yes,
    supply_terminals: [power, ground], supply_current: 100 mA, scale: {lowest: 0 psi, highest: 100 psi}}
  temperature gauge: {principle: electronic resistance, measures: oil temperature, terminals: [S, G], excitation: 5 V, pull_up: 1000 ohm,
    budget: 5 degC, required: yes, supply_terminals: [power, ground], supply_current: 50 mA, supply_voltage: {lowest: 9 V, highest: 16 V},
    scale: {lowest: 0 degC, highest: 150 degC}}
  head gauge: {principle: electronic thermocouple, measures: head temperature, terminals: [+, -], thermocouple: K, open_shows: last value,
    input_grounding: isolated}
wire_runs:
  W1: {from: battery.+, to: main fuse.in, part: AS22759/16, gauge: 6 AWG, length: 1 ft}
  W2: {from: main fuse.out, to: bus, part: AS22759/16, gauge: 6 AWG, length: 1 ft}
  W3: {from: battery.-, to: airframe, part: AS22759/16, gauge: 6 AWG, length: 1 ft}
  W4: {from: alternator.+, to: bus, part: AS22759/16, gauge: 6 AWG, length: 4 ft}
  W5: {from: alternator.-, to: engine, part: AS22759/16, gauge: 6 AWG, length: 1 ft}
  W6: {from: bus, to: gauge breaker.in, part: AS22759/16, gauge: 18 AWG, length: 1 ft}
  W7: {from: gauge breaker.out, to: pressure gauge.power, part: AS22759/16, gauge: 20 AWG, length: 2 ft}
  W8: {from: gauge breaker.out, to: temperature gauge.power, part: AS22759/16, gauge: 20 AWG, length: 2 ft}
  W9: {from: pressure gauge.ground, to: airframe, part: AS22759/16, gauge: 20 AWG, length: 2 ft}
  W10: {from: temperature gauge.ground, to: airframe, part: AS22759/16, gauge: 20 AWG, length: 2 ft}
  E1: {from: pressure.S, to: pressure gauge.S, part: AS22759/16, gauge: 20 AWG, length: 6 ft}
  E2: {from: bulb.S, to: temperature gauge.S, part: AS22759/16, gauge: 20 AWG, length: 6 ft}
  E3: {from: bulb.G, to: temperature gauge.G, part: AS22759/16, gauge: 20 AWG, length: 6 ft}
  T1: {part: thermocouple lead K, gauge: 20 AWG, length: 6 ft, conductors: {+: {from: head.+, to: head gauge.+}, -: {from: head.-, to: head gauge.-}}}
"""


@pytest.fixture(scope="module")
def played():
    return {(p.kind, p.at): p for p in play(Study(loads(PANEL)))}


def told(fault):
    return {e.indication: e.text for e in fault.effects}


def test_open_signal_wire_drives_the_pointer_off_scale(played):
    # an open rising sender reads as endless pressure; an open falling one as endless cold
    assert told(played["open wire", "E1"]) == {"pressure gauge": "off scale high"}
    assert told(played["open wire", "E2"]) == {"temperature gauge": "off scale low"}


def test_shorted_signal_wire(played):
    # 0 ohm is below the 10 ohm of 0 psi, and below the 30 ohm of 150 degC
    assert told(played["short to ground", "E1"]) == {"pressure gauge": "off scale low"}
    assert told(played["short to ground", "E2"]) == {"temperature gauge": "off scale high"}


def test_a_shorted_return_of_an_isolated_sender_is_not_seen(played):
    assert told(played["short to ground", "E3"]) == {}


def test_breaker_takes_both_required_gauges(played):
    fault = played["open protector", "gauge breaker"]
    assert told(fault) == {"pressure gauge": "dead: no supply", "temperature gauge": "dead: no supply"}
    assert fault.together == ("pressure gauge", "temperature gauge")


def test_short_behind_the_breaker_opens_it(played):
    fault = played["short to ground", "W7"]
    assert fault.opens == "gauge breaker"
    assert set(told(fault)) == {"pressure gauge", "temperature gauge"}


def test_short_before_the_breaker_opens_the_fuse_and_nothing_stops_the_alternator(played):
    fault = played["short to ground", "W6"]
    assert fault.opens == "main fuse"
    assert "nothing else opens" in fault.note
    assert played["short to ground", "W1"].note.startswith("nothing")


def test_battery_takes_over_wherever_the_alternator_is_lost(played):
    assert played["dead supply", "alternator"].note == "battery takes over"
    # a ratio meter and a regulated excitation do not follow the supply
    for lost in (("dead supply", "alternator"), ("open wire", "W4"), ("open wire", "W5")):
        assert told(played[lost]) == {}


def test_engine_without_its_strap_returns_through_the_sender(played):
    """The battery holds the bus at 12.6 V; the alternator's negative, with the engine, hangs 14 V below the bus."""
    [effect] = played["lost ground", "strap"].effects
    # sender 95 ohm behind 100 ohm: I = 14 / 195 A; 12.6 / I - 100 = 75.5 ohm, 19.5 ohm less, 1.7 ohm/psi
    assert effect.what == "reads low"
    assert effect.amount == pytest.approx((12.6 * 195 / 14 - 195) / 1.7, rel=0.01)


def test_lost_body_ground(played):
    assert told(played["lost ground", "pressure"]) == {"pressure gauge": "off scale high"}


def test_thermocouple_leads_by_topology(played):
    assert told(played["open wire", "T1 +"]) == {"head gauge": "frozen at its last value"}
    # the junction is grounded: a second ground on a leg makes another loop there
    assert told(played["short to ground", "T1 +"]) == {"head gauge": "reads the temperature at the fault"}


def test_shift_by_how_much():
    """A strap of 1 ohm when the alternator's return is cut over... the sender in series with it reads 1 ohm more."""
    text = PANEL.replace("E1: {from: pressure.S, to: pressure gauge.S, part: AS22759/16, gauge: 20 AWG, length: 6 ft}",
        "E1: {from: pressure.S, to: pressure gauge.S, metal: copper, resistance: 17 ohm/m, length: 1 m}\n"
        "  E4: {from: pressure.S, to: pressure gauge.S, metal: copper, resistance: 17 ohm/m, length: 1 m}")  # fmt: skip
    played = {(p.kind, p.at): p for p in play(Study(loads(text)))}
    [effect] = played["open wire", "E4"].effects
    # two wires of 17 ohm side by side are 8.5 ohm, one alone 17: 8.5 ohm more, 1.7 ohm/psi
    assert effect.what == "reads high"
    assert effect.amount == pytest.approx(5.0, rel=1e-3)
    assert effect.unit == "psi"


def test_faults_agree_with_a_circuit_solved_afresh():
    """Every open wire played through must leave the voltages of the document without that wire."""
    from installcheck.analysis.circuit.solved import circuit, solve_circuit
    from installcheck.analysis.circuit.states import States
    from installcheck.physics.network_faults import OpenBranch

    study = Study(loads(PANEL))
    net = circuit(study, study.points[0])
    for run in ("W1", "W2", "W4", "E1", "E3"):
        edge = study.edges(run)[0]
        [after] = States(net).after([OpenBranch(net.branch_of[edge])])
        without = Study(loads(PANEL.replace(f"  {run}: {{", f"  {run}: {{status: removed, ")))
        afresh = solve_circuit(without, without.points[0])
        for name in ("bus", "engine", "pressure gauge.S", "temperature gauge.S"):
            if name in afresh.nodes and afresh.voltage(name) is not None:
                assert after.voltage[net.nodes[name]] == pytest.approx(afresh.voltage(name), abs=1e-4), (
                    run,
                    name,
                )


def test_a_short_takes_no_more_than_the_alternator_can_give():
    text = PANEL.replace(
        "kind: alternator, voltage: 14 V", "kind: alternator, voltage: 14 V, rated_current: 70 A"
    )
    found = {(p.kind, p.at): p for p in play(Study(loads(text)))}
    # The battery gives some 600 A until the 50 A fuse opens; then the alternator's 70 A are all there is.
    fault = found["short to ground", "W6"]
    assert (fault.opens, fault.note) == ("main fuse", "nothing else opens: about 70 A flow")


def test_a_protector_above_the_alternators_output_does_not_open_for_it_alone():
    text = PANEL.replace(
        "kind: alternator, voltage: 14 V", "kind: alternator, voltage: 14 V, rated_current: 70 A"
    )
    text = text.replace("  main fuse:", "  field: {kind: breaker, rating: RATING}\n  main fuse:").replace(
        "  W4: {from: alternator.+, to: bus,",
        "  W4B: {from: field.out, to: bus, part: AS22759/16, gauge: 6 AWG, length: 1 ft}\n  W4: {from: alternator.+, to: field.in,",
    )
    for rating, opens in (("80 A", "main fuse"), ("60 A", "field, main fuse")):
        found = {(p.kind, p.at): p for p in play(Study(loads(text.replace("RATING", rating))))}
        assert set(found["short to ground", "W6"].opens.split(", ")) == set(opens.split(", "))


def test_what_a_source_of_no_stated_resistance_gives_is_no_number(played):
    assert played["short to ground", "W6"].note == "nothing else opens: all that alternator can give flows"


TRANSDUCER = """
installation: {name: test}
aircraft: {system_voltage: 14 V}
operating_points: {cruise: {phase: cruise, readings: {fuel pressure: 5 psi}}}
supplies: {alternator: {kind: alternator, voltage: 14 V, rated_current: 60 A}, bus: {kind: bus}}
grounds: {airframe: {kind: structure}}
senders:
  tx: {principle: pressure transducer, measures: fuel pressure, terminals: [+, signal, '-'], supply_current: 5 mA,
    curve: {points: [[0 psi, 0.5 V], [15 psi, 4.5 V]]}}
indicators:
  gauge: {principle: voltage, measures: fuel pressure, terminals: [5 V, signal, ground], excitation: 5 V, PULL
    supply_terminals: [power, gnd], supply_current: 50 mA, scale: {lowest: 0 psi, highest: 15 psi},
    curve: {points: [[0 psi, 0.5 V], [15 psi, 4.5 V]]}}
wire_runs:
  A: {from: alternator.+, to: bus, metal: copper, resistance: 1 ohm/km, length: 1 m}
  B: {from: alternator.-, to: airframe, metal: copper, resistance: 1 ohm/km, length: 1 m}
  C: {from: bus, to: gauge.power, metal: copper, resistance: 10 ohm/km, length: 1 m}
  D: {from: gauge.gnd, to: airframe, metal: copper, resistance: 10 ohm/km, length: 1 m}
  E: {from: tx.+, to: gauge.5 V, metal: copper, resistance: 10 ohm/km, length: 1 m}
  F: {from: tx.signal, to: gauge.signal, metal: copper, resistance: 10 ohm/km, length: 1 m}
  G: {from: tx.-, to: gauge.ground, metal: copper, resistance: 10 ohm/km, length: 1 m}
"""


@pytest.mark.parametrize(
    ("input_has", "opened", "ground_lost"),
    [
        ("pull_up: 100 kohm,", "off scale high", "off scale high"),
        ("inner_resistance: 100 kohm,", "off scale low", "off scale low"),
    ],
)
def test_open_signal_and_lost_ground_of_a_transducer(input_has, opened, ground_lost):
    found = {(p.kind, p.at): p for p in play(Study(loads(TRANSDUCER.replace("PULL", input_has))))}
    assert told(found["open wire", "F"]) == {"gauge": opened}
    assert told(found["open wire", "G"]) == {"gauge": ground_lost}


def _of(text, kind, at):
    return next(p for p in play(Study(loads(text))) if (p.kind, p.at) == (kind, at))


def test_effect_that_rests_on_an_unknown_word_says_so():
    strap = "resistance of the ground strap or joint"
    [told] = _of(PANEL, "lost ground", "strap").effects
    [untold] = _of(
        PANEL.replace("resistance: 1 milliohm", "resistance: unknown"), "lost ground", "strap"
    ).effects
    assert (told.what, untold.what) == ("reads low", "reads low")
    assert strap not in told.text
    assert untold.text.endswith(f"and {strap})")


def test_circuit_that_is_not_described_is_not_passed_over():
    text = PANEL.replace("curve: {points: [[0 degC, 2000 ohm], [150 degC, 30 ohm]]}", "curve: unknown")
    for kind in ("open wire", "short to ground"):
        [effect] = _of(text, kind, "E2").effects
        assert (effect.indication, effect.what) == ("temperature gauge", "cannot be told")
        assert effect.text.startswith("cannot be told without the ")
    # a gauge that says what it shows when open shows that, whatever its sender
    said = text.replace("pull_up: 1000 ohm", "pull_up: 1000 ohm, open_shows: off scale low")
    [effect] = _of(said, "open wire", "E2").effects
    assert effect.what == "off scale low"
