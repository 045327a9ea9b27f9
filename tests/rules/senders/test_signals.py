import pytest

PAIR = """
aircraft: {{system_voltage: 14 V}}
zones: {{cabin: {{}}}}
engines: {{e: {{limits: {{oil pressure: {{maximum: {limit}}}}}}}}}
senders: {{sender: {{principle: {principle}, measures: {measures}, terminals: [a, b]{sender}, zone: cabin}}}}
indicators: {{gauge: {{principle: {input}, measures: oil pressure, terminals: [x, y]{gauge}, zone: cabin}}}}
wire_runs: {{A: {{from: sender.a, to: gauge.x}}, B: {{from: sender.b, to: gauge.y}}}}
"""
VOLTS = ", curve: {points: [[0 psi, 0.5 V], [100 psi, 4.5 V]]}"


def pair(
    principle="pressure transducer",
    reads="voltage",
    *,
    sender="",
    gauge="",
    measures="oil pressure",
    limit="100 psi",
):
    return PAIR.format(
        principle=principle, input=reads, sender=sender, gauge=gauge, measures=measures, limit=limit
    )


@pytest.mark.parametrize(
    ("principle", "reads", "sender", "outcome"),
    [
        ("pressure transducer", "voltage", VOLTS, "meets"),
        ("pressure transducer", "current loop", VOLTS, "discrepancy"),
        (
            "pressure transducer",
            "current loop",
            VOLTS.replace("0.5 V", "4 mA").replace("4.5 V", "20 mA"),
            "meets",
        ),
        ("resistive", "voltage", "", "discrepancy"),
        ("resistive", "ratio meter", "", "meets"),
        ("switch", "ratio meter", "", "discrepancy"),
        ("switch", "warning light", "", "meets"),
        ("thermistor", "moving-coil thermocouple", "", "discrepancy"),
        ("unknown", "voltage", "", "undetermined"),
    ],
)
def test_kind_of_signal(judged, principle, reads, sender, outcome):
    [verdict] = judged(pair(principle, reads, sender=sender), "signal-kind")
    assert verdict.outcome == outcome


def test_thermocouple_on_a_resistance_input(judged):
    text = """
zones: {cabin: {}}
probes: {probe: {measures: head temperature, zone: cabin}}
indicators: {gauge: {principle: bridge, terminals: [x, y], zone: cabin}}
wire_runs: {A: {from: probe.+, to: gauge.x}, B: {from: probe.-, to: gauge.y}}
"""
    [verdict] = judged(text, "signal-kind")
    assert verdict.outcome == "discrepancy"
    [verdict] = judged(text.replace("bridge", "electronic thermocouple"), "signal-kind")
    assert verdict.outcome == "meets"


def test_measure(judged):
    assert judged(pair(), "indication-measure")[0].outcome == "meets"
    [verdict] = judged(pair(measures="fuel pressure"), "indication-measure")
    assert verdict.outcome == "discrepancy"
    assert (
        judged(pair(measures="fuel pressure", sender=", serves: [oil pressure]"), "indication-measure")[
            0
        ].outcome
        == "meets"
    )
    assert [v.outcome for v in judged(pair(measures="unknown"), "indication-measure")] == ["undetermined"]


def test_full_scale_against_the_limit(judged):
    to_150 = VOLTS.replace("100 psi", "150 psi")
    good = judged(pair(sender=", full_scale: 150 psi" + to_150, gauge=to_150), "sender-full-scale")
    assert [(v.outcome, v.margin) for v in good] == [("meets", pytest.approx(50))]
    [short] = judged(pair(sender=", full_scale: 60 psi" + VOLTS, gauge=VOLTS), "sender-full-scale")
    assert short.outcome == "discrepancy"
    # 60 - 100
    assert (short.value, short.limit, short.margin) == tuple(pytest.approx(x) for x in (60, 100, -40))
    [unknown] = judged(pair(), "sender-full-scale")
    assert unknown.missing == ("full scale of the sender",)


BULB = """
engines: {{e: {{limits: {{oil temperature: {{maximum: 245 degF}}}}}}}}
senders: {{bulb: {{principle: resistance bulb, measures: oil temperature, terminals: [a, b], full_scale: {full}, curve: {{law: Pt100}}}}}}
indicators: {{gauge: {{principle: bridge, measures: oil temperature, terminals: [x, y]}}}}
wire_runs: {{A: {{from: bulb.a, to: gauge.x}}, B: {{from: bulb.b, to: gauge.y}}}}
"""


def test_full_scale_of_a_bulb(judged):
    [short] = judged(BULB.format(full="100 degC"), "sender-full-scale")
    # 100 degC = 212 degF, 33 degF below 245 degF
    assert (short.outcome, short.value, short.limit) == (
        "discrepancy",
        pytest.approx(212),
        pytest.approx(245),
    )
    # 150 degC = 302 degF
    [good] = judged(BULB.format(full="150 degC"), "sender-full-scale")
    assert (good.outcome, good.value) == ("meets", pytest.approx(302))
    [unknown] = judged(BULB.format(full="unknown"), "sender-full-scale")
    assert unknown.missing == ("full scale of the sender",)
    assert (
        judged(BULB.format(full="150 degC").replace("full_scale: 150 degC, ", ""), "sender-full-scale") == []
    )


def test_full_scale_without_a_limit_against_what_is_true_in_flight(judged):
    text = BULB.format(full="100 degC").replace("{oil temperature: {maximum: 245 degF}}", "{}") + (
        "operating_points: {idle: {readings: {oil temperature: 150 degF}}, climb: {readings: {oil temperature: 220 degF}}}"
    )
    [short] = judged(text, "sender-full-scale")
    assert (short.outcome, short.limit) == ("discrepancy", pytest.approx(220))  # 212 degF against 220 degF
    assert "true value at climb" in short.message


TANK = """
senders: {{float: {{principle: resistive, measures: fuel quantity, terminals: [a, b], full_scale: {full}}}}}
indicators: {{gauge: {{principle: ratio meter, measures: fuel quantity, terminals: [x, y], scale: {{lowest: 0 %, highest: 100 %}}}}}}
wire_runs: {{A: {{from: float.a, to: gauge.x}}, B: {{from: float.b, to: gauge.y}}}}
"""


@pytest.mark.parametrize(
    ("full", "outcome"), [("50 %", "discrepancy"), ("100 %", "meets"), ("20 gal", "undetermined")]
)
def test_full_scale_of_a_quantity_sender_reaches_the_top_of_the_dial(judged, full, outcome):
    [verdict] = judged(TANK.format(full=full), "sender-full-scale")
    assert verdict.outcome == outcome
    if outcome == "discrepancy":
        assert (verdict.value, verdict.limit) == (pytest.approx(50), pytest.approx(100))


def test_full_scale_against_the_gauge_where_no_curves_tell(judged):
    text = pair(
        "synchro transmitter",
        "synchro receiver",
        sender=", full_scale: 100 psi",
        gauge=", full_scale: 200 psi",
    )
    _, verdict = judged(text, "sender-full-scale")
    assert verdict.outcome == "discrepancy"
    # half of 100 shows as half of 200
    assert "50 psi shows as 100 psi" in verdict.message
    assert verdict.margin == pytest.approx(-100)
    _, same = judged(text.replace("200 psi", "100 psi"), "sender-full-scale")
    assert same.outcome == "meets"
    _, unknown = judged(text.replace(", full_scale: 200 psi", ""), "sender-full-scale")
    assert unknown.outcome == "undetermined"


@pytest.mark.parametrize(
    ("span", "outcome", "margin"),
    [("{lowest: 0 V, highest: 5 V}", "meets", 0.5), ("{lowest: 1 V, highest: 5 V}", "discrepancy", -0.5)],
)
def test_range_of_the_input(judged, span, outcome, margin):
    # 0.5 to 4.5 V: 0.5 inside 0 to 5 at both ends; 0.5 below 1
    [verdict] = judged(pair(sender=VOLTS, gauge=f", input_range: {span}"), "signal-range")
    assert verdict.outcome == outcome
    assert verdict.margin == pytest.approx(margin)


def two_gauges(stations):
    text = pair("resistive", "ratio meter", sender=stations)
    text = text.replace(
        "indicators: {",
        "indicators: {second: {principle: ratio meter, measures: oil pressure, terminals: [x, y], zone: cabin}, ",
    )
    return text.replace(
        "wire_runs: {", "wire_runs: {C: {from: sender.a, to: second.x}, D: {from: sender.b, to: second.y}, "
    )


@pytest.mark.parametrize(
    ("stations", "outcome"),
    [(", stations: 2", "meets"), (", stations: 1", "discrepancy"), ("", "undetermined")],
)
def test_two_gauges_on_one_sender(judged, stations, outcome):
    [verdict] = judged(two_gauges(stations), "sender-stations")
    assert verdict.outcome == outcome
    if outcome == "discrepancy":
        assert (verdict.value, verdict.limit, verdict.margin) == (2, 1, -1)


def test_dual_station_sender_with_one_gauge(judged):
    [verdict] = judged(pair("resistive", "ratio meter", sender=", stations: 2"), "sender-stations")
    assert verdict.outcome == "discrepancy"
    assert judged(pair("resistive", "ratio meter"), "sender-stations") == []


@pytest.mark.parametrize(
    ("wire", "outcome"),
    [
        ("", "meets"),
        (", C: {from: bus, to: gauge.x}", "discrepancy"),
        (", C: {from: splice.1, to: gauge.x}, D: {from: splice.2, to: bus}", "discrepancy"),
        (", C: {from: battery.-, to: gauge.y}", "meets"),
    ],
)
def test_supply_joined_to_a_signal_terminal(judged, wire, outcome):
    text = pair("resistive", "ratio meter").replace("to: gauge.y}}", f"to: gauge.y}}{wire}}}")
    text += "supplies: {bus: {kind: bus}, battery: {kind: battery}}\njunctions: {splice: {kind: splice}}\n"
    [verdict] = judged(text, "signal-off-the-bus")
    assert verdict.outcome == outcome


def test_a_meter_of_the_bus_belongs_on_the_bus(judged):
    text = pair("resistive", "voltage").replace(
        "measures: oil pressure, terminals: [x", "measures: bus voltage, terminals: [x"
    )
    text = (
        text.replace("to: gauge.y}}", "to: gauge.y}, C: {from: bus, to: gauge.x}}")
        + "supplies: {bus: {kind: bus}}\n"
    )
    assert not judged(text, "signal-off-the-bus")
