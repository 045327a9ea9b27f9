"""Ends of wires: exchanged, moved to another terminal, another ground; the doubled wire."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import chain

from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...model.edits import Drop, Edit, Path, Put, Swap
from ...model.installation import split_end, terminals_of

_MOST_AT_ONE = 14
"""Wires at one thing beyond which its ends are not exchanged one with each other."""


@dataclass(frozen=True, slots=True)
class End:
    """One end of one conductor: its run and name, where it is written, and what it is joined to."""

    run: str
    conductor: str
    path: Path
    end: str

    @property
    def device(self) -> str:
        """Id of what it is joined to."""
        return split_end(self.end)[0]

    @property
    def label(self) -> str:
        """``T14 +``, ``E3``."""
        return f"{self.run} {self.conductor}".strip()


@once
def ends(study: Study) -> dict[str, list[End]]:
    """Every end of every run, by the thing it is joined to."""
    found: dict[str, list[End]] = {}
    for ident, run in study.model.wire_runs.items():
        pieces = [("", run.from_, run.to, ("wire_runs", ident))] + [
            (name, c.from_, c.to, ("wire_runs", ident, "conductors", name))
            for name, c in (run.conductors or {}).items()
        ]
        for name, first, last, path in pieces:
            for word, end in (("from", first), ("to", last)):
                if end is not None:
                    one = End(ident, name, (*path, word), end)
                    found.setdefault(one.device, []).append(one)
    return found


def of_run(study: Study, ident: str) -> list[End]:
    """The ends of one run."""
    return _of_runs(study).get(ident, [])


@once
def _of_runs(study: Study) -> dict[str, list[End]]:
    found: dict[str, list[End]] = {}
    for one in chain.from_iterable(ends(study).values()):
        found.setdefault(one.run, []).append(one)
    return found


def exchanged(study: Study, ident: str) -> Iterator[Edit]:
    """Ends of a run exchanged with each other, then with those of other runs at the same thing."""
    own = of_run(study, ident)
    for i, one in enumerate(own):
        for other in own[i + 1 :]:
            if one.end != other.end and one.path[-1] == other.path[-1]:
                yield _crossed(own, one, other)
    for device in dict.fromkeys(e.device for e in own):
        yield from _between(study, ident, device)


def _crossed(own: list[End], one: End, other: End) -> Edit:
    """Two leads of a run exchanged where they end; named where there are more than two."""
    here = [e for e in own if e.path[-1] == one.path[-1]]
    leads = f"leads {one.conductor} and {other.conductor}" if len(here) > 2 else "leads"
    at = f"of {one.run} at {' and '.join(dict.fromkeys((one.device, other.device)))}"
    return Edit((Swap(one.path, other.path),), f"exchange the {leads} {at}", f"the {leads} {at} are crossed")


def _between(study: Study, ident: str, device: str) -> Iterator[Edit]:
    """The ends of a run at a thing exchanged with those of another run of as many conductors there."""
    at = ends(study)[device]
    found = study.model.find(device)
    if len(at) > _MOST_AT_ONE or found is None or found[0] == "grounds":
        return
    own = [e for e in at if e.run == ident]
    for other in dict.fromkeys(e.run for e in at if e.run != ident):
        theirs = {e.conductor: e for e in at if e.run == other}
        if {e.conductor for e in own} != theirs.keys() or len(own) != len(theirs):
            continue
        swaps = tuple(Swap(e.path, theirs[e.conductor].path) for e in own if e.end != theirs[e.conductor].end)
        if swaps:
            wrong = f"{ident} and {other} are crossed at {device}"
            yield Edit(swaps, f"exchange {ident} and {other} at {device}", wrong)


def exchanged_at(study: Study, ident: str) -> Iterator[Edit]:
    """Any two runs at a thing exchanged, and the leads of each."""
    at = ends(study).get(ident, [])
    for run in dict.fromkeys(e.run for e in at):
        own = [e for e in at if e.run == run]
        for i, one in enumerate(own):
            for other in own[i + 1 :]:
                if one.end != other.end and one.path[-1] == other.path[-1]:
                    yield _crossed(own, one, other)
        yield from _between(study, run, ident)


def moved(study: Study, ident: str) -> Iterator[Edit]:
    """Ends of a run on another terminal of the same thing that nothing is on; of one to ground, on another ground."""
    for one in of_run(study, ident):
        found = study.model.find(one.device)
        if found is None:
            continue
        section, thing = found
        if section == "grounds":
            for ground, other in study.model.grounds.items():
                if ground != one.device and other.kind not in ("strap", "bond"):
                    words = f"take {one.label} to {ground} in place of {one.device}"
                    yield Edit((Put(one.path, ground),), words, f"{one.label} goes to {one.device}")
            continue
        taken = {e.end for e in ends(study)[one.device]}
        for terminal in terminals_of(section, thing) or ():
            end = f"{one.device}.{terminal}"
            if end not in taken and terminal != "case":
                wrong = f"{one.label} is on {one.end}"
                yield Edit((Put(one.path, end),), f"move {one.label} from {one.end} to {end}", wrong)


def shared_out(study: Study, ident: str) -> Iterator[Edit]:
    """Ends of a run at a block on each of its other posts, the emptiest first."""
    for one in of_run(study, ident):
        found = study.model.find(one.device)
        if found is None or found[0] != "junctions":
            continue
        held = Counter(e.end for e in ends(study)[one.device])
        posts = [f"{one.device}.{name}" for name in terminals_of(*found) or ()]
        for end in sorted((p for p in posts if p != one.end), key=lambda p: held[p]):
            words = f"move {one.label} from {one.end} to {end}"
            yield Edit((Put(one.path, end),), words, f"{one.label} is one too many on {one.end}")


def bridging(study: Study, ident: str) -> Iterator[Edit]:
    """A run between two places of a thermocouple's circuit that is no leg of it, taken out."""
    run = study.model.wire_runs[ident]
    met = {split_end(end)[0] for end in (run.from_, run.to) if end is not None}
    for one in study.indications:
        if one.section != "probes" or len(met) == 0:
            continue
        steps = [step.edge for leg in one.legs for step in leg.steps]
        runs = {edge.ident for edge in steps if edge.section == "wire_runs"}
        at = {one.indicator, one.source, *(e.device for r in runs for e in of_run(study, r))}
        if ident not in runs and met <= at:
            words = f"take {ident} out between {run.from_} and {run.to}"
            yield Edit((Drop(("wire_runs", ident)),), words, f"{ident} bridges the leads of {one.name}")
            return


def doubled(study: Study, ident: str) -> Iterator[Edit]:
    """A run whose every end is joined by another run as well, taken out."""
    run = study.model.wire_runs[ident]
    if run.from_ is None or run.to is None:
        return
    for other, beside in study.model.wire_runs.items():
        if other != ident and {beside.from_, beside.to} == {run.from_, run.to}:
            words = f"take out {ident}, which lies beside {other}"
            yield Edit(
                (Drop(("wire_runs", ident)),), words, f"{ident} and {other} join the same two terminals"
            )
