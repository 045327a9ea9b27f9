"""Listening on this machine alone, at a free port, until the user ends it."""

from __future__ import annotations

import gc
import socket
from collections.abc import Callable
from contextlib import suppress
from threading import Thread
from urllib.parse import urlencode

import uvicorn

from .desk import Desk
from .guard import Keys
from .server import application

HOST = "127.0.0.1"


def serve(desk: Desk, started: Callable[[str], None], *, port: int = 0, tour: bool = False) -> None:
    """Serve the page of a desk until it is interrupted.

    Args:
        started: called with the address that opens the page, once.
        port: where to listen; 0 takes one of the document's own, so that the browser finds what it kept, else any that is free.

    Raises:
        OSError: the port is taken.
    """
    keys = Keys()
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        _bind(listening, port, desk)
        listening.listen(64)
        host = f"{HOST}:{listening.getsockname()[1]}"
        app = application(desk, keys, [host], tour=tour)
        config = uvicorn.Config(
            app,
            log_level="critical",
            access_log=False,
            server_header=False,
            date_header=False,
            lifespan="off",
            timeout_keep_alive=30,
            limit_concurrency=64,
            h11_max_incomplete_event_size=65_536,
            ws="none",
        )
        Thread(target=_begin, args=(desk,), daemon=True).start()
        started(f"http://{host}/?{urlencode({'token': keys.token or ''})}")
        try:
            with suppress(KeyboardInterrupt):  # how it is ended
                uvicorn.Server(config).run(sockets=[listening])
        finally:
            desk.end()


def _begin(desk: Desk) -> None:
    """Judge the document while the browser opens; what is kept from then on is not looked through for garbage at every letter."""
    desk.check({}, 0)
    gc.freeze()


def _bind(listening: socket.socket, port: int, desk: Desk) -> None:
    if port == 0:
        own = _DYNAMIC.start + int(desk.main.drafts.ident[:8], 16) % len(_DYNAMIC)
        try:
            listening.bind((HOST, own))
            return
        except OSError:
            pass  # taken: any other does as well
    listening.bind((HOST, port))


_DYNAMIC = range(49152, 65536)
"""Ports for private use, RFC 6335 section 6."""
