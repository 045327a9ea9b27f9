"""How long the part library takes to read; run with ``pytest tests/benchmarks --benchmark-only``."""

from pytest_benchmark.fixture import BenchmarkFixture

from installcheck.document.parts import standard_library


def test_reading_the_part_library(benchmark: BenchmarkFixture) -> None:
    def read() -> int:
        standard_library.cache_clear()
        return len(standard_library().parts)

    assert benchmark(read) > 200
