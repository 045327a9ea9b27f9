"""What a thing is: the figures a part carries. Any of them can be overridden where the thing is used."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

from pydantic import Field, model_validator

from .fields import Charge as ChargeField
from .fields import (
    Current,
    Difference,
    Dissipation,
    Frequency,
    Length,
    Mass,
    MassPerLength,
    Measure,
    Metal,
    Model,
    OpenShows,
    Pressure,
    Ratio,
    Reading,
    Resistance,
    ResistancePerLength,
    Signal,
    Size,
    Temperature,
    Terminal,
    ThermocoupleType,
    Voltage,
    Volume,
    WireGauge,
    told,
)
from .fields import Power as PowerField


class Curve(Model):
    """How a sender's output follows what it senses: a law by name, a table of points, or three coefficients."""

    law: Literal["nickel 90.38", "Pt100"] | None = told("a resistance bulb law by its standard name")
    points: list[tuple[Reading, Signal]] | None = told(
        "table of [indication, output], both rising or falling throughout"
    )
    steinhart_hart: tuple[float, float, float] | None = told(
        "a, b, c of 1/T = a + b ln R + c (ln R)^3, T in K, R in ohm"
    )

    @model_validator(mode="after")
    def _whole(self) -> Curve:
        given = [x for x in (self.law, self.points, self.steinhart_hart) if x is not None]
        if len(given) != 1:
            raise ValueError("a curve is given once: as a law, as points, or as steinhart_hart")
        if self.points is not None:
            if len(self.points) < 2:
                raise ValueError("a curve needs at least two points")
            readings, outputs = zip(*self.points, strict=True)
            if len({r.kind for r in readings}) > 1 or len({o.kind for o in outputs}) > 1:
                raise ValueError("all points of a curve are in one kind of indication and one kind of output")
            if any(b <= a for a, b in pairwise(readings)):
                raise ValueError("the indications of a curve's points must rise from each point to the next")
            steps = [b - a for a, b in pairwise(outputs)]
            if not (all(s > 0 for s in steps) or all(s < 0 for s in steps)):
                raise ValueError("the outputs of a curve's points must rise throughout or fall throughout")
        return self


class Span(Model):
    """A range of an indication, with the smallest division of a dial."""

    lowest: Reading = Field(description="bottom of the range")
    highest: Reading = Field(description="top of the range")
    division: Difference | None = told("smallest division marked")

    @model_validator(mode="after")
    def _order(self) -> Span:
        if self.lowest.kind != self.highest.kind:
            raise ValueError("lowest and highest are of different kinds")
        if self.highest <= self.lowest:
            raise ValueError(f"highest ({self.highest.text}) is not above lowest ({self.lowest.text})")
        return self


class Marking(Model):
    """A coloured mark on a dial: a radial line at one value, or an arc from one to another."""

    colour: Literal["red", "yellow", "green", "blue", "white"] = Field(description="colour of the mark")
    at: Reading | None = told("value of a radial line")
    lowest: Reading | None = told("start of an arc")
    highest: Reading | None = told("end of an arc")


class Spec(Model):
    """What every part may say of itself."""

    title: str | None = told("the part in words", max_length=200)
    source: str | None = told("document and paragraph the figures come from", max_length=400)
    standard: str | None = told("public standard or drawing number", max_length=120)
    weight: Mass | None = told("weight of one")


class TerminalSpec(Spec):
    terminals: list[Terminal] | None = told("names of its terminals")
    ports: list[Terminal] | None = told("names of its fluid ports")
    temperature_rating: Temperature | None = told("highest temperature of its surroundings")
    max_current: Current | None = told("largest current it may carry")
    stud: Size | None = told("stud or screw diameter of its terminals")
    size: str | None = told("size by the part's own list", max_length=40)


SenderPrinciple = Literal[
    "resistive",
    "thermistor",
    "resistance bulb",
    "pressure transducer",
    "synchro transmitter",
    "tachometer generator",
    "pulse pick-up",
    "vapour-pressure bulb",
    "liquid-filled bulb",
    "switch",
]


class SenderSpec(TerminalSpec):
    """A sender or bulb at the engine."""

    principle: SenderPrinciple | None = told("how it senses")
    measures: Measure | None = told("what it senses")
    curve: Curve | None = told("output against what it senses")
    tolerance: Difference | None = told("largest error of its output, as an indication")
    full_scale: Reading | None = told("highest value it can sense")
    proof_pressure: Pressure | None = told("pressure it stands without harm")
    case_return: bool | None = told("yes if its body is one of its terminals")
    stations: int | None = told("how many indicators its output is meant for", ge=1, le=4)
    supply_voltage: Span | None = told("supply it needs")
    supply_current: Current | None = told("current it draws from its supply")
    winding_resistance: Resistance | None = told("resistance between two of its three leads")
    excitation_voltage: Voltage | None = told("rotor excitation of a synchro")
    excitation_frequency: Frequency | None = told("rotor excitation frequency of a synchro")
    poles: int | None = told("poles of a tachometer generator", ge=2, le=24)
    sense: Literal["clockwise", "anticlockwise"] | None = told(
        "sense in which a tachometer generator is driven with leads 1, 2, 3 in order, seen from its shaft end"
    )
    pulses_per_revolution: float | None = told("pulses per engine revolution", gt=0, le=1000)
    output_impedance: Resistance | None = told("source impedance of a voltage or pulse output")
    filling: (
        Literal["diethyl ether", "sulfur dioxide", "methyl chloride", "mercury", "xylene", "other"] | None
    ) = told("what a capillary system holds")
    capillary_length: Length | None = told("length of capillary as made; it is never cut or joined")
    capillary_bore: Size | None = told("bore of the capillary")
    bulb_volume: Volume | None = told("volume of the bulb")
    min_bend_radius: Size | None = told("smallest bend radius of the capillary")
    dissipation: Dissipation | None = told("self-heating: power per degree in the fluid it sits in")
    port_thread: str | None = told("thread of its port", max_length=60)
    material: str | None = told("body material", max_length=60)
    arm: Length | None = told("distance from its port to its centre of mass")


ProbeKind = Literal[
    "gasket ring 14 mm",
    "gasket ring 18 mm",
    "bayonet",
    "threaded",
    "piggyback adapter",
    "bolt ring",
    "exhaust clamp",
    "exhaust threaded",
    "surface",
]


class ProbeSpec(TerminalSpec):
    """A thermocouple probe."""

    kind: ProbeKind | None = told("how it is held")
    thermocouple: ThermocoupleType | None = told("thermocouple type by letter")
    grade: Literal["standard", "special", "IEC class 1", "IEC class 2"] | None = told(
        "tolerance grade of the couple"
    )
    junction: Literal["grounded", "isolated"] | None = told(
        "whether the hot junction touches the sheath or ring"
    )
    resistance: Resistance | None = told("resistance of the couple with its own lead")
    lead_length: Length | None = told("length of its own lead")


IndicatorPrinciple = Literal[
    "direct pressure",
    "capillary",
    "moving-coil thermocouple",
    "electronic thermocouple",
    "bridge",
    "ratio meter",
    "series meter",
    "electronic resistance",
    "voltage",
    "current loop",
    "pulse counter",
    "synchro receiver",
    "synchronous tachometer",
    "warning light",
]


class InputSpec(Model):
    """One input of an indicator and the pointer or figure it moves."""

    principle: IndicatorPrinciple | None = told("how it turns the signal into an indication")
    measures: Measure | None = told("what it shows")
    terminals: list[Terminal] | None = told("terminals of this input, signal first")
    ports: list[Terminal] | None = told("fluid ports of this input")
    scale: Span | None = told("range of the dial")
    markings: list[Marking] | None = told("coloured arcs and lines on the dial")
    budget: Difference | None = told("largest total error allowed for this indication, sender to pointer")
    accuracy: Difference | None = told("the indicator's own largest error")
    thermocouple: ThermocoupleType | None = told("couple its scale is drawn for")
    compensation: Literal["at its terminals", "elsewhere", "none"] | None = told(
        "where the reference-junction temperature is taken"
    )
    compensated_at: str | None = told(
        "joint where the reference temperature is taken, when elsewhere", max_length=130
    )
    inner_resistance: Resistance | None = told("resistance of the instrument itself")
    loop_resistance: Resistance | None = told("external resistance it is calibrated for")
    loop_tolerance: Resistance | None = told("how far the external resistance may be off")
    input_grounding: Literal["isolated", "common negative", "grounded negative"] | None = told(
        "how thermocouple inputs relate to each other and to ground"
    )
    curve: Curve | None = told("sender curve the dial is drawn for")
    excitation: Voltage | None = told(
        "voltage the instrument puts on the sender circuit; the bus when left out"
    )
    pull_up: Resistance | None = told("resistor between the excitation and the sender")
    ratiometric: bool | None = told("yes if the reading does not follow the supply voltage")
    bulb_leads: int | None = told("leads to the bulb it is made for", ge=1, le=3)
    bridge_arm: Resistance | None = told("each ratio arm of the bridge")
    bridge_balance: Reading | None = told("indication at which the bridge balances")
    detector_resistance: Resistance | None = told("resistance of the bridge's detector")
    lead_allowance: Resistance | None = told("lead resistance its calibration allows for")
    input_range: Span | None = told("electrical input it accepts")
    pulses_per_revolution: float | None = told("pulses per engine revolution it expects", gt=0, le=1000)
    max_pulse_rate: Frequency | None = told("highest pulse rate it follows")
    poles: int | None = told("poles of its synchronous motor", ge=2, le=24)
    generator_poles: int | None = told("poles of the tachometer generator it is made for", ge=2, le=24)
    engine_ratio: float | None = told(
        "engine revolutions per generator revolution it is made for", gt=0, le=100
    )
    excitation_voltage: Voltage | None = told("rotor excitation of a synchro")
    excitation_frequency: Frequency | None = told("rotor excitation frequency of a synchro")
    winding_resistance: Resistance | None = told("resistance between two of its three leads")
    open_shows: OpenShows | None = told("what it shows with an open input")
    full_scale: Reading | None = told("sender full scale it is made for")
    cylinders: list[int] | None = told("cylinders it shows, when one input is switched or averaged")


class IndicatorSpec(TerminalSpec, InputSpec):
    """An indicator. A multi-input one lists its ``inputs``; what they leave out they take from the indicator."""

    inputs: dict[Terminal, InputSpec] | None = told("inputs by name, for an indicator with more than one")
    supply_terminals: tuple[Terminal, Terminal] | None = told("its supply and ground terminals")
    supply_current: Current | None = told("current it draws itself")
    supply_voltage: Span | None = told("supply it works on")
    lamp_current: Current | None = told("current of its lighting")
    diameter: Size | None = told("dial diameter")


class LegSpec(Model):
    """One conductor of a cable or thermocouple pair."""

    metal: Metal | None = told("metal of the conductor")
    resistance: ResistancePerLength | None = told("resistance at 20 degC")
    colour: str | None = told("insulation colour", max_length=40)
    colour_us: str | None = told("colour by ASTM E230", max_length=40)
    colour_iec: str | None = told("colour by IEC 60584-3", max_length=40)
    colour_military: str | None = told("colour by US military aircraft practice", max_length=40)


class WireSpec(Spec):
    """A wire, cable, thermocouple lead or strap, by the length."""

    kind: Literal["wire", "cable", "thermocouple lead", "coaxial cable", "ignition lead", "strap"] | None = (
        told("what sort of wire")
    )
    metal: Metal | None = told("conductor metal and plating")
    resistance: ResistancePerLength | None = told("conductor resistance at 20 degC")
    outside_diameter: Size | None = told("over the insulation or jacket")
    linear_weight: MassPerLength | None = told("weight per length")
    temperature_rating: Temperature | None = told("highest conductor temperature")
    voltage_rating: Voltage | None = told("highest voltage")
    insulation: str | None = told("insulation", max_length=80)
    legs: dict[str, LegSpec] | None = told("its conductors by name, when more than one")
    thermocouple: ThermocoupleType | None = told("couple it extends")
    grade: Literal["thermocouple", "extension", "compensating"] | None = told("grade of thermocouple lead")
    tolerance: Literal["standard", "special"] | None = told("tolerance of thermocouple lead")
    loop_length_resistance: ResistancePerLength | None = told(
        "both legs together, for lead made to a loop resistance"
    )
    shielded: bool | None = told("whether it has a shield")
    shield_resistance: ResistancePerLength | None = told("resistance of the shield")
    fire_rated: bool | None = told("whether it works in fire")
    strands: int | None = told("number of strands", ge=1)


class SupplySpec(TerminalSpec):
    """Battery, alternator, bus, protector, switch or contactor."""

    kind: (
        Literal[
            "battery",
            "alternator",
            "generator",
            "bus",
            "breaker",
            "fuse",
            "current limiter",
            "switch",
            "contactor",
            "inverter",
        ]
        | None
    ) = told("what it is")
    voltage: Voltage | None = told("regulated or nominal voltage")
    inner_resistance: Resistance | None = told(
        "resistance in series with its voltage, or through its contacts"
    )
    capacity: ChargeField | None = told("battery capacity")
    usable: Ratio | None = told("share of the capacity that can be counted on")
    rated_current: Current | None = told("output it can keep up")
    rating: Current | None = told("rating of a protector")
    coil_current: Current | None = told("coil current of a contactor")
    frequency: Frequency | None = told("output frequency of an inverter")


class LoadSpec(TerminalSpec):
    """Anything that draws current and is not an engine indicator."""

    current: Current | None = told("current drawn")
    resistance: Resistance | None = told("resistance, for a lamp or heater")
    power: PowerField | None = told("constant power drawn")
    min_voltage: Voltage | None = told("lowest voltage it works on")


class PinSpec(Model):
    metal: Metal | None = told("metal of the pin or screw")
    contact_resistance: Resistance | None = told("resistance through it")
    function: str | None = told("what it carries", max_length=80)
    spare: bool | None = told("yes if it is meant to stay empty")


class JunctionSpec(TerminalSpec):
    """Where conductors join: splice, terminal block, plug and receptacle, stud, selector, spool."""

    kind: (
        Literal[
            "splice",
            "terminal block",
            "plug",
            "stud",
            "selector switch",
            "averaging block",
            "spool",
            "shunt",
            "resistor",
            "disconnect",
        ]
        | None
    ) = told("what sort of joint")
    metal: Metal | None = told("metal between the joined conductors")
    pins: dict[Terminal, PinSpec] | None = told("its pins or screws by name, where they differ")
    contact_size: Literal["22D", "20", "16", "12"] | None = told("contact size of a plug")
    contact_resistance: Resistance | None = told("resistance through one joint")
    resistance: Resistance | None = told("resistance of a spool, shunt or resistor")
    smallest_gauge: WireGauge | None = told("smallest wire it takes")
    largest_gauge: WireGauge | None = told("largest wire it takes")
    max_stack: int | None = told("terminals allowed on one stud", ge=1, le=20)
    sealed: bool | None = told("whether it is sealed against moisture")


class FittingSpec(TerminalSpec):
    """A fluid fitting: tee, manifold, cock, restrictor, bulkhead fitting, cap."""

    kind: (
        Literal[
            "tee",
            "cross",
            "manifold",
            "cock",
            "check valve",
            "restrictor",
            "bulkhead fitting",
            "union",
            "elbow",
            "adapter",
            "damper",
            "cap",
            "plug",
            "drain",
            "separator",
        ]
        | None
    ) = told("what sort of fitting")
    material: (
        Literal["steel", "stainless steel", "brass", "copper", "aluminium", "bronze", "plastic"] | None
    ) = told("body material")
    bore: Size | None = told("smallest bore through it")
    ends: dict[str, str] | None = told("end form of each port: '37 degree flare -4', '1/8 pipe thread'...")
    rated_pressure: Pressure | None = told("working pressure")
    fireproof: bool | None = told("whether it is fireproof")


class LineSpec(Spec):
    """Tube, hose or capillary, by the length."""

    kind: Literal["tube", "hose", "capillary"] | None = told("rigid tube, hose or capillary")
    material: (
        Literal[
            "5052-O aluminium",
            "6061-T6 aluminium",
            "3003-O aluminium",
            "304 stainless",
            "copper",
            "brass",
            "rubber",
            "PTFE",
            "nylon",
        ]
        | None
    ) = told("tube material or hose lining")
    outside_diameter: Size | None = told("outside diameter")
    wall: Size | None = told("wall thickness")
    bore: Size | None = told("bore; outside diameter less two walls when left out")
    rated_pressure: Pressure | None = told("working pressure")
    burst_pressure: Pressure | None = told("burst pressure")
    temperature_rating: Temperature | None = told("highest temperature")
    min_bend_radius: Size | None = told("smallest bend radius")
    fire: Literal["none", "fire resistant", "fireproof"] | None = told("fire rating as fitted")
    end_form: str | None = told("end form: '37 degree flare -4', 'hose end -4'...", max_length=60)
    support_spacing: Size | None = told("largest distance between supports")
    linear_weight: MassPerLength | None = told("weight per length, empty")
