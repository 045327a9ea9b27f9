"""Reading, joining and following 10,000 wires, beside the bare parse of the same text; wanted within 2.5 of it.

Run with ``pytest tests/benchmarks/test_load_speed.py --benchmark-only``.
"""

from pathlib import Path
from runpy import run_path

import pytest
import yaml
from pytest_benchmark.fixture import BenchmarkFixture

from installcheck.document import loads
from installcheck.document.parts import standard_library
from installcheck.graph import Graph, build, indications
from installcheck.model.installation import Installation

made = run_path(str(Path(__file__).with_name("big_document.py")))
big_document, common_ground = made["big_document"], made["common_ground"]

WIRES = 10_000


@pytest.fixture(scope="module")
def text() -> str:
    standard_library()
    return big_document(WIRES)


@pytest.fixture(scope="module")
def model(text: str) -> Installation:
    return loads(text).installation


@pytest.mark.benchmark(group="10,000 wires")
def test_bare_parse(benchmark: BenchmarkFixture, text: str) -> None:
    made = benchmark.pedantic(yaml.load, (text, yaml.CSafeLoader), rounds=3)
    assert len(made["wire_runs"]) == WIRES + 2


@pytest.mark.benchmark(group="10,000 wires")
def test_load_and_graph(benchmark: BenchmarkFixture, text: str) -> None:
    graph = benchmark.pedantic(lambda: build(loads(text).installation), rounds=3)
    assert sum(1 for e in graph.edges if e.kind == "conductor") == WIRES + WIRES // 10 + 2


@pytest.mark.benchmark(group="10,000 wires")
def test_graph(benchmark: BenchmarkFixture, model: Installation) -> None:
    assert len(benchmark.pedantic(build, (model,), rounds=3).edges) > WIRES


@pytest.mark.benchmark(group="10,000 wires")
def test_indications(benchmark: BenchmarkFixture, model: Installation) -> None:
    found, unread = benchmark.pedantic(indications, (build(model),), rounds=3)
    assert (len(found), len(unread)) == (3 * WIRES // 10, 0)
    assert all(len(i.legs) == 2 for i in found)


@pytest.mark.benchmark(group="one-wire senders on one ground")
@pytest.mark.parametrize("studs", [False, True], ids=["one case", "a stud each"])
@pytest.mark.parametrize("senders", [500, 1000, 2000])
def test_common_ground(benchmark: BenchmarkFixture, senders: int, studs: bool) -> None:
    """The time is to grow as the number of senders."""
    graph: Graph = build(loads(common_ground(senders, studs=studs)).installation)
    found, _ = benchmark.pedantic(indications, (graph,), rounds=3)
    assert len(found) == senders
    assert all(i.legs[1].through_ground for i in found)


@pytest.mark.benchmark(group="100,000 wires")
def test_ten_times_the_wires(benchmark: BenchmarkFixture) -> None:
    """Wanted in ten times the time of 10,000."""
    large = big_document(10 * WIRES)
    graph = benchmark.pedantic(lambda: build(loads(large).installation), rounds=1)
    assert sum(1 for e in graph.edges if e.kind == "conductor") == 11 * WIRES + 2
