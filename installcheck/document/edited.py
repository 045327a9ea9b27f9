"""A document with an edit made, read again only where the edit falls.

What is written is changed in a copy, the things whose text changed are read again as :func:`load` reads them, and every
other thing is the same object as before: a trial costs little, and what it touched is found by identity.
"""

from __future__ import annotations

from hashlib import sha256

from pydantic import BaseModel

from ..model.edits import Edit
from ..model.installation import Installation
from .changing import Changing
from .load import SHARED, Document, Reading
from .source import Key, Plain, mapping


def edited(document: Document, edit: Edit) -> Document:
    """The document as it would be read with ``edit`` made in its text; ``document`` is left as it is.

    Places are those of the text as it stands: what the edit puts in has that of what is nearest above it. Part files and
    the names of files cannot be edited. Cost: that of the sections the edit falls in, and of copying the names of all things.

    Raises:
        DocumentError: what comes out is no document, or a change fits nothing that is written.
    """
    changing = Changing(document.files.places.sources)
    changing.make(edit)
    files = document.files.holding(changing.sources)
    whole = files.joined(SHARED)
    sections = {str(p[0]) for p in edit.paths}
    known = _Known(document, sections)
    reading = Reading(files, known.thing)
    changed = reading.installation({s: v for s, v in whole.items() if s in sections or s == "installation"})
    model = document.installation.model_copy(
        update={s: getattr(changed, s) for s in sections if s in Installation.model_fields}
    )
    touched = known.touched(model)
    for section, ident in touched:
        if ident not in model.section(section):
            files.places.parts.pop((section, ident), None)
    references = document.references.after(
        model, files.places.place, touched, reading.dropped, reading.damaged
    )
    reading.problems.extend(references.changed(document.references, touched))
    made = reading.finished(model, whole, references)
    made.digest = sha256(f"{document.digest} {edit.changes}".encode()).hexdigest()
    return made


class _Known:
    """The things of a document by what is written of them."""

    def __init__(self, before: Document, sections: set[str]) -> None:
        self.before = before
        self.entries: dict[tuple[str, int], BaseModel] = {}
        """Entries of lists by the identity of what is written."""
        self.sections = sections
        for section in sections:
            written = before.whole.get(section)
            if isinstance(written, list):
                typed = getattr(before.installation, section)
                self.entries.update(
                    {(section, id(raw)): one for raw, one in zip(written, typed, strict=False)}
                )

    def thing(self, section: str, key: Key, raw: Plain) -> BaseModel | None:
        """The thing, if what is written of it is what was written before."""
        if isinstance(key, int):
            return self.entries.get((section, id(raw))) if isinstance(raw, dict) else None
        written = mapping(self.before.whole.get(section))
        same = key in written and written[key] is raw
        return self.before.installation.section(section).get(key) if same else None

    def touched(self, after: Installation) -> list[tuple[str, str]]:
        """Section and id of every thing that is another now, is new or is gone."""
        found = []
        for section in self.sections:
            old, new = getattr(self.before.installation, section, None), getattr(after, section, None)
            if isinstance(old, dict) and isinstance(new, dict):
                found += [(section, i) for i in dict.fromkeys((*old, *new)) if old.get(i) is not new.get(i)]
        return found
