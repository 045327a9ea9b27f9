"""A filled ring-out sheet comes back as it was written, from CSV and workbook, and bad cells are told by row."""

import csv
import io
import zipfile
from math import inf

import openpyxl
import pytest
from typer.testing import CliRunner

from installcheck.analysis.study import Study
from installcheck.cli.commands import app
from installcheck.document import load, loads
from installcheck.model.quantities import parse
from installcheck.outputs.machine.tables import as_csv, as_xlsx
from installcheck.papers import paper
from installcheck.papers.read_back import ReadBackError, read_back, reading, with_measured
from installcheck.rules.engine import judge

from .conftest import SMALL

COLUMN = 7


def filled_csv(path, study, values, *, separator=",", encoding="utf-8-sig"):
    rows = list(
        csv.reader(io.StringIO(as_csv(paper("ring-out", judge(study))).decode("utf-8-sig"), newline=""))
    )
    for row in rows[1:]:
        if len(row) > COLUMN:
            row[COLUMN] = values.get((row[0], row[1]), "")
    stream = io.StringIO(newline="")
    csv.writer(stream, delimiter=separator).writerows(rows)
    path.write_bytes(stream.getvalue().encode(encoding))
    return path


@pytest.mark.parametrize(
    ("text", "ohms"),
    [
        ("0.118", 0.118),
        ("0,118", 0.118),
        (".5", 0.5),
        ("4.7k", 4700),
        ("4.7 kohm", 4700),
        ("12 milliohm", 0.012),
        ("3 mΩ", 0.003),
        (">20 M", 20e6),
        ("OL", inf),
        ("Open", inf),
        ("short", 0),
        ("1.5e3", 1500),
    ],
)
def test_what_people_write(text, ohms):
    assert reading(text) == pytest.approx(ohms)


@pytest.mark.parametrize(
    "text", ["=A1", "ok", "-3", "nan", "inf", "1 V", "1,234.5", "12 ft", "1e99", "=cmd|' /C calc'!A0", "<5"]
)
def test_what_is_no_reading(text):
    with pytest.raises(ValueError, match="is not a reading"):
        reading(text)


@pytest.mark.parametrize(("separator", "encoding"), [(",", "utf-8-sig"), (";", "cp1252"), ("\t", "utf-16")])
def test_a_csv_saved_again_by_a_spreadsheet(tmp_path, small, separator, encoding):
    sheet = filled_csv(
        tmp_path / "f.csv", small, {("run", "P2"): "0,115", ("run", "T1 +"): "open"}, separator=separator, encoding=encoding
    )  # fmt: skip
    found = read_back(sheet)
    assert [(f.check, f.of, f.start, f.end, f.ohms) for f in found] == [
        ("run", "P2", "lamp breaker.out", "lamp.+", 0.115),
        ("run", "T1 +", "head probe.+", "head gauge.+", inf),
    ]
    assert [f.row for f in found] == [3, 12]  # after the headings: P1 to P5, S1 to S5, T1 +


def test_a_workbook(tmp_path, small):
    book = openpyxl.load_workbook(
        io.BytesIO(as_xlsx(small.document, [paper(word, judge(small)) for word in ("wires", "ring-out")]))
    )
    sheet = book["ring-out sheet"]
    for row in sheet.iter_rows(min_row=4):
        if row[1].value == "P2":
            row[COLUMN].value, row[8].value = 0.115, "J.S."
    book.save(tmp_path / "f.xlsx")
    [one] = read_back(tmp_path / "f.xlsx")
    assert (one.of, one.ohms, one.by) == ("P2", 0.115, "J.S.")


def test_bad_cells_are_told_by_row(tmp_path, small):
    sheet = filled_csv(tmp_path / "f.csv", small, {("run", "P1"): "fine", ("run", "P2"): "=1+1"})
    with pytest.raises(ReadBackError) as told:
        read_back(sheet)
    assert told.value.problems == (
        "row 2, run of P1: 'fine' is not a reading: write a number in ohm, or 'open'",
        "row 3, run of P2: '=1+1' is not a reading: write a number in ohm, or 'open'",
    )


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"a,b,c\r\n1,2,3\r\n",
        b"\x00\x01\x02",
        b"PK\x03\x04rubbish",
        b"\xff\xfe\x00",
        b'"check,of,from,to,measured [ohm]',
    ],
)
def test_what_is_no_ring_out_sheet(tmp_path, data):
    (tmp_path / "f").write_bytes(data)
    with pytest.raises(ReadBackError):
        read_back(tmp_path / "f")


def test_a_workbook_that_unpacks_to_too_much(tmp_path):
    with zipfile.ZipFile(tmp_path / "f.xlsx", "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", b"0" * 120_000_000)
    with pytest.raises(ReadBackError, match="unpacks to more"):
        read_back(tmp_path / "f.xlsx")


def test_no_such_file(tmp_path):
    with pytest.raises(ReadBackError, match="cannot be opened: No such file"):
        read_back(tmp_path / "none.csv")


def test_a_sheet_of_another_revision(tmp_path, small):
    sheet = filled_csv(tmp_path / "f.csv", small, {("run", "P2"): "0.1"})
    other = loads("installation: {name: other}")
    with pytest.raises(ReadBackError, match="is no terminal of document; is the sheet of another revision"):
        with_measured(other, read_back(sheet))


def test_the_same_check_twice(tmp_path, small):
    sheet = filled_csv(tmp_path / "f.csv", small, {("run", "P2"): "0.1"})
    lines = sheet.read_bytes().splitlines(keepends=True)
    sheet.write_bytes(b"".join([*lines[:3], lines[2], *lines[3:]]))
    with pytest.raises(ReadBackError, match="row 4: the same check as row 3"):
        read_back(sheet)


def test_every_expected_value_written_in_is_sound(tmp_path, demo):
    """A sheet filled with its own figures gives no discrepancy: every row finds its own check again."""
    document = load(demo / "twin.yaml")
    table = paper("ring-out", judge(Study(document)))
    values = {(row[0], row[1]): f"{float(row[4]):.4g}" for row in table.rows if row[4] is not None}
    values |= {(row[0], row[1]): "open" for row in table.rows if row[0] == "insulation"}
    filled = read_back(filled_csv(tmp_path / "f.csv", Study(document), values))
    assert len(filled) > 100
    verdicts = judge(
        Study(with_measured(document, filled, parse("20 degC", "temperature"))), ["measured-agrees"]
    ).verdicts
    assert len(verdicts) == len(filled)
    assert {v.outcome for v in verdicts} == {"meets"}


def test_check_with_a_filled_sheet(tmp_path, small):
    (tmp_path / "small.yaml").write_text(SMALL)
    sheet = filled_csv(tmp_path / "f.csv", small, {("run", "P2"): "5"})
    run = CliRunner().invoke(
        app, ["check", str(tmp_path / "small.yaml"), "--measured", str(sheet), "--at", "68 degF"]
    )
    assert run.exit_code == 1
    # 5 - 0.11856
    assert "a joint on the way that adds 4.88 ohm" in " ".join(run.output.split())
    wrong = CliRunner().invoke(
        app, ["check", str(tmp_path / "small.yaml"), "--measured", str(sheet), "--at", "68"]
    )
    assert wrong.exit_code == 2
    blank = filled_csv(tmp_path / "b.csv", small, {})
    assert (
        CliRunner().invoke(app, ["check", str(tmp_path / "small.yaml"), "--measured", str(blank)]).exit_code
        == 2
    )
