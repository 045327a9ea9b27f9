"""A source of another voltage than the aircraft's: one of the aircraft's in its place."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.power.guards import TAP_M
from ...analysis.power.wiring import PROTECTORS
from ...analysis.study import Study
from ...model.edits import Change, Edit, Put
from ...model.power import SOURCES
from ...model.quantities import parse, plain_number
from .ends import ends, of_run
from .spots import written

_NEAR_M, _NEAR = TAP_M, "7 in"
_OPEN_CIRCUIT = 0.9
"""Voltage of a charged lead-acid battery at rest for that of its system: 12.6 V of 14 V, 25.2 V of 28 V (2.1 V a cell)."""


_MOST_OUTPUTS = 3


def nearer(study: Study, ident: str) -> Iterator[Edit]:
    """A protector close to what feeds it, the wire to it cut."""
    supply = study.model.supplies[ident]
    distance = supply.distance_from_source
    if supply.spec.kind not in PROTECTORS or distance is None or distance <= _NEAR_M:
        return
    changes: list[Change] = [Put(("supplies", ident, "distance_from_source"), _NEAR)]
    for end in ends(study).get(ident, ()):
        run = study.model.wire_runs[end.run]
        far = of_run(study, end.run)
        steps = run.route or []
        if not any(_feeds(study, e.device) for e in far if e.device != ident) or len(steps) != 1:
            continue
        if steps[0].length is not None and steps[0].length > _NEAR_M:
            changes.append(Put(("wire_runs", end.run, "route", 0, "length"), _NEAR))
            if run.length is not None:
                changes.append(Put(("wire_runs", end.run, "length"), _NEAR))
    words = f"fit {ident} within {_NEAR} of what feeds it, in place of {distance.text}"
    yield Edit(tuple(changes), words, f"{ident} is {distance.text} from what feeds it")


def _feeds(study: Study, device: str) -> bool:
    supply = study.model.supplies.get(device)
    return supply is not None and supply.spec.kind in ("battery", "alternator", "generator", "bus")


def larger(study: Study, ident: str) -> Iterator[Edit]:
    """An alternator or generator of the next larger outputs its part is made in."""
    supply = study.model.supplies[ident]
    part = study.document.library.parts.get(supply.part or "")
    rated = supply.spec.rated_current
    if part is None or rated is None or supply.size is None:
        return
    outputs = {
        size: parse(str(row["rated_current"]), "current")
        for size, row in part.sizes.items()
        if "rated_current" in row
    }
    more = sorted((amps, size) for size, amps in outputs.items() if amps > rated)
    for _, size in more[:_MOST_OUTPUTS]:
        size = part.spelling(size)
        words = f"fit {ident} in size {size} in place of {rated.text}"
        yield Edit((Put(("supplies", ident, "size"), size),), words, f"{ident} is of {rated.text}")


def of_the_system(study: Study, ident: str) -> Iterator[Edit]:
    """A source of the voltage the aircraft is said to have."""
    supply, system = study.model.supplies[ident], study.model.aircraft.system_voltage
    volts = supply.spec.voltage
    if system is None or volts is None or supply.spec.kind not in SOURCES:
        return
    wanted = float(system) * (_OPEN_CIRCUIT if supply.spec.kind == "battery" else 1.0)
    text = f"{plain_number(wanted)} V"
    if text != written(volts):
        words = f"fit as {ident} one for {system.text}: {text} in place of {volts.text}"
        wrong = f"{ident} is of {volts.text} in an aircraft of {system.text}"
        yield Edit((Put(("supplies", ident, "voltage"), text),), words, wrong)
