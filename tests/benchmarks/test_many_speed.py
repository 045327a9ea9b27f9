"""A thousand generated documents in one call: ``pytest tests/benchmarks/test_many_speed.py --benchmark-only -s``."""

from pathlib import Path
from runpy import run_path

from installcheck.batch.many import check_many
from installcheck.batch.record import Checked

big_document = run_path(str(Path(__file__).with_name("big_document.py")))["big_document"]


def write_fleet(folder: Path, count: int, wires: int = 10) -> list[Path]:
    """Documents of ``wires`` wires each, no two alike."""
    files = []
    text = big_document(wires)
    for i in range(count):
        file = folder / f"aircraft {i:04}.yaml"
        file.write_text(text.replace("large installation", f"aircraft {i}"), encoding="utf-8")
        files.append(file)
    return files


def test_thousand_documents(benchmark, tmp_path):
    files = write_fleet(tmp_path, 1000)
    records = benchmark.pedantic(check_many, (files,), {"counts_only": True}, rounds=1)
    assert len(records) == 1000
    assert all(isinstance(one, Checked) for one in records)
