"""The short forms of a document in its JSON Schema: what is said once, lines of text, routes by name, terminations."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from .figures import LINES as FIGURES
from .lines import LINED
from .usual import NOT_OF_BUNDLE

Json: TypeAlias = "dict[str, Json] | list[Json] | str | int | float | bool | None"
Node: TypeAlias = "dict[str, Json]"


def _list(value: Json) -> list[Json]:
    assert isinstance(value, list)
    return value


_ROUTE = (
    "a route in one line: 'engine 3 ft, firewall by fireproof grommet, cabin 5 ft', or a name under routes"
)
_ENDS: Node = {
    "description": "terminations by the standard: 'ring', 'ring and pin 20' or [ring, pin 20]",
    "anyOf": [
        {"type": "string"},
        {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2},
        {"type": "null"},
    ],
}
_EXAMPLES = {
    "wire_runs": "oil bulb.A to oil temperature gauge.A, 20 AWG, engine to panel, in engine harness",
    "fluid_lines": "oil restrictor.out to oil adapter.flare, oil, engine 14 in, engine bay 10 in",
}
_ONE_TABLE: Node = {
    "anyOf": [
        {"type": "string", "examples": ["wires.csv", "wires.xlsx"]},
        {
            "type": "object",
            "properties": {
                "file": {"type": "string"},
                "sheet": {"type": "string", "description": "sheet of the workbook"},
                "leave_out": {
                    "description": "headings of columns that are not to be read",
                    "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}],
                },
            },
            "required": ["file"],
            "additionalProperties": False,
        },
    ]
}
_TABLE: Node = {
    "description": "tables (CSV, XLSX) in which more of them stand, a row each",
    "anyOf": [*_list(_ONE_TABLE["anyOf"]), {"type": "array", "items": _ONE_TABLE}],
}
TERMINATIONS: Node = {
    "description": "what is crimped on wires: by kind, barrels by the gauges they take or contacts by size",
    "type": "object",
    "additionalProperties": {
        "type": "object",
        "properties": {
            "title": {"type": "string"},
            "source": {"type": "string"},
            "barrels": {"type": "object"},
            "sizes": {"type": "object"},
        },
        "additionalProperties": False,
    },
}


def add_short_forms(properties: Node, definitions: Node, item_name: Callable[[str], str]) -> None:
    """Let a document's schema take every short form beside the long one.

    Args:
        properties: the sections of the document; changed.
        definitions: the definitions they point to; changed.
        item_name: the definition of a section's things.
    """
    usual: Node = {}
    for section, field in list(properties.items()):
        if not isinstance(field, dict) or "additionalProperties" not in field:
            continue
        item = definitions[item_name(section)]
        assert isinstance(item, dict)
        words = item["properties"]
        assert isinstance(words, dict)
        item.pop("required", None)
        if section == "wire_runs":
            words["ends"] = _ENDS
        if section == "bundles":
            run = definitions[item_name("wire_runs")]
            of_run = _dict(_dict(run)["properties"])
            words.update({w: {**_dict(of_run.get(w, _ENDS))} for w in NOT_OF_BUNDLE})
            words["route"] = {"description": _ROUTE, "anyOf": [{"type": "string"}, words["route"]]}
        if section == "indicators":
            unused: Node = {
                "const": "unused",
                "description": "an input of its part that nothing is joined to",
            }
            for one in _list(_dict(words["inputs"]).get("anyOf", [])):
                if isinstance(one, dict) and "additionalProperties" in one:
                    one["additionalProperties"] = {"anyOf": [unused, one["additionalProperties"]]}
        for word in FIGURES.get(section, ()):
            told = _dict(words[word])
            words[word] = {"description": told.get("description", ""), "anyOf": [{"type": "string"}, told]}
        if section in LINED:
            words["route"] = {"description": _ROUTE, "anyOf": [{"type": "string"}, words["route"]]}
            words[LINED[section]] = {
                "description": "its ends and the rest in one line, where it writes more",
                "type": "string",
                "examples": [_EXAMPLES[section]],
            }
        usual[section] = _usual(item_name(section), words)
        field["properties"] = {"table": _TABLE}
        if section in LINED:
            one_line: Node = {"type": "string", "examples": [_EXAMPLES[section]]}
            field["additionalProperties"] = {"anyOf": [one_line, field["additionalProperties"]]}
    conductor = definitions["Conductor"]
    assert isinstance(conductor, dict)
    conductor.pop("required", None)
    properties["usual"] = {
        "description": "fields said once for the things of a section; what is nearer wins",
        "type": "object",
        "properties": usual,
        "additionalProperties": False,
    }
    properties["routes"] = {
        "description": "routes by name, used by many runs and lines",
        "type": "object",
        "additionalProperties": {
            "anyOf": [
                {"type": "string", "description": _ROUTE},
                {"type": "array", "items": {"$ref": "#/$defs/RouteStep"}},
            ]
        },
    }


def _usual(name: str, words: Node) -> Node:
    item = f"#/$defs/{name}"
    return {
        "type": "object",
        "properties": {word: {"$ref": f"{item}/properties/{word}"} for word in words},
        "patternProperties": {
            "^by ": {
                "description": "fields for the things of one kind, gauge, bundle, engine...",
                "type": "object",
                "additionalProperties": {"$ref": item},
            }
        },
        "additionalProperties": False,
    }


def _dict(value: Json) -> Node:
    assert isinstance(value, dict)
    return value
