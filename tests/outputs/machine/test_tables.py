"""CSV, workbook and terminal tables: nothing becomes a formula, other libraries read them, equal bytes on two runs."""

import csv
import io

import openpyxl
import pytest
from python_calamine import CalamineWorkbook

from installcheck.analysis.study import Study
from installcheck.document import load, loads
from installcheck.outputs.machine.tables import as_csv, as_xlsx, plain_cell
from installcheck.papers import PAPERS, Table, paper
from installcheck.papers.figures import Figure
from installcheck.rules.engine import judge

HOSTILE = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\n=1",
    "|cmd",
    '=HYPERLINK("http://x","y")',
    "#REF!",
)


@pytest.fixture
def document():
    return loads("installation: {name: '=2+2', revision: '+1', date: 2031-13-45}")


@pytest.fixture
def hostile():
    return Table("wire list", ("id", "length [ft]"), tuple((text, 1.5) for text in HOSTILE), ("=note",))


@pytest.mark.parametrize("text", [t for t in HOSTILE if t != "#REF!"])
def test_text_that_could_be_a_formula_is_marked_as_text(text):
    assert plain_cell(text) == f"'{text}"


def test_numbers_stay_numbers():
    assert [plain_cell(x) for x in (-3.5, 0.00028, 12, None)] == ["-3.5", "0.00028", "12", ""]


def test_no_cell_of_a_csv_is_a_formula(hostile):
    rows = list(csv.reader(io.StringIO(as_csv(hostile).decode("utf-8-sig"), newline="")))
    assert rows[0] == ["id", "length [ft]"]
    assert [row[0][0] for row in rows[1:10]] == ["'"] * 9
    assert rows[11] == ["'=note"]
    assert rows[12][0].startswith("This is an aid")


def test_no_cell_of_a_workbook_is_a_formula(document, hostile):
    book = openpyxl.load_workbook(io.BytesIO(as_xlsx(document, [hostile])))
    cells = [cell for row in book.active.iter_rows() for cell in row if cell.value is not None]
    assert {cell.data_type for cell in cells} == {"s", "n"}
    assert [c.value for c in book.active["A"][3:5]] == ["=1+1", "+1"]
    assert book.active["A1"].value.startswith("=2+2, revision +1")


def test_a_second_library_reads_the_same(document, hostile):
    rows = (
        CalamineWorkbook.from_filelike(io.BytesIO(as_xlsx(document, [hostile])))
        .get_sheet_by_index(0)
        .to_python()
    )
    assert rows[2] == ["id", "length [ft]"]
    assert rows[3] == ["=1+1", 1.5]


def test_characters_no_workbook_holds_are_left_out(document):
    table = Table("wire list", ("id",), (("a\x07b\x00c",),))
    book = openpyxl.load_workbook(io.BytesIO(as_xlsx(document, [table])))
    assert book.active["A4"].value == "abc"


@pytest.mark.parametrize("name", ["retrofit", "twin"])
def test_the_papers_of_a_demo_in_one_workbook(name, demo_folder):
    document = load(demo_folder / f"{name}.yaml")
    ledger = judge(Study(document))
    tables = [paper(word, ledger) for word in PAPERS]
    data = as_xlsx(document, tables)
    book = openpyxl.load_workbook(io.BytesIO(data))
    assert book.sheetnames == [t.name for t in tables]
    other = CalamineWorkbook.from_filelike(io.BytesIO(data))
    assert other.sheet_names == book.sheetnames
    for table in tables:
        read = other.get_sheet_by_name(table.name).to_python()
        assert read[2][: len(table.columns)] == list(table.columns)
        for row, cells in zip(table.rows, read[3:], strict=False):
            assert [c.text if isinstance(c, Figure) else "" if c is None else c for c in row] == cells[
                : len(row)
            ]


@pytest.mark.parametrize("name", ["retrofit", "twin"])
def test_equal_bytes_on_two_runs(name, demo_folder):
    def made():
        document = load(demo_folder / f"{name}.yaml")
        ledger = judge(Study(document))
        tables = [paper(word, ledger) for word in PAPERS]
        return [as_xlsx(document, tables), *map(as_csv, tables)]

    assert made() == made()


@pytest.mark.parametrize("text", ["\uff1d1+1", " =1+1", "\u3000\uff0b1", "\u200b=1", "\x0b@x", "\ufe63"])
def test_signs_of_full_width_and_after_blanks_are_marked_too(text):
    assert plain_cell(text) == f"'{text}"


@pytest.mark.parametrize("text", [" W1", "a=1", "\u3000", ""])
def test_other_text_is_left_alone(text):
    assert plain_cell(text) == text
