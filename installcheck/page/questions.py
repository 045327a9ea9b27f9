"""The questions a page asks, each answered from the desk in plain values."""

from __future__ import annotations

from io import StringIO
from typing import Any

from rich.console import Console

from ..comparison import compare
from ..document.load import loads
from ..document.part_search import figures, found, lines_for
from ..document.parts import Library, standard_library
from ..document.places import DocumentError
from ..document.rewriting import CannotWriteError, rewritten
from ..document.schema import document_schema
from ..files.reading import UnreadableError
from ..files.writing import OutputError
from ..model.edits import Edit
from ..model.installation import Installation
from ..outputs.terminal.compare import print_comparison
from ..outputs.wording import CAUTION, VERSION
from . import answers
from .context import context_at
from .desk import ConflictError, Desk
from .drawn import digest
from .forms import NotFilledError, edit_of, forms
from .offers import help_at, offers

Answer = dict[str, Any]


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
        self._sheets: dict[str, str] = {}

    def open(self, _: Asked) -> Answer:
        """What a window starts from: the text, the draft if one was left, the words of the schema."""
        desk, draft = self.desk, self.desk.drafts.read()
        left = None
        if draft is not None and draft.text != desk.saved:
            left = {"text": draft.text, "when": draft.when, "on_other": draft.based_on != desk.digest}
        return {
            "name": desk.name,
            "id": desk.drafts.ident,
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

    def causes(self, asked: Asked) -> Answer:
        """What is to be put right in the text judged last, with cures that were tried."""
        serial = asked.number("serial")
        found = self.desk.causes(serial)
        return {"serial": serial, **(answers.causes(found) if found is not None else {"superseded": True})}

    def cure(self, asked: Asked) -> Answer:
        """The text with one cure in it, and those it stands on."""
        found, text, number = (
            self.desk.causes(self.desk.checked.serial),
            asked.text("text"),
            asked.number("number"),
        )
        if found is None or self.desk.checked.of != text or not 1 <= number <= len(found.causes):
            return {"refused": "the text has changed since: wait for the new cures"}
        one = found.causes[number - 1]
        stood_on = [found.causes[n - 1] for n in sorted(one.after)]
        edits = [edit for cause in (*stood_on, one) for edit in cause.edits]
        if not one.edits:
            return {"refused": "no change that was tried puts it right"}
        words = "; ".join(edit.words for edit in edits)
        return self._rewritten(text, Edit(tuple(change for edit in edits for change in edit.changes), words))

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

    def sheets(self, asked: Asked) -> Answer:
        """Title and digest of every sheet of the last check."""
        made = self.desk.sheets(asked.number("serial"))
        if made is None:
            return {"superseded": True}
        self._sheets = {digest(svg): svg for _, svg in made}
        return {"sheets": [{"title": title, "digest": digest(svg)} for title, svg in made]}

    def sheet(self, asked: Asked) -> Answer:
        """One sheet, by its digest."""
        svg = self._sheets.get(asked.text("digest"))
        return {"svg": svg} if svg is not None else {"gone": True}

    def card(self, asked: Asked) -> Answer:
        """The card of a thing."""
        found, ledger = self.desk.card(asked.text("section"), asked.text("id")), self.desk.checked.ledger
        if found is None or ledger is None:
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

    def kinds(self, _: Asked) -> Answer:
        """The forms for one more thing."""
        return {
            "kinds": [
                {
                    "kind": form.kind,
                    "title": form.title,
                    "fields": [
                        {
                            "word": f.word,
                            "title": f.title,
                            "help": f.help,
                            "choices": list(f.choices),
                            "value": "",
                            "long": f.long,
                        }
                        for f in form.fields
                    ],
                }
                for form in forms(*self._held())
            ]
        }

    def add(self, asked: Asked) -> Answer:
        """The text with one more thing in it, as a form was filled in."""
        fields, text = asked.any("fields"), asked.text("text")
        if not isinstance(fields, dict) or not all(isinstance(v, str) for v in fields.values()):
            raise WrongQuestion("'fields' is missing or holds more than texts")
        try:
            edit = edit_of(asked.text("kind"), fields, loads(text, self.desk.name, self.desk.folder))
        except NotFilledError as bad:
            return {"refused": str(bad)}
        except DocumentError as bad:
            return {"refused": f"put the text right first: {bad.problems[0]}"}
        return self._rewritten(text, edit)

    def parts(self, asked: Asked) -> Answer:
        """Parts that have some words, with their figures and the lines to paste."""
        _, library = self._held()
        hits = found(library, asked.text("words"), asked.text("section", ""))
        return {
            "parts": [
                {
                    "key": p.key,
                    "section": p.section,
                    "title": str(p.raw.get("title") or ""),
                    "figures": [list(f) for f in figures(p)],
                    "lines": lines_for(p),
                }
                for p in hits[:60]
            ],
            "more": max(0, len(hits) - 60),
        }

    def _held(self) -> tuple[Installation | None, Library]:
        """The document as it was last read, and the parts it can use."""
        ledger = self.desk.checked.ledger
        if ledger is None:
            return None, standard_library()
        return ledger.document.installation, ledger.document.library

    def _rewritten(self, text: str, edit: Edit) -> Answer:
        """The text with an edit made in it; why not, where it cannot be."""
        desk = self.desk
        try:
            document = loads(text, desk.name, desk.folder)
            files = rewritten(document, edit)
        except DocumentError as bad:
            return {"refused": "; ".join(str(problem) for problem in bad.problems[:3])}
        except CannotWriteError as bad:
            return {"refused": str(bad)}
        others = [name for name in files if name != desk.name]
        if others:
            return {
                "refused": f"this has to be changed in {', '.join(others)}, which is not open here: {edit.words}"
            }
        return {"text": files[desk.name].decode("utf-8") if files else text, "words": edit.words}

    def difference(self, asked: Asked) -> Answer:
        """The text against its file, and what that changes in the installation."""
        text = asked.text("text")
        return {"difference": self.desk.difference(text), "changes": self._changes(text)}

    def _changes(self, text: str) -> list[str]:
        """What the text changes in the installation, as ``compare`` tells it; nothing where one of the two cannot be read."""
        desk = self.desk
        if text == desk.saved:
            return []
        try:
            between = compare(loads(desk.saved, desk.name, desk.folder), loads(text, desk.name, desk.folder))
        except DocumentError:
            return []
        told = StringIO()
        print_comparison(between, Console(file=told, width=96, no_color=True))
        return [line for line in told.getvalue().splitlines() if line.strip()]

    def save(self, asked: Asked) -> Answer:
        """Save the text; where the file was changed meanwhile, tell what by, and save nothing."""
        try:
            self.desk.save(asked.text("text"), asked.text("name", ""), asked.text("over", ""))
        except ConflictError as bad:
            return {"conflict": {"digest": bad.digest, "difference": bad.difference}}
        except (OutputError, UnreadableError) as bad:
            return {"refused": str(bad)}
        return {
            "saved": True,
            "name": self.desk.name,
            "id": self.desk.drafts.ident,
            "digest": self.desk.digest,
        }

    def disk(self, _: Asked) -> Answer:
        """Whether the file is as it was read; asked in turn, so that the window also sees when this program ends."""
        return {"changed": self.desk.file is not None and self.desk.on_disk() != self.desk.digest}

    def theirs(self, asked: Asked) -> Answer:
        """The file as it is now, with its difference from the text; ``take`` makes it the saved one."""
        try:
            text = self.desk.reread() if asked.any("take") is True else self.desk.theirs()
        except UnreadableError as bad:
            return {"refused": f"the file {bad}"}
        return {
            "text": text,
            "digest": self.desk.digest,
            "difference": self.desk.difference_of(text, asked.text("text")),
        }
