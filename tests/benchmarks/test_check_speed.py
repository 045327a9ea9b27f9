"""A whole check against the bare parse of the same text, and how its cost grows: processor's time, printed and not asserted.

The parse is timed before there is a document to look through for garbage, and garbage is looked for as seldom as in a command.

Run with ``pytest tests/benchmarks/test_check_speed.py --benchmark-only -s``.
"""

import gc
import resource
import time

import numpy as np
import pytest
import yaml
from big_document import big_document

from installcheck import check
from installcheck.document import loads


@pytest.fixture(autouse=True)
def as_a_command():
    usual = gc.get_threshold()
    gc.collect()
    gc.set_threshold(200_000, 50, 50)
    yield
    gc.set_threshold(*usual)


def seconds(work, times=2):
    best = float("inf")
    for _ in range(times):
        start = time.process_time()
        work()
        best = min(best, time.process_time() - start)
    return best


@pytest.mark.benchmark(group="whole check")
def test_ten_thousand_wires_against_the_parse(benchmark):
    text = big_document(10_000)
    parse = seconds(lambda: yaml.load(text, Loader=yaml.CSafeLoader))
    whole = benchmark.pedantic(lambda: seconds(lambda: check(loads(text))), rounds=1)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"\ncheck / parse = {whole / parse:.2f}, peak {peak:.0f} MiB")


@pytest.mark.benchmark(group="whole check")
def test_growth(benchmark):
    sizes = [100, 1_000, 3_000, 10_000]
    texts = [big_document(n) for n in sizes]
    times = benchmark.pedantic(lambda: [seconds(lambda t=t: check(loads(t)), 1) for t in texts], rounds=1)
    slope = np.polyfit(np.log(sizes), np.log(times), 1)[0]
    print(f"\nseconds {[round(t, 2) for t in times]}, exponent {slope:.2f}")
