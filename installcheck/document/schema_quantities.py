"""Quantities in the JSON Schema: text with a number and a unit, by kind."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from ..model.quantities import DIFFERENCES, KINDS, READINGS, usual_units
from .schema_short import Json, Node

_NUMBER = r"([0-9]+\s+[0-9]+/[0-9]+|[0-9]+/[0-9]+|([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?)"
_GAUGE = r"^\s*(([0-9]{1,2}|[1-4]/0|0{1,4})\s*[Aa][Ww][Gg]|[Aa][Ww][Gg]\s*([0-9]{1,2}|[1-4]/0|0{1,4}))\s*$"


def quantity_name(kinds: Iterable[str]) -> str:
    """The name of the definition for a quantity of any of some kinds."""
    named = {READINGS: "indication", DIFFERENCES: "difference-of-indications"}
    chosen = tuple(kinds)
    if chosen in named:
        return named[chosen]
    return "-or-".join(chosen).replace(" ", "-") if len(chosen) < 5 else "quantity"


def quantities(whole: Json) -> Node:
    """A definition for each kind of quantity the schema names."""
    made: Node = {
        "gauge": {
            "description": "American wire gauge, like '22 AWG' or '2/0 AWG'",
            "type": "string",
            "pattern": _GAUGE,
            "patternErrorMessage": "a wire gauge, like 22 AWG",
            "examples": ["22 AWG", "2/0 AWG"],
        }
    }
    for kinds in _kinds(whole):
        if kinds == ("gauge",):
            continue
        units = list(dict.fromkeys(unit for kind in kinds for unit in KINDS[kind].units))
        told = [f"{kind} ({', '.join(usual_units(kind))})" for kind in kinds]
        made[quantity_name(kinds)] = {
            "description": f"a number and its unit: {'; '.join(told)}",
            "type": "string",
            "pattern": _quantity_pattern(units, joined="length" in kinds or "station" in kinds),
            "patternErrorMessage": f"a number and its unit, like {' or '.join(KINDS[kind].example for kind in kinds[:3])}",
            "examples": [KINDS[kind].example for kind in kinds],
        }
    return made


def _quantity_pattern(units: Iterable[str], *, joined: bool) -> str:
    longest_first = sorted(units, key=len, reverse=True)
    spelled = "|".join(re.sub(r"([.*+?^$(){}|\[\]\\])", r"\\\1", unit) for unit in longest_first)
    term = rf"\s*{_NUMBER}\s*({spelled})"
    return rf"^\s*[-+−]?({term}){'+' if joined else ''}\s*$"


def _kinds(node: Json) -> Iterator[tuple[str, ...]]:
    if isinstance(node, dict):
        kinds = node.get("x-kinds")
        if isinstance(kinds, list):
            yield tuple(str(kind) for kind in kinds)
        for value in node.values():
            yield from _kinds(value)
    elif isinstance(node, list):
        for value in node:
            yield from _kinds(value)
