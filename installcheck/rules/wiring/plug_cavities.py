"""Plugs against their receptacles: every wired contact meets a wired contact of the same use."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ...analysis.fluid.facts import listed
from ...analysis.routing import run_ends
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.installation import split_end, terminals_of
from ...model.wiring import Junction
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_SHOWN = 6
NO_CAVITY = ""
"""What a contact meets that the document says meets none."""


@dataclass(frozen=True, slots=True)
class Mated:
    """A plug and its receptacle: their contacts in order, which of them are wired, and what meets what."""

    plug: str
    receptacle: str
    here: tuple[str, ...]
    there: tuple[str, ...]
    meets: dict[str, str]
    wired_here: frozenset[str]
    wired_there: frozenset[str]

    @property
    def ident(self) -> str:
        """The plug that names the other."""
        return self.plug

    @property
    def path(self) -> DocPath:
        """Where the document tells of the plug."""
        return ("junctions", self.plug)


@once
def _wired(study: Study) -> dict[str, dict[str, None]]:
    """Contacts of each joint that a run ends at."""
    found: dict[str, dict[str, None]] = {}
    for run in study.model.wire_runs.values():
        ends = [*run_ends(run)]
        if run.shield is not None:
            ends += [end for end in (run.shield.from_, run.shield.to) if end is not None]
        for end in ends:
            ident, contact = split_end(end)
            found.setdefault(ident, {})[contact] = None
    return found


def _pairs(study: Study) -> list[Mated]:
    wired = _wired(study)
    found: list[Mated] = []
    for ident, plug in study.model.junctions.items():
        other = study.model.junctions.get(plug.mates or "")
        if (
            other is None
            or plug.mates is None
            or any(p.plug == plug.mates and p.receptacle == ident for p in found)
        ):
            continue
        used = tuple(dict.fromkeys((*wired.get(ident, ()), *wired.get(plug.mates, ()))))
        here, there = _contacts(plug, other) or used, _contacts(other, plug) or used
        found.append(
            Mated(
                ident,
                plug.mates,
                here,
                there,
                _what_meets(plug, here),
                frozenset(wired.get(ident, ())),
                frozenset(wired.get(plug.mates, ())),
            )
        )
    return found


def _what_meets(plug: Junction, here: tuple[str, ...]) -> dict[str, str]:
    """What each contact meets: as told, else its namesake, unless another is told to meet that."""
    told = plug.cavities or {}
    taken = set(told.values())
    return {
        pin: (told[pin] or NO_CAVITY) if pin in told else NO_CAVITY if pin in taken else pin for pin in here
    }


def _contacts(junction: Junction, other: Junction) -> tuple[str, ...]:
    return terminals_of("junctions", junction) or terminals_of("junctions", other) or ()


@rule(
    "plug-cavities",
    title="Every wired contact of a plug meets a wired contact of the same use in its receptacle",
    why="One empty cavity shifts every contact after it: the harness looks whole, and five channels read what their neighbours "
    "should.",
    source="plain physics: the cavity table of both halves",
    formula="wired(plug contact) = wired(contact it meets), and their functions agree",
    example="contacts 9 to 13 one place on and cavity 8 empty: five channels are crossed",
    over=_pairs,
)
def plug_cavities(study: Study, subject: Subject, pair: Mated) -> list[Verdict] | Verdict:
    """Every plug that names its receptacle."""
    subject = subject.along(pair.receptacle)
    both = sum(1 for p, q in pair.meets.items() if p in pair.wired_here and q in pair.wired_there)
    return [
        *_lonely(subject, pair),
        *_crossed(study, subject, pair),
        *_shifted(subject, pair),
    ] or subject.meets(f"the {both} wired contacts of {pair.plug} meet wired contacts of {pair.receptacle}")


def _lonely(subject: Subject, pair: Mated) -> Iterator[Verdict]:
    """Contacts wired on one side only."""
    met = {q: p for p, q in pair.meets.items() if q}
    here = [p for p in pair.here if p in pair.wired_here and pair.meets[p] not in pair.wired_there]
    there = [q for q in pair.there if q in pair.wired_there and met.get(q) not in pair.wired_here]
    if not here and not there:
        return
    told = []
    if here:
        told.append(f"{_some(here)} of {pair.plug}")
    if there:
        told.append(f"{_some(there)} of {pair.receptacle}")
    yield subject.discrepancy(
        f"{' and '.join(told)} {'meet' if len(here) + len(there) > 1 else 'meets'} an empty cavity",
        remedy=_moves(pair, here, there, met),
    )


def _some(names: list[str]) -> str:
    shown = (
        listed(names[:_SHOWN])
        if len(names) <= _SHOWN
        else f"{', '.join(names[:_SHOWN])} and {len(names) - _SHOWN} more"
    )
    return f"contact{'s' if len(names) > 1 else ''} {shown}"


def _moves(pair: Mated, here: list[str], there: list[str], met: dict[str, str]) -> str:
    """Which contacts to move so that both sides agree: those between one empty cavity and the one left over."""
    order = {pin: i for i, pin in enumerate(pair.here)}
    if len(here) == 1 and len(there) == 1 and there[0] in met:
        empty, over = order[met[there[0]]], order[here[0]]
        low, high = sorted((empty, over))
        between = [pair.here[i] for i in range(low, high + 1) if pair.here[i] in pair.wired_here]
        if len(between) == 1:
            return f"move contact {here[0]} of {pair.plug} to cavity {met[there[0]]}"
        step = "back" if over > empty else "on"
        return (
            f"either contact {here[0]} alone belongs in cavity {met[there[0]]}, or the {len(between)} contacts from "
            f"{between[0]} to {between[-1]} each belong one place {step}: ring them out"
        )
    return "wire the other half of each, or move the contact to the cavity that has one"


def _crossed(study: Study, subject: Subject, pair: Mated) -> Iterator[Verdict]:
    """Contacts whose two halves are meant for different things."""
    here = study.model.junctions[pair.plug].spec.pins or {}
    there = study.model.junctions[pair.receptacle].spec.pins or {}
    for pin, met in pair.meets.items():
        one = here[pin].function if pin in here else None
        other = there[met].function if met in there else None
        if one is not None and other is not None and one.strip().lower() != other.strip().lower():
            right = next(
                (q for q, p in there.items() if (p.function or "").strip().lower() == one.strip().lower()),
                None,
            )
            yield (
                subject.along(pin)
                .field("pins", pin)
                .discrepancy(
                    f"contact {pin} of {pair.plug} carries {one} and meets {met} of {pair.receptacle}, meant for {other}",
                    remedy=f"move it to the cavity that meets {right}"
                    if right
                    else "compare both cavity tables",
                )
            )


def _shifted(subject: Subject, pair: Mated) -> Iterator[Verdict]:
    """Runs of contacts that stand one place or more off: told, since the document says that they do."""
    order = {pin: i for i, pin in enumerate(pair.there)}
    off = [
        (pin, order[met] - i)
        for i, (pin, met) in enumerate(pair.meets.items())
        if met in order and pin in order and met != pin and pin in pair.wired_here
    ]
    lost = [pin for pin, met in pair.meets.items() if pin in pair.wired_here and met and met not in order]
    if lost:
        yield subject.discrepancy(
            f"{_some(lost)} of {pair.plug} {'have' if len(lost) > 1 else 'has'} no cavity in {pair.receptacle}",
            remedy="use a receptacle with the cavities of the plug",
        )
    group: list[str] = []
    for (pin, by), following in pairwise([*off, ("", 0)]):
        group.append(pin)
        if following[1] == by:
            continue
        span = (
            f"contact {group[0]} stands" if len(group) == 1 else f"contacts {group[0]} to {group[-1]} stand"
        )
        places = "one place" if abs(by) == 1 else f"{abs(by)} places"
        yield (
            subject.along(*group[:_SHOWN])
            .field("cavities")
            .advisory(
                f"{span} {places} {'on' if by > 0 else 'back'} in {pair.receptacle}",
                remedy="move them to their own cavities, unless the drawing of the receptacle is so",
            )
        )
        group = []
