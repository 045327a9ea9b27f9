"""``usual``: fields said once for a section, and ``by`` a field of its things: kind, gauge, size, engine, measure...

The nearest wins: what a thing writes itself, then its bundle, its gauge or size, its kind or whatever else is told
``by``, and last the section. What one of these gives can choose another further in: a section's part has a kind.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple, get_args

from ..model.quantities import QuantityError, parse_gauge
from .implied import Layer
from .parts import canonical_size
from .places import DocPath
from .source import Plain, mapping
from .wording import unknown_word

Tell = Callable[[DocPath, str, str], None]
Figure = Callable[[str, Mapping[str, Plain], str], Plain]

LAST = ("gauge", "size", "bundle")
"""What is nearer than any other field, in that order."""
OF_RUNS = ("marked", "mark_spacing", "part", "gauge", "ends", "route", "status")
"""What a bundle may say of the runs in it."""
NOT_OF_BUNDLE = OF_RUNS[2:]
"""Words a bundle has for its runs alone."""

_RANGE = re.compile(r"^(.+?)\s+(?:to|-)\s+(.+)$")
_NAMING = {"bundle": "bundles", "zone": "zones", "engine": "engines"}


class _Table(NamedTuple):
    """Rows of fields by the value of one field."""

    field: str
    rows: Sequence[tuple[str, tuple[int, int] | None, Layer]]

    def row(self, value: Plain) -> Layer | None:
        if not isinstance(value, str):
            return None
        number = gauge_number(value) if self.field == "gauge" else None
        key = canonical_size(value)
        for name, span, layer in self.rows:
            if (span is not None and number is not None and span[0] <= number <= span[1]) or name == key:
                return layer
        return None


@lru_cache(1024)
def gauge_number(text: str) -> int | None:
    """A gauge as a number that falls as the wire grows; ``22`` counts as ``22 AWG``. ``None`` if it is no gauge."""
    words = text.strip()
    try:
        return parse_gauge(words if "AWG" in words.upper() else f"{words} AWG").number
    except QuantityError:
        return None


@lru_cache(1024)
def gauge_span(text: str) -> tuple[int, int] | None:
    """``22 to 18 AWG`` or ``22 AWG`` as the numbers of its heaviest and lightest gauge."""
    found = _RANGE.match(text.strip())
    ends = [gauge_number(one) for one in (found.groups() if found else (text,))]
    if any(one is None for one in ends):
        return None
    numbers = sorted(one for one in ends if one is not None)
    return numbers[0], numbers[-1]


class Usual:
    """What a document says once.

    Args:
        plain: its section ``usual``.
        words: the words known in each section.
        whole: all sections as written, for the names of bundles, zones and engines.
        figure: a field of a thing, or of its part.
        tell: reports what is wrong, with its path and text.
    """

    def __init__(
        self,
        plain: Plain,
        words: Mapping[str, Mapping[str, object]],
        whole: Mapping[str, Plain],
        figure: Figure,
        tell: Tell,
    ) -> None:
        self.words, self.whole, self.figure, self.tell = words, whole, figure, tell
        self.base: dict[str, Layer] = {}
        self.tables: dict[str, list[_Table]] = {}
        if plain is not None and not isinstance(plain, dict):
            tell(("usual",), "'usual' holds sections with their usual fields: 'wire_runs: {marked: yes}'", "")
        for section, given in mapping(plain).items():
            if section not in words:
                tell(("usual", section), unknown_word(section, words, "section with things in it"), section)
            elif not isinstance(given, dict):
                tell(("usual", section), f"'word: value' lines are wanted here, fields of {section}", section)
            else:
                self._read(section, given)

    def _read(self, section: str, given: Mapping[str, Plain]) -> None:
        fields: dict[str, Plain] = {}
        tables: list[_Table] = []
        for word, value in given.items():
            path: DocPath = ("usual", section, word)
            if not word.startswith("by "):
                if self._known(section, word, path):
                    fields[word] = value
                continue
            by = word[3:].strip().replace(" ", "_")
            if self._known(section, by, path):
                table = self._table(section, by, value, path)
                if table is not None:
                    tables.append(table)
        self.base[section] = Layer(fields, ("usual", section), f"usual of {section}")
        tables.sort(key=lambda t: LAST.index(t.field) if t.field in LAST else -1)
        self.tables[section] = tables

    def _known(self, section: str, word: str, path: DocPath) -> bool:
        if word in self.words[section] and word not in ("from", "to", "conductors"):
            return True
        self.tell(path, unknown_word(word, self.words[section], f"word that can be usual of {section}"), word)
        return False

    def _table(self, section: str, by: str, value: Plain, path: DocPath) -> _Table | None:
        if not isinstance(value, dict):
            self.tell(path, f"'by {by}' holds a line for each {by}, each with its own fields", by)
            return None
        rows = []
        for key, fields in value.items():
            at = (*path, key)
            span = gauge_span(key) if by == "gauge" else None
            if by == "gauge" and span is None:
                self.tell(
                    at, f"'{key}' is not a gauge or a range of them, like '22 AWG' or '22 to 18 AWG'", key
                )
                continue
            self._named(section, by, key, at)
            if not isinstance(fields, dict):
                self.tell(at, f"'word: value' lines are wanted here, fields of {section}", key)
                continue
            known = {w: v for w, v in fields.items() if self._known(section, w, (*at, w))}
            rows.append((canonical_size(key), span, Layer(known, at, f"usual of {section} by {by}, {key}")))
        return _Table(by, rows)

    def _named(self, section: str, by: str, key: str, at: DocPath) -> None:
        """Tell if a row is for something that is not there, or cannot be."""
        if by in _NAMING:
            known = mapping(self.whole.get(_NAMING[by]))
            if key not in known:
                self.tell(at, unknown_word(key, known, by), key)
            return
        kinds = self.words[section][by]
        known_words = [w for one in (kinds, *get_args(kinds)) for w in get_args(one) if isinstance(w, str)]
        if known_words and key not in known_words:
            self.tell(at, unknown_word(key, known_words, by), key)

    def layers(
        self, section: str, own: Mapping[str, Plain], bundle: Callable[[str], Layer | None]
    ) -> tuple[Layer, ...]:
        """What is said elsewhere of a thing, nearest first.

        Args:
            section: where it stands.
            own: what it writes itself.
            bundle: what a bundle says of its runs, by its id.
        """
        base = self.base.get(section)
        tables = self.tables.get(section, ())
        found: list[Layer] = [base] if base is not None and base.values else []
        named = own["bundle"] if "bundle" in own else base.values.get("bundle") if base is not None else None
        held = bundle(named) if section == "wire_runs" and isinstance(named, str) else None
        if not tables:
            return (*((held,) if held is not None and held.values else ()), *found)
        told = {
            **(base.values if base is not None else {}),
            **(held.values if held is not None else {}),
            **own,
        }
        for table in tables:
            layer = table.row(told.get(table.field) or self.figure(section, told, table.field))
            if layer is not None:
                found.insert(0, layer)
                told = {**told, **layer.values, **(held.values if held is not None else {}), **own}
        if held is not None and held.values:
            found.insert(0, held)
        return tuple(found)
