"""Figures of an indication are in units of what it measures: no psi of an oil temperature."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..model.aircraft import Engine, OperatingPoint
from ..model.devices import Indicator, InputSpec, Sender
from ..model.measures import kinds_of
from ..model.quantities import Quantity, usual_units
from .places import DocPath

Odd = tuple[DocPath, Quantity, str]
"""Where a figure stands, the figure, and the indication it cannot be of."""

_OF_INPUT = ("budget", "accuracy", "bridge_balance", "full_scale")
_OF_SENDER = ("tolerance", "full_scale")


def _odd(path: DocPath, figure: object, measure: str | None, *, on_dial: bool = True) -> Iterator[Odd]:
    """The figure, if it is in no unit of the indication; an angle fits a dial without one, and what moves it."""
    if not isinstance(figure, Quantity) or measure is None:
        return
    kind = figure.kind.removesuffix(" difference")
    kinds = kinds_of(measure)
    if kinds and kind not in (*kinds, *(("angle",) if on_dial else ())):
        yield path, figure, measure


def _of_input(path: DocPath, one: InputSpec, measure: str | None) -> Iterator[Odd]:
    for word in _OF_INPUT:
        yield from _odd((*path, word), getattr(one, word), measure)
    if one.scale is not None:
        for word in ("lowest", "highest"):
            yield from _odd((*path, "scale", word), getattr(one.scale, word), measure)
    for i, mark in enumerate(one.markings or ()):
        for word in ("at", "lowest", "highest"):
            yield from _odd((*path, "markings", i, word), getattr(mark, word), measure)


def odd_figures(section: str, ident: str, thing: object) -> Iterator[Odd]:
    """Figures of one thing in units its indication is never given in."""
    path: DocPath = (section, ident)
    if isinstance(thing, Indicator):
        inputs: Mapping[str, InputSpec] = thing.spec.inputs or {}
        if not inputs:
            yield from _of_input(path, thing.spec, thing.spec.measures)
        for name, one in inputs.items():
            yield from _of_input((*path, "inputs", name), one, one.measures or thing.spec.measures)
    elif isinstance(thing, Sender):
        for word in _OF_SENDER:
            yield from _odd((*path, word), getattr(thing.spec, word), thing.spec.measures)
        points = thing.spec.curve.points if thing.spec.curve is not None else None
        for i, (reading, _) in enumerate(points or ()):
            yield from _odd((*path, "curve", "points", i, 0), reading, thing.spec.measures)
    elif isinstance(thing, Engine):
        for measure, limit in (thing.limits or {}).items():
            for word, figure in limit:
                yield from _odd((*path, "limits", measure, word), figure, measure, on_dial=False)
    elif isinstance(thing, OperatingPoint):
        for measure, reading in (thing.readings or {}).items():
            yield from _odd((*path, "readings", measure), reading, measure, on_dial=False)


def said(figure: Quantity, measure: str) -> str:
    """What is wrong with a figure, and in which units it would be right."""
    kinds = kinds_of(measure)
    units = ", ".join(u for kind in kinds for u in usual_units(kind)[:4])
    kind = figure.kind.removesuffix(" difference")
    article, an = ("an" if word[0] in "aeiou" else "a" for word in (measure, kind))
    if kind == "ratio":
        return f"'{figure.text}' of what is not told: {article} {measure} is told in {units}; write the share out"
    return f"'{figure.text}' is {an} {kind}, but {article} {measure} is told in {units}"
