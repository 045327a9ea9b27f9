"""An indicator set to what it reads: the couple, the pulses, the leads and the scale its sender or probe has."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...graph import Indication
from ...graph.indications import source_of
from ...model.edits import Edit, Put
from ...model.fields import Model
from .spots import told, written

_SETTABLE = ("electronic thermocouple", "electronic resistance", "pulse counter", "voltage", "current loop")
_SAME = (
    ("thermocouple", "thermocouple"),
    ("pulses_per_revolution", "pulses_per_revolution"),
    ("pulses_per_gallon", "pulses_per_gallon"),
    ("curve", "curve"),
    ("full_scale", "full_scale"),
)
"""Words of an input, and of the sender or probe, that must say the same."""


def settings(study: Study, indicator: str) -> Iterator[Edit]:
    """Each input of an indicator that can be set, set to what it reads."""
    for one in study.indications:
        if one.indicator == indicator and one.spec.principle in _SETTABLE:
            yield from _set(study, one)


def _set(study: Study, one: Indication) -> Iterator[Edit]:
    spec = source_of(study.graph, one).spec
    for word, theirs in _SAME:
        now, wanted = getattr(one.spec, word, None), getattr(spec, theirs, None)
        if wanted is not None and now is not None and now != wanted:
            label = word.replace("_", " ")
            words = f"set {one.name} to the {label} of {one.source}"
            if not isinstance(wanted, Model):
                words += f", {told(wanted)}, in place of {told(now)}"
            wrong = f"{one.name} is not set to the {label} of {one.source}"
            yield Edit((Put((*one.path, word), written(wanted)),), words, wrong)
