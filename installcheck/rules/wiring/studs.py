"""What is stacked on a stud: how many terminals, in what order, under what."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import ceil

from ...analysis.routing import run_ends
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.installation import is_one_point, split_end
from ...model.power import Ground, Supply
from ...model.wiring import Junction
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_MOST = 4
"""AC 43.13-1B 11-174b: more than four terminals are joined by a bus link over adjacent studs."""
_HARDWARE = re.compile(
    r"\b(washers?|nuts?|locknuts?|spacers?|screws?|bolts?|studs?|sleeves?)\b|^(structure|airframe|panel|bracket)$",
    re.IGNORECASE,
)
_NUT = re.compile(r"\b(lock)?nuts?\b", re.IGNORECASE)


def landings(study: Study) -> dict[str, dict[str, list[str]]]:
    """For each thing, what lands on each of its studs: runs, shields and straps by name."""
    return study.memo("landings", _landings)


def _landings(study: Study) -> dict[str, dict[str, list[str]]]:
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


def _lugs(stack: list[str] | None) -> list[str]:
    """The terminals named in a stack; washers, nuts and the like are left out."""
    return [one for one in stack or () if not _HARDWARE.search(one)]


def _stack(study: Study, ident: str) -> list[str] | None:
    found = study.model.find(ident)
    return getattr(found[1], "stack", None) if found is not None else None


def _most(study: Study, ident: str) -> int:
    junction = study.model.junctions.get(ident)
    stated = junction.spec.max_stack if junction is not None else None
    return stated if stated is not None else _MOST


def _path(study: Study, ident: str) -> DocPath:
    found = study.model.find(ident)
    return (found[0] if found is not None else "", ident)


def _things(study: Study) -> list[str]:
    return [
        ident
        for ident, studs in landings(study).items()
        if _stack(study, ident) is not None or any(len(landed) > 1 for landed in studs.values())
    ]


@rule(
    "terminals-per-stud",
    title="No more than four terminals are stacked on one stud",
    why="Each terminal more is a joint that the same nut must hold; the top ones work loose and heat.",
    source="AC 43.13-1B 11-174b",
    formula="runs, shields and straps that land on a stud, or terminals in its stack, <= 4, or what the part allows",
    example="nine lugs on one ground stud: three studs joined by a link",
    over=_things,
)
def terminals_per_stud(study: Study) -> Iterator[Verdict]:
    """Every stud, screw or post on which more than one thing lands; one verdict for each thing with studs."""
    for ident in _things(study):
        most = _most(study, ident)
        stacked = len(_lugs(_stack(study, ident)))
        worst: tuple[int, str, list[str]] = (stacked, "", [])
        faults = 0
        for stud, landed in landings(study)[ident].items():
            count = max(len(landed), stacked)
            if count > worst[0] or not worst[2]:
                worst = (count, stud, landed)
            if count > most:
                faults += 1
                yield _stacked(study, ident, stud, count, landed, most)
        if not faults:
            count, stud, _ = worst
            name = f"{ident}.{stud}" if stud else ident
            yield meets(
                (ident,),
                _path(study, ident),
                f"{name} holds {count} terminals of {most}",
                value=count,
                limit=most,
                margin=most - count,
                unit="terminals",
            )


def _stacked(study: Study, ident: str, stud: str, count: int, landed: list[str], most: int) -> Verdict:
    name = f"{ident}.{stud}" if stud else ident
    return discrepancy(
        (ident, *dict.fromkeys(landed)),
        _path(study, ident),
        f"{name} holds {count} terminals, {most} being the most",
        value=count,
        limit=most,
        margin=most - count,
        unit="terminals",
        # a link between studs takes up one place on each
        remedy=f"share them over {max(2, ceil(count / (most - 1)))} studs joined by a bus link"
        if most > 1
        else "use a second stud",
    )


@rule(
    "stack-order",
    title="Terminals on a stud lie below its nut, with a washer under the nut",
    why="A terminal put on top of the lock nut is held by nothing but the next nut, and a nut that turns on a terminal cuts it.",
    source="AC 43.13-1B 11-174 to 11-178, 11-187: hardware stack of a stud; usual faults of a repair shop",
    formula="every terminal below the last nut and none above a lock nut; a washer between the top terminal and its nut",
    example="'flat washer, W1, W2, flat washer, lock washer, nut' is right; 'W1, lock nut, W2, nut' is not",
    over=lambda study: [i for i in _things(study) if _is_stud(study, i)],
)
def stack_order(study: Study) -> Iterator[Verdict]:
    """Every single stud that holds more than one terminal, and every stack that is described."""
    for ident in _things(study):
        stack = _stack(study, ident)
        if stack is not None:
            yield _order(study, ident, stack)
        elif _is_stud(study, ident):
            yield undetermined(
                (ident,),
                _path(study, ident),
                "stack of the stud from the bottom up, washers and nuts included",
            )


def _is_stud(study: Study, ident: str) -> bool:
    found = study.model.find(ident)
    if found is None:
        return False
    thing = found[1]
    kind = (
        thing.kind if isinstance(thing, Ground) else thing.spec.kind if isinstance(thing, Junction) else None
    )
    return kind == "stud"


def _order(study: Study, ident: str, stack: list[str]) -> Verdict:
    at, path = (ident,), (*_path(study, ident), "stack")
    words = [one.lower() for one in stack]
    lugs = [i for i, one in enumerate(stack) if _lugs([one])]
    nuts = [i for i, one in enumerate(words) if _NUT.search(one)]
    if not lugs:
        return undetermined(at, path, "names of the terminals in the stack")
    locks = [i for i in nuts if "lock" in words[i] and "washer" not in words[i]]
    above = [stack[i] for i in lugs if locks and i > locks[0]]
    if above:
        return discrepancy(
            at,
            path,
            f"{above[0]} lies on top of the lock nut of {ident}",
            remedy=f"put {above[0]} below the lock nut",
        )
    if not nuts or nuts[-1] < lugs[-1]:
        return discrepancy(
            at,
            path,
            f"no nut holds {stack[lugs[-1]]} on {ident}",
            remedy="fit a washer and a lock nut on top",
        )
    nut = next(i for i in nuts if i > lugs[-1])
    if not any("washer" in words[i] for i in range(lugs[-1] + 1, nut)):
        return advisory(
            at,
            path,
            f"the nut of {ident} turns on {stack[lugs[-1]]} with no washer between",
            remedy="fit a washer under the nut",
        )
    landed = max((len(one) for one in landings(study)[ident].values()), default=0)
    if len(lugs) < landed and _is_stud(study, ident):
        return advisory(
            at,
            path,
            f"the stack of {ident} names {len(lugs)} terminals, and {landed} land on it",
            remedy="list every terminal in the stack",
        )
    return meets(at, path, f"the {len(lugs)} terminals of {ident} lie below its nut with a washer between")
