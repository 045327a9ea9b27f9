"""What is missing: a bonding wire, a strap; and a shield's second ground lifted."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...model.edits import Edit, Put, Written
from ...model.wiring import WireRun
from .places import by_itself
from .spots import written

_COPIED = ("part", "gauge", "marked", "mark_spacing", "sensing")


def bonding_wires(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """A wire from the body of a thing to each ground of its zone, made as a wire to ground of that zone is."""
    thing = study.model.section(section)[ident]
    if getattr(thing, "grounding", None) is None:
        return
    zone = getattr(thing, "zone", None)
    name = _free_name(study, f"{ident} bond")
    for ground, like in _ground_wires(study, zone):
        run: dict[str, Written] = {"from": f"{ident}.case", "to": ground}
        run |= {word: written(value) for word in _COPIED if (value := getattr(like, word)) is not None}
        beside, own = by_itself(study, name, like, run)
        run |= {"route": [{"zone": str(zone), "length": "12 in"}], **own}
        if like.terminations is not None:
            run["terminations"] = written(like.terminations)
        words = f"fit a bonding wire of {like.gauge} AWG, 12 in at most, from the body of {ident} to {ground}"
        yield Edit((*beside, Put(("wire_runs", name), run)), words, f"{ident} returns through its body")


def _ground_wires(study: Study, zone: str | None) -> Iterator[tuple[str, WireRun]]:
    """Grounds of a zone, each with a wire that goes to it within that zone."""
    seen: set[str] = set()
    thinnest = sorted(study.model.wire_runs.values(), key=lambda r: -(r.gauge.number if r.gauge else 0))
    for run in thinnest:
        to = run.to or ""
        if to in study.model.grounds and to not in seen and run.from_ is not None and run.gauge is not None:
            zones = {s.zone for s in run.route or () if s.zone is not None}
            if zones == {zone}:
                seen.add(to)
                yield to, run


def straps(study: Study) -> Iterator[Edit]:
    """A strap between each engine case and each ground of the structure that none joins yet."""
    grounds = study.model.grounds
    joined = {frozenset((g.from_ or "", g.to or "")) for g in grounds.values() if g.kind in ("strap", "bond")}
    cases = [i for i, g in grounds.items() if g.kind == "engine case"]
    others = [i for i, g in grounds.items() if g.kind in ("structure", "stud")]
    for case in cases:
        for other in others:
            if frozenset((case, other)) not in joined:
                strap = {"kind": "strap", "from": case, "to": other, "resistance": "1 milliohm"}
                zone = grounds[other].zone
                if zone is not None:
                    strap["zone"] = zone
                name = _free_name(study, f"{case} strap")
                yield Edit(
                    (Put(("grounds", name), strap),),
                    f"fit a strap from {case} to {other}; with both joints it must measure 1 milliohm or less",
                    f"no strap joins {case} and {other}",
                )


def shields(study: Study, ident: str) -> Iterator[Edit]:
    """A shield open at one of its ends, the far one of a signal first; or grounded there where it is open at both."""
    run = study.model.wire_runs[ident]
    if run.shield is None:
        return
    first, last = run.shield.from_, run.shield.to
    for word, end, other in (("from", first, last), ("to", last, first)):
        if end not in (None, "open") and other not in (None, "open"):
            put = Put(("wire_runs", ident, "shield", word), "open")
            wrong = f"the shield of {ident} is grounded at both ends"
            yield Edit((put,), f"lift the shield of {ident} from {end}, and insulate that end", wrong)
    if first in (None, "open") and last in (None, "open"):
        for ground, thing in study.model.grounds.items():
            if thing.kind in ("bus", "stud"):
                put = Put(("wire_runs", ident, "shield", "to"), ground)
                yield Edit(
                    (put,),
                    f"ground the shield of {ident} at {ground}",
                    f"the shield of {ident} is not grounded",
                )


def _free_name(study: Study, wanted: str) -> str:
    taken = {*study.model.wire_runs, *study.model.grounds}
    return next(n for n in (wanted, *(f"{wanted} {i}" for i in range(2, 99))) if n not in taken)
