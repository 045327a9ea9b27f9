"""A sender that returns through its body given a return of its own."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...graph.insides import return_terminal
from ...model.edits import Change, Drop, Edit, Put, Written
from ...model.installation import split_end
from ...model.wiring import Termination, WireRun
from .places import crossed_well
from .sizes import takes
from .spots import written


def own_return(study: Study, ident: str) -> Iterator[Edit]:
    """The two-wire sender of the same make in place of one that returns through its body, with a return beside its signal."""
    sender = study.model.senders[ident]
    library = study.document.library
    now = library.parts.get(sender.part or "")
    if now is None or sender.spec.case_return is False:
        return
    for one in study.indications:
        if one.source != ident or one.section != "senders":
            continue
        back = return_terminal(study.model.indicators[one.indicator])
        runs = [
            (i, r) for i, r in study.model.wire_runs.items()
            if r.from_ is not None and r.to is not None
            and {split_end(r.from_)[0], split_end(r.to)[0]} == {ident, one.indicator}
        ]  # fmt: skip
        if back is None or len(runs) != 1:
            continue
        name, run = runs[0]
        for part in library.parts.values():
            if (
                part.section != "senders"
                or part.raw.get("case_return", True) not in (False, "no")
                or part.raw.get("measures") != now.raw.get("measures")
                or part.raw.get("principle") != now.raw.get("principle")
                or not part.key.startswith(now.key)
            ):
                continue
            terminals = part.raw.get("terminals")
            old = {
                split_end(end)[1]
                for end in (run.from_, run.to)
                if end is not None and split_end(end)[0] == ident
            }
            spare = [t for t in terminals if t not in old] if isinstance(terminals, list) else []
            if len(spare) != 1 or not isinstance(terminals, list) or not old <= set(terminals):
                continue
            for end in (f"{one.indicator}.{back}", *_where_it_goes(study, f"{one.indicator}.{back}")):
                changes: list[Change] = [Put(("senders", ident, "part"), part.key)]
                if study.document.holds(("senders", ident, "grounding")):
                    changes.append(Drop(("senders", ident, "grounding")))
                laid = _laid(study, run, f"{ident}.{spare[0]}", end)
                changes.append(Put(("wire_runs", f"{name} return"), laid))
                yield Edit(
                    tuple(changes),
                    f"fit {ident} as {part.key}, and lay a return beside {name} from it to {end}",
                    f"{ident} returns through its body",
                )


def _laid(study: Study, like: WireRun, first: str, last: str) -> Written:
    """A run beside another, through barriers as is right there, with the terminal that others have where it ends."""
    plain = written(like)
    assert isinstance(plain, dict)
    made: dict[str, Written] = {**plain, "from": first, "to": last}
    if like.route:
        made["route"] = crossed_well(study, like)
    there = next(
        (t for t in _terminals_at(study, last) if like.gauge is not None and takes(t, like.gauge)), None
    )
    if like.terminations is not None and there is not None:
        made["terminations"] = [written(like.terminations[0]), written(there)]
    return made


def _terminals_at(study: Study, end: str) -> list[Termination]:
    """What is crimped on the wires that end at a terminal."""
    return [
        run.terminations[side]
        for run in study.model.wire_runs.values()
        if run.terminations is not None
        for side, there in enumerate((run.from_, run.to))
        if there == end
    ]


def _where_it_goes(study: Study, end: str) -> list[str]:
    """The grounds to which a wire from a terminal goes: what lands there leaves its screw as it is."""
    ends = [(r.from_, r.to) for r in study.model.wire_runs.values() if end in (r.from_, r.to)]
    far = [other for first, last in ends for other in (first, last) if other not in (None, end)]
    return [other for other in dict.fromkeys(map(str, far)) if split_end(other)[0] in study.model.grounds]
