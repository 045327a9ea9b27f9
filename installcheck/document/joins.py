"""A pair or cable joined whole: ``exhaust 1 to selector.1`` joins + and - by name, ``oil bulb to oil gauge`` A, B and C.

Both ends are things, or the part of their terminals' names that is common: ``selector.1`` for ``1 +`` and ``1 -``. What has
one name at both ends is joined; ``+`` and ``-`` of a sender its indicator feeds join the terminals named ``5 V`` and ``signal
ground``. A conductor that goes elsewhere is written out, by its own name or that of its terminal at the first end.
Conductors whose names are no terminals' (A, B, C of a cable to 1, 2, 3) are taken in order. Of a run whose part has one
conductor only what is written out is joined.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from ..model.installation import split_end
from .implied import Said
from .places import DocPath
from .source import Plain, mapping
from .wording import listed, nearest, unknown_word

Terminals = Callable[[str], Sequence[str] | None]
"""Terminals of a thing by its id; ``None`` where any name will do, it is one point, or it is not known."""
Tell = Callable[[DocPath, str, str], None]


def points(end: str, terminals: Terminals) -> dict[str, str] | None:
    """The terminals an end stands for as a whole, by the name they have there; ``None`` if it is one terminal."""
    ident, stem = split_end(end)
    known = terminals(ident)
    if known is None or stem in known or (not stem and len(known) == 1):
        return None
    if not stem:
        return {name: f"{ident}.{name}" for name in known}
    return {
        name[len(stem) :].strip(): f"{ident}.{name}"
        for name in known
        if name.startswith(stem) and _ends(stem, name)
    }


def _ends(stem: str, name: str) -> bool:
    """Whether the common part of a terminal's name ends at a word, or before a number: ``S`` of ``S1``, not ``1`` of ``12``."""
    rest = name[len(stem) :]
    return bool(rest) and (not rest[0].isalnum() or (rest[0].isdigit() and stem[-1:].isalpha()))


def joined(
    run: Mapping[str, Plain], legs: Sequence[str], path: DocPath, terminals: Terminals, tell: Tell
) -> tuple[dict[str, Plain], dict[DocPath, Said]] | None:
    """The conductors of a run joined whole, and where each end was said; ``None`` for a run of one conductor.

    Args:
        run: the run, with ``from`` and ``to``, and what it writes of ``conductors``.
        legs: names of its conductors; none if it has one, or they are not known.
        path: where the run stands.
        terminals: the terminals of a thing.
        tell: reports what is wrong.
    """
    one, other = run.get("from"), run.get("to")
    written = run.get("conductors")
    if not isinstance(one, str) or not isinstance(other, str) or (written is None and not legs):
        return None
    near, far = points(one, terminals), points(other, terminals)
    if written is None and (near is None or far is None):
        return None
    if near is None and far is None:
        return None
    if not near or not far:
        for word, end, found in (("from", one, near), ("to", other, far)):
            if not found:
                tell((*path, word), _no_points(end, terminals, whole=found is None), end)
        return {}, {}
    fed = _fed(near, far)
    meets = {name: fed.get(name, name) for name in near if name in far or name in fed}
    ends = {name: (near[name], far[there]) for name, there in meets.items() if legs}
    apart: dict[str, str] = {}
    for name, said in mapping(written).items():
        told = mapping(said)
        start = name if name in near or not legs else _terminal_of(name, legs, near, far)
        if start is None:
            known = dict.fromkeys((*legs, *near))
            what = f"conductor, or terminal of '{split_end(one)[0]}'"
            tell((*path, "conductors", name, *list(told)[:1]), unknown_word(name, known, what), name)
            continue
        first = _end(told.get("from"), one, near) or near.get(start) or ends.get(start, ("", ""))[0]
        last = _end(told.get("to"), other, far) or ends.get(start, ("", far.get(start, "")))[1]
        ends[start] = (first, last)
        apart[start] = name
    return _by_leg(ends, apart, legs, run, path, tell, (one, other, near, far))


_VOLTAGE = re.compile(r"\d+(\.\d+)? V")


def _fed(near: Mapping[str, str], far: Mapping[str, str]) -> dict[str, str]:
    """Where a sender its indicator feeds joins it: ``+`` at the terminal named as a voltage, ``-`` at the signal ground."""
    supplies = [name for name in far if _VOLTAGE.fullmatch(name)]
    grounds = [name for name in far if name in ("signal ground", "sensor ground")]
    if not {"+", "-"} <= near.keys() or {"+", "-"} & far.keys() or len(supplies) != 1 or len(grounds) != 1:
        return {}
    return {"+": supplies[0], "-": grounds[0]}


def _by_leg(
    ends: Mapping[str, tuple[str, str]],
    apart: Mapping[str, str],
    legs: Sequence[str],
    run: Mapping[str, Plain],
    path: DocPath,
    tell: Tell,
    sides: tuple[str, str, Mapping[str, str], Mapping[str, str]],
) -> tuple[dict[str, Plain], dict[DocPath, Said]]:
    """The joined ends under the names of the conductors."""
    one, other, near, far = sides
    if not ends or (legs and len(ends) != len(legs)):
        wanted = f"{len(legs)} conductors ({listed(legs)})" if legs else "conductors"
        shared = f"share {listed(ends)}" if ends else "share no terminal's name"
        told = (
            f"the run has {wanted}, and '{one}' ({listed(near)}) and '{other}' ({listed(far)}) {shared}: write the rest "
            f"out, like '{next(iter(near))} to {next(iter(far.values()))}'"
        )
        tell((*path, "to"), told, other)
        return {}, {}
    named = bool(legs) and set(ends) <= set(legs)
    names = dict(zip(ends, ends if named or not legs else legs, strict=True))
    made: dict[str, Plain] = {}
    marks: dict[DocPath, Said] = {}
    for terminal, (first, last) in ends.items():
        leg, written = names[terminal], mapping(mapping(run.get("conductors")).get(apart.get(terminal, "")))
        rest = {word: value for word, value in written.items() if word not in ("from", "to")}
        made[leg] = {"from": first, "to": last, **rest}
        for word in ("from", "to", *rest):
            source = ("conductors", apart[terminal], word) if word in written else (word,)
            marks["conductors", leg, word] = Said((*path, *source))
        marks["conductors", leg] = Said((*path, "to"))
    if not run.get("conductors"):
        marks["conductors",] = Said((*path, "from"))
    return made, marks


def _terminal_of(
    leg: str, legs: Sequence[str], near: Mapping[str, str], far: Mapping[str, str]
) -> str | None:
    """The terminal at the first end that a conductor's name stands for."""
    if leg not in legs:
        return None
    shared = [name for name in near if name in far] or list(near)
    at = list(legs).index(leg)
    return shared[at] if at < len(shared) else None


def _end(said: Plain, end: str, there: Mapping[str, str]) -> str | None:
    """An end as it is written out: whole, or as a terminal of the thing at that end."""
    if not isinstance(said, str):
        return None
    if said in there:
        return there[said]
    ident = split_end(end)[0]
    return f"{ident}.{said}" if f"{ident}.{said}" in there.values() else said


def _no_points(end: str, terminals: Terminals, *, whole: bool) -> str:
    ident = split_end(end)[0]
    known = list(terminals(ident) or ())
    if whole or not known:
        return (
            f"'{end}' is one terminal, and the run has several conductors there: write the ends of each out"
        )
    near = [f"{ident}.{name}" for name in known]
    likely = nearest(end, near)
    hint = f"did you mean '{likely}'?" if likely else f"known are {listed(near)}"
    return f"'{end}' is neither a terminal nor the beginning of some; {hint}"
