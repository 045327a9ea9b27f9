"""What is stacked on a stud: how many terminals, in what order, under what."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import ceil

from pydantic import BaseModel

from ...analysis import missing
from ...analysis.routing import run_ends, wires
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.installation import is_one_point, split_end
from ...model.power import Ground, Supply
from ...model.quantities import Quantity, in_unit
from ...model.wiring import Junction, WireRun
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_MOST = 4
"""AC 43.13-1B 11-174b: more than four terminals are joined by a bus link over adjacent studs."""
_HARDWARE = re.compile(
    r"\b(washers?|nuts?|locknuts?|spacers?|screws?|bolts?|studs?|sleeves?)\b|^(structure|airframe|panel|bracket)$",
    re.IGNORECASE,
)
_LOCKED = re.compile(r"lock|stop nut|castellated|safety wire")
"""Words of what keeps a nut from turning; a second nut does as well."""
_NUT = re.compile(r"\b(lock)?nuts?\b", re.IGNORECASE)


@once
def landings(study: Study) -> dict[str, dict[str, list[str]]]:
    """For each thing, what lands on each of its studs: runs, shields and straps by name."""
    found: dict[str, dict[str, list[str]]] = {}

    def land(end: str | None, what: str) -> None:
        if end is None or end == "open":
            return
        ident, terminal = split_end(end)
        stud = _stud_of(study, ident, terminal)
        if stud is not None:
            found.setdefault(ident, {}).setdefault(stud, []).append(what)

    for ident, run in study.model.wire_runs.items():
        for end in run_ends(run):
            land(end, ident)
        if run.shield is not None:
            land(run.shield.from_, f"shield of {ident}")
            land(run.shield.to, f"shield of {ident}")
    for ident, ground in study.model.grounds.items():
        if ground.kind in ("strap", "bond"):
            land(ground.from_, ident)
            land(ground.to, ident)
    return found


def _stud_of(study: Study, ident: str, terminal: str) -> str | None:
    """The stud an end lands on; ``None`` where it is no stud: structure, a plug, a splice, a bus bar as a whole."""
    thing = study.model.find(ident)
    if thing is None:
        return None
    one = thing[1]
    if isinstance(one, Ground):
        return "" if one.kind == "stud" else None
    if isinstance(one, Junction):
        if one.spec.kind in ("splice", "plug", "disconnect"):
            return None
        return "" if one.spec.kind == "stud" else terminal
    if isinstance(one, Supply) and one.spec.kind == "bus":
        return terminal or None
    return "" if is_one_point(one) else terminal


@dataclass(frozen=True, slots=True, eq=False)
class Studs:
    """A thing with studs on which more than one thing lands, or whose stack is described.

    Attributes:
        ident, path: its id and place.
        thing: the thing.
        landed: what lands on each stud, by the stud's name.
    """

    ident: str
    path: DocPath
    thing: BaseModel
    landed: dict[str, list[str]]

    @property
    def stack(self) -> list[str] | None:
        """What it says of its stack, from the bottom up."""
        return getattr(self.thing, "stack", None)

    @property
    def single(self) -> bool:
        """Whether it is one stud."""
        thing = self.thing
        return (isinstance(thing, Ground) and thing.kind == "stud") or (
            isinstance(thing, Junction) and thing.spec.kind == "stud"
        )


def _all(study: Study) -> Iterator[Studs]:
    for ident, landed in landings(study).items():
        found = study.model.find(ident)
        if found is not None:
            one = Studs(ident, (found[0], ident), found[1], landed)
            if one.stack is not None or any(len(what) > 1 for what in landed.values()):
                yield one


def _lugs(stack: list[str] | None) -> list[str]:
    """The terminals named in a stack; washers, nuts and the like are left out."""
    return [one for one in stack or () if not _HARDWARE.search(one)]


@rule(
    "terminals-per-stud",
    title="No more than four terminals are stacked on one stud",
    why="Each terminal more is a joint that the same nut must hold; the top ones work loose and heat.",
    source="AC 43.13-1B 11-174b",
    formula="runs, shields and straps that land on a stud, or terminals in its stack, <= 4, or what the part allows",
    example="nine lugs on one ground stud: three studs joined by a link",
    over=_all,
)
def terminals_per_stud(study: Study, subject: Subject, studs: Studs) -> list[Verdict]:
    """A thing with studs: each that holds too many, else the fullest."""
    most = (studs.thing.spec.max_stack if isinstance(studs.thing, Junction) else None) or _MOST
    stacked = len(_lugs(studs.stack))
    counts = {stud: max(len(landed), stacked) for stud, landed in studs.landed.items()}
    over = [stud for stud, count in counts.items() if count > most]
    return [
        _counted(subject, studs, stud, counts[stud], most)
        for stud in over or (max(counts, key=lambda s: counts[s]),)
    ]


def _counted(subject: Subject, studs: Studs, stud: str, count: int, most: int) -> Verdict:
    name = f"{studs.ident}.{stud}" if stud else studs.ident
    # a link between studs takes up one place on each
    shared = (
        f"share them over {max(2, ceil(count / (most - 1)))} studs joined by a bus link" if most > 1 else ""
    )
    return (subject.along(*studs.landed[stud]) if count > most else subject).at_most(
        count,
        most,
        "terminals",
        f"{name} holds {count} terminals of {most}",
        broken=f"{name} holds {count} terminals, {most} being the most",
        remedy=shared or "use a second stud",
    )


_ONE_SIZE = 1.12
"""How much larger the stud of one ring may be than that of another on the same post: as of a ring and its stud, a 1/4 in
stud takes a 17/64 in hole."""


@rule(
    "rings-on-one-stud",
    title="The rings stacked on one stud are made for one size of stud",
    why="Of two rings of different size one does not go on the post, or sits loose on it with half its contact.",
    source="AC 43.13-1B 11-174a",
    formula="largest stud its rings are made for <= 1.12 times the smallest",
    example="a No. 8 ring (0.164 in) and a 1/4 in ring on one ground post",
    over=_all,
)
def rings_on_one_stud(study: Study, subject: Subject, studs: Studs) -> Iterator[Verdict]:
    """Studs on which the rings of two runs or more land."""
    for stud, landed in studs.landed.items():
        rings = [*_rings(study, studs.ident, stud, landed)]
        if len({run for run, _ in rings}) < 2:
            continue
        sizes = {run: hole for run, hole in rings if hole is not None}
        unsaid = [run for run, hole in rings if hole is None]
        if unsaid:
            yield subject.along(*unsaid).lacks(missing.TERMINAL_STUD)
            continue
        least, most = min(sizes, key=lambda r: sizes[r]), max(sizes, key=lambda r: sizes[r])
        name = f"{studs.ident}.{stud}" if stud else studs.ident
        yield subject.along(least, most).at_most(
            in_unit(sizes[most], "in", "length"),
            in_unit(sizes[least], "in", "length") * _ONE_SIZE,
            "in",
            f"the rings on {name} are for a {sizes[least].text} stud",
            broken=f"on {name} the ring of {least} is for a {sizes[least].text} stud and that of {most} for {sizes[most].text}",
            remedy="crimp rings of the size of the post on both",
        )


def _rings(study: Study, ident: str, stud: str, landed: list[str]) -> Iterator[tuple[str, Quantity | None]]:
    """Each ring on a stud by its run, with the stud it is made for."""
    for name in dict.fromkeys(landed):
        run = study.model.wire_runs.get(name)
        for side, ends in enumerate(_sides(run)) if run is not None and run.terminations is not None else ():
            there = [
                e for e in ends if (found := split_end(e))[0] == ident and (not stud or found[1] == stud)
            ]
            if (
                there
                and run is not None
                and run.terminations is not None
                and run.terminations[side].kind == "ring"
            ):
                yield name, run.terminations[side].stud


def _sides(run: WireRun) -> tuple[list[str], list[str]]:
    found = [*wires(run)]
    return [w.ends[0] for w in found], [w.ends[1] for w in found]


@rule(
    "stack-order",
    title="Terminals on a stud lie below its nut, with a washer under the nut",
    why="A terminal put on top of the lock nut is held by nothing but the next nut, and a nut that turns on a terminal cuts it.",
    source="AC 43.13-1B 11-174 to 11-178, 11-187: hardware stack of a stud; usual faults of a repair shop",
    formula="every terminal below the last nut and none above a lock nut; a washer between the top terminal and its nut; a nut that "
    "is locked",
    example="'flat washer, W1, W2, flat washer, lock washer, nut' is right; 'W1, lock nut, W2, nut' is not",
    over=lambda study: (studs for studs in _all(study) if studs.single or studs.stack is not None),
)
def stack_order(study: Study, subject: Subject, studs: Studs) -> Verdict:
    """A single stud that holds more than one terminal, or a stack that is described."""
    if studs.stack is None:
        return subject.lacks(missing.STACK)
    ident, stack, subject = studs.ident, studs.stack, subject.field("stack")
    words = [one.lower() for one in stack]
    lugs = [i for i, one in enumerate(stack) if _lugs([one])]
    nuts = [i for i, one in enumerate(words) if _NUT.search(one)]
    if not lugs:
        return subject.lacks(missing.STACK_NAMES)
    locks = [i for i in nuts if "lock" in words[i] and "washer" not in words[i]]
    above = [stack[i] for i in lugs if locks and i > locks[0]]
    if above:
        return subject.discrepancy(
            f"{above[0]} lies on top of the lock nut of {ident}", remedy=f"put {above[0]} below the lock nut"
        )
    if not nuts or nuts[-1] < lugs[-1]:
        return subject.discrepancy(
            f"no nut holds {stack[lugs[-1]]} on {ident}", remedy="fit a washer and a lock nut on top"
        )
    nut = next(i for i in nuts if i > lugs[-1])
    if not any("washer" in words[i] for i in range(lugs[-1] + 1, nut)):
        return subject.advisory(
            f"the nut of {ident} turns on {stack[lugs[-1]]} with no washer between",
            remedy="fit a washer under the nut",
        )
    if not _LOCKED.search(" ".join(words[lugs[-1] + 1 :])) and len([i for i in nuts if i > lugs[-1]]) < 2:
        return subject.advisory(
            f"nothing locks the nut of {ident}: it shakes loose",
            remedy="fit a lock washer under the nut, or a self-locking nut",
        )
    landed = max((len(one) for one in studs.landed.values()), default=0)
    if len(lugs) < landed and studs.single:
        return subject.advisory(
            f"the stack of {ident} names {len(lugs)} terminals, and {landed} land on it",
            remedy="list every terminal in the stack",
        )
    return subject.meets(f"the {len(lugs)} terminals of {ident} lie below its nut with a washer between")
