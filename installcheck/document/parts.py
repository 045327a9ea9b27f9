"""The part library: YAML files of generic parts and standard materials, and part files a document names.

A part is keyed by name and says ``for`` which section it serves, what it is (the fields of that section's spec) and
where its figures come from. A part that comes in sizes holds a table ``sizes`` whose rows complete it; the row is
chosen by the ``gauge`` or ``size`` written where the part is used.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import field
from difflib import get_close_matches
from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path
from typing import get_args

from ..dataclass import dataclass
from ..model.installation import SPECS
from ..model.quantities import QuantityError, parse_gauge
from ..model.things import Spec
from ..model.wiring import Termination
from .kept import read_kept
from .source import DocPath, Plain, Problem, Source, mapping

UNKNOWN_SIZE = "unknown"
"""In place of a size that a document says is unknown: the part has what all its sizes have."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part: its key, the section it serves, its raw figures and where they stand."""

    key: str
    section: str
    raw: Mapping[str, Plain]
    sizes: Mapping[str, Mapping[str, Plain]]
    source: Source
    path: DocPath

    def figures(self, size: str | None) -> dict[str, Plain]:
        """The raw fields of the part in one size.

        Raises:
            KeyError: it does not come in that size, or a size is needed and none is given.
        """
        if not self.sizes or size == UNKNOWN_SIZE:
            return dict(self.raw)
        if size is None:
            raise KeyError("")
        return {**self.raw, **self.sizes[size]}

    def spelling(self, size: str) -> str:
        """A size as its file writes it."""
        return next((one for one in self.as_written() if canonical_size(one) == size), size)

    def as_written(self) -> list[str]:
        """Sizes it comes in, as its file writes them."""
        path = (*self.path, "sizes")
        return list(mapping(self.source.find(path)[0])) if self.source.holds(path) else []


@dataclass(slots=True)
class Library:
    """Parts by key. ``spec`` results are cached: the same part in the same size is one object."""

    parts: dict[str, Part] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    specs: dict[tuple[str, str | None], Spec] = field(default_factory=dict)
    terminations: dict[str, Part] = field(default_factory=dict)
    """What is crimped on a wire, by its kind."""
    _of_section: dict[str, list[str]] = field(default_factory=dict)

    def of_section(self, section: str) -> list[str]:
        """Keys of the parts of a section."""
        if section not in self._of_section:
            self._of_section[section] = [k for k, p in self.parts.items() if p.section == section]
        return self._of_section[section]

    def nearest(self, key: str, section: str) -> list[str]:
        """Keys of that section most like ``key``."""
        return self._near(key, self.of_section(section))

    def nearest_of_all(self, key: str) -> list[str]:
        """Keys of any section most like ``key``."""
        return self._near(key, self.parts)

    @staticmethod
    def _near(key: str, keys: Iterable[str]) -> list[str]:
        lowered = {k.lower(): k for k in keys}
        near = get_close_matches(key.lower(), list(lowered), 3, 0.5)
        words = key.lower().split()
        holding = [k for k in lowered if words and all(word in k.split() for word in words)]
        return [lowered[n] for n in dict.fromkeys((*near, *sorted(holding, key=len)))][:3]

    def extended(self, others: Library) -> Library:
        """This library with the parts of another added; the other's win."""
        return Library(
            {**self.parts, **others.parts},
            [*self.problems, *others.problems],
            dict(self.specs) if not others.parts else {},
            {**self.terminations, **others.terminations},
        )


@lru_cache(4096)
def canonical_size(text: str) -> str:
    """A size key in one spelling: gauges as ``22``, anything else with single spaces and lower case."""
    try:
        return str(parse_gauge(text))
    except QuantityError:
        return _figure_in(" ".join(text.lower().split()))


_MARKED = re.compile(
    r"^(?P<number>[\d.][\d./]*(?:[ -]\d+/\d+)?)[\s-]*(?P<unit>in|in\.|inch|\"|″|a|amp|amps|ampere|amperes|pin|pins|contacts?|ways?"
    r"|pairs?|cyl|cyls|cylinders?)$"
)
_UNIT_OF = {
    **dict.fromkeys(("a", "amp", "amps", "ampere", "amperes"), "a"),
    **dict.fromkeys(("pin", "pins", "contact", "contacts", "way", "ways"), "contact"),
    **dict.fromkeys(("pair", "pairs"), "pair"),
    **dict.fromkeys(("cyl", "cyls", "cylinder", "cylinders"), "cylinder"),
}


def _figure_in(text: str) -> str:
    """``60 amp`` and ``60a`` as ``60 a``, ``10 pins`` as ``10 contact``; ``3/8"`` and ``3/8`` as ``3/8 in``, which a fraction is of."""
    if re.fullmatch(r"\d+/\d+|\d+ \d+/\d+", text):
        return f"{text} in"
    found = _MARKED.match(text)
    if found is None:
        return text
    number, unit = found["number"], _UNIT_OF.get(found["unit"], "in")
    return f"{_decimal(number) if unit == 'a' else number} {unit}"


def _decimal(number: str) -> str:
    """``7 1/2`` as ``7.5``; what is no such figure as it stands."""
    try:
        return f"{float(sum(Fraction(piece) for piece in number.split())):g}"
    except (ValueError, ZeroDivisionError):
        return number


def outdated(kind: type[Spec], figures: Mapping[str, Plain], written: Mapping[str, Plain]) -> frozenset[str]:
    """Figures of a part that hang on a word written otherwise where the part is used, and are not written there."""
    other = {word for word, value in written.items() if word in figures and figures[word] != value}
    hang = (w for w in figures if w not in written and other.intersection(kind.hangs_on.get(w, ())))
    return frozenset(hang) if other else frozenset()


def read_parts(source: Source) -> Library:
    """The parts of one part file; what is wrong with it goes to ``problems``."""
    library = Library(problems=list(source.problems))
    top = mapping(source.plain)
    for word in top:
        if word not in ("source", "parts", "title", "terminations"):
            library.problems.append(
                Problem(
                    source.place((word,), of_key=True),
                    f"'{word}' is not known in a part file; it holds 'title', 'source', 'parts' and 'terminations'",
                    word,
                )
            )
    library.terminations = _terminations(source, library.problems)
    shared = top.get("source")
    for key, raw in mapping(top.get("parts")).items():
        path: DocPath = ("parts", key)
        if not isinstance(raw, dict):
            library.problems.append(Problem(source.place(path), f"part '{key}' holds no figures", key))
            continue
        body = dict(raw)
        section = body.pop("for", None)
        if not isinstance(section, str) or section not in SPECS:
            library.problems.append(
                Problem(
                    source.place((*path, "for")),
                    f"part '{key}' must say 'for' which section it is: {', '.join(SPECS)}",
                    str(section),
                )
            )
            continue
        sizes = {canonical_size(size): mapping(row) for size, row in mapping(body.pop("sizes", None)).items()}
        if isinstance(shared, str):
            body.setdefault("source", shared)
        library.parts[key] = Part(key, section, body, sizes, source, path)
    return library


def _terminations(source: Source, problems: list[Problem]) -> dict[str, Part]:
    """What a part file tells of terminations: barrels by the gauges they take, or contacts by size."""
    known = [w for w in get_args(Termination.model_fields["kind"].annotation) if isinstance(w, str)]
    made: dict[str, Part] = {}
    for kind, raw in mapping(mapping(source.plain).get("terminations")).items():
        path: DocPath = ("terminations", kind)
        if kind not in known:
            told = f"'{kind}' is not a termination: {', '.join(known)}"
            problems.append(Problem(source.place(path, of_key=True), told, kind))
        elif not isinstance(raw, dict):
            problems.append(Problem(source.place(path), f"'{kind}' holds no figures", kind))
        else:
            for word in raw:
                if word not in ("title", "source", "barrels", "sizes"):
                    told = f"'{word}' is not known here; known are title, source, barrels, sizes"
                    problems.append(Problem(source.place((*path, word), of_key=True), told, word))
            made[kind] = Part(kind, "terminations", raw, {}, source, path)
    return made


def _folder() -> Path:
    package = Path(__file__).resolve().parents[1]
    shipped = package / "_parts"
    return shipped if shipped.is_dir() else package.parent / "parts"


def shipped_files() -> list[Path]:
    """The files of the parts shipped with the package."""
    return sorted(_folder().glob("*.yaml"))


@cache
def standard_library() -> Library:
    """The parts shipped with the package."""
    library = Library()
    for source in read_kept([(path, f"parts/{path.name}") for path in shipped_files()]):
        library = library.extended(read_parts(source))
    return library
