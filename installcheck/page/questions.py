"""The questions a page asks, each answered from the desk in plain values."""

from __future__ import annotations

from collections.abc import Mapping
from io import StringIO
from typing import Any

from rich.console import Console

from ..comparison import compare
from ..document.part_search import figures, found, lines_for
from ..document.parts import Library, standard_library
from ..document.places import DocumentError
from ..document.rewriting import CannotWriteError, rewritten
from ..files.reading import UnreadableError
from ..files.writing import OutputError
from ..model.edits import Edit, Path
from ..model.installation import Installation
from ..outputs.terminal.compare import print_comparison
from ..outputs.wording import CAUTION, VERSION
from . import answers
from .aside import Failed
from .asked import Asked
from .context import context_at
from .desk import Desk
from .drawn import digest
from .forms import NotFilledError, edit_of, forms
from .line_ends import shown
from .offers import help_at, offers
from .text_file import ConflictError, TextFile

Answer = dict[str, Any]


class Questions:
    """Every question the page can ask, by name; each takes its fields and gives plain values.

    ``texts`` are the unsaved texts of the window by the name of their file; ``file`` names one file.
    """

    def __init__(self, desk: Desk, *, tour: bool = False) -> None:
        self.desk, self.tour = desk, tour
        self._sheets: dict[str, str] = {}

    def open(self, _: Asked) -> Answer:
        """What a window starts from: the main file and what is said in every output."""
        return {"main": self._file(self.desk.main), "caution": CAUTION, "version": VERSION, "tour": self.tour}

    def file(self, asked: Asked) -> Answer:
        """One more file of the document."""
        try:
            return {"file": self._file(self.desk.file(asked.text("file")))}
        except OutputError as bad:
            return {"refused": str(bad)}

    def _file(self, file: TextFile) -> Answer:
        """A file as it was saved, and the draft if one was left."""
        draft = file.left()
        return {
            "name": file.name,
            "id": file.drafts.ident,
            "named": file.file is not None,
            "text": file.saved,
            "digest": file.digest,
            "draft": {"text": draft.text, "when": draft.when, "on_other": draft.based_on != file.digest}
            if draft is not None
            else None,
        }

    def check(self, asked: Asked) -> Answer:
        """Verdicts of texts; they are kept as drafts first, so that nothing typed is lost."""
        texts, serial = asked.texts(), asked.number("serial")
        kept = self._keep(texts)
        found = self.desk.check(texts, serial)
        if found is None:
            return {"serial": serial, "superseded": True}
        return {**answers.checked(found), "files": self.desk.named(), "kept": kept}

    def causes(self, asked: Asked) -> Answer:
        """What is to be put right in the texts judged last, with cures that were tried."""
        serial = asked.number("serial")
        found = self.desk.causes(serial)
        if isinstance(found, Failed):
            return {"serial": serial, "failed": found.words}
        return {"serial": serial, **(found.answer if found is not None else {"superseded": True})}

    def cure(self, asked: Asked) -> Answer:
        """The texts with one cure in them, and those it stands on."""
        texts, number, way = asked.texts(), asked.number("number"), asked.number("way")
        found = self.desk.found(texts)
        if found is None or not 1 <= number <= len(found.ways):
            return {"refused": "the text has changed since: wait for the new cures"}
        ways = found.ways[number - 1]
        if not 0 <= way < len(ways):
            return {"refused": "no change that was tried puts it right"}
        return self._rewritten(texts, ways[way])

    def keep(self, asked: Asked) -> Answer:
        """Keep unsaved texts."""
        return {"kept": self._keep(asked.texts())}

    def _keep(self, texts: Mapping[str, str]) -> str:
        """Keep drafts; why they cannot be kept, if so."""
        try:
            for name, text in texts.items():
                self.desk.file(name).keep(text)
        except (OutputError, OSError) as bad:
            return str(bad)
        return ""

    def forget(self, asked: Asked) -> Answer:
        """Drop the draft of a file: the user said so."""
        self.desk.file(asked.text("file")).drafts.drop()
        return {}

    def sheets(self, asked: Asked) -> Answer:
        """Title and digest of every sheet of the last check."""
        made = self.desk.sheets(asked.number("serial"))
        if made is None:
            return {"superseded": True}
        if isinstance(made, Failed):
            return {"failed": made.words}
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
        return {"path": list(path), "help": help_at(path), "figures": self._figures(path)}

    def _figures(self, path: Path) -> str:
        """The computed figures of the thing a path is of, in a line."""
        card = self.desk.card(str(path[0]), str(path[1])) if len(path) > 1 else None
        return "; ".join(f"{label} {value}" for label, value in card.in_short) if card is not None else ""

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
        """The texts with one more thing in them, as a form was filled in."""
        fields, texts = asked.texts("fields"), asked.texts()
        try:
            edit = edit_of(asked.text("kind"), fields, self.desk.read(texts))
        except NotFilledError as bad:
            return {"refused": str(bad)}
        except DocumentError as bad:
            return {"refused": f"put the text right first: {bad.problems[0]}"}
        return self._rewritten(texts, edit)

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

    def _rewritten(self, texts: Mapping[str, str], edit: Edit) -> Answer:
        """The texts of the files an edit falls in, with it made in them; why not, where it cannot be."""
        desk = self.desk
        try:
            made = rewritten(desk.read(texts), edit)
            changed = {desk.file(name).name: shown(raw.decode("utf-8")) for name, raw in made.items()}
        except DocumentError as bad:
            return {"refused": "; ".join(str(problem) for problem in bad.problems[:3])}
        except (CannotWriteError, OutputError) as bad:
            return {"refused": str(bad)}
        return {"texts": changed, "words": edit.words}

    def difference(self, asked: Asked) -> Answer:
        """Each text against its file."""
        apart = {name: self.desk.file(name).difference(text) for name, text in asked.texts().items()}
        return {"differences": {name: told for name, told in apart.items() if told}}

    def changes(self, asked: Asked) -> Answer:
        """What the texts change in the installation, as ``compare`` tells it."""
        texts, desk = asked.texts(), self.desk
        if all(text == desk.file(name).saved for name, text in texts.items()):
            return {"changes": [], "unread": False}
        try:
            between = compare(desk.read({}), desk.read(texts))
        except DocumentError:
            return {"changes": [], "unread": True}
        told = StringIO()
        print_comparison(between, Console(file=told, width=96, no_color=True))
        return {"changes": [line for line in told.getvalue().splitlines() if line.strip()], "unread": False}

    def save(self, asked: Asked) -> Answer:
        """Save the text of one file; where the file was changed meanwhile, tell what by, and save nothing."""
        try:
            file = self.desk.save(
                asked.text("file"), asked.text("text"), asked.text("name", ""), asked.text("over", "")
            )
        except ConflictError as bad:
            return {"conflict": {"digest": bad.digest, "difference": bad.difference}}
        except (OutputError, UnreadableError) as bad:
            return {"refused": str(bad)}
        return {"saved": True, "name": file.name, "id": file.drafts.ident, "digest": file.digest}

    def disk(self, _: Asked) -> Answer:
        """Which files are not as they were read; asked in turn, so that the window also sees when this program ends."""
        desk = self.desk
        changed = [n for n, f in desk.files.items() if f.file is not None and f.on_disk() != f.digest]
        return {"changed": changed, "tables": [list(one) for one in desk.tables()]}

    def theirs(self, asked: Asked) -> Answer:
        """A file as it is now, with its difference from the text; ``take`` makes it the saved one."""
        try:
            file = self.desk.file(asked.text("file"))
            text = file.reread() if asked.any("take") is True else file.theirs()
        except (UnreadableError, OutputError) as bad:
            return {"refused": f"the file {bad}"}
        return {"text": text, "digest": file.digest, "difference": file.between(text, asked.text("text"))}
