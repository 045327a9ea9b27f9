"""A drawing of 200 wires, laid out, split and written as SVG; wanted in under 2 s."""

from pathlib import Path

import pytest
from big_document import big_document
from pytest_benchmark.fixture import BenchmarkFixture

from installcheck.document import loads
from installcheck.outputs.diagram.sheets import sheets
from installcheck.outputs.diagram.write import write_sheets


@pytest.mark.benchmark(group="drawing")
def test_a_drawing_of_200_wires(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    document = loads(big_document(200))
    names = benchmark(lambda: write_sheets(sheets(document), tmp_path / "big.svg"))
    assert len(names) > 5
