"""Many installations checked in one call, on all cores; a broken file never stops the rest."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from functools import partial
from multiprocessing.context import BaseContext
from pathlib import Path

from ..document import DocumentError, Place, Problem
from ..document.yaml_text import MAX_BYTES
from ..files.reading import UnreadableError, read_regular
from .record import Record, Unreadable, record

_WORTH_A_POOL = 200_000
"""Bytes of YAML below which one process is done before others have started: measured, about half a second's work."""
_CHUNK = 16
Done = Callable[[int], None]


def find_installations(paths: Iterable[Path]) -> tuple[list[Path], list[Unreadable]]:
    """The files named, and every installation in the folders named, each once; and folders that cannot be entered.

    Within a folder a YAML file counts if it has an ``installation:`` section: included files and part files do not.
    Links to folders are not followed.
    """
    found: dict[Path, Path] = {}
    closed: list[Unreadable] = []
    for path in paths:
        inside = _in_folder(path, closed) if path.is_dir() else (path,)
        for file in inside:
            found.setdefault(file.resolve(), file)
    return list(found.values()), closed


def _in_folder(folder: Path, closed: list[Unreadable]) -> Iterator[Path]:
    def refused(error: OSError) -> None:
        name = str(error.filename)
        closed.append(Unreadable(name, (_problem(name, f"cannot be opened: {error.strerror}"),)))

    for here, folders, names in os.walk(folder, onerror=refused):
        folders[:] = sorted(f for f in folders if not f.startswith("."))
        for name in sorted(names):
            file = Path(here, name)
            if file.suffix.lower() in (".yaml", ".yml") and _is_installation(file):
                yield file


def _is_installation(file: Path) -> bool:
    try:
        return b"installation:" in read_regular(file, MAX_BYTES)
    except UnreadableError:
        return True  # so that it is told as a file that cannot be read


def check_many(
    files: Sequence[Path], *, counts_only: bool = False, workers: int | None = None, done: Done | None = None
) -> list[Record]:
    """Check every file; the records in the order of the files.

    Args:
        counts_only: leave the verdicts out of the records.
        workers: processes to use; all cores, or one for a small job, when left out.
        done: told how many more files are finished, for a progress bar.
    """
    tell = done or (lambda n: None)
    judge = partial(check_file, counts_only=counts_only)
    if workers is None:
        workers = _cores() if sum(map(_size, files)) > _WORTH_A_POOL else 1
    if workers < 2 or len(files) < 2:
        made = []
        for file in files:
            made.append(judge(file))
            tell(1)
        return made
    results = _pooled(files, judge, workers, tell)
    for i, file in enumerate(files):
        if i not in results:
            results[i] = _alone(file, judge)
            tell(1)
    return [results[i] for i in range(len(files))]


def check_file(file: Path, *, counts_only: bool = False) -> Record:
    """Check one file; what keeps it from being checked is told in the record, never raised."""
    from ..analysis.study import Study
    from ..causes.causes import find_causes
    from ..document import load
    from ..rules.engine import judge

    try:
        ledger = judge(Study(load(file)))
        causes = None if counts_only else find_causes(ledger)
        return record(ledger, causes, counts_only=counts_only)
    except DocumentError as bad:
        return Unreadable(str(file), bad.problems)
    except Exception as fault:  # one file on which the checker itself fails must not lose the others
        told = f"the checker itself failed on this file, please report it: {type(fault).__name__}: {fault}"
        return Unreadable(str(file), (_problem(str(file), told),), failed=True)


def _pooled(
    files: Sequence[Path], judge: Callable[[Path], Record], workers: int, tell: Done
) -> dict[int, Record]:
    """Records by index; those of a process that ended before its time are missing."""
    size = max(1, min(_CHUNK, len(files) // (4 * workers)))
    results: dict[int, Record] = {}
    pool = ProcessPoolExecutor(workers, mp_context=_context(), initializer=_left_to_the_first)
    try:
        chunks: dict[Future[list[Record]], int] = {
            pool.submit(_chunk, files[start : start + size], judge): start
            for start in range(0, len(files), size)
        }
        for future in as_completed(chunks):
            try:
                made = future.result()
            except BrokenProcessPool:
                continue
            results.update(enumerate(made, chunks[future]))
            tell(len(made))
    finally:
        pool.shutdown(cancel_futures=True)
    return results


def _left_to_the_first() -> None:
    """Leave Ctrl-C, which reaches every process, to the one that was started first."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _chunk(files: Sequence[Path], judge: Callable[[Path], Record]) -> list[Record]:
    return [judge(file) for file in files]


def _alone(file: Path, judge: Callable[[Path], Record]) -> Record:
    """Check a file in a process of its own, since one like it ended a process."""
    try:
        with ProcessPoolExecutor(1, mp_context=_context(), initializer=_left_to_the_first) as pool:
            return pool.submit(judge, file).result()
    except BrokenProcessPool:
        told = "checking this file ended the process, most likely for want of memory"
        return Unreadable(str(file), (_problem(str(file), told),), failed=True)


def _context() -> BaseContext:
    """A way to start processes that is safe beside threads, and starts them with the rules already imported."""
    from ..rules.engine import all_rules

    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(sorted({one.judge.__module__ for one in all_rules().values()}))
    return context


def _cores() -> int:
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity is not None else os.cpu_count() or 1


def _size(file: Path) -> int:
    try:
        return file.stat().st_size
    except OSError:
        return 0


def _problem(name: str, told: str) -> Problem:
    return Problem(Place(name, 1, 1), told)
