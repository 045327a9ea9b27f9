"""The survey drawing: every cylinder drawn, legible, nothing over anything, safe against what a log holds."""

from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest

from installcheck.drawing.ink import HATCH, Ink, Page, Text
from installcheck.drawing.ink import Path as Stroke
from installcheck.drawing.kinds import Paper
from installcheck.drawing.svg import page_svg
from installcheck.drawing.text_width import text_width
from installcheck.logs.flight_log import parse_log, read_log
from installcheck.outputs.pages import write_pages
from installcheck.outputs.plots.survey import BAR, survey_pages
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
def drawn(request: pytest.FixtureRequest) -> tuple[Survey, list[Page]]:
    result = SURVEYS[request.param]()
    return result, survey_pages(result)


def one_page(result: Survey) -> Page:
    (page,) = survey_pages(result, None)
    return page


def boxes(page: Page) -> list[tuple[str, float, float, float, float]]:
    """Each text with its left, top, right and bottom."""
    found = []
    for ink in page.inks:
        if isinstance(ink, Text):
            wide = text_width(ink.text, ink.size, bold=ink.bold)
            left = ink.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[ink.anchor] * wide
            found.append((ink.text, left, ink.y - 0.75 * ink.size, left + wide, ink.y + 0.22 * ink.size))
    return found


def bars(page: Page, *, dashed: bool = False) -> list[tuple[str, float]]:
    """Fill and height of each bar, or of what is added to it, in the order they are drawn."""
    found = []
    for ink in page.inks:
        if isinstance(ink, Stroke) and ink.closed and len(ink.points) == 4 and bool(ink.dash) == dashed:
            (left, top), (right, _), (_, foot), _ = ink.points
            if right - left == pytest.approx(BAR):
                found.append((ink.fill, foot - top))
    return found


def test_every_head_of_every_phase_has_a_bar_and_a_number(drawn: tuple[Survey, list[Page]]) -> None:
    result, pages = drawn
    numbers = [text for page in pages for text, *_ in boxes(page)]
    for phase in result.phases:
        assert phase.name in numbers
        for head in phase.heads:
            value = head.peak if head.corrected is None else head.corrected
            assert f"{value * 1.8 + 32:.0f}" in numbers
    assert sum(len(bars(page)) for page in pages) == sum(len(phase.heads) for phase in result.phases)
    assert "limit 500 degF" in numbers


def test_no_text_is_small_over_another_or_off_the_page(drawn: tuple[Survey, list[Page]]) -> None:
    for page in drawn[1]:
        placed = boxes(page)
        assert min(ink.size for ink in page.inks if isinstance(ink, Text)) >= 9
        for text, left, top, right, bottom in placed:
            assert 0 <= left < right <= page.width, text
            assert 0 <= top < bottom <= page.height, text
        for (one, l1, t1, r1, b1), (two, l2, t2, r2, b2) in combinations(placed, 2):
            assert not (l1 < r2 and l2 < r1 and t1 < b2 and t2 < b1), f"{one!r} over {two!r}"


def test_a_page_of_an_engine_of_usual_size_is_read_on_paper() -> None:
    # A letter of 10 units: 297 mm over the width of the page in units gives its size, 7 pt or more.
    for page in survey_pages(SURVEYS["fourteen"](), Paper.A4):
        assert page.paper_size == ("297mm", "210mm")
        assert page.width / page.height == pytest.approx(297 / 210, rel=1e-3)
        assert 10 * (297 / 25.4 * 72) / page.width >= 7


def test_it_prints_without_colour(drawn: tuple[Survey, list[Page]]) -> None:
    def grey(paint: str) -> bool:
        return paint in ("", "black", "white", HATCH) or paint[1:3] == paint[3:5] == paint[5:7]

    for ink in (ink for page in drawn[1] for ink in page.inks):
        assert isinstance(ink, Text) or (isinstance(ink, Stroke) and grey(ink.color) and grey(ink.fill))


def test_bars_stand_to_scale() -> None:
    result = SURVEYS["demo"]()
    page = one_page(result)
    heads = [head for phase in result.phases for head in phase.heads]
    heights = [height for _, height in bars(page)]
    added = [height for _, height in bars(page, dashed=True)]
    # One degree is the same height everywhere: between any two bars, and in what the hot day adds.
    low, high = (
        min(range(len(heads)), key=lambda i: heads[i].peak),
        max(range(len(heads)), key=lambda i: heads[i].peak),
    )
    scale = (heights[high] - heights[low]) / (heads[high].peak - heads[low].peak)
    for head, height, more in zip(heads, heights, added, strict=True):
        assert height - heights[low] == pytest.approx(scale * (head.peak - heads[low].peak), abs=0.15)
        assert head.corrected is not None
        assert more == pytest.approx(scale * (head.corrected - head.peak), abs=0.15)


def test_the_hottest_is_dark_and_a_candidate_hatched() -> None:
    fills = [fill for fill, _ in bars(one_page(SURVEYS["demo"]()))]
    assert fills[4:8] == ["white", "white", "#444444", "white"]  # climb: 3, and no other can be
    assert fills[8:12] == ["white", "white", HATCH, "#444444"]  # lean cruise: 4, and 3 may be


def test_the_limit_line_runs_through_no_number() -> None:
    inks: tuple[Ink, ...] = one_page(SURVEYS["demo"]()).inks
    limit = next(i for i, one in enumerate(inks) if isinstance(one, Stroke) and one.dash == "9 4")
    value = next(i for i, one in enumerate(inks) if isinstance(one, Text) and one.text == "487")
    ground, number = inks[value - 1], inks[value]
    # The highest number stands across the line here, so it is drawn after it, on a white ground of its own.
    assert value > limit
    assert isinstance(ground, Stroke)
    assert isinstance(number, Text)
    assert ground.fill == "white"
    assert ground.points[0][1] <= number.y - 7
    assert ground.points[2][1] >= number.y


@pytest.mark.parametrize(("form", "start"), [("svg", b"<?xml"), ("png", b"\x89PNG"), ("pdf", b"%PDF")])
def test_it_comes_in_every_form(form: str, start: bytes, tmp_path: Path) -> None:
    (made,) = write_pages(survey_pages(SURVEYS["demo"]()), tmp_path / f"survey.{form}")
    assert made.read_bytes().startswith(start)


def test_a_log_without_a_phase_to_draw_still_says_what_was_found() -> None:
    """Rows without a time and a clock that steps back leave no phase in which all cylinders are read."""
    text = (
        "Time  Press Alt  OAT  IAS  RPM  MAP  CHT1  CHT2  CHT3  CHT4  CHT5  CHT6\n"
        "hh:mm:ss  ft  deg F  kt  rpm  inHg  deg F  deg F  deg F  deg F  deg F  deg F\n"
        "09:12:24  900  74.9  0  1206  12.1  166  169  167  474  475  331\n"
        "09:12:18  900  74.6  0  1197  11.9  162  162  162  474  475  331\n"
        "-3 ft\n"
    )
    for limit in (None, LIMIT):
        result = survey(parse_log(text.encode(), "short.csv"), limit=limit)
        page = one_page(result)
        assert bars(page) == []
        words = " ".join(text for text, *_ in boxes(page))
        assert result.finding[1:] in words


def test_text_of_a_log_cannot_break_out() -> None:
    lines = ["s,CHT1 F,CHT2 F"] + [f"{6 * i},{300 + i},{290 + i}" for i in range(100)]
    name = "<script>alert('x')</script>&\"\x00\x1b\u202e.csv"
    svg = page_svg(one_page(survey(parse_log("\n".join(lines).encode(), name)))).decode()
    root = ElementTree.fromstring(svg)
    assert "<script" not in svg
    assert not list(root.iter(f"{SVG}script"))
    assert any("<script>" in (text.text or "") for text in root.iter(f"{SVG}text"))


def test_the_caution_is_on_it_once() -> None:
    svg = page_svg(one_page(SURVEYS["demo"]())).decode()
    assert svg.count("licensed person") == 1
    assert "airworthy" not in svg.casefold()
