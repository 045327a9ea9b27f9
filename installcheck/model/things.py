"""What every installed thing and every part says of itself."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, Literal

from pydantic import Field, model_validator

from .aircraft import TemperatureRange
from .fields import (
    Difference,
    Mass,
    Model,
    Reading,
    Resistance,
    Size,
    Station,
    Temperature,
    Terminal,
    optional,
)

Status = Literal["existing", "new", "removed"]


Passed = Literal["thread", "gasket", "sealed thread", "bolts", "painted bolts", "strap", "wire", "clamp"]


class Placed(Model):
    """What every installed thing says of itself."""

    title: str | None = optional("the thing in words", max_length=120)
    part: str | None = optional("key of a part in the part library or a named part file", max_length=120)
    size: str | None = optional("size of the part, where it comes in sizes", max_length=60)
    zone: str | None = optional("zone it sits in")
    engine: str | None = optional(
        "engine it serves, when there is more than one; 'both' where a twin's share it"
    )
    status: Status | None = optional("existing, new or removed by this change")
    station: Station | None = optional("arm from the datum, for weight and balance")
    notes: list[str] | None = optional("notes for the drawing")
    temperature: TemperatureRange | None = optional("its own temperature, where it differs from its zone")
    quantity: int | None = optional("how many of it", ge=1, le=1000)
    fitted: str | None = optional("date fitted, of a hose cured, YYYY-MM-DD", pattern=r"^\d{4}-\d{2}-\d{2}$")
    record: str | None = optional(
        "record of its fitting or alteration: log entry, form, approval", max_length=200
    )


class Grounding(Model):
    """How the body of a thing reaches ground."""

    to: str = Field(description="ground it reaches: an id under grounds, or a terminal")
    through: Passed | None = optional("what the current passes")
    resistance: Resistance | None = optional("resistance of that path")


class Spec(Model):
    """What every part may say of itself.

    ``hangs_on``: figures that hold only with other words as the part has them; where one of those is written otherwise, the
    part no longer tells the figure. ``worked_out``: those of them that can then be worked out; the others are unknown.
    """

    hangs_on: ClassVar[Mapping[str, tuple[str, ...]]] = {}
    worked_out: ClassVar[frozenset[str]] = frozenset()

    title: str | None = optional("the part in words", max_length=200)
    source: str | None = optional("document and paragraph the figures come from", max_length=400)
    standard: str | None = optional("public standard or drawing number", max_length=120)
    weight: Mass | None = optional("weight of one")


class TerminalSpec(Spec):
    terminals: list[Terminal] | None = optional("names of its terminals")
    ports: list[Terminal] | None = optional("names of its fluid ports")
    temperature_rating: Temperature | None = optional("highest temperature of its surroundings")
    size: str | None = optional("size by the part's own list", max_length=40)


class StudSpec(TerminalSpec):
    stud: Size | None = optional("stud or screw diameter of its terminals")


class Span(Model):
    """A range of an indication, with the smallest division of a dial."""

    lowest: Reading = Field(description="bottom of the range")
    highest: Reading = Field(description="top of the range")
    division: Difference | None = optional("smallest division marked")

    @model_validator(mode="after")
    def _order(self) -> Span:
        if self.lowest.kind != self.highest.kind:
            raise ValueError("lowest and highest are of different kinds")
        if self.highest <= self.lowest:
            raise ValueError(f"highest ({self.highest.text}) is not above lowest ({self.lowest.text})")
        return self
