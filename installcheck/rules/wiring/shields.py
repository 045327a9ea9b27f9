"""Shields: grounded at one end for what is slow and small, and never carrying a signal themselves."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.routing import sensing_runs
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.installation import split_end
from ...model.wiring import WireRun
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_ENDS = "ends of the shield: a ground, a terminal, or 'open'"
_RADIO = frozenset(("coaxial cable", "ignition lead"))


def _concerned(study: Study) -> list[str]:
    """Shielded runs; cable and leads whose shield is grounded at both ends for its high frequency are left out."""
    return [
        ident
        for ident, run in study.model.wire_runs.items()
        if (run.shield is not None or run.spec.shielded) and run.spec.kind not in _RADIO
    ]


@rule(
    "shield-grounded-once",
    title="The shield of a signal run is grounded at one end: not at two, not at none",
    why="Grounded twice it carries the difference between the grounds along the signal; grounded nowhere it couples what it should "
    "keep out.",
    source="single-point ground: AC 43.13-1B 11-186f; one end for slow signals: general practice (recalled)",
    formula="grounds the shield reaches, through plugs and drain wires, = 1",
    example="from: open, to: signal stud",
    over=_concerned,
)
def shield_grounded_once(study: Study) -> Iterator[Verdict]:
    """Every shielded signal run; shields joined through a plug are one shield."""
    nets = _Nets(study)
    sensing = sensing_runs(study)
    for ident in _concerned(study):
        run = study.model.wire_runs[ident]
        path: DocPath = ("wire_runs", ident)
        if run.shield is None or run.shield.from_ is None or run.shield.to is None:
            yield undetermined((ident,), path, _ENDS)
            continue
        grounds = nets.grounds(run)
        count = len(grounds)
        at, path = (ident, *sorted({split_end(g)[0] for g in grounds})), (*path, "shield")
        numbers = {"value": count, "limit": 1, "margin": -abs(count - 1), "unit": "grounds"}
        if count == 1:
            yield meets(at, path, f"the shield of run {ident} is grounded once, at {grounds[0]}", **numbers)
        elif count == 0:
            yield advisory(
                at,
                path,
                f"the shield of run {ident} is grounded nowhere",
                remedy="ground it at the indicator's end, on the ground the indicator uses",
                **numbers,
            )
        elif ident in sensing:
            yield advisory(
                at,
                path,
                f"the shield of run {ident} is grounded {count} times, at {' and '.join(grounds)}: their difference flows along it",
                remedy="lift it at the engine's end, and insulate the end",
                **numbers,
            )
        else:
            yield meets(
                at,
                path,
                f"the shield of run {ident}, which carries no slow signal, is grounded {count} times",
            )


@rule(
    "shield-carries-nothing",
    title="A shield is no signal or power return",
    why="Current in the shield drops a voltage along it, and whatever it keeps out is then in the signal.",
    source="plain physics; AC 43.13-1B 11-186f",
    formula="an end of the shield on a terminal that is the return of a device at both ends",
    example="shield from the sender's G to the gauge's G in place of a second wire",
    over=_concerned,
)
def shield_carries_nothing(study: Study) -> Iterator[Verdict]:
    """Every shield with both ends told."""
    return_of: dict[str, int] = study.memo("conductors at nodes", _conductors_at)
    for ident in _concerned(study):
        shield = study.model.wire_runs[ident].shield
        if shield is None or shield.from_ is None or shield.to is None:
            continue
        at, path = (ident,), ("wire_runs", ident, "shield")
        ends = [end for end in (shield.from_, shield.to) if end != "open"]
        devices = [end for end in ends if _is_device(study, end)]
        alone = [end for end in devices if not return_of.get(study.graph.node_of(end))]
        if len(devices) == 2 and alone:
            yield discrepancy(
                at,
                path,
                f"the shield of run {ident} is the only conductor to {alone[0]}: it carries the return",
                remedy="use a cable with one core more for the return, and ground the shield at one end",
            )
        else:
            yield meets(at, path, f"the shield of run {ident} carries no return")


def _conductors_at(study: Study) -> dict[str, int]:
    count: dict[str, int] = {}
    for edge in study.graph.edges:
        if edge.kind in ("conductor", "bond"):
            count[edge.a] = count.get(edge.a, 0) + 1
            count[edge.b] = count.get(edge.b, 0) + 1
    return count


def _is_device(study: Study, end: str) -> bool:
    ident, terminal = split_end(end)
    model = study.model
    return terminal != "case" and any(
        ident in s for s in (model.senders, model.indicators, model.probes, model.loads)
    )


class _Nets:
    """Shields joined through joints and drain wires, and the grounds each such net reaches."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self.beside: dict[str, list[str]] = {}
        for ident in _concerned(study):
            shield = study.model.wire_runs[ident].shield
            if shield is not None and shield.from_ not in (None, "open") and shield.to not in (None, "open"):
                self._join(study.graph.node_of(str(shield.from_)), study.graph.node_of(str(shield.to)))
        for edge in study.graph.edges:
            if edge.kind == "joint" and edge.section == "junctions":
                self._join(edge.a, edge.b)

    def _join(self, a: str, b: str) -> None:
        self.beside.setdefault(a, []).append(b)
        self.beside.setdefault(b, []).append(a)

    def grounds(self, run: WireRun) -> list[str]:
        """The ends at which the shield of a run, and those joined to it, is grounded."""
        assert run.shield is not None
        found: list[str] = []
        seen: set[str] = set()
        stack = [e for e in (run.shield.from_, run.shield.to) if e is not None and e != "open"]
        if len(stack) == 2 and stack[0] == stack[1]:
            return stack
        stack = [self.study.graph.node_of(e) for e in stack]
        while stack:
            node = stack.pop()
            if node in seen:
                continue
            seen.add(node)
            if self._is_ground(node):
                found.append(node)
                continue
            stack += self.beside.get(node, ())
            stack += self._drains(node)
        return sorted(found)

    def _drains(self, node: str) -> list[str]:
        """Where wires on from a joint lead; a device's own terminal ends the search."""
        if split_end(node)[0] not in self.study.model.junctions:
            return []
        return [e.other(node) for e in self.study.graph.at(node) if e.kind in ("conductor", "bond")]

    def _is_ground(self, node: str) -> bool:
        """Whether a node grounds a shield: a ground, or the case, ground or negative terminal of a device."""
        ident, _ = split_end(node)
        return (
            self.study.graph.is_ground(node)
            or _is_device(self.study, node)
            or node.endswith(".case")
            or (ident in self.study.model.supplies)
        )
