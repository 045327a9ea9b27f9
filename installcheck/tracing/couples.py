"""What a thermocouple indication shows in a world: its circuit walked again with what is wrong in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import get_args

from ..analysis.errors.in_state import ERRATIC, Seen, on_dial, opened
from ..analysis.errors.reading import Shown as Pointer
from ..analysis.study import Point, Study, once
from ..analysis.thermocouple.circuits import Loop, Piece, alloy, loops
from ..analysis.thermocouple.grounds import (
    ground_offset,
    on_ground,
    tip_grounded,
    twice_grounded,
    with_offset,
)
from ..analysis.thermocouple.groups import group_of
from ..analysis.thermocouple.readings import (
    Emf,
    branch_ohms,
    circuit_emf,
    external_ohms,
    piece_ohms,
    read_scale,
    through_resistance,
)
from ..dataclass import dataclass
from ..graph import Edge
from ..model.fields import ThermocoupleType
from ..physics.moving_coil import parallel_couples
from ..physics.thermocouple_wire import leg_ohm_per_m
from ..physics.thermocouples import LEGS
from .changes import Adds, Couple, Crossed, Cut, Joins, Metal, OtherScale, Reached, World
from .wires import live_points

_ANY_AWG = 20
"""Size at which the resistances of two metals are compared: their ratio is that of every size."""
_LEAST_OHM = 1e-3
"""ohm, outside resistance taken where a circuit is shorted at the indicator itself."""


@dataclass(frozen=True, slots=True)
class _Walked:
    """A circuit as it is in a world: its pieces, the temperature of its junction, ohms more or less outside it, if they are known.

    ``driven`` tells to which end of the scale a live wire on one of its legs drives it.
    """

    loop: Loop
    junction: float
    more: float = 0.0
    outside: float | None = None
    open: bool = False
    astray: bool = False
    driven: str = ""
    unknown: bool = False


def shown(study: Study, loop: Loop, point: Point, true_c: Sequence[float], world: World) -> Seen | None:
    """What the indication shows; ``true_c`` degC at the junctions of its group, in order. ``None`` if it cannot be told."""
    group = group_of(study, loop)
    walked = [_walk(study, one, point, t, world) for one, t in zip(group, true_c, strict=True)]
    alive = [w for w in walked if not w.open]
    if any(w.astray for w in walked):
        return ERRATIC
    for w in walked:
        if w.driven:
            return on_dial(loop.spec, Pointer(None, w.driven))
    if not alive:
        return opened(loop.spec)
    emf, external = _source(study, point, group, walked, alive)
    if emf is None:
        return None
    emf = with_offset(emf, ground_offset(study, loop, point))
    scale, inner = loop.spec.thermocouple, loop.spec.inner_resistance
    if inner is not None and any(w.unknown for w in walked):
        return None
    for change in world:
        if isinstance(change, OtherScale) and change.indication == loop.indication.name:
            scale = next((kind for kind in get_args(ThermocoupleType) if kind == change.like), scale)
    if scale is None:
        return None
    if inner is not None and external is not None and external > 0:
        emf = through_resistance(loop, emf, external, float(inner))
    got = read_scale(study, loop, point, emf, scale)
    if got.c is None and got.beyond is None:
        got = read_scale(study, loop, point, emf, scale, ideal=True)
    if got.c is None and got.beyond is None:
        return None
    return on_dial(loop.spec, Pointer(got.c, got.beyond or ""))


def _source(
    study: Study, point: Point, group: Sequence[Loop], walked: Sequence[_Walked], alive: Sequence[_Walked]
) -> tuple[Emf | None, float | None]:
    """Emf and resistance outside the indicator of all circuits that are whole."""
    whole = {id(loop) for loop in group}
    emfs = [
        _drawn_emf(study, w.loop.indication.name, w.loop.probe_id, point, w.junction)
        if id(w.loop) in whole
        else circuit_emf(study, w.loop, point, w.junction)
        for w in alive
    ]
    if any(e.mv is None for e in emfs):
        return None, None
    if len(group) == 1:
        one = alive[0]
        ohms = external_ohms(study, group[0], point)
        base = ohms.hot if ohms.hot is not None else ohms.cold
        base = one.outside if one.outside is not None else base
        return emfs[0], (base or 0.0) + one.more if base is not None or one.more else None
    parts = _branches(study, group[0].indication.name, group[0].probe_id, point)
    sizes = [ohms + w.more for ohms, w in zip(parts, walked, strict=True) if not w.open]
    joined = parallel_couples([e.mv for e in emfs if e.mv is not None], [max(s, _LEAST_OHM) for s in sizes])
    return Emf(joined.emf_mv), 1 / sum(1 / max(s, _LEAST_OHM) for s in sizes)


@once
def _branches(study: Study, name: str, probe: str, point: Point) -> tuple[float, ...]:
    """Ohm of the circuits of a group as drawn, each up to where they meet, by an indication and the first probe of it."""
    parts = (branch_ohms(study, loop, point) for loop in group_of(study, _loop(study, name, probe)))
    return tuple(p.hot or p.cold or 1.0 for p in parts)


@once
def _drawn_emf(study: Study, name: str, probe: str, point: Point, junction: float) -> Emf:
    """Emf of a circuit as drawn, with its junction at a temperature [degC]."""
    return circuit_emf(study, _loop(study, name, probe), point, junction)


@once
def _loop(study: Study, name: str, probe: str) -> Loop:
    return next(loop for loop in loops(study) if (loop.indication.name, loop.probe_id) == (name, probe))


def _walk(study: Study, loop: Loop, point: Point, true_c: float, world: World) -> _Walked:
    """The circuit in a world. With its wires in other cavities it ends on one leg of another probe: open, unless both touch metal."""
    one = _Walked(loop, true_c)
    for change in world:
        if isinstance(change, Cut):
            if change.edge in _edges(study, loop):
                one = replace(one, open=True)
        elif isinstance(change, Adds):
            if change.edge in _edges(study, loop):
                one = replace(one, more=one.more + change.ohms)
        elif isinstance(change, Couple) and change.probe == loop.probe_id:
            one = replace(one, loop=_of_kind(one.loop, change.kind))
        elif isinstance(change, Metal):
            more = _ohms_more(study, loop, point, change)
            one = replace(
                one, loop=_of_metal(one.loop, change.edge, change.metal), more=one.more + (more or 0.0)
            )
            one = replace(one, unknown=one.unknown or more is None)
        elif isinstance(change, Crossed):
            one = replace(one, loop=_crossed(one.loop, change.edges))
        elif isinstance(change, Joins):
            one = _touching(study, one, point, change)
        elif isinstance(change, Reached) and any(edge in _edges(study, loop) for edge, _, _ in change.moves):
            free = study.model.probes[loop.probe_id].spec.junction == "isolated"
            one = replace(one, open=True) if free else replace(one, astray=True)
    return one


def _edges(study: Study, loop: Loop) -> list[Edge]:
    own = [p.edge for p in loop.pieces if p.edge is not None]
    return own + [e for e in study.graph.by_thing.get(("probes", loop.probe_id), ()) if e.kind == "couple"]


def _of_kind(loop: Loop, kind: str) -> Loop:
    """The circuit with a probe of another couple, its positive leg where the positive one was."""
    legs = LEGS[loop.kind]
    others = LEGS[kind]

    def side(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
        return tuple(
            replace(p, metal=others[0 if p.metal == legs[0] else 1]) if p.sort == "probe" else p
            for p in pieces
        )

    return replace(loop, positive=side(loop.positive), negative=side(loop.negative))


def _of_metal(loop: Loop, edge: Edge, metal: str) -> Loop:
    def side(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
        return tuple(replace(p, metal=alloy(metal, loop.kind)) if p.edge is edge else p for p in pieces)

    return replace(loop, positive=side(loop.positive), negative=side(loop.negative))


def _ohms_more(study: Study, loop: Loop, point: Point, change: Metal) -> float | None:
    """Ohm that a lead of another metal has more than the one drawn; ``None`` where no figure is published of either."""
    piece = next((p for p in loop.pieces if p.edge is change.edge), None)
    drawn = piece_ohms(study, loop, piece, point) if piece is not None else None
    had = (drawn.hot if drawn.hot is not None else drawn.cold) if drawn is not None else 0.0
    if piece is None or not had:
        return 0.0
    metals = alloy(change.metal, loop.kind), piece.metal
    if any(m in LEGS["N"] for m in metals):
        return None
    new, old = (leg_ohm_per_m(m, _ANY_AWG) for m in metals)
    return had * (new / old - 1)


def _crossed(loop: Loop, edges: tuple[Edge, ...]) -> Loop:
    """The circuit with what lies on the probe's side of a lead on the other terminals of it."""
    cuts = [
        next((i for i, p in enumerate(side) if p.edge in edges), None)
        for side in (loop.positive, loop.negative)
    ]
    if cuts[0] is None or cuts[1] is None:
        return loop
    i, j = cuts
    return replace(
        loop, positive=loop.negative[:j] + loop.positive[i:], negative=loop.positive[:i] + loop.negative[j:]
    )


def _touching(study: Study, one: _Walked, point: Point, change: Joins) -> _Walked:
    """Two legs that touch make a junction there; a leg on ground makes one where the junction stands on ground too.

    A live wire on a leg sends its current through the couple to where that stands on ground: volts where there were millivolts.
    """
    loop = one.loop
    sides = (loop.positive, loop.negative)
    at = [
        {node: i + 1 for i, p in enumerate(side) for node in (p.meter,)}
        | {p.hot: i for i, p in enumerate(side) if p.hot}
        for side in sides
    ]
    a, b = change.a, change.b
    for p, n in ((a, b), (b, a)):
        if p in at[0] and n in at[1]:
            return _junction_at(study, one, point, p, at[0][p], at[1][n], change.ohms)
    for node, other in ((a, b), (b, a)):
        if other in live_points(study):
            return replace(one, driven=_driven(study, loop, positive=node in at[0], negative=node in at[1]))
    grounded = study.graph.is_ground(a) or study.graph.is_ground(b)
    node = b if study.graph.is_ground(a) else a
    if grounded and tip_grounded(loop) and (node in at[0] or node in at[1]):
        mine = 0 if node in at[0] else 1
        place = study.node_temperature(node, point)
        if place is None or mine == 1:
            return one
        near = _nearest(study, point, sides[1 - mine], place)
        return _junction_at(
            study,
            one,
            point,
            node,
            at[0][node] if mine == 0 else near,
            near if mine == 0 else at[1][node],
            change.ohms,
        )
    return one


def _driven(study: Study, loop: Loop, *, positive: bool, negative: bool) -> str:
    """To which end of the scale a live wire on a leg drives it: to none if no current flows past the gauge."""
    if positive and on_ground(study, loop):
        return "above"
    return "below" if negative and tip_grounded(loop) and not twice_grounded(study, loop) else ""


def _nearest(study: Study, point: Point, side: tuple[Piece, ...], place: float) -> int:
    """How many pieces of a side lie beyond the place of a temperature."""
    for i, p in enumerate(side):
        t = study.node_temperature(p.meter, point)
        if t is not None and t <= place:
            return i + 1
    return len(side)


def _junction_at(study: Study, one: _Walked, point: Point, node: str, i: int, j: int, ohms: float) -> _Walked:
    place = study.node_temperature(node, point)
    if place is None or ohms > 1.0:
        return one
    kept = replace(one.loop, positive=one.loop.positive[i:], negative=one.loop.negative[j:])
    if not kept.positive or not kept.negative:
        # Nothing is left between the place and the terminals: no emf, and next to no resistance.
        ends = (
            replace(one.loop.positive[-1], hot="", metal="copper"),
            replace(one.loop.negative[-1], hot="", metal="copper"),
        )
        kept = replace(one.loop, positive=(ends[0],), negative=(ends[1],))
    left = {p.edge for p in (*one.loop.positive[i:], *one.loop.negative[j:])}
    known = [piece_ohms(study, one.loop, p, point) for p in one.loop.pieces if p.edge in left]
    lead = sum(k.hot if k.hot is not None else k.cold or 0.0 for k in known)
    return replace(one, loop=kept, junction=place, outside=max(ohms + lead, _LEAST_OHM))
