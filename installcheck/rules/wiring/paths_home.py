"""Ways home: what returns through the engine case reaches the structure or the battery."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.circuit.drop_paths import consumers
from ...analysis.fluid.facts import listed
from ...analysis.study import Study
from ...graph import Edge, Walk
from ...model.edits import Edit, Put
from ...model.installation import split_end
from ...model.power import SOURCES, Ground
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_CARRIES = frozenset(("bond", "conductor", "joint"))
_SHOWN = 4


@rule(
    "engine-strapped",
    title="An engine that current returns through is tied to the structure or the battery",
    why="Without a strap the starter's current goes home through control cables, primer lines and the shields of senders, "
    "and burns them.",
    source="plain physics (every current goes home); AC 43.13-1B 11-185 to 11-188 (recalled)",
    formula="engine case -> straps and wires -> structure or battery negative; not through a sender, probe or gauge",
    example="an alternator grounded on the engine case, and no strap from the case to the firewall",
    over=lambda study: [i for i, g in study.model.grounds.items() if g.kind == "engine case"],
)
def engine_strapped(study: Study) -> Iterator[Verdict]:
    """Every engine case that something is joined to."""
    for ident, ground in study.model.grounds.items():
        if ground.kind == "engine case":
            verdict = _strapped(Subject(study, (ident,), ("grounds", ident)))
            if verdict is not None:
                yield verdict


@rule(
    "ground-tied",
    title="A ground stud or ground bus is tied to the structure or the battery, and the structure to a source",
    why="What is grounded on a stud that is fastened to nothing has no return: it is dead, or comes home through something else.",
    source="plain physics: every current goes home",
    formula="stud or bus -> what it is fastened to, straps and wires -> structure or battery negative; structure -> negative of a "
    "source",
    example="the lamps returned to a stud on a wooden panel, and no wire from there",
    over="grounds",
)
def ground_tied(study: Study, subject: Subject, ground: Ground) -> Verdict | None:
    """Every stud and bus that a wire or a body is joined to, and the structure that loads return through."""
    ident = subject.ident
    if ground.kind == "structure":
        return _carries_home(study, subject)
    if ground.kind not in ("stud", "bus"):
        return None
    users = list(dict.fromkeys(_user(e, ident) for e in study.graph.at(ident) if e.kind != "bond"))
    if not users:
        return None
    walk = Walk([ident], study.graph.at, lambda edge, there: _leads_on(study, edge, there))
    home = walk.first(lambda node: _is_home(study, node))
    if home is not None:
        return subject.along(home).meets(f"{ident} is tied to {home}")
    untold = study.model.installation.scope == "part" or study.document.declared_unknown(
        (*subject.path, "joins")
    )
    if untold or not (study.model.supplies or _frames(study)):
        return subject.lacks(missing.GROUND_JOINS)
    return subject.along(*users[:_SHOWN]).discrepancy(
        f"nothing ties {ident} to the structure or the battery, and {listed(users[:_SHOWN])} "
        f"{'ends' if len(users) == 1 else 'end'} there",
        remedy=f"fasten {ident} to the structure, or lead a wire from it to the battery; then say so ('joins')",
        cure=lambda: [_fastened(ident, frame) for frame in _frames(study)],
    )


def _carries_home(study: Study, subject: Subject) -> Verdict | None:
    """The structure, where a load, indicator or coil returns through it and sources draw their negative."""
    ident = subject.ident
    returned = [c.ident for c in consumers(study) if c.back and any(ident in (e.a, e.b) for e in c.back)]
    posts = [
        edge.b for edge in study.graph.of("supply") if any(e.kind != "supply" for e in study.graph.at(edge.b))
    ]
    if not returned or not posts:
        return None
    walk = Walk([ident], study.graph.at, lambda edge, there: _leads_on(study, edge, there))
    post = walk.first(lambda node: node in posts)
    if post is not None:
        return subject.along(split_end(post)[0]).meets(f"{ident} is tied to {post}")
    if study.model.installation.scope == "part":
        return subject.lacks(missing.GROUND_JOINS)
    others = Walk(posts, study.graph.at, lambda edge, there: _leads_on(study, edge, there))
    ends = [node for node in others if node in study.model.grounds]
    led = f"what leads to their negatives ends at {listed(ends[:_SHOWN])}: " if ends else ""
    return subject.along(*ends[:_SHOWN], *dict.fromkeys(returned[:_SHOWN])).discrepancy(
        f"{led}no source is tied to {ident}, and {listed(list(dict.fromkeys(returned))[:_SHOWN])} "
        f"{'returns' if len(set(returned)) == 1 else 'return'} through it",
        remedy=f"lead the negative of the battery to {ident}, by a strap or a stud that is fastened to it",
        cure=lambda: [_fastened(end, ident) for end in ends if _is_loose(study, end)],
    )


def _is_loose(study: Study, ident: str) -> bool:
    ground = study.model.grounds[ident]
    return ground.kind in ("stud", "bus") and ground.joins is None


def _fastened(stud: str, to: str) -> Edit:
    return Edit(
        (Put(("grounds", stud, "joins"), to),), f"fasten {stud} to {to}", f"{stud} is fastened to nothing"
    )


def _strapped(subject: Subject) -> Verdict | None:
    study, ident = subject.study, subject.ident
    users = list(dict.fromkeys(_user(edge, ident) for edge in study.graph.at(ident)))
    if not users:
        return None
    walk = Walk([ident], study.graph.at, lambda edge, there: _leads_on(study, edge, there))
    home = walk.first(lambda node: _is_home(study, node))
    if home is not None:
        return subject.along(home).meets(f"the {ident} is tied to {home}")
    heavy = [user for user in users if _is_heavy(study, user)]
    if not heavy or not (study.model.supplies or _frames(study)):
        return subject.lacks(missing.ENGINE_STRAP)
    return subject.along(*heavy).discrepancy(
        f"nothing ties the {ident} to the structure or the battery, and the current of {listed(heavy[:_SHOWN])} "
        "returns through it",
        remedy="fit a strap from the engine case to the structure, sized for the starter",
    )


def _user(edge: Edge, node: str) -> str:
    return split_end(edge.other(node))[0]


def _leads_on(study: Study, edge: Edge, there: str) -> bool:
    """Whether a return can go on by an edge: by straps and wires, past grounds, joints and the negative of a source."""
    ident, terminal = split_end(there)
    if edge.kind not in _CARRIES or not edge.closed:
        return False
    supply = study.model.supplies.get(ident)
    if supply is not None:
        return supply.spec.kind in SOURCES and terminal in ("-", "case")
    return ident in study.model.grounds or ident in study.model.junctions


def _frames(study: Study) -> list[str]:
    return [ident for ident, ground in study.model.grounds.items() if ground.kind == "structure"]


def _is_home(study: Study, node: str) -> bool:
    ident, terminal = split_end(node)
    ground: Ground | None = study.model.grounds.get(ident)
    if ground is not None:
        return ground.kind == "structure"
    supply = study.model.supplies.get(ident)
    return supply is not None and supply.spec.kind == "battery" and terminal == "-"


def _is_heavy(study: Study, ident: str) -> bool:
    """Whether a thing is a source or a load, whose whole current returns where it is grounded."""
    supply = study.model.supplies.get(ident)
    return ident in study.model.loads or (supply is not None and supply.spec.kind in SOURCES)
