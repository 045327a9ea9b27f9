"""The survey drawing: every cylinder drawn, legible, nothing over anything, safe against what a log holds."""

import re
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest

from installcheck.drawing.text_width import text_width
from installcheck.logs.flight_log import parse_log, read_log
from installcheck.outputs.plots.survey import ROOMY, survey_svg
from installcheck.survey import Survey, survey

DEMO = Path(__file__).parents[3] / "demo_aircraft" / "climb_survey.csv"
LIMIT = (500 - 32) / 1.8
SVG = "{http://www.w3.org/2000/svg}"


def radial(cylinders: int) -> Survey:
    """A survey of many cylinders, one warmer than the other by 1 degF."""
    lines = ["s,Alt ft," + ",".join(f"CHT{k + 1} F" for k in range(cylinders))]
    for i in range(240):
        height = 1000 + 60 * min(max(i - 60, 0), 90)
        lines.append(
            f"{6 * i},{height},"
            + ",".join(f"{100 + (300 + k) * (1 - 0.97**i):.0f}" for k in range(cylinders))
        )
    return survey(parse_log("\n".join(lines).encode(), "radial.csv"), cylinders=cylinders, limit=LIMIT)


SURVEYS = {
    "demo": lambda: survey(read_log(DEMO), cylinders=4, limit=LIMIT, probed=1),
    "one": lambda: radial(1),
    "two": lambda: radial(2),
    "fourteen": lambda: radial(14),
    "twenty-eight": lambda: radial(28),
}


@pytest.fixture(params=SURVEYS, scope="module")
def drawn(request: pytest.FixtureRequest) -> tuple[Survey, ElementTree.Element]:
    result = SURVEYS[request.param]()
    return result, ElementTree.fromstring(survey_svg(result))


def boxes(root: ElementTree.Element) -> list[tuple[str, float, float, float, float]]:
    """Each text with its left, top, right and bottom, as wide as a viewer without the fonts may draw it."""
    found = []
    for text in root.iter(f"{SVG}text"):
        size = float(text.attrib["font-size"])
        wide = ROOMY * text_width(text.text or "", size, bold="font-weight" in text.attrib)
        shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.attrib["text-anchor"]]
        x, y = float(text.attrib["x"]) - shift * wide, float(text.attrib["y"])
        found.append((text.text or "", x, y - 0.75 * size, x + wide, y + 0.22 * size))
    return found


def test_every_head_of_every_phase_has_a_bar_and_a_number(drawn: tuple[Survey, ElementTree.Element]) -> None:
    result, root = drawn
    numbers = [text for text, *_ in boxes(root)]
    for phase in result.phases:
        assert phase.name in numbers
        for head in phase.heads:
            value = head.peak if head.corrected is None else head.corrected
            assert f"{value * 1.8 + 32:.0f}" in numbers
    bars = [
        box
        for box in root.iter(f"{SVG}rect")
        if box.attrib.get("width") == "30.0" and "stroke-dasharray" not in box.attrib
    ]
    assert len(bars) == sum(len(phase.heads) for phase in result.phases)
    assert "limit 500 degF" in numbers


def test_no_text_is_small_over_another_or_off_the_page(drawn: tuple[Survey, ElementTree.Element]) -> None:
    _, root = drawn
    width, height = float(root.attrib["width"]), float(root.attrib["height"])
    assert min(float(text.attrib["font-size"]) for text in root.iter(f"{SVG}text")) >= 9
    placed = boxes(root)
    for text, left, top, right, bottom in placed:
        assert 0 <= left < right <= width, text
        assert 0 <= top < bottom <= height, text
    for (one, l1, t1, r1, b1), (two, l2, t2, r2, b2) in combinations(placed, 2):
        assert not (l1 < r2 and l2 < r1 and t1 < b2 and t2 < b1), f"{one!r} over {two!r}"


def test_it_prints_without_colour(drawn: tuple[Survey, ElementTree.Element]) -> None:
    _, root = drawn
    for element in root.iter():
        for attribute in ("fill", "stroke"):
            paint = element.attrib.get(attribute, "#000")
            assert paint == "url(#hatch)" or re.fullmatch(r"#(.)\1\1", paint)


def test_bars_stand_to_scale() -> None:
    result = SURVEYS["demo"]()
    root = ElementTree.fromstring(survey_svg(result))
    heads = [head for phase in result.phases for head in phase.heads]
    bars = [
        box
        for box in root.iter(f"{SVG}rect")
        if box.attrib.get("width") == "30.0" and "stroke-dasharray" not in box.attrib
    ]
    added = [
        box
        for box in root.iter(f"{SVG}rect")
        if box.attrib.get("width") == "30.0" and "stroke-dasharray" in box.attrib
    ]
    heights = [float(bar.attrib["height"]) for bar in bars]
    # One degree is the same height everywhere: between any two bars, and in what the hot day adds.
    low, high = (
        min(range(len(heads)), key=lambda i: heads[i].peak),
        max(range(len(heads)), key=lambda i: heads[i].peak),
    )
    scale = (heights[high] - heights[low]) / (heads[high].peak - heads[low].peak)
    for head, height, more in zip(heads, heights, added, strict=True):
        assert height - heights[low] == pytest.approx(scale * (head.peak - heads[low].peak), abs=0.15)
        assert head.corrected is not None
        assert float(more.attrib["height"]) == pytest.approx(scale * (head.corrected - head.peak), abs=0.15)


def test_the_hottest_is_dark_and_a_candidate_hatched() -> None:
    root = ElementTree.fromstring(survey_svg(SURVEYS["demo"]()))
    bars = [
        box
        for box in root.iter(f"{SVG}rect")
        if box.attrib.get("width") == "30.0" and "stroke-dasharray" not in box.attrib
    ]
    fills = [bar.attrib["fill"] for bar in bars]
    assert fills[4:8] == ["#fff", "#fff", "#444", "#fff"]  # climb: 3, and no other can be
    assert fills[8:12] == ["#fff", "#fff", "url(#hatch)", "#444"]  # lean cruise: 4, and 3 may be


def test_the_limit_line_runs_through_no_number() -> None:
    result = SURVEYS["demo"]()
    elements = list(ElementTree.fromstring(survey_svg(result)))
    limit = next(i for i, one in enumerate(elements) if one.attrib.get("stroke-dasharray") == "9 4")
    value = next(i for i, one in enumerate(elements) if one.text == "487")
    ground, number = elements[value - 1], elements[value]
    # The highest number stands across the line here, so it is drawn after it, on a white ground of its own.
    assert value > limit
    assert ground.attrib["fill"] == "#fff"
    assert float(ground.attrib["y"]) <= float(number.attrib["y"]) - 7
    assert float(ground.attrib["y"]) + float(ground.attrib["height"]) >= float(number.attrib["y"])


def test_text_of_a_log_cannot_break_out() -> None:
    lines = ["s,CHT1 F,CHT2 F"] + [f"{6 * i},{300 + i},{290 + i}" for i in range(100)]
    name = "<script>alert('x')</script>&\"\x00\x1b\u202e.csv"
    svg = survey_svg(survey(parse_log("\n".join(lines).encode(), name)))
    root = ElementTree.fromstring(svg)
    assert "<script" not in svg
    assert not list(root.iter(f"{SVG}script"))
    assert any("<script>" in text for text, *_ in boxes(root))


def test_the_caution_is_on_it_once() -> None:
    svg = survey_svg(SURVEYS["demo"]())
    assert svg.count("licensed person") == 1
    assert "airworthy" not in svg.casefold()
