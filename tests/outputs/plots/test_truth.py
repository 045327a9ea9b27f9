from itertools import combinations
from pathlib import Path

import pytest

import installcheck
from installcheck.analysis.errors.truth_curves import AtLimit, Sample, Track, TruthCurve, truth_curves
from installcheck.analysis.study import Study
from installcheck.drawing.ink import Disc, Text
from installcheck.drawing.ink import Path as Stroke
from installcheck.drawing.kinds import Paper
from installcheck.drawing.svg import page_svg
from installcheck.drawing.text_width import text_width
from installcheck.outputs.pages import write_pages
from installcheck.outputs.plots.truth import truth_pages

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


def one_page(curves, title="test"):
    (page,) = truth_pages(curves, title, None)
    return page


def boxes(page):
    """Where each level text stands."""
    found = []
    for one in page.inks:
        if isinstance(one, Text) and not one.upright:
            wide = text_width(one.text, one.size, bold=one.bold)
            left = one.x - {"start": 0, "middle": wide / 2, "end": wide}[one.anchor]
            found.append((left, one.y - 0.75 * one.size, left + wide, one.y + 0.2 * one.size, one.text))
    return found


def overlapping(page):
    return [
        (a[4], b[4])
        for a, b in combinations(boxes(page), 2)
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]


def words_of(page):
    return " ".join(one.text for one in page.inks if isinstance(one, Text))


def areas(page):
    """The two plotting areas: left, top, right, bottom."""
    found = [one.points for one in page.inks if isinstance(one, Stroke) and one.closed and not one.fill]
    return [(p[0][0], p[0][1], p[2][0], p[2][1]) for p in found]


def tracks(page):
    return [
        one.points for one in page.inks if isinstance(one, Stroke) and one.width == 1.5 and not one.closed
    ][1:]


def test_lines_stand_where_the_numbers_are():
    page = one_page([curve()])
    (left, top, right, foot), (*_, below) = areas(page)
    track = tracks(page)[0]
    assert track[0] == pytest.approx((left, foot))
    # 450 of 500 shown at the right edge: a tenth of the height below the top
    assert track[-1] == pytest.approx((right, top + (foot - top) / 10), abs=0.1)
    limits = [
        one.points
        for one in page.inks
        if isinstance(one, Stroke) and one.dash == "8 3" and one.points[0][0] == one.points[1][0]
    ]
    assert limits[0][0][0] == pytest.approx(left + 0.9 * (right - left), abs=0.1)
    # It runs down through the area of the error.
    assert limits[0][1][1] == pytest.approx(below, abs=0.1)


def test_the_finding_is_in_words():
    words = words_of(one_page([curve()]))
    assert "At the highest of 450 degC it shows 405 degC, 45 degC low (climb)." in words
    assert "Budget 20 degC" in words
    assert "not approved data" in words


def test_what_is_missing_is_told():
    words = words_of(one_page([curve(missing=("accuracy of the indicator",), limits=())]))
    assert "Not the whole truth" in words
    assert "No engine limit is given" in words


def test_a_pointer_at_its_stop_is_drawn_along_the_edge():
    samples = tuple(Sample(t, None, None, None, "below") for t in range(0, 501, 50))
    limit = AtLimit("highest", "450 degC", "degC", 450.0, None, "below", "climb")
    page = one_page([curve(tracks=(Track("climb", samples, 400.0),), limits=(limit,))])
    [track] = tracks(page)
    assert [y for _, y in track] == pytest.approx([areas(page)[0][3]] * len(track))


def test_gaps_are_left_open():
    samples = tuple(Sample(t, None if 150 <= t <= 250 else float(t), None, None) for t in range(0, 501, 50))
    # Two stretches, each in both areas.
    assert len(tracks(one_page([curve(tracks=(Track("climb", samples, None),))]))) == 4


@pytest.mark.parametrize("name", ["before", "retrofit", "retrofit_corrected", "twin"])
@pytest.mark.parametrize("paper", [None, *Paper])
def test_no_text_of_the_demo_overlaps(name, paper):
    study = Study(installcheck.load(DEMO / f"{name}.yaml"))
    for page in truth_pages(truth_curves(study), study.model.installation.name, paper):
        assert overlapping(page) == []
        assert all(
            left >= 0 and right <= page.width and bottom <= page.height
            for left, _, right, bottom, _ in boxes(page)
        )


def test_long_and_hostile_names_stay_on_the_page():
    bad = "<script>alert(1)</script> " + "very long gauge name " * 12
    many = tuple(f"probe {i} with a long name" for i in range(40))
    page = one_page([curve(name=bad, sources=many), curve(), curve(), curve()], bad)
    assert b"<script>" not in page_svg(page)
    assert overlapping(page) == []
    assert all(right <= page.width for _, _, right, _, _ in boxes(page))


def test_two_limits_have_their_own_labels():
    limits = (
        AtLimit("lowest", "20 degC", "degC", 20.0, 18.0, "", "climb"),
        AtLimit("highest", "450 degC", "degC", 450.0, 405.0, "", "climb"),
    )
    assert overlapping(one_page([curve(limits=limits)])) == []


def test_nothing_to_draw():
    assert "No indication with a dial" in words_of(one_page([]))


def test_colour_carries_nothing():
    inks = [one for one in one_page([curve()]).inks if not isinstance(one, Text | Disc)]
    greys = {paint for one in inks for paint in (one.fill, one.color)}
    assert greys <= {"", "black", "white", "#bbbbbb", "#888888", "#dddddd"}


def test_pages_are_those_of_paper_and_say_which_they_are():
    pages = truth_pages([curve(name=f"gauge {n}") for n in range(7)], "test", Paper.LETTER)
    assert len(pages) == 3
    for number, page in enumerate(pages, start=1):
        assert page.paper_size == ("11in", "8.5in")
        assert page.width / page.height == pytest.approx(11 / 8.5, rel=1e-3)
        assert f"page {number} of 3" in words_of(page)
    assert " ".join(map(words_of, pages)).count("licensed person") == 1


@pytest.mark.parametrize(("form", "start"), [("svg", b"<?xml"), ("png", b"\x89PNG"), ("pdf", b"%PDF")])
def test_it_comes_in_every_form(form, start, tmp_path):
    (made,) = write_pages(truth_pages([curve()], "test"), tmp_path / f"truth.{form}")
    assert made.read_bytes().startswith(start)
