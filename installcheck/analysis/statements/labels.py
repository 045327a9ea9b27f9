"""What is written on the face of an indicator against what it shows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import get_args

from ...model.fields import Measure
from ..fluid.facts import listed
from ..study import Study
from .pairs import Pair

_OF_WHAT: Mapping[str, str] = MappingProxyType(
    {
        r"oil": "oil ",
        r"fuel": "fuel ",
        r"manifold|map|mp": "manifold ",
        r"hyd\w*": "hydraulic ",
        r"vac\w*|suction": "vacuum",
        r"cht|cyl\w*|head": "head ",
        r"egt|exh\w*": "exhaust ",
        r"tit": "turbine ",
        r"carb\w*|cat": "carburettor ",
        r"oat|outside": "outside ",
        r"coolant|water": "coolant ",
        r"rpm|tach\w*": "engine ",
        r"volts?|volt\w*": "bus ",
        r"amps?|amm\w*": "load ",
    }
)
"""Words of a face, and what the name of what they stand for begins with."""
_SORTS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        r"press\w*|psi": ("pressure", "vacuum"),
        r"temp\w*": ("temperature",),
        r"qty|quantity": ("quantity",),
        r"flow": ("flow",),
    }
)
"""Words of a face, and how the name of what they stand for ends."""


def labels(study: Study) -> Iterator[Pair]:
    """Indicators with a face that names what they show."""
    for ident, indicator in study.model.indicators.items():
        named = _named(indicator.label or "")
        if not named:
            continue
        shows = {spec.measures for _, spec in study.inputs(ident) if spec.measures is not None}
        if not shows:
            continue
        yield Pair(
            ident,
            ("indicators", ident, "label"),
            bool(named & shows),
            f"{ident} shows {listed(sorted(shows))}, and its face says '{indicator.label}'",
            "correct its label, or what it shows",
            open=(("indicators", ident, "label"),),
            instead=tuple((("indicators", ident, "label"), one.upper()) for one in sorted(shows)[:1]),
        )


def _named(label: str) -> frozenset[str]:
    """What a face can mean by its words; nothing where it names none."""
    words = re.findall(r"[a-z]+", label.lower())
    of_what = [start for pattern, start in _OF_WHAT.items() if any(re.fullmatch(pattern, w) for w in words)]
    sorts = [ends for pattern, ends in _SORTS.items() if any(re.fullmatch(pattern, w) for w in words)]
    if not of_what:
        return frozenset()
    return frozenset(
        measure
        for measure in get_args(Measure)
        if any(measure.startswith(start) for start in of_what)
        and (not sorts or any(measure.endswith(end) for ends in sorts for end in ends))
    )
