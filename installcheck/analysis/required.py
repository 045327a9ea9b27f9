"""Which indications the rules ask of an aircraft, by its certification basis, operation and equipment."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from ..model.aircraft import Aircraft, Engine
from ..model.fields import Measure
from .shown import Shown, shown
from .study import Study

BASIS = "certification basis of the aircraft"
OPERATION = "kinds of operation of the aircraft"
PAPERS = "indications its papers require ('required' of the aircraft)"

_OWN_LIST = frozenset(("part 23 from 2017", "other"))
"""Bases whose rules name no instruments: the papers of the aircraft do."""
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
        missing: what must be known to tell whether it is asked at all; empty where it is.
    """

    engine: str | None
    measures: tuple[str, ...]
    by: str
    firm: bool
    missing: str = ""

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


Told = bool | None | str
"""Yes, no, or what to add so that it can be told."""


def _said(value: bool | None, datum: str) -> Told:
    return datum if value is None else value


def _cooled(how: str) -> Callable[[Engine], Told]:
    return lambda e: "cooling of the engine: air or liquid" if e.cooling is None else e.cooling == how


def _both(one: Told, other: Told) -> Told:
    if one is False or other is False:
        return False
    return one if isinstance(one, str) else other


def _either(one: Told, other: Told) -> Told:
    if one is True or other is True:
        return True
    return one if isinstance(one, str) else other


def _limited(*measures: Measure) -> Callable[[Engine], Told]:
    return lambda e: any(m in (e.limits or {}) for m in measures)


def _flaps(e: Engine) -> Told:
    return _said(e.cowl_flaps, "cowl flaps of the engine, yes or no")


def _altitude(e: Engine) -> Told:
    return _said(e.altitude_engine, "whether it is an altitude engine")


def _turbo(e: Engine) -> Told:
    return _said(e.turbocharged, "whether the engine is turbocharged")


_CONDITIONS: dict[str, Callable[[Engine], Told]] = {
    "always": lambda e: True,
    "pressure oil": lambda e: _said(e.pressure_oil, "whether the oil system is under pressure"),
    "air-cooled": _cooled("air"),
    "liquid-cooled": _cooled("liquid"),
    "altitude engine": _altitude,
    "air-cooled with cowl flaps": lambda e: _both(_cooled("air")(e), _flaps(e)),
    "pump-fed": lambda e: "fuel feed: gravity or pump" if e.fuel_feed is None else e.fuel_feed == "pump",
    "altitude engine or controllable propeller": lambda e: _either(
        _altitude(e), _said(e.controllable_propeller, "whether the propeller can be controlled in flight")
    ),
    "preheat limit": lambda e: _said(
        e.preheat_limit, "whether preheat can exceed an induction temperature limit"
    ),
    "preheat above 60 degF": lambda e: (
        "heat rise the preheater can give" if e.preheat_rise is None else e.preheat_rise > _PREHEAT_K
    ),
    "turbocharged with an induction limit": lambda e: _both(
        _limited("carburettor air temperature")(e), _turbo(e)
    ),
    "turbocharged with an exhaust limit": lambda e: _both(
        _limited("exhaust temperature", "turbine inlet temperature")(e), _turbo(e)
    ),
    "no automatic mixture": lambda e: (
        "whether the mixture follows the altitude by itself"
        if e.automatic_mixture is None
        else not e.automatic_mixture
    ),
}


def open_questions(aircraft: Aircraft) -> list[str]:
    """What the document must say of the aircraft before the list can be whole."""
    missing = []
    if aircraft.basis is None:
        missing.append(BASIS)
    if not aircraft.operation:
        missing.append(OPERATION)
    if aircraft.basis in _OWN_LIST and aircraft.required is None:
        missing.append(PAPERS)
    return missing


def asked(study: Study) -> tuple[Asked, ...]:
    """Every indication asked of the aircraft and each of its engines, once for the case."""
    return study.memo("asked indications", _asked)


def _applies(row: Row, aircraft: Aircraft) -> bool:
    if row.rules == "VFR and IFR":
        return any(o != "part 121" for o in aircraft.operation or ())
    return row.rules == aircraft.basis or row.rules in (aircraft.operation or ())


def _asked(study: Study) -> tuple[Asked, ...]:
    found: dict[tuple[str | None, tuple[str, ...]], list[tuple[str, str, str]]] = {}
    for row in rows():
        if not _applies(row, study.model.aircraft):
            continue
        for ident, engine in study.model.engines.items():
            told = _CONDITIONS[row.condition](engine)
            if told is False:
                continue
            key = (ident if row.of == "engine" else None, row.measures)
            missing = told if isinstance(told, str) else ""
            found.setdefault(key, []).append((row.regulation, row.mark, missing))
    for measure in study.model.aircraft.required or ():
        for of in _engines_of(study, measure):
            found.setdefault((of, (measure,)), []).append(("the papers of the aircraft", "papers", ""))
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


def _joined(engine: str | None, measures: tuple[str, ...], why: list[tuple[str, str, str]]) -> Asked:
    sure = [(by, mark) for by, mark, missing in why if not missing]
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


def required_inputs(study: Study) -> dict[str, list[Asked]]:
    """Each input that serves as a required indication, by its name, with what asks for it.

    Where one of several is called required, the others are not.
    """
    return study.memo("required inputs", _required_inputs)


def _required_inputs(study: Study) -> dict[str, list[Asked]]:
    found: dict[str, list[Asked]] = {s.name: [] for s in shown(study) if s.item.required is True}
    for one in asked(study):
        if one.missing:
            continue
        may = [s for s in serving(study, one) if s.item.required is not False]
        named = [s for s in may if s.item.required is True]
        for s in named or may:
            found.setdefault(s.name, []).append(one)
    return found
