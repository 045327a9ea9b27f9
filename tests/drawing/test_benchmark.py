"""How long a diagram takes; run with --benchmark-only. The budget is 2 s for 200 wires."""

from collections.abc import Callable

from pytest_benchmark.fixture import BenchmarkFixture

from installcheck.drawing.sheet import Sheet
from installcheck.drawing.split import split_sheet
from installcheck.drawing.svg import sheet_svg


def test_a_diagram_of_200_wires(benchmark: BenchmarkFixture, fictional_sheet: Callable[[int], Sheet]) -> None:
    sheet = fictional_sheet(200)
    pages = benchmark.pedantic(lambda: [sheet_svg(part) for part in split_sheet(sheet)], rounds=3)
    assert len(pages) > 5
