"""Wire lists as people have them: CSV and workbooks as sections of a document."""

import io
from pathlib import Path

import openpyxl
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from installcheck import check, load
from installcheck.batch.watching import _files_of
from installcheck.document import DocumentError
from installcheck.document.revising import revised
from installcheck.document.rewriting import CannotWriteError, rewritten
from installcheck.model.edits import Drop, Edit, Put
from installcheck.outputs.machine.expanded import as_expanded
from installcheck.outputs.machine.tables import as_csv, as_xlsx
from installcheck.outputs.machine.verdicts_json import place_fields
from installcheck.papers import PAPERS, paper

DEMO = Path(__file__).parents[2] / "demo_aircraft"
FOOT = 0.3048
HEAD = """installation: {name: test}
zones: {engine: {vibrates: yes}, cabin: {occupied: yes}}
barriers: {firewall: {between: [engine, cabin], kind: firewall}}
senders: {oil bulb: {terminals: [A, B], zone: engine}}
probes: {probe: {terminals: ['+', '-'], zone: engine}}
indicators: {oil gauge: {terminals: [A, B], zone: cabin}, head gauge: {terminals: ['+', '-'], zone: cabin}}
bundles: {harness: {}}
routes: {to panel: 'engine 3 ft, firewall by fireproof grommet, cabin 4 ft'}
usual: {wire_runs: {part: AS22759/16, ends: ring}}
"""


def document(folder, rest="wire_runs: {table: w.csv}", **files):
    for name, held in files.items():
        path = folder / name.replace("_", ".", 1)
        path.write_bytes(held if isinstance(held, bytes) else held.encode())
    (folder / "m.yaml").write_text(HEAD + rest + "\n")
    return load(folder / "m.yaml")


def told(folder, *args, **files):
    with pytest.raises(DocumentError) as bad:
        document(folder, *args, **files)
    return [str(one).removeprefix(f"{folder}/") for one in bad.value.problems]


def workbook(**sheets):
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    return book


def saved(book):
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def test_headings_in_any_order_with_units_and_commas_as_decimals(tmp_path):
    text = "\ufeffWire No.;AWG;To;From;Length [ft];Harness\r\nO1;22;oil gauge.A;oil bulb.A;3,5;harness\r\n\r\nO2;#20;oil gauge.B;oil bulb.B;4 in;-\r\nA remark that stands below.\r\n"
    read = document(tmp_path, w_csv=text)
    one, two = (read.installation.wire_runs[i] for i in ("O1", "O2"))
    assert (one.from_, one.to, one.gauge, one.bundle) == ("oil bulb.A", "oil gauge.A", "22", "harness")
    assert float(one.length) == pytest.approx(3.5 * FOOT)
    assert float(two.length) == pytest.approx(4 / 12 * FOOT)  # a unit in the cell wins over the heading's
    assert (two.gauge, two.bundle) == ("20", None)
    assert one.terminations[0].kind == "ring"  # usual
    assert str(read.place(("wire_runs", "O2", "gauge"))) == f"{tmp_path}/w.csv row 4 AWG"


def test_named_routes_and_routes_in_a_cell(tmp_path):
    text = 'id,from,to,gauge,route\nO1,oil bulb.A,oil gauge.A,22,to panel\nO2,oil bulb.B,oil gauge.B,22,"engine 1 ft, cabin 2 ft"\n'
    runs = document(tmp_path, w_csv=text).installation.wire_runs
    assert [s.zone or s.barrier for s in runs["O1"].route] == ["engine", "firewall", "cabin"]
    assert [float(s.length) for s in runs["O2"].route] == pytest.approx([FOOT, 2 * FOOT])


def test_a_cable_has_a_row_for_each_conductor(tmp_path):
    text = "id\tconductor\tfrom\tfrom pin\tto\tgauge\ttype\n"
    text += "T1\t+\tprobe\t+\thead gauge.+\t22\tthermocouple lead K\nT1\t'-\tprobe\t-\thead gauge.-\t22\tthermocouple lead K\n"
    read = document(tmp_path, "wire_runs: {table: w.tsv}", w_tsv=text)
    legs = read.installation.wire_runs["T1"].conductors
    assert {n: (c.from_, c.to) for n, c in legs.items()} == {
        "+": ("probe.+", "head gauge.+"),
        "-": ("probe.-", "head gauge.-"),
    }
    place = read.place(("wire_runs", "T1", "conductors", "-", "to"))
    assert (place.line, place.column) == (3, 5)


def test_other_sections_too(tmp_path):
    read = document(tmp_path, "grounds: {table: g.csv}", g_csv="ground,kind,zone\nframe,structure,cabin\n")
    assert read.installation.grounds["frame"].zone == "cabin"
    (tmp_path / "s.csv").write_text('Sender,terminals,zone,Remarks\ncold bulb,"A, B",engine,\'=not a sum\n')
    (tmp_path / "n.yaml").write_text(
        "installation: {name: t}\nzones: {engine: {}}\nsenders: {table: s.csv}\n"
    )
    bulb = load(tmp_path / "n.yaml").installation.senders["cold bulb"]
    assert list(bulb.spec.terminals) == ["A", "B"]
    assert bulb.notes == ["=not a sum"]


def test_probes_and_gauges_by_the_headings_of_the_hangar(tmp_path):
    probes = (
        "Cyl.,Probe,Indication,Probe type,Distance from port [in]\n2,EGT 2,EGT,exhaust clamp probe K,3.5\n"
    )
    gauges = "Instrument,Parameter,Allowed error (degF),Gauge Type\nEGT gauge,EGT,25,electronic exhaust temperature indicator K\n"
    extra = (
        HEAD.replace("probes: {probe: {terminals: ['+', '-'], zone: engine}}", "probes: {table: p.csv}")
        .replace(
            "indicators: {oil gauge: {terminals: [A, B], zone: cabin}, head gauge: {terminals: ['+', '-'], zone: cabin}}",
            "indicators: {table: g.csv}",
        )
        .replace("usual: {", "usual: {probes: {zone: engine}, indicators: {zone: cabin}, ")
    )
    (tmp_path / "p.csv").write_text(probes)
    (tmp_path / "g.csv").write_text(gauges)
    (tmp_path / "m.yaml").write_text(extra)
    model = load(tmp_path / "m.yaml").installation
    probe, gauge = model.probes["EGT 2"], model.indicators["EGT gauge"]
    assert (probe.cylinder, probe.measures) == (2, "exhaust temperature")
    assert float(probe.distance) == pytest.approx(3.5 * FOOT / 12)
    assert gauge.spec.measures == "exhaust temperature"
    assert gauge.spec.budget.text == "25 degF"


def test_every_problem_is_told_at_its_cell(tmp_path):
    text = "id,from,to,gauge,lenght,Gauge\nO1,oil bulb.A,oil gage.A,22,3,1\nO1,oil bulb.B,oil gauge.B,22,x,\nO3,oil bulb.B,,22,,\n,,,4,\nO5,oil bulb.B,oil gauge.B,=A1,,\nO6,oil bulb.B,oil gauge.B,99,,,7\n"
    found = "\n".join(told(tmp_path, w_csv=text))
    for wanted in (
        "w.csv row 1 lenght: 'lenght' is not a heading of wire runs; did you mean 'length'?",
        "w.csv row 1 Gauge: 'Gauge' says the same as 'gauge'",
        "w.csv row 2 to: 'oil gage' is not a thing in this document; did you mean 'oil gauge'?",
        "w.csv row 3 id: 'O1' is in row 2 already",
        "w.csv row 4 id: 'O3' has no 'to'",
        "w.csv row 5 gauge: this row has no id",
        "w.csv row 6 gauge: '=A1' is a formula",
        "w.csv row 7 gauge: '99 AWG' is not a gauge in use",
        "w.csv row 7: '7' stands under no heading",
    ):
        assert wanted in found


def test_rows_beside_written_runs_and_what_is_there_twice(tmp_path):
    text = "id,from,to,gauge\nO1,oil bulb.A,oil gauge.A,22\n"
    rest = "wire_runs: {table: [w.csv], O2: 'oil bulb.B to oil gauge.B, 20 AWG'}"
    assert list(document(tmp_path, rest, w_csv=text).installation.wire_runs) == ["O2", "O1"]
    again = told(tmp_path, rest.replace("O2:", "O1:"), w_csv=text)
    assert again == [f"w.csv row 2 id: 'O1' is already under wire_runs in {tmp_path}/m.yaml, line 10"]


@pytest.mark.parametrize(
    ("named", "held", "wanted"),
    [
        ("wirs.csv", b"", "there is no file 'wirs.csv' in the folder of the document; there are w.csv"),
        ("../w.csv", b"", "outside the folder"),
        ("w.csv", b"id,from,to\n\xff,a,b\n", "the byte 0xff is not UTF-8 text; save it as UTF-8"),
        ("w.csv", b"", "there is no row of headings; a table of wire runs needs id, from, to"),
        ("w.csv", b"id,from,to\n", "there is no row below the headings"),
        ("w.csv", b'id,from,to\n"a,b,c\n', "a quotation mark may be left open"),
        ("w.csv", b"PK\x03\x04", "this is a workbook, not a text"),
        ("w.csv", b"id,from\nO1,oil bulb.A\n", "there is no heading for to; there are id, from"),
        ("[w.csv, w.csv]", b"id,from,to\nO1,oil bulb.A,oil gauge.A\n", "'w.csv' is already read"),
        ("{file: w.csv, sheet: Engine}", b"id,from,to\n", "a text has no sheets"),
        ("{file: w.csv, shet: Engine}", b"id,from,to\n", "did you mean 'sheet'?"),
        ("w.csv", b'id,from,to,length [ft]\nO1,oil bulb.A,oil gauge.A,"1,250"\n', "a thousand or a fraction"),
        ("w.csv", b"id,from,to,length\nO1,oil bulb.A,oil gauge.A,3\n", "row 2 length: '3' has no unit"),
    ],
)
def test_what_is_no_table_is_refused(tmp_path, named, held, wanted):
    assert wanted in "\n".join(told(tmp_path, f"wire_runs: {{table: {named}}}", w_csv=held))


def test_a_folder_and_an_old_or_broken_workbook_are_refused(tmp_path):
    (tmp_path / "d.csv").mkdir()
    assert "there is no file" in told(tmp_path, "wire_runs: {table: d.csv}")[0]
    ole = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
    assert "old or a locked workbook" in told(tmp_path, "wire_runs: {table: o.xlsx}", o_xlsx=ole)[0]
    whole = saved(workbook(Engine=[["id", "from", "to"]]))
    for broken in (b"nothing", whole[: len(whole) // 2], b"PK\x03\x04" + b"\0" * 100):
        assert "workbook" in told(tmp_path, "wire_runs: {table: b.xlsx}", b_xlsx=broken)[0]


ROW = ["O1", "oil bulb.A", "oil gauge.A", 22.0, 3.5]
TOP = ["id", "from", "to", "gauge", "length [ft]"]


def test_a_workbook_has_cells_and_the_sheet_that_fits_is_found(tmp_path):
    book = workbook(Cover=[["Wire list of the engine"]], Engine=[["drawn by hand"], [], TOP, ROW])
    read = document(tmp_path, "wire_runs: {table: w.xlsx}", w_xlsx=saved(book))
    run = read.installation.wire_runs["O1"]
    assert (run.gauge, float(run.length)) == ("22", pytest.approx(3.5 * FOOT))
    place = read.place(("wire_runs", "O1", "gauge"))
    assert str(place) == f"{tmp_path}/w.xlsx sheet 'Engine' cell D4"
    assert place_fields(place) == {
        "file": f"{tmp_path}/w.xlsx",
        "line": 4,
        "column": 4,
        "cell": "sheet 'Engine' cell D4",
    }


def test_two_sheets_that_fit_are_named_and_a_hidden_one_is_not_read(tmp_path):
    book = workbook(Engine=[TOP, ROW], Cabin=[TOP, ["O2", *ROW[1:]]])
    assert (
        "several sheets hold wire runs: Engine, Cabin"
        in told(tmp_path, "wire_runs: {table: w.xlsx}", w_xlsx=saved(book))[0]
    )
    both = "wire_runs: {table: [{file: w.xlsx, sheet: Engine}, {file: w.xlsx, sheet: cabin}]}"
    assert list(document(tmp_path, both, w_xlsx=saved(book)).installation.wire_runs) == ["O1", "O2"]
    book["Cabin"].sheet_state = "hidden"
    assert list(
        document(tmp_path, "wire_runs: {table: w.xlsx}", w_xlsx=saved(book)).installation.wire_runs
    ) == ["O1"]


def test_dates_errors_formulas_and_merged_cells_are_told(tmp_path):
    import datetime

    book = workbook(Engine=[[*TOP, "slack"], ROW, ["O2", *ROW[1:]], ["O3", *ROW[1:]], ["O4", *ROW[1:]]])
    sheet = book["Engine"]
    sheet["F2"] = datetime.date(2026, 1, 8)  # what a spreadsheet makes of 1/8
    sheet["F3"] = "#REF!"
    sheet["F3"].data_type = "e"
    sheet["E4"] = "=1+2"
    sheet.merge_cells("D4:D5")
    found = "\n".join(told(tmp_path, "wire_runs: {table: w.xlsx}", w_xlsx=saved(book)))
    for wanted in (
        "cell F2: the spreadsheet has made a date of this",
        "cell F3: the spreadsheet shows an error here: #REF!",
        "cell E4: the formula has no value saved",
        "cell D4: the cells D4:D5 are merged",
    ):
        assert wanted in found


def test_a_table_is_watched_and_counts_in_the_digest(tmp_path):
    text = "id,from,to,gauge\nO1,oil bulb.A,oil gauge.A,22\n"
    one = document(tmp_path, w_csv=text)
    assert tmp_path / "w.csv" in _files_of(tmp_path / "m.yaml", one)
    assert document(tmp_path, w_csv=text.replace("22", "20")).digest != one.digest


def test_no_edit_changes_a_table_and_the_cell_is_told(tmp_path):
    text = "id,from,to,gauge\nO1,oil bulb.A,oil gauge.A,22\n"
    read = document(tmp_path, w_csv=text)
    gauge = Edit((Put(("wire_runs", "O1", "gauge"), "18 AWG"),), "18 AWG in O1")
    with pytest.raises(
        CannotWriteError, match=r"w.csv row 2 gauge: a table is changed by hand: write '18 AWG'"
    ):
        rewritten(read, gauge)
    slack = Edit((Put(("wire_runs", "O1", "slack"), "3 in"),), "slack")
    with pytest.raises(CannotWriteError, match="write '3 in' under a heading 'slack'"):
        rewritten(read, slack)
    with pytest.raises(CannotWriteError, match="take the row out"):
        rewritten(read, Edit((Drop(("wire_runs", "O1")),), "no O1"))
    done = revised(read, {1: [gauge]}, [f"{tmp_path}/w.csv"])
    assert not done.texts
    assert "row 2 gauge" in done.left_out[1]
    new = Edit((Put(("wire_runs", "O2"), "oil bulb.B to oil gauge.B, 22 AWG"),), "O2")
    assert list(rewritten(read, new)) == [f"{tmp_path}/m.yaml"]
    assert (tmp_path / "w.csv").read_text() == text


@pytest.mark.parametrize("name", ["retrofit", "before", "twin", "poor_ground"])
@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_what_lists_writes_is_read_back_as_the_same_runs(tmp_path, name, form):
    first = load(DEMO / f"{name}.yaml")
    ledger = check(first)
    made = paper("wires", ledger)
    held = first.installation.wire_runs
    whole = yaml.load(as_expanded(first), yaml.BaseLoader)
    whole["wire_runs"] = {"table": f"w.{form}"}
    (tmp_path / "m.yaml").write_text(yaml.safe_dump(whole, sort_keys=False, width=10_000).replace("'~'", "~"))
    papers = [made, *(paper(word, ledger) for word in PAPERS if word not in ("wires", "fluid"))]
    (tmp_path / f"w.{form}").write_bytes(as_csv(made) if form == "csv" else as_xlsx(first, papers))
    back = load(tmp_path / "m.yaml").installation.wire_runs
    assert list(back) == list(held)
    for ident, run in held.items():
        other = back[ident]
        for word in (
            "from_",
            "to",
            "gauge",
            "part",
            "bundle",
            "conductors",
            "shield",
            "terminations",
            "colour",
        ):
            assert getattr(other, word) == getattr(run, word), (ident, word)
        assert [s.model_dump(exclude={"length"}) for s in other.route or ()] == [
            s.model_dump(exclude={"length"}) for s in run.route or ()
        ]
        for old, new in zip(run.route or (), other.route or (), strict=True):
            assert (old.length is None) == (new.length is None)
            assert old.length is None or float(new.length) == pytest.approx(float(old.length), abs=0.0032)


WORDS = {
    "id": ["id", "Wire No.", "wire"],
    "from": ["from", "FROM", "end 1"],
    "to": ["to", "To", "end 2"],
    "gauge": ["AWG", "gauge", "wire size"],
    "length": ["length [ft]", "Length (ft)", "length ft"],
}


@settings(max_examples=60)
@given(
    st.permutations(list(WORDS)),
    st.sampled_from(",;\t"),
    st.lists(st.sampled_from(range(3)), min_size=5, max_size=5),
    st.integers(1, 40),
)
def test_any_order_of_headings_and_any_separator_reads_the_same(
    tmp_path_factory, order, separator, which, feet
):
    cells = {"id": "O1", "from": "oil bulb.A", "to": "oil gauge.A", "gauge": "22", "length": str(feet)}
    top = [WORDS[word][i] for word, i in zip(order, which, strict=True)]
    text = f"{separator.join(top)}\n{separator.join(cells[word] for word in order)}\n"
    run = document(tmp_path_factory.mktemp("t"), w_csv=text).installation.wire_runs["O1"]
    assert (run.from_, run.to, run.gauge) == ("oil bulb.A", "oil gauge.A", "22")
    assert float(run.length) == pytest.approx(feet * FOOT)


TO_SPOIL = saved(workbook(Engine=[TOP, ROW, ["O2", "=1+1", None, True, "x"]]))


@settings(max_examples=150)
@given(st.data())
def test_a_spoilt_table_is_read_or_told_never_worse(tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("s")
    if data.draw(st.booleans()):
        whole = bytearray(TO_SPOIL)
        for _ in range(data.draw(st.integers(0, 4))):
            whole[data.draw(st.integers(0, len(whole) - 1))] = data.draw(st.integers(0, 255))
        name, held = "w_xlsx", bytes(whole)
    else:
        cell = st.sampled_from(
            [
                "id",
                "from",
                "to",
                "gauge",
                "conductor",
                "shield",
                "end at from",
                "O1",
                "oil bulb.A",
                "+",
                "=1",
                "'",
                '"',
                "?",
                "-",
                "1,5",
                "a to b",
                "\x00",
                "é",
                "\n",
                "",
                "22",
            ]
        )
        rows = data.draw(st.lists(st.lists(cell, max_size=6), max_size=6))
        top = data.draw(
            st.sampled_from(["", "id,from,to,gauge\n", "id;conductor;from;to;shield;end at from\n"])
        )
        separator = data.draw(st.sampled_from(",;\t"))
        name, held = "w_csv", (top + "\n".join(separator.join(row) for row in rows)).encode()
    try:
        document(folder, f"wire_runs: {{table: {name.replace('_', '.')}}}", **{name: held})
    except DocumentError as bad:
        problems = bad.problems
    else:
        return
    assert problems
    assert all(problem.message for problem in problems)


@pytest.mark.parametrize("name", ["retrofit", "retrofit_corrected", "before"])
@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_what_lists_writes_is_read_back_as_the_same_lines(tmp_path, name, form):
    first = load(DEMO / f"{name}.yaml")
    made = paper("fluid", check(first))
    held = {i: line for i, line in first.installation.fluid_lines.items() if line.status != "removed"}
    assert held
    whole = yaml.load(as_expanded(first), yaml.BaseLoader)
    whole["fluid_lines"] = {"table": f"lines.{form}"}
    (tmp_path / "m.yaml").write_text(yaml.safe_dump(whole, sort_keys=False, width=10_000).replace("'~'", "~"))
    (tmp_path / f"lines.{form}").write_bytes(as_csv(made) if form == "csv" else as_xlsx(first, [made]))
    back = load(tmp_path / "m.yaml").installation.fluid_lines
    assert list(back) == list(held)
    for ident, line in held.items():
        other = back[ident]
        for word in ("medium", "from_", "to", "part", "size", "status", "support_spacing", "bend_radius"):
            assert getattr(other, word) == getattr(line, word), (ident, word)
        for one, step in zip(other.route or (), line.route or (), strict=True):
            assert (one.zone, one.barrier, one.through, one.fitting) == (
                step.zone,
                step.barrier,
                step.through,
                step.fitting,
            )
            # the list tells lengths to a quarter of an inch
            assert one.length is None or abs(one.length - step.length) <= 0.125 * 0.0254 + 1e-9
