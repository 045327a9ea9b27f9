"""Who may speak to the page: this machine, this address, this window; everything else is refused before it is read."""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Iterable
from typing import TYPE_CHECKING

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse

from .text_file import MOST_BYTES

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

MAX_BODY = 4 * MOST_BYTES
"""Bytes of a request: the largest file that is opened, every sign of it escaped, and others beside it."""
_SILENT = ("referrer-policy", "no-referrer")
_HEADERS = (
    _SILENT,
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cache-control", "no-store"),
    ("permissions-policy", "camera=(), microphone=(), geolocation=(), payment=(), usb=()"),
)


class Keys:
    """The one-time token of the printed address, and the key of the window that used it.

    Attributes:
        token: opens the page once.
        key: what the window then sends with every question; it is never part of an address.
    """

    def __init__(self) -> None:
        self.token: str | None = secrets.token_urlsafe(32)
        self.key = secrets.token_urlsafe(32)

    def spend(self, token: str) -> str | None:
        """The key, for the token; the token is worth nothing afterwards."""
        if self.token is None or not hmac.compare_digest(token.encode(), self.token.encode()):
            return None
        self.token = None
        return self.key

    def opens(self, authorization: str) -> bool:
        """Whether a request carries the key."""
        return hmac.compare_digest(authorization.encode(), f"Bearer {self.key}".encode())


def policy(nonce: str) -> str:
    """The content policy: nothing but the page's own files, and styles that carry ``nonce``."""
    return (
        f"default-src 'none'; script-src 'self'; style-src 'self' 'nonce-{nonce}'; connect-src 'self'; "
        "img-src 'self' data:; font-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )


class Guard:
    """Refuses, before anything is read, what does not come from the page at its own address.

    A name that resolves to this machine, another site's script and a body without end are refused; questions
    (everything under ``/ask/``) need the key.
    """

    def __init__(self, app: ASGIApp, keys: Keys, hosts: Iterable[str]) -> None:
        self.app, self.keys = app, keys
        self.hosts = frozenset(hosts)
        self.origins = frozenset(f"http://{host}" for host in self.hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        refused = self._refused(scope)
        if refused is not None:
            status, why = refused
            await PlainTextResponse(why + "\n", status, dict(_HEADERS))(scope, receive, send)
            return

        async def marked(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in _HEADERS:
                    headers.setdefault(name, value)
                headers.setdefault("content-security-policy", policy(""))
            await send(message)

        await self.app(scope, _bounded(receive), marked)

    def _refused(self, scope: Scope) -> tuple[int, str] | None:
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        if len(hosts) != 1 or hosts[0] not in self.hosts:
            return 421, "this page answers at its own address only"
        origin = headers.get("origin")
        if origin is not None and origin not in self.origins:
            return 403, "this page answers its own window only"
        # A link to the printed address, from a terminal or a mail program, is a navigation and carries the token.
        followed = scope["path"] == "/" and headers.get("sec-fetch-mode") == "navigate"
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none") and not followed:
            return 403, "this page answers its own window only"
        if scope["method"] not in ("GET", "HEAD", "POST"):
            return 405, "not known here"
        try:
            size = int(headers.get("content-length", "0"))
        except ValueError:
            return 400, "the length of the text is not a number"
        if size > MAX_BODY:
            return 413, "the text is too large to be read"
        if scope["path"].startswith("/ask/"):
            if scope["method"] != "POST":
                return 405, "questions are posted"
            if headers.get("content-type", "").partition(";")[0].strip() != "application/json":
                return 415, "questions are asked in JSON"
            if not self.keys.opens(headers.get("authorization", "")):
                return 401, "this window has no key: open the address the terminal shows"
        return None


class TooLarge(Exception):  # noqa: N818 - it is no fault of ours
    """A body that goes on beyond the bound, whatever its head said."""


def _bounded(receive: Receive) -> Receive:
    read = 0

    async def bounded() -> Message:
        nonlocal read
        message = await receive()
        read += len(message.get("body", b""))
        if read > MAX_BODY:
            raise TooLarge
        return message

    return bounded
