import re
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest

import installcheck
from installcheck.analysis.errors.truth_curves import (
    AtLimit,
    Sample,
    Track,
    TruthCurve,
    truth_curves,
)
from installcheck.analysis.study import Study
from installcheck.drawing.text_width import text_width
from installcheck.outputs.plots.truth import truth_svg

SVG = "{http://www.w3.org/2000/svg}"
DEMO = Path(installcheck.__file__).parents[1] / "demo_aircraft"


def curve(**more):
    """A gauge from 0 to 500 that reads a tenth low, as numbers in degC."""
    samples = tuple(Sample(t, 0.9 * t, 0.9 * t - 5, 0.9 * t + 5) for t in range(0, 501, 50))
    told = {
        "name": "head gauge",
        "sources": ("head probe",),
        "measure": "head temperature",
        "kind": "temperature",
        "unit": "degC",
        "low": 0.0,
        "high": 500.0,
        "division": 10.0,
        "budget": 20.0,
        "tracks": (Track("climb", samples, 400.0),),
        "limits": (AtLimit("highest", "450 degC", "degC", 450.0, 405.0, "", "climb"),),
        "missing": (),
    }
    return TruthCurve(**{**told, **more})


def boxes(root):
    """Where each upright text stands, with room for a font a little wider."""
    found = []
    for one in root.iter(f"{SVG}text"):
        if one.get("transform"):
            continue
        size, bold = float(one.get("font-size")), one.get("font-weight") == "bold"
        wide = text_width(one.text, size, bold=bold)
        left = float(one.get("x")) - {"start": 0, "middle": wide / 2, "end": wide}[one.get("text-anchor")]
        y = float(one.get("y"))
        found.append((left, y - 0.75 * size, left + wide, y + 0.2 * size, one.text))
    return found


def overlapping(root):
    return [
        (a[4], b[4])
        for a, b in combinations(boxes(root), 2)
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]


def test_lines_stand_where_the_numbers_are():
    root = ElementTree.fromstring(truth_svg([curve()], "test"))
    upper, lower = (r for r in root.iter(f"{SVG}rect") if r.get("fill") == "none")
    x, y, wide, high = (float(upper.get(k)) for k in ("x", "y", "width", "height"))
    track = next(iter(root.iter(f"{SVG}polyline")))
    first, last = track.get("points").split()[0], track.get("points").split()[-1]
    assert first == f"{x:.1f},{y + high:.1f}"
    # 450 of 500 shown at the right edge: a tenth of the height below the top
    assert [float(n) for n in last.split(",")] == pytest.approx([x + wide, y + high / 10], abs=0.1)
    limits = [
        line
        for line in root.iter(f"{SVG}line")
        if line.get("stroke-dasharray") == "8 3" and line.get("x1") == line.get("x2")
    ]
    assert float(limits[0].get("x1")) == pytest.approx(x + 0.9 * wide, abs=0.1)
    # It runs down through the area of the error.
    assert float(limits[0].get("y2")) == pytest.approx(
        float(lower.get("y")) + float(lower.get("height")), abs=0.1
    )


def test_the_finding_is_in_words():
    svg = truth_svg([curve()], "test")
    words = " ".join(t.text for t in ElementTree.fromstring(svg).iter(f"{SVG}text"))
    assert "At the highest of 450 degC it shows 405 degC, 45 degC low (climb)." in words
    assert "Budget 20 degC" in words
    assert "not approved data" in words


def test_what_is_missing_is_told():
    words = truth_svg([curve(missing=("accuracy of the indicator",), limits=())], "test")
    assert "Not the whole truth" in words
    assert "No engine limit is given" in words


def test_a_pointer_at_its_stop_is_drawn_along_the_edge():
    samples = tuple(Sample(t, None, None, None, "below") for t in range(0, 501, 50))
    limit = AtLimit("highest", "450 degC", "degC", 450.0, None, "below", "climb")
    root = ElementTree.fromstring(
        truth_svg([curve(tracks=(Track("climb", samples, 400.0),), limits=(limit,))], "test")
    )
    upper = next(r for r in root.iter(f"{SVG}rect") if r.get("fill") == "none")
    foot = float(upper.get("y")) + float(upper.get("height"))
    [track] = root.iter(f"{SVG}polyline")
    assert {p.split(",")[1] for p in track.get("points").split()} == {f"{foot:.1f}"}


def test_gaps_are_left_open():
    samples = tuple(Sample(t, None if 150 <= t <= 250 else float(t), None, None) for t in range(0, 501, 50))
    root = ElementTree.fromstring(truth_svg([curve(tracks=(Track("climb", samples, None),))], "test"))
    # Two stretches, each in both areas.
    assert len(list(root.iter(f"{SVG}polyline"))) == 4


@pytest.mark.parametrize("name", ["before", "retrofit", "retrofit_corrected", "twin"])
def test_no_text_of_the_demo_overlaps(name):
    study = Study(installcheck.load(DEMO / f"{name}.yaml"))
    root = ElementTree.fromstring(truth_svg(truth_curves(study), study.model.installation.name))
    assert overlapping(root) == []
    wide = float(root.get("width"))
    assert all(left >= 0 and right <= wide for left, _, right, _, _ in boxes(root))


def test_long_and_hostile_names_stay_on_the_page():
    bad = "<script>alert(1)</script> " + "very long gauge name " * 12
    many = tuple(f"probe {i} with a long name" for i in range(40))
    svg = truth_svg([curve(name=bad, sources=many), curve(), curve(), curve()], bad)
    assert "<script>" not in svg
    root = ElementTree.fromstring(svg)
    assert overlapping(root) == []
    assert all(right <= float(root.get("width")) for _, _, right, _, _ in boxes(root))


def test_two_limits_have_their_own_labels():
    limits = (
        AtLimit("lowest", "20 degC", "degC", 20.0, 18.0, "", "climb"),
        AtLimit("highest", "450 degC", "degC", 450.0, 405.0, "", "climb"),
    )
    root = ElementTree.fromstring(truth_svg([curve(limits=limits)], "test"))
    assert overlapping(root) == []


def test_nothing_to_draw():
    assert "No indication with a dial" in truth_svg([], "test")


def test_colour_carries_nothing():
    greys = set(re.findall(r"#[0-9a-f]{3,6}", truth_svg([curve()], "test")))
    assert greys <= {"#fff", "#000", "#bbb", "#888", "#ddd"}
