"""The types of the model's fields: quantities by kind, wire gauges, ids and ends; and the base of every model."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    StringConstraints,
    WithJsonSchema,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from ..dataclass import dataclass
from .quantities import (
    DIFFERENCES,
    KINDS,
    READINGS,
    Gauge,
    Quantity,
    QuantityError,
    parse,
    parse_gauge,
    usual_units,
)


class Model(BaseModel):
    """Base of every part of a document: no unknown keys, no changes after reading."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, allow_inf_nan=False, arbitrary_types_allowed=True, populate_by_name=True
    )


def optional(description: str, **more: Any) -> Any:
    """An optional field with its description for the schema and the docs."""
    return Field(default=None, description=description, **more)


@dataclass(frozen=True, slots=True)
class Of:
    """Marks a field as a quantity of one of ``kinds``.

    Attributes:
        positive: refuses zero, and what is below it.
        negative: whether what is below zero passes, where the kind can be.
    """

    kinds: tuple[str, ...]
    positive: bool = False
    negative: bool = True

    def read(self, value: object) -> Quantity:
        """A text as the quantity; a quantity already read passes."""
        if isinstance(value, Quantity) and value.kind in self.kinds:
            return value
        if not isinstance(value, str):
            raise PydanticCustomError(
                "quantity",
                "a {kind} is wanted here, like '{example}'",
                {"kind": self.kinds[0], "example": KINDS[self.kinds[0]].example},
            )
        try:
            got = parse(value, *self.kinds)
        except QuantityError as bad:
            raise PydanticCustomError("quantity", "{why}", {"why": str(bad)}) from None
        if got < 0 and not self.negative:
            raise PydanticCustomError(
                "quantity", "{why}", {"why": f"'{value}': a {got.kind} cannot be negative here"}
            )
        if self.positive and got <= 0:
            raise PydanticCustomError(
                "quantity",
                "{why}",
                {"why": f"'{value}': a {got.kind} of zero is impossible here; write its size, or unknown"},
            )
        return got

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(lambda q: q.text)
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        units = list(dict.fromkeys(u for k in self.kinds for u in usual_units(k)))
        return {
            "type": "string",
            "x-kinds": list(self.kinds),
            "description": f"{' or '.join(self.kinds)}, with its unit: {', '.join(units)}",
            "examples": [KINDS[k].example for k in self.kinds],
        }


@dataclass(frozen=True, slots=True)
class WordOr:
    """Marks a field as one of a few words, or else a quantity."""

    words: tuple[str, ...]
    quantity: Of

    def read(self, value: object) -> str | Quantity:
        """A known word as it is, any other text as the quantity."""
        if isinstance(value, str) and value in self.words:
            return value
        try:
            return self.quantity.read(value)
        except PydanticCustomError as bad:
            why = f"one of: {', '.join(self.words)}, or a quantity; {bad.message()}"
            raise PydanticCustomError("quantity", "{why}", {"why": why}) from None

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read,
            serialization=core_schema.plain_serializer_function_ser_schema(
                lambda v: v.text if isinstance(v, Quantity) else v
            ),
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        quantity = self.quantity.__get_pydantic_json_schema__(schema, handler)
        return {"anyOf": [{"enum": list(self.words)}, quantity]}


class _ReadsGauge:
    @staticmethod
    def read(value: object) -> Gauge:
        if isinstance(value, Gauge):
            return value
        try:
            return parse_gauge(value if isinstance(value, str) else str(value))
        except QuantityError as bad:
            raise PydanticCustomError("quantity", "{why}", {"why": str(bad)}) from None

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(lambda g: f"{g} AWG")
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {
            "type": "string",
            "x-kinds": ["gauge"],
            "description": "American wire gauge",
            "examples": ["22 AWG", "2/0 AWG"],
        }


Length = Annotated[Quantity, Of(("length",))]
Slack = Annotated[Quantity, Of(("length", "ratio"))]
Size = Annotated[Quantity, Of(("length",), positive=True)]
Station = Annotated[Quantity, Of(("station",))]
Temperature = Annotated[Quantity, Of(("temperature",))]
Pressure = Annotated[Quantity, Of(("pressure",))]
PressureRating = Annotated[Quantity, Of(("pressure",), positive=True)]
"""A pressure something stands."""
Voltage = Annotated[Quantity, Of(("voltage",))]
SourceVoltage = Annotated[Quantity, Of(("voltage",), positive=True)]
"""What a source gives, or an instrument is excited by."""
Current = Annotated[Quantity, Of(("current",), negative=False)]
CurrentRating = Annotated[Quantity, Of(("current",), positive=True, negative=False)]
"""What a protector is rated for."""
Resistance = Annotated[Quantity, Of(("resistance",))]
ElementResistance = Annotated[Quantity, Of(("resistance",), positive=True)]
"""Resistance of a winding, a resistor, an arm of a bridge: never zero, as a joint's may be."""
Power = Annotated[Quantity, Of(("power",))]
Speed = Annotated[Quantity, Of(("speed",), positive=True)]
Frequency = Annotated[Quantity, Of(("frequency",), positive=True)]
Time = Annotated[Quantity, Of(("time",))]
Volume = Annotated[Quantity, Of(("volume",), positive=True)]
Mass = Annotated[Quantity, Of(("mass",))]
Ratio = Annotated[Quantity, Of(("ratio",))]
Charge = Annotated[Quantity, Of(("charge",), positive=True)]
Dissipation = Annotated[Quantity, Of(("dissipation",), positive=True)]
ResistancePerLength = Annotated[Quantity, Of(("resistance per length",), positive=True)]
MassPerLength = Annotated[Quantity, Of(("mass per length",), positive=True)]
Reading = Annotated[Quantity, Of(READINGS)]
"""An engine indication in its own unit: temperature, pressure, speed, flow, quantity, voltage, current, per cent."""
Difference = Annotated[Quantity, Of(DIFFERENCES, negative=False)]
"""A difference of two indications: an error, a budget, a scale division."""
OpenShows = Annotated[
    str | Quantity, WordOr(("off scale high", "off scale low", "nothing", "last value"), Of(READINGS))
]
"""What an indicator shows with an open input."""
Signal = Annotated[Quantity, Of(("resistance", "voltage", "current", "frequency"))]
"""What a sender puts out."""
_MEASURABLE = Of(
    (
        "resistance",
        "voltage",
        "current",
        *(r for r in READINGS if r not in ("voltage", "current")),
        "length",
        "frequency",
    )
)
MeasuredValue = Annotated[str | Quantity, WordOr(("open",), _MEASURABLE)]
"""What a meter, a rule or an indicator shows; ``open`` where a meter shows no end."""
WireGauge = Annotated[Gauge, _ReadsGauge()]

Id = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9 _/#+()&-]{0,59}$")]
"""A name given to a thing: letters, digits, spaces and _ / # + ( ) & -; no dot, which separates a terminal."""
Terminal = Annotated[str, StringConstraints(pattern=r"^[^.\s]([^.]*[^.\s])?$", max_length=40)]
"""A name given to a terminal, pin or port: no dot, which separates it from its thing; no space at its ends."""
Names = Annotated[
    list[str],
    BeforeValidator(lambda v: [v] if isinstance(v, str) else v),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]}),
]
"""One name, or a list of them."""
End = Annotated[str, StringConstraints(pattern=r"^[^.]+(\.[^.]+)?$", max_length=130)]
"""Where a run or line ends: ``thing.terminal``."""

Measure = Literal[
    "oil pressure",
    "fuel pressure",
    "manifold pressure",
    "hydraulic pressure",
    "vacuum",
    "oil temperature",
    "head temperature",
    "exhaust temperature",
    "turbine inlet temperature",
    "carburettor air temperature",
    "outside air temperature",
    "coolant temperature",
    "engine speed",
    "fuel quantity",
    "fuel flow",
    "oil quantity",
    "bus voltage",
    "load current",
]
"""What an indication is of."""

Metal = Literal[
    "copper",
    "tin-plated copper",
    "silver-plated copper",
    "nickel-plated copper",
    "high-strength copper alloy",
    "aluminium",
    "chromel",
    "alumel",
    "iron",
    "constantan",
    "nicrosil",
    "nisil",
    "brass",
    "manganin",
    "steel",
]
"""Metal of a conductor, a terminal or a pin."""

ThermocoupleType = Literal["J", "K", "E", "T", "N"]
Medium = Literal[
    "fuel",
    "oil",
    "hydraulic fluid",
    "fuel-air mixture",
    "manifold air",
    "air",
    "primer fuel",
    "coolant",
    "bulb filling",
    "vacuum",
    "water",
]
