"""Overview sheet: each source and its indicator joined by one line that names every run between them."""

import re

import pytest

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.outputs.diagram.overview import overview
from installcheck.outputs.diagram.sheets import sheets


@pytest.fixture(scope="module")
def parts(demo_folder):
    return overview(Study(load(demo_folder / "retrofit.yaml")))


def test_one_line_for_a_bundle(parts):
    assert parts.wires["T11 to T14, T20, T21"].flag == ("engine harness", "panel harness")
    assert parts.wires["E3, E4"].flag == ("engine harness",)
    assert not {"E3", "E4", "T11"} & set(parts.wires)


def test_probes_of_one_gauge_stand_in_one_outline(parts):
    probes = parts.devices["device exhaust 1"]
    assert probes.lines == ("exhaust 1 to exhaust 4", "4 probes")


def test_every_indicator_and_load_is_there(parts, demo_folder):
    model = Study(load(demo_folder / "retrofit.yaml")).model
    assert {f"device {i}" for i in model.indicators} <= set(parts.devices)
    assert {"device battery", "device alternator", "device main bus", "device boost pump"} <= set(
        parts.devices
    )


def test_the_overview_comes_first_where_one_sheet_does_not_hold_all(demo_folder):
    made = sheets(load(demo_folder / "retrofit.yaml"))
    assert made[0].subject.startswith("Overview")
    assert not made[0].marks


def test_fields_of_the_title_block(demo_folder):
    """ISO 7200: title, document type, identification, sheet number, date of issue, revision, creator, checker."""
    from installcheck.drawing.ink import Text
    from installcheck.drawing.page import compose

    made = sheets(load(demo_folder / "retrofit.yaml"))
    told = [ink.text for ink in compose(made[0]).inks if isinstance(ink, Text)]
    assert {
        "Title",
        "Document type",
        "Drawing number",
        "Sheet",
        "Date of issue",
        "Rev.",
        "Drawn by",
        "Checked by",
    } <= set(told)
    assert {"Q4-7700", "replaces before.yaml", f"1 of {len(made)}"} <= set(told)
    # ISO 5457: fields of 50 mm from the centre lines of 297 mm by 210 mm: six across, four down
    assert [t for t in told if re.fullmatch(r"[1-9]|[A-Z]", t)][:10] == [
        "1",
        "2",
        "3",
        "4",
        "5",
        "6",
        "A",
        "B",
        "C",
        "D",
    ]


def test_a_line_past_a_zone_left_out_of_a_sheet_still_crosses_the_firewall(demo_folder):
    # No source stands in the engine bay of the sheet of the manifold hose, which leads from the engine to the cabin.
    made = [s for s in sheets(load(demo_folder / "retrofit.yaml")) if s.subject.startswith("Overview")]
    sheet = next(s for s in made if any(line.id.startswith("manifold hose") for line in s.lines))
    assert [band.id for band in sheet.bands] == ["zone engine", "zone cabin"]
    assert [(b.id, b.after) for b in sheet.barriers] == [("barrier firewall", "zone engine")]


def test_a_line_within_the_cabin_crosses_nothing(parts):
    assert parts.wires["E9"].crosses == ()
    assert parts.wires["E3, E4"].crosses == ("barrier firewall",)
