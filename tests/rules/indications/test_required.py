import pytest

from installcheck.analysis.required import _CONDITIONS, asked, rows
from installcheck.analysis.study import Study
from installcheck.document import loads

AIRCRAFT = "aircraft: {basis: CAR 3, operation: [VFR day]}\n"
ENGINE = "engines: {e: {cooling: air, cowl_flaps: yes, pressure_oil: yes, altitude_engine: no}}\n"
NEEDED = ("engine speed", "oil pressure", "oil temperature", "fuel quantity", "head temperature")


def gauges(*measures, more="", principle="direct pressure"):
    text = "zones: {cabin: {}}\nindicators:\n"
    for i, measure in enumerate(measures):
        text += f"  g{i}: {{measures: {measure}, principle: {principle}, ports: [P], zone: cabin{more}}}\n"
    return text


def test_car_3_with_cowl_flaps_asks_five():
    study = Study(loads("installation: {name: t}\n" + AIRCRAFT + ENGINE))
    assert [a.words for a in asked(study)] == list(NEEDED)
    assert [a.engine for a in asked(study)] == ["e", "e", "e", None, "e"]


def test_all_shown(judged):
    verdicts = judged(AIRCRAFT + ENGINE + gauges(*NEEDED), "required-indication")
    assert [v.outcome for v in verdicts] == ["meets"] * 5


def test_one_absent(judged):
    verdicts = judged(AIRCRAFT + ENGINE + gauges(*NEEDED[:4]), "required-indication")
    [absent] = [v for v in verdicts if v.outcome != "meets"]
    assert absent.outcome == "discrepancy"
    assert absent.message == "head temperature is required by CAR 3.675, and nothing shows it"
    assert absent.path == ("engines", "e")


def test_part_23_asks_fuel_pressure_or_flow_of_a_pump_fed_engine(judged):
    # 23.1305(b)(4), as before amendment 23-64
    aircraft = AIRCRAFT.replace("CAR 3", "part 23 before 2017")
    engine = ENGINE.replace(
        "}}", ", fuel_feed: pump, controllable_propeller: no, preheat_limit: no, turbocharged: no}}"
    )
    verdicts = judged(aircraft + engine + gauges(*NEEDED), "required-indication")
    [absent] = [v for v in verdicts if v.outcome != "meets"]
    assert absent.message.startswith("fuel pressure or fuel flow")
    assert absent.outcome == "discrepancy"
    assert "23.1305(b)(4)" in absent.message


@pytest.mark.parametrize(
    ("shown", "outcomes"),
    [("no", {"meets"}), ("yes", {"meets", "discrepancy"}), ("unknown", {"meets", "undetermined"})],
)
def test_without_cowl_flaps_head_temperature_hangs_on_the_speed_of_the_cooling_climb(judged, shown, outcomes):
    # CAR 3.675(2): required as well where cooling was shown above the speed of best rate of climb.
    said = f"cowl_flaps: no, cooled_above_climb_speed: {shown}"
    text = AIRCRAFT + ENGINE.replace("cowl_flaps: yes", said) + gauges(*NEEDED[:4])
    assert {v.outcome for v in judged(text, "required-indication")} == outcomes


def test_a_part_of_an_aircraft_is_asked_for_no_instrument(judged):
    header = "installation: {name: oil gauge, scope: part}\n"
    [shown] = judged(header + AIRCRAFT + ENGINE + gauges("oil pressure"), "required-indication")
    assert (shown.outcome, shown.at) == ("meets", ("e", "g0"))


def test_91_205_hangs_on_the_certificate(judged):
    text = "aircraft: {operation: [VFR day]}\n" + ENGINE
    found = [v for v in judged(text, "required-indication") if v.message.startswith("whether oil pressure")]
    assert [v.missing for v in found] == [("certification basis of the aircraft",)]


def test_equipment_not_said(judged):
    text = AIRCRAFT + ENGINE.replace("cowl_flaps: yes, ", "") + gauges(*NEEDED[:4])
    [open_] = [v for v in judged(text, "required-indication") if v.outcome != "meets"]
    assert open_.outcome == "undetermined"
    assert open_.missing == ("cowl flaps of the engine, yes or no",)


def test_an_extra_does_not_stand_in(judged):
    text = (
        AIRCRAFT
        + ENGINE
        + gauges(*NEEDED[:4])
        + gauges("head temperature", more=", required: no").split("indicators:\n")[1].replace("g0", "extra")
    )
    [verdict] = [v for v in judged(text, "required-indication") if v.outcome != "meets"]
    assert verdict.outcome == "discrepancy"
    assert "only extra shows it" in verdict.message
    assert verdict.path == ("indicators", "extra", "required")


def test_a_warning_light_is_no_indicator(judged):
    text = AIRCRAFT + ENGINE + gauges("oil pressure", principle="warning light")
    assert "discrepancy" in [
        v.outcome for v in judged(text, "required-indication") if "oil pressure" in v.message
    ]


def test_amateur_built_is_recommended(judged):
    text = AIRCRAFT.replace("CAR 3", "amateur-built") + ENGINE + gauges("engine speed")
    outcomes = {v.outcome for v in judged(text, "required-indication")}
    assert outcomes == {"meets", "advisory"}


def test_papers_ask_for_more(judged):
    text = AIRCRAFT.replace("}", ", required: [fuel flow, bus voltage]}") + ENGINE + gauges(*NEEDED)
    absent = [v for v in judged(text, "required-indication") if v.outcome != "meets"]
    assert [(v.outcome, v.at[0]) for v in absent] == [("discrepancy", "e"), ("discrepancy", "aircraft")]


@pytest.mark.parametrize("aircraft", ["", "aircraft: {basis: part 23 from 2017, operation: [IFR]}\n"])
def test_basis_that_names_nothing(judged, aircraft):
    verdicts = judged(aircraft + ENGINE + gauges(*NEEDED), "required-indication")
    assert verdicts[0].outcome == "undetermined"


def test_each_engine_has_its_own(judged):
    text = AIRCRAFT + "engines: {left: {}, right: {}}\nzones: {cabin: {}}\n"
    text += (
        "indicators: {tach: {measures: engine speed, principle: pulse counter, engine: left, zone: cabin}}\n"
    )
    told = {v.at[0]: v.outcome for v in judged(text, "required-indication") if "engine speed" in v.message}
    assert told == {"left": "meets", "right": "discrepancy"}


def test_every_condition_of_the_table_is_known():
    assert {r.condition for r in rows()} <= set(_CONDITIONS)


POWER = """
aircraft: {{basis: CAR 3, operation: [VFR day]}}
engines: {{e: {{}}}}
zones: {{cabin: {{}}}}
supplies: {{bus: {{kind: bus, zone: cabin}}, breaker: {{kind: breaker, rating: 5 A, zone: cabin}}}}
grounds: {{frame: {{kind: structure}}}}
indicators: {{gauge: {{measures: engine speed, principle: pulse counter, terminals: [s, g], supply_terminals: [power, ground]{more}, zone: cabin}}}}
wire_runs: {{{runs}}}
"""
FED = "A: {from: bus, to: breaker.in}, B: {from: breaker.out, to: gauge.power}, "
HOME = "C: {from: gauge.ground, to: frame}"


@pytest.mark.parametrize(
    ("runs", "outcome", "told"),
    [
        (FED + HOME, "meets", "reaches bus through breaker"),
        ("B: {from: breaker.out, to: gauge.power}, " + HOME, "discrepancy", "reaches no bus"),
        (FED, "undetermined", "wiring of the indicator's ground"),
        ("", "undetermined", "wiring of the indicator's supply"),
    ],
)
def test_powered(judged, runs, outcome, told):
    [verdict] = judged(POWER.format(runs=runs, more=""), "required-powered")
    assert verdict.outcome == outcome
    assert told in verdict.message


def test_needs_no_supply(judged):
    text = AIRCRAFT + ENGINE + gauges("oil pressure")
    [verdict] = judged(text, "required-powered")
    assert verdict.outcome == "meets"


def test_synchro_rotor_is_its_supply(judged):
    text = """
aircraft: {basis: CAR 3, operation: [VFR day]}
engines: {e: {pressure_oil: yes}}
zones: {cabin: {}}
supplies: {bus: {kind: bus, zone: cabin}, inverter: {kind: inverter, zone: cabin}}
indicators: {gauge: {measures: oil pressure, principle: synchro receiver, terminals: [S1, S2, S3, R1, R2], zone: cabin}}
wire_runs: {A: {from: inverter.out, to: gauge.R1}, B: {from: gauge.R2, to: inverter.-}, C: {from: bus, to: inverter.in}}
"""
    [verdict] = judged(text, "required-powered")
    assert verdict.outcome == "meets"
    [verdict] = judged(text.replace(", C: {from: bus, to: inverter.in}", ""), "required-powered")
    assert verdict.missing == ("wiring of the inverter's supply",)


ROTOR = """
aircraft: {{basis: CAR 3, operation: [VFR day]}}
engines: {{e: {{pressure_oil: yes}}}}
zones: {{cabin: {{}}}}
supplies: {{bus: {{kind: bus, zone: cabin}}, inverter: {{kind: inverter, zone: cabin}}, ac bus: {{kind: bus, zone: cabin}}}}
grounds: {{frame: {{kind: structure}}}}
junctions: {{block: {{kind: terminal block, terminals: [1], zone: cabin}}}}
indicators: {{gauge: {{measures: oil pressure, principle: synchro receiver, terminals: [S1, S2, S3, R1, R2], zone: cabin}}}}
wire_runs:
  A: {{from: bus, to: inverter.in}}
  B: {{from: inverter.out, to: ac bus}}
  C: {{from: inverter.-, to: frame}}
  D: {{from: gauge.R1, to: {first}}}
  E: {{from: gauge.R2, to: {second}}}
"""


@pytest.mark.parametrize(
    ("first", "second", "outcome", "told"),
    [
        # 26 V - 0 V and 0 V - 26 V are the same alternating 26 V across the rotor
        ("ac bus", "frame", "meets", "the rotor of gauge reaches ac bus"),
        ("frame", "ac bus", "meets", "the rotor of gauge reaches ac bus"),
        ("inverter.-", "inverter.out", "meets", "the rotor of gauge reaches inverter"),
        # 26 V - 26 V, 0 V - 0 V, and an end that goes nowhere: nothing across it
        ("ac bus", "ac bus", "discrepancy", "R2 reaches no ground"),
        ("frame", "frame", "discrepancy", "R1 reaches no bus"),
        ("block.1", "ac bus", "discrepancy", "R1 reaches no ground"),
        ("frame", "block.1", "discrepancy", "reaches no bus"),
    ],
)
def test_a_rotor_has_no_plus_side(judged, first, second, outcome, told):
    [verdict] = judged(ROTOR.format(first=first, second=second), "required-powered")
    assert verdict.outcome == outcome
    assert told in verdict.message


@pytest.mark.parametrize(
    ("more", "outcome"), [(", in_view: yes", "meets"), (", in_view: no", "discrepancy"), ("", "undetermined")]
)
def test_in_view(judged, more, outcome):
    [verdict] = judged(POWER.format(runs="", more=more), "required-in-view")
    assert verdict.outcome == outcome


def standing(judged, text):
    return {v.at[0]: (v.outcome, v.message) for v in judged(AIRCRAFT + ENGINE + text, "indicator-standing")}


def test_standing_of_each(judged):
    told = standing(judged, gauges("oil pressure", "exhaust temperature"))
    assert "counts as required" in told["g0"][1]
    assert "no rule in the list asks for it" in told["g1"][1]
    told = standing(judged, gauges("exhaust temperature", more=", required: yes"))
    assert told["g0"] == ("meets", "g0 is required")


def test_two_that_show_the_same_must_be_told_apart(judged):
    told = standing(judged, gauges("oil pressure", "oil pressure"))
    assert [o for o, _ in told.values()] == ["undetermined", "undetermined"]
    text = gauges("oil pressure", "oil pressure").replace("g0: {", "g0: {required: yes, ")
    assert [o for o, _ in standing(judged, text).values()] == ["meets", "meets"]


def test_standing_without_a_basis(judged):
    [verdict] = judged(ENGINE + gauges("exhaust temperature"), "indicator-standing")
    assert verdict.outcome == "undetermined"


TANKS = """
zones: {cabin: {}}
senders:
  left float: {principle: resistive, measures: fuel quantity, terminals: [S], case_return: yes, zone: cabin}
  right float: {principle: resistive, measures: fuel quantity, terminals: [S], case_return: yes, zone: cabin}
indicators:
  left gauge: {principle: ratio meter, measures: fuel quantity, terminals: [S], zone: cabin}
  right gauge: {principle: ratio meter, measures: fuel quantity, terminals: [S], zone: cabin}
wire_runs:
  L: {from: left float.S, to: left gauge.S}
  R: {from: RIGHT.S, to: right gauge.S}
"""


def test_the_gauge_of_each_tank_is_required(judged):
    told = standing(judged, TANKS.replace("RIGHT", "right float"))
    assert [o for o, _ in told.values()] == ["meets", "meets"]
    assert "only one of its tank" in told["left gauge"][1]
    told = standing(judged, TANKS.replace("RIGHT", "left float"))  # two gauges of one float show the same
    assert [o for o, _ in told.values()] == ["undetermined", "undetermined"]
