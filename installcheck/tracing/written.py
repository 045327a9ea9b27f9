"""Observations the document holds: what was measured and seen on the aircraft, and the lines of ``seen``."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.evidence.measured_ohms import what_of
from ..analysis.study import Study
from ..document.places import Problem
from ..document.source import DocPath
from ..model.quantities import Quantity
from ..model.records import Measurement
from ..physics.network_parts import LARGEST_RESISTANCE
from .channels import Channel, channels
from .looks import STOPPED, Observation, Ohms, Result, Setup, Show, Volts
from .phrases import observed
from .pieces import PhraseError
from .states import DAY_C

_NEAR_DAY_K = 20.0
"""K, within which wiring is taken to be as on a parked aircraft."""


def written(study: Study) -> tuple[list[Observation], list[Problem]]:
    """Every observation of the document that tracing can use, and what is wrong in the lines of ``seen``.

    A length, or a value of something no indication is read from, says nothing here and is left to the rules.
    """
    found = [o for i, one in enumerate(study.model.measured) for o in _measured(study, i, one)]
    problems: list[Problem] = []
    for i, line in enumerate(study.model.seen):
        try:
            found.append(_at(observed(study, line.root), ("seen", i)))
        except PhraseError as bad:
            problems.append(
                Problem(
                    study.document.place(("seen", i)),
                    f"{bad.why} (column {bad.column} of the line)",
                    line.root,
                )
            )
    return found, problems


def _at(one: Observation, path: DocPath) -> Observation:
    return Observation(one.at, one.look, one.result, one.said, path)


def _measured(study: Study, index: int, one: Measurement) -> Iterator[Observation]:
    path: DocPath = ("measured", index)
    what = what_of(one)
    if what in ("indication", "engine-off indication"):
        yield from _shown(study, one, what, path)
    elif one.between is not None and what in ("resistance", "insulation"):
        yield from _ohms(study, one, path)
    elif one.between is not None and what == "voltage" and isinstance(one.value, Quantity):
        a, b = (_node(study, end) for end in one.between)
        if a is not None and b is not None:
            at = Setup(STOPPED if _parked(one) else "")
            if one.connected is False:
                at = Setup(at.point, lifted=(b if study.graph.is_ground(a) else a,))
            result = Result(float(one.value), None, one.value.unit, "voltage", one.value.text)
            yield Observation(
                at,
                Volts(a, b),
                result,
                f"{one.between[0]} to {one.between[1]} measures {one.value.text}",
                path,
            )


def _shown(study: Study, one: Measurement, what: str, path: DocPath) -> Iterator[Observation]:
    channel = _channel(study, one)
    if channel is None:
        return
    known = ((channel.feels, float(one.true_value)),) if one.true_value is not None else ()
    stopped = what == "engine-off indication" or _parked(one)
    swapped = (
        (channel.source, _other(study, one.swapped_for, channel)) if one.swapped_for is not None else None
    )
    at = Setup(STOPPED if stopped else "", known=known, swapped=swapped)
    told = f"{channel.show} shows {one.value.text if isinstance(one.value, Quantity) else one.value}"
    if one.true_value is not None:
        told += f" where {one.true_value.text} is true"
    if one.swapped_for is not None:
        told += f" with {one.swapped_for} in its place"
    judged = Result(
        word="right" if one.as_expected else "wrong",
        text="as it should" if one.as_expected else "not as it should",
    )
    if isinstance(one.value, Quantity):
        if one.true_value is None and one.as_expected is not None:
            yield Observation(at, channel.show, judged, told, path)
            return
        dial = channel.spec.scale
        if dial is None or one.value.kind == dial.highest.kind:
            value = one.value
            yield Observation(
                at, channel.show, Result(float(value), None, value.unit, value.kind, value.text), told, path
            )
    else:
        yield Observation(at, channel.show, Result(word="wrong", text="open"), told, path)


def _parked(one: Measurement) -> bool:
    return one.at_temperature is not None and abs(float(one.at_temperature) - DAY_C) <= _NEAR_DAY_K


def _other(study: Study, named: str | None, channel: Channel) -> str:
    """The thing put in its place: another that is read here, or a spare, which is taken to be sound."""
    return (
        named
        if named and any(named in c.sources for c in channels(study)) and named != channel.source
        else ""
    )


def _channel(study: Study, one: Measurement) -> Channel | None:
    ident, _, input_ = (one.of or (one.between or ("",))[0]).partition(".")
    name = f"{ident} {input_}".strip()
    found = [c for c in channels(study) if c.show.name == name]
    if one.position is not None:
        found = [c for c in found if c.show.position == one.position]
    if len(found) > 1:
        found = [c for c in found if c.show == Show(name)] or [
            c
            for c in found
            if c.indication is not None
            and all(s.edge.closed for leg in c.indication.legs for s in leg.steps if s.edge.kind == "contact")
        ]
    return found[0] if len(found) == 1 else None


def _node(study: Study, end: str) -> str | None:
    if study.model.find(end.partition(".")[0]) is None:
        return None
    node = study.graph.node_of(end)
    return node if node in study.graph.nodes else None


def _ohms(study: Study, one: Measurement, path: DocPath) -> Iterator[Observation]:
    assert one.between is not None
    a, b = (_node(study, end) for end in one.between)
    if a is None or b is None or a == b:
        return
    ends = {a.partition(".")[0], b.partition(".")[0]}
    freed = tuple(
        (i, LARGEST_RESISTANCE)
        for i in ends
        if (i in study.model.senders or i in study.model.probes)
        and len(ends) == 2
        and not one.connected
        and not (study.graph.is_ground(a) or study.graph.is_ground(b))
    )
    own = ends.pop() if len(ends) == 1 else ""
    sensing = own in study.model.senders or own in study.model.probes
    at = Setup(STOPPED, lifted=(own,) if sensing and not one.connected else (), replaced=freed)
    if one.true_value is not None and own:
        at = Setup(at.point, lifted=at.lifted, known=((own, float(one.true_value)),))
    told = f"{one.between[0]} to {one.between[1]} measures {one.value.text if isinstance(one.value, Quantity) else one.value}"
    if not isinstance(one.value, Quantity):
        yield Observation(at, Ohms(a, b), Result(word="open", text="open"), told, path)
    elif one.value.kind == "resistance":
        result = Result(float(one.value), None, one.value.unit, "resistance", one.value.text)
        yield Observation(at, Ohms(a, b), result, told, path)
