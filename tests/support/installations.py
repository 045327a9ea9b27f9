"""Installations for tests of what must not matter: the demos as plain mappings, and documents made from them by chance."""

from __future__ import annotations

import copy
import json
import random
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import yaml
from pydantic import BaseModel

from installcheck.document import Document, DocumentError, load, loads
from installcheck.document.edited import edited
from installcheck.model.edits import Drop, Edit
from installcheck.model.edits import Path as Steps
from installcheck.model.quantities import Quantity
from installcheck.outputs.machine.expanded import as_expanded

DEMO = Path(__file__).parents[2] / "demo_aircraft"
NAMES = ("before", "retrofit", "retrofit_corrected", "twin", "poor_ground", "poor_ground_cured")
Plain = dict[str, Any]
MAY_GO = (
    "probes",
    "loads",
    "wire_runs",
    "bundles",
    "fluid_lines",
    "operating_points",
    "measured",
    "deviations",
)
"""Sections of which a thing can be taken out with nothing left hanging."""


@cache
def _demo(name: str) -> Plain:
    written_out: Plain = yaml.load(as_expanded(load(DEMO / f"{name}.yaml")), yaml.CSafeLoader)
    return written_out


def demo(name: str) -> Plain:
    """A demo with what it includes and all it implies, as one mapping of its own."""
    made = copy.deepcopy(_demo(name))
    made["installation"].pop("replaces", None)
    for survey in made.get("survey", {}).values():
        survey.pop("log", None)  # a text without a file names no log
    return made


def text_of(plain: Plain) -> str:
    """The text of a document, as JSON, which is YAML and is written many times quicker."""
    return json.dumps(_worded(plain), ensure_ascii=False, default=str)


def _worded(node: Any) -> Any:
    """The same with 'yes' and 'no' for truth."""
    if isinstance(node, bool):
        return "yes" if node else "no"
    if isinstance(node, dict):
        return {key: _worded(value) for key, value in node.items()}
    return [_worded(value) for value in node] if isinstance(node, list) else node


def read(plain: Plain) -> Document:
    """A mapping read as a document.

    Raises:
        DocumentError: it cannot be read.
    """
    return loads(text_of(plain))


@cache
def _document(name: str) -> Document:
    return read(demo(name))


def made_by_chance(seed: int) -> Plain:
    """A demo from which a few things and a few words were struck out by chance; it can be read."""
    chance = random.Random(seed)
    name = chance.choice(NAMES)
    plain, document = demo(name), _document(name)
    for _ in range(chance.randint(2, 8)):
        if chance.random() < 0.5:
            section = chance.choice([s for s in MAY_GO if plain.get(s)])
            held = plain[section]
            path: Steps = (
                section,
                chance.choice(list(held)) if isinstance(held, dict) else chance.randrange(len(held)),
            )
        else:
            path = chance.choice(list(words_of(plain)))
        try:
            document = edited(document, Edit((Drop(path),), "by chance"))
        except DocumentError:
            continue
        holder: Any = plain
        for step in path[:-1]:
            holder = holder[step]
        del holder[path[-1]]
    return plain


def words_of(plain: Plain) -> Iterator[tuple[str | int, ...]]:
    """The path of every word of every thing."""
    for section, held in plain.items():
        for ident, thing in held.items() if isinstance(held, dict) else enumerate(held):
            if isinstance(thing, dict) and section != "installation":
                yield from ((section, ident, word) for word in thing)


def quantities_of(
    node: object, path: tuple[str | int, ...] = ()
) -> Iterator[tuple[tuple[str | int, ...], Quantity]]:
    """Every quantity of a model with its path in the document; the figures of a spec stand beside their item's own."""
    if isinstance(node, Quantity):
        yield path, node
    elif isinstance(node, BaseModel):
        for name, field in type(node).model_fields.items():
            deeper = path if name == "spec" else (*path, field.alias or name)
            yield from quantities_of(getattr(node, name), deeper)
    elif isinstance(node, dict):
        for key, value in node.items():
            yield from quantities_of(value, (*path, key))
    elif isinstance(node, (list, tuple)):
        for i, value in enumerate(node):
            yield from quantities_of(value, (*path, i))
