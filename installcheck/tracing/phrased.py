"""An observation written as the line that is read back."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from ..analysis.study import Study
from ..model.quantities import plain_number, show
from ..physics.network_parts import LARGEST_RESISTANCE
from .channels import channels
from .looks import (
    STOPPED,
    Answers,
    Compared,
    Followed,
    Holding,
    Insulated,
    Look,
    Marked,
    Observation,
    Ohms,
    Rung,
    Setup,
    Shaken,
    TrueValue,
    Volts,
)
from .pieces import (
    ALL_MARKS_OF,
    AT_TAP,
    BESIDE,
    INSULATION_OF,
    LEADS_OF,
    LINE_OF,
    MARKS_OF,
    SHAKEN,
    SUPPLY_OF,
)


def phrase(one: Observation, study: Study | None = None) -> str:
    """An observation as the line that :func:`observed` reads back; what a transducer was brought to in the unit of its dial."""
    look, at = one.look, one.at
    verb = one.result.text or (one.result.word or "")
    place = f" at {one.result.at}" if one.result.at else ""
    if isinstance(look, Holding):
        told = f"{LINE_OF}{look.name} {'stays still' if one.result.word == 'still' else one.result.word}"
    elif isinstance(look, Answers):
        told = f"{look.name} {'stays still' if one.result.word == 'still' else 'moves'}"
    elif isinstance(look, Shaken):
        told = f"{look.name} {'stays still' if one.result.word == 'still' else f'is jumping{place}'}"
    elif isinstance(look, Marked):
        told = f"{MARKS_OF}{look.thing} is {one.result.word}{place}"
    elif isinstance(look, Followed):
        told = f"{SUPPLY_OF}{look.indicator} is {one.result.word}{place}"
    elif isinstance(look, Compared):
        told = f"{ALL_MARKS_OF}{look.name} are {one.result.word}{place}"
    elif isinstance(look, Insulated):
        told = f"{INSULATION_OF}{look.name} is {one.result.word}{place}"
    elif isinstance(look, Rung):
        told = f"{LEADS_OF}{look.name} are {one.result.word}{place}"
    elif isinstance(look, TrueValue):
        told = f"{BESIDE if look.at_port else AT_TAP}{look.source} shows {verb}"
    elif isinstance(look, (Volts, Ohms)):
        told = f"{look.a} to {look.b} measures {verb}"
    else:
        told = f"{look} {'is' if one.result.value is None else 'shows'} {verb}"
    return f"{told}{''.join(_said(at, look))}{''.join(_brought(study, one))}"


def _brought(study: Study | None, one: Observation) -> Iterator[str]:
    for source, value in one.at.known if study is not None and isinstance(one.look, Volts) else ():
        channel = next((c for c in channels(study) if source in c.sources), None)  # type: ignore[arg-type]
        dial = channel.spec.scale if channel is not None else None
        if dial is not None:
            yield f" with {source} brought to {show(value, dial.highest.unit, dial.highest.kind)}"


def _said(at: Setup, look: Look) -> Iterator[str]:
    metered = isinstance(
        look, (Volts, Ohms, Holding, Answers, Shaken, Marked, Compared, Followed, Rung, Insulated)
    )
    if isinstance(look, Rung):
        return
    if at.point and not (metered and at.point == STOPPED):
        yield f" at {at.point}"
    for load, on in at.loads:
        yield f" with {load} {'on' if on else 'off'}"
    for terminal in at.lifted:
        yield f" with {terminal} {'lifted' if '.' in terminal else 'disconnected'}"
    for a, b, ohms in at.joined:
        yield f" with {a} joined to {b}" + (f" through {_ohms(ohms)}" if ohms else "")
    for sender, ohms in at.replaced:
        gone = ohms >= LARGEST_RESISTANCE or not isfinite(ohms)
        yield f" with {sender} disconnected" if gone else f" with {_ohms(ohms)} in place of {sender}"
    for source, warm in at.bathed:
        yield f" with {source} in a bath of {plain_number(warm, 4)} degC"
    if at.swapped is not None:
        one, other = at.swapped
        yield f" with {one} and {other} swapped" if other else f" with another {one}"
    if isinstance(look, Answers):
        yield f" with {look.source} warmed"
    if isinstance(look, Shaken):
        yield f" with {SHAKEN}"


def _ohms(ohms: float) -> str:
    return f"{plain_number(ohms, 4)} ohm"
