"""The solved network against circuits worked by hand."""

import numpy as np
import pytest

from installcheck.analysis.circuit.conductor_heat import OwnHeat
from installcheck.analysis.circuit.solved import circuit
from installcheck.analysis.study import Study
from installcheck.document import loads

POWER = """
installation: {name: test}
aircraft: {system_voltage: 14 V}
zones: {cabin: {temperature: {lowest: 20 degC, highest: 20 degC}}}
supplies:
  battery: {kind: battery, voltage: 12 V, inner_resistance: 0.1 ohm}
  alternator: {kind: alternator, voltage: 14 V}
  breaker: {kind: breaker, rating: 5 A, inner_resistance: 0.02 ohm}
  bus: {kind: bus}
grounds:
  airframe: {kind: structure}
  engine: {kind: engine case}
  strap: {kind: strap, from: engine, to: airframe, resistance: 0.05 ohm}
loads:
  lamp: {current: 2 A}
wire_runs:
  W1: {from: alternator.+, to: bus, resistance: 0.01 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
  W2: {from: bus, to: breaker.in, resistance: 0.01 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
  W3: {from: breaker.out, to: lamp.+, resistance: 0.05 ohm/m, metal: copper, route: [{zone: cabin, length: 2 m}]}
  W4: {from: lamp.-, to: airframe, resistance: 0.05 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
  W5: {from: battery.+, to: bus, resistance: 0.01 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
  W6: {from: battery.-, to: airframe, resistance: 0.01 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
  W7: {from: alternator.-, to: engine, resistance: 0.01 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
"""


def solved(text, point=0):
    study = Study(loads(text))
    return study, circuit(study, study.points[point])


def edge(study, ident, kind="conductor"):
    return next(e for e in study.graph.edges if e.ident == ident and e.kind == kind)


def test_alternator_carries_the_load_and_the_battery_rests():
    study, net = solved(POWER)
    # 2 A all round: structure 0 V, engine case -2 x 0.05, alternator negative a further -2 x 0.01, positive 14 V above,
    # bus 2 x 0.01 below that; the lamp stands behind 0.01 + 0.02 + 0.1 ohm, and returns through 0.05 ohm.
    assert net.reference == "airframe"
    assert net.voltage("engine") == pytest.approx(-0.10, abs=1e-6)
    assert net.voltage("bus") == pytest.approx(14 - 0.10 - 0.02 - 0.02, abs=1e-5)
    assert net.voltage("lamp.+") == pytest.approx(13.86 - 2 * 0.13, abs=1e-4)
    assert net.voltage("lamp.-") == pytest.approx(0.10, abs=1e-4)
    assert net.resting == {"battery"}
    assert net.current(edge(study, "W3")) == pytest.approx(2.0)
    assert net.current(edge(study, "strap", "bond")) == pytest.approx(-2.0)  # from the airframe to the engine
    assert net.solution.kirchhoff_residual < 1e-9


def test_battery_takes_over_when_the_alternator_is_dead():
    point = "operating_points: {out: {dead_supplies: [alternator]}}\n"
    _, net = solved(POWER + point)
    # 12 V - 2 x 0.1 inner - 2 x 0.01 in W5, its negative 2 x 0.01 above the structure
    assert net.voltage("bus") == pytest.approx(12 - 0.2 - 0.02 - 0.02, abs=1e-5)
    assert net.voltage("engine") == pytest.approx(0, abs=1e-9)
    assert not net.resting


def test_no_alternator_gives_anything_while_the_engine_is_cranked():
    _, net = solved(POWER + "operating_points: {start: {phase: start}}\n")
    assert net.voltage("bus") == pytest.approx(11.76, abs=1e-5)


def test_open_breaker_cuts_the_lamp_off():
    _, net = solved(POWER + "operating_points: {out: {open_switches: [breaker]}}\n")
    assert net.voltage("bus") == pytest.approx(14.0, abs=1e-5)
    assert len(net.solution.unsupplied) == 1


def test_loads_listed_are_on_and_others_off():
    text = POWER.replace(
        "lamp: {current: 2 A}",
        "lamp: {current: 2 A}\n  pump: {current: 5 A, duty: intermittent, connected_at: bus}",
    )
    _, off = solved(text)
    _, on = solved(text + "operating_points: {take-off: {loads_on: [lamp, pump]}}\n")
    # 5 A more come from the alternator through W1 0.01, W7 0.01 and the strap 0.05 ohm
    assert off.voltage("bus") - on.voltage("bus") == pytest.approx(5 * 0.07, abs=1e-4)


def test_resistance_follows_zone_temperature_and_own_heat():
    text = POWER.replace("highest: 20 degC", "highest: 70 degC").replace(
        "W3: {from: breaker.out, to: lamp.+, resistance: 0.05 ohm/m,",
        "W3: {from: breaker.out, to: lamp.+, gauge: 22 AWG, temperature_rating: 150 degC, resistance: 0.05 ohm/m,",
    )
    study, net = solved(text)
    # zone 70 degC; table 11-9 gives size 22 rated 150 degC 5 A: rise (150 - 70)(2 / 5)^2 = 12.8 degC;
    # 0.1 ohm x (234.5 + 82.8) / 254.5
    assert net.resistance(edge(study, "W3")) == pytest.approx(0.1 * (234.5 + 82.8) / 254.5, rel=1e-6)


class Size22(OwnHeat):
    """Table 11-9 gives size 22 rated 150 degC 5 A; it is 80 degC below that."""

    def _heating(self, number):
        return 5.0, 80.0


def test_the_last_digit_of_a_current_does_not_decide_whether_it_warms():
    rise = Size22(None, np.ones(3, dtype=bool)).of(np.array([0.1, 0.1 + 1e-16, 0.11]))
    # a tenth of an ampere does not count, however it was summed; 80 x (0.11 / 5)^2
    assert rise == pytest.approx([0.0, 0.0, 0.03872])


def test_unknown_strap_is_solved_as_nothing_and_recorded():
    study, net = solved(POWER.replace(", resistance: 0.05 ohm}", "}"))
    assert net.voltage("engine") == pytest.approx(0, abs=1e-5)
    assert net.lacking([edge(study, "strap", "bond")]) == ("resistance of the ground strap or joint",)


def test_run_that_states_its_own_current():
    text = (
        POWER
        + "  W8: {from: bus, to: lamp.spare, current: 3 A, resistance: 0.01 ohm/m, metal: copper, length: 1 m}\n"
    )
    text = text.replace("lamp: {current: 2 A}", "lamp: {current: 2 A, terminals: [+, -, spare]}")
    study, net = solved(text)
    assert net.current(edge(study, "W8")) == pytest.approx(3.0)


def test_load_that_returns_through_its_body():
    text = POWER.replace(
        "lamp: {current: 2 A}",
        "lamp: {current: 2 A, terminals: ['+'], grounding: {to: airframe, through: bolts}}",
    ).replace(
        "  W4: {from: lamp.-, to: airframe, resistance: 0.05 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}\n",
        "",
    )
    _, net = solved(text)
    # bare bolts without a figure: the 0.003 ohm of AC 43.13-1B 11-189
    assert net.voltage("lamp.case") == pytest.approx(2 * 0.003, abs=1e-6)


HELD = """
installation: {name: test}
zones: {cabin: {temperature: {lowest: 20 degC, highest: 20 degC}}}
supplies:
  bus: {kind: bus, voltage: 14 V}
  breaker: {kind: breaker, rating: 5 A, inner_resistance: 0.02 ohm}
grounds: {airframe: {kind: structure}}
loads: {lamp: {current: 2 A}}
wire_runs:
  W2: {from: bus, to: breaker.in, resistance: 0.01 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
  W3: {from: breaker.out, to: lamp.+, resistance: 0.05 ohm/m, metal: copper, route: [{zone: cabin, length: 2 m}]}
  W4: {from: lamp.-, to: airframe, resistance: 0.05 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
"""


def test_a_bus_of_stated_voltage_stands_at_it_where_no_source_is_told():
    _, net = solved(HELD)
    assert net.voltage("bus") == pytest.approx(14)
    # 2 A through 0.01 + 0.02 + 2 x 0.05 ohm: 0.26 V before the lamp, and 0.1 V behind it
    assert net.voltage("lamp.+") == pytest.approx(13.74)
    assert net.voltage("lamp.-") == pytest.approx(0.1)


def test_a_bus_with_a_source_in_the_document_is_fed_by_it_alone():
    source = "  battery: {kind: battery, voltage: 12 V, inner_resistance: 0.1 ohm}\n"
    fed = """  W5: {from: battery.+, to: bus, resistance: 0.01 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
  W6: {from: battery.-, to: airframe, resistance: 0.01 ohm/m, metal: copper, route: [{zone: cabin, length: 1 m}]}
"""
    _, net = solved(HELD.replace("grounds:", f"{source}grounds:") + fed)
    # 12 V less 2 A through 0.1 + 0.01 ohm; the negative stands 2 A x 0.01 ohm below the structure
    assert net.voltage("bus") == pytest.approx(12 - 2 * 0.11 - 0.02)


def test_a_bus_without_a_ground_is_held_at_nothing():
    _, net = solved(
        HELD.replace("grounds: {airframe: {kind: structure}}\n", "")
        .replace("airframe", "stud")
        .replace("loads:", "junctions: {stud: {kind: terminal block, terminals: [a]}}\nloads:")
    )
    assert not any(e.kind == "supply" for e in net.branch_of)
