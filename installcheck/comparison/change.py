"""One change of one thing, and what things are called."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum

from pydantic import BaseModel

from ..dataclass import dataclass
from ..document.source import DocPath
from ..graph import total_length
from ..model.fluid import FluidLine
from ..model.quantities import Quantity, show
from ..model.wiring import WireRun
from .differences import NOT_GIVEN


class Kind(StrEnum):
    """What happened to a thing."""

    REMOVED = "removed"
    ADDED = "added"
    REPLACED = "replaced"
    RENAMED = "renamed"
    MOVED = "moved"
    RECONNECTED = "reconnected"
    REROUTED = "rerouted"
    REGAUGED = "re-gauged"
    RELENGTHENED = "re-lengthened"
    CHANGED = "changed"
    REWORDED = "reworded"


@dataclass(frozen=True, slots=True)
class Detail:
    """One value before and after, in words; ``follows`` if it only follows from another one, as a part's figures do."""

    what: str
    old: str
    new: str
    follows: bool = False

    def __str__(self) -> str:
        return f"{self.what} was {self.old}, now {self.new}"


@dataclass(frozen=True, slots=True)
class Change:
    """What happened to one thing.

    Attributes:
        kind: what happened.
        section, ident: the thing, as the new document names it; a removed one as the old does.
        noun: what sort of thing it is, in trade words.
        details: values before and after; for what is added or removed, empty.
        told: what an added or removed thing is, in words.
        path: where the new document tells of it; the old one for what is removed.
    """

    kind: Kind
    section: str
    ident: str
    noun: str
    details: tuple[Detail, ...] = ()
    told: str = ""
    path: DocPath = ()

    @property
    def message(self) -> str:
        """One sentence without a full stop."""
        head = f"{self.noun} {self.ident}".strip() + f" {self.kind}"
        told = self.told or "; ".join(str(detail) for detail in self.details if not detail.follows)
        return f"{head}: {told}" if told else head


NOUNS = {
    "zones": "zone",
    "barriers": "barrier",
    "engines": "engine",
    "operating_points": "operating point",
    "senders": "sender",
    "indicators": "indicator",
    "probes": "probe",
    "supplies": "supply",
    "loads": "load",
    "grounds": "ground",
    "junctions": "junction",
    "bundles": "bundle",
    "wire_runs": "run",
    "taps": "tap",
    "fittings": "fitting",
    "fluid_lines": "line",
    "survey": "survey",
    "measured": "measurement",
    "deviations": "deviation",
    "aircraft": "aircraft",
}


def noun(section: str, thing: BaseModel) -> str:
    """What a thing is called in the trade: 'breaker', 'terminal block', 'hose', else by its section."""
    kind = getattr(getattr(thing, "spec", thing), "kind", None)
    if section in ("supplies", "junctions", "fittings", "fluid_lines") and isinstance(kind, str):
        return kind
    if section == "grounds" and isinstance(kind, str):
        return {"structure": "ground", "stud": "ground stud", "bus": "ground bus"}.get(kind, kind)
    return NOUNS[section]


def described(thing: BaseModel) -> str:
    """What an added or removed thing is, in a line."""
    parts = []
    spec = getattr(thing, "spec", None)
    for word in ("title", "part", "size"):
        value = getattr(thing, word, None)
        if isinstance(value, str):
            parts.append(value)
    if not parts and spec is not None:
        parts += [
            str(getattr(spec, word))
            for word in ("principle", "kind")
            if getattr(spec, word, None) is not None
        ]
    gauge = getattr(thing, "gauge", None)
    if gauge is not None:
        parts.append(f"{gauge} AWG")
    parts += _ends_told(thing)
    if isinstance(thing, (WireRun, FluidLine)):
        length = total_length(thing)
        if length is not None:
            parts.append(length_told(length, length_unit(thing) or "ft"))
    for word in ("cylinder", "zone"):
        value = getattr(thing, word, None)
        if value is not None:
            parts.append(f"{word} {value}" if word == "cylinder" else f"in {value}")
    return ", ".join(parts)


def _ends_told(thing: BaseModel) -> Iterator[str]:
    ends = (getattr(thing, "from_", None), getattr(thing, "to", None))
    if all(ends):
        yield f"{ends[0]} to {ends[1]}"
    conductors: Mapping[str, BaseModel] = getattr(thing, "conductors", None) or {}
    for name, one in conductors.items():
        yield f"{name} {getattr(one, 'from_', '')} to {getattr(one, 'to', '')}"


def length_unit(run: WireRun | FluidLine) -> str | None:
    stated = [step.length for step in run.route or () if step.length is not None]
    length: Quantity | None = stated[0] if stated else run.length
    return length.unit if length is not None else None


def length_told(length: float | None, unit: str) -> str:
    return NOT_GIVEN if length is None else show(length, unit, "length", 4)
