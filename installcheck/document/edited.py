"""A document with an edit made, read again only where the edit falls.

What is written is changed in a copy, the things whose text changed are read again as :func:`load` reads them, and every
other thing is the same object as before: a trial costs little, and what it touched is found by identity.
"""

from __future__ import annotations

from hashlib import sha256

from pydantic import BaseModel

from ..model.edits import Edit
from ..model.installation import JOINABLE, Installation
from .changing import Changing
from .expansion import SAID_ONCE
from .load import Document, Reading
from .opening import opened
from .sections import SHARED
from .source import Key, Plain, mapping


def edited(document: Document, edit: Edit) -> Document:
    """The document as it would be read with ``edit`` made in its text; ``document`` is left as it is.

    Places are those of the text as it stands: what the edit puts in has that of what is nearest above it. Part files and
    the names of files cannot be edited. Cost: that of the sections the edit falls in, and of copying the names of all things.

    Raises:
        DocumentError: what comes out is no document, or a change fits nothing that is written.
    """
    changing = Changing(document.files.places.sources)
    changing.make(opened(document, edit))
    files = document.files.holding(changing.sources)
    whole = files.joined(SHARED)
    sections = {str(p[0]) for p in edit.paths}
    implied = _implied(document, edit)
    sections |= implied
    known = _Known(document, sections, implied)
    reading = Reading(files, known.thing)
    reading.expand(whole, document.installation, sections)
    changed = reading.installation({s: v for s, v in whole.items() if s in sections or s == "installation"})
    model = document.installation.model_copy(
        update={s: known.kept(s, getattr(changed, s)) for s in sections if s in Installation.model_fields}
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


_SHARING = (*SAID_ONCE, "bundles", "zones", "barriers")
"""Sections that say something of the runs and lines, or whose names their lines are read by."""
_ENDS = {
    "terminals",
    "ports",
    "pins",
    "inputs",
    "supply_terminals",
    "kind",
    "principle",
    "part",
    "size",
    "stud",
}
"""Words that settle what a run joined whole meets, and the hole of a ring."""


def _implied(document: Document, edit: Edit) -> set[str]:
    """Sections in which a thing can come out as another though nothing written of it is changed."""
    if not document.files.places.implied:
        return {s for s in ("wire_runs", "fluid_lines") if any(p[0] in SAID_ONCE for p in edit.paths)}
    found: set[str] = set()
    for path in edit.paths:
        if path[0] == "usual":
            found |= {s for s, held in document.whole.items() if s in SHARED and isinstance(held, dict)}
        elif path[0] in _SHARING:
            found |= {"wire_runs", "fluid_lines"}
        elif path[0] in JOINABLE and (len(path) < 3 or path[2] in _ENDS):
            found.add("wire_runs")
    return found - set(SAID_ONCE)


class _Known:
    """The things of a document by what is written of them.

    Args:
        before: the document.
        sections: those an edit falls in.
        implied: those whose things are to be read again though nothing written of them is changed.
    """

    def __init__(self, before: Document, sections: set[str], implied: set[str]) -> None:
        self.before, self.implied = before, implied
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
        if section in self.implied:
            return None
        written = mapping(self.before.whole.get(section))
        same = key in written and written[key] is raw
        return self.before.installation.section(section).get(key) if same else None

    def kept(self, section: str, made: object) -> object:
        """A section in which things that came out as they were are the same objects."""
        if section not in self.implied or not isinstance(made, dict):
            return made
        old = self.before.installation.section(section)
        return {i: old[i] if i in old and old[i] == one else one for i, one in made.items()}

    def touched(self, after: Installation) -> list[tuple[str, str]]:
        """Section and id of every thing that is another now, is new or is gone."""
        found = []
        for section in self.sections:
            old, new = getattr(self.before.installation, section, None), getattr(after, section, None)
            if isinstance(old, dict) and isinstance(new, dict):
                found += [(section, i) for i in dict.fromkeys((*old, *new)) if old.get(i) is not new.get(i)]
        return found
