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
supply of oil temperature gauge is lost at gauge breaker.out
leads of oil temperature gauge are lost at plug.1
insulation of oil temperature gauge is wrong at P8
marking of monitor is wrong at E3 and E5
oil temperature gauge is jumping at E3 with its leads shaken

What people say for short is read too: 'oil temp reads 40 degF low at cruise' (of what is true there), 'the CHT jumps when radios are
on', 'oil pressure drops to zero', 'CHT 30 degF low', 'no oil pressure at idle', 'oil temp pegged high', 'oil bulb measures 92 ohm' (from
end to end, its leads off), 'gauge.power measures 12.1 V' (from ground).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from ..analysis.study import Study
from ..document.wording import unknown_word
from ..model.quantities import parse, show
from .channels import channels
from .looks import (
    STOPPED,
    WORDS,
    Compared,
    Followed,
    Holding,
    Insulated,
    Look,
    Marked,
    Observation,
    Ohms,
    Result,
    Rung,
    Setup,
    Shaken,
    Show,
    TrueValue,
    Volts,
    Word,
)
from .phrased import phrase
from .pieces import (
    ALL_MARKS_OF,
    AT_TAP,
    BESIDE,
    INSULATION_OF,
    LEADS_OF,
    LINE_OF,
    MARKS_OF,
    SUPPLY_OF,
    PhraseError,
    Piece,
)
from .placing import PLACED, RESULTS, Placing, at_of
from .sayings import ALWAYS, APART, ENDS, NONE, SAME, TELLS, VERB
from .states import point_of
from .wires import structure


class _Reader(Placing):
    def observation(self) -> Observation:
        whole = Piece(self.text, 0).cut(0)
        first: PhraseError | None = None
        for verb in VERB.finditer(whole.text):
            subject = whole.cut(0, verb.start())
            try:
                self._look(subject, None)
            except PhraseError as bad:
                first = first or bad
            else:
                return self._of(subject, verb[1], whole.cut(verb.start() if verb[1] in TELLS else verb.end()))
        found = self._without_verb(whole)
        if found is not None:
            return found
        raise first or PhraseError(
            self.text,
            len(self.text.rstrip()) + 1,
            "say what it shows: 'shows 150 degF', 'is right', 'is off scale high', 'measures 92 ohm'",
        )

    def _without_verb(self, whole: Piece) -> Observation | None:
        """'oil pressure 10 psi low at idle', 'no oil pressure', 'no indication on oil pressure gauge'."""
        none = NONE.match(whole.text)
        if none is not None:
            first = next(iter(self.starts(whole.text)), None)
            end = first.start() if first is not None else len(whole.text)
            word = "dead" if none["sign"] else "zero"
            rest = Piece(f"{word}{whole.text[end:]}", whole.at + end - len(word))
            return self._of(whole.cut(none.end(), end), "", rest)
        for value in re.finditer(r"\s(?=[-+\d.])", whole.text):
            subject = whole.cut(0, value.start())
            try:
                self._look(subject, None)
            except PhraseError:
                continue
            return self._of(subject, "", whole.cut(value.end()))
        return None

    def _of(self, subject: Piece, verb: str, rest: Piece) -> Observation:
        placed = PLACED.fullmatch(rest.text)
        if placed is not None and (
            placed["rest"]
            or subject.text.startswith((MARKS_OF, ALL_MARKS_OF, SUPPLY_OF, LEADS_OF, INSULATION_OF))
        ):
            return self._placed(subject, rest, placed)
        first = next(iter(self.starts(rest.text)), None)
        what = rest.cut(0, first.start() if first is not None else None)
        clauses = rest.cut(first.start()) if first is not None else Piece("", rest.at + len(rest.text))
        always = ALWAYS.search(what.text)
        if always is not None:
            what = what.cut(0, always.start())
        look = self._look(subject, None)
        if isinstance(look, Show) and (by := APART.fullmatch(what.text)) is not None:
            at = self.setup(clauses, look)
            return self._spelt_out(Observation(at, look, self._away(what, by, look, at), ""))
        if verb in ("holds", "falls", "moves", "stays still"):
            result = Result(word="still" if verb == "stays still" else verb, text=verb)  # type: ignore[arg-type]
            if what.text:
                raise self.fail(what, f"nothing more is said after '{verb}' but 'at', 'with' or 'where'")
        else:
            result = self._result(what, look)
        look = self._look(subject, result)
        at = self.setup(clauses, look)
        look, at = self.warmed(look, at, clauses, result)
        if isinstance(look, (Ohms, Volts)) and not at.point:
            at = replace(at, point=STOPPED)
        if isinstance(look, Holding):
            at = replace(at, point=STOPPED)
        if isinstance(look, (Compared, Followed, Rung, Insulated)):
            at = at_of(self.study, look)
        if isinstance(look, Ohms):
            # The gauges are off while ohms are measured: what is meant is the lead that was lifted from one.
            gauges = self.study.model.indicators
            own = [n for n in (look.a, look.b) if n.partition(".")[0] in gauges]
            at = replace(at, lifted=tuple(n for n in at.lifted if n not in own))
        if isinstance(look, Ohms) and self._is_sensing(subject.text):
            at = replace(at, lifted=tuple(dict.fromkeys((*at.lifted, subject.text))))
        made = Observation(at, look, result, self.text.strip())
        short = (
            not verb
            or what.text.lower() in ENDS
            or what.text.lower() == "zero"
            or (isinstance(look, (Ohms, Volts)) and " to " not in subject.text)
        )
        return self._spelt_out(made) if short else made

    def _is_sensing(self, name: str) -> bool:
        return name in self.study.model.senders or name in self.study.model.probes

    def _spelt_out(self, one: Observation) -> Observation:
        """What was said for short, with how it is understood as a remark."""
        return replace(one, said=f"{self.text.strip()}  # {phrase(one, self.study)}")

    def _away(self, what: Piece, by: re.Match[str], look: Show, at: Setup) -> Result:
        """A value told by how far it is above or below what is true: whoever says so finds it wrong."""
        channel = self.channel(Piece(str(look), what.at))
        differences = tuple("temperature difference" if k == "temperature" else k for k in self.kinds(look))
        far = self.quantity(what.cut(0, by.end("by")), differences)
        kind = far.kind.removesuffix(" difference")
        point = point_of(self.study, at)
        true = next(
            (value for ident, value in at.known if ident == channel.feels), point.reading(channel.measure)
        )
        if true is None:
            raise self.fail(
                what,
                f"how far from what? say it with 'where ... is true': '{point.name}' gives no {channel.measure}",
            )
        side: Word = "high" if by["side"] == "high" else "low"
        value = float(true) + (float(far) if side == "high" else -float(far))
        return Result(value, side, far.unit, kind, show(value, far.unit, kind, 4))

    def _placed(self, subject: Piece, rest: Piece, placed: re.Match[str]) -> Observation:
        """A word with the place it was found at."""
        look = self._look(subject, None)
        if placed["rest"] and isinstance(look, Show):
            look = Shaken(look.name)
        result = self.found_at(look, rest, placed)
        return Observation(at_of(self.study, look), look, result, self.text.strip())

    def _look(self, subject: Piece, result: Result | None) -> Look:
        text = subject.text
        for prefix in (AT_TAP, BESIDE):
            if not text.startswith(prefix):
                continue
            name = text[len(prefix) :].strip()
            known = {s for c in channels(self.study) for s in (*c.sources, c.indicator)}
            if name not in known:
                raise self.fail(
                    subject.cut(len(prefix)), unknown_word(name, sorted(known), "sender, probe or gauge")
                )
            return TrueValue(name, at_port=prefix == BESIDE)
        if text.startswith(MARKS_OF):
            name = text[len(MARKS_OF) :].strip()
            if self.study.model.find(name) is None and name not in self.study.model.wire_runs:
                model = self.study.model
                things = [
                    *model.senders,
                    *model.probes,
                    *model.indicators,
                    *model.junctions,
                    *model.wire_runs,
                ]
                raise self.fail(subject.cut(len(MARKS_OF)), unknown_word(name, things, "thing"))
            return Marked(name)
        if text.startswith(SUPPLY_OF):
            name = text[len(SUPPLY_OF) :].strip()
            if name not in self.study.model.indicators:
                gauges = list(self.study.model.indicators)
                raise self.fail(subject.cut(len(SUPPLY_OF)), unknown_word(name, gauges, "gauge"))
            return Followed(name)
        if text.startswith(ALL_MARKS_OF):
            return Compared(str(self.channel(subject.cut(len(ALL_MARKS_OF))).show))
        if text.startswith(INSULATION_OF):
            return Insulated(str(self.channel(subject.cut(len(INSULATION_OF))).show))
        if text.startswith(LEADS_OF):
            return Rung(str(self.channel(subject.cut(len(LEADS_OF))).show))
        if text.startswith(LINE_OF):
            channel = self.channel(subject.cut(len(LINE_OF)))
            return Holding(channel.show.name)
        if " to " in text:
            at = text.index(" to ")
            a, b = self.node(subject.cut(0, at)), self.node(subject.cut(at + 4))
            volts = result is not None and result.kind == "voltage"
            return Volts(a, b) if volts else Ohms(a, b)
        try:
            return self.channel(subject).show
        except PhraseError:
            ends = self._ends_of(subject)
            if ends is None:
                raise
        volts = result is not None and result.kind == "voltage"
        return Volts(*ends) if volts else Ohms(*ends)

    def _ends_of(self, subject: Piece) -> tuple[str, str] | None:
        """What is measured between when one thing is named: the two terminals of a sender, or a terminal and the structure."""
        text, graph = subject.text, self.study.graph
        if self._is_sensing(text):
            things = [*graph.by_thing.get(("senders", text), ()), *graph.by_thing.get(("probes", text), ())]
            own = [e for e in things if e.kind in ("element", "couple")]
            if len(own) == 1:
                return own[0].a, own[0].b
            raise self.fail(subject, f"say between which terminals: '{text}.A to {text}.B'")
        ground = structure(self.study)
        try:
            node = graph.node_of(text)
        except KeyError:
            return None
        return (node, ground) if node in graph.nodes and ground not in (None, node) else None

    def _end_of_dial(self, what: Piece, look: Show) -> Result | None:
        """'zero', or 'empty' and 'full' of contents, as the value or the stop they stand for."""
        channel, told = self.channel(Piece(str(look), what.at)), what.text.lower()
        dial = channel.spec.scale
        if dial is None:
            return None
        low = dial.lowest
        if told == "zero":
            none = parse(f"0 {low.unit}", low.kind)
            if float(none) < float(low):
                return Result(word="off scale low", text="off scale low")
            return Result(float(none), None, none.unit, none.kind, none.text)
        if told not in ENDS or not (channel.measure or "").endswith("quantity"):
            return None
        end = getattr(dial, ENDS[told])
        return Result(float(end), None, end.unit, end.kind, end.text)

    def _result(self, what: Piece, look: Look) -> Result:
        word = SAME.get(what.text, SAME.get(what.text.lower(), what.text.lower()))
        if word in WORDS:
            if word == "open" and not isinstance(look, Ohms):
                raise self.fail(what, "only a meter between two terminals shows 'open'")
            return Result(word=word, text=what.text)
        if isinstance(look, (Show, TrueValue)):
            kinds: tuple[str, ...] = self.kinds(look)
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
        if isinstance(look, Show) and (end := self._end_of_dial(what, look)) is not None:
            return end
        value = self.quantity(what, kinds)
        return Result(float(value), None, value.unit, value.kind, value.text)


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
    piece = Piece(text.strip(), len(text) - len(text.lstrip()))
    by_word = RESULTS.get(type(look))
    if by_word is not None:
        placed = PLACED.fullmatch(piece.text)
        if placed is not None:
            made = Observation(at, look, reader.found_at(look, piece, placed), "")
            return replace(made, said=phrase(made))
        told = piece.text
        if told in ("yes", "no") and len(by_word) == 2:
            told = by_word[told == "no"]
        word = SAME.get(told)
        word = next((w for w in by_word if w in (told, word)), None)
        if word is None:
            raise reader.fail(piece, unknown_word(piece.text, by_word, "result of this test"))
        result = Result(word=word, text=told)
    elif isinstance(look, Volts):
        value = reader.quantity(piece, ("voltage",))
        result = Result(float(value), None, value.unit, value.kind, value.text)
    else:
        result = reader._result(piece, look)
    made = Observation(at, look, result, "")
    return replace(made, said=phrase(made, study))


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
