"""What the search for causes and cures costs, beside a plain check of the same document.

Run with ``pytest tests/benchmarks/test_causes_speed.py --benchmark-only -s``.
"""

from __future__ import annotations

import gc
import time
from pathlib import Path

import pytest
from big_document import big_document
from pytest_benchmark.fixture import BenchmarkFixture

from installcheck.analysis.study import Study
from installcheck.causes.causes import find_causes
from installcheck.causes.found import Causes
from installcheck.document import Document, load, loads
from installcheck.rules.engine import judge

DEMO = Path(__file__).parents[2] / "demo_aircraft" / "retrofit.yaml"


def with_mistakes(text: str) -> str:
    """Twenty mistakes at as many stations: seven leads crossed, seven breakers far too large, six open holes."""
    for n in range(1, 8):
        crossed = (
            f"+: {{from: head {n}.+, to: monitor {n}.C+}},\n    -: {{from: head {n}.-, to: monitor {n}.C-}}"
        )
        assert crossed in text
        text = text.replace(crossed, crossed.replace("C+", "C?").replace("C-", "C+").replace("C?", "C-"))
    for n in range(8, 15):
        text = text.replace(
            f"breaker {n}: {{kind: breaker, rating: 5 A", f"breaker {n}: {{kind: breaker, rating: 40 A"
        )
    for n in range(15, 21):
        before, run, after = text.partition(f"  W{n}04:")
        text = before + run + after.replace("fireproof grommet", "open hole", 1)
    return text


def ratio(benchmark: BenchmarkFixture, document: Document) -> tuple[float, Causes]:
    """CPU time of the search over that of a plain check, and what it found; garbage is looked for as seldom as in a command."""
    gc.set_threshold(200_000, 50, 50)
    ledger = judge(Study(document))
    start = time.process_time()
    judge(Study(document))
    check = time.process_time() - start
    start = time.process_time()
    found = benchmark.pedantic(lambda: find_causes(ledger), rounds=1)
    return (time.process_time() - start) / check, found


@pytest.mark.benchmark(group="causes")
def test_twenty_mistakes_among_five_hundred_wires(benchmark: BenchmarkFixture) -> None:
    times, found = ratio(benchmark, loads(with_mistakes(big_document(500))))
    print(f"\ncauses / check = {times:.1f}, {benchmark.stats['min']:.1f} s")
    assert len(found.causes) == 20
    assert all(cause.edits for cause in found.causes)
    assert times < 17


@pytest.mark.benchmark(group="causes")
def test_the_demo(benchmark: BenchmarkFixture) -> None:
    times, found = ratio(benchmark, load(DEMO))
    print(f"\ncauses / check = {times:.1f}, {benchmark.stats['min']:.1f} s")
    assert len(found.causes) <= 13
    assert times < 23
