"""The schema of a document in a compact form for people: each section and shape, its words, what they hold and mean."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from textwrap import wrap
from typing import get_args

from ..model.fields import Measure
from .schema_short import Json, Node

_WIDTH, _LEFT = 110, 26
"""Columns of a line, and of the word it begins with."""
_MOST = 14
"""Choices listed in full."""
_SHARED = 6
"""Sections from which on a word that means the same in them is told once."""
COMMON = "common words"
INDICATIONS: tuple[str, ...] = get_args(Measure)


def blocks(schema: Node) -> dict[str, str]:
    """What can be written, by section and then by shape, each as lines of text that end with a newline.

    Args:
        schema: of a document, as :func:`~installcheck.document.schema.document_schema` makes it.
    """
    teller = _Teller(_dict(schema["$defs"]))
    sections: dict[str, tuple[str, dict[str, str]]] = {}
    for section, field in _dict(schema["properties"]).items():
        names = [n for n in _names(field) if teller.has_words(n)]
        plain = not names or section in ("usual", "routes")
        sections[section] = teller.meaning(field), {} if plain else teller.words(names[0])
    count = Counter(pair for _, words in sections.values() for pair in words.items())
    common = {word: told for (word, told), times in count.items() if times >= _SHARED}
    made = {section: _block(section, told, words, common) for section, (told, words) in sections.items()}
    made[COMMON] = _block(COMMON, "what most things can say of themselves", common, {})
    for shape in teller.found():
        told, words = teller.shape(shape)
        made[shape] = _block(shape, told, words, {})
    made["indications"] = (
        "\n".join(wrap(f"indications: {', '.join(INDICATIONS)}", _WIDTH, subsequent_indent="  ")) + "\n"
    )
    made["quantities"] = _block("quantities", "a number and its unit", teller.quantities(), {})
    return made


def _block(name: str, told: str, words: Mapping[str, str], common: Mapping[str, str]) -> str:
    lines = wrap(f"{name}: {told}" if told else name, _WIDTH, subsequent_indent="  ")
    for word, meaning in words.items():
        if common.get(word) != meaning:
            lines += wrap(
                f"{word:<{_LEFT}} {meaning}", _WIDTH, initial_indent="  ", subsequent_indent=" " * (_LEFT + 5)
            )
    shared = [word for word in words if word in common and common[word] == words[word]]
    if shared:
        lines += wrap(
            f"and of the {COMMON}: {', '.join(shared)}", _WIDTH, initial_indent="  ", subsequent_indent="    "
        )
    return "\n".join(lines).replace("``", "'") + "\n"


class _Teller:
    """Tells what words can hold; remembers the shapes and quantities it told of."""

    def __init__(self, definitions: Node) -> None:
        self.definitions = definitions
        self.shapes: dict[str, str] = {}
        self.measured: set[str] = set()

    def has_words(self, name: str) -> bool:
        return "properties" in _dict(self.definitions.get(name, {}))

    def meaning(self, field: Json) -> str:
        return str(_dict(field).get("description", ""))

    def words(self, name: str) -> dict[str, str]:
        """The words of a definition, each with what it holds and means."""
        item = _dict(self.definitions[name])
        needed = item.get("required", [])
        made = {}
        for word, field in _dict(item["properties"]).items():
            held = " or ".join(dict.fromkeys(self.held(field)))
            must = ", needed" if isinstance(needed, list) and word in needed else ""
            made[word] = f"{held}{must}: {self.meaning(field)}".removesuffix(": ")
        return made

    def found(self) -> Iterator[str]:
        """Every shape told of, those told of by shapes too."""
        done: set[str] = set()
        while waiting := [one for one in self.shapes if one not in done]:
            done.add(waiting[0])
            yield waiting[0]

    def shape(self, name: str) -> tuple[str, dict[str, str]]:
        target = self.shapes[name]
        return self.meaning(self.definitions[target]), self.words(target)

    def quantities(self) -> dict[str, str]:
        made = {}
        for name in sorted(self.measured):
            shape = _dict(self.definitions[name])
            units = str(shape["description"]).removeprefix("a number and its unit: ")
            made[name.replace("-", " ")] = f"{' or '.join(map(repr, _list(shape['examples'])[:3]))}: {units}"
        return made

    def held(self, field: Json) -> Iterator[str]:
        """What a word can hold, in words."""
        node = _dict(field)
        target = str(node.get("$ref", "")).rpartition("/")[2]
        if target == "unknown" or node.get("type") == "null":
            return
        if target:
            yield from self._of(target)
        elif "enumDescriptions" in node:
            return  # parts and sizes, which 'parts' tells better
        elif "enum" in node:
            yield "indication" if node["enum"] == list(INDICATIONS) else _choices(node["enum"])
        elif "const" in node:
            yield str(node["const"])
        elif "anyOf" in node:
            for one in _list(node["anyOf"]):
                if not _is_other_spelling(_dict(one)):
                    yield from self.held(one)
        elif "prefixItems" in node:
            yield "[" + ", ".join(self.first(one) for one in _list(node["prefixItems"])) + "]"
        elif node.get("type") == "array":
            yield f"[{self.first(node.get('items', {}))}, ...]"
        elif node.get("type") == "object":
            inner = node.get("additionalProperties")
            key = "indication" if "anyOf" in _dict(node.get("propertyNames", {})) else "name"
            yield f"{{{key}: {self.first(inner)}}}" if isinstance(inner, dict) else "{...}"
        else:
            yield _scalar(node)

    def _of(self, target: str) -> Iterator[str]:
        shape = _dict(self.definitions[target])
        if "properties" in shape:
            name = _spoken(target)
            self.shapes[name] = target
            yield f"<{name}>"
        elif target == "yes-or-no":
            yield "yes or no"
        elif "examples" in shape:
            self.measured.add(target)
            yield target.replace("-", " ")
        else:
            yield from self.held(shape)

    def first(self, field: Json) -> str:
        return next(self.held(field), "text")


def _is_other_spelling(node: Node) -> bool:
    """Whether a choice only takes other spellings of the words of another choice."""
    return node.get("type") == "string" and "patternErrorMessage" in node and "examples" not in node


def _scalar(node: Node) -> str:
    kinds = node.get("type")
    if isinstance(kinds, list) and ("integer" in kinds or "patternErrorMessage" in node):
        least, most = (node.get(w) for w in ("minimum", "maximum"))
        whole = "whole number" if "integer" in kinds else "number"
        return f"{whole} {least} to {most}" if least is not None and most is not None else whole
    return "date, YYYY-MM-DD" if str(node.get("pattern", "")).startswith(r"^\d{4}") else "text"


def _choices(values: Json) -> str:
    words = list(dict.fromkeys(str(v) for v in _list(values) if v is not None))
    shown = words if len(words) <= _MOST else words[: _MOST - 2]
    more = f" and {len(words) - len(shown)} more" if len(shown) < len(words) else ""
    return " | ".join(shown) + more


def _names(node: Json) -> Iterator[str]:
    """Definitions a node points to, the things of a section first."""
    if isinstance(node, Mapping):
        target = node.get("$ref")
        if isinstance(target, str):
            yield target.rpartition("/")[2]
        for word in ("anyOf", "additionalProperties", "items"):
            yield from _names(node.get(word))
    elif isinstance(node, list):
        for one in node:
            yield from _names(one)


def _spoken(name: str) -> str:
    """``TemperatureRange`` as ``temperature range``."""
    words = "".join(f" {c.lower()}" if c.isupper() else c for c in name).strip()
    return words.removesuffix(" spec")


def _dict(value: Json) -> Node:
    assert isinstance(value, dict)
    return value


def _list(value: Json) -> list[Json]:
    assert isinstance(value, list)
    return value
