"""A document with an edit made, read again only where the edit falls.

What is written is changed in a copy, the things whose text changed are read again as :func:`load` reads them, and every
other thing is the same object as before: a trial costs little, and what it touched is found by identity.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from hashlib import sha256
from operator import is_
from typing import TypeAlias

from pydantic import BaseModel

from ..model.edits import Edit
from ..model.installation import JOINABLE, Installation
from .changing import Changing
from .document import Document
from .expansion import SAID_ONCE
from .files import Files
from .opening import opened
from .places import DocPath
from .reading import NAMING, Known, Reading
from .sections import SHARED
from .source import Plain, mapping


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
    made = read_again(document, files, files.joined(SHARED), edit.paths)
    made.digest = sha256(f"{document.digest} {edit.changes}".encode()).hexdigest()
    return made


def read_again(
    document: Document, files: Files, whole: dict[str, Plain], paths: Sequence[DocPath]
) -> Document:
    """A document whose files say something else than before at some paths, of which the rest is taken as it was read.

    Args:
        document: as it was.
        files: as they are now, with what is known of the things that stay.
        whole: their sections; what is written as before is the same object as in ``document``.
        paths: where something else is written.

    Raises:
        DocumentError: what comes out is no document.
    """
    ends = [path for path in paths if _of_ends(path)]
    implied = _implied(document, [path for path in paths if not _of_ends(path)])
    sections = {str(p[0]) for p in paths} | implied.keys()
    if ends:
        sections.update(section for section in _LAID if section in whole)
    known = _Known(document, sections, implied, ends)
    reading = known.reading = Reading(files, known)
    said_once = any(path[0] in SAID_ONCE or (path[0] in _NAMED_ONCE and len(path) < 3) for path in paths)
    reading.expand(whole, document.installation, sections, None if said_once else document.expansion)
    changed = reading.installation({s: v for s, v in whole.items() if s in sections or s == "installation"})
    model = document.installation.model_copy(
        update={s: known.kept(s, getattr(changed, s)) for s in sections if s in Installation.model_fields}
    )
    touched = known.touched(model)
    for section, ident in touched:
        if ident not in model.section(section):
            files.places.parts.pop((section, ident), None)
            files.places.outdated.pop((section, ident), None)
    references = document.references.after(
        model, files.places.place, touched, reading.dropped, reading.damaged
    )
    reading.problems.extend(references.changed(document.references, touched))
    return reading.finished(model, whole, references)


_ENDS = NAMING | {"stud"}
"""Words that settle what a run joined whole meets, and the hole of a ring."""
_NAMED_ONCE = frozenset(("zones", "barriers", "bundles", "engines"))
"""Sections whose things are named in what is said once."""
_LAID = ("wire_runs", "fluid_lines")
"""Sections whose things can be told in a line, which names others."""

Names: TypeAlias = "Collection[str] | None"
"""Ids of some things of a section; ``None`` for all of them."""


def _implied(document: Document, paths: Sequence[DocPath]) -> dict[str, Names]:
    """The things that can come out as others though nothing written of them is changed, by section.

    What is said once counts for all; a bundle, an end, a zone or a barrier only for what names it.
    """
    if any(path[0] in SAID_ONCE for path in paths):
        sections = [s for s, held in document.whole.items() if s in SHARED and isinstance(held, dict)]
        usual = any(path[0] == "usual" for path in paths)
        return dict.fromkeys(s for s in (*sections, *_LAID) if (usual or s in _LAID) and s not in SAID_ONCE)
    names = {str(path[1]) for path in paths if len(path) > 1 and _is_named(path)}
    if not names or not document.files.places.implied:
        return {}
    spelled = document.expansion.spelled
    if any(name in spelled(section, "") for section in SAID_ONCE for name in names):
        return dict.fromkeys(_LAID)
    found: dict[str, Names] = {}
    for section in _LAID:
        written = mapping(document.whole.get(section))
        naming = {ident for ident in written if any(name in spelled(section, ident) for name in names)}
        if section == "wire_runs":
            runs = document.installation.wire_runs
            naming.update(ident for ident in written if ident in runs and runs[ident].bundle in names)
        if naming:
            found[section] = naming
    return found


def _of_ends(path: DocPath) -> bool:
    """Whether the thing stays, and what ends at it comes out as another only if its terminals or studs do."""
    return path[0] in JOINABLE and len(path) > 2 and path[2] in _ENDS


def _is_named(path: DocPath) -> bool:
    """Whether a run or line that names the thing can come out as another when ``path`` is changed."""
    if path[0] == "bundles":
        return True
    if path[0] in ("zones", "barriers"):
        return len(path) == 2
    return path[0] in JOINABLE and (len(path) == 2 or path[2] in _ENDS)


class _Known(Known):
    """The things of a document by what is written of them.

    Args:
        before: the document.
        sections: those an edit falls in.
        implied: things to be read again though nothing written of them is changed.
        ends: where things are changed that others end at; those are read again too if terminals or studs have become others.

    Attributes:
        reading: what reads them again.
    """

    reading: Reading

    def __init__(
        self, before: Document, sections: set[str], implied: Mapping[str, Names], ends: Sequence[DocPath]
    ) -> None:
        self.before, self.implied, self._ends = before, implied, ends
        self._joined: dict[str, Names] | None = None
        self.entries: dict[tuple[str, int], BaseModel] = {}
        """Entries of lists by the identity of what is written."""
        self.sections = sections
        self._written = {section: mapping(before.whole.get(section)) for section in sections}
        for section in sections:
            written = before.whole.get(section)
            if isinstance(written, list):
                typed = getattr(before.installation, section)
                self.entries.update(
                    {(section, id(raw)): one for raw, one in zip(written, typed, strict=False)}
                )

    def entry(self, section: str, raw: Plain) -> BaseModel | None:
        """An entry of a list, if what is written of it is what was written before."""
        return self.entries.get((section, id(raw))) if isinstance(raw, dict) else None

    def things(self, section: str, written: Mapping[str, Plain]) -> Mapping[str, BaseModel]:
        """The things of a section of which what is written is what was written before, by id."""
        was, held = self._written.get(section, {}), self.before.installation.section(section)
        same = {i: held[i] for i, raw in written.items() if i in was and was[i] is raw and i in held}
        for names in self._implied_in(section) if same else ():
            if names is None:
                return {}
            for ident in names:
                same.pop(ident, None)
        return same

    def _implied_in(self, section: str) -> Iterator[Names]:
        """The things that are to be read again though nothing written of them is changed."""
        yield self.implied.get(section, ())
        if section not in _LAID:
            return
        if self._joined is None:  # runs and lines are read when all that they can end at is
            model = self.before.installation
            self._joined = _implied(
                self.before, [p for p in self._ends if not self.reading.same_ends(str(p[1]), model)]
            )
        yield self._joined.get(section, ())

    def kept(self, section: str, made: object) -> object:
        """A section in which things that came out as they were are the same objects; the same section if all are."""
        old = getattr(self.before.installation, section)
        if not isinstance(made, dict) or not isinstance(old, dict):
            return made
        if section in self.implied or section in _LAID:
            made = {
                i: old[i] if i in old and (old[i] is one or old[i] == one) else one for i, one in made.items()
            }
        return old if list(made) == list(old) and all(map(is_, made.values(), old.values())) else made

    def touched(self, after: Installation) -> list[tuple[str, str]]:
        """Section and id of every thing that is another now, is new or is gone."""
        found = []
        for section in self.sections:
            old, new = getattr(self.before.installation, section, None), getattr(after, section, None)
            if isinstance(old, dict) and isinstance(new, dict):
                found += [(section, i) for i in dict.fromkeys((*old, *new)) if old.get(i) is not new.get(i)]
        return found
