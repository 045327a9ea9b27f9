"""A line of plain words in pieces, each with its place, and the names it can hold."""

from __future__ import annotations

import re

from ..analysis.study import Study
from ..dataclass import dataclass
from ..document.wording import unknown_word
from ..model.kinds import READINGS
from ..model.quantities import Quantity, QuantityError, parse
from .channels import Channel, channel_of, channels
from .looks import WORDS, Show, TrueValue

AT_TAP, BESIDE, LINE_OF = "test instrument at ", "test instrument beside ", "line of "
MARKS_OF, SHAKEN = "marking of ", "its leads shaken"
ALL_MARKS_OF = "markings of "
_LONG = {
    "temp": "temperature", "press": "pressure", "qty": "quantity", "tach": "tachometer", "egt": "exhaust temperature",
    "cht": "head temperature", "oat": "outside air temperature", "tit": "turbine inlet temperature", "rpm": "engine speed",
    "map": "manifold pressure", "mp": "manifold pressure",
}  # fmt: skip
"""What the trade shortens."""
_OF_IT = re.compile(r"\s+(?:needle|pointer|indication|indicator|reading|gauge)$", re.IGNORECASE)
"""What is said for the indication itself."""
_INCHES = re.compile(r"(?<=\d)\s*(?:inches|inch|in)\.?$")
"""Of mercury, where a pressure is told."""
SUPPLY_OF, LEADS_OF, INSULATION_OF = "supply of ", "leads of ", "insulation of "


class PhraseError(ValueError):
    """A line that is no observation.

    Attributes:
        text: the line.
        column: place in it, from 1.
        why: what is wrong, and what would be right.
    """

    def __init__(self, text: str, column: int, why: str) -> None:
        super().__init__(f"column {column}: {why}")
        self.text, self.column, self.why = text, column, why

    def pointed(self) -> str:
        """The line with a mark under the place."""
        return f"{self.text}\n{' ' * (self.column - 1)}^"


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of the line and where it starts."""

    text: str
    at: int

    def cut(self, start: int, end: int | None = None) -> Piece:
        part = self.text[start:end]
        return Piece(part.strip(), self.at + start + len(part) - len(part.lstrip()))


class Named:
    """A line about a study, and what its words name."""

    def __init__(self, study: Study, text: str) -> None:
        self.study, self.text = study, text

    def fail(self, piece: Piece, why: str) -> PhraseError:
        """The error of a piece."""
        return PhraseError(self.text, piece.at + 1, why)

    def node(self, piece: Piece) -> str:
        """The node of a terminal."""
        try:
            node = self.study.graph.node_of(piece.text)
        except KeyError:
            node = ""
        if not node or node not in self.study.graph.nodes:
            raise self.fail(piece, unknown_word(piece.text, list(self.study.graph.nodes), "terminal"))
        return node

    def channel(self, piece: Piece) -> Channel:
        """The indication of a name, which may be shortened as people say it."""
        name = re.sub(r"^the\s+", "", piece.text, flags=re.IGNORECASE)
        long = " ".join(_LONG.get(word.lower(), word) for word in name.split())
        told: PhraseError | None = None
        for one in dict.fromkeys((name, long, _OF_IT.sub("", name), _OF_IT.sub("", long))):
            try:
                return self._channel(piece, one)
            except PhraseError as bad:
                told = bad if told is None or one == long else told
        assert told is not None
        raise told

    def _channel(self, piece: Piece, name: str) -> Channel:
        wanted = name.lower()
        all_ = channels(self.study)
        exact = [c for c in all_ if str(c.show).lower() == wanted]
        if len(exact) == 1:
            return exact[0]
        plain = channel_of(
            self.study, Show(next((c.show.name for c in all_ if c.show.name.lower() == wanted), name))
        )
        if plain is not None:
            return plain
        measured = [c for c in all_ if (c.measure or "") == wanted]
        if len(measured) == 1:
            return measured[0]
        if len(measured) > 1:
            names = ", ".join(str(c.show) for c in measured[:8])
            raise self.fail(piece, f"several show {name}: name one of {names}")
        raise self.fail(piece, unknown_word(name, [str(c.show) for c in all_], "indication"))

    def kinds(self, look: Show | TrueValue) -> tuple[str, ...]:
        """Kinds of quantity a look can have."""
        channel = (
            channel_of(self.study, look)
            if isinstance(look, Show)
            else next((c for c in channels(self.study) if look.source in (*c.sources, c.indicator)), None)
        )
        dial = channel.spec.scale if channel is not None else None
        return (dial.highest.kind,) if dial is not None else READINGS

    def quantity(self, piece: Piece, kinds: tuple[str, ...]) -> Quantity:
        """A value with its unit."""
        text = _INCHES.sub(" inHg", piece.text) if "pressure" in kinds else piece.text
        try:
            return parse(text, *kinds)
        except QuantityError as bad:
            words = ", ".join(WORDS[:8])
            raise self.fail(piece, f"{bad}; or one of the words {words}") from None

    def source(self, piece: Piece) -> str:
        """A sender or probe."""
        known = [*self.study.model.senders, *self.study.model.probes]
        if piece.text not in known:
            raise self.fail(piece, unknown_word(piece.text, known, "sender or probe"))
        return piece.text

    def swappable(self, piece: Piece) -> str:
        """A sender, probe or indication."""
        known = [
            *self.study.model.senders,
            *self.study.model.probes,
            *(str(c.show) for c in channels(self.study)),
        ]
        if piece.text not in known:
            raise self.fail(piece, unknown_word(piece.text, known, "sender, probe or indication"))
        return piece.text
