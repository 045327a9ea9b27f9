"""What was surveyed, measured, accepted, notified and taken out."""

from __future__ import annotations

from typing import Literal

from pydantic import ConfigDict, Field, RootModel, model_validator

from .fields import Length, Mass, MeasuredValue, Model, Names, Reading, Station, Temperature, optional


class SurveyStage(Model):
    """Cylinder temperatures seen in one stage of flight."""

    temperatures: dict[int, Temperature] = Field(description="highest temperature of each cylinder")
    outside_air: Temperature | None = optional("outside air temperature at the highest reading")
    altitude: Length | None = optional("pressure altitude at the highest reading")
    limit: Temperature | None = optional("limit in this stage, when not the engine's")


class Survey(Model):
    """A survey of cylinder temperatures of one engine."""

    engine: str | None = optional("engine surveyed")
    numbered_from: Literal["propeller end", "accessory end", "top clockwise from the rear"] | None = optional(
        "end at which its number 1 sits, where that is not the engine's"
    )
    stages: dict[str, SurveyStage] | None = optional("temperatures by stage")
    log: str | None = optional("recorder log, by relative path", max_length=200)
    columns: dict[str, str] | None = optional("what each column of the log is: role -> column name")
    unconnected: list[str] | None = optional("columns of channels with no probe")
    probe_kind: str | None = optional("kind of probe used on every cylinder", max_length=40)
    probe_grade: Literal["standard", "special", "IEC class 1", "IEC class 2"] | None = optional(
        "tolerance grade of those probes"
    )
    thermocouple: Literal["J", "K", "E", "T", "N"] | None = optional("couple of those probes")
    date: str | None = optional("date flown", max_length=40)


class Measurement(Model):
    """A value measured on the aircraft."""

    between: tuple[str, str] | None = optional("two terminals")
    of: str | None = optional(
        "indicator, run, line or ground it is of; one leg or input is named after a dot", max_length=130
    )
    position: str | None = optional("position a selector stood at", max_length=40)
    value: MeasuredValue = Field(
        description="what was read, with its unit; 'open' where a meter shows no end"
    )
    what: (
        Literal["resistance", "insulation", "voltage", "indication", "length", "engine-off indication"] | None
    ) = optional("what was measured")
    at_temperature: Temperature | None = optional("temperature of the wiring when measured")
    true_value: Reading | None = optional(
        "true value at the time: what an indicator should show, or a sender senses"
    )
    as_expected: bool | None = optional("whether it was as it should be: which channels misbehave")
    swapped_for: str | None = optional("thing put in its place for the test: a swap test", max_length=130)
    date: str | None = optional("date", max_length=40)
    by: str | None = optional("who measured", max_length=80)
    connected: bool | None = optional(
        "whether both ends were still connected; taken as freed for a resistance and as connected for a voltage"
    )

    @model_validator(mode="after")
    def _open(self) -> Measurement:
        if isinstance(self.value, str) and self.what not in (None, "resistance", "insulation", "indication"):
            raise ValueError(f"'{self.value}' is no {self.what}: write a number with its unit")
        return self


class SeenLine(RootModel[str]):
    """Something seen on the aircraft, for tracing a fault: 'oil temperature gauge shows 150 degF at cruise'."""

    model_config = ConfigDict(frozen=True)
    root: str = Field(
        min_length=1, max_length=300, description="one observation, in the words of the command trace"
    )


class Notice(Model):
    """A service notice or directive that bears on what is installed, and how it stands."""

    number: str = Field(min_length=1, max_length=80, description="number of the notice")
    subject: str | None = optional("what it asks for, in words", max_length=300)
    at: Names | None = optional("what it concerns, by id")
    state: Literal["open", "complied with", "does not apply"] | None = optional("how it stands")
    method: str | None = optional("how it was complied with", max_length=300)
    date: str | None = optional("date, YYYY-MM-DD", pattern=r"^\d{4}-\d{2}-\d{2}$")
    by: str | None = optional("who signed for it", max_length=80)


class Deviation(Model):
    """A discrepancy accepted by somebody, on some data, for some time."""

    rule: str = Field(max_length=80, description="rule it concerns")
    at: Names = Field(description="what it concerns, by id")
    accepted_by: str | None = optional("who accepted it", max_length=120)
    data: str | None = optional("data it rests on", max_length=300)
    until: str | None = optional("last day it holds, YYYY-MM-DD", pattern=r"^\d{4}-\d{2}-\d{2}$")
    reason: str | None = optional("why", max_length=400)


class Removed(Model):
    """Something this change takes out, and what it leaves."""

    kind: Literal["wire", "fluid line", "instrument", "sender", "other"] = Field(description="what it was")
    title: str | None = optional("the thing in words", max_length=120)
    ends: list[str] | None = optional("terminals or ports it leaves")
    left: Literal["capped", "blanked", "tied back", "open"] | None = optional("how those are left")
    zone: str | None = optional("zone it was in")
    weight: Mass | None = optional("weight taken out")
    station: Station | None = optional("arm of that weight")
