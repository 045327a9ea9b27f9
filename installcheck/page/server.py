"""The questions a page asks, each answered from the desk; the work is done beside the loop that listens."""

from __future__ import annotations

import json
import secrets
from collections.abc import Awaitable, Callable
from importlib.resources import files
from typing import Any

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from ..document.schema import document_schema
from ..files.reading import UnreadableError
from ..files.writing import OutputError
from ..outputs.wording import CAUTION, VERSION
from . import answers
from .cards import card
from .context import context_at
from .desk import ConflictError, Desk
from .guard import Guard, Keys, TooLarge, policy
from .offers import help_at, offers

Answer = dict[str, Any]
_KINDS = {".js": "text/javascript", ".css": "text/css", ".txt": "text/plain", ".svg": "image/svg+xml"}


class WrongQuestion(Exception):  # noqa: N818 - told to the page, not a fault of ours
    """A question the page does not ask: a field is missing or of another kind."""


class Asked:
    """A question's fields, each of the kind it must have."""

    def __init__(self, body: object) -> None:
        if not isinstance(body, dict):
            raise WrongQuestion("a question is a JSON object")
        self._body = body

    def text(self, name: str, default: str | None = None) -> str:
        value = self._body.get(name, default)
        if not isinstance(value, str):
            raise WrongQuestion(f"'{name}' is missing or no text")
        return value

    def number(self, name: str) -> int:
        value = self._body.get(name)
        if not isinstance(value, int) or isinstance(value, bool):
            raise WrongQuestion(f"'{name}' is missing or no whole number")
        return value

    def any(self, name: str) -> object:
        return self._body.get(name)


class Questions:
    """Every question the page can ask, by name; each takes its fields and gives plain values."""

    def __init__(self, desk: Desk, *, tour: bool = False) -> None:
        self.desk, self.tour = desk, tour
        self._drawn: tuple[object, list[tuple[str, str]]] = (None, [])

    def open(self, _: Asked) -> Answer:
        """What a window starts from: the text, the draft if one was left, the words of the schema."""
        desk, draft = self.desk, self.desk.drafts.read()
        left = None
        if draft is not None and draft.text != desk.saved:
            left = {
                "text": draft.text,
                "when": draft.when,
                "on_other": draft.based_on != desk.digest,
                "difference": desk.difference_of(desk.saved, draft.text),
            }
        return {
            "name": desk.name,
            "named": desk.file is not None,
            "text": desk.saved,
            "digest": desk.digest,
            "draft": left,
            "caution": CAUTION,
            "version": VERSION,
            "tour": self.tour,
            "sections": list(document_schema()["properties"]),  # type: ignore[arg-type]
        }

    def check(self, asked: Asked) -> Answer:
        """Verdicts of a text; the text is kept as a draft first, so that nothing typed is lost."""
        text, serial = asked.text("text"), asked.number("serial")
        kept = self._keep(text)
        found = self.desk.check(text, serial)
        if found is None:
            return {"serial": serial, "superseded": True}
        return {**answers.checked(found), "kept": kept}

    def keep(self, asked: Asked) -> Answer:
        """Keep an unsaved text."""
        return {"kept": self._keep(asked.text("text"))}

    def _keep(self, text: str) -> str:
        """Keep a draft; why it cannot be kept, if so."""
        try:
            self.desk.keep(text)
        except (OutputError, OSError) as bad:
            return str(bad)
        return ""

    def forget(self, _: Asked) -> Answer:
        """Drop the draft: the user said so."""
        self.desk.drafts.drop()
        return {}

    def sheets(self, _: Asked) -> Answer:
        """Title and digest of every sheet of the last check."""
        return {"sheets": [{"title": title, "digest": answers.digest(svg)} for title, svg in self._sheets()]}

    def sheet(self, asked: Asked) -> Answer:
        """One sheet, by its digest."""
        wanted = asked.text("digest")
        for _, svg in self._sheets():
            if answers.digest(svg) == wanted:
                return {"svg": svg}
        return {"gone": True}

    def _sheets(self) -> list[tuple[str, str]]:
        ledger = self.desk.checked.ledger
        if ledger is None:
            return []
        if self._drawn[0] is not ledger:
            self._drawn = (ledger, answers.drawn(ledger))
        return self._drawn[1]

    def card(self, asked: Asked) -> Answer:
        """The card of a thing."""
        ledger = self.desk.checked.ledger
        found = card(ledger, asked.text("section"), asked.text("id")) if ledger is not None else None
        if ledger is None or found is None:
            return {"gone": True}
        return {"card": answers.card(ledger.document, found)}

    def offers(self, asked: Asked) -> Answer:
        """What can be written at an offset of a text."""
        context = context_at(asked.text("text"), asked.number("offset"))
        ledger = self.desk.checked.ledger
        held = (ledger.document.installation, ledger.document.library) if ledger is not None else (None, None)
        found = offers(context, *held)
        return {
            "from": context.start,
            "path": list(context.path),
            "offers": [{"word": o.word, "kind": o.kind, "help": o.help} for o in found],
        }

    def help(self, asked: Asked) -> Answer:
        """What the word at an offset means, and the thing it belongs to."""
        text, offset = asked.text("text"), asked.number("offset")
        context = context_at(text, offset)
        path = context.path
        if not context.of_value:
            end = offset
            while end < len(text) and text[end] not in ":,{}[]#\n":
                end += 1
            word = text[context.start : end].strip().strip("\"'")
            path = (*path, word)
        return {"path": list(path), "help": help_at(path)}

    def difference(self, asked: Asked) -> Answer:
        """The text against its file."""
        return {"difference": self.desk.difference(asked.text("text"))}

    def save(self, asked: Asked) -> Answer:
        """Save the text; where the file was changed meanwhile, tell what by, and save nothing."""
        try:
            self.desk.save(asked.text("text"), asked.text("name", ""), asked.text("over", ""))
        except ConflictError as bad:
            return {"conflict": {"digest": bad.digest, "difference": bad.difference}}
        except (OutputError, UnreadableError) as bad:
            return {"refused": str(bad)}
        return {"saved": True, "name": self.desk.name, "digest": self.desk.digest}

    def disk(self, _: Asked) -> Answer:
        """Whether the file is as it was read; asked in turn, so that the window also sees when this program ends."""
        return {"changed": self.desk.file is not None and self.desk.on_disk() != self.desk.digest}

    def theirs(self, asked: Asked) -> Answer:
        """The file as it is now, with its difference from the text; ``take`` makes it the saved one."""
        try:
            text = self.desk.reread() if asked.any("take") is True else self.desk.theirs()
        except UnreadableError as bad:
            return {"refused": f"the file {bad}"}
        return {"text": text, "difference": self.desk.difference_of(text, asked.text("text"))}


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
        except (WrongQuestion, ValueError, RecursionError) as bad:
            return JSONResponse({"refused": str(bad)}, 400)

    return answer
