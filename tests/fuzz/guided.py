"""Coverage-guided fuzzing of the reader of documents and of the reader of logs; run by hand, with atheris installed.

    python tests/fuzz/guided.py words > words
    python tests/fuzz/guided.py documents WORK SEEDS -dict=words -max_len=2500 -max_total_time=3600
    python tests/fuzz/guided.py logs WORK SEEDS -max_len=4000 -max_total_time=3600
    python tests/fuzz/guided.py documents -merge=1 KEPT WORK     # KEPT: the least that covers as much

with the package and ``tests/support`` on PYTHONPATH. What was kept stands in ``corpus/*.zip``; ``test_corpus.py`` puts all of it
through the readers with each test run, and unpacked it seeds the next run.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path


def words() -> str:
    """Sections, fields and units, in the form ``-dict`` takes."""
    from installcheck.document.schema import document_schema

    found: set[str] = set()

    def walk(node: object) -> None:
        if isinstance(node, dict):
            for key, value in node.items():
                if key == "properties" and isinstance(value, dict):
                    found.update(f"{word}:" for word in value)
                if key == "enum" and isinstance(value, list):
                    found.update(str(word) for word in value)
                walk(value)
        elif isinstance(node, list):
            for value in node:
                walk(value)

    walk(document_schema())
    found |= {
        " V",
        " ohm",
        " AWG",
        " ft",
        " in",
        " psi",
        " degC",
        " degF",
        " A",
        " mV",
        "&a ",
        "*a",
        "<<: *a",
        "- ",
        "unknown",
    }
    plain = sorted(word for word in found if word.isascii() and '"' not in word and "\\" not in word)
    return "".join(f'"{word}"\n' for word in plain)


def launcher(what: str) -> str:
    """A command that starts this again, as libFuzzer does to merge."""
    made = Path(tempfile.mkdtemp()) / "again"
    made.write_text(f'#!/bin/sh\nexec {sys.executable} {Path(__file__).resolve()} {what} "$@"\n')
    made.chmod(0o700)
    return str(made)


def main() -> None:
    """Fuzz what the first argument names; the others are libFuzzer's."""
    what = sys.argv.pop(1)
    if what == "words":
        sys.stdout.write(words())
        return
    import atheris  # type: ignore[import-not-found]

    with atheris.instrument_imports(include=["installcheck"], exclude=["installcheck.drawing"]):
        from answers import READERS
    sys.argv[0] = launcher(what)
    atheris.Setup(sys.argv, READERS[what])
    atheris.Fuzz()


if __name__ == "__main__":
    main()
