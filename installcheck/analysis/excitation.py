"""Excitation of synchro pairs: what each end of a rotor is joined to, and what is wrong with that."""

from __future__ import annotations

from ..dataclass import dataclass
from ..document.source import DocPath
from ..graph.edges import CARRIES_SIGNAL, Edge
from ..graph.walk import Walk
from ..model.comparing import at_most
from ..model.installation import split_end, terminals_of
from . import missing
from .circuit.assembly import wired
from .missing import Missing
from .sender_pairs import Pair
from .shown import text
from .study import Study

_EXCITED_ALIKE = 0.02
"""Share by which excitation may differ from what the synchro is made for: our choice."""
_AC_KINDS = frozenset(("inverter", "alternator", "generator"))


@dataclass(frozen=True, slots=True)
class Rotor:
    """A rotor with both ends named.

    Attributes:
        ident: transmitter or receiver.
        ends: nodes of R1 and R2.
        live: the source of alternating current whose live side each end reaches; empty where it reaches none.
        home: whether each end reaches a ground or the return of a source.
        direct: what gives each end direct current; empty where nothing does.
        joined: whether metal joins one end to the other.
    """

    ident: str
    ends: tuple[str, str]
    live: tuple[str, str]
    home: tuple[bool, bool]
    direct: tuple[str, str]
    joined: bool

    @property
    def source(self) -> str:
        """The source of alternating current that feeds it; empty if none is known to."""
        return self.live[0] or self.live[1]

    @property
    def first_live(self) -> bool:
        """Whether R1 is the end at the live side."""
        return bool(self.live[0])


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong with the excitation of a pair, and what puts it right.

    Attributes:
        told, remedy: in words.
        path: where the document tells of it, if that is not the indicator.
        half_circle: whether the pointer stands half a circle off by it.
        runs: the wires of the rotor that is wired the unusual way round, with R2 live.
    """

    told: str
    remedy: str
    path: DocPath = ()
    half_circle: bool = False
    runs: tuple[str, ...] = ()


def rotors(study: Study, pair: Pair) -> tuple[Rotor, Rotor] | None:
    """Rotors of transmitter and receiver; ``None`` unless both name their five terminals."""
    theirs = _rotor(study, pair.source, list(terminals_of("senders", pair.sender) or ()))
    ours = _rotor(study, pair.indication.indicator, list(pair.reads.terminals or ()))
    return None if theirs is None or ours is None else (theirs, ours)


def opposed(study: Study, pair: Pair) -> bool:
    """Whether both rotors are fed, one the other way round than the other."""
    both = rotors(study, pair)
    return both is not None and all(r.source for r in both) and both[0].first_live != both[1].first_live


def wrong(study: Study, pair: Pair) -> Wrong | None:
    """The first thing known to be wrong with the excitation of a pair; ``None`` where nothing is known to be."""
    return _made_apart(pair) or _wired_wrong(study, pair)


def unsaid(study: Study, pair: Pair) -> tuple[Missing | None, str]:
    """What is not said of the excitation of a pair that is not known to be wrong, and the supply it is of, if of one."""
    gives, reads = pair.gives, pair.reads
    if None in (
        gives.excitation_voltage,
        reads.excitation_voltage,
        gives.excitation_frequency,
        reads.excitation_frequency,
    ):
        return missing.SENDER_ROTOR, ""
    both = rotors(study, pair)
    if both is None or not all(rotor.source for rotor in both):
        return missing.ROTOR_WIRING, ""
    feeds = both[1].source
    fed = study.model.supplies[feeds].spec
    return (missing.EXCITATION_SOURCE, feeds) if None in (fed.voltage, fed.frequency) else (None, feeds)


def _made_apart(pair: Pair) -> Wrong | None:
    gives, reads = pair.gives, pair.reads
    for a, b in (
        (gives.excitation_voltage, reads.excitation_voltage),
        (gives.excitation_frequency, reads.excitation_frequency),
    ):
        if a is not None and b is not None and not _alike(a, b):
            return Wrong(
                f"the rotor of {pair.source} is made for {text(a, b)}, and that of {pair.name} for {text(b, b)}",
                "fit a transmitter and a receiver of one excitation",
            )
    return None


def _wired_wrong(study: Study, pair: Pair) -> Wrong | None:
    both = rotors(study, pair)
    if both is None:
        return None
    for rotor in both:
        if (found := rotor_wrong(study, rotor)) is not None:
            return found
    theirs, ours = both
    if not theirs.source or not ours.source:
        return None
    if theirs.source != ours.source:
        return Wrong(
            f"the rotor of {pair.source} is fed by {theirs.source}, and that of {pair.name} by {ours.source}: not in step",
            "feed both rotors from one source",
        )
    gives, fed = pair.gives, study.model.supplies[ours.source].spec
    for given, made in ((fed.voltage, gives.excitation_voltage), (fed.frequency, gives.excitation_frequency)):
        if given is not None and made is not None and not _alike(given, made):
            return Wrong(
                f"{ours.source} gives {text(given, made)}, and the rotors are made for {text(made, made)}",
                f"feed the rotors {text(made, made)}",
                ("supplies", ours.source),
            )
    if theirs.first_live != ours.first_live:
        turned = ours if theirs.first_live else theirs
        return Wrong(
            f"the rotor leads of {pair.source} and {pair.name} are the other way round: the pointer stands half a circle off",
            f"exchange R1 and R2 at {turned.ident}, where R2 is the live one",
            half_circle=True,
            runs=tuple(e.ident for end in turned.ends for e in study.graph.at(end) if e.kind == "conductor"),
        )
    return None


def rotor_wrong(study: Study, rotor: Rotor) -> Wrong | None:
    """What is wrong with one rotor by itself."""
    first, second = rotor.ends
    bare = [end for end in rotor.ends if not wired(study, end)]
    if len(bare) == 2:
        return None
    if bare:
        return Wrong(
            f"the rotor of {rotor.ident} has no circuit: no wire meets {bare[0]}",
            f"join {bare[0]} to the source",
        )
    for end, direct in zip(rotor.ends, rotor.direct, strict=True):
        if direct:
            return Wrong(
                f"{direct} gives {end} direct current, and a rotor takes alternating current",
                f"take {end} off {direct}, and feed the rotor from the source of alternating current",
            )
    remedy = "join one end to the live side of the source and the other to its return"
    if rotor.joined or (rotor.live[0] and rotor.live[0] == rotor.live[1]):
        at = f" to the live side of {rotor.source}" if rotor.source else ""
        return Wrong(f"{first} and {second} are both joined{at}: 0 V across the rotor", remedy)
    if all(rotor.home):
        return Wrong(f"{first} and {second} are both joined to ground: 0 V across the rotor", remedy)
    if all(rotor.live):
        return Wrong(f"{first} and {second} are fed by {rotor.live[0]} and {rotor.live[1]}", remedy)
    if rotor.source and not any(rotor.home):
        lost = second if rotor.first_live else first
        return Wrong(
            f"the rotor of {rotor.ident} has no circuit: {lost} reaches no ground or return",
            f"join {lost} to the return of {rotor.source}",
        )
    return None


def _rotor(study: Study, ident: str, terminals: list[str]) -> Rotor | None:
    if len(terminals) < 5:
        return None
    first, second = (f"{ident}.{terminal}" for terminal in terminals[3:5])
    there, back = _reached(study, first), _reached(study, second)
    return Rotor(
        ident,
        (first, second),
        (_live(study, there), _live(study, back)),
        (_home(study, there), _home(study, back)),
        (_direct(study, there), _direct(study, back)),
        second in there,
    )


def _reached(study: Study, start: str) -> list[str]:
    """What metal and closed contacts join to a terminal, nearest first, and no further than a ground."""

    def passes(edge: Edge, there: str) -> bool:
        return edge.kind in CARRIES_SIGNAL and edge.closed

    return list(Walk([start], study.graph.at, passes, study.graph.is_ground))


def _kind(study: Study, node: str) -> str:
    supply = study.model.supplies.get(split_end(node)[0])
    return (supply.spec.kind or "") if supply is not None else ""


def _live(study: Study, reached: list[str]) -> str:
    for node in reached:
        ident, terminal = split_end(node)
        if _kind(study, node) in _AC_KINDS and terminal in ("out", "+") and not _rectified(study, ident):
            return ident
    return ""


def _rectified(study: Study, ident: str) -> bool:
    """Whether a source is an alternator or generator of which no frequency is told: what it gives is direct current."""
    supply, path = study.model.supplies.get(ident), ("supplies", ident, "frequency")
    if (
        supply is None
        or supply.spec.kind not in ("alternator", "generator")
        or supply.spec.frequency is not None
    ):
        return False
    return not study.document.declared_unknown(path)


def _home(study: Study, reached: list[str]) -> bool:
    return any(
        study.graph.is_ground(node) or (_kind(study, node) and split_end(node)[1] == "-") for node in reached
    )


def _direct(study: Study, reached: list[str]) -> str:
    """What gives direct current: the nearest bus or source where a battery, an alternator or the input of an inverter is reached."""
    known = [
        n
        for n in reached
        if (_kind(study, n), split_end(n)[1]) in (("battery", "+"), ("inverter", "in"))
        or (split_end(n)[1] == "+" and _rectified(study, split_end(n)[0]))
    ]
    if not known:
        return ""
    return next(
        split_end(n)[0]
        for n in (*reached, known[0])
        if _kind(study, n) in ("bus", "battery") or n == known[0]
    )


def _alike(given: float, made: float) -> bool:
    return at_most(abs(given - made), _EXCITED_ALIKE * made)
