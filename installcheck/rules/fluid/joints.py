"""Where lines and fittings are screwed together: forms that mate, and metals that corrode each other."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

from ...analysis import missing
from ...analysis.fluid.facts import MANIFOLD, Part, carried, lines, media
from ...analysis.fluid.stock import is_soft
from ...analysis.missing import Missing
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.devices import Sender
from ...model.fluid import Fitting, FluidLine, Tap
from ...model.installation import Thing, split_end, terminals_of
from ...model.quantities import in_unit, plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_FLARE = re.compile(r"(37|45)\s*(?:deg\w*)?\s*flare\s*(-?\s*\d+(?:/\d+)?)?", re.IGNORECASE)
_HOSE = re.compile(r"hose end\s*(-\s*\d+)", re.IGNORECASE)
_PIPE = re.compile(r"(\d+/\d+|\d+)\s*(?:in\s*)?(?:-\d+\s*)?(?:pipe|NPT|ANPT)", re.IGNORECASE)
_THREAD = re.compile(r"(\d+(?:\s+\d+/\d+|/\d+)?)\s*-\s*(\d+)")

_OF_A_DASH = 0.02
"""Sixteenths of an inch (0.00125 in): 0.187 in, as 3/16 in is also written, is 0.008 sixteenths short of it."""


@dataclass(frozen=True, slots=True)
class Form:
    """How an end is made: a flare of an angle and dash size, a pipe thread, a straight thread, or other words."""

    kind: Literal["flare", "pipe", "thread", "other"]
    size: str
    angle: int = 0
    text: str = ""

    def mates(self, other: Form) -> bool:
        """Whether two ends seal on each other."""
        if self.kind != other.kind or self.angle != other.angle:
            return False
        return not (self.size and other.size) or self.size == other.size


def form(text: str) -> Form:
    """The form of an end as a mechanic writes it.

    >>> form("37 degree flare -4").angle, form("hose end -4").kind, form("1/8 pipe thread").size
    (37, 'flare', '1/8')
    """
    if hose := _HOSE.search(text):
        # A hose end is a swivel nut with the seat of a 37 degree fitting of its dash size.
        return Form("flare", _dash(hose[1]), 37, text)
    if flare := _FLARE.search(text):
        return Form("flare", _dash(flare[2] or ""), int(flare[1]), text)
    if pipe := _PIPE.search(text):
        return Form("pipe", pipe[1], text=text)
    if thread := _THREAD.search(text):
        return Form("thread", f"{thread[1]}-{thread[2]}", text=text)
    return Form("other", text.strip().lower(), text=text)


def _dash(text: str) -> str:
    """A size as a dash number: ``-4`` and ``1/4`` are both 4."""
    text = text.replace(" ", "")
    if "/" in text:
        top, bottom = text.lstrip("-").split("/")
        return plain_number(16 * int(top) / int(bottom)) if int(bottom) else ""
    return text.lstrip("-")


@dataclass(frozen=True, slots=True)
class Joint:
    """Two ends that are screwed together: what they are, how each is made, and which words are missing."""

    at: tuple[str, str]
    path: DocPath
    one: str | None
    other: str | None
    missing: tuple[Missing, ...]

    @property
    def ident(self) -> str:
        """Id of the part that is screwed in."""
        return self.at[0]


def _port_form(thing: Thing, port: str) -> tuple[str | None, Missing | None]:
    """Form of a port, and what to ask for where the document does not say; no ask where none is known."""
    if isinstance(thing, Tap):
        return thing.thread, missing.TAP_THREAD
    if isinstance(thing, Sender):
        return thing.spec.port_thread, missing.SENDER_THREAD
    if isinstance(thing, Fitting):
        given = thing.spec.ends or {}
        only = next(iter(given.values())) if len(set(given.values())) == 1 else None
        return given.get(port, only), missing.FITTING_ENDS
    return None, None


@once
def _joints(study: Study) -> tuple[Joint, ...]:
    return (*_joints_of_lines(study), *_joints_screwed(study))


def _joints_of_lines(study: Study) -> Iterator[Joint]:
    for part in lines(study):
        for word, end in (("from", part.line.from_), ("to", part.line.to)):
            ident, port = split_end(end)
            found = study.model.find(ident)
            if found is None:
                continue
            there, ask = _port_form(found[1], port)
            if ask is None:
                continue
            own = part.line.spec.end_form
            lacking = tuple(w for w, v in ((missing.LINE_END_FORM, own), (ask, there)) if v is None)
            yield Joint((part.ident, ident), (*part.path, word), own, there, lacking)


def _joints_screwed(study: Study) -> Iterator[Joint]:
    for section in ("fittings", "senders"):
        for ident, thing in study.model.section(section).items():
            if not isinstance(thing, (Fitting, Sender)) or thing.screwed_into is None:
                continue
            other, port = split_end(thing.screwed_into)
            found = study.model.find(other)
            if found is None:
                continue
            names = thing.spec.ports or list(terminals_of(section, thing) or ("in",))
            own, ask = _port_form(thing, names[0])
            there, ask_there = _port_form(found[1], port)
            lacking = tuple(w for w, v in ((ask, own), (ask_there, there)) if v is None and w is not None)
            path: DocPath = (section, ident, "screwed_into")
            yield Joint((ident, other), path, own, there, lacking)


@rule(
    "fitting-mates",
    title="Ends that are screwed together are made for each other",
    why="A 45 degree flare on a 37 degree fitting seals on a line, weeps and cracks. A straight nut starts on a pipe thread and "
    "holds by two turns.",
    source="37 degree flare: MS33583, MS33584; automotive 45 degree flares are not to be mixed with it: FAA-H-8083-30",
    formula="same form, angle and size on both sides; a tube's flare is of its outside diameter in sixteenths",
    example="1/4 in tube with a 45 degree flare on a 37 degree -4 fitting: cut and flare it anew",
    over=lambda study: [*_joints(study), *(p for p in lines(study) if _wrong_flare(p.line) is not None)],
)
def fitting_mates(study: Study, subject: Subject, one: Joint | Part) -> Verdict | None:
    """A joint of two ends, or a tube whose flare is not of its own diameter."""
    if isinstance(one, Part):
        fault = _wrong_flare(one.line)
        return subject.discrepancy(f"line {one.ident} {fault[0]}", remedy=fault[1]) if fault else None
    subject = subject.along(*one.at)
    if one.missing:
        return subject.lacks(*one.missing)
    if one.one is None or one.other is None:
        return None
    return _mate(subject, form(one.one), form(one.other))


def _mate(subject: Subject, one: Form, other: Form) -> Verdict:
    at = subject.at
    if one.mates(other):
        return subject.meets(f"{at[0]} ({one.text}) mates with {at[-1]} ({other.text})")
    kinds = {one.kind, other.kind}
    remedy = "use ends of one form and size"
    if kinds == {"flare", "pipe"}:
        flare, pipe = (one, other) if one.kind == "flare" else (other, one)
        remedy = f"screw an adapter, pipe thread {pipe.size} to flare -{flare.size} (AN816), between them"
    elif kinds == {"flare"} and one.angle != other.angle:
        remedy = "cut the 45 degree flare off and flare the tube to 37 degrees with a sleeve and nut"
    elif kinds == {"flare"}:
        remedy = f"use one dash size: -{one.size} meets -{other.size}"
    return subject.discrepancy(
        f"{at[0]} ({one.text}) does not mate with {at[-1]} ({other.text})", remedy=remedy
    )


def _wrong_flare(line: FluidLine) -> tuple[str, str] | None:
    """What is wrong with the size of a tube's flare, and the way out."""
    spec = line.spec
    if spec.kind != "tube" or spec.end_form is None or spec.outside_diameter is None:
        return None
    made = form(spec.end_form)
    dash = in_unit(spec.outside_diameter, "in", "length") * 16
    if made.kind != "flare" or not made.size or abs(float(made.size) - dash) < _OF_A_DASH:
        return None
    return (
        f"is a tube of -{plain_number(dash)} with a flare -{made.size}",
        f"use fittings of size -{plain_number(dash)}",
    )


_NOBLE = frozenset(("copper", "brass", "bronze"))


def _base(material: str | None) -> str | None:
    """The metal a material is in the main; ``None`` where it is not said."""
    if material is None:
        return None
    words = material.lower()
    metal = next((m for m in ("aluminium", "steel", *sorted(_NOBLE)) if m in words), words)
    return "steel" if "stainless" in words else metal


@rule(
    "line-metals",
    title="Aluminium and copper-base metals are not screwed together in a wet line",
    why="With moisture the aluminium eats away: a gauge stuck at 16 in of mercury with the engine stopped, its aluminium elbow on "
    "a copper tube full of corrosion.",
    source="galvanic corrosion of dissimilar metals: AC 43.13-1B chapter 6 (recalled)",
    formula="aluminium against copper, brass or bronze; a sender is asked only where it says its material",
    example="aluminium elbow on copper tube: a brass or steel elbow replaces it",
    over="fluid_lines",
)
def line_metals(study: Study) -> Iterator[Verdict]:
    """Every joint of a metal tube with a fitting, and of two fittings."""
    for part in lines(study):
        if part.line.spec.kind == "hose" or is_soft(part.line):
            continue
        damp = bool(carried(study, part.ident) & MANIFOLD)
        for end in (part.line.from_, part.line.to):
            fitting = study.model.fittings.get(split_end(end)[0])
            if fitting is not None:
                subject = Subject(study, (part.ident, split_end(end)[0]), part.path)
                yield _pair(subject, part.line.spec.material, fitting, missing.LINE_MATERIAL, damp)
    yield from _sender_pairs(study)
    for ident, fitting in study.model.fittings.items():
        into = split_end(fitting.screwed_into)[0] if fitting.screwed_into is not None else ""
        other = study.model.fittings.get(into)
        if other is None:
            continue
        nodes = [n for e in study.graph.by_thing.get(("fittings", ident), ()) for n in (e.a, e.b)]
        damp = any(media(study).at(n) & MANIFOLD for n in nodes)
        subject = Subject(study, (ident, into), ("fittings", ident))
        yield _pair(subject, fitting.spec.material, other, missing.FITTING_MATERIAL, damp)


def _sender_pairs(study: Study) -> Iterator[Verdict]:
    """Each sender of known material with the fittings that are screwed to it, or that it is screwed into."""
    screwed = [(i, f.screwed_into) for i, f in study.model.fittings.items() if f.screwed_into is not None]
    for ident, sender in study.model.senders.items():
        if sender.spec.material is None:
            continue
        met = [i for i, into in screwed if split_end(into)[0] == ident]
        met += [split_end(sender.screwed_into)[0]] if sender.screwed_into is not None else []
        for other in met:
            fitting = study.model.fittings.get(other)
            if fitting is not None:
                damp = any(media(study).at(f"{ident}.{p}") & MANIFOLD for p in sender.spec.ports or ())
                subject = Subject(study, (ident, other), ("senders", ident))
                yield _pair(subject, sender.spec.material, fitting, missing.FITTING_MATERIAL, damp)


def _pair(subject: Subject, metal: str | None, fitting: Fitting, ask: Missing, damp: bool) -> Verdict:
    one, two = _base(metal), _base(fitting.spec.material)
    if one is None or two is None:
        lacking = (ask,) * (one is None) + (missing.FITTING_MATERIAL,) * (two is None)
        return subject.lacks(*lacking)
    at, pair = subject.at, {one, two}
    if "aluminium" not in pair or not pair & _NOBLE:
        return subject.meets(f"{at[0]} of {one} and {at[1]} of {two} go together")
    wet = "; moist air of the manifold stands in it" if damp else ""
    return subject.advisory(
        f"{at[0]} of {one} is screwed to {at[1]} of {two}: the aluminium corrodes{wet}",
        remedy=f"use steel, or {(pair & _NOBLE).pop()}, for both",
    )
