"""Fluid lines, their fittings and the taps they start from."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .fields import (
    End,
    Length,
    MassPerLength,
    Medium,
    Model,
    Pressure,
    PressureRating,
    Size,
    Slack,
    Station,
    Temperature,
    Terminal,
    Time,
    optional,
)
from .routes import RouteStep, Routing
from .things import Placed, Spec, TerminalSpec


class Tap(Model):
    """A place where a fluid line takes pressure or fluid from a system."""

    title: str | None = optional("the tap in words", max_length=120)
    medium: Medium = Field(description="what comes out of it")
    engine: str | None = optional("engine it is on")
    zone: str | None = optional("zone it sits in")
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
    ) = optional("where in the system")
    pressure: Pressure | None = optional("normal pressure above the surroundings")
    max_pressure: Pressure | None = optional("highest pressure")
    temperature: Temperature | None = optional("temperature of the fluid")
    grade: str | None = optional("fluid by grade: 'SAE 50', '100LL'", max_length=40)
    thread: str | None = optional("thread of the port", max_length=60)
    capped: bool | None = optional("whether the port is closed by a cap or plug")
    shutoff: str | None = optional(
        "cock or switch that stops this source, and how long it takes to reach", max_length=120
    )
    shutoff_time: Time | None = optional("time until the source can be shut")


class FittingSpec(TerminalSpec):
    """A fluid fitting: tee, manifold, cock, restrictor, bulkhead fitting, cap."""

    hangs_on = {"rated_pressure": ("material",), "fireproof": ("material",)}

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
    ) = optional("what sort of fitting")
    material: (
        Literal["steel", "stainless steel", "brass", "copper", "aluminium", "bronze", "plastic"] | None
    ) = optional("body material")
    bore: Size | None = optional("smallest bore through it")
    ends: dict[str, str] | None = optional(
        "end form of each port: '37 degree flare -4', '1/8 pipe thread'..."
    )
    rated_pressure: PressureRating | None = optional("working pressure")
    fireproof: bool | None = optional("whether it is fireproof")


class Fitting(Placed):
    spec: FittingSpec
    barrier: str | None = optional("barrier it is fixed in")
    position: Literal["open", "closed"] | None = optional("how a cock stands")
    flow: tuple[Terminal, Terminal] | None = optional("ports of a check valve, from and to")
    screwed_into: End | None = optional(
        "port it is screwed into directly by its first port, with no line between"
    )


class LineSpec(Spec):
    """Tube, hose or capillary, by the length."""

    hangs_on = {
        "rated_pressure": ("kind", "material", "wall", "outside_diameter"),
        "burst_pressure": ("kind", "material", "wall", "outside_diameter"),
        "temperature_rating": ("kind", "material"),
        "fire": ("kind", "material"),
        "min_bend_radius": ("kind", "material", "outside_diameter"),
        "support_spacing": ("kind", "material", "outside_diameter"),
        "linear_weight": ("kind", "material", "wall", "outside_diameter"),
    }
    worked_out = frozenset(hangs_on) - {"temperature_rating"}

    kind: Literal["tube", "hose", "capillary"] | None = optional("rigid tube, hose or capillary")
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
    ) = optional("tube material or hose lining")
    outside_diameter: Size | None = optional("outside diameter")
    wall: Size | None = optional("wall thickness")
    bore: Size | None = optional("bore; outside diameter less two walls when left out")
    rated_pressure: PressureRating | None = optional("working pressure")
    burst_pressure: PressureRating | None = optional("burst pressure")
    temperature_rating: Temperature | None = optional("highest temperature")
    min_bend_radius: Size | None = optional("smallest bend radius")
    fire: Literal["none", "fire resistant", "fireproof"] | None = optional("fire rating as fitted")
    end_form: str | None = optional("end form: '37 degree flare -4', 'hose end -4'...", max_length=60)
    support_spacing: Size | None = optional("largest distance between supports")
    linear_weight: MassPerLength | None = optional("weight per length, empty")


class FluidLine(Placed, Routing):
    """One fluid line from end to end."""

    spec: LineSpec
    from_: End = Field(alias="from", description="port at one end")
    to: End = Field(description="port at the other end")
    medium: Medium | None = optional("medium it is labelled for")
    purpose: str | None = optional(
        "what it is for: instrument, feed, return, drain, vent, primer, accumulator, or your own words; inferred where the "
        "document leaves no doubt",
        max_length=60,
    )
    route: list[RouteStep] | None = optional("zones with lengths, and barriers crossed, in order")
    length: Length | None = optional("whole length, when the route is not split")
    coil_radius: Size | None = optional("radius of the coil that takes up excess")
    coiled: Length | None = optional("excess length coiled")
    rise: Station | None = optional("height of the far end above the near end")
    low_point_drain: bool | None = optional("whether a low point has a drain, or the line rises all the way")
    slack: Slack | None = optional("slack or spare length, or its share of the distance spanned, as in '6 %'")
    strained: bool | None = optional("yes if it is pulled or twisted into line by its nut")
    straight_at_fittings: Length | None = optional("straight length at its end fittings")
    bends: int | None = optional("number of bends", ge=0, le=100)
    sleeve: bool | None = optional("whether a fire sleeve covers it")
    life: Time | None = optional("life limit from its papers")
    shrouded: bool | None = optional("whether a drained shroud encloses it in the occupied zone")
    open_ends: Literal["capped", "open"] | None = optional(
        "state of the ends of a removed line, or of the end that led to something removed"
    )
