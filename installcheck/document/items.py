"""What is installed: each thing with its place, its ends and its surroundings. What it *is* stands in ``spec``."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from .fields import (
    Airspeed,
    Current,
    Difference,
    End,
    Length,
    Mass,
    Measure,
    MeasuredValue,
    Medium,
    Metal,
    Model,
    Names,
    Pressure,
    Ratio,
    Reading,
    Resistance,
    Size,
    Speed,
    Station,
    Temperature,
    Terminal,
    Time,
    Voltage,
    Volume,
    WireGauge,
    told,
)
from .specs import (
    FittingSpec,
    IndicatorSpec,
    JunctionSpec,
    LineSpec,
    LoadSpec,
    ProbeSpec,
    SenderSpec,
    SupplySpec,
    WireSpec,
)

Status = Literal["existing", "new", "removed"]


class Header(Model):
    """What the document describes, and which issue of it this is."""

    name: str = Field(min_length=1, max_length=120, description="name of the installation")
    revision: str | None = told("revision of this document", max_length=40)
    date: str | None = told("date of this revision, YYYY-MM-DD", pattern=r"^\d{4}-\d{2}-\d{2}$")
    drawn_by: str | None = told("who wrote it", max_length=80)
    drawing: str | None = told("drawing number", max_length=60)
    replaces: str | None = told("file of the installation before this change", max_length=200)
    thermocouple_colours: Literal["US", "IEC", "military"] | None = told(
        "colour scheme of the thermocouple leads"
    )
    notes: list[str] | None = told("notes for the drawing")


class TemperatureRange(Model):
    """Temperatures a place sees in service."""

    lowest: Temperature = Field(description="lowest temperature in service")
    highest: Temperature = Field(description="highest temperature in service")
    normal: Temperature | None = told("usual temperature in cruise; midway when left out")

    @model_validator(mode="after")
    def _order(self) -> TemperatureRange:
        if self.highest < self.lowest:
            raise ValueError(f"highest ({self.highest.text}) is below lowest ({self.lowest.text})")
        if self.normal is not None and not self.lowest <= self.normal <= self.highest:
            raise ValueError(f"normal ({self.normal.text}) is not between lowest and highest")
        return self


class Zone(Model):
    """A space of the aircraft."""

    title: str | None = told("the zone in words", max_length=80)
    occupied: bool | None = told("yes if people sit in it or it opens to where they sit")
    fire_zone: bool | None = told("yes if it is a designated fire zone")
    hot_parts: bool | None = told("yes if exhaust parts run through it")
    vibrates: bool | None = told("yes if it moves with the engine")
    temperature: TemperatureRange | None = told("its air temperature")
    volume: Volume | None = told("closed air volume, for vapour")
    pressurised: bool | None = told("yes if it is pressurised")


class Barrier(Model):
    """A wall between two zones."""

    between: tuple[str, str] = Field(description="the two zones it parts")
    kind: Literal["firewall", "bulkhead", "floor", "panel", "shroud"] | None = told("what sort of wall")
    fireproof: bool | None = told("yes if it must stop fire; a firewall is, unless said otherwise")
    material: str | None = told("its material", max_length=60)

    @property
    def stops_fire(self) -> bool:
        """Whether crossings must be fireproof."""
        return self.fireproof if self.fireproof is not None else self.kind == "firewall"


class Limit(Model):
    """Engine limits and normal range of one indication, from approved data."""

    minimum: Reading | None = told("lowest allowed")
    maximum: Reading | None = told("highest allowed")
    normal_low: Reading | None = told("bottom of the normal range")
    normal_high: Reading | None = told("top of the normal range")
    caution_low: Reading | None = told("bottom of the caution range")
    caution_high: Reading | None = told("top of the caution range")
    source: str | None = told("document the limit comes from", max_length=200)


class Engine(Model):
    """An engine and what its papers say of limits and probe places."""

    title: str | None = told("the engine in words", max_length=120)
    cylinders: int | None = told("number of cylinders", ge=1, le=36)
    layout: Literal["opposed", "inline", "radial", "vee"] | None = told("arrangement of the cylinders")
    numbered_from: Literal["propeller end", "accessory end", "top clockwise from the rear"] | None = told(
        "end at which number 1 sits"
    )
    seats: dict[int, str] | None = told("seat of each cylinder number: 'right front'...")
    cooling: Literal["air", "liquid"] | None = told("what cools the cylinders")
    cowl_flaps: bool | None = told("whether it has cowl flaps")
    altitude_engine: bool | None = told("whether it keeps take-off power to a stated altitude")
    turbocharged: bool | None = told("whether it is turbocharged")
    controllable_propeller: bool | None = told("whether the propeller pitch can be controlled in flight")
    fuel_feed: Literal["gravity", "pump"] | None = told("how fuel reaches it")
    pressure_oil: bool | None = told("whether its oil system is under pressure")
    preheat_limit: bool | None = told("whether an induction temperature limit exists that preheat can exceed")
    speed: Speed | None = told("rated speed")
    limits: dict[Measure, Limit] | None = told("limits by indication")
    head_reference: Literal["well", "gasket ring", "bolt"] | None = told(
        "where the head-temperature limit is measured"
    )
    hottest_cylinder: int | None = told("cylinder its papers name for a single probe", ge=1, le=36)
    hottest_source: str | None = told("paper that names it", max_length=200)
    exhaust_probe_distance: Length | None = told("distance its papers ask for, port to exhaust probe")
    exhaust_probe_band: tuple[Length, Length] | None = told(
        "nearest and farthest its papers allow, port to exhaust probe"
    )
    oil_reference: Literal["inlet", "outlet", "sump", "gallery"] | None = told(
        "where the oil temperature limit applies"
    )
    fuel_pressure_reference: Literal["carburettor inlet", "servo inlet", "divider"] | None = told(
        "where the fuel pressure limit applies"
    )
    automatic_mixture: bool | None = told("whether its mixture follows the altitude by itself")
    preheat_rise: Difference | None = told("heat rise its carburettor preheater can give")
    oil_quantity: Volume | None = told("oil carried")
    oil_minimum: Volume | None = told("least oil for flight")
    tachometer_drive: float | None = told(
        "engine revolutions per revolution of the tachometer drive", gt=0, le=20
    )
    drive_sense: Literal["clockwise", "anticlockwise"] | None = told(
        "sense of the tachometer drive, seen from outside"
    )


class Aircraft(Model):
    """The aircraft and the rules it lives under."""

    title: str | None = told("the aircraft in words", max_length=120)
    basis: (
        Literal[
            "CAR 3",
            "part 23 before 2017",
            "part 23 from 2017",
            "part 25",
            "part 27",
            "part 29",
            "amateur-built",
            "other",
        ]
        | None
    ) = told("certification basis")
    operation: list[Literal["VFR day", "VFR night", "IFR", "part 121"]] | None = told("kinds of operation")
    ceiling: Length | None = told("highest operating altitude")
    system_voltage: Voltage | None = told("nominal system voltage: 14 V or 28 V")
    required: list[Measure] | None = told("indications its papers require beyond the rules")
    load_monitored: bool | None = told(
        "whether a placard or a monitor keeps the load within the source rating"
    )
    field_elevation: Length | None = told("elevation of the field, for function checks")
    datum: str | None = told("weight and balance datum", max_length=80)


class OperatingPoint(Model):
    """One state of the aircraft at which indications are worked out."""

    title: str | None = told("the state in words", max_length=80)
    phase: (
        Literal["ground", "start", "take-off", "climb", "cruise", "descent", "landing", "emergency"] | None
    ) = told("phase of flight")
    zone_temperatures: dict[str, Temperature] | None = told("air temperature of zones at this point")
    joint_temperatures: dict[str, Temperature] | None = told(
        "temperature of joints, where it differs from their zone"
    )
    readings: dict[Measure, Reading] | None = told("true value of each quantity at this point")
    altitude: Length | None = told("pressure altitude")
    outside_air: Temperature | None = told("outside air temperature")
    airspeed: Airspeed | None = told("indicated airspeed")
    engine_speed: Speed | None = told("engine speed")
    loads_on: list[str] | None = told("loads drawing current; every continuous load when left out")
    open_switches: list[str] | None = told("switches and breakers that are open")
    dead_supplies: list[str] | None = told("supplies that give nothing")
    duration: Time | None = told("time spent in it")


class Placed(Model):
    """What every installed thing says of itself."""

    title: str | None = told("the thing in words", max_length=120)
    part: str | None = told("key of a part in the part library or a named part file", max_length=120)
    size: str | None = told("size of the part, where it comes in sizes", max_length=60)
    zone: str | None = told("zone it sits in")
    engine: str | None = told("engine it serves, when there is more than one")
    status: Status | None = told("existing, new or removed by this change")
    station: Station | None = told("arm from the datum, for weight and balance")
    notes: list[str] | None = told("notes for the drawing")
    temperature: TemperatureRange | None = told("its own temperature, where it differs from its zone")
    quantity: int | None = told("how many of it", ge=1, le=1000)


Passed = Literal["thread", "gasket", "sealed thread", "bolts", "painted bolts", "strap", "wire", "clamp"]


class Grounding(Model):
    """How the body of a thing reaches ground."""

    to: str = Field(description="ground it reaches: an id under grounds, or a terminal")
    through: Passed | None = told("what the current passes")
    resistance: Resistance | None = told("resistance of that path")


class Sender(Placed):
    spec: SenderSpec
    grounding: Grounding | None = told("how its body reaches ground")
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
            "divider",
            "plenum",
            "port",
            "airbox",
            "below throttle",
            "cabin",
            "outside",
        ]
        | None
    ) = told("where in the system it senses")
    elevation: Length | None = told("height above the tap it senses")
    serves: list[Measure] | None = told("indications it serves beside its own")
    primary: bool | None = told("yes if it serves the required indication")
    drive_ratio: float | None = told("engine revolutions per revolution of its shaft", gt=0, le=20)
    mounted_on: Literal["engine", "firewall", "airframe", "hose"] | None = told("what carries its weight")
    immersed: bool | None = told("whether the bulb is wholly in the fluid")
    screwed_into: End | None = told(
        "port it is screwed into directly by its first port, with no line between"
    )


class Indicator(Placed):
    spec: IndicatorSpec
    required: bool | None = told("yes if it is the required instrument; no if it is an extra")
    backs_up: str | None = told("indicator it must back up")
    in_view: bool | None = told("whether the pilot sees it from the seat")
    grounding: Grounding | None = told("how its case reaches ground")
    elevation: Length | None = told("height of the gauge above the tap it reads")
    label: str | None = told("text on its face or placard", max_length=60)


class Probe(Placed):
    spec: ProbeSpec
    measures: Measure | None = told("what it measures")
    cylinder: int | None = told("cylinder it serves", ge=1, le=36)
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
    ) = told("where it is fitted")
    seat: str | None = told("seat of that cylinder, in the words of the engine: 'right front'", max_length=40)
    distance: Length | None = told("distance from the exhaust port")
    distance_tolerance: Length | None = told("how well that distance is known")
    location_note: str | None = told("anything that bears on where it sits", max_length=200)
    grounding: Grounding | None = told("what a grounded junction touches")
    required: bool | None = told("yes if it serves the required indication")


class Supply(Placed):
    spec: SupplySpec
    essential: bool | None = told("whether it must stay alive on battery")
    distance_from_source: Length | None = told(
        "unprotected wire length between the source and this protector"
    )


class Load(Placed):
    spec: LoadSpec
    duty: Literal["continuous", "intermittent"] | None = told("continuous, or on for a short time")
    on_time: Time | None = told("longest time on")
    essential: bool | None = told("whether it stays on when the source is lost")
    phases: list[str] | None = told("phases of flight in which it is on")
    grounding: Grounding | None = told("how its body reaches ground")
    connected_at: str | None = told("bus that feeds it, when its wiring is not described")


class Ground(Model):
    """A ground point, the structure, the engine case, or a strap that joins two of them."""

    kind: Literal["structure", "engine case", "stud", "bus", "strap", "bond"] = Field(
        description="what it is"
    )
    title: str | None = told("the ground in words", max_length=120)
    zone: str | None = told("zone it sits in")
    joins: str | None = told("ground a stud or bus is fastened to")
    through: Passed | None = told("what the current passes where it is fastened")
    resistance: Resistance | None = told("resistance of that joint, or of the whole strap with both joints")
    from_: str | None = Field(default=None, alias="from", description="one end of a strap")
    to: str | None = told("other end of a strap")
    part: str | None = told("strap by the length, from the part library", max_length=120)
    gauge: WireGauge | None = told("strap gauge")
    length: Length | None = told("strap length")
    stack: list[str] | None = told("terminals on the stud from the bottom up, washers and nuts included")
    status: Status | None = told("existing, new or removed by this change")
    station: Station | None = told("arm from the datum, for weight and balance")
    material: str | None = told("structure metal at the joint", max_length=60)
    stud: Size | None = told("stud diameter")

    @model_validator(mode="after")
    def _ends(self) -> Ground:
        if self.kind in ("strap", "bond"):
            if self.from_ is None or self.to is None or self.joins is not None:
                raise ValueError(f"a {self.kind} joins two grounds: give 'from' and 'to', not 'joins'")
        elif self.from_ is not None or self.to is not None:
            raise ValueError(
                f"only a strap or bond has 'from' and 'to'; say what the {self.kind} is fastened to by 'joins'"
            )
        return self


class Junction(Placed):
    spec: JunctionSpec
    side: Literal["engine side", "cabin side"] | None = told("face of the barrier it sits on")
    isothermal: bool | None = told("whether all its pins share one temperature")
    pin_temperature_difference: Difference | None = told(
        "largest temperature difference across its pins or between its ends"
    )
    selected: str | None = told("position a selector stands at")
    shared_block: str | None = told("block whose temperature it shares", max_length=60)
    stack: list[str] | None = told("terminals on the stud from the bottom up")
    distance_from_end: Length | None = told("distance from a splice to the nearest termination of its run")
    crimped: bool | None = told("whether its joints are crimped")
    mates: str | None = told("plug or receptacle it joins; pins of one name meet", max_length=60)
    cavities: dict[Terminal, Terminal | None] | None = told(
        "plug cavity -> receptacle cavity, where they are not the same; nothing where it meets none"
    )


class RouteStep(Model):
    """A length in a zone, or the crossing of a barrier."""

    zone: str | None = told("zone it runs through")
    length: Length | None = told("length in that zone")
    barrier: str | None = told("barrier it crosses")
    through: (
        Literal[
            "grommet",
            "fireproof grommet",
            "bulkhead fitting",
            "sealed plug",
            "plug",
            "open hole",
            "sealed hole",
            "conduit",
        ]
        | None
    ) = told("what it crosses by")
    fitting: str | None = told("fitting or plug it passes, by id")
    clearance: Length | None = told("clearance to the edge of the hole")

    @model_validator(mode="after")
    def _one(self) -> RouteStep:
        if (self.zone is None) == (self.barrier is None):
            raise ValueError("a step of a route is either a zone with its length, or a barrier crossed")
        return self


class Clearance(Model):
    """How far a run or line is from something that can hurt it, or that it can hurt."""

    to: str = Field(max_length=120, description="what it passes, by id or in words")
    kind: Literal[
        "flammable line",
        "oxygen line",
        "exhaust",
        "hot equipment",
        "control cable",
        "movable control",
        "ignition lead",
        "aerial lead",
        "high-current wire",
        "compass",
        "structure edge",
        "wire",
        "engine",
        "tank",
    ] = Field(description="what sort of thing that is")
    distance: Length | None = told("smallest distance")
    position: Literal["above", "below", "beside", "crossing"] | None = told(
        "where this run is, seen from the other thing"
    )
    clamped: bool | None = told("whether both are held so that they cannot touch")
    guarded: bool | None = told("whether a guard, shield or sleeve stands between")
    along: Length | None = told("length over which they run together")


class Routing(Model):
    """What runs, lines and bundles say of their way."""

    bend_radius: Size | None = told("smallest bend radius")
    support_spacing: Size | None = told("largest distance between supports")
    supported_by: Literal["cushioned clamps", "ties", "tape", "conduit", "fluid line"] | None = told(
        "what holds it"
    )
    clearances: list[Clearance] | None = told(
        "what it passes and how far off; an empty list says it passes nothing of the kind"
    )
    marked: bool | None = told("whether it carries its id at both ends")
    mark_spacing: Size | None = told("distance between marks")
    slack: Length | None = told("slack or spare length")


class Bundle(Routing):
    """A bundle of runs that lie together."""

    title: str | None = told("the bundle in words", max_length=120)
    wires: int | None = told("all wires in it, those not in this document included", ge=1, le=2000)
    load_share: Ratio | None = told("share of its current capacity in use")
    outside_diameter: Size | None = told("its outside diameter")
    zone: str | None = told("zone it runs in")
    drip_loop: bool | None = told("whether it drops before a connector entered from above")


class Termination(Model):
    """What is on the end of a wire."""

    kind: Literal["ring", "spade", "pin", "socket", "soldered", "crimped splice", "none"] = Field(
        description="sort of terminal"
    )
    smallest_gauge: WireGauge | None = told("smallest wire it takes")
    largest_gauge: WireGauge | None = told("largest wire it takes")
    stud: Size | None = told("stud it fits")
    max_current: Current | None = told("largest current it may carry")
    resistance: Resistance | None = told("joint resistance")


class Shield(Model):
    """A shield as a conductor: where each of its ends goes."""

    from_: str | None = Field(
        default=None,
        alias="from",
        description="ground or terminal at the run's first end; 'open' if it ends there",
    )
    to: str | None = told("ground or terminal at the run's second end; 'open' if it ends there")


class Conductor(Model):
    """One conductor of a run with more than one."""

    from_: End = Field(alias="from", description="terminal at one end")
    to: End = Field(description="terminal at the other end")
    metal: Metal | None = told("its metal, where not as the part says")
    colour: str | None = told("its colour, where not as the part says", max_length=40)
    gauge: WireGauge | None = told("its gauge, where not that of the run")


class WireRun(Placed, Routing):
    """One wire, or one cable with its conductors, from end to end."""

    spec: WireSpec
    from_: End | None = Field(default=None, alias="from", description="terminal at one end")
    to: End | None = told("terminal at the other end")
    gauge: WireGauge | None = told("wire gauge")
    conductors: dict[Terminal, Conductor] | None = told(
        "conductors by the name of the part's legs: '+' and '-', or A, B, C"
    )
    route: list[RouteStep] | None = told("zones with lengths, and barriers crossed, in order")
    length: Length | None = told("whole length, when the route is not split")
    bundle: str | None = told("bundle it lies in")
    shield: Shield | None = told("where its shield goes")
    terminations: tuple[Termination, Termination] | None = told("what is on its two ends")
    sensing: bool | None = told("yes if it carries a signal; worked out when left out")
    colour: str | None = told("insulation colour", max_length=40)
    thermocouple_colours: Literal["US", "IEC", "military"] | None = told(
        "colour scheme of this lead, where not that of the installation"
    )
    twisted: bool | None = told("whether its conductors are twisted")
    free_air: bool | None = told("yes if it runs alone in free air")
    duty: Literal["continuous", "intermittent"] | None = told("duty of what it carries")
    current: Current | None = told("current it carries, when the load is not described")
    connected_to: Literal["capped", "tied back", "left open"] | None = told(
        "state of the ends of a removed run"
    )

    @model_validator(mode="after")
    def _ends(self) -> WireRun:
        one = self.from_ is not None and self.to is not None
        if one == (self.conductors is not None) or (self.from_ is None) != (self.to is None):
            raise ValueError("a run has either 'from' and 'to', or 'conductors' that each have them")
        return self


class Tap(Model):
    """A place where a fluid line takes pressure or fluid from a system."""

    title: str | None = told("the tap in words", max_length=120)
    medium: Medium = Field(description="what comes out of it")
    engine: str | None = told("engine it is on")
    zone: str | None = told("zone it sits in")
    location: (
        Literal[
            "gallery",
            "pump outlet",
            "carburettor inlet",
            "servo inlet",
            "divider",
            "plenum",
            "port",
            "primer port",
            "tank",
            "sump",
            "vacuum pump",
            "other",
        ]
        | None
    ) = told("where in the system")
    pressure: Pressure | None = told("normal pressure above the surroundings")
    max_pressure: Pressure | None = told("highest pressure")
    temperature: Temperature | None = told("temperature of the fluid")
    grade: str | None = told("fluid by grade: 'SAE 50', '100LL'", max_length=40)
    thread: str | None = told("thread of the port", max_length=60)
    capped: bool | None = told("whether the port is closed by a cap or plug")
    shutoff: str | None = told(
        "cock or switch that stops this source, and how long it takes to reach", max_length=120
    )
    shutoff_time: Time | None = told("time until the source can be shut")


class Fitting(Placed):
    spec: FittingSpec
    barrier: str | None = told("barrier it is fixed in")
    position: Literal["open", "closed"] | None = told("how a cock stands")
    flow: tuple[Terminal, Terminal] | None = told("ports of a check valve, from and to")
    screwed_into: End | None = told(
        "port it is screwed into directly by its first port, with no line between"
    )


class FluidLine(Placed, Routing):
    """One fluid line from end to end."""

    spec: LineSpec
    from_: End = Field(alias="from", description="port at one end")
    to: End = Field(description="port at the other end")
    medium: Medium | None = told("medium it is labelled for")
    route: list[RouteStep] | None = told("zones with lengths, and barriers crossed, in order")
    length: Length | None = told("whole length, when the route is not split")
    coil_radius: Size | None = told("radius of the coil that takes up excess")
    coiled: Length | None = told("excess length coiled")
    rise: Station | None = told("height of the far end above the near end")
    low_point_drain: bool | None = told("whether a low point has a drain, or the line rises all the way")
    strained: bool | None = told("yes if it is pulled into line by its nut")
    straight_at_fittings: Length | None = told("straight length at its end fittings")
    bends: int | None = told("number of bends", ge=0, le=100)
    sleeve: bool | None = told("whether a fire sleeve covers it")
    fitted: str | None = told("date fitted or cured, YYYY-MM-DD", pattern=r"^\d{4}-\d{2}-\d{2}$")
    life: Time | None = told("life limit from its papers")
    shrouded: bool | None = told("whether a drained shroud encloses it in the occupied zone")
    open_ends: Literal["capped", "open"] | None = told("state of what is left of a removed line")


class SurveyStage(Model):
    """Cylinder temperatures seen in one stage of flight."""

    temperatures: dict[int, Temperature] = Field(description="highest temperature of each cylinder")
    outside_air: Temperature | None = told("outside air temperature at the highest reading")
    altitude: Length | None = told("pressure altitude at the highest reading")
    limit: Temperature | None = told("limit in this stage, when not the engine's")


class Survey(Model):
    """A survey of cylinder temperatures of one engine."""

    engine: str | None = told("engine surveyed")
    numbered_from: Literal["propeller end", "accessory end", "top clockwise from the rear"] | None = told(
        "end at which its number 1 sits, where that is not the engine's"
    )
    stages: dict[str, SurveyStage] | None = told("temperatures by stage")
    log: str | None = told("recorder log, by relative path", max_length=200)
    columns: dict[str, str] | None = told("what each column of the log is: role -> column name")
    unconnected: list[str] | None = told("columns of channels with no probe")
    probe_kind: str | None = told("kind of probe used on every cylinder", max_length=40)
    probe_grade: Literal["standard", "special", "IEC class 1", "IEC class 2"] | None = told(
        "tolerance grade of those probes"
    )
    thermocouple: Literal["J", "K", "E", "T", "N"] | None = told("couple of those probes")
    date: str | None = told("date flown", max_length=40)


class Measurement(Model):
    """A value measured on the aircraft."""

    between: tuple[str, str] | None = told("two terminals")
    of: str | None = told(
        "indicator, run, line or ground it is of; one leg or input is named after a dot", max_length=130
    )
    position: str | None = told("position a selector stood at", max_length=40)
    value: MeasuredValue = Field(
        description="what was read, with its unit; 'open' where a meter shows no end"
    )
    what: (
        Literal["resistance", "insulation", "voltage", "indication", "length", "engine-off indication"] | None
    ) = told("what was measured")
    at_temperature: Temperature | None = told("temperature of the wiring when measured")
    true_value: Reading | None = told("true value at the time, for an indication")
    as_expected: bool | None = told("whether it was as it should be: which channels misbehave")
    swapped_for: str | None = told("thing put in its place for the test: a swap test", max_length=130)
    date: str | None = told("date", max_length=40)
    by: str | None = told("who measured", max_length=80)
    connected: bool | None = told("whether both ends were still connected")

    @model_validator(mode="after")
    def _open(self) -> Measurement:
        if isinstance(self.value, str) and self.what not in (None, "resistance", "insulation", "indication"):
            raise ValueError(f"'{self.value}' is no {self.what}: write a number with its unit")
        return self


class Notice(Model):
    """A service notice or directive that bears on what is installed, and how it stands."""

    number: str = Field(min_length=1, max_length=80, description="number of the notice")
    subject: str | None = told("what it asks for, in words", max_length=300)
    at: Names | None = told("what it concerns, by id")
    state: Literal["open", "complied with", "does not apply"] | None = told("how it stands")
    method: str | None = told("how it was complied with", max_length=300)
    date: str | None = told("date, YYYY-MM-DD", pattern=r"^\d{4}-\d{2}-\d{2}$")
    by: str | None = told("who signed for it", max_length=80)


class Deviation(Model):
    """A discrepancy accepted by somebody, on some data, for some time."""

    rule: str = Field(max_length=80, description="rule it concerns")
    at: Names = Field(description="what it concerns, by id")
    accepted_by: str | None = told("who accepted it", max_length=120)
    data: str | None = told("data it rests on", max_length=300)
    until: str | None = told("last day it holds, YYYY-MM-DD", pattern=r"^\d{4}-\d{2}-\d{2}$")
    reason: str | None = told("why", max_length=400)


class Removed(Model):
    """Something this change takes out, and what it leaves."""

    kind: Literal["wire", "fluid line", "instrument", "sender", "other"] = Field(description="what it was")
    title: str | None = told("the thing in words", max_length=120)
    ends: list[str] | None = told("terminals or ports it leaves")
    left: Literal["capped", "blanked", "tied back", "open"] | None = told("how those are left")
    zone: str | None = told("zone it was in")
    weight: Mass | None = told("weight taken out")
    station: Station | None = told("arm of that weight")
