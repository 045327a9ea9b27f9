"""Where runs, lines and bundles go, what holds them and what they pass."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from .fields import Length, Model, Size, Temperature, optional


class RouteStep(Model):
    """A length in a zone, or the crossing of a barrier."""

    zone: str | None = optional("zone it runs through")
    length: Length | None = optional("length in that zone")
    barrier: str | None = optional("barrier it crosses")
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
    ) = optional("what it crosses by")
    fitting: str | None = optional("fitting or plug it passes, by id")
    clearance: Length | None = optional("clearance to the edge of the hole")

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
    distance: Length | None = optional("smallest distance")
    position: Literal["above", "below", "beside", "crossing"] | None = optional(
        "where this run is, seen from the other thing"
    )
    clamped: bool | None = optional("whether both are held so that they cannot touch")
    guarded: bool | None = optional("whether a guard, shield or sleeve stands between")
    along: Length | None = optional("length over which they run together")


class Routing(Model):
    """What runs, lines and bundles say of their way."""

    bend_radius: Size | None = optional("smallest bend radius")
    support_spacing: Size | None = optional("largest distance between supports")
    supported_by: Literal["cushioned clamps", "ties", "tape", "conduit", "fluid line"] | None = optional(
        "what holds it"
    )
    clearances: list[Clearance] | None = optional(
        "what it passes and how far off; an empty list says it passes nothing of the kind"
    )
    marked: bool | None = optional("whether it carries its id at both ends")


class Conduit(Model):
    """The tube that wires lie in."""

    kind: Literal["metal", "nonmetallic", "household pipe"] | None = optional(
        "what it is made as; 'household pipe' for water or electrician's pipe"
    )
    bore: Size | None = optional("its inside diameter")
    temperature_rating: Temperature | None = optional("highest temperature it may reach")


class WireRouting(Routing):
    """What wire runs and bundles say of their way."""

    sheathed: bool | None = optional("whether a sheath or conduit covers it from end to end")
    conduit: Conduit | None = optional("the conduit it lies in")
