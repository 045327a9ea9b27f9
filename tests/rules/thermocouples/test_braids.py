"""Bare braids in contact, whichever of the two runs says so."""

import pytest

TEXT = """
probes: {{p: {{thermocouple: K, terminals: ['+', '-']}}, q: {{thermocouple: K, terminals: ['+', '-']}}}}
indicators: {{g: {{thermocouple: K, terminals: ['1+', '1-', '2+', '2-']}}}}
wire_runs:
  T1: {{thermocouple: K, conductors: {{'+': {{from: p.+, to: g.1+}}, '-': {{from: p.-, to: g.1-}}}}{first}}}
  T2: {{thermocouple: K, insulation: bare metal braid, conductors: {{'+': {{from: q.+, to: g.2+}}, '-': {{from: q.-, to: g.2-}}}}{second}}}
"""


def passing(other, distance):
    return f", clearances: [{{to: {other}, kind: wire, distance: {distance}}}]"


@pytest.mark.parametrize(
    ("first", "second", "outcomes"),
    [
        ("", passing("T1", "0 in"), ["discrepancy"]),
        (passing("T2", "0 in"), "", ["discrepancy"]),
        (passing("T2", "1 in"), "", ["meets"]),
        (passing("T2", "0 in"), passing("T1", "0 in"), ["discrepancy"]),
        ("", "", []),
    ],
)
def test_contact_is_told_once(judged, first, second, outcomes):
    found = judged(TEXT.format(first=first, second=second), "thermocouple-braids-apart")
    assert [v.outcome for v in found] == outcomes
    assert all(set(v.at) == {"T1", "T2"} for v in found)
