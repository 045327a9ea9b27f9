"""What the page is served by: its shell, its files and its questions, behind the guard; work is done beside the loop that listens."""

from __future__ import annotations

import json
import secrets
from collections.abc import Awaitable, Callable
from importlib.resources import files

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from ..files.writing import OutputError
from .asked import Asked, WrongQuestion
from .desk import Desk
from .guard import Guard, Keys, TooLarge, policy
from .questions import Questions

_KINDS = {".js": "text/javascript", ".css": "text/css", ".txt": "text/plain", ".svg": "image/svg+xml"}


def application(desk: Desk, keys: Keys, hosts: list[str], *, tour: bool = False) -> Guard:
    """The whole page, behind its guard."""
    questions = Questions(desk, tour=tour)
    static = files(__package__ or "").joinpath("static")
    known = {item.name for item in static.iterdir() if item.is_file()}

    async def shell(request: Request) -> Response:
        token = request.query_params.get("token")
        key = keys.spend(token) if token is not None else ""
        if key is None:
            return HTMLResponse(_SPENT, 403)
        nonce = secrets.token_urlsafe(16)
        page = static.joinpath("page.html").read_text(encoding="utf-8")
        page = page.replace("{{nonce}}", nonce).replace("{{key}}", key or "")
        return HTMLResponse(page, headers={"content-security-policy": policy(nonce)})

    async def file(request: Request) -> Response:
        name = request.path_params["name"]
        kind = _KINDS.get(name[name.rfind(".") :]) if name in known else None
        if kind is None:
            return Response("not here\n", 404, media_type="text/plain")
        return Response(static.joinpath(name).read_bytes(), media_type=kind)

    return Guard(
        Starlette(
            routes=[
                Route("/", shell),
                Route("/static/{name}", file),
                Route("/ask/{question}", _answering(questions), methods=["POST"]),
            ]
        ),
        keys,
        hosts,
    )


_SPENT = (
    "<!doctype html><html lang=en><meta charset=utf-8><title>installcheck</title>"
    "<p>This address opens one window, once. Start <code>installcheck page</code> again for a new one.</p>"
)


def _answering(questions: Questions) -> Callable[[Request], Awaitable[Response]]:
    async def answer(request: Request) -> Response:
        name = request.path_params["question"]
        ask = getattr(questions, name, None) if not name.startswith("_") and name.isidentifier() else None
        if not callable(ask):
            return JSONResponse({"refused": "not known here"}, 404)
        try:
            asked = Asked(json.loads(await request.body()))
            return JSONResponse(await run_in_threadpool(ask, asked))
        except TooLarge:
            return JSONResponse({"refused": "the text is too large to be read"}, 413)
        except (WrongQuestion, OutputError, ValueError, RecursionError) as bad:
            return JSONResponse({"refused": str(bad)}, 400)

    return answer
