"""A source of another voltage than the aircraft's: one of the aircraft's in its place."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...model.edits import Edit, Put
from ...model.quantities import plain_number
from .spots import written

_OPEN_CIRCUIT = 0.9
"""Voltage of a charged lead-acid battery at rest for that of its system: 12.6 V of 14 V, 25.2 V of 28 V (2.1 V a cell)."""


def of_the_system(study: Study, ident: str) -> Iterator[Edit]:
    """A source of the voltage the aircraft is said to have."""
    supply, system = study.model.supplies[ident], study.model.aircraft.system_voltage
    volts = supply.spec.voltage
    if system is None or volts is None or supply.spec.kind not in ("battery", "alternator", "generator"):
        return
    wanted = float(system) * (_OPEN_CIRCUIT if supply.spec.kind == "battery" else 1.0)
    text = f"{plain_number(wanted)} V"
    if text != written(volts):
        words = f"fit a {supply.spec.kind} for {system.text} as {ident}: {text} in place of {volts.text}"
        wrong = f"{ident} is of {volts.text} in an aircraft of {system.text}"
        yield Edit((Put(("supplies", ident, "voltage"), text),), words, wrong)
