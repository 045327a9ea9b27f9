"""Terminations by the standard: ``ends: ring``, ``ends: [ring, pin 20]``, ``ends: ring and pin 20``.

A ring or spade takes the barrel of the run's gauge and the hole of the stud it lands on; a pin or socket its size, or the
smallest that takes the gauge. ``ring 22 AWG`` names the barrel where it is not that of the gauge. Figures written in
``terminations`` win.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from .clauses import Clause
from .implied import Said
from .parts import Library, Part
from .places import DocPath
from .source import Plain, mapping
from .usual import gauge_number, gauge_span
from .wording import listed, unknown_word

Tell = Callable[[DocPath, int, str, str], None]
_SIDES = ("from", "to")


class Crimped(NamedTuple):
    """A termination picked: its figures, and where the word that picked it stands."""

    figures: dict[str, Plain]
    said: Said


class Ends:
    """The terminations a document names.

    Args:
        library: the parts, with their terminations.
        tell: reports what is wrong: the path of a text, the character in it, what, and the words.
    """

    def __init__(self, library: Library, tell: Tell) -> None:
        self.kinds, self.tell = library.terminations, tell

    def both(
        self, run: Mapping[str, Plain], said: Said, studs: tuple[str | None, str | None]
    ) -> list[Crimped | None]:
        """The terminations of a run's two ends.

        Args:
            run: the run, with ``ends`` and its gauge.
            said: where ``ends`` stands.
            studs: the studs its two ends land on, where they are known.
        """
        given = run.get("ends")
        gauge = run.get("gauge")
        sides = self._sides(given, said)
        return [
            self._one(clause, at, gauge if isinstance(gauge, str) else None, stud)
            if clause is not None
            else None
            for (clause, at), stud in zip(sides, studs, strict=True)
        ]

    def _sides(self, given: Plain, said: Said) -> list[tuple[Clause | None, Said]]:
        if isinstance(given, str):
            first, joint, _ = given.partition(" and ")
            whole = Clause(given, 0)
            ends = [whole.cut(0, len(first)), whole.cut(len(first) + len(joint)) if joint else whole]
            return [(end, Said(said.path, max(said.offset, 0) + end.offset, said.words)) for end in ends]
        if isinstance(given, list) and len(given) == 2 and all(isinstance(one, str) for one in given):
            return [
                (Clause(str(one), 0), Said((*said.path, i), 0, said.words)) for i, one in enumerate(given)
            ]
        told = "ends are one word for both, or two: 'ring', 'ring and pin 20', '[ring, pin 20]'"
        self.tell(said.path, said.offset, told, "")
        return [(None, said), (None, said)]

    def _one(self, clause: Clause, said: Said, gauge: str | None, stud: str | None) -> Crimped | None:
        kind = max(
            (k for k in self.kinds if clause.text == k or clause.text.startswith(f"{k} ")),
            key=len,
            default=None,
        )
        if kind is None:
            self.tell(
                said.path, said.offset, unknown_word(clause.text, self.kinds, "termination"), clause.text
            )
            return None
        part, rest = self.kinds[kind], clause.text[len(kind) :].strip()
        figures: dict[str, Plain] = {"kind": kind}
        if "barrels" in part.raw:
            found = self._barrel(part, rest or gauge)
        elif "sizes" in part.raw:
            found = self._contact(part, rest, gauge)
        else:
            found = {} if not rest else None
        if found is None:
            if rest or (gauge is not None and gauge_span(gauge) is not None):
                self.tell(said.path, said.offset, self._none(part, kind, rest, gauge), clause.text)
            return None
        figures.update(found)
        if kind in ("ring", "spade") and stud is not None:
            figures["stud"] = stud
        return Crimped(figures, said)

    def _barrel(self, part: Part, gauge: str | None) -> dict[str, Plain] | None:
        span = gauge_span(gauge) if gauge is not None else None
        if span is None:
            return None
        for name, figures in mapping(part.raw["barrels"]).items():
            takes = gauge_span(name)
            if takes is not None and takes[0] <= span[0] and span[1] <= takes[1]:
                return {
                    "smallest_gauge": _gauge(takes[1]),
                    "largest_gauge": _gauge(takes[0]),
                    **mapping(figures),
                }
        return None

    def _contact(self, part: Part, size: str, gauge: str | None) -> dict[str, Plain] | None:
        sizes = mapping(part.raw["sizes"])
        if size in sizes:
            return dict(mapping(sizes[size]))
        wanted = gauge_span(size) if size else None
        if size and wanted is None:
            return None
        number = gauge_number(gauge) if gauge is not None else None
        for figures in sizes.values():
            one = mapping(figures)
            span = gauge_span(f"{one['smallest_gauge']} to {one['largest_gauge']}")
            if wanted is not None:
                if span == wanted:
                    return dict(one)
                continue
            if number is not None and span is not None and span[0] <= number <= span[1]:
                return dict(one)
        return None

    def _none(self, part: Part, kind: str, rest: str, gauge: str | None) -> str:
        known = listed(mapping(part.raw.get("barrels") or part.raw.get("sizes")))
        if not known:
            return f"'{kind}' has no sizes; take out '{rest}'"
        wanted = f"'{rest}'" if rest else f"one for {gauge}"
        return f"'{kind}' does not come in {wanted}; it comes in {known}"


def _gauge(number: int) -> str:
    return f"{number} AWG" if number >= 0 else f"{1 - number}/0 AWG"


def laid(picked: list[Crimped | None], written: Plain) -> tuple[list[Plain], dict[DocPath, Said]]:
    """The long form of both terminations; what is written of one wins."""
    own = written if isinstance(written, list) else []
    made: list[Plain] = []
    marks: dict[DocPath, Said] = {}
    for i, one in enumerate(picked):
        told = mapping(own[i]) if i < len(own) else {}
        figures = one.figures if one is not None else {}
        made.append({**figures, **told} or {"kind": "none"})
        for word in figures:
            if one is not None and word not in told:
                marks["terminations", i, word] = one.said
        if one is not None and not told:
            marks["terminations", i] = one.said
    if not own and picked[0] is not None:
        marks["terminations",] = picked[0].said
    return made, marks
