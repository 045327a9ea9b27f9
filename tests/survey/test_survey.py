"""The survey against logs whose answer is stated: the demo's model, and small logs made by hand."""

import importlib.util
from collections.abc import Callable, Sequence
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from installcheck.logs.flight_log import LogError, parse_log, read_log
from installcheck.survey import Phase, Survey, survey

DEMO = Path(__file__).parents[2] / "demo_aircraft"
LIMIT = (500 - 32) / 1.8


def made_by() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_survey_log", DEMO / "make_survey_log.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def truth() -> ModuleType:
    return made_by()


@pytest.fixture(scope="module")
def demo() -> Survey:
    return survey(read_log(DEMO / "climb_survey.csv"), cylinders=4, limit=LIMIT, probed=1, grade="standard")


def phase(result: Survey, name: str) -> Phase:
    return next(one for one in result.phases if one.name == name)


def test_the_committed_log_is_what_its_maker_makes(truth: ModuleType) -> None:
    assert (DEMO / "climb_survey.csv").read_text(encoding="utf-8") == truth.make_log()


def test_the_demo_climb_names_the_cylinder_of_the_model(demo: Survey, truth: ModuleType) -> None:
    cylinder, lead = truth.HOTTEST["climb"]
    climb = phase(demo, "climb")
    assert climb.by_peak.hottest == (cylinder,)
    # Peaks of two channels with a noise of 0.6 degF, in whole degrees: within 2 degF of the model.
    assert climb.by_peak.lead * 1.8 == pytest.approx(lead, abs=2)
    assert climb.by_steady is not None
    assert climb.by_steady.lead * 1.8 == pytest.approx(lead, abs=1)
    assert climb.by_peak.sure
    assert climb.by_time == (cylinder,)
    assert climb.passes == 2
    assert demo.governing == "climb"
    assert demo.hottest == (cylinder,)


def test_the_demo_peak_is_carried_to_the_hot_day(demo: Survey, truth: ModuleType) -> None:
    assert demo.corrected
    head = next(head for head in phase(demo, "climb").heads if head.cylinder == 3)
    assert head.corrected is not None
    # The model's day is 22 degF below the hot day at every height; outside air is noted with 0.2 degF of
    # noise.
    assert (head.corrected - head.peak) * 1.8 == pytest.approx(truth.BELOW_HOT_DAY, abs=1)
    # The log holds the peak at that line.
    row = (DEMO / "climb_survey.csv").read_text(encoding="utf-8").split("\n")[head.line - 1].split(",")
    assert float(row[8]) == pytest.approx(head.peak * 1.8 + 32)
    assert max(
        float(line.split(",")[8]) for line in (DEMO / "climb_survey.csv").read_text().split("\n")[3:-1]
    ) == float(row[8])


def test_the_demo_order_changes_in_lean_cruise(demo: Survey, truth: ModuleType) -> None:
    cylinder, lead = truth.HOTTEST["lean cruise"]
    cruise = phase(demo, "cruise")
    assert cruise.by_steady is not None
    assert cruise.by_steady.hottest == (cylinder,)
    assert cruise.by_steady.next == 3
    # A settled rate still leaves some heat of the climb: up to time constant x slope, 4 degF at 2 degF a minute.
    assert cruise.by_steady.lead * 1.8 == pytest.approx(lead, abs=1.5)
    assert cruise.by_time == (cylinder,)
    # The first rows of level flight still hold the heat of the climb.
    assert cruise.carried_in
    assert cruise.by_peak.hottest == (3,)
    # 6 degF is less than two probes can differ by, so the change of order is told but not called sure.
    assert cruise.by_steady.candidates == (3, 4)
    change = next(one for one in demo.changes if (one.phase, one.other_phase) == ("climb", "cruise"))
    assert (change.hottest, change.other_hottest, change.sure) == ((3,), (4,), False)
    assert "once settled, cylinder 4 is the hottest" in cruise.finding


def test_better_probes_make_the_change_sure() -> None:
    # Special wire: two probes differ by 3.96 degF at most, less than the lead in either phase.
    result = survey(read_log(DEMO / "climb_survey.csv"), cylinders=4, grade="special")
    change = next(one for one in result.changes if (one.phase, one.other_phase) == ("climb", "cruise"))
    assert change.sure


def test_the_demo_open_inputs_are_left_out_though_they_read_highest() -> None:
    log = read_log(DEMO / "climb_survey.csv")
    assert {one.cylinder for one in log.left_out} == {5, 6}
    rows = [
        line.split(",") for line in (DEMO / "climb_survey.csv").read_text(encoding="utf-8").split("\n")[3:-1]
    ]
    heads = [max(float(row[6 + k]) for row in rows) for k in range(6)]
    assert heads.index(max(heads)) == 4  # a plain maximum names cylinder 5
    assert survey(log).cylinders == (1, 2, 3, 4)


def test_the_demo_probe_reads_low(demo: Survey, truth: ModuleType) -> None:
    added = truth.ADDED["climb"]
    assert demo.shortfall["climb"] * 1.8 == pytest.approx(max(added) - added[0], abs=2)
    assert "the probed cylinder 1 reads" in demo.finding
    # Shortfall 27 against a margin of some 13: cylinder 3 can pass its limit before a gauge on 1 shows it.
    assert demo.weighted[1] > 0 > demo.weighted[3]


def test_the_demo_margin(demo: Survey) -> None:
    climb = phase(demo, "climb")
    head = next(head for head in climb.heads if head.cylinder == 3)
    assert head.corrected is not None
    assert climb.margin == pytest.approx(LIMIT - head.corrected)
    log = read_log(DEMO / "climb_survey.csv")
    wary = survey(log, cylinders=4, limit=LIMIT, system_error=12 / 1.8)
    assert phase(wary, "climb").margin == pytest.approx(LIMIT - head.corrected - 12 / 1.8)


def test_a_wider_tolerance_leaves_candidates() -> None:
    log = read_log(DEMO / "climb_survey.csv")
    # IEC class 2: 2.5 degC, two probes 9 degF apart at most; 14 degF is still more.
    assert phase(survey(log, standard="IEC 60584-1"), "climb").by_peak.tolerance == 2.5
    assert phase(survey(log, grade="special"), "climb").by_peak.tolerance == pytest.approx(1.1)
    with pytest.raises(ValueError, match="grade among the thermocouple limits 'best'"):
        survey(log, grade="best")


def made(heads: Callable[[int], Sequence[float]], rows: int = 200, more: str = "") -> bytes:
    """A log in whole degF: 200 rows each 6 s, with a column 'Alt ft' that climbs at 600 ft/min from row 50 to
    120."""
    count = len(heads(0))
    lines = [f"s,Alt ft,{more}" + ",".join(f"CHT{k + 1} F" for k in range(count))]
    for i in range(rows):
        height = 1000 + 60 * min(max(i - 50, 0), 70)
        lines.append(f"{6 * i},{height}," + ("," if more else "") + ",".join(f"{t:.0f}" for t in heads(i)))
    return "\n".join(lines).encode()


def warm(i: int, top: float) -> float:
    return 100 + (top - 100) * (1 - 0.96**i)


def test_a_tie_is_called_a_tie() -> None:
    result = survey(parse_log(made(lambda i: [warm(i, 410), warm(i, 410), warm(i, 395)]), "tie.csv"))
    last = result.phases[-1]
    assert last.by_peak.hottest == (1, 2)
    assert last.by_peak.lead == 0
    assert last.rows_tied == last.rows
    assert last.by_time == ()
    assert "cylinders 1 and 2 tie" in last.finding
    assert "cylinders 1 and 2 tie" in result.finding


def test_a_lead_inside_the_tolerance_is_not_certain() -> None:
    # 401, 418, 409, 422, 415, 398: 4 reads highest, 2 and 5 lie within 7.92 degF.
    tops = (401, 418, 409, 422, 415, 398)
    result = survey(parse_log(made(lambda i: [warm(i, top) for top in tops]), "six.csv"), cylinders=6)
    last = phase(result, "cruise")
    assert last.by_peak.hottest == (4,)
    assert last.by_peak.lead * 1.8 == pytest.approx(4)
    assert last.by_peak.candidates == (2, 4, 5)
    assert last.by_peak.chance_wrong == pytest.approx(0.123, abs=0.001)
    assert not last.by_peak.sure
    assert "2 and 5 cannot be excluded" in result.finding


def test_peak_on_one_and_time_on_another() -> None:
    def heads(i: int) -> list[float]:
        return [warm(i, 400) + (14 if 118 <= i <= 121 else 0), warm(i, 404), warm(i, 380)]

    climb = phase(survey(parse_log(made(heads), "log.csv")), "climb")
    assert climb.by_peak.hottest == (1,)
    assert climb.by_time == (2,)
    assert "but cylinder 2 is hottest in most rows" in climb.finding


def test_a_cylinder_without_a_channel_is_told() -> None:
    result = survey(
        parse_log(made(lambda i: [warm(i, 410), warm(i, 400), warm(i, 395)]), "log.csv"), cylinders=4
    )
    assert result.unmeasured == (4,)
    assert "cylinder 4 is not measured and could be hotter" in result.finding


def test_a_head_far_below_the_rest_is_doubted() -> None:
    result = survey(parse_log(made(lambda i: [warm(i, 410), warm(i, 400), warm(i, 330)]), "log.csv"))
    assert any("cylinder 3 reads at least" in note and "check its probe" in note for note in result.notes)


def test_one_channel_has_nothing_to_be_compared_with() -> None:
    result = survey(parse_log(made(lambda i: [warm(i, 410)]), "log.csv"), cylinders=4)
    assert "only cylinder 1 is measured, so none can be called the hottest" in result.finding


def test_without_outside_air_nothing_is_corrected() -> None:
    result = survey(parse_log(made(lambda i: [warm(i, 410), warm(i, 400)]), "log.csv"))
    assert not result.corrected
    assert any("no usable outside air temperature" in note for note in result.notes)


def test_a_day_above_the_hot_day_takes_nothing_off() -> None:
    # 110 degF at 1000 ft and above is hotter than the hot day's 96.4 degF.
    raw = made(lambda i: [warm(i, 410), warm(i, 400)], more="OAT F,").replace(b",,", b",110,")
    result = survey(parse_log(raw, "log.csv"))
    assert result.corrected
    assert all(head.clamped and head.corrected == head.peak for one in result.phases for head in one.heads)
    assert any("hotter than the hot day" in note for note in result.notes)


def test_phases_by_height_alone() -> None:
    result = survey(parse_log(made(lambda i: [warm(i, 410), warm(i, 400)]), "log.csv"))
    assert [one.name for one in result.phases] == ["ground", "climb", "cruise"]
    # 50 rows level, 70 rows climbing, 80 level; the vertical speed is taken over 60 s.
    for one, rows in zip(result.phases, (50, 70, 80), strict=True):
        assert one.rows == pytest.approx(rows, abs=6)


def test_no_height_means_no_phases_and_says_so() -> None:
    lines = ["s,CHT1 F,CHT2 F"] + [f"{6 * i},{warm(i, 410):.0f},{warm(i, 400):.0f}" for i in range(200)]
    result = survey(parse_log("\n".join(lines).encode(), "log.csv"))
    assert [one.name for one in result.phases] == ["whole log"]
    assert any("neither height nor vertical speed" in note for note in result.notes)


def test_steady_stretches_meet_two_degrees_a_minute() -> None:
    result = survey(parse_log(made(lambda i: [warm(i, 410), warm(i, 400)]), "log.csv"))
    assert any(one.steady for one in result.phases)
    for one in result.phases:
        for stretch in one.steady:
            assert stretch.rate * 60 * 1.8 < 2
            assert stretch.seconds >= 120
    # Warming by 12 degF/min while the climb begins is not steady: 0.04 x 310 x 0.96^50 degF each 6 s is 16
    # degF/min.
    rising = survey(parse_log(made(lambda i: [200 + 1.2 * i, 190 + 1.2 * i]), "log.csv"))
    assert not any(one.steady for one in rising.phases)
    assert any("shown to have settled" in note for note in rising.notes)


def test_arguments_that_cannot_be() -> None:
    log = parse_log(made(lambda i: [warm(i, 410), warm(i, 400)]), "log.csv")
    for arguments, said in (
        ({"limit": float("nan")}, "limit must be a finite"),
        ({"probed": 7, "cylinders": 4}, "no cylinder 7"),
        ({"cylinders": 0}, "no channel of the log"),
        ({"system_error": -1.0}, "system error must be 0"),
        ({"window": -5.0}, "window must be more than 0"),
    ):
        with pytest.raises(ValueError, match=said):
            survey(log, **arguments)  # type: ignore[arg-type]


DEMO_LINES = (DEMO / "climb_survey.csv").read_bytes().split(b"\n")


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.integers(0, 30_000), st.integers(0, 200), st.binary(max_size=30)), max_size=6),
    st.integers(3, 200),
)
def test_a_damaged_log_is_an_error_or_a_survey(edits: list[tuple[int, int, bytes]], keep: int) -> None:
    raw = b"\n".join(DEMO_LINES[: 3 + keep])
    for at, length, instead in edits:
        at %= len(raw)
        raw = raw[:at] + instead + raw[at + length :]
    try:
        log = parse_log(raw, "log.csv", cylinders=4)
    except LogError:
        return
    result = survey(log, cylinders=4, limit=LIMIT, probed=1)
    assert result.finding
    assert all(np.isfinite(head.peak) for one in result.phases for head in one.heads)
