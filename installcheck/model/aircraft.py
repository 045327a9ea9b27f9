"""The aircraft: its engines and their limits, its zones and barriers, and the states it is judged in."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from .fields import (
    Difference,
    Length,
    Measure,
    Model,
    Reading,
    SourceVoltage,
    Speed,
    Station,
    Temperature,
    Volume,
    optional,
)


class Header(Model):
    """What the document describes, and which issue of it this is."""

    name: str = Field(min_length=1, max_length=120, description="name of the installation")
    revision: str | None = optional("revision of this document", max_length=40)
    date: str | None = optional("date of this revision, YYYY-MM-DD", pattern=r"^\d{4}-\d{2}-\d{2}$")
    drawn_by: str | None = optional("who wrote it", max_length=80)
    drawing: str | None = optional("drawing number", max_length=60)
    replaces: str | None = optional("file of the installation before this change", max_length=200)
    thermocouple_colours: Literal["US", "IEC", "military"] | None = optional(
        "colour scheme of the thermocouple leads"
    )
    scope: Literal["whole", "part"] | None = optional(
        "'part' if it describes a part of an aircraft only, whose other instruments are not drawn; whole when left out"
    )
    notes: list[str] | None = optional("notes for the drawing")


class TemperatureRange(Model):
    """Temperatures a place sees in service."""

    lowest: Temperature = Field(description="lowest temperature in service")
    highest: Temperature = Field(description="highest temperature in service")
    normal: Temperature | None = optional("usual temperature in cruise; midway when left out")

    @model_validator(mode="after")
    def _order(self) -> TemperatureRange:
        if self.highest < self.lowest:
            raise ValueError(
                f"highest ({self.highest.text}) is below lowest ({self.lowest.text}); exchange them"
            )
        if self.normal is not None and not self.lowest <= self.normal <= self.highest:
            raise ValueError(
                f"normal ({self.normal.text}) is not between lowest ({self.lowest.text}) and highest ({self.highest.text})"
            )
        return self


class Zone(Model):
    """A space of the aircraft."""

    title: str | None = optional("the zone in words", max_length=80)
    occupied: bool | None = optional("yes if people sit in it or it opens to where they sit")
    fire_zone: bool | None = optional("yes if it is a designated fire zone")
    hot_parts: bool | None = optional("yes if exhaust parts run through it")
    vibrates: bool | None = optional("yes if it moves with the engine")
    temperature: TemperatureRange | None = optional("its air temperature")
    volume: Volume | None = optional("closed air volume, for vapour")
    pressurised: bool | None = optional("yes if it is pressurised")


class Barrier(Model):
    """A wall between two zones."""

    between: tuple[str, str] = Field(description="the two zones it parts")
    kind: Literal["firewall", "bulkhead", "floor", "panel", "shroud"] | None = optional("what sort of wall")
    fireproof: bool | None = optional("yes if it must stop fire; a firewall is, unless said otherwise")
    material: str | None = optional("its material", max_length=60)

    @property
    def stops_fire(self) -> bool:
        """Whether crossings must be fireproof."""
        return self.fireproof if self.fireproof is not None else self.kind == "firewall"


class Limit(Model):
    """Engine limits and normal range of one indication, from approved data."""

    minimum: Reading | None = optional("lowest allowed")
    maximum: Reading | None = optional("highest allowed")
    normal_low: Reading | None = optional("bottom of the normal range")
    normal_high: Reading | None = optional("top of the normal range")
    caution_low: Reading | None = optional("bottom of the caution range")
    caution_high: Reading | None = optional("top of the caution range")
    source: str | None = optional("document the limit comes from", max_length=200)


class Engine(Model):
    """An engine and what its papers say of limits and probe places."""

    title: str | None = optional("the engine in words", max_length=120)
    cylinders: int | None = optional("number of cylinders", ge=1, le=36)
    layout: Literal["opposed", "inline", "radial", "vee"] | None = optional("arrangement of the cylinders")
    numbered_from: Literal["propeller end", "accessory end", "top clockwise from the rear"] | None = optional(
        "end at which number 1 sits"
    )
    seats: dict[int, str] | None = optional("seat of each cylinder number: 'right front'...")
    cooling: Literal["air", "liquid"] | None = optional("what cools the cylinders")
    cowl_flaps: bool | None = optional("whether it has cowl flaps")
    cooled_above_climb_speed: bool | None = optional(
        "whether its cooling in climb was shown at a speed above that of best rate of climb"
    )
    altitude_engine: bool | None = optional("whether it keeps take-off power to a stated altitude")
    turbocharged: bool | None = optional("whether it is turbocharged")
    controllable_propeller: bool | None = optional("whether the propeller pitch can be controlled in flight")
    fuel_feed: Literal["gravity", "pump"] | None = optional("how fuel reaches it")
    pressure_oil: bool | None = optional("whether its oil system is under pressure")
    preheat_limit: bool | None = optional(
        "whether an induction temperature limit exists that preheat can exceed"
    )
    speed: Speed | None = optional("rated speed")
    limits: dict[Measure, Limit] | None = optional("limits by indication")
    head_reference: Literal["well", "gasket ring", "bolt"] | None = optional(
        "where the head-temperature limit is measured"
    )
    hottest_cylinder: int | None = optional("cylinder its papers name for a single probe", ge=1, le=36)
    hottest_source: str | None = optional("paper that names it", max_length=200)
    exhaust_probe_distance: Length | None = optional("distance its papers ask for, port to exhaust probe")
    exhaust_probe_band: tuple[Length, Length] | None = optional(
        "nearest and farthest its papers allow, port to exhaust probe"
    )
    oil_reference: Literal["inlet", "outlet", "sump", "gallery"] | None = optional(
        "where the oil temperature limit applies"
    )
    fuel_pressure_reference: Literal["carburettor inlet", "servo inlet", "divider"] | None = optional(
        "where the fuel pressure limit applies"
    )
    automatic_mixture: bool | None = optional("whether its mixture follows the altitude by itself")
    preheat_rise: Difference | None = optional("heat rise its carburettor preheater can give")
    oil_quantity: Volume | None = optional("oil carried")
    oil_minimum: Volume | None = optional("least oil for flight")
    tachometer_drive: float | None = optional(
        "engine revolutions per revolution of the tachometer drive", gt=0, le=20
    )
    drive_sense: Literal["clockwise", "anticlockwise"] | None = optional(
        "sense of the tachometer drive, seen from outside"
    )

    def bank_of(self, cylinder: int) -> str:
        """The side on which a cylinder sits; '' where neither its seat nor the layout of the engine tells.

        Numbers of an opposed engine go from side to side, whichever end they begin at.
        """
        if self.seats:
            words = (self.seats.get(cylinder) or "").casefold().split()
            return next((word for word in ("left", "right") if word in words), "")
        return ("even", "odd")[cylinder % 2] if self.layout == "opposed" else ""


class Aircraft(Model):
    """The aircraft and the rules it lives under."""

    title: str | None = optional("the aircraft in words", max_length=120)
    registration: str | None = optional(
        "registration marks of the aircraft, as on its certificate", max_length=20
    )
    serial: str | None = optional("serial number on its data plate", max_length=40)
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
    ) = optional("certification basis")
    operation: list[Literal["VFR day", "VFR night", "IFR", "part 121"]] | None = optional(
        "kinds of operation"
    )
    ceiling: Length | None = optional("highest operating altitude")
    system_voltage: SourceVoltage | None = optional("nominal system voltage: 14 V or 28 V")
    required: list[Measure] | None = optional("indications its papers require beyond the rules")
    load_monitored: bool | None = optional(
        "whether a placard or a monitor keeps the load within the source rating"
    )
    field_elevation: Station | None = optional(
        "elevation of the field, for function checks; with a minus where it lies below the sea"
    )
    datum: str | None = optional("weight and balance datum", max_length=80)


class OperatingPoint(Model):
    """One state of the aircraft at which indications are worked out."""

    title: str | None = optional("the state in words", max_length=80)
    phase: (
        Literal["ground", "start", "take-off", "climb", "cruise", "descent", "landing", "emergency"] | None
    ) = optional("phase of flight")
    zone_temperatures: dict[str, Temperature] | None = optional("air temperature of zones at this point")
    joint_temperatures: dict[str, Temperature] | None = optional(
        "temperature of joints, where it differs from their zone"
    )
    readings: dict[Measure, Reading] | None = optional("true value of each quantity at this point")
    altitude: Length | None = optional("pressure altitude")
    outside_air: Temperature | None = optional("outside air temperature")
    engine_speed: Speed | None = optional("engine speed")
    loads_on: list[str] | None = optional("loads drawing current; every continuous load when left out")
    open_switches: list[str] | None = optional("switches and breakers that are open")
    dead_supplies: list[str] | None = optional("supplies that give nothing")
