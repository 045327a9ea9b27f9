"""The probe on the hottest cylinder: values by hand from the stages, tolerance of new type K wire by ASTM E230."""

import pytest

from installcheck import check
from installcheck.document import load

ENGINE = """
aircraft: {{basis: CAR 3}}
zones: {{engine: {{}}}}
engines:
  engine: {{cylinders: {cylinders}, layout: opposed, numbered_from: propeller end{more},
    limits: {{head temperature: {{maximum: 460 degF}}}}}}
"""
PROBES = "probes:\n"
PROBE = "  head {n}: {{kind: bayonet, measures: head temperature, cylinder: {n}, zone: engine}}\n"
# Reference example, already on the hot day: climb 430, 446, 438, 441; cruise 389, 380, 402, 384. 100 degF at sea level is
# the hot day itself, so nothing is added.
STAGES = """
survey:
  climbs:
    probe_grade: standard
    thermocouple: K
    stages:
      climb: {temperatures: {1: 430 degF, 2: 446 degF, 3: 438 degF, 4: 441 degF}, outside_air: 100 degF, altitude: 0 ft}
      cruise: {temperatures: {1: 389 degF, 2: 380 degF, 3: 402 degF, 4: 384 degF}, outside_air: 100 degF, altitude: 0 ft}
"""


def document(probed: int, survey: str = STAGES, *, cylinders: int = 4, more: str = "") -> str:
    return ENGINE.format(cylinders=cylinders, more=more) + PROBES + PROBE.format(n=probed) + survey


@pytest.fixture
def on_hottest(judged):
    def run(text):
        [verdict] = judged(text, "head-probe-on-hottest")
        return verdict

    return run


def test_probe_16_degrees_below_the_hottest(on_hottest):
    verdict = on_hottest(document(1))
    assert verdict.outcome == "discrepancy"
    # climb has 460 - 446 = 14 degF left, cruise 58; in the climb 446 - 430 = 16 degF, beyond 2 x 2.2 degC = 7.92 degF
    assert (verdict.value, verdict.limit, verdict.margin) == (pytest.approx(16), 0, pytest.approx(-16))
    assert verdict.unit == "degF"
    assert "14 degF left" in verdict.message
    assert "7.92 degF" in verdict.message
    # 460 - 16
    assert "with that head at 460 degF the gauge shows 444 degF" in verdict.message
    assert verdict.remedy.startswith("move the probe to cylinder 2")
    assert verdict.path == ("probes", "head 1", "cylinder")


def test_hottest_by_more_than_two_probes(on_hottest):
    # 446 against 431: 15 degF
    stages = STAGES.replace("438", "431").replace("441", "431")
    verdict = on_hottest(document(2, stages))
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(-15)
    assert verdict.margin == pytest.approx(15)


def test_lead_within_two_probes_is_not_a_certainty(on_hottest):
    verdict = on_hottest(document(2))
    # 446 - 441 = 5 degF, less than 7.92; 438 lies 8 degF below, so 3 is excluded
    assert verdict.outcome == "advisory"
    assert verdict.value == pytest.approx(-5)
    assert "cylinder 4 cannot be excluded" in verdict.message
    assert "swap the survey probes between cylinder 2 and 4" in verdict.remedy
    assert "7.92 degF less margin" in verdict.remedy


def test_special_grade_probes_make_it_sure(on_hottest):
    # 2 x 1.1 degC = 3.96 degF, less than the lead of 5
    verdict = on_hottest(document(2, STAGES.replace("standard", "special")))
    assert verdict.outcome == "meets"


def test_reads_low_but_within_the_probes(on_hottest):
    verdict = on_hottest(document(4))
    assert verdict.outcome == "advisory"
    assert verdict.value == pytest.approx(5)
    # two probes and the 5 degF seen: 7.92 + 5
    assert "12.9 degF less margin" in verdict.remedy


def test_tie_is_said_to_be_one(on_hottest):
    verdict = on_hottest(document(2, STAGES.replace("441", "446")))
    assert verdict.outcome == "advisory"
    assert "ties with cylinder 4" in verdict.message
    assert verdict.value == 0


def test_hot_day_can_choose_the_stage(on_hottest):
    # Cruise at 9000 ft and 27.6 degF: the hot day there has 100 - 32.4 = 67.6 degF, 40 more, so 402 becomes 442. Climb at
    # 120 degF at sea level is hotter than the hot day; nothing is taken off.
    stages = STAGES.replace(
        "4: 384 degF}, outside_air: 100 degF, altitude: 0 ft",
        "4: 384 degF}, outside_air: 27.6 degF, altitude: 9000 ft",
    )
    stages = stages.replace("446", "432").replace("441", "431").replace("438", "431")
    verdict = on_hottest(document(2, stages))
    assert verdict.outcome == "discrepancy"
    assert "stage 'cruise', 18 degF left" in verdict.message
    assert verdict.value == pytest.approx(402 - 380)


def test_stages_that_cannot_be_compared(on_hottest):
    verdict = on_hottest(
        document(
            2,
            STAGES.replace(", outside_air: 100 degF, altitude: 0 ft", "")
            .replace("441", "431")
            .replace("438", "431"),
        )
    )
    assert verdict.outcome == "undetermined"
    assert verdict.missing == ("outside air temperature and altitude of each survey stage",)


def test_no_survey_is_undetermined(on_hottest):
    verdict = on_hottest(document(2, ""))
    assert verdict.outcome == "undetermined"


def test_a_cylinder_not_measured_could_be_hotter(on_hottest):
    verdict = on_hottest(document(2, STAGES.replace(", 4: 441 degF", "").replace("438", "431")))
    assert verdict.outcome == "undetermined"
    assert "cylinder 4 is not measured" in verdict.message


def test_the_papers_name_the_cylinder(on_hottest):
    named = ", hottest_cylinder: 3, hottest_source: engine manual 2-9"
    assert on_hottest(document(3, "", more=named)).outcome == "meets"
    verdict = on_hottest(document(1, "", more=named))
    assert verdict.outcome == "discrepancy"
    assert verdict.remedy == "move the probe to cylinder 3"
    # of four numbered from the propeller, 1 is the seat that is 3 from the accessories
    assert "number 1 counted from the propeller end is number 3 counted from the other end" in verdict.message


def test_papers_and_survey_disagree_and_both_are_told(on_hottest):
    named = ", hottest_cylinder: 1, hottest_source: engine manual 2-9"
    verdict = on_hottest(document(2, STAGES.replace("441", "431").replace("438", "431"), more=named))
    assert verdict.outcome == "advisory"
    assert "engine manual 2-9 names cylinder 1" in verdict.message
    assert "survey 'climbs' finds 2" in verdict.message
    assert on_hottest(document(1, more=named)).outcome == "discrepancy"


def test_number_from_the_other_end(on_hottest):
    # survey: 2 hottest by 8; a probe 'on 4' of the accessory-end papers sits on 2 of the propeller-end ones
    verdict = on_hottest(document(4, STAGES.replace("441", "430")))
    assert verdict.outcome == "discrepancy"
    assert "number 4 counted from the propeller end is number 2 counted from the other end" in verdict.message


def test_survey_that_counts_from_the_other_end(on_hottest):
    stages = STAGES.replace("probe_grade", "numbered_from: accessory end\n    probe_grade").replace(
        "441", "430"
    )
    # its 2 is 4 of the engine
    verdict = on_hottest(document(1, stages))
    assert verdict.remedy.startswith("move the probe to cylinder 4")


def test_another_stage_can_pass_its_limit_unseen(on_hottest):
    # the climb governs, 460 - 452 = 8 degF left, with 2 hottest by 22
    stages = """
survey:
  climbs:
    probe_grade: standard
    stages:
      climb: {temperatures: {1: 430 degF, 2: 452 degF, 3: 430 degF, 4: 430 degF}, outside_air: 100 degF, altitude: 0 ft}
      cruise: {temperatures: {1: 430 degF, 2: 430 degF, 3: 450 degF, 4: 430 degF}, outside_air: 100 degF, altitude: 0 ft}
"""
    verdict = on_hottest(document(2, stages))
    assert verdict.outcome == "advisory"
    # in cruise 450 - 430 = 20 below, 460 - 450 = 10 left
    assert "in the stage 'cruise' it reads 20 degF below cylinder 3, with 10 degF left" in verdict.message


def test_all_cylinders_shown(judged):
    text = (
        ENGINE.format(cylinders=4, more="")
        + PROBES
        + "".join(PROBE.format(n=n) for n in (1, 2, 3, 4))
        + STAGES
    )
    # probes that nothing reads are judged one by one
    outcomes = [v.outcome for v in judged(text, "head-probe-on-hottest")]
    assert outcomes == ["discrepancy", "advisory", "discrepancy", "advisory"]
    read = "indicators:\n  gauge: {principle: electronic thermocouple, measures: head temperature, inputs: {"
    read += ", ".join(f"C{n}: {{terminals: ['{n} +', '{n} -']}}" for n in (1, 2, 3, 4)) + "}}\nwire_runs:\n"
    for n in (1, 2, 3, 4):
        read += f"  P{n}: {{from: 'head {n}.+', to: 'gauge.{n} +'}}\n  N{n}: {{from: 'head {n}.-', to: 'gauge.{n} -'}}\n"
    [verdict] = judged(text + read, "head-probe-on-hottest")
    assert verdict.outcome == "meets"


def test_a_mean_hides_the_hottest(judged):
    text = ENGINE.format(cylinders=4, more="") + PROBES + PROBE.format(n=1) + PROBE.format(n=2) + STAGES
    text += """
indicators: {gauge: {principle: electronic thermocouple, measures: head temperature, terminals: ['+', '-']}}
wire_runs:
  A: {from: 'head 1.+', to: 'gauge.+'}
  B: {from: 'head 1.-', to: 'gauge.-'}
  C: {from: 'head 2.+', to: 'gauge.+'}
  D: {from: 'head 2.-', to: 'gauge.-'}
"""
    [verdict] = judged(text, "head-probe-on-hottest")
    # 446 - (430 + 446)/2 = 8 degF, just beyond 7.92
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(8)


def test_extra_probes_are_not_judged_where_one_is_required(judged):
    text = document(2) + STAGES.replace("survey:\n", "").replace("climbs", "again")
    extra = PROBE.format(n=1).replace("zone", "required: no, zone")
    text = text.replace(PROBE.format(n=2), PROBE.format(n=2) + extra)
    [verdict] = judged(text, "head-probe-on-hottest")
    assert verdict.at[0] == "head 2"


LOG = "Time,OAT (F),Press Alt (ft),IAS (kt),RPM," + ",".join(f"CHT{n} (F)" for n in range(1, 5)) + "\n"


def log_file(folder, heads):
    """A climb at 500 ft/min of 20 minutes with heads that rise together to their places."""
    rows = [LOG]
    for i in range(200):
        t = 6 * i
        rise = min(1.0, i / 150)
        cells = [f"{h - 100 * (1 - rise):.0f}" for h in heads]
        rows.append(
            f"{t // 3600:02d}:{t // 60 % 60:02d}:{t % 60:02d},60,{1000 + 50 * i},85,2500,{','.join(cells)}\n"
        )
    (folder / "climb.csv").write_text("".join(rows))


def with_log(folder, name="climb.csv"):
    text = "installation: {name: t}\n" + document(
        1, f"\nsurvey: {{flown: {{log: {name}, probe_grade: standard, thermocouple: K}}}}\n"
    )
    (folder / "plane.yaml").write_text(text)
    return check(load(folder / "plane.yaml"), ["head-probe-on-hottest", "head-survey"]).verdicts


def test_log_names_the_hottest(tmp_path):
    log_file(tmp_path, (400, 420, 410, 405))
    placed, read = with_log(tmp_path)
    assert read.outcome == "meets"
    assert placed.outcome == "discrepancy"
    # 420 - 400, whatever is added to both; heads peak within seconds of one another at one height
    assert placed.value == pytest.approx(20, abs=0.1)
    assert placed.remedy.startswith("move the probe to cylinder 2")


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("gone.csv", "cannot be opened"),
        ("../climb.csv", "outside the folder"),
        ("/etc/passwd", "outside the folder"),
        ("broken.csv", "broken.csv"),
        ("'.'", "not a file"),
    ],
)
def test_log_that_cannot_be_used(tmp_path, name, told):
    (tmp_path / "broken.csv").write_bytes(b"\x00\xff\n1,2\n")
    placed, read = with_log(tmp_path, name)
    assert read.outcome == "undetermined"
    assert told in read.message
    assert str(tmp_path) not in read.message
    assert read.path == ("survey", "flown", "log")
    assert placed.outcome == "undetermined"


def test_a_link_out_of_the_folder_is_not_followed(tmp_path):
    inside = tmp_path / "inside"
    inside.mkdir()
    log_file(tmp_path, (400, 420, 410, 405))
    (inside / "climb.csv").symlink_to(tmp_path / "climb.csv")
    _, read = with_log(inside)
    assert "outside the folder" in read.message


def test_channels_without_probes_are_left_out(tmp_path):
    log_file(tmp_path, (400, 420, 410, 405))
    text = "installation: {name: t}\n" + document(
        1, "\nsurvey: {flown: {log: climb.csv, probe_grade: standard, unconnected: [CHT2 (F)]}}\n"
    )
    (tmp_path / "plane.yaml").write_text(text)
    placed, read = check(load(tmp_path / "plane.yaml"), ["head-probe-on-hottest", "head-survey"]).verdicts
    assert read.outcome == "undetermined"
    assert "does not measure cylinder 2" in read.message
    # 410 - 400: beyond 7.92, so what is not measured cannot make it right
    assert placed.outcome == "discrepancy"
    assert placed.value == pytest.approx(10, abs=0.1)
