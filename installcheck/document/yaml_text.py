"""Bytes -> text -> YAML nodes, with what is wrong said in words a mechanic reads.

PyYAML's C parser composes nodes; nothing is ever constructed from a tag, and every plain scalar stays text.
"""

from __future__ import annotations

import codecs
import gc
import re
from bisect import bisect_right
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache

import yaml

from .places import DocumentError, Place, Problem

MAX_BYTES = 64 * 1024 * 1024
MAX_DEPTH = 40

_UNREADABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters YAML 1.2 (5.1) does not allow in a file."""
_LINE_END = re.compile("\r\n|[\r\n\x85\u2028\u2029]")
"""Line ends as the YAML parser counts them."""


@contextmanager
def uncollected() -> Iterator[None]:
    """Hold the cyclic garbage collector off while a tree that will be kept is built.

    Without this most of the time of reading a large document goes into looking for garbage in it.
    """
    on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if on:
            gc.enable()


class _Composer(yaml.CSafeLoader):
    """Composes nodes without guessing types, and refuses nesting that would exhaust the stack."""

    depth = 0
    name = ""

    def resolve(self, kind: type[yaml.Node], value: object, implicit: object) -> str:
        """The tag of a node that names none."""
        if kind is yaml.ScalarNode:
            return "tag:yaml.org,2002:str"
        return "tag:yaml.org,2002:seq" if kind is yaml.SequenceNode else "tag:yaml.org,2002:map"

    def descend_resolver(self, parent: yaml.Node | None, index: object) -> None:
        """Called by the parser for each node, before it is composed."""
        self.depth += 1
        if self.depth > MAX_DEPTH + 1 and parent is not None:
            mark = parent.start_mark
            place = Place(self.name, mark.line + 1, mark.column + 1)
            raise DocumentError([Problem(place, f"nested deeper than {MAX_DEPTH} levels")])

    def ascend_resolver(self) -> None:
        """Called by the parser after each node."""
        self.depth -= 1


def read_text(raw: bytes, name: str) -> str:
    """Bytes of a document as text.

    Raises:
        DocumentError: too large, not UTF-8, or with control characters; with the place of the first.
    """
    if len(raw) > MAX_BYTES:
        limit = MAX_BYTES // 1048576
        raise DocumentError(
            [Problem(Place(name, 1, 1), f"the file is larger than the {limit} MiB that are read")]
        )
    raw = raw.removeprefix(codecs.BOM_UTF8)
    try:
        text = raw.decode()
    except UnicodeDecodeError as bad:
        before = raw[: bad.start].decode()
        encoding = "UTF-16" if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else ""
        is_not = (
            f"the file is {encoding}" if encoding else f"the byte 0x{raw[bad.start]:02x} is not UTF-8 text"
        )
        raise DocumentError(
            [Problem(_place_at(before, len(before), name), f"{is_not}; save it as UTF-8")]
        ) from None
    bad_character = _UNREADABLE.search(text)
    if bad_character:
        at = bad_character.start()
        what = f"the control character U+{ord(text[at]):04X} is not text; take it out"
        raise DocumentError([Problem(_place_at(text, at, name), what)])
    return text


def _place_at(text: str, position: int, name: str) -> Place:
    ends = [m.end() for m in _LINE_END.finditer(text, 0, position)]
    return Place(name, len(ends) + 1, position - (ends[-1] if ends else 0) + 1)


@lru_cache(maxsize=4)
def _lines(raw: bytes) -> tuple[str, list[int]]:
    """A file as text, and where each of its lines begins."""
    text = read_text(raw, "")
    return text, line_starts(text)


def line_starts(text: str) -> list[int]:
    """Where each line of a text begins, as the YAML parser counts lines; what follows the last line end is a line."""
    return [0, *(m.end() for m in _LINE_END.finditer(text))]


def character_at(raw: bytes, spot: tuple[int, int], value: str, offset: int) -> tuple[int, int]:
    """Line and column, from 1, of a character of a scalar.

    Args:
        raw: the whole file.
        spot: line and column where the scalar starts.
        value: the scalar as it was read, without its quotes and with its lines joined.
        offset: which character of ``value`` is wanted.
    """
    text, starts = _lines(raw)
    at = starts[min(spot[0], len(starts)) - 1] + spot[1] - 1
    if text[at : at + 1] in ("|", ">"):
        at = starts[min(spot[0], len(starts) - 1)]
    for i in range(min(offset, len(value)) + 1):
        wanted = value[i : i + 1]
        while wanted and not wanted.isspace() and at < len(text) and text[at] != wanted:
            at += 1
        if i < offset:
            at += 1
    line = bisect_right(starts, min(at, len(text)))
    return line, min(at, len(text)) - starts[line - 1] + 1


def compose(text: str, name: str) -> yaml.Node | None:
    """The root node of a YAML text; ``None`` if it holds nothing.

    Raises:
        DocumentError: the text is not YAML, is nested too deep, or holds more than one document.
    """
    loader = _Composer(text)
    loader.name = name
    try:
        root: yaml.Node | None = loader.get_single_node()
    except yaml.MarkedYAMLError as bad:
        raise DocumentError([_syntax(bad, text, name)]) from None
    except yaml.YAMLError as bad:
        raise DocumentError([Problem(Place(name, 1, 1), f"not YAML: {bad}")]) from None
    finally:
        loader.dispose()
    return root


_SAID = {
    "found character that cannot start any token": "'CHAR' cannot start a value: put the text in quotes",
    "mapping values are not allowed in this context": "a ': ' is not expected here: put a text that holds one in"
    " quotes, and check the indentation of this line",
    "did not find expected key": "this does not fit what stands above it: check indentation, quotes and brackets",
    "could not find expected ':'": "this line lacks its ': ': write 'word: value'",
    "did not find expected ',' or ']'": "the '[' opened on line LINE is not closed before this, or a comma is missing",
    "did not find expected ',' or '}'": "the '{' opened on line LINE is not closed before this, or a comma is missing",
    "did not find expected node content": "a value is missing before this",
    "found unexpected end of stream": "the quote opened here is not closed",
    "found undefined alias": "an alias ('*') names an anchor ('&') that does not stand above it",
    "second occurrence": "this anchor ('&') is already used on line LINE",
    "but found another document": "a second document starts here; a file holds one",
    "did not find expected <document start>": "a second document starts here; a file holds one",
    "found unknown escape character": "in double quotes a '\\' starts an escape; use single quotes",
    "found invalid Unicode character escape code": "this escape stands for no character",
    "found undefined tag handle": "a value cannot start with '!': put the text in quotes",
    "found incompatible YAML document": "the file asks for another version of YAML; take the '%YAML' line out",
    "exceeded maximum nesting depth": f"nested deeper than {MAX_DEPTH} levels",
    "block sequence entries are not allowed in this context": "a list of '- ' lines begins on a line of its own",
    "did not find expected '-' indicator": "every line of this list starts with '- ' in the same column",
}
"""What the parser says, and what a person would; LINE is where the thing opened, CHAR the character found."""

_AT_OPENING = ("found unexpected end of stream", "could not find expected ':'")


def _indented(said: str, mark: yaml.Mark, opened: yaml.Mark | None, text: str) -> str:
    """What is wrong with the indentation of a line that does not fit the block it stands in."""
    if said != "did not find expected key" or opened is None or opened.line == mark.line:
        return ""
    line = text[mark.index - mark.column :].partition("\n")[0]
    if line[: mark.column].strip():
        return ""
    if line[mark.column : mark.column + 2] == "- ":
        return "'- ' begins a line of a list, but names are wanted here: write 'name: ...'"
    if mark.column != opened.column:
        return (
            f"this line is indented by {mark.column}, the lines it belongs to (from line {opened.line + 1}) by "
            f"{opened.column}: indent it alike"
        )
    return ""


def _in_text(said: str, mark: yaml.Mark, opened: yaml.Mark | None, text: str) -> str:
    """What is wrong where a text within brackets holds what parts words or begins a comment."""
    if opened is None or said not in ("did not find expected ',' or ']'", "did not find expected ',' or '}'"):
        return ""
    comment = re.search(r"(?<=[\s:,\[{])#[^\n]*[\]}]", text[opened.index : mark.index])
    if comment is not None:
        line = text.count("\n", 0, opened.index + comment.start()) + 1
        return f"the '#' on line {line} begins a comment, which hides the rest of the line: put the text that holds it in quotes"
    if opened.line == mark.line and text[mark.index : mark.index + 2] in (": ", ":\n"):
        return "a ': ' stands within a text: put the text in quotes"
    return ""


def _syntax(bad: yaml.MarkedYAMLError, text: str, name: str) -> Problem:
    mark, opened = bad.problem_mark or bad.context_mark, bad.context_mark
    said = str(bad.problem or bad.context or "cannot be read")
    if mark is None:
        return Problem(Place(name, 1, 1), f"not YAML: {said}")
    char = text[mark.index : mark.index + 1]
    if "tab character" in said or (char == "\t" and said.startswith("found character")):
        words = "a tab cannot indent a line; use spaces"
    else:
        words = _indented(said, mark, opened, text) or _in_text(said, mark, opened, text)
        words = words or _SAID.get(said, f"{bad.context}, {said}" if bad.context else said)
        words = words.replace("LINE", str((opened or mark).line + 1)).replace("CHAR", char)
    if said in _AT_OPENING and opened is not None:
        mark = opened
    written = text.rstrip()
    ended = mark.index >= len(written)  # the parser counts the end of the text as a line of its own
    place = _place_at(text, len(written), name) if ended else Place(name, mark.line + 1, mark.column + 1)
    return Problem(place, f"not YAML: {words}", char.strip())
