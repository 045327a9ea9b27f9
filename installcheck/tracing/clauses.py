"""The clauses of a line: at which point, with what switched, lifted, joined or exchanged, where what is true."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator
from dataclasses import replace

from ..document.wording import unknown_word
from ..model.kinds import READINGS
from ..physics.network_parts import LARGEST_RESISTANCE
from .channels import channel_of, channels
from .looks import STOPPED, Answers, Holding, Look, Marked, Ohms, Result, Setup, Shaken, Show
from .pieces import SHAKEN, Named, PhraseError, Piece
from .states import point_names

_CLAUSE = re.compile(r"(?:^|\s|,)\s*(at|in|during|with|when|while|where)(?=\s|$)")
_STOPPED = ("engine off", "engine stopped", "engine is off", "engine is stopped")
_SWITCHED = re.compile(r"(?P<loads>.+?)\s+(?:(?:is|are)\s+)?(?P<state>on|off|transmits?|keyed)")
_OFF = re.compile(r"(?P<thing>.+?)\s+(?:is\s+)?(?P<how>disconnected|unplugged|pulled|off)")


class Conditioned(Named):
    """A line with the state of the aircraft its clauses tell."""

    def setup(self, clauses: Piece, look: Look) -> Setup:
        """The state of the aircraft the clauses tell."""
        at = Setup()
        for word, piece in self.clauses(clauses):
            if word in ("at", "in", "during"):
                at = replace(at, point=self._point(piece))
            elif word == "where":
                at = replace(at, known=(*at.known, self._truth(piece, look)))
            else:
                at = self._with(at, piece, look)
        return at

    def clauses(self, clauses: Piece) -> Iterator[tuple[str, Piece]]:
        """Each clause, by the word it begins with."""
        found = self.starts(clauses.text)
        for i, match in enumerate(found):
            end = found[i + 1].start() if i + 1 < len(found) else None
            yield match[1], clauses.cut(match.end(), end)

    def starts(self, text: str) -> list[re.Match[str]]:
        """Where clauses begin; 'in' and 'during' begin one only before an operating point."""
        names = tuple(n.lower() for n in point_names(self.study))
        return [
            m
            for m in _CLAUSE.finditer(text)
            if m[1] not in ("in", "during") or text[m.end() :].strip().lower().startswith(names)
        ]

    def _point(self, piece: Piece) -> str:
        if piece.text.removeprefix("the ") in _STOPPED:
            return STOPPED
        names = {name.lower(): name for name in point_names(self.study)}
        if piece.text.lower() not in names:
            raise self.fail(piece, unknown_word(piece.text, list(names.values()), "operating point"))
        return names[piece.text.lower()]

    def _truth(self, piece: Piece, look: Look) -> tuple[str, float]:
        if not piece.text.endswith("is true"):
            raise self.fail(piece, "write the true value like this: 'where 60 psi is true'")
        if not isinstance(look, Show):
            raise self.fail(piece, "a true value is told of an indication only")
        value = self.quantity(piece.cut(0, len(piece.text) - len("is true")), self.kinds(look))
        channel = channel_of(self.study, look)
        assert channel is not None
        return channel.feels, float(value)

    def _with(self, at: Setup, piece: Piece, look: Look) -> Setup:
        text = piece.text
        if text.removeprefix("the ") in _STOPPED:
            return replace(at, point=STOPPED)
        if text.startswith(("master on,", "master is on,")):
            return self._with(at, piece.cut(text.index(",") + 1), look)
        if (off := _OFF.fullmatch(text)) is not None:
            thing = self._bare(piece.cut(0, off.end("thing")), self._unplugged)
            if off["how"] == "disconnected" or thing.text in self._unplugged:
                return self._disconnected(at, thing, look)
        if (switched := _SWITCHED.fullmatch(text)) is not None:
            return self._switched(at, piece, switched)
        if text.endswith(" lifted"):
            return replace(at, lifted=(*at.lifted, self.node(piece.cut(0, len(text) - 7))))
        if text.endswith(" warmed") or text == SHAKEN:
            return at
        if text.endswith(" swapped") and " and " in text:
            middle = text.index(" and ")
            pair = (piece.cut(0, middle), piece.cut(middle + 5, len(text) - 8))
            return replace(at, swapped=(self.swappable(pair[0]), self.swappable(pair[1])))
        if text.startswith("another "):
            name = piece.cut(8)
            if name.text in self.study.model.indicators:
                return replace(at, swapped=(name.text, ""))
            return replace(at, swapped=(self.source(name), ""))
        if " in place of " in text:
            middle = text.index(" in place of ")
            ohms = self.quantity(piece.cut(0, middle), ("resistance",))
            return replace(at, replaced=(*at.replaced, (self.source(piece.cut(middle + 13)), float(ohms))))
        if " joined to " in text:
            return self._joined(at, piece)
        if " brought to " in text:
            middle = text.index(" brought to ")
            source = self.source(piece.cut(0, middle))
            channel = next((c for c in channels(self.study) if source in c.sources), None)
            kinds = self.kinds(channel.show) if channel is not None else READINGS
            value = self.quantity(piece.cut(middle + 12), kinds)
            return replace(at, point=STOPPED, known=(*at.known, (source, float(value))))
        if " in a bath of " in text:
            middle = text.index(" in a bath of ")
            source, warm = (
                self.source(piece.cut(0, middle)),
                self.quantity(piece.cut(middle + 14), ("temperature",)),
            )
            return replace(at, point=STOPPED, bathed=(*at.bathed, (source, float(warm))))
        raise self.fail(
            piece,
            "what is not usual is said like this: 'with LOAD on', 'with TERMINAL lifted', 'with SENDER disconnected', 'with "
            "TERMINAL joined to TERMINAL', 'with 90 ohm in place of SENDER', 'with A and B swapped', 'with another SENDER', "
            "'with SENDER brought to 60 psi', 'with PROBE warmed', 'with PROBE in a bath of 212 degF', 'with its leads shaken', 'with engine off'",
        )

    @property
    def _unplugged(self) -> dict[str, object]:
        """What is said to be off or pulled when its leads are; of a breaker that would tell another thing."""
        model = self.study.model
        return {**model.senders, **model.probes, **model.indicators, **model.junctions}

    def _bare(self, piece: Piece, known: Container[str]) -> Piece:
        """A name without its article, unless that is part of it."""
        named = piece.text in known or not piece.text.startswith("the ")
        return piece if named else piece.cut(len("the "))

    def _switched(self, at: Setup, piece: Piece, switched: re.Match[str]) -> Setup:
        """With loads on or off."""
        loads = self.study.model.loads
        whole = self._bare(piece.cut(0, switched.end("loads")), loads)
        parts = [whole] if whole.text in loads else [*self._parted(whole)]
        for name in parts:
            if name.text not in loads:
                raise self.fail(name, unknown_word(name.text, list(loads), "load"))
            at = replace(at, loads=(*at.loads, (name.text, switched["state"] != "off")))
        return at

    def _parted(self, piece: Piece) -> Iterator[Piece]:
        """Names told with 'and' between them."""
        start = 0
        for joined in re.finditer(r"\s+and\s+", piece.text):
            yield self._bare(piece.cut(start, joined.start()), self.study.model.loads)
            start = joined.end()
        yield self._bare(piece.cut(start), self.study.model.loads)

    def _joined(self, at: Setup, piece: Piece) -> Setup:
        text = piece.text
        middle = text.index(" joined to ")
        end, ohms = len(text), 0.0
        if " through " in text:
            end = text.index(" through ")
            ohms = float(self.quantity(piece.cut(end + 9), ("resistance",)))
        a, b = self.node(piece.cut(0, middle)), self.node(piece.cut(middle + 11, end))
        return replace(at, joined=(*at.joined, (a, b, ohms)))

    def _disconnected(self, at: Setup, piece: Piece, look: Look) -> Setup:
        if piece.text in self.study.model.senders or piece.text in self.study.model.probes:
            own = isinstance(look, Ohms) and {look.a.partition(".")[0], look.b.partition(".")[0]} == {
                piece.text
            }
            if own:
                return replace(at, lifted=(*at.lifted, piece.text))
            return replace(at, replaced=(*at.replaced, (piece.text, LARGEST_RESISTANCE)))
        if self.study.model.find(piece.text) is None:
            known = [*self.study.model.senders, *self.study.model.probes, *self.study.model.junctions]
            raise self.fail(piece, unknown_word(piece.text, known, "thing"))
        return replace(at, lifted=(*at.lifted, piece.text))

    def warmed(self, look: Look, at: Setup, clauses: Piece, result: Result) -> tuple[Look, Setup]:
        """The look where a probe was warmed."""
        warmed = [p for w, p in self.clauses(clauses) if w == "with" and p.text.endswith(" warmed")]
        if any(w == "with" and p.text == SHAKEN for w, p in self.clauses(clauses)) and isinstance(look, Show):
            if result.word not in ("erratic", "still"):
                raise self.fail(clauses, "say whether it 'is jumping' or 'stays still' with its leads shaken")
            return Shaken(look.name), replace(at, point=STOPPED)
        if isinstance(look, Marked):
            return look, replace(at, point=STOPPED)
        if result.word not in ("moves", "still"):
            if warmed:
                raise self.fail(warmed[0], "say whether it 'moves' or 'stays still' when that is warmed")
            return look, at
        if isinstance(look, Holding):
            return look, at
        if not warmed or not isinstance(look, Show):
            raise PhraseError(self.text, len(self.text) + 1, "say what was warmed: 'with PROBE warmed'")
        source = self.source(warmed[0].cut(0, len(warmed[0].text) - 7))
        return Answers(source, str(look)), replace(at, point=at.point or STOPPED)
