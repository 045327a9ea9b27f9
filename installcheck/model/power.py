"""Supplies, loads and grounds."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from .fields import Charge as ChargeField
from .fields import (
    Current,
    CurrentRating,
    ElementResistance,
    Frequency,
    Length,
    Model,
    Ratio,
    Resistance,
    Size,
    SourceVoltage,
    Station,
    Time,
    Voltage,
    WireGauge,
    optional,
)
from .fields import Power as PowerField
from .things import Grounding, Passed, Placed, Status, StudSpec

SOURCES = frozenset(("battery", "alternator", "generator"))
"""Kinds of supplies that give current of their own."""


class SupplySpec(StudSpec):
    """Battery, alternator, bus, protector, switch or contactor."""

    hangs_on = {"coil_current": ("voltage",), "inner_resistance": ("capacity", "voltage")}

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
    ) = optional("what it is")
    voltage: SourceVoltage | None = optional(
        "regulated or nominal voltage; of a bus the one it stands at where the document tells of no source"
    )
    inner_resistance: Resistance | None = optional(
        "resistance in series with its voltage, or through its contacts"
    )
    capacity: ChargeField | None = optional("battery capacity")
    usable: Ratio | None = optional("share of the capacity that can be counted on")
    rated_current: Current | None = optional("output it can keep up")
    max_current: Current | None = optional("largest current it may carry")
    rating: CurrentRating | None = optional("rating of a protector")
    coil_current: Current | None = optional("coil current of a contactor")
    frequency: Frequency | None = optional("output frequency of an inverter")

    @model_validator(mode="after")
    def _share(self) -> SupplySpec:
        if self.usable is not None and self.usable > 1:
            raise ValueError(f"usable ({self.usable.text}) is a share of the capacity: 100 % is all of it")
        return self


class Supply(Placed):
    spec: SupplySpec
    essential: bool | None = optional("whether it must stay alive on battery")
    covered: bool | None = optional("whether a cover or boots keep metal off its terminals")
    distance_from_source: Length | None = optional(
        "unprotected wire length between the source and this protector"
    )


class LoadSpec(StudSpec):
    """Anything that draws current and is not an engine indicator."""

    hangs_on = {
        "current": ("power", "resistance"),
        "power": ("current", "resistance"),
        "resistance": ("current", "power"),
    }
    worked_out = frozenset(hangs_on)

    current: Current | None = optional("current drawn")
    resistance: ElementResistance | None = optional("resistance, for a lamp or heater")
    power: PowerField | None = optional("constant power drawn")
    min_voltage: Voltage | None = optional("lowest voltage it works on")


class Load(Placed):
    spec: LoadSpec
    duty: Literal["continuous", "intermittent"] | None = optional("continuous, or on for a short time")
    on_time: Time | None = optional("longest time on")
    essential: bool | None = optional("whether it stays on when the source is lost")
    phases: list[str] | None = optional("phases of flight in which it is on")
    grounding: Grounding | None = optional("how its body reaches ground")
    connected_at: str | None = optional("bus that feeds it, when its wiring is not described")


class Ground(Model):
    """A ground point, the structure, the engine case, or a strap that joins two of them."""

    kind: Literal["structure", "engine case", "stud", "bus", "strap", "bond"] = Field(
        description="what it is"
    )
    title: str | None = optional("the ground in words", max_length=120)
    zone: str | None = optional("zone it sits in")
    joins: str | None = optional("ground a stud or bus is fastened to")
    through: Passed | None = optional("what the current passes where it is fastened")
    resistance: Resistance | None = optional(
        "resistance of that joint, or of the whole strap with both joints"
    )
    from_: str | None = Field(default=None, alias="from", description="one end of a strap")
    to: str | None = optional("other end of a strap")
    part: str | None = optional("strap by the length, from the part library", max_length=120)
    gauge: WireGauge | None = optional("strap gauge")
    length: Length | None = optional("strap length")
    stack: list[str] | None = optional("terminals on the stud from the bottom up, washers and nuts included")
    status: Status | None = optional("existing, new or removed by this change")
    station: Station | None = optional("arm from the datum, for weight and balance")
    material: str | None = optional(
        "structure metal at the joint; 'conductive composite' where it is carbon laminate", max_length=60
    )
    stud: Size | None = optional("stud diameter")

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
