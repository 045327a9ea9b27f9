"""JSON Schema (draft 2020-12) of the document and of part files, for editors and other programs.

pydantic makes it from the model; here it is turned into what a person writes: the figures of a part stand beside the
rest of a thing, a quantity is text with a unit, a number or yes/no may be text, and ``unknown`` may stand for anything
that can be left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..model.installation import SPECS, Installation
from .equivalents import spelled
from .parts import Library, standard_library
from .schema_offers import add_offers
from .schema_quantities import quantities, quantity_name
from .schema_short import TERMINATIONS, Json, Node, add_short_forms
from .sections import KINDS, LISTS

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_WHOLE = r"^\s*[+-]?[0-9]+(_[0-9]+)*(\.0*)?\s*$"
_DECIMAL = r"^\s*[+-]?([0-9]+(_[0-9]+)*\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?\s*$"
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
        "anyOf": [
            {"enum": ["yes", "no"]},
            {"enum": [True, False]},
            {"type": "string", "pattern": _YES_NO, "patternErrorMessage": "write yes or no"},
        ],
    },
    "file-names": {
        "description": "files by path relative to this one, inside its folder",
        "type": "array",
        "items": {"type": "string"},
    },
}


def document_schema(library: Library | None = None, model: Installation | None = None) -> Node:
    """The schema of an installation document.

    Args:
        library: parts whose names and sizes it offers; the standard ones when left out.
        model: a document whose ids and terminals it offers.
    """
    whole = _model()
    definitions = _mapping(whole["$defs"])
    properties = _mapping(whole["properties"])
    for section, spec in SPECS.items():
        item = _mapping(definitions[_item_name(section)])
        _merge_spec(item, _mapping(definitions[spec.__name__]))
    add_short_forms(properties, definitions, _item_name)
    add_offers(definitions, _item_name, library or standard_library(), model)
    for word, field in list(properties.items()):
        told = _told_of(word, definitions) if word in KINDS else _mapping(field)["description"]
        rest: Node = {"anyOf": [field, {"type": "null"}]} if word != "installation" else _mapping(field)
        properties[word] = {"description": told, **rest}
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


def _told_of(section: str, definitions: Node) -> Json:
    """What a section holds, in a line."""
    if section in LISTS:
        name = LISTS[section].__name__
    else:
        kind = KINDS[section]
        name = kind.__name__ if isinstance(kind, type) else _item_name(section)
    return _mapping(definitions[name]).get("description", "")


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
    kinds = quantities(whole)
    whole = _mapping(_without_kinds(whole))
    definitions = {**_mapping(whole["$defs"]), **_SHARED, **kinds}
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
        elif word == "propertyNames" and "enum" in _mapping(value):
            words = _list(_mapping(value)["enum"])
            made[word] = {"anyOf": [{"enum": words}, _as_said(words)]}
        elif word in ("enum", "examples", "required", "propertyNames"):
            made[word] = value
        else:
            made[word] = _written(value)
    words = (
        _list(_mapping(node["items"]).get("enum", []))
        if node.get("type") == "array" and "items" in node
        else []
    )
    if words:
        several = _as_said(words, several=True)
        return {"anyOf": [{**made, "items": {"anyOf": [{"enum": words}, several]}}, several]}
    return _scalar(made)


def _as_said(words: list[Json], *, several: bool = False) -> Node:
    """Other words that are understood as one of these."""
    known = [str(word) for word in words]
    return {
        "type": "string",
        "pattern": spelled(known, several=several),
        "patternErrorMessage": f"one of: {', '.join(known)}",
    }


def _quantity(node: Node) -> Node:
    kinds = [str(kind) for kind in _list(node["x-kinds"])]
    made: Node = {"$ref": f"#/$defs/{quantity_name(kinds)}", "x-kinds": node["x-kinds"]}
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
        return {
            **node,
            "type": [kind, "string"],
            "pattern": _WHOLE if kind == "integer" else _DECIMAL,
            "patternErrorMessage": "a whole number" if kind == "integer" else "a number",
        }
    if kind == "string" and "enum" in node:
        words = _list(node["enum"])
        numbers: list[Json] = [int(word) for word in words if isinstance(word, str) and word.isdigit()]
        rest = {word: value for word, value in node.items() if word not in ("type", "enum")}
        return {**rest, "anyOf": [{"enum": [*words, *numbers]}, _as_said(words)]}
    if kind == "string":
        return {**node, "type": ["string", "number"]}
    return node


def _mapping(value: Json) -> Node:
    assert isinstance(value, dict)
    return value


def _list(value: Json) -> list[Json]:
    assert isinstance(value, list)
    return value
