"""The rows of a sheet as things of a section, each cell at its own place; what is wrong is gathered."""

from __future__ import annotations

import re
from collections.abc import Mapping

from ..dataclass import dataclass
from .cells import AS_THEY_STAND, EMPTY, NO, SLACK_M, YES, Cell, end_of, lengths, metres, worded
from .headings import (
    CONDUCTOR,
    END_FROM,
    END_TO,
    FROM_PIN,
    NEEDED,
    RESULT,
    TO_PIN,
    Heading,
    fields,
    known,
    read,
)
from .parts import Library, canonical_size
from .places import Key, Problem
from .sheets import Sheet
from .source import Plain, Source, mapping
from .wording import listed, unknown_word

_HEADINGS_WITHIN = 40
_NOTE = re.compile(r"^\S+(?:\s+\S+){3,}\.$")
"""A remark below a table: a sentence alone in its row, as ``lists`` writes."""
_ENDED = re.compile(r"^(?P<kind>.+?)(?: for (?P<stud>.+) stud)?$")
_SHIELD = re.compile(r"^(?:from )?(?P<from>.+?) to (?P<to>.+)$")
_BY_CONDUCTOR = ("from", "to", "metal", "colour", "gauge")
"""What each conductor of a cable says in a row of its own."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a document says of a table: the sheet of a workbook, and the headings it need not read."""

    section: str
    sheet: str = ""
    leave_out: tuple[str, ...] = ()


def spoken(section: str) -> str:
    return section.replace("_", " ")


def needed(section: str) -> str:
    return listed(("id", *NEEDED.get(section, ())))


def columns(row: list[str], section: str) -> dict[int, Heading]:
    return {at: one for at, text in enumerate(row, start=1) if (one := read(section, text)) is not None}


def heading_row(sheet: Sheet, section: str) -> int:
    """The 1-based row of the headings; 0 if there is none."""
    best, row = 1, 0
    for number, cells in enumerate(sheet.rows[:_HEADINGS_WITHIN], start=1):
        words = {one.word for one in columns(cells, section).values()}
        likely = len(words) + 10 * ("id" in words)
        if len(words) > 1 and likely > best:
            best, row = likely, number
    return row


def folded(text: str) -> str:
    return " ".join(text.casefold().split())


class Rows:
    """The rows of one sheet being read into a source."""

    def __init__(self, sheet: Sheet, source: Source, wanted: Wanted, library: Library) -> None:
        self.sheet, self.source, self.library = sheet, source, library
        self.section, self.left_out = wanted.section, {folded(w) for w in wanted.leave_out}
        self.columns: dict[int, Heading] = {}
        self.things: dict[str, Plain] = {}
        self.rows: dict[str, list[dict[str, Cell]]] = {}

    def tell(self, row: int, column: int, why: str, text: str = "") -> None:
        place = self.source._at(row, column)
        self.source.problems.append(Problem(place, why, text))

    def read(self) -> None:
        """Read all of it."""
        self.source.plain = {self.section: self.things}
        heading = heading_row(self.sheet, self.section)
        if not heading:
            wanted = needed(self.section)
            self.tell(1, 1, f"there is no row of headings; a table of {spoken(self.section)} needs {wanted}")
            heading = len(self.sheet.rows)
        else:
            self._head(heading)
        self._mapped(self.source.plain, {self.section: Cell("", max(heading, 1), 1)})
        for number, cells in enumerate(self.sheet.rows[heading:], start=heading + 1):
            self._row(number, cells)
        if self.columns and not self.rows and not self.source.problems:
            self.tell(heading, 1, "there is no row below the headings")
        spots: dict[Key, Cell] = {}
        for ident, rows in self.rows.items():
            spots[ident] = rows[0]["id"]
            self.things[ident] = self._thing(rows)
        self._mapped(self.things, spots)

    def _mapped(self, made: Plain, spots: Mapping[Key, Cell]) -> None:
        self.source.spots[id(made)] = {key: cell.spot for key, cell in spots.items()}

    def _head(self, number: int) -> None:
        """Read the headings, and see that nothing above them is lost."""
        for above, cells in enumerate(self.sheet.rows[: number - 1], start=1):
            if sum(map(bool, cells)) > 2:
                self.tell(above, 1, "this row stands above the headings; move it below them, or take it out")
        headings = self.source.headings
        assert isinstance(headings, dict)
        seen: dict[str, str] = {}
        for at, text in enumerate(self.sheet.rows[number - 1], start=1):
            headings[at] = text
            if not text or folded(text) in self.left_out:
                continue
            one = read(self.section, text)
            if one is None:
                told = unknown_word(text, known(self.section), f"heading of {spoken(self.section)}")
                self.tell(
                    number, at, f"{told} (a column that is not to be read is named under 'leave_out')", text
                )
            elif one.word in seen and one.word != RESULT:
                self.tell(
                    number, at, f"'{text}' says the same as '{seen[one.word]}'; take one of them out", text
                )
            else:
                seen[one.word] = text
                self.columns[at] = one
        if RESULT in seen and seen.get("current", "").casefold() == "current [a]":
            self.columns = {at: h for at, h in self.columns.items() if h.word != "current"}
        for word, pin in (("from", FROM_PIN), ("to", TO_PIN)):
            if pin in seen and word not in seen:
                self.columns = {at: Heading(word) if h.word == pin else h for at, h in self.columns.items()}
                seen[word] = seen.pop(pin)
        missing = [word for word in ("id", *NEEDED.get(self.section, ())) if word not in seen]
        if missing:
            there = listed(text for text in self.sheet.rows[number - 1] if text)
            self.tell(number, 1, f"there is no heading for {' and '.join(missing)}; there are {there}")
            self.sheet.rows = self.sheet.rows[:number]
        for (top, left), words in self.sheet.merged.items():
            if top > number and left in self.columns:
                self.tell(top, left, f"the cells {words} are merged: write the value in each of them")

    def _row(self, number: int, cells: list[str]) -> None:
        filled = [at for at, text in enumerate(cells, start=1) if text]
        wrong = [at for row, at in self.sheet.wrong if row == number] if self.sheet.wrong else []
        if not filled and not wrong:
            return
        if len(filled) == 1 and not wrong and _NOTE.match(cells[filled[0] - 1]):
            return
        found: dict[str, Cell] = {}
        for at in filled:
            text = cells[at - 1]
            one = self.columns.get(at)
            if one is None:
                if not (self.source.headings or {}).get(at):
                    self.tell(number, at, f"'{text[:40]}' stands under no heading", text)
                continue
            if one.word == RESULT or (number, at) in self.sheet.wrong:
                continue
            if (number, at) in self.sheet.dates and not self._dated(one.word):
                why = "the spreadsheet has made a date of this; make the cell text and write it again"
                self.tell(number, at, why, text)
                continue
            if one.word not in AS_THEY_STAND:
                text, why = worded(self.section, one, text)
                if why:
                    self.tell(number, at, why, text)
            found[one.word] = Cell(text, number, at)
        for at in wrong:
            if at in self.columns and self.columns[at].word != RESULT:
                self.tell(number, at, self.sheet.wrong[number, at])
        if "id" in found:
            self.rows.setdefault(found["id"].text, []).append(found)
        elif found and not any(self.columns.get(at, Heading("")).word == "id" for at in wrong):
            self.tell(number, min(c.column for c in found.values()), "this row has no id")

    def _dated(self, word: str) -> bool:
        return word in ("fitted", "date", "notes", "title")

    def _thing(self, rows: list[dict[str, Cell]]) -> Plain:
        """One thing, of its row; of several if it is a cable with a row for each conductor."""
        first = rows[0]
        made: dict[str, Plain] = {}
        spots: dict[Key, Cell] = {}
        if self.section == "wire_runs" and all(CONDUCTOR in row for row in rows):
            self._conductors(rows, made, spots)
        else:
            for row in rows[1:]:
                at = row["id"]
                hint = (
                    "; a cable's rows each name their conductor"
                    if self.section == "wire_runs" and len(rows) > 1
                    else ""
                )
                why = f"'{at.text}' is in row {first['id'].row} already{hint}"
                self.tell(at.row, at.column, why, at.text)
            for word in NEEDED.get(self.section, ()):
                if word not in first:
                    self.tell(first["id"].row, first["id"].column, f"'{first['id'].text}' has no '{word}'")
            for word, pin in (("from", FROM_PIN), ("to", TO_PIN)):
                if word in first:
                    made[word], spots[word] = end_of(first, word, pin), first[word]
        for word in dict.fromkeys(word for row in rows for word in row):
            if word in made or word in ("id", FROM_PIN, TO_PIN, CONDUCTOR, "from", "to"):
                continue
            cells = [row[word] for row in rows if word in row]
            told = "conductors" in made
            if told and word in ("metal", "colour"):
                continue
            if not (told and word == "gauge"):
                self._agree(cells)
            self._field(word, cells[0], made, spots)
        self._ends(first, made, spots)
        self._of_part(made, spots)
        self._length(made, spots)
        self._mapped(made, spots)
        self.source.unknowns.update({(id(made), key) for key in spots if made.get(str(key)) is None})
        return made

    def _agree(self, cells: list[Cell]) -> None:
        for cell in cells[1:]:
            if cell.text != cells[0].text:
                why = f"row {cells[0].row} says '{cells[0].text[:40]}' of the same run"
                self.tell(cell.row, cell.column, why, cell.text)

    def _field(self, word: str, cell: Cell, made: dict[str, Plain], spots: dict[Key, Cell]) -> None:
        """Put one cell into a thing."""
        text = cell.text
        sort = fields(self.section).get(word)
        if sort is None or text.casefold() in EMPTY:
            return
        value: Plain = text
        if text == "unknown":
            value = None
        elif word == "notes":
            value = self._listed([text], cell)
        elif sort == "list":
            value = self._listed([one.strip() for one in re.split(r"[,;]", text) if one.strip()], cell)
        elif sort == "switch":
            value = "yes" if text.casefold() in YES else "no" if text.casefold() in NO else text
        elif word == "shield":
            value = self._shield(cell)
            if value is None:
                return
        made[word], spots[word] = value, cell

    def _listed(self, texts: list[str], cell: Cell) -> Plain:
        made: list[Plain] = list(texts)
        self._mapped(made, dict.fromkeys(range(len(made)), cell))
        return made

    def _shield(self, cell: Cell) -> Plain:
        if cell.text == "shielded, ends not given":
            return None
        found = _SHIELD.match(cell.text)
        if found is None:
            why = f"'{cell.text[:40]}' says not where a shield goes; write it like 'signal ground to open'"
            self.tell(cell.row, cell.column, why, cell.text)
            return None
        made: dict[str, Plain] = dict(found.groupdict())
        self._mapped(made, dict.fromkeys(made, cell))
        return made

    def _conductors(
        self, rows: list[dict[str, Cell]], made: dict[str, Plain], spots: dict[Key, Cell]
    ) -> None:
        """The rows of a cable, one for each conductor."""
        legs: dict[str, Plain] = {}
        at: dict[Key, Cell] = {}
        for row in rows:
            name = row[CONDUCTOR]
            if name.text in legs:
                why = f"conductor '{name.text}' of '{row['id'].text}' is in row {at[name.text].row} already"
                self.tell(name.row, name.column, why, name.text)
                continue
            leg: dict[str, Plain] = {}
            there: dict[Key, Cell] = {}
            for word in _BY_CONDUCTOR:
                pin = {"from": FROM_PIN, "to": TO_PIN}.get(word, "")
                if word not in row:
                    if pin:
                        why = f"conductor '{name.text}' of '{row['id'].text}' has no '{word}'"
                        self.tell(name.row, name.column, why)
                elif pin:
                    leg[word], there[word] = end_of(row, word, pin), row[word]
                elif row[word].text.casefold() in EMPTY:
                    continue
                elif word != "gauge" or row[word].text != rows[0].get(word, row[word]).text:
                    leg[word], there[word] = row[word].text, row[word]
            self._mapped(leg, there)
            legs[name.text], at[name.text] = leg, name
        self._mapped(legs, at)
        made["conductors"], spots["conductors"] = legs, rows[0][CONDUCTOR]

    def _ends(self, first: Mapping[str, Cell], made: dict[str, Plain], spots: dict[Key, Cell]) -> None:
        """What is on both ends, from a column for each."""
        cells = [first.get(word) for word in (END_FROM, END_TO)]
        there = [cell for cell in cells if cell is not None and cell.text.casefold() not in EMPTY]
        if not there:
            return
        if len(there) == 1:
            why = "what is on the other end is not told; write 'none' where nothing is"
            self.tell(there[0].row, there[0].column, why, there[0].text)
            return
        found = [_ENDED.match(cell.text) for cell in there]
        kinds: list[Plain] = [
            one["kind"] if one is not None else cell.text for one, cell in zip(found, there, strict=True)
        ]
        ends: dict[Key, Cell] = {**dict(enumerate(there))}
        self._mapped(kinds, ends)
        made["ends"], spots["ends"] = kinds, there[0]
        studs = [one["stud"] if one is not None else None for one in found]
        if any(studs):
            told: list[Plain] = []
            for stud, cell in zip(studs, there, strict=True):
                one: dict[str, Plain] = {"stud": stud} if stud else {}
                self._mapped(one, dict.fromkeys(one, cell))
                told.append(one)
            self._mapped(told, ends)
            made["terminations"], spots["terminations"] = told, there[0]

    def _of_part(self, made: dict[str, Plain], spots: dict[Key, Cell]) -> None:
        """Leave out the metals and colours that the part says itself, as a list repeats them."""
        part = self.library.parts.get(str(made.get("part")))
        if part is None or part.section != self.section:
            return
        size = made.get("gauge") or made.get("size")
        try:
            figures = part.figures(canonical_size(size) if isinstance(size, str) else None)
        except KeyError:
            return
        if made.get("metal") is not None and made["metal"] == figures.get("metal"):
            del made["metal"], spots["metal"]
        for name, leg in mapping(made.get("conductors")).items():
            own = mapping(mapping(figures.get("legs")).get(name))
            assert isinstance(leg, dict)
            if leg.get("metal") in (own.get("metal"), figures.get("metal")):
                leg.pop("metal", None)
            if leg.get("colour") in {value for word, value in own.items() if word.startswith("colour")}:
                leg.pop("colour", None)

    def _length(self, made: dict[str, Plain], spots: dict[Key, Cell]) -> None:
        """Leave out a whole length that is the sum of the route."""
        if "length" not in made or not isinstance(made.get("route"), str):
            return
        cell = spots["length"]
        told, steps = metres(made["length"]), [metres(one) for one in lengths(str(made["route"]))]
        if told is None or not steps or None in steps:
            return
        whole = sum(one for one in steps if one is not None)
        if abs(whole - told) > SLACK_M * (1 + len(steps)):
            why = f"'{cell.text}' is not the sum of the route, {made['route']}"
            self.tell(cell.row, cell.column, why, cell.text)
        del made["length"], spots["length"]
