import pytest

TEXT = """
installation: {{name: test{date}}}
taps: {{tap: {{medium: oil{tap}}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P]}}}}
fittings: {{tee: {{kind: tee, ports: ['1', '2', '3'], ends: {{'3': 37 degree flare -4}}}}{fittings}}}
fluid_lines:
  L1: {{from: tap, to: tee.1, length: 1 ft{line}}}
  L2: {{from: tee.2, to: sender.P, length: 1 ft, marked: yes}}
{more}
"""


def text(**words: str) -> str:
    return TEXT.format(**{"date": "", "tap": "", "fittings": "", "line": "", "more": "", **words})


def of(verdicts, *at):
    [one] = [v for v in verdicts if v.at[: len(at)] == at]
    return one


def test_marks(judged):
    assert of(judged(text(line=", marked: yes"), "line-marked"), "L1").outcome == "meets"
    verdict = of(judged(text(line=", marked: no"), "line-marked"), "L1")
    assert verdict.outcome == "advisory"
    # 12 in is not more than 24 in: one band; oil is yellow
    assert "one band 1 in wide in yellow" in verdict.remedy
    assert of(judged(text(), "line-marked"), "L1").outcome == "undetermined"


AGE = ", kind: hose, fitted: 2012-04-01"


@pytest.mark.parametrize(
    ("line", "outcome", "limit"),
    [
        (AGE, "advisory", 5),
        (f"{AGE}, life: 10 years", "discrepancy", 10),
        (f"{AGE}, life: 15 years", "meets", 15),
        (", kind: hose, fitted: 2030-01-01", "discrepancy", None),
        (", kind: hose", "undetermined", None),
        (f"{AGE}, life: unknown", "undetermined", None),
    ],
)
def test_age(judged, line, outcome, limit):
    [verdict] = judged(text(line=line, date=", date: 2026-05-20"), "hose-age")
    assert verdict.outcome == outcome
    assert verdict.limit == (None if limit is None else pytest.approx(limit, rel=1e-3))
    if limit is not None:
        # 2012-04-01 to 2026-05-20 is 5162 days: 14.13 years
        assert verdict.value == pytest.approx(14.13, abs=0.01)


def test_age_in_a_document_without_a_date(judged):
    [verdict] = judged(text(line=AGE), "hose-age")
    assert verdict.missing == ("date of this revision of the document",)
