"""Load table by bus and phase, and before against after, by hand."""

import pytest

from installcheck.analysis.study import Study
from installcheck.document import load, loads
from installcheck.papers.loads import load_change

from .conftest import SMALL, table_of


def test_loads_by_bus_and_phase(small, rows):
    table = rows(small, "loads", "bus", "load")
    phases = ("climb [A]", "cruise [A]")

    def amps(key):
        return [table[key][p] for p in phases]

    assert amps("main bus lamp") == [2, 2]
    assert amps("main bus pump") == [6, 0]  # intermittent, climb alone
    assert amps("main bus radio") == [5, 5]  # 70 W at 14 V
    assert amps("main bus pressure gauge") == [0.1, 0.1]
    assert amps("main bus total continuous") == [7.1, 7.1]
    assert amps("main bus total intermittent") == [6, 0]
    # 0.8 x 40 A - 7.1 A
    assert amps("all margin of the sources") == [pytest.approx(24.9)] * 2


def test_a_monitored_load_may_take_the_whole_rating(rows):
    text = SMALL.replace("datum: firewall", "datum: firewall, load_monitored: yes")
    table = rows(Study(loads(text)), "loads", "bus", "load")
    assert table["all margin of the sources"]["climb [A]"] == pytest.approx(32.9)  # 40 - 7.1


def test_what_is_not_essential_is_off_in_an_emergency(rows):
    text = SMALL + "operating_points: {alternator lost: {phase: emergency}}\n"
    table = rows(Study(loads(text.replace("phases: [climb, cruise], ", ""))), "loads", "bus", "load")
    assert table["main bus lamp"]["emergency [A]"] == 0
    assert table["main bus radio"]["emergency [A]"] == 5


def test_a_load_of_unknown_current_is_named_and_not_nought(rows):
    study = Study(loads(SMALL.replace("{power: 70 W, duty", "{duty")))
    assert rows(study, "loads", "bus", "load")["main bus radio"]["climb [A]"] is None
    assert any("not in the totals: radio" in note for note in table_of(study, "loads").notes)


def test_before_and_after(small):
    before = Study(
        loads(
            SMALL.replace("lamp: {current: 2 A", "lamp: {current: 3 A").replace(
                "supply_current: 100 mA, ", "supply_current: 0 mA, "
            )
        )
    )
    table = load_change(before, small)
    by_load = {row[1]: dict(zip(table.columns, row, strict=True)) for row in table.rows if row[0] != "all"}
    lamp = by_load["lamp"]
    assert (lamp["climb before [A]"], lamp["climb after [A]"], lamp["climb change [A]"]) == (3, 2, -1)
    margin = dict(zip(table.columns, table.rows[-1], strict=True))
    # 32 - (3 + 5) = 24 before, 32 - 7.1 = 24.9 after
    assert (margin["cruise before [A]"], margin["cruise after [A]"]) == (24, pytest.approx(24.9))


def test_the_installation_before_is_found_by_its_name(demo, rows):
    change = rows(Study(load(demo / "retrofit.yaml")), "load-change", "bus", "load")
    # three new gauges: 100 mA oil pressure, 50 mA oil temperature, 100 mA fuel pressure
    assert change["all all but intermittent"]["cruise change [A]"] == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("../secret.yaml", "outside the folder"),
        ("gone.yaml", "There is no file"),
        ("broken.yaml", "cannot be read"),
    ],
)
def test_an_installation_before_that_cannot_be_read(tmp_path, name, why):
    (tmp_path / "secret.yaml").write_text(SMALL)
    folder = tmp_path / "folder"
    folder.mkdir()
    (folder / "broken.yaml").write_text("installation: [")
    (folder / "now.yaml").write_text(SMALL.replace("revision: B", f"revision: B, replaces: {name}"))
    table = table_of(Study(load(folder / "now.yaml")), "load-change")
    assert table.rows == ()
    assert why in table.notes[0]


def test_no_installation_before_is_told(small):
    assert "names no installation before" in table_of(small, "load-change").notes[0]
