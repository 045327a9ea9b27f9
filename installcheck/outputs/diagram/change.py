"""Two drawings laid over each other: what is new, what is gone and what is kept, told apart in black and white.

What is gone is drawn from the old document, where it was. A run that only differs in its flag is drawn once, with what it
was; one whose ends or crossings differ is drawn twice. Circuits in which nothing changed are left out and counted.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from typing import TypeVar

from ...analysis.study import Study
from ...causes.found import Causes
from ...dataclass import dataclass
from ...document import Document
from ...drawing.kinds import Change, Paper, WireKind
from ...drawing.sheet import Band, Device, Fitting, FluidLine, Joint, Sheet, Wire
from ...drawing.split import split_sheets
from ...rules.verdicts import Ledger
from ..numbering import findings
from .circuits import circuits_of
from .collect import collect
from .parts import Parts
from .removed import add_idle
from .runs import LONGEST_BOND
from .sheets import place_marks, sheet_of

_T = TypeVar("_T", Fitting, Joint, Device)
_R = TypeVar("_R", Wire, FluidLine)
_BEFORE = " before"


def sheets_of_change(
    old: Document,
    new: Document,
    ledger: Ledger | None = None,
    paper: Paper = Paper.A4,
    causes: Causes | None = None,
) -> list[Sheet]:
    """The sheets of what changes from one document to another, with the verdicts on the new one where given."""
    was, now = _plain_parts(Study(old)), _plain_parts(ledger.study if ledger is not None else Study(new))
    merged = _Overlay(was, now).merged()
    before, after = old.installation.installation, new.installation.installation
    unchanged = merged.left_out
    note = (
        f"Against {before.name}, revision {before.revision or '-'}. NEW is in, REMOVED (crossed, grey or dashed) is out, the rest "
        f"is kept. {unchanged} run{'s' if unchanged != 1 else ''} of circuits in which nothing changes are not drawn."
    )
    subject = f"Change from revision {before.revision or '-'} to {after.revision or '-'}"
    found = findings(ledger, causes) if ledger is not None else ()
    marked = tuple(place_marks(found, merged.parts, whole=False))
    return split_sheets([sheet_of(new, subject, merged.parts, paper, marked, (note,))])


def _plain_parts(study: Study) -> Parts:
    """Everything a document says is there, without what it says of its own alteration."""
    parts = collect(study.graph, study.graph.edges, circuits_of(study), number_bonds=False)
    add_idle(parts, study.graph)
    parts.fittings = {n: replace(t, change=Change.NONE) for n, t in parts.fittings.items()}
    parts.devices = {n: replace(t, change=Change.NONE) for n, t in parts.devices.items()}
    parts.joints = {n: replace(t, change=Change.NONE) for n, t in parts.joints.items()}
    parts.wires = {n: replace(t, change=Change.NONE) for n, t in parts.wires.items()}
    parts.lines = {n: replace(t, change=Change.NONE) for n, t in parts.lines.items()}
    for ident, block in parts.blocks.items():
        parts.blocks[ident] = replace(block, label=ident.removeprefix("block "))
    return parts


@dataclass(slots=True)
class _Merged:
    parts: Parts = field(default_factory=Parts)
    left_out: int = 0


class _Overlay:
    def __init__(self, old: Parts, new: Parts) -> None:
        self.old, self.new = old, new
        self.made = Parts(target=dict(new.target))
        self.renamed: dict[str, str] = {}

    def merged(self) -> _Merged:
        made, old, new = self.made, self.old, self.new
        made.bands = _in_order(new.bands, old.bands)
        made.barriers = {**new.barriers, **{k: v for k, v in old.barriers.items() if k not in new.barriers}}
        made.fittings = _overlaid(old.fittings, new.fittings)
        self.devices()
        self.joints()
        made.wires = self.runs(old.wires, new.wires)
        made.lines = self.runs(old.lines, new.lines)
        merged = self.pruned()
        _number_bonds(merged.parts)
        return merged

    def devices(self) -> None:
        for name, now in self.new.devices.items():
            was = self.old.devices.get(name)
            if was is None:
                self.made.devices[name] = replace(now, change=Change.NEW)
            elif (was.band, was.kind) == (now.band, now.kind):
                here = {t.id for t in now.terminals}
                terminals = (*now.terminals, *(t for t in was.terminals if t.id not in here))
                gone = [line for line in was.lines[1:] if line not in now.lines]
                lines = (*now.lines, *([f"was: {', '.join(gone)}"] if gone else []))
                self.made.devices[name] = replace(now, lines=lines, terminals=terminals)
            else:
                self.made.devices[name] = replace(now, change=Change.NEW)
                self._gone(name, was)
        for name, was in self.old.devices.items():
            if name not in self.new.devices:
                self._gone(name, was)

    def _gone(self, name: str, was: Device) -> None:
        """Draw a device where it was; its names give way to those of what has taken its place."""
        taken = {t.id for d in self.new.devices.values() for t in d.terminals} | set(self.new.joints)
        for terminal in was.terminals:
            if terminal.id in taken:
                self.renamed[terminal.id] = terminal.id + _BEFORE
        own = name + _BEFORE if name in self.new.devices else name
        terminals = tuple(replace(t, id=self.renamed.get(t.id, t.id)) for t in was.terminals)
        self.made.devices[own] = replace(was, id=own, terminals=terminals, change=Change.REMOVED)

    def joints(self) -> None:
        made, old, new = self.made, self.old, self.new
        ends = {t.id for d in made.devices.values() for t in d.terminals}
        blocks = dict(new.blocks)
        for name, block in old.blocks.items():
            if name not in blocks:
                blocks[name] = replace(block, label=f"{block.label} REMOVED")
        made.blocks = {
            n: replace(b, label=f"{b.label} NEW") if n not in old.blocks else b for n, b in blocks.items()
        }
        for name, now in new.joints.items():
            was = old.joints.get(name)
            same = was is not None and (was.band, was.kind, was.block) == (now.band, now.kind, now.block)
            known = bool(now.block) and now.block not in old.blocks
            made.joints[name] = now if same or known else replace(now, change=Change.NEW)
        for name, was in old.joints.items():
            now_there = new.joints.get(name)
            if now_there is not None and (was.band, was.kind, was.block) == (
                now_there.band,
                now_there.kind,
                now_there.block,
            ):
                continue
            own = name + _BEFORE if name in new.joints or name in ends else name
            self.renamed.update({name: own} if own != name else {})
            block_kept = was.block if not was.block or made.blocks[was.block].band == was.band else ""
            made.joints[own] = replace(was, id=own, block=block_kept, change=Change.REMOVED)

    def runs(self, old: Mapping[str, _R], new: Mapping[str, _R]) -> dict[str, _R]:
        made: dict[str, _R] = {}
        for name, now in new.items():
            was = old.get(name)
            if was is None:
                made[name] = replace(now, change=Change.NEW)
            elif self._old_way(was) == (frozenset((now.start, now.end)), frozenset(now.through)):
                made[name] = self._kept(was, now)
            else:
                made[name] = replace(now, change=Change.NEW)
                made[name + _BEFORE] = self._taken_out(was, name + _BEFORE)
        for name, was in old.items():
            if name not in new:
                made[name] = self._taken_out(was, name)
        return made

    def _old_way(self, was: _R) -> tuple[frozenset[str], frozenset[str]]:
        return frozenset(self.renamed.get(e, e) for e in (was.start, was.end)), frozenset(was.through)

    @staticmethod
    def _kept(was: _R, now: _R) -> _R:
        gone = [part for part in was.flag if part not in now.flag]
        if isinstance(was, Wire) and isinstance(now, Wire):
            couple = WireKind.THERMOCOUPLE in (was.kind, now.kind)
            if couple and was.kind is not now.kind:
                gone.append("thermocouple wire" if was.kind is WireKind.THERMOCOUPLE else "plain wire")
            if bool(was.shield) != bool(now.shield):
                gone.append("shielded" if was.shield else "unshielded")
        if isinstance(was, FluidLine) and isinstance(now, FluidLine) and was.medium != now.medium:
            gone.insert(0, was.medium)
        return replace(now, flag=(*now.flag, f"was {', '.join(gone)}")) if gone else now

    def _taken_out(self, was: _R, ident: str) -> _R:
        start, end = (self.renamed.get(e, e) for e in (was.start, was.end))
        return replace(was, id=ident, start=start, end=end, change=Change.REMOVED)

    def pruned(self) -> _Merged:
        """Only circuits in which something changes, and what they join."""
        made = self.made
        runs: list[Wire | FluidLine] = [*made.wires.values(), *made.lines.values()]
        homes = {t.id: d.id for d in made.devices.values() for t in d.terminals}
        touched = {d.id for d in made.devices.values() if d.change is not Change.NONE or _told(d.lines[1:])}
        touched |= {j.id for j in made.joints.values() if j.change is not Change.NONE}
        circuits = {
            r.circuit or r.id
            for r in runs
            if r.change is not Change.NONE
            or _told(r.flag)
            or {homes.get(r.start, r.start), homes.get(r.end, r.end)} & touched
        }
        kept = {r.id for r in runs if (r.circuit or r.id) in circuits}
        ends = {e for r in runs if r.id in kept for e in (r.start, r.end)}
        crossed = {name for r in runs if r.id in kept for name in r.through}
        made.wires = {n: w for n, w in made.wires.items() if n in kept}
        made.lines = {n: x for n, x in made.lines.items() if n in kept}
        made.devices = {
            n: replace(d, terminals=tuple(t for t in d.terminals if t.id in ends))
            for n, d in made.devices.items()
            if n in touched or any(t.id in ends for t in d.terminals)
        }
        made.joints = {n: j for n, j in made.joints.items() if n in ends or n in touched}
        made.fittings = {
            n: f
            for n, f in made.fittings.items()
            if n in crossed or (f.change is not Change.NONE and n.count(" ") < 2)
        }
        blocks = {j.block for j in made.joints.values()}
        made.blocks = {n: b for n, b in made.blocks.items() if n in blocks}
        here = {
            *made.wires,
            *made.lines,
            *made.devices,
            *made.joints,
            *made.fittings,
            *made.bands,
            *made.barriers,
        }
        here |= {t.id for d in made.devices.values() for t in d.terminals}
        made.target = {k: v for k, v in made.target.items() if v in here}
        return _Merged(made, len(runs) - len(kept))


def _number_bonds(parts: Parts) -> None:
    """Short names for joints to ground, now that those of both documents have been told apart by their long ones."""
    long = [n for n, w in parts.wires.items() if w.kind is WireKind.STRAP and len(n) > LONGEST_BOND]
    names = {name: f"bond {number}" for number, name in enumerate(long, start=1)}
    parts.wires = {names.get(n, n): replace(w, id=names.get(n, n)) for n, w in parts.wires.items()}
    parts.target = {k: names.get(v, v) for k, v in parts.target.items()}


def _told(words: tuple[str, ...]) -> bool:
    return any(w.startswith(("was ", "was: ")) for w in words)


def _overlaid(old: Mapping[str, _T], new: Mapping[str, _T]) -> dict[str, _T]:
    made = {n: t if n in old else replace(t, change=Change.NEW) for n, t in new.items()}
    made.update({n: replace(t, change=Change.REMOVED) for n, t in old.items() if n not in new})
    return made


def _in_order(new: Mapping[str, Band], old: Mapping[str, Band]) -> dict[str, Band]:
    """The bands of both, in the order of the new drawing; one that is gone stands after the one it stood after."""
    names = list(new)
    for name in old:
        if name not in names:
            before = [n for n in list(old)[: list(old).index(name)] if n in names]
            names.insert(names.index(before[-1]) + 1 if before else 0, name)
    return {n: new.get(n) or old[n] for n in names}
