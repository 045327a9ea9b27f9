"""Lines cut all at once are what they are when each is cut by itself, whatever stands between them."""

from functools import cached_property
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.logs import rows as logs_rows
from installcheck.logs.flight_log import parse_log
from installcheck.logs.rows import Rows

DEMO = Path(__file__).parents[2] / "demo_aircraft" / "climb_survey.csv"


class OneByOne(Rows):
    """Rows of which no line is taken for a plain one."""

    @cached_property
    def _usual(self):
        widths = [len(self._split(line)) for line in self._data.decode().split("\n") if line.strip()]
        return max(widths, key=widths.count)

    def _put_plain(self, block):
        return np.zeros(len(block), dtype=bool)


def found(kind, text, names, delimiter):
    data = text.encode()
    rows = kind(data, 0, 7, names, delimiter, [i for i, name in enumerate(names) if name != "unread"])
    cells = {i: list(column) for i, column in rows.columns.items()}
    return cells, rows.lines.tolist(), rows.restarts, rows.long, rows.broken


PLAIN = ["", " ", "1", " 401.2", "12:00:01", "2024-05-12T12:00:01", "-", "CHT1", "Time", "7" * 64, "7" * 65]
STRANGE = ["é", "ü" * 5, "\xa0", "\x85", "\x1c", "\x0b", '"', '"1,2"', '""']
CELLS = st.sampled_from(PLAIN + STRANGE)


@st.composite
def logs(draw):
    names = draw(
        st.sampled_from(
            [["CHT1"], ["Time", "CHT1"], ["", "CHT1", "unread"], ["Time", "unread", "CHT1", "T2"]]
        )
    )
    delimiter = draw(st.sampled_from([",", "\t", "|", None]))
    join = (delimiter or " ").join
    plain = st.lists(CELLS, min_size=len(names), max_size=len(names)).map(join)
    odd = st.one_of(
        st.sampled_from(
            [join(names), join(f" {name} " for name in names), "", " ", "\xa0", join([""] * len(names))]
        ),
        st.lists(CELLS, max_size=len(names) + 2).map(join),
        plain.map(lambda line: line + join(["", "", ""])),
    )
    runs = st.one_of(st.lists(plain, min_size=3, max_size=12), st.lists(odd, max_size=2))
    lines = [line for run in draw(st.lists(runs, max_size=6)) for line in run]
    return "\n".join(lines) + draw(st.sampled_from(["", "\n", "\n" + "x" * 70])), names, delimiter


@pytest.mark.parametrize("together", [1, 50, 1 << 14])
@given(logs())
def test_plain_lines_are_cut_as_by_themselves(together, log):
    first, logs_rows._FIRST = logs_rows._FIRST, together
    try:
        assert found(Rows, *log) == found(OneByOne, *log)
    finally:
        logs_rows._FIRST = first


def test_plain_lines_are_looked_at_together(monkeypatch):
    """Of 500 plain lines only the last 64 bytes are cut by themselves, and a line that is not plain among them."""
    lines = [f"{i},{i % 7}.5,{'ab' * (i % 9)}" for i in range(500)]
    lines[100] = "100,broken"
    lines[200] = '200,"1.5",'
    alone = []
    put = Rows._put_others

    def watched(self, lines):
        kept = list(lines)
        alone.extend(number for number, _ in kept)
        return put(self, kept)

    monkeypatch.setattr(Rows, "_put_others", watched)
    cells, numbers, restarts, long, broken = found(Rows, "\n".join(lines), ["T", "CHT1", "X"], ",")
    assert alone[:2] == [107, 207]
    assert len(alone) <= 2 + 64 // 5
    assert cells[0] == [str(i) for i in range(500)]
    assert cells[1] == ["" if i == 100 else "1.5" if i == 200 else f"{i % 7}.5" for i in range(500)]
    assert cells[2] == ["" if i in (100, 200) else "ab" * (i % 9) for i in range(500)]
    assert (numbers, restarts, long, broken) == (list(range(7, 507)), [], [], [107])


def test_the_demo_survey_is_read_as_line_by_line(monkeypatch):
    raw = DEMO.read_bytes()
    log = parse_log(raw, "x")
    monkeypatch.setattr(Rows, "_put_plain", OneByOne._put_plain)
    again = parse_log(raw, "x")
    assert log.cht.keys() == again.cht.keys()
    for number, values in log.cht.items():
        np.testing.assert_array_equal(values, again.cht[number])
    np.testing.assert_array_equal(log.time, again.time)
    assert (log.notes, log.columns, log.lines.tolist()) == (again.notes, again.columns, again.lines.tolist())
