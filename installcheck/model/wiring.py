"""Wire runs, their ends and bundles, and the junctions they meet in."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from .fields import (
    Current,
    Difference,
    ElementResistance,
    End,
    Length,
    MassPerLength,
    Metal,
    Model,
    Ratio,
    Resistance,
    ResistancePerLength,
    Size,
    SourceVoltage,
    Temperature,
    Terminal,
    ThermocoupleType,
    WireGauge,
    optional,
)
from .routes import RouteStep, WireRouting
from .things import Placed, Spec, StudSpec


class LegSpec(Model):
    """One conductor of a cable or thermocouple pair."""

    metal: Metal | None = optional("metal of the conductor")
    resistance: ResistancePerLength | None = optional("resistance at 20 degC")
    colour: str | None = optional("insulation colour", max_length=40)
    colour_us: str | None = optional("colour by ASTM E230", max_length=40)
    colour_iec: str | None = optional("colour by IEC 60584-3", max_length=40)
    colour_military: str | None = optional("colour by US military aircraft practice", max_length=40)


class WireSpec(Spec):
    """A wire, cable, thermocouple lead or strap, by the length."""

    hangs_on = {
        "resistance": ("metal",),
        "legs": ("thermocouple",),
        "loop_length_resistance": ("thermocouple",),
        "temperature_rating": ("insulation",),
        "voltage_rating": ("insulation",),
    }
    worked_out = frozenset(("resistance",))

    kind: Literal["wire", "cable", "thermocouple lead", "coaxial cable", "ignition lead", "strap"] | None = (
        optional("what sort of wire")
    )
    metal: Metal | None = optional("conductor metal and plating")
    resistance: ResistancePerLength | None = optional("conductor resistance at 20 degC")
    outside_diameter: Size | None = optional("over the insulation or jacket")
    linear_weight: MassPerLength | None = optional("weight per length")
    temperature_rating: Temperature | None = optional("highest conductor temperature")
    voltage_rating: SourceVoltage | None = optional("highest voltage")
    insulation: str | None = optional("insulation", max_length=80)
    legs: dict[str, LegSpec] | None = optional("its conductors by name, when more than one")
    thermocouple: ThermocoupleType | None = optional("couple it extends")
    grade: Literal["thermocouple", "extension", "compensating"] | None = optional(
        "grade of thermocouple lead"
    )
    tolerance: Literal["standard", "special"] | None = optional("tolerance of thermocouple lead")
    loop_length_resistance: ResistancePerLength | None = optional(
        "both legs together, for lead made to a loop resistance"
    )
    shielded: bool | None = optional("whether it has a shield")
    shield_resistance: ResistancePerLength | None = optional("resistance of the shield")
    fire_rated: bool | None = optional("whether it works in fire")


class PinSpec(Model):
    metal: Metal | None = optional("metal of the pin or screw")
    contact_resistance: Resistance | None = optional("resistance through it")
    function: str | None = optional("what it carries", max_length=80)
    spare: bool | None = optional("yes if it is meant to stay empty")


class JunctionSpec(StudSpec):
    """Where conductors join: splice, terminal block, plug and receptacle, stud, selector, spool; and what ignition leads
    join: magneto, coil and spark plug."""

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
            "magneto",
            "ignition coil",
            "spark plug",
        ]
        | None
    ) = optional("what sort of joint")
    metal: Metal | None = optional("metal between the joined conductors")
    pins: dict[Terminal, PinSpec] | None = optional("its pins or screws by name, where they differ")
    contact_size: Literal["22D", "20", "16", "12"] | None = optional("contact size of a plug")
    contact_resistance: Resistance | None = optional("resistance through one joint")
    resistance: ElementResistance | None = optional("resistance of a spool, shunt or resistor")
    tolerance: Ratio | None = optional("how far the resistance of a shunt may be off, as a share of it")
    smallest_gauge: WireGauge | None = optional("smallest wire it takes")
    largest_gauge: WireGauge | None = optional("largest wire it takes")
    max_current: Current | None = optional("largest current it may carry")
    max_stack: int | None = optional("terminals allowed on one stud", ge=1, le=20)
    sealed: bool | None = optional("whether it is sealed against moisture")


class Junction(Placed):
    spec: JunctionSpec
    side: Literal["engine side", "cabin side"] | None = optional("face of the barrier it sits on")
    isothermal: bool | None = optional("whether all its pins share one temperature")
    pin_temperature_difference: Difference | None = optional(
        "largest temperature difference across its pins or between its ends"
    )
    selected: str | None = optional("position a selector stands at")
    shared_block: str | None = optional("block whose temperature it shares", max_length=60)
    stack: list[str] | None = optional("terminals on the stud from the bottom up")
    distance_from_end: Length | None = optional(
        "distance from a splice to the nearest termination of its run"
    )
    crimped: bool | None = optional("whether its joints are crimped")
    covered: bool | None = optional("whether a cover or boots keep metal off its terminals")
    mates: str | None = optional("plug or receptacle it joins; pins of one name meet", max_length=60)
    cavities: dict[Terminal, Terminal | None] | None = optional(
        "plug cavity -> receptacle cavity, where they are not the same; nothing where it meets none"
    )


class Bundle(WireRouting):
    """A bundle of runs that lie together."""

    title: str | None = optional("the bundle in words", max_length=120)
    wires: int | None = optional("all wires in it, those not in this document included", ge=1, le=2000)
    load_share: Ratio | None = optional("share of its current capacity in use")
    outside_diameter: Size | None = optional("its outside diameter")
    zone: str | None = optional("zone it runs in")
    mark_spacing: Size | None = optional("distance between marks")
    drip_loop: bool | None = optional("whether it drops before a connector entered from above")


class Termination(Model):
    """What is on the end of a wire."""

    kind: Literal["ring", "spade", "pin", "socket", "soldered", "crimped splice", "none"] = Field(
        description="sort of terminal"
    )
    smallest_gauge: WireGauge | None = optional("smallest wire it takes")
    largest_gauge: WireGauge | None = optional("largest wire it takes")
    stud: Size | None = optional("stud it fits")
    max_current: Current | None = optional("largest current it may carry")
    resistance: Resistance | None = optional("joint resistance")


class Shield(Model):
    """A shield as a conductor: where each of its ends goes."""

    from_: str | None = Field(
        default=None,
        alias="from",
        description="ground or terminal at the run's first end; 'open' if it ends there",
    )
    to: str | None = optional("ground or terminal at the run's second end; 'open' if it ends there")


class Conductor(Model):
    """One conductor of a run with more than one."""

    from_: End = Field(alias="from", description="terminal at one end")
    to: End = Field(description="terminal at the other end")
    metal: Metal | None = optional("its metal, where not as the part says")
    colour: str | None = optional("its colour, where not as the part says", max_length=40)
    gauge: WireGauge | None = optional("its gauge, where not that of the run")


class WireRun(Placed, WireRouting):
    """One wire, or one cable with its conductors, from end to end."""

    spec: WireSpec
    from_: End | None = Field(default=None, alias="from", description="terminal at one end")
    to: End | None = optional("terminal at the other end")
    gauge: WireGauge | None = optional("wire gauge")
    conductors: dict[Terminal, Conductor] | None = optional(
        "conductors by the name of the part's legs: '+' and '-', or A, B, C"
    )
    route: list[RouteStep] | None = optional("zones with lengths, and barriers crossed, in order")
    length: Length | None = optional("whole length, when the route is not split")
    bundle: str | None = optional("bundle it lies in")
    shield: Shield | None = optional("where its shield goes")
    terminations: tuple[Termination, Termination] | None = optional("what is on its two ends")
    mark_spacing: Size | None = optional("distance between marks")
    slack: Length | None = optional("slack or spare length")
    sensing: bool | None = optional("yes if it carries a signal; worked out when left out")
    colour: str | None = optional("insulation colour", max_length=40)
    thermocouple_colours: Literal["US", "IEC", "military"] | None = optional(
        "colour scheme of this lead, where not that of the installation"
    )
    twisted: bool | None = optional("whether its conductors are twisted")
    free_air: bool | None = optional("yes if it runs alone in free air")
    duty: Literal["continuous", "intermittent"] | None = optional("duty of what it carries")
    current: Current | None = optional("current it carries, when the load is not described")
    connected_to: Literal["capped", "tied back", "left open"] | None = optional(
        "state of the ends of a removed run"
    )

    @model_validator(mode="after")
    def _ends(self) -> WireRun:
        one = self.from_ is not None and self.to is not None
        if one == (self.conductors is not None) or (self.from_ is None) != (self.to is None):
            raise ValueError(
                "a run has either 'from' and 'to', or 'conductors' that each have them: 'from: oil bulb.A, to: oil gauge.A'"
            )
        return self
