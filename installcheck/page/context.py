"""Where in a document a place of its text is, read from the text alone, so that it works while a line is half written."""

from __future__ import annotations

import re

from ..dataclass import dataclass
from ..model.edits import Path

_KEY = re.compile(r"""(?P<quote>["']?)(?P<word>[^:#{}\[\],"']+?)(?P=quote)\s*:(?=\s|$)""")
_TOP = re.compile(r"^[^\s#\-].*$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Context:
    """A place in a text.

    Attributes:
        path: steps to the mapping or value the place is in.
        of_value: whether a value stands there, rather than a word of the mapping at ``path``.
        start: offset at which the word or value begins.
        written: what is written of it before the place.
        beside: words the mapping has already, as far as they stand before the place in the same flow or block.
    """

    path: Path
    of_value: bool
    start: int
    written: str
    beside: frozenset[str] = frozenset()


@dataclass(slots=True)
class _Level:
    """A mapping or list the scan is in: its indent (-1 in a flow), the word or index it is at."""

    indent: int
    step: str | int | None
    words: set[str]


def context_at(text: str, offset: int) -> Context:
    """The context of an offset of a text.

    It is read from the last line that begins a section on, by indentation and brackets. Cost grows with the length of
    that section up to the offset.
    """
    offset = max(0, min(offset, len(text)))
    begin = 0
    for found in _TOP.finditer(text, 0, offset):
        begin = found.start()
    return _Scan(text, begin, offset).context()


class _Scan:
    def __init__(self, text: str, begin: int, offset: int) -> None:
        self.text, self.begin, self.offset = text, begin, offset
        self.block: list[_Level] = []
        self.flow: list[_Level] = []
        self.token = begin
        self.of_value = False

    def context(self) -> Context:
        at = self.begin
        while at <= self.offset:
            end = self.text.find("\n", at)
            end = len(self.text) if end < 0 else end
            at = self._line(at, min(end, self.offset), end) + 1
            if end >= self.offset:
                break
        return self._told()

    def _line(self, start: int, stop: int, end: int) -> int:
        """Read one line up to ``stop``; returns the end of the line."""
        if self.flow:
            self._inline(start, stop)
            return end
        at = start
        while at < stop and self.text[at] == " ":
            at += 1
        blank = at >= stop
        if not blank and self.text[at] == "#":
            if stop == self.offset:
                self.token, self.of_value = stop, True
                self.block.append(_Level(10_000, "#", set()))
            return end
        if blank and stop < self.offset:
            return end
        indent = at - start
        self._leave(indent, self.text[at : at + 2] == "- " or self.text[at:stop] == "-")
        while self.text[at : at + 2] == "- " and at < stop:
            self._count(at - start)
            at += 2
            while at < stop and self.text[at] == " ":
                at += 1
        key = _KEY.match(self.text, at, end)
        indent = at - start
        if key is None or key.end() > stop:
            self.token, self.of_value = at, False
            if self.block and self.block[-1].indent == indent and isinstance(self.block[-1].step, str):
                self.block[-1].step = None
            elif at < stop and self.text[at] in "{[":
                self._inline(at, stop)
            else:
                self.block.append(_Level(indent, None, set()))
            return end
        if not self.block or self.block[-1].indent != indent or isinstance(self.block[-1].step, int):
            self.block.append(_Level(indent, None, set()))
        self.block[-1].step = key["word"].strip()
        self.block[-1].words.add(key["word"].strip())
        self.token, self.of_value = key.end(), True
        self._inline(key.end(), stop)
        return end

    def _leave(self, indent: int, is_list: bool) -> None:
        while self.block and self.block[-1].indent > indent:
            self.block.pop()
        if (
            self.block
            and self.block[-1].indent == indent
            and not is_list
            and isinstance(self.block[-1].step, int)
        ):
            self.block.pop()

    def _count(self, indent: int) -> None:
        last = self.block[-1] if self.block else None
        if last is not None and last.indent == indent and isinstance(last.step, int):
            last.step += 1
        else:
            self.block.append(_Level(indent, 0, set()))

    def _inline(self, at: int, stop: int) -> None:
        quote = ""
        while at < stop:
            sign = self.text[at]
            if quote:
                quote = "" if sign == quote else quote
            elif sign in "\"'" and not self.text[self.token : at].strip():
                quote = sign
            elif sign == "#" and (at == 0 or self.text[at - 1] in " \t\n"):
                return
            elif sign in "{[":
                self.flow.append(_Level(-1, None if sign == "{" else 0, set()))
                self.token, self.of_value = at + 1, sign == "["
            elif sign in "}]" and self.flow:
                self.flow.pop()
                self.token, self.of_value = at + 1, True
            elif sign == "," and self.flow:
                level = self.flow[-1]
                self.token = at + 1
                if isinstance(level.step, int):
                    level.step, self.of_value = level.step + 1, True
                else:
                    level.step, self.of_value = None, False
            elif sign == ":" and self.flow and not isinstance(self.flow[-1].step, int) and not self.of_value:
                word = self.text[self.token : at].strip().strip("\"'")
                self.flow[-1].step = word
                self.flow[-1].words.add(word)
                self.token, self.of_value = at + 1, True
            at += 1

    def _told(self) -> Context:
        start = self.token
        while start < self.offset and self.text[start] in " \n":
            start += 1
        levels = [*self.block, *self.flow]
        steps = [level.step for level in levels]
        while steps and steps[-1] is None:
            steps.pop()
        path: Path = tuple(step for step in steps if step is not None)
        beside = frozenset(levels[-1].words) if levels and not self.of_value else frozenset()
        return Context(path, self.of_value, start, self.text[start : self.offset], beside)
