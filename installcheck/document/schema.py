"""JSON Schema (draft 2020-12) of the document and of part files, for editors and other programs.

pydantic makes it from the model; here it is turned into what a person writes: the figures of a part stand beside the
rest of a thing, a quantity is text with a unit, a number or yes/no may be text, and ``unknown`` may stand for anything
that can be left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from ..model.installation import SPECS, Installation
from ..model.quantities import DIFFERENCES, KINDS, READINGS, usual_units
from .schema_short import TERMINATIONS, Json, Node, add_short_forms

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_NUMBER = r"([0-9]+\s+[0-9]+/[0-9]+|[0-9]+/[0-9]+|([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?)"
_WHOLE = r"^\s*[+-]?[0-9]+(_[0-9]+)*(\.0*)?\s*$"
_DECIMAL = r"^\s*[+-]?([0-9]+(_[0-9]+)*\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?\s*$"
_GAUGE = r"^\s*(([0-9]{1,2}|[1-4]/0|0{1,4})\s*[Aa][Ww][Gg]|[Aa][Ww][Gg]\s*([0-9]{1,2}|[1-4]/0|0{1,4}))\s*$"
_YES_NO = (
    r"^([Yy]([Ee][Ss])?|[Nn][Oo]?|[Tt]([Rr][Uu][Ee])?|[Ff]([Aa][Ll][Ss][Ee])?|[Oo][Nn]|[Oo][Ff][Ff]|0|1)$"
)
_SHARED: dict[str, Json] = {
    "unknown": {
        "description": "not known: the rules that need it say what they could not judge",
        "enum": ["unknown", None],
    },
    "yes-or-no": {
        "description": "yes or no",
        "anyOf": [{"enum": ["yes", "no"]}, {"enum": [True, False]}, {"type": "string", "pattern": _YES_NO}],
    },
    "file-names": {
        "description": "files by path relative to this one, inside its folder",
        "type": "array",
        "items": {"type": "string"},
    },
}


def document_schema() -> Node:
    """The schema of an installation document."""
    whole = _model()
    definitions = _mapping(whole["$defs"])
    properties = _mapping(whole["properties"])
    for section, spec in SPECS.items():
        item = _mapping(definitions[_item_name(section)])
        _merge_spec(item, _mapping(definitions[spec.__name__]))
    add_short_forms(properties, definitions, _item_name)
    for word in properties:
        if word != "installation":
            properties[word] = {"anyOf": [properties[word], {"type": "null"}]}
    properties["include"] = {"$ref": "#/$defs/file-names", "description": "files that hold more sections"}
    properties["part_files"] = {"$ref": "#/$defs/file-names", "description": "part files of your own"}
    return _finished("document", "An engine-instrument installation", whole)


def parts_schema() -> Node:
    """The schema of a part file."""
    definitions = _mapping(_model()["$defs"])
    cases: list[Json] = []
    for section, spec in SPECS.items():
        figures = _mapping(definitions[spec.__name__])
        properties = _mapping(figures["properties"])
        row: Node = {"type": "object", "properties": properties, "additionalProperties": False}
        definitions[f"part-for-{section}"] = {
            "description": figures.get("description", ""),
            "type": "object",
            "properties": {
                **properties,
                "for": {"const": section},
                "sizes": {
                    "description": "what each gauge or size adds",
                    "type": "object",
                    "additionalProperties": {"anyOf": [row, {"type": "null"}]},
                },
            },
            "additionalProperties": False,
        }
        cases.append(
            {
                "if": {"properties": {"for": {"const": section}}, "required": ["for"]},
                "then": {"$ref": f"#/$defs/part-for-{section}"},
            }
        )
    part: Node = {
        "type": "object",
        "required": ["for"],
        "properties": {
            "for": {"description": "section of the document it serves", "enum": list[Json](SPECS)}
        },
        "allOf": cases,
    }
    whole: Node = {
        "$defs": definitions,
        "type": "object",
        "properties": {
            "title": {"type": "string", "description": "what the file holds"},
            "source": {
                "type": "string",
                "description": "where the figures come from, for parts that say nothing",
            },
            "parts": {"type": "object", "additionalProperties": part},
            "terminations": TERMINATIONS,
        },
        "additionalProperties": False,
    }
    return _finished("parts", "Parts and materials", whole)


def _model() -> Node:
    return _mapping(_written(Installation.model_json_schema(by_alias=True)))


def _item_name(section: str) -> str:
    kind = Installation.model_fields[section].annotation.__args__[1]  # type: ignore[union-attr]
    return str(kind.__name__)


def _merge_spec(item: Node, spec: Node) -> None:
    """Lay the fields of a spec beside those of the item that carries it; the item's own win, as when reading."""
    own = _mapping(item["properties"])
    own.pop("spec")
    for word, field in _mapping(spec["properties"]).items():
        own.setdefault(word, field)
    required = [word for word in _list(item.get("required", [])) if word != "spec"]
    if required:
        item["required"] = required
    else:
        item.pop("required", None)
    item.setdefault("description", spec.get("description", ""))


def _finished(name: str, title: str, whole: Node) -> Node:
    quantities = _quantities(whole)
    whole = _mapping(_without_kinds(whole))
    definitions = {**_mapping(whole["$defs"]), **_SHARED, **quantities}
    body = {word: value for word, value in whole.items() if word not in ("$defs", "title", "description")}
    used = _reached(body, definitions)
    return {
        "$schema": DIALECT,
        "$id": f"urn:installcheck:schema:{name}",
        "title": title,
        **body,
        "$defs": {word: definitions[word] for word in sorted(used)},
    }


def _without_kinds(node: Json) -> Json:
    if isinstance(node, dict):
        return {word: _without_kinds(value) for word, value in node.items() if word != "x-kinds"}
    return [_without_kinds(value) for value in node] if isinstance(node, list) else node


def _reached(body: Json, definitions: Mapping[str, Json]) -> set[str]:
    used: set[str] = set()
    queue: list[Json] = [body]
    while queue:
        for name in _references(queue.pop()):
            if name not in used:
                used.add(name)
                queue.append(definitions[name])
    return used


def _references(node: Json) -> Iterator[str]:
    if isinstance(node, dict):
        target = node.get("$ref")
        if isinstance(target, str):
            yield target.removeprefix("#/$defs/").partition("/")[0]
        for value in node.values():
            yield from _references(value)
    elif isinstance(node, list):
        for value in node:
            yield from _references(value)


def _quantity_name(kinds: Iterable[str]) -> str:
    named = {READINGS: "indication", DIFFERENCES: "difference-of-indications"}
    chosen = tuple(kinds)
    if chosen in named:
        return named[chosen]
    return "-or-".join(chosen).replace(" ", "-") if len(chosen) < 5 else "quantity"


def _quantities(whole: Json) -> Node:
    """A definition for each kind of quantity the schema names."""
    made: Node = {
        "gauge": {
            "description": "American wire gauge, like '22 AWG' or '2/0 AWG'",
            "type": "string",
            "pattern": _GAUGE,
            "examples": ["22 AWG", "2/0 AWG"],
        }
    }
    for kinds in _kinds(whole):
        if kinds == ("gauge",):
            continue
        units = list(dict.fromkeys(unit for kind in kinds for unit in KINDS[kind].units))
        told = [f"{kind} ({', '.join(usual_units(kind))})" for kind in kinds]
        made[_quantity_name(kinds)] = {
            "description": f"a number and its unit: {'; '.join(told)}",
            "type": "string",
            "pattern": _quantity_pattern(units, joined="length" in kinds or "station" in kinds),
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


def _written(node: Json) -> Json:
    """A node of pydantic's schema as a person may write the value."""
    if isinstance(node, list):
        return [_written(value) for value in node]
    if not isinstance(node, dict):
        return node
    if "x-kinds" in node:
        return _quantity(node)
    made: Node = {}
    for word, value in node.items():
        if word in ("properties", "$defs"):
            made[word] = {name: _written(field) for name, field in _mapping(value).items()}
        elif word in ("title", "default"):
            continue
        elif word == "patternProperties":
            ((pattern, field),) = _mapping(value).items()
            made["propertyNames"] = {"pattern": pattern}
            made["additionalProperties"] = _written(field)
        elif word in ("enum", "examples", "required", "propertyNames"):
            made[word] = value
        else:
            made[word] = _written(value)
    return _scalar(made)


def _quantity(node: Node) -> Node:
    kinds = [str(kind) for kind in _list(node["x-kinds"])]
    made: Node = {"$ref": f"#/$defs/{_quantity_name(kinds)}", "x-kinds": node["x-kinds"]}
    told = node.get("description")
    if told is not None and "with its unit" not in str(told) and told != "American wire gauge":
        made["description"] = told
    return made


def _scalar(node: Node) -> Node:
    """Let numbers and yes/no be text, and names be numbers, since YAML does not tell them apart as written."""
    kind = node.get("type")
    if kind == "null":
        return {"$ref": "#/$defs/unknown"}
    if kind == "boolean":
        rest = {word: value for word, value in node.items() if word != "type"}
        return {"$ref": "#/$defs/yes-or-no", **rest}
    if kind in ("integer", "number"):
        return {**node, "type": [kind, "string"], "pattern": _WHOLE if kind == "integer" else _DECIMAL}
    if kind == "string" and "enum" in node:
        words = _list(node["enum"])
        numbers: list[Json] = [int(word) for word in words if isinstance(word, str) and word.isdigit()]
        rest = {word: value for word, value in node.items() if word != "type"}
        return {**rest, "enum": [*words, *numbers]}
    if kind == "string":
        return {**node, "type": ["string", "number"]}
    return node


def _mapping(value: Json) -> Node:
    assert isinstance(value, dict)
    return value


def _list(value: Json) -> list[Json]:
    assert isinstance(value, list)
    return value
