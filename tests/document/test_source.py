"""Broken, hostile and unusual YAML: read as meant, or refused at its line and column."""

import re
import time

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from installcheck.document.parsing import read_file, read_source
from installcheck.document.source import DocumentError, Problem, Source

SECONDS = 2.0
"""Longest time any small text may take to be read or refused, far above what the slowest takes."""


def read(text: str | bytes) -> Source:
    return read_source(text if isinstance(text, bytes) else text.encode(), "f")


def refused(text: str | bytes) -> list[str]:
    return [str(p) for p in problems_in_time(text)]


def problems_in_time(text: str | bytes) -> list[Problem]:
    started = time.process_time()
    try:
        found = read(text).problems
    except DocumentError as bad:
        found = list(bad.problems)
    assert time.process_time() - started < SECONDS
    return found


def test_values_stay_text():
    assert read("{a: N, b: no, c: 12:30, d: 010, e: 1e3, f: 2026-05-01, g: '5', h: .inf}").plain == {
        "a": "N",
        "b": "no",
        "c": "12:30",
        "d": "010",
        "e": "1e3",
        "f": "2026-05-01",
        "g": "5",
        "h": ".inf",
    }


def test_nothing_and_unknown_are_none_and_unknown_is_remembered():
    source = read("a:\nb: ~\nc: null\nd: unknown\ne: [1 V, unknown]\nf: ''\n")
    assert source.plain == {"a": None, "b": None, "c": None, "d": None, "e": ["1 V", None], "f": ""}
    assert source.declared_unknown(("d",))
    assert source.declared_unknown(("e", 1))
    assert not any(
        source.declared_unknown(p) for p in [(), ("a",), ("b",), ("e",), ("e", 0), ("e", 2), ("x",)]
    )


def test_places_of_values_keys_and_parents():
    source = read("a:\n  b: 1 V\n  c: [x, {d: y}]\n")
    where = {
        ("a", "b"): (2, 6),
        ("a",): (1, 1),
        ("a", "c"): (3, 3),
        ("a", "c", 0): (3, 7),
        ("a", "c", 1): (3, 10),
        ("a", "c", 1, "d"): (3, 14),
        ("a", "missing"): (1, 1),
        ("a", "b", "deeper"): (2, 3),
        ("a", "c", 7): (3, 3),
        ("missing",): (1, 1),
    }
    assert {p: tuple(source.place(p))[1:] for p in where} == where
    assert tuple(source.place(("a", "b"), of_key=True)) == ("f", 2, 3)


def test_numbers_in_a_path_find_keys():
    source = read("temperatures: {3: 400 degF}")
    assert source.holds(("temperatures", 3))
    assert source.place(("temperatures", 3)).column == 19


def test_anchors_share_a_table():
    source = read("a: &sizes {22: 1 V}\nb: *sizes\n")
    assert source.plain == {"a": {"22": "1 V"}, "b": {"22": "1 V"}}
    assert source.plain["a"] is not source.plain["b"]
    assert tuple(source.place(("b",)))[1:] == (2, 1)
    assert tuple(source.place(("b", "22")))[1:] == (1, 16)


@pytest.mark.parametrize("text", ["", "# nothing\n", "---\n", "\n\n", "\ufeff", "--- ~\n"])
def test_nothing_in_it(text):
    assert read(text).plain is None


@pytest.mark.parametrize("newline", ["\r\n", "\n"])
def test_line_ends(newline):
    source = read(newline.join(["a: 1", "b: >-", "  two", "  words", "c: 3"]))
    assert source.plain == {"a": "1", "b": "two words", "c": "3"}
    assert source.place(("c",)).line == 5


def test_byte_order_mark_is_no_column():
    source = read(b"\xef\xbb\xbfa: 1")
    assert source.plain == {"a": "1"}
    assert tuple(source.place(("a",))) == ("f", 1, 4)


def test_characters_not_bytes_are_counted():
    assert tuple(read("é: {µ: °F}").place(("é", "µ")))[1:] == (1, 8)


BOMB = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]\n" for i in range(1, 12)
)
ALIASED = "a: &a [x]\n" + "".join(f"b{i}: &b{i} [*{'a' if i == 0 else f'b{i - 1}'}]\n" for i in range(3000))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (BOMB, "aliases repeat this and others more than 100,000 times: too much to read"),
        (ALIASED, "nested deeper than 40 levels by its aliases"),
        ("a: &a [*a]", "f:1:4: an alias in this points back to this itself; write the values out"),
        ("a: &a {b: {c: *a}}", "f:1:4: an alias in this points back to this itself; write the values out"),
        ("&a {? *a : b}", "f:1:1: an alias in this points back to this itself; write the values out"),
        ("[" * 100_000, "nested deeper than 40 levels"),
        ("[a, " * 100_000, "f:1:161: nested deeper than 40 levels"),
        ("{a: " * 100_000, "f:1:161: nested deeper than 40 levels"),
        ("- " * 100_000, "f:1:81: nested deeper than 40 levels"),
        ("? " * 10_000, "f:1:81: nested deeper than 40 levels"),
        ("".join(" " * i + "a:\n" for i in range(900)), "f:41:41: nested deeper than 40 levels"),
        ("[" * 42 + "]" * 42, "nested deeper than 40 levels"),
    ],
)
def test_bombs_are_refused_at_once(text, said):
    [problem] = refused(text)
    assert problem.endswith(said)


def test_forty_levels_are_read():
    assert read("[" * 40 + "]" * 40).plain is not None


def test_many_brackets_in_texts_are_no_nesting():
    assert read("a: '" + "[" * 5000 + "'\nb: [" + ", ".join(["[[x], {y: z}]"] * 2000) + "]\n").problems == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "a: !!python/object/apply:os.system [x]",
            "f:1:4: the tag 'tag:yaml.org,2002:python/object/apply:os.system'",
        ),
        ("a: !mine x", "f:1:4: the tag '!mine'"),
        ("a: !!binary aGk=", "f:1:4: the tag 'tag:yaml.org,2002:binary'"),
        ("a: !!set {b, c}", "f:1:4: the tag 'tag:yaml.org,2002:set'"),
        ("!mine a: b", "f:1:1: the tag '!mine'"),
    ],
)
def test_tags_make_nothing(text, said):
    [problem] = refused(text)
    assert problem == f"{said} is not read; write plain values"


def test_tags_of_plain_kinds_are_harmless():
    assert read("a: !!str 5\nb: !!int '7'\nc: !!map {d: e}\n").plain == {"a": "5", "b": "7", "c": {"d": "e"}}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("b: {<<: 5}", "f:1:9: a merge key ('<<') takes a mapping, like '<<: *name' of one marked '&name'"),
        ("a: 1\nb: 2\na: 3", "f:3:1: 'a' is here twice; the first is on line 1"),
        ("a: {b: 1, b: 2}", "f:1:11: 'b' is here twice; the first is on line 1"),
        ("? [a]\n: b", "f:1:3: a list or mapping cannot name anything; write a word and ': '"),
        ("{{a: b}: c}", "f:1:2: a list or mapping cannot name anything; write a word and ': '"),
        ("a: " + "x" * 100_001, "f:1:4: a text of 100,001 characters is too long to be meant"),
        ("x" * 100_001 + ": a", "f:1:100002: not YAML: a ': ' is not expected here"),
    ],
)
def test_what_yaml_allows_and_a_drawing_does_not(text, said):
    [problem] = refused(text)
    assert problem.startswith(said)


def test_merge_keys_add_what_is_not_written():
    source = read("a: &a {x: 1, y: unknown}\nb: {<<: *a, x: 2}\nc: {<<: [*a, {x: 3, z: 4}]}\n")
    assert source.problems == []
    assert source.plain["b"] == {"x": "2", "y": None}
    assert source.plain["c"] == {"x": "1", "y": None, "z": "4"}
    assert source.declared_unknown(("b", "y"))
    assert source.declared_unknown(("c", "y"))
    assert tuple(source.place(("b", "x"))) == ("f", 2, 16)
    assert tuple(source.place(("c", "x"))) == ("f", 1, 11)
    assert tuple(source.place(("c", "z"))) == ("f", 3, 24)


def test_merging_a_large_table_many_times_is_refused():
    text = "a: &a {" + ", ".join(f"k{i}: v" for i in range(2000)) + "}\n"
    text += "".join(f"b{i}: {{<<: *a}}\n" for i in range(2000))
    [problem] = refused(text)
    assert problem.endswith("merge keys repeat this and others more than 1,000,000 times: too much to read")


@pytest.mark.parametrize(
    ("text", "offset", "wanted"),
    [
        ("k: one two", 4, (1, 8)),
        ("k: 'one two'", 4, (1, 9)),
        ('k: "one two"', 4, (1, 9)),
        ("k: one\n  two", 4, (2, 3)),
        ("k: >-\n  one\n  two", 4, (3, 3)),
        ("{k: 'it''s two'}", 5, (1, 12)),
    ],
)
def test_places_inside_a_text(text, offset, wanted):
    assert tuple(read(text).inside(("k",), offset))[1:] == wanted


def test_a_quoted_merge_key_is_a_word():
    assert read("'<<': a").plain == {"<<": "a"}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a: 1\n---\nb: 2\n", "2:1: not YAML: a second document starts here; a file holds one"),
        ("a: 1\n...\nb: 2\n", "3:1: not YAML: a second document starts here; a file holds one"),
        ("a:\n\tb: 1\n", "2:1: not YAML: a tab cannot indent a line; use spaces"),
        ("a: b\n\tc: d\n", "2:1: not YAML: a tab cannot indent a line; use spaces"),
        ("a: >\n\tx\n", "2:1: not YAML: a tab cannot indent a line; use spaces"),
        (
            "a: b: c\n",
            "1:5: not YAML: a ': ' is not expected here: put a text that holds one in quotes, and check the"
            " indentation of this line",
        ),
        (
            "a:\n  b: 1\n c: 2\n",
            "3:2: not YAML: this line is indented by 1, the lines it belongs to (from line 1) by 0: indent it alike",
        ),
        (
            "a: [1, 2\nb: 3\n",
            "2:2: not YAML: the '[' opened on line 1 is not closed before this, or a comma is missing",
        ),
        (
            "a: {x: 1\nb: 3\n",
            "2:2: not YAML: the '{' opened on line 1 is not closed before this, or a comma is missing",
        ),
        ("a: [\n", "1:5: not YAML: a value is missing before this"),
        ("a: |\n x\ny\n", "3:1: not YAML: this line lacks its ': ': write 'word: value'"),
        ("a: 'x\nb: 3\n", "1:4: not YAML: the quote opened here is not closed"),
        ('a: "x\nb: 3\n', "1:4: not YAML: the quote opened here is not closed"),
        ("a: *x\n", "1:4: not YAML: an alias ('*') names an anchor ('&') that does not stand above it"),
        ("a: &x 1\nb: &x 2\n", "2:4: not YAML: this anchor ('&') is already used on line 1"),
        ('a: "\\q"\n', "1:5: not YAML: in double quotes a '\\' starts an escape; use single quotes"),
        ('a: "\\ud800"\n', "1:7: not YAML: this escape stands for no character"),
        ("a: - b\n", "1:4: not YAML: a list of '- ' lines begins on a line of its own"),
        ("- a\nb: 1\n", "2:1: not YAML: every line of this list starts with '- ' in the same column"),
        ("a: @x\n", "1:4: not YAML: '@' cannot start a value: put the text in quotes"),
        ("a: %x\n", "1:4: not YAML: '%' cannot start a value: put the text in quotes"),
        ("a: !x!y b\n", "1:4: not YAML: a value cannot start with '!': put the text in quotes"),
        (
            "%YAML 3.0\n---\na: 1\n",
            "1:1: not YAML: the file asks for another version of YAML; take the '%YAML' line out",
        ),
    ],
)
def test_not_yaml_in_words(text, said):
    assert refused(text) == [f"f:{said}"]


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"a: b\nc: \xe9\n", "2:4: the byte 0xe9 is not UTF-8 text; save it as UTF-8"),
        ("a: é\nbé: x".encode() + b"\x80", "2:6: the byte 0x80 is not UTF-8 text; save it as UTF-8"),
        (b"\xef\xbb\xbfa: \x80", "1:4: the byte 0x80 is not UTF-8 text; save it as UTF-8"),
        (b"a\rb\r\nc\n\xff", "4:1: the byte 0xff is not UTF-8 text; save it as UTF-8"),
        (b"a: \xed\xa0\x80", "1:4: the byte 0xed is not UTF-8 text; save it as UTF-8"),
        ("a: b".encode("utf-16"), "1:1: the file is UTF-16; save it as UTF-8"),
        (b"a: b\x00", "1:5: the control character U+0000 is not text; take it out"),
        (b"a: b\n\x1b[31m", "2:1: the control character U+001B is not text; take it out"),
        (b"a: \x7f", "1:4: the control character U+007F is not text; take it out"),
    ],
)
def test_bad_bytes(raw, said):
    assert refused(raw) == [f"f:{said}"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('a: "x\\a"', "1:4: the text holds the hidden character U+0007 (control character); take it out"),
        ('a: "x\\0"', "1:4: the text holds the hidden character U+0000 (control character); take it out"),
        (
            "a: x\u202ey",
            "1:4: the text holds the hidden character U+202E (right-to-left override); take it out",
        ),
        ("a: x\u200fy", "1:4: the text holds the hidden character U+200F (right-to-left mark); take it out"),
        ("a: x\u200by", "1:4: the text holds the hidden character U+200B (zero width space); take it out"),
        (
            "a: x\ufeffy",
            "1:4: the text holds the hidden character U+FEFF (zero width no-break space); take it out",
        ),
        (
            "a\u202e: b",
            "1:1: the text holds the hidden character U+202E (right-to-left override); take it out",
        ),
        ('a: "\\u2028"', "1:4: the text holds the hidden character U+2028 (line separator); take it out"),
        ('a: "x\\r"', "1:4: the text holds the hidden character U+000D (control character); take it out"),
    ],
)
def test_what_hides_is_refused(text, said):
    assert refused(text) == [f"f:{said}"]


def test_what_shows_is_read():
    text = "a: 'ñ é 日本 עברית ½ °F Ω \u00a0 🛩'\nb: |\n  two\n  lines\n"
    assert read(text).problems == []


def test_large_files_are_not_opened(tmp_path, monkeypatch):
    monkeypatch.setattr("installcheck.document.yaml_text.MAX_BYTES", 1000)
    monkeypatch.setattr("installcheck.document.parsing.MAX_BYTES", 1000)
    file = tmp_path / "big.yaml"
    file.write_bytes(b"a: b\n" * 300)
    with pytest.raises(DocumentError, match="larger than the 0 MiB that are read"):
        read_file(file)


@pytest.mark.parametrize("name", ["missing.yaml", ".", "a\0b"])
def test_files_that_cannot_be_opened(tmp_path, name):
    with pytest.raises(DocumentError, match="cannot be opened"):
        read_file(tmp_path / name, "shown.yaml")


NASTY = st.sampled_from(
    [
        "\t",
        "\r\n",
        "\x85",
        "\u2028",
        "\u202e",
        "\0",
        "&a ",
        "*a",
        "- ",
        "? ",
        ": ",
        "[",
        "]",
        "{",
        "}",
        "<<: ",
        "!!",
        "---\n",
        "'",
        '"',
        "\\",
        "#",
        "|\n",
        ">\n",
        "unknown",
        "\n",
        "  ",
        "x",
        "é",
    ]
)


def in_time(raw: bytes) -> None:
    lines = len(re.split("\r\n|[\n\r\x85\u2028\u2029]", raw.decode(errors="replace")))
    for problem in problems_in_time(raw):
        assert 1 <= problem.place.line <= lines
        assert 1 <= problem.place.column <= len(raw) + 1


@given(st.binary(max_size=400))
@example(b"\xff\xfe")
@example(b"\xef\xbb")
def test_any_bytes_are_read_or_refused(raw):
    in_time(raw)


@settings(max_examples=300)
@given(st.lists(NASTY | st.text(max_size=5), max_size=60).map("".join))
def test_any_scraps_of_yaml_are_read_or_refused(text):
    in_time(text.encode(errors="surrogatepass"))
