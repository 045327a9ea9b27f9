"""Where lines and fittings are screwed together: forms that mate, and metals that corrode each other."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from ...analysis.fluid.facts import (
    MANIFOLD,
    carried,
    lines,
    media,
)
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.devices import Sender
from ...model.fluid import Fitting, FluidLine, Tap
from ...model.installation import Thing, split_end, terminals_of
from ...model.quantities import in_unit, plain_number
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_FLARE = re.compile(r"(37|45)\s*(?:deg\w*)?\s*flare\s*(-?\s*\d+(?:/\d+)?)?", re.IGNORECASE)
_HOSE = re.compile(r"hose end\s*(-\s*\d+)", re.IGNORECASE)
_PIPE = re.compile(r"(\d+/\d+|\d+)\s*(?:in\s*)?(?:-\d+\s*)?(?:pipe|NPT|ANPT)", re.IGNORECASE)
_THREAD = re.compile(r"(\d+(?:\s+\d+/\d+|/\d+)?)\s*-\s*(\d+)")


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
    missing: tuple[str, ...]


def _port_form(thing: Thing, port: str) -> tuple[str | None, str]:
    """Form of a port, and what to ask for where the document does not say; an empty ask where none is known."""
    if isinstance(thing, Tap):
        return thing.thread, "thread of the tap"
    if isinstance(thing, Sender):
        return thing.spec.port_thread, "thread of the sender's port"
    if isinstance(thing, Fitting):
        given = thing.spec.ends or {}
        only = next(iter(given.values())) if len(set(given.values())) == 1 else None
        return given.get(port, only), "form of each end of the fitting ('ends')"
    return None, ""


def _joints(study: Study) -> Iterator[Joint]:
    for part in lines(study):
        for word, end in (("from", part.line.from_), ("to", part.line.to)):
            ident, port = split_end(end)
            found = study.model.find(ident)
            if found is None:
                continue
            there, ask = _port_form(found[1], port)
            if not ask:
                continue
            own = part.line.spec.end_form
            missing = [w for w, v in (("end form of the line", own), (ask, there)) if v is None]
            yield Joint((part.ident, ident), (*part.path, word), own, there, tuple(missing))
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
            missing = [w for w, v in ((ask, own), (ask_there, there)) if v is None and w]
            path: DocPath = (section, ident, "screwed_into")
            yield Joint((ident, other), path, own, there, tuple(missing))


@rule(
    "fitting-mates",
    title="Ends that are screwed together are made for each other",
    why="A 45 degree flare on a 37 degree fitting seals on a line, weeps and cracks. A straight nut starts on a pipe thread and "
    "holds by two turns.",
    source="37 degree flare: MS33583, MS33584; automotive 45 degree flares are not to be mixed with it: FAA-H-8083-30",
    formula="same form, angle and size on both sides; a tube's flare is of its outside diameter in sixteenths",
    example="1/4 in tube with a 45 degree flare on a 37 degree -4 fitting: cut and flare it anew",
    over=lambda study: [j.at[0] for j in study.memo("fluid joints", lambda c: list(_joints(c)))],
)
def fitting_mates(study: Study) -> Iterator[Verdict]:
    """Every joint of lines, fittings, taps and senders."""
    for joint in study.memo("fluid joints", lambda c: list(_joints(c))):
        if joint.missing or joint.one is None or joint.other is None:
            if joint.missing:
                yield undetermined(joint.at, joint.path, joint.missing)
            continue
        yield _mate(joint, form(joint.one), form(joint.other))
    for part in lines(study):
        if (fault := _wrong_flare(part.line)) is not None:
            yield discrepancy((part.ident,), part.path, f"line {part.ident} {fault[0]}", remedy=fault[1])


def _mate(joint: Joint, one: Form, other: Form) -> Verdict:
    at, path = joint.at, joint.path
    if one.mates(other):
        return meets(at, path, f"{at[0]} ({one.text}) mates with {at[1]} ({other.text})")
    kinds = {one.kind, other.kind}
    remedy = "use ends of one form and size"
    if kinds == {"flare", "pipe"}:
        flare, pipe = (one, other) if one.kind == "flare" else (other, one)
        remedy = f"screw an adapter, pipe thread {pipe.size} to flare -{flare.size} (AN816), between them"
    elif kinds == {"flare"} and one.angle != other.angle:
        remedy = "cut the 45 degree flare off and flare the tube to 37 degrees with a sleeve and nut"
    elif kinds == {"flare"}:
        remedy = f"use one dash size: -{one.size} meets -{other.size}"
    return discrepancy(
        at, path, f"{at[0]} ({one.text}) does not mate with {at[1]} ({other.text})", remedy=remedy
    )


def _wrong_flare(line: FluidLine) -> tuple[str, str] | None:
    spec = line.spec
    if spec.kind != "tube" or spec.end_form is None or spec.outside_diameter is None:
        return None
    made = form(spec.end_form)
    dash = in_unit(spec.outside_diameter, "in", "length") * 16
    if made.kind != "flare" or not made.size or abs(float(made.size) - dash) < 0.02:
        return None
    return (
        f"is a tube of -{plain_number(dash)} with a flare -{made.size}",
        f"use fittings of size -{plain_number(dash)}",
    )


_NOBLE = frozenset(("copper", "brass", "bronze"))


def _base(material: str | None) -> str | None:
    if material is None:
        return None
    if "aluminium" in material:
        return "aluminium"
    return "steel" if "stainless" in material or material == "steel" else material


@rule(
    "line-metals",
    title="Aluminium and copper-base metals are not screwed together in a wet line",
    why="With moisture the aluminium eats away: a gauge stuck at 16 in of mercury with the engine stopped, its aluminium elbow on "
    "a copper tube full of corrosion.",
    source="galvanic corrosion of dissimilar metals: AC 43.13-1B chapter 6 (recalled)",
    formula="aluminium against copper, brass or bronze",
    example="aluminium elbow on copper tube: a brass or steel elbow replaces it",
    over="fluid_lines",
)
def line_metals(study: Study) -> Iterator[Verdict]:
    """Every joint of a metal tube with a fitting, and of two fittings."""
    for part in lines(study):
        metal = _base(part.line.spec.material)
        if part.line.spec.kind == "hose" or metal in ("rubber", "PTFE", "nylon"):
            continue
        damp = bool(carried(study, part.ident) & MANIFOLD)
        for end in (part.line.from_, part.line.to):
            ident = split_end(end)[0]
            fitting = study.model.fittings.get(ident)
            if fitting is None:
                continue
            yield _pair((part.ident, ident), part.path, metal, _base(fitting.spec.material), "line", damp)
    for ident, fitting in study.model.fittings.items():
        into = split_end(fitting.screwed_into)[0] if fitting.screwed_into is not None else ""
        other = study.model.fittings.get(into)
        if other is None:
            continue
        nodes = [n for e in study.graph.by_thing.get(("fittings", ident), ()) for n in (e.a, e.b)]
        damp = any(media(study).at(n) & MANIFOLD for n in nodes)
        one, two = _base(fitting.spec.material), _base(other.spec.material)
        yield _pair((ident, into), ("fittings", ident), one, two, "fitting", damp)


def _pair(
    at: tuple[str, str], path: DocPath, one: str | None, two: str | None, what: str, damp: bool
) -> Verdict:
    lacking = [f"material of the {w}" for w, m in ((what, one), ("fitting", two)) if m is None]
    if one is None or two is None:
        return undetermined(at, path, tuple(dict.fromkeys(lacking)))
    pair = {one, two}
    if "aluminium" not in pair or not pair & _NOBLE:
        return meets(at, path, f"{at[0]} of {one} and {at[1]} of {two} go together")
    wet = "; moist air of the manifold stands in it" if damp else ""
    return advisory(
        at,
        path,
        f"{at[0]} of {one} is screwed to {at[1]} of {two}: the aluminium corrodes{wet}",
        remedy=f"use steel, or {(pair & _NOBLE).pop()}, for both",
    )
