import pytest

TEXT = """
senders: {bulb: {terminals: [A]}, old: {terminals: [A], status: removed}}
notices: [{number: SN-12, %s}]
"""


@pytest.mark.parametrize(
    ("told", "outcome"),
    [
        ("at: bulb, state: open", "advisory"),
        ("state: open", "advisory"),
        ("at: bulb", "undetermined"),
        ("at: bulb, state: does not apply", "meets"),
        ("at: bulb, state: complied with", "undetermined"),
        ("at: bulb, state: complied with, method: replaced, date: '2026-05-02'", "undetermined"),
        ("at: bulb, state: complied with, method: replaced, date: '2026-05-02', by: A. Inspector", "meets"),
    ],
)
def test_notices(judged, told, outcome):
    [verdict] = judged(TEXT % told, "notice-settled")
    assert (verdict.outcome, verdict.at[0]) == (outcome, "SN-12")


def test_what_is_taken_out_is_not_concerned(judged):
    assert judged(TEXT % "at: old, state: open", "notice-settled") == []
