"""What no cure may touch."""

import pytest

from installcheck.causes.allowed import allowed
from installcheck.model.edits import Drop, Edit, Put, Swap


@pytest.mark.parametrize(
    "change",
    [
        Put(("indicators", "gauge", "budget"), "99 psi"),
        Put(("fluid_lines", "hose", "medium"), "fuel"),
        Put(("fluid_lines", "hose", "purpose"), "drain"),
        Put(("zones", "cabin", "occupied"), "no"),
        Put(("operating_points", "climb", "outside_air"), "0 degC"),
        Put(("wire_runs", "P1", "status"), "removed"),
        Put(("deviations", 0), {"rule": "wire-protected"}),
        Put(("supplies", "breaker", "max_current"), "99 A"),
        Drop(("indicators", "gauge")),
        Drop(("supplies", "breaker")),
        Swap(("engines", "engine", "limits"), ("engines", "other", "limits")),
    ],
)
def test_what_only_silences_is_refused(change: Put | Drop | Swap) -> None:
    assert not allowed(Edit((change,), ""))


@pytest.mark.parametrize(
    "change",
    [
        Put(("supplies", "breaker", "rating"), "5 A"),
        Put(("wire_runs", "P1", "gauge"), "18 AWG"),
        Swap(("wire_runs", "T1", "conductors", "+", "to"), ("wire_runs", "T1", "conductors", "-", "to")),
        Drop(("wire_runs", "P9")),
    ],
)
def test_what_a_person_does_is_allowed(change: Put | Drop | Swap) -> None:
    assert allowed(Edit((change,), ""))
