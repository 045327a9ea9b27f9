"""Hypotheses of what many share: a plug, a harness, a supply, what hangs behind one breaker."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from functools import partial

from ..analysis.study import Study
from ..graph import Edge
from ..graph.walk import Walk
from ..model.power import SOURCES
from .changes import Cut, Weak, World
from .channels import Channel
from .hypotheses import Hypothesis, of_one, of_sizes
from .looks import Setup
from .predict import Predictor
from .wires import differs, direct, ends_of, shorts

_LOW_SUPPLY = (0.6, 0.75, 0.85, 0.92, 1.08, 1.15)
"""Shares of its voltage a supply that does not hold it may give; above one, a regulator gone high."""


_MOST_IN_BUNDLE = 60


def behind(study: Study, concerned: Sequence[Edge]) -> Iterator[Hypothesis]:
    """A short in what hangs on the same breaker takes all behind it, though its loss alone would change nothing."""
    graph = study.graph
    closed = [e for e in concerned if e.kind == "contact" and e.section == "supplies"]

    def leaving(node: str) -> Iterator[Edge]:
        return (e for e in graph.at(node) if e.kind in ("conductor", "joint"))

    reached = Walk(
        [f"{e.ident}.out" for e in closed if f"{e.ident}.out" in graph.nodes], leaving, stops=graph.is_ground
    )
    for edge in dict.fromkeys(e for node in reached for e in leaving(node)):
        if edge.kind == "conductor" and edge not in concerned and direct(study, edge):
            name = f"wire {edge.label} ({ends_of(edge)}), or what it feeds,"
            yield from shorts(study, edge, (), name, graph.zone_of(edge.a) or "")


def plugs(study: Study, concerned: Sequence[Edge]) -> Iterator[Hypothesis]:
    """A plug that is off takes every contact of it; one that is told without its mate, every wire that ends at it."""
    graph = study.graph
    for ident, junction in study.model.junctions.items():
        if junction.spec.kind not in ("plug", "disconnect"):
            continue
        mates = [e for e in graph.by_thing.get(("junctions", ident), ()) if e.kind == "joint"]
        if not mates and any(e.kind == "joint" and e.b.partition(".")[0] == ident for e in concerned):
            continue  # it is off where its mate is
        if not mates:
            ends = [n for n, d in graph.nodes.items() if d["ident"] == ident and d["terminal"]]
            mates = [
                w
                for n in ends
                for w in [next((e for e in graph.at(n) if e.kind == "conductor"), None)]
                if w is not None
            ]
        if len(mates) > 1 and any(e in concerned for e in mates):
            yield of_one(
                "plug off",
                (ident,),
                f"plug {ident} is off, or not home",
                tuple(Cut(e) for e in mates),
                ("junctions", ident),
                graph.zone_of(mates[0].a) or "",
            )


def harnesses(study: Study, concerned: Sequence[Edge]) -> Iterator[Hypothesis]:
    by_bundle: dict[str, list[Edge]] = defaultdict(list)
    for edge in study.graph.edges:
        if edge.kind == "conductor" and edge.run is not None and isinstance(edge.run.bundle, str):
            by_bundle[edge.run.bundle].append(edge)
    for bundle, edges in by_bundle.items():
        if 2 < len(edges) <= _MOST_IN_BUNDLE and any(e in concerned for e in edges):
            yield of_one(
                "harness damaged",
                (bundle,),
                f"harness {bundle} is cut or burnt through",
                tuple(Cut(e) for e in edges),
                ("bundles", bundle),
                study.model.bundles[bundle].zone or "" if bundle in study.model.bundles else "",
            )


def supplies_of(
    predictor: Predictor, bad: Sequence[Channel], setups: Sequence[Setup]
) -> Iterator[Hypothesis]:
    for ident, supply in predictor.study.model.supplies.items():
        if supply.spec.kind not in SOURCES or supply.spec.voltage is None:
            continue
        if not any(
            differs(channel, *predictor.expect(setup, channel.show, [(), (Weak(ident, 0.0),)]))
            for setup in dict.fromkeys(Setup(s.point, s.loads) for s in setups)
            for channel in bad
        ):
            continue
        path = ("supplies", ident)
        where = supply.zone or ""
        yield of_one("dead supply", (ident,), f"{ident} gives nothing", (Weak(ident, 0.0),), path, where)
        yield of_sizes(
            "low supply",
            (ident,),
            f"{ident} does not hold its voltage",
            [share * float(supply.spec.voltage) for share in _LOW_SUPPLY],
            partial(_weak, ident),
            ("voltage", "V"),
            path,
            where,
        )


def _weak(ident: str, volts: float) -> World:
    return (Weak(ident, volts),)
