"""Which indications the rules ask of an aircraft, by its certification basis, operation and equipment."""

from __future__ import annotations

import csv
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TypeAlias

from ..dataclass import dataclass
from ..model.aircraft import Aircraft, Engine
from ..model.fields import Measure
from . import missing
from .missing import Missing
from .shown import Shown, shown
from .study import Study, once

_OWN_LIST = frozenset(("part 23 from 2017", "other"))
"""Bases whose rules name no instruments: the papers of the aircraft do."""
_STANDARD = "VFR and IFR"
"""Rows of 14 CFR 91.205, which binds aircraft of a standard category certificate."""
_PREHEAT_K = 60 / 1.8
"""60 degF, 14 CFR 27.1305(a)."""
_STRENGTH = {"recalled": 0, "verified-part": 1, "verified": 1, "papers": 2}


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the table."""

    rules: str
    condition: str
    measures: tuple[str, ...]
    of: str
    regulation: str
    mark: str


@dataclass(frozen=True, slots=True)
class Asked:
    """An indication that is asked for.

    Attributes:
        engine: id of the engine, or ``None`` for the aircraft.
        measures: any of these serves.
        by: the regulations, or the papers of the aircraft.
        firm: whether one of them was seen; an indication only recalled can only be advised.
        lacks: what must be known to tell whether it is asked at all; ``None`` where it is.
    """

    engine: str | None
    measures: tuple[str, ...]
    by: str
    firm: bool
    lacks: Missing | None = None

    @property
    def words(self) -> str:
        """``oil pressure``, ``fuel pressure or fuel flow``."""
        return " or ".join(self.measures)


@cache
def rows() -> tuple[Row, ...]:
    """The table of required indications."""
    path = Path(__file__).parent / "data" / "required_indications.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        read = csv.DictReader(line for line in lines if not line.startswith("#"))
        return tuple(
            Row(
                r["rules"],
                r["condition"],
                tuple(r["measures"].split("|")),
                r["of"],
                r["regulation"],
                r["mark"],
            )
            for r in read
        )


Told: TypeAlias = bool | Missing
"""Yes, no, or what to add so that it can be told."""


def _said(value: bool | None, datum: Missing) -> Told:
    return datum if value is None else value


def _cooled(how: str) -> Callable[[Engine], Told]:
    return lambda e: missing.ENGINE_COOLING if e.cooling is None else e.cooling == how


def _both(one: Told, other: Told) -> Told:
    if one is False or other is False:
        return False
    return one if isinstance(one, Missing) else other


def _either(one: Told, other: Told) -> Told:
    if one is True or other is True:
        return True
    return one if isinstance(one, Missing) else other


def _limited(*measures: Measure) -> Callable[[Engine], Told]:
    return lambda e: any(m in (e.limits or {}) for m in measures)


def _flaps(e: Engine) -> Told:
    return _said(e.cowl_flaps, missing.ENGINE_COWL_FLAPS)


def _altitude(e: Engine) -> Told:
    return _said(e.altitude_engine, missing.ENGINE_ALTITUDE)


def _turbo(e: Engine) -> Told:
    return _said(e.turbocharged, missing.ENGINE_TURBOCHARGED)


_CONDITIONS: dict[str, Callable[[Engine], Told]] = {
    "always": lambda e: True,
    "pressure oil": lambda e: _said(e.pressure_oil, missing.ENGINE_PRESSURE_OIL),
    "air-cooled": _cooled("air"),
    "liquid-cooled": _cooled("liquid"),
    "altitude engine": _altitude,
    "air-cooled with cowl flaps": lambda e: _both(_cooled("air")(e), _flaps(e)),
    "air-cooled with cowl flaps or cooled fast": lambda e: _both(
        _cooled("air")(e), _either(_flaps(e), _said(e.cooled_above_climb_speed, missing.ENGINE_COOLING_SPEED))
    ),
    "pump-fed": lambda e: missing.ENGINE_FUEL_FEED if e.fuel_feed is None else e.fuel_feed == "pump",
    "altitude engine or controllable propeller": lambda e: _either(
        _altitude(e), _said(e.controllable_propeller, missing.ENGINE_PROPELLER)
    ),
    "preheat limit": lambda e: _said(e.preheat_limit, missing.ENGINE_PREHEAT_LIMIT),
    "preheat above 60 degF": lambda e: (
        missing.ENGINE_PREHEAT_RISE if e.preheat_rise is None else e.preheat_rise > _PREHEAT_K
    ),
    "turbocharged with an induction limit": lambda e: _both(
        _limited("carburettor air temperature")(e), _turbo(e)
    ),
    "turbocharged with an exhaust limit": lambda e: _both(
        _limited("exhaust temperature", "turbine inlet temperature")(e), _turbo(e)
    ),
    "no automatic mixture": lambda e: (
        missing.ENGINE_MIXTURE if e.automatic_mixture is None else not e.automatic_mixture
    ),
}


def open_questions(aircraft: Aircraft) -> list[Missing]:
    """What the document must say of the aircraft before the list can be whole."""
    data = []
    if aircraft.basis is None:
        data.append(missing.AIRCRAFT_BASIS)
    if not aircraft.operation:
        data.append(missing.AIRCRAFT_OPERATION)
    if aircraft.basis in _OWN_LIST and aircraft.required is None:
        data.append(missing.AIRCRAFT_REQUIRED)
    return data


def _applies(row: Row, aircraft: Aircraft) -> bool:
    if row.rules == _STANDARD:
        return any(o != "part 121" for o in aircraft.operation or ())
    return row.rules == aircraft.basis or row.rules in (aircraft.operation or ())


@once
def asked(study: Study) -> tuple[Asked, ...]:
    """Every indication asked of the aircraft and each of its engines."""
    found: dict[tuple[str | None, tuple[str, ...]], list[tuple[str, str, Missing | None]]] = {}
    for row in rows():
        if not _applies(row, study.model.aircraft):
            continue
        for ident, engine in study.model.engines.items():
            told = _CONDITIONS[row.condition](engine)
            if told is False:
                continue
            key = (ident if row.of == "engine" else None, row.measures)
            lacks = told if isinstance(told, Missing) else None
            if row.rules == _STANDARD and study.model.aircraft.basis is None:
                lacks = missing.AIRCRAFT_BASIS
            found.setdefault(key, []).append((row.regulation, row.mark, lacks))
    for measure in study.model.aircraft.required or ():
        for of in _engines_of(study, measure):
            found.setdefault((of, (measure,)), []).append(("the papers of the aircraft", "papers", None))
    return tuple(_joined(engine, measures, why) for (engine, measures), why in found.items())


def _engines_of(study: Study, measure: str) -> list[str | None]:
    of_aircraft = {m for r in rows() if r.of == "aircraft" for m in r.measures} | {
        "bus voltage",
        "load current",
        "outside air temperature",
        "hydraulic pressure",
        "vacuum",
    }
    return [None] if measure in of_aircraft else list(study.model.engines)


def _joined(
    engine: str | None, measures: tuple[str, ...], why: list[tuple[str, str, Missing | None]]
) -> Asked:
    sure = [(by, mark) for by, mark, lacks in why if lacks is None]
    if not sure:
        return Asked(engine, measures, ", ".join(dict.fromkeys(w[0] for w in why)), False, why[0][2])
    by = ", ".join(dict.fromkeys(by for by, _ in sure))
    return Asked(engine, measures, by, any(_STRENGTH[mark] > 0 for _, mark in sure))


def serving(study: Study, one: Asked) -> list[Shown]:
    """The indicator inputs that show what is asked, extras included; a warning light is no indicator."""
    return [
        s
        for s in shown(study)
        if s.measure in one.measures
        and s.spec.principle != "warning light"
        and (one.engine is None or s.engine == one.engine)
    ]


@once
def required_inputs(study: Study) -> dict[str, list[Asked]]:
    """Each input that serves as a required indication, by its name, with what asks for it.

    Where one of several is called required, the others are not.
    """
    found: dict[str, list[Asked]] = {s.name: [] for s in shown(study) if s.item.required is True}
    for one in asked(study):
        if one.lacks is not None:
            continue
        may = [s for s in serving(study, one) if s.item.required is not False]
        named = [s for s in may if s.item.required is True]
        for s in named or may:
            found.setdefault(s.name, []).append(one)
    return found
