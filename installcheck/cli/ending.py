"""How a command ends: what surrounds every one, and what becomes of what none expects."""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections.abc import Callable
from types import FrameType
from typing import NoReturn

_REFUSED, _CHECKER_FAILED, _INTERRUPTED = 2, 3, 130
_at_once = False
_stopped: list[int] = []
"""Exit statuses of the signals to end that came, in their order."""


def end_at_once() -> None:
    """Let a command that is :func:`guarded` and has started nothing beside itself end without taking itself apart.

    What is in memory goes with the process; to take it apart piece by piece takes a twentieth of a check.
    """
    global _at_once
    _at_once = True


def guarded(command: Callable[[], None]) -> NoReturn:
    """Run a command; ends with its exit status, and never with a traceback.

    Raises:
        SystemExit: always.
    """
    try:
        _prepare()
        command()
    except SystemExit as end:
        _leave(end.code if isinstance(end.code, int) else 1 if end.code else 0)
    except KeyboardInterrupt:
        _leave(_INTERRUPTED)
    except BrokenPipeError:
        _leave(1)
    except OSError as bad:
        about = f"'{bad.filename}'" if bad.filename else "what is printed cannot be written"
        _end(f"{about}: {bad.strerror or bad}", _REFUSED)
    except MemoryError:
        _end("this takes more memory than there is", _REFUSED)
    except Exception as fault:
        if _stopped:  # the interpreter wraps what is raised at some places
            _leave(_INTERRUPTED)
        _end(_told(fault), _CHECKER_FAILED)
    _leave(0)


def _prepare() -> None:
    """Refuse to start where nothing could be said, and make sure that everything can be.

    Raises:
        SystemExit: standard output is closed, or the current folder is gone.
    """
    gc.set_threshold(200_000, 50, 50)  # a document is a million small objects, none of them garbage
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # nothing else has a say in what is read
    os.environ.setdefault(
        "OPENBLAS_NUM_THREADS", "1"
    )  # matrices are small: threads take longer to start than they save
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115  kept to the end
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, _stop)
    if sys.stdout is None:
        _end("standard output is closed", _REFUSED)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")
    try:
        os.getcwd()
    except OSError:
        _end("the current folder is gone: change to one that is there", _REFUSED)


def _stop(number: int, frame: FrameType | None) -> NoReturn:
    """A signal to end leaves by the usual way, so that no half-written file stays."""
    _stopped.append(128 + number)
    raise KeyboardInterrupt


def _leave(status: int) -> NoReturn:
    """End with a status once all that was printed is out; say why if it cannot be."""
    if _stopped:
        status = _stopped[0]
        _say("interrupted")
    try:
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:
        _discard_output()
    except OSError as bad:
        _discard_output()
        _say(f"what is printed cannot be written: {bad.strerror or bad}")
        status = _REFUSED
    if _at_once and "multiprocessing" not in sys.modules:
        if sys.stderr is not None:
            sys.stderr.flush()
        os._exit(status)
    gc.freeze()  # all of it goes at once: looking through it for garbage first takes a sixth of a check
    raise SystemExit(status)


def _end(message: str, status: int) -> NoReturn:
    _say(message)
    _discard_output()
    raise SystemExit(status)


def _say(message: str) -> None:
    from ..files.names import visible

    print(f"installcheck: {visible(message)}", file=sys.stderr)


def _discard_output() -> None:
    """Let the interpreter find nothing to complain of when it ends."""
    if sys.stdout is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _told(fault: Exception) -> str:
    """What to report of a fault of the checker: what it is, and where it was raised."""
    where = fault.__traceback__
    while where is not None and where.tb_next is not None:
        where = where.tb_next
    at = f" at {where.tb_frame.f_globals.get('__name__')}:{where.tb_lineno}" if where is not None else ""
    return f"the checker itself failed ({type(fault).__name__}: {fault}{at}); please report it together with the document"
