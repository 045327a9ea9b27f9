"""Observations as one line of plain words, both ways.

WHAT is RESULT [at POINT] [with CONDITION]... [where VALUE is true]

oil temperature gauge shows 150 degF at cruise
exhaust gauge at 3 is off scale low at cruise where 1400 degF is true
oil pressure gauge reads high with lights on
gauge.A to gauge.B measures 92 ohm
sender.S to gauge.S measures open with oil bulb disconnected
gauge.power to airframe measures 12.1 V with lights on with radios on
oil pressure gauge shows off scale high with gauge.S lifted
oil pressure gauge reads 60 psi with 90 ohm in place of oil pressure sender
left CHT 3 is right with left head 3 and left head 4 swapped
test instrument at oil bulb shows 180 degF at cruise
line of manifold pressure gauge falls
monitor CHT 3 moves with head 3 warmed
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import isfinite

from ..analysis.study import Study
from ..document.wording import unknown_word
from ..model.kinds import READINGS
from ..model.quantities import Quantity, QuantityError, in_unit, parse, plain_number
from ..physics.network_parts import LARGEST_RESISTANCE
from .channels import Channel, channel_of, channels
from .looks import (
    STOPPED,
    WORDS,
    Answers,
    Holding,
    Look,
    Observation,
    Ohms,
    Result,
    Setup,
    Show,
    TrueValue,
    Volts,
    Word,
)
from .states import point_names

_VERB = re.compile(r"\s(shows|reads|measures|is|holds|falls|moves|stays still)(?=\s|$)")
_CLAUSE = re.compile(r"(?:^|\s|,)\s*(at|with|where)(?=\s|$)")
_SAME: dict[str, Word] = {
    "nothing": "dead",
    "stuck": "frozen",
    "jumping": "erratic",
    "OL": "open",
    "no end": "open",
    "off scale": "off scale high",
    "ok": "right",
    "as it should": "right",
}
"""Other ways to say a word."""
_STOPPED = ("engine off", "engine stopped")
_TRUE, _PORT, _LINE = "test instrument at ", "test instrument beside ", "line of "


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
class _Piece:
    """A stretch of the line and where it starts."""

    text: str
    at: int

    def cut(self, start: int, end: int | None = None) -> _Piece:
        part = self.text[start:end]
        return _Piece(part.strip(), self.at + start + len(part) - len(part.lstrip()))


class _Reader:
    def __init__(self, study: Study, text: str) -> None:
        self.study, self.text = study, text

    def fail(self, piece: _Piece, why: str) -> PhraseError:
        return PhraseError(self.text, piece.at + 1, why)

    def observation(self) -> Observation:
        whole = _Piece(self.text, 0)
        first: PhraseError | None = None
        for verb in _VERB.finditer(self.text):
            subject = whole.cut(0, verb.start())
            try:
                self._look(subject, None)
            except PhraseError as bad:
                first = first or bad
            else:
                return self._of(subject, verb[1], whole.cut(verb.end()))
        raise first or PhraseError(
            self.text,
            len(self.text.rstrip()) + 1,
            "say what it shows: 'shows 150 degF', 'is right', 'is off scale high', 'measures 92 ohm'",
        )

    def _of(self, subject: _Piece, verb: str, rest: _Piece) -> Observation:
        first = _CLAUSE.search(rest.text)
        what = rest.cut(0, first.start() if first is not None else None)
        clauses = rest.cut(first.start()) if first is not None else _Piece("", rest.at + len(rest.text))
        look = self._look(subject, None)
        if verb in ("holds", "falls", "moves", "stays still"):
            result = Result(word="still" if verb == "stays still" else verb, text=verb)  # type: ignore[arg-type]
            if what.text:
                raise self.fail(what, f"nothing more is said after '{verb}' but 'at', 'with' or 'where'")
        else:
            result = self._result(what, look)
        look = self._look(subject, result)
        at = self._setup(clauses, look)
        look, at = self._warmed(look, at, clauses, result)
        if isinstance(look, (Ohms, Volts)) and not at.point:
            at = replace(at, point=STOPPED)
        if isinstance(look, Holding):
            at = replace(at, point=STOPPED)
        if isinstance(look, Ohms):
            # The gauges are off while ohms are measured: what is meant is the lead that was lifted from one.
            gauges = self.study.model.indicators
            own = [n for n in (look.a, look.b) if n.partition(".")[0] in gauges]
            at = replace(at, lifted=tuple(n for n in at.lifted if n not in own))
        return Observation(at, look, result, self.text.strip())

    def _look(self, subject: _Piece, result: Result | None) -> Look:
        text = subject.text
        for prefix in (_TRUE, _PORT):
            if not text.startswith(prefix):
                continue
            name = text[len(prefix) :].strip()
            known = {s for c in channels(self.study) for s in (*c.sources, c.indicator)}
            if name not in known:
                raise self.fail(
                    subject.cut(len(prefix)), unknown_word(name, sorted(known), "sender, probe or gauge")
                )
            return TrueValue(name, at_port=prefix == _PORT)
        if text.startswith(_LINE):
            channel = self._channel(subject.cut(len(_LINE)))
            return Holding(channel.show.name)
        if " to " in text:
            at = text.index(" to ")
            a, b = self._node(subject.cut(0, at)), self._node(subject.cut(at + 4))
            volts = result is not None and result.kind == "voltage"
            return Volts(a, b) if volts else Ohms(a, b)
        return self._channel(subject).show

    def _node(self, piece: _Piece) -> str:
        try:
            node = self.study.graph.node_of(piece.text)
        except KeyError:
            node = ""
        if not node or node not in self.study.graph.multigraph:
            raise self.fail(piece, unknown_word(piece.text, list(self.study.graph.multigraph), "terminal"))
        return node

    def _channel(self, piece: _Piece) -> Channel:
        name = piece.text
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

    def _result(self, what: _Piece, look: Look) -> Result:
        word = _SAME.get(what.text, what.text)
        if word in WORDS:
            if word == "open" and not isinstance(look, Ohms):
                raise self.fail(what, "only a meter between two terminals shows 'open'")
            return Result(word=word, text=what.text)
        if isinstance(look, (Show, TrueValue)):
            kinds: tuple[str, ...] = self._kinds(look)
        elif isinstance(look, Ohms):
            kinds = ("resistance", "voltage")
        else:
            kinds = ()
        if not what.text:
            raise self.fail(
                what, "say what it shows: a value with its unit, or one of " + ", ".join(WORDS[:10])
            )
        if not kinds:
            raise self.fail(what, "say 'holds', 'falls' or 'stays still'")
        value = self._quantity(what, kinds)
        return Result(float(value), None, value.unit, value.kind, value.text)

    def _kinds(self, look: Show | TrueValue) -> tuple[str, ...]:
        channel = (
            channel_of(self.study, look)
            if isinstance(look, Show)
            else next((c for c in channels(self.study) if look.source in (*c.sources, c.indicator)), None)
        )
        dial = channel.spec.scale if channel is not None else None
        return (dial.highest.kind,) if dial is not None else READINGS

    def _quantity(self, piece: _Piece, kinds: tuple[str, ...]) -> Quantity:
        try:
            return parse(piece.text, *kinds)
        except QuantityError as bad:
            words = ", ".join(WORDS[:8])
            raise self.fail(piece, f"{bad}; or one of the words {words}") from None

    def _setup(self, clauses: _Piece, look: Look) -> Setup:
        at = Setup()
        for word, piece in self._clauses(clauses):
            if word == "at":
                at = replace(at, point=self._point(piece))
            elif word == "where":
                at = replace(at, known=(*at.known, self._truth(piece, look)))
            else:
                at = self._with(at, piece, look)
        return at

    def _clauses(self, clauses: _Piece) -> Iterator[tuple[str, _Piece]]:
        found = list(_CLAUSE.finditer(clauses.text))
        for i, match in enumerate(found):
            end = found[i + 1].start() if i + 1 < len(found) else None
            yield match[1], clauses.cut(match.end(), end)

    def _point(self, piece: _Piece) -> str:
        if piece.text in _STOPPED:
            return STOPPED
        names = point_names(self.study)
        if piece.text not in names:
            raise self.fail(piece, unknown_word(piece.text, names, "operating point"))
        return piece.text

    def _truth(self, piece: _Piece, look: Look) -> tuple[str, float]:
        if not piece.text.endswith("is true"):
            raise self.fail(piece, "write the true value like this: 'where 60 psi is true'")
        if not isinstance(look, Show):
            raise self.fail(piece, "a true value is told of an indication only")
        value = self._quantity(piece.cut(0, len(piece.text) - len("is true")), self._kinds(look))
        channel = channel_of(self.study, look)
        assert channel is not None
        return channel.feels, float(value)

    def _with(self, at: Setup, piece: _Piece, look: Look) -> Setup:
        text = piece.text
        if text in _STOPPED:
            return replace(at, point=STOPPED)
        for word, on in ((" on", True), (" off", False)):
            if text.endswith(word):
                name = piece.cut(0, len(text) - len(word))
                if name.text not in self.study.model.loads:
                    raise self.fail(name, unknown_word(name.text, list(self.study.model.loads), "load"))
                return replace(at, loads=(*at.loads, (name.text, on)))
        if text.endswith(" lifted"):
            return replace(at, lifted=(*at.lifted, self._node(piece.cut(0, len(text) - 7))))
        if text.endswith(" disconnected"):
            return self._disconnected(at, piece.cut(0, len(text) - 13), look)
        if text.endswith(" warmed"):
            return at
        if text.endswith(" swapped") and " and " in text:
            middle = text.index(" and ")
            pair = (piece.cut(0, middle), piece.cut(middle + 5, len(text) - 8))
            return replace(at, swapped=(self._swappable(pair[0]), self._swappable(pair[1])))
        if text.startswith("another "):
            name = piece.cut(8)
            if name.text in self.study.model.indicators:
                return replace(at, swapped=(name.text, ""))
            return replace(at, swapped=(self._source(name), ""))
        if " in place of " in text:
            middle = text.index(" in place of ")
            ohms = self._quantity(piece.cut(0, middle), ("resistance",))
            return replace(at, replaced=(*at.replaced, (self._source(piece.cut(middle + 13)), float(ohms))))
        if " joined to " in text:
            return self._joined(at, piece)
        raise self.fail(
            piece,
            "what is not usual is said like this: 'with LOAD on', 'with TERMINAL lifted', 'with SENDER disconnected', 'with "
            "TERMINAL joined to TERMINAL', 'with 90 ohm in place of SENDER', 'with A and B swapped', 'with another SENDER', "
            "'with PROBE warmed', 'with engine off'",
        )

    def _joined(self, at: Setup, piece: _Piece) -> Setup:
        text = piece.text
        middle = text.index(" joined to ")
        end, ohms = len(text), 0.0
        if " through " in text:
            end = text.index(" through ")
            ohms = float(self._quantity(piece.cut(end + 9), ("resistance",)))
        a, b = self._node(piece.cut(0, middle)), self._node(piece.cut(middle + 11, end))
        return replace(at, joined=(*at.joined, (a, b, ohms)))

    def _source(self, piece: _Piece) -> str:
        known = [*self.study.model.senders, *self.study.model.probes]
        if piece.text not in known:
            raise self.fail(piece, unknown_word(piece.text, known, "sender or probe"))
        return piece.text

    def _swappable(self, piece: _Piece) -> str:
        known = [
            *self.study.model.senders,
            *self.study.model.probes,
            *(str(c.show) for c in channels(self.study)),
        ]
        if piece.text not in known:
            raise self.fail(piece, unknown_word(piece.text, known, "sender, probe or indication"))
        return piece.text

    def _disconnected(self, at: Setup, piece: _Piece, look: Look) -> Setup:
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

    def _warmed(self, look: Look, at: Setup, clauses: _Piece, result: Result) -> tuple[Look, Setup]:
        warmed = [p for w, p in self._clauses(clauses) if w == "with" and p.text.endswith(" warmed")]
        if result.word not in ("moves", "still"):
            if warmed:
                raise self.fail(warmed[0], "say whether it 'moves' or 'stays still' when that is warmed")
            return look, at
        if isinstance(look, Holding):
            return look, at
        if not warmed or not isinstance(look, Show):
            raise PhraseError(self.text, len(self.text) + 1, "say what was warmed: 'with PROBE warmed'")
        source = self._source(warmed[0].cut(0, len(warmed[0].text) - 7))
        return Answers(source, str(look)), replace(at, point=at.point or STOPPED)


def observed(study: Study, text: str) -> Observation:
    """One line as an observation.

    Raises:
        PhraseError: it is none; the error points into the line.
    """
    if not text.strip():
        raise PhraseError(text, 1, "nothing is said")
    return _Reader(study, text).observation()


def answered(study: Study, at: Setup, look: Look, text: str) -> Observation:
    """The result of a test told by itself: '92 ohm', 'open', 'off scale high'.

    Raises:
        PhraseError: it is no result of that test.
    """
    reader = _Reader(study, text)
    piece = _Piece(text.strip(), len(text) - len(text.lstrip()))
    if isinstance(look, (Holding, Answers)):
        wanted = ("holds", "falls", "still") if isinstance(look, Holding) else ("moves", "still")
        if piece.text not in wanted:
            raise reader.fail(piece, unknown_word(piece.text, wanted, "result of this test"))
        result = Result(word=piece.text, text=piece.text)  # type: ignore[arg-type]
    elif isinstance(look, Volts):
        value = reader._quantity(piece, ("voltage",))
        result = Result(float(value), None, value.unit, value.kind, value.text)
    else:
        result = reader._result(piece, look)
    made = Observation(at, look, result, "")
    return replace(made, said=phrase(made))


def phrase(one: Observation) -> str:
    """An observation as the line that :func:`observed` reads back."""
    look, at = one.look, one.at
    verb = one.result.text or (one.result.word or "")
    if isinstance(look, Holding):
        told = f"{_LINE}{look.name} {'stays still' if one.result.word == 'still' else one.result.word}"
    elif isinstance(look, Answers):
        told = f"{look.name} {'stays still' if one.result.word == 'still' else 'moves'}"
    elif isinstance(look, TrueValue):
        told = f"{_PORT if look.at_port else _TRUE}{look.source} shows {verb}"
    elif isinstance(look, (Volts, Ohms)):
        told = f"{look.a} to {look.b} measures {verb}"
    else:
        told = f"{look} {'is' if one.result.value is None else 'shows'} {verb}"
    return f"{told}{''.join(_said(at, look))}"


def _said(at: Setup, look: Look) -> Iterator[str]:
    metered = isinstance(look, (Volts, Ohms, Holding, Answers))
    if at.point and not (metered and at.point == STOPPED):
        yield f" at {at.point}"
    for load, on in at.loads:
        yield f" with {load} {'on' if on else 'off'}"
    for terminal in at.lifted:
        yield f" with {terminal} {'lifted' if '.' in terminal else 'disconnected'}"
    for a, b, ohms in at.joined:
        yield f" with {a} joined to {b}" + (f" through {_ohms(ohms)}" if ohms else "")
    for sender, ohms in at.replaced:
        gone = ohms >= LARGEST_RESISTANCE or not isfinite(ohms)
        yield f" with {sender} disconnected" if gone else f" with {_ohms(ohms)} in place of {sender}"
    if at.swapped is not None:
        one, other = at.swapped
        yield f" with {one} and {other} swapped" if other else f" with another {one}"
    if isinstance(look, Answers):
        yield f" with {look.source} warmed"


def _ohms(ohms: float) -> str:
    return f"{plain_number(ohms, 4)} ohm"


def read_lines(study: Study, lines: Sequence[str]) -> tuple[list[Observation], list[tuple[int, PhraseError]]]:
    """Observations of a file, one a line, '#' before a remark; and what is wrong, with its line number."""
    found: list[Observation] = []
    wrong: list[tuple[int, PhraseError]] = []
    for number, line in enumerate(lines, start=1):
        text = re.split(r"(?:^|\s)#", line, maxsplit=1)[0].rstrip()
        if not text.strip():
            continue
        try:
            found.append(observed(study, text))
        except PhraseError as bad:
            wrong.append((number, bad))
    return found, wrong


def told_value(si: float, unit: str, kind: str) -> str:
    """A value in SI as a person writes it."""
    return f"{plain_number(in_unit(si, unit, kind))} {unit}"
