"""The page of measured values."""

from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.papers.measured import COLUMNS, measured_values

TEXT = """
installation: {name: bench}
senders: {bulb: {terminals: [A, B]}}
indicators: {gauge: {terminals: [A, B]}}
wire_runs: {W1: {from: bulb.A, to: gauge.A}, W2: {from: bulb.B, to: gauge.B}}
measured:
  - {of: W1, what: resistance, value: 0.2 ohm, at_temperature: 68 degF, date: 2026-05-04, by: R. Fitter, connected: no}
  - {between: [bulb.A, bulb.B], value: open, what: resistance, as_expected: no}
"""


def rows(text):
    table = measured_values(Study(loads(text)))
    return [dict(zip(COLUMNS, row, strict=True)) for row in table.rows], table.notes


def test_who_measured_what_and_when():
    (first, second), notes = rows(TEXT)
    assert (first["of"], first["value"], first["wiring at"]) == ("W1", "0.2 ohm", "68 degF")
    assert (first["date"], first["by"], first["state"]) == ("2026-05-04", "R. Fitter", "freed")
    assert (second["from"], second["to"], second["value"]) == ("bulb.A", "bulb.B", "open")
    assert second["state"] == "not as expected"
    assert notes == ("1 of 2 values do not say when they were read, and by whom.",)


def test_nothing_measured_is_said():
    made, notes = rows(TEXT.partition("measured:")[0])
    assert made == []
    assert notes == ("The document gives no measured value.",)
