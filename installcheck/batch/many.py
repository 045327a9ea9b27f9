"""Many installations checked in one call, on all cores; a broken file never stops the rest."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from datetime import date
from functools import partial
from multiprocessing.context import BaseContext
from pathlib import Path

from ..document import DocumentError, Place, Problem
from ..document.parts import standard_library
from ..document.yaml_text import MAX_BYTES
from ..files.reading import UnreadableError, noting, read_regular
from .record import Record, Unreadable, record
from .resuming import Kept, Noted

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
    files: Sequence[Path],
    *,
    counts_only: bool = False,
    workers: int | None = None,
    done: Done | None = None,
    kept: Kept | None = None,
) -> list[Record]:
    """Check every file; the records in the order of the files.

    Args:
        counts_only: leave the verdicts out of the records.
        workers: processes to use; all cores, or one for a small job, when left out.
        done: told how many more files are finished, for a progress bar.
        kept: what came of files before, with counts alone: those that would come out the same are not judged again, and
            what comes of the others is added as it comes.

    Raises:
        RecordError: what came of a file cannot be kept.
    """
    tell = done or (lambda n: None)
    judge = partial(_noted, counts_only=counts_only)
    results: dict[int, Record] = {}
    if kept is not None:
        results = {i: known for i, known in enumerate(kept.of(files)) if known is not None}
        tell(len(results))
    left = [i for i in range(len(files)) if i not in results]

    def came(start: int, made: Sequence[Noted]) -> None:
        results.update((left[start + i], one.record) for i, one in enumerate(made))
        if kept is not None:
            kept.add(made)
        tell(len(made))

    if workers is None:
        workers = _cores() if sum(_size(files[i]) for i in left) > _WORTH_A_POOL else 1
    if workers < 2 or len(left) < 2:
        for at, i in enumerate(left):
            came(at, [judge(files[i])])
    else:
        _pooled([files[i] for i in left], judge, workers, came)
        for at, i in enumerate(left):
            if i not in results:
                came(at, [_alone(files[i], judge)])
    return [results[i] for i in range(len(files))]


def check_file(file: Path, *, counts_only: bool = False) -> Record:
    """Check one file; what keeps it from being checked is told in the record, never raised."""
    return _noted(file, counts_only=counts_only).record


def _noted(file: Path, *, counts_only: bool) -> Noted:
    """Check one file and note what was asked for on the way."""
    from ..analysis.study import Study
    from ..causes.causes import find_causes
    from ..document import load
    from ..rules.engine import judge

    standard_library()  # what is read once is not asked for by the first file alone
    today = date.today().isoformat()
    with noting() as asked:
        try:
            ledger = judge(Study(load(file)))
            causes = None if counts_only else find_causes(ledger)
            made: Record = record(ledger, causes, counts_only=counts_only)
        except DocumentError as bad:
            return Noted(Unreadable(str(file), bad.problems), ())
        except Exception as fault:  # one file on which the checker itself fails must not lose the others
            told = (
                f"the checker itself failed on this file, please report it: {type(fault).__name__}: {fault}"
            )
            return Noted(Unreadable(str(file), (_problem(str(file), told),), failed=True), ())
    dated = bool(ledger.document.installation.deviations)
    return Noted(made, tuple(dict.fromkeys(asked)), today if dated else "")


def _pooled(
    files: Sequence[Path],
    judge: Callable[[Path], Noted],
    workers: int,
    came: Callable[[int, Sequence[Noted]], None],
) -> None:
    """Tell what came of files as it comes, with the place of the first; of a process that ended before its time it is not told."""
    size = max(1, min(_CHUNK, len(files) // (4 * workers)))
    pool = ProcessPoolExecutor(workers, mp_context=_context(), initializer=_left_to_the_first)
    try:
        chunks: dict[Future[list[Noted]], int] = {
            pool.submit(_chunk, files[start : start + size], judge): start
            for start in range(0, len(files), size)
        }
        for future in as_completed(chunks):
            try:
                made = future.result()
            except BrokenProcessPool:
                continue
            came(chunks[future], made)
    finally:
        pool.shutdown(cancel_futures=True)


def _left_to_the_first() -> None:
    """Leave Ctrl-C, which reaches every process, to the one that was started first, and end when that one is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_the_first, daemon=True).start()


def _end_with_the_first() -> None:
    """End once the process that was started first is no more: whatever ended it, nothing else would end this one."""
    first = multiprocessing.parent_process()
    if first is not None:
        first.join()
        os._exit(1)


def _chunk(files: Sequence[Path], judge: Callable[[Path], Noted]) -> list[Noted]:
    return [judge(file) for file in files]


def _alone(file: Path, judge: Callable[[Path], Noted]) -> Noted:
    """Check a file in a process of its own, since one like it ended a process."""
    try:
        with ProcessPoolExecutor(1, mp_context=_context(), initializer=_left_to_the_first) as pool:
            return pool.submit(judge, file).result()
    except BrokenProcessPool:
        told = "checking this file ended the process, most likely for want of memory"
        return Noted(Unreadable(str(file), (_problem(str(file), told),), failed=True), ())


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
