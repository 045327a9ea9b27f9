"""What a document says is unknown, and the studies of what it could be: nothing rests on a word that is not known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...dataclass import dataclass
from ...document import Document, DocumentError
from ...document.edited import edited
from ...document.source import DocPath
from ...model.edits import Edit, Put, Written
from ...model.installation import Installation
from ...model.power import SOURCES
from .could_be import COULD_BE, could_be

_SAYS_NOTHING = frozenset(("title", "notes", "label", "source", "standard", "location_note"))
"""Words for people: no verdict rests on them."""
_NO_THING = frozenset(("installation", "deviations", "notices"))
"""Sections that tell of the paper, not of the aircraft."""


@dataclass(frozen=True, slots=True)
class Unsaid:
    """A word a document says is unknown.

    Attributes:
        path: where it says so.
        could_be: what could stand there, as it would be written.
    """

    path: DocPath
    could_be: tuple[Written, ...]

    @property
    def section(self) -> str:
        """Section it stands in."""
        return str(self.path[0])

    @property
    def ident(self) -> str:
        """Thing it is said of."""
        return str(self.path[1]) if len(self.path) > 2 else str(self.path[0])

    @property
    def field(self) -> str:
        """The word under its thing: 'coil_current', 'terminations.resistance'."""
        return ".".join(
            str(step) for step in self.path[2 if len(self.path) > 2 else 1 :] if isinstance(step, str)
        )


def unsaid(document: Document) -> tuple[Unsaid, ...]:
    """Every word the document says is unknown, of what is in the aircraft after the change."""
    found, model = [], document.installation.live
    for path in document.unknown_paths():
        if (
            path[0] not in Installation.model_fields
            or path[0] in _NO_THING
            or path[-1] in _SAYS_NOTHING
            or _is_out(model, path)
        ):
            continue
        words = document.sizes(path) or tuple(could_be(model, path))
        if words and path[0] == "supplies" and path[2:] == ("voltage",):
            words += _of_the_system(model)
        if words:
            found.append(Unsaid(path, words))
    told = {word.path for word in found}
    for ident, supply in model.supplies.items():
        path = ("supplies", ident, "voltage")
        if supply.spec.kind in SOURCES and supply.spec.voltage is None and path not in told:
            found.append(Unsaid(path, (*COULD_BE["voltage"], *_of_the_system(model))))
    return tuple(found)


def _of_the_system(model: Installation) -> tuple[Written, ...]:
    """The voltage a source has if it is the right one: the aircraft's, if it is said."""
    stated = model.aircraft.system_voltage
    return () if stated is None else (stated.text,)


def _is_out(model: Installation, path: DocPath) -> bool:
    held = getattr(model, str(path[0]), None)
    return isinstance(held, dict) and path[1] not in held


def stood_in(document: Document, words: Sequence[Unsaid]) -> Iterator[tuple[tuple[Put, ...], Document]]:
    """The same document with every unknown word said, once for each thing a word could be, and what was said.

    Neighbouring words take turns, so that they are not all little or all much at once.
    """
    for turn in range(max((len(word.could_be) for word in words), default=0)):
        puts = [
            Put(word.path, word.could_be[(turn + place) % len(word.could_be)])
            for place, word in enumerate(words)
        ]
        said, fitting = saying(document, puts)
        yield tuple(fitting), said


def saying(document: Document, puts: Sequence[Put]) -> tuple[Document, list[Put]]:
    """The document with words said, and those of them that fit; what cannot stand there is left unknown."""
    if not puts:
        return document, []
    try:
        return edited(document, Edit(tuple(puts), "say what is unknown")), list(puts)
    except DocumentError:
        if len(puts) == 1:
            return document, []
    half = len(puts) // 2
    fitting = [*saying(document, puts[:half])[1], *saying(document, puts[half:])[1]]
    return saying(document, fitting) if len(fitting) < len(puts) else (document, [])
