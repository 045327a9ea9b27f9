"""A sender that returns through its body given a return of its own."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...graph.insides import return_terminal
from ...model.edits import Change, Drop, Edit, Put
from ...model.installation import split_end
from .places import crossed_well
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
            plain = written(run)
            assert isinstance(plain, dict)
            made = dict(plain)
            made["from"], made["to"] = f"{ident}.{spare[0]}", f"{one.indicator}.{back}"
            if run.route:
                made["route"] = crossed_well(study, run)
            changes: list[Change] = [Put(("senders", ident, "part"), part.key)]
            if study.document.holds(("senders", ident, "grounding")):
                changes.append(Drop(("senders", ident, "grounding")))
            changes.append(Put(("wire_runs", f"{name} return"), made))
            yield Edit(
                tuple(changes),
                f"fit {ident} as {part.key}, and lay a return beside {name} from it to {one.indicator}.{back}",
                f"{ident} returns through its body",
            )
