"""Senders, probes and indicators: what each is (its spec, which a part fills) beside where it is installed."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

from pydantic import Field, model_validator

from .fields import (
    Current,
    Difference,
    Dissipation,
    ElementResistance,
    End,
    Frequency,
    Length,
    Measure,
    Model,
    OpenShows,
    PressureRating,
    Reading,
    Resistance,
    Signal,
    Size,
    SourceVoltage,
    Station,
    Temperature,
    Terminal,
    ThermocoupleType,
    Volume,
    optional,
)
from .things import Grounding, Placed, Span, StudSpec


class Curve(Model):
    """How a sender's output follows what it senses: a law by name, a table of points, or three coefficients."""

    law: Literal["nickel 90.38", "Pt100"] | None = optional("a resistance bulb law by its standard name")
    points: list[tuple[Reading, Signal]] | None = optional(
        "table of [indication, output], both rising or falling throughout"
    )
    steinhart_hart: tuple[float, float, float] | None = optional(
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


class Marking(Model):
    """A coloured mark on a dial: a radial line at one value, or an arc from one to another."""

    colour: Literal["red", "yellow", "green", "blue", "white"] = Field(description="colour of the mark")
    at: Reading | None = optional("value of a radial line")
    lowest: Reading | None = optional("start of an arc")
    highest: Reading | None = optional("end of an arc")


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


class SenderSpec(StudSpec):
    """A sender or bulb at the engine."""

    principle: SenderPrinciple | None = optional("how it senses")
    measures: Measure | None = optional("what it senses")
    curve: Curve | None = optional("output against what it senses")
    tolerance: Difference | None = optional("largest error of its output, as an indication")
    full_scale: Reading | None = optional("highest value it can sense")
    proof_pressure: PressureRating | None = optional("pressure it stands without harm")
    max_current: Current | None = optional("largest current it may carry")
    case_return: bool | None = optional("yes if its body is one of its terminals")
    stations: int | None = optional("how many indicators its output is meant for", ge=1, le=4)
    supply_voltage: Span | None = optional("supply it needs")
    supply_current: Current | None = optional("current it draws from its supply")
    winding_resistance: ElementResistance | None = optional("resistance between two of its three leads")
    excitation_voltage: SourceVoltage | None = optional("rotor excitation of a synchro")
    excitation_frequency: Frequency | None = optional("rotor excitation frequency of a synchro")
    poles: int | None = optional("poles of a tachometer generator", ge=2, le=24)
    sense: Literal["clockwise", "anticlockwise"] | None = optional(
        "sense in which a tachometer generator is driven with leads 1, 2, 3 in order, seen from its shaft end"
    )
    pulses_per_revolution: float | None = optional("pulses per engine revolution", gt=0, le=1000)
    pulses_per_gallon: float | None = optional("pulses for each US gallon of a flow sender", gt=0, le=1e6)
    output_impedance: Resistance | None = optional("source impedance of a voltage or pulse output")
    filling: (
        Literal["diethyl ether", "sulfur dioxide", "methyl chloride", "mercury", "xylene", "other"] | None
    ) = optional("what a capillary system holds")
    capillary_length: Size | None = optional("length of capillary as made; it is never cut or joined")
    capillary_bore: Size | None = optional("bore of the capillary")
    bulb_volume: Volume | None = optional("volume of the bulb")
    min_bend_radius: Size | None = optional("smallest bend radius of the capillary")
    dissipation: Dissipation | None = optional("self-heating: power per degree in the fluid it sits in")
    port_thread: str | None = optional("thread of its port", max_length=60)
    material: str | None = optional("body material", max_length=60)
    arm: Size | None = optional("distance from its port to its centre of mass")


class Sender(Placed):
    spec: SenderSpec
    grounding: Grounding | None = optional("how its body reaches ground")
    location: (
        Literal[
            "engine inlet",
            "engine outlet",
            "sump",
            "gallery",
            "firewall",
            "engine",
            "cooler",
            "carburettor inlet",
            "servo inlet",
            "divider",
            "plenum",
            "port",
            "airbox",
            "below throttle",
            "cabin",
            "outside",
        ]
        | None
    ) = optional("where in the system it senses")
    elevation: Station | None = optional("height above the tap it senses; with a minus where it is below")
    serves: list[Measure] | None = optional("indications it serves beside its own")
    drive_ratio: float | None = optional("engine revolutions per revolution of its shaft", gt=0, le=20)
    mounted_on: Literal["engine", "firewall", "airframe", "hose", "pipe"] | None = optional(
        "what carries its weight; 'hose' or 'pipe' where it hangs on its own line"
    )
    immersed: bool | None = optional("whether the bulb is wholly in the fluid")
    screwed_into: End | None = optional(
        "port it is screwed into directly by its first port, with no line between"
    )


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


class ProbeSpec(StudSpec):
    """A thermocouple probe."""

    hangs_on = {"resistance": ("lead_length", "thermocouple")}

    kind: ProbeKind | None = optional("how it is held")
    thermocouple: ThermocoupleType | None = optional("thermocouple type by letter")
    grade: Literal["standard", "special", "IEC class 1", "IEC class 2"] | None = optional(
        "tolerance grade of the couple"
    )
    junction: Literal["grounded", "isolated"] | None = optional(
        "whether the hot junction touches the sheath or ring"
    )
    resistance: ElementResistance | None = optional("resistance of the couple with its own lead")
    lead_length: Length | None = optional("length of its own lead")


class Probe(Placed):
    spec: ProbeSpec
    measures: Measure | None = optional("what it measures")
    cylinder: int | None = optional("cylinder it serves", ge=1, le=36)
    mount: (
        Literal[
            "well",
            "upper plug",
            "lower plug",
            "bolt",
            "exhaust pipe",
            "turbine inlet",
            "fin",
            "airbox",
            "carburettor body",
            "outside",
        ]
        | None
    ) = optional("where it is fitted")
    seat: str | None = optional(
        "seat of that cylinder, in the words of the engine: 'right front'", max_length=40
    )
    distance: Length | None = optional("distance from the exhaust port")
    distance_tolerance: Length | None = optional("how well that distance is known")
    location_note: str | None = optional("anything that bears on where it sits", max_length=200)
    grounding: Grounding | None = optional("what a grounded junction touches")
    required: bool | None = optional("yes if it serves the required indication")


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

    principle: IndicatorPrinciple | None = optional("how it turns the signal into an indication")
    measures: Measure | None = optional("what it shows")
    terminals: list[Terminal] | None = optional("terminals of this input, signal first")
    ports: list[Terminal] | None = optional("fluid ports of this input")
    scale: Span | None = optional("range of the dial")
    markings: list[Marking] | None = optional(
        "coloured arcs and lines on the dial; of a warning light its colour and the value it comes on at"
    )
    budget: Difference | None = optional("largest total error allowed for this indication, sender to pointer")
    accuracy: Difference | None = optional("the indicator's own largest error")
    thermocouple: ThermocoupleType | None = optional("couple its scale is drawn for")
    compensation: Literal["at its terminals", "elsewhere", "none"] | None = optional(
        "where the reference-junction temperature is taken"
    )
    compensated_at: str | None = optional(
        "joint where the reference temperature is taken, when elsewhere", max_length=130
    )
    reference_temperature: Temperature | None = optional(
        "cold-end temperature the scale of an uncompensated indicator is drawn for"
    )
    inner_resistance: ElementResistance | None = optional("resistance of the instrument itself")
    loop_resistance: Resistance | None = optional("external resistance it is calibrated for")
    loop_tolerance: Resistance | None = optional("how far the external resistance may be off")
    input_grounding: Literal["isolated", "common negative", "grounded negative"] | None = optional(
        "how thermocouple inputs relate to each other and to ground"
    )
    curve: Curve | None = optional("sender curve the dial is drawn for")
    excitation: SourceVoltage | None = optional(
        "voltage the instrument puts on the sender circuit; the bus when left out"
    )
    pull_up: ElementResistance | None = optional("resistor between the excitation and the sender")
    ratiometric: bool | None = optional("yes if the reading does not follow the supply voltage")
    bulb_leads: int | None = optional("leads to the bulb it is made for", ge=1, le=3)
    bridge_arm: ElementResistance | None = optional("each ratio arm of the bridge")
    bridge_balance: Reading | None = optional("indication at which the bridge balances")
    detector_resistance: ElementResistance | None = optional("resistance of the bridge's detector")
    lead_allowance: Resistance | None = optional("lead resistance its calibration allows for")
    input_range: Span | None = optional("electrical input it accepts")
    pulses_per_revolution: float | None = optional("pulses per engine revolution it expects", gt=0, le=1000)
    pulses_per_gallon: float | None = optional("pulses for each US gallon it expects", gt=0, le=1e6)
    max_pulse_rate: Frequency | None = optional("highest pulse rate it follows")
    poles: int | None = optional("poles of its synchronous motor", ge=2, le=24)
    generator_poles: int | None = optional("poles of the tachometer generator it is made for", ge=2, le=24)
    engine_ratio: float | None = optional(
        "engine revolutions per generator revolution it is made for", gt=0, le=100
    )
    excitation_voltage: SourceVoltage | None = optional("rotor excitation of a synchro")
    excitation_frequency: Frequency | None = optional("rotor excitation frequency of a synchro")
    winding_resistance: ElementResistance | None = optional("resistance between two of its three leads")
    open_shows: OpenShows | None = optional("what it shows with an open input")
    full_scale: Reading | None = optional("sender full scale it is made for")
    cylinders: list[int] | None = optional("cylinders it shows, when one input is switched or averaged")


class IndicatorSpec(StudSpec, InputSpec):
    """An indicator. A multi-input one lists its ``inputs``; what they leave out they take from the indicator."""

    inputs: dict[Terminal, InputSpec] | None = optional("inputs by name, for an indicator with more than one")
    supply_terminals: tuple[Terminal, Terminal] | None = optional("its supply and ground terminals")
    supply_current: Current | None = optional("current it draws itself")
    supply_voltage: Span | None = optional("supply it works on")
    lamp_current: Current | None = optional("current of its lighting")


class Indicator(Placed):
    spec: IndicatorSpec
    required: bool | None = optional("yes if it is the required instrument; no if it is an extra")
    backs_up: str | None = optional("indicator it must back up")
    in_view: bool | None = optional("whether the pilot sees it from the seat")
    grounding: Grounding | None = optional("how its case reaches ground")
    elevation: Station | None = optional(
        "height of the gauge above the tap it reads; with a minus where it is below"
    )
    label: str | None = optional("text on its face or placard", max_length=60)
