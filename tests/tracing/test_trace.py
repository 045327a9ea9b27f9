"""A trace against what is worked out by hand: open, shorted and bad joints, senders, grounds, and what is excluded."""

from pathlib import Path
from types import SimpleNamespace

import pytest
from bench_document import TWO_WIRE

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.tracing import next_test
from installcheck.tracing.looks import Show
from installcheck.tracing.phrases import observed
from installcheck.tracing.trace import Tracer
from installcheck.tracing.wording import nothing_left_told


@pytest.fixture(scope="module")
def study() -> Study:
    return Study(loads(TWO_WIRE))


def ranked(study: Study, *lines: str):
    return Tracer(study).step([observed(study, line) for line in lines])


def keys(some) -> list[str]:
    return [r.hypothesis.key for r in some]


def test_a_bad_joint_is_told_with_the_ohms_that_explain(study):
    """40 K high at 0.5 ohm/K is 20 ohm more; 95 ohm measured cold where 50 + 0.5 * 20 = 60 ohm should be is 35 ohm."""
    found = ranked(study, "gauge shows 140 degC at cruise where 100 degC is true")
    joint = next(r for r in found.ranking.standing if r.hypothesis.key == "bad joint at E1")
    assert joint.lowest < 20 < joint.highest
    assert joint.best.size == pytest.approx(20, rel=0.1)
    more = ranked(study, "gauge.S to gauge.R measures 95 ohm")
    joint = next(r for r in more.ranking.standing if r.hypothesis.key == "bad joint at E1")
    assert joint.best.size == pytest.approx(35, rel=0.1)


def test_an_open_circuit_is_parted_from_the_rest_and_its_place_found(study):
    found = ranked(study, "gauge is off scale high at cruise")
    assert {"open at E1", "open at E3", "sender open at bulb"} <= set(keys(found.ranking.leading))
    assert "short to ground at E1" in keys(found.ranking.excluded)
    found = ranked(
        study,
        "gauge is off scale high at cruise",
        "plug.1 to plug.2 measures 60 ohm",
        "gauge.R to plug.2 measures 0 ohm with bulb disconnected",
    )
    assert keys(found.ranking.leading)[0] == "open at E3"


def test_what_was_seen_excludes_by_physics_and_says_why(study):
    """A lead on ground has 0 ohm less than a sender: it reads at the low stop, never high."""
    found = ranked(study, "gauge shows 140 degC at cruise where 100 degC is true")
    assert {"open at E1", "breaker open at breaker", "sender open at bulb"} <= set(
        keys(found.ranking.excluded)
    )


def test_a_resistor_in_the_place_of_the_sender_clears_the_gauge(study):
    """100 ohm reads 100 degC at this gauge: what is right with it is not the gauge."""
    found = ranked(
        study,
        "gauge shows 140 degC at cruise where 100 degC is true",
        "gauge shows 100 degC at engine stopped with gauge.S lifted with gauge.S joined to gauge.R through 100 ohm",
    )
    drifted = next(r for r in found.ranking.all if r.hypothesis.key == "gauge drifted at gauge")
    assert drifted.excluded


def test_a_dead_gauge_points_to_its_feed(study):
    """A breaker that is open, or that a short behind it holds open, has its bus on one side and nothing on the other."""
    found = ranked(study, "gauge is dead at cruise", "gauge.power to airframe measures 0 V")
    assert set(keys(found.ranking.leading)) <= {
        "breaker open at breaker", "open at P1", "open at P2", "open at P4", "short to ground at P2", "dead supply at battery", "lost ground at airframe",
    }  # fmt: skip
    found = ranked(
        study, "gauge is dead at cruise", "gauge.power to airframe measures 0 V", "breaker.in to airframe measures 12 V",
        "breaker.out to airframe measures 0 V",
    )  # fmt: skip
    assert set(keys(found.ranking.leading)) == {"breaker open at breaker", "short to ground at P2"}


def test_a_sender_known_to_be_sound_parts_sender_from_wiring(study):
    """The reading stays with the wiring: the sender that was taken off is sound."""
    found = ranked(
        study, "gauge shows 140 degC at cruise where 100 degC is true",
        "gauge shows 140 degC at cruise with another bulb where 100 degC is true",
    )  # fmt: skip
    assert "sender drifted at bulb" in keys(found.ranking.excluded)
    assert "bad joint at E1" in keys(found.ranking.standing)


def test_two_faults_are_told_as_not_explained_by_one(study):
    """A gauge that reads 30 K off with a known resistor, and a loop that is open cold: no single fault does both."""
    found = ranked(
        study,
        "gauge shows 130 degC at engine stopped with gauge.S lifted with gauge.S joined to gauge.R through 100 ohm",
        "gauge.S to gauge.R measures open",
    )
    assert not found.explained
    assert found.pairs is not None
    assert found.pairs.standing


def test_the_reading_may_be_true(study):
    found = ranked(
        study, "gauge shows 140 degC at cruise", "test instrument at bulb shows 139 degC at cruise"
    )
    assert keys(found.ranking.leading) == ["true reading at bulb"]


def test_the_next_test_has_its_hazards_and_what_to_expect(study):
    found = ranked(study, "gauge is off scale high at cruise")
    best = found.tests[0]
    assert best.bits > 0.3
    assert best.outcomes[0].under
    ohms = [c for c in found.tests if "ohms" in c.test.words]
    assert ohms
    assert all("power off" in c.test.hazards[0] or "propeller" in c.test.hazards[0] for c in ohms)


def test_no_noise_is_picked_up_where_no_wire_leads():
    found = ranked(Study(load("tests/tracing/reports/lines.yaml")), "oil pressure gauge is jumping at cruise")
    assert found.ranking.all
    assert not [k for k in keys(found.ranking.all) if k.startswith("noise")]


def test_a_pointer_that_jumps_may_be_a_joint_that_makes_and_breaks(study):
    found = ranked(study, "gauge is jumping at cruise")
    assert {"loose joint at E1", "loose joint at E4", "noise picked up at gauge"} <= set(
        keys(found.ranking.leading)
    )


def test_a_dead_alternator_and_one_regulated_too_low_are_both_named_where_no_test_parts_them():
    """While the battery holds the bus at 11.9 V, an alternator that gives nothing and one held at 11 V give both no ampere."""
    study = Study(load("tests/harm/right/finch.yaml"))
    told = [
        "ammeter shows 0 A at cruise",
        "main bus to airframe measures 11.87 V at cruise",
        "alternator.+ to alternator.- measures 11.8 V at cruise",
        "insulation of ammeter is right",
    ]
    found = Tracer(study).step([observed(study, line) for line in told])
    first = {(r.hypothesis.kind, r.hypothesis.at) for r in found.ranking.leading}
    assert first == {("dead supply", ("alternator",)), ("low supply", ("alternator",))}
    assert not found.tests
    words = nothing_left_told(found)
    assert "alternator gives nothing" in words
    assert "alternator does not hold its voltage" in words
    assert "field terminal" in words


def test_a_test_is_first_looked_at_by_hypotheses_as_unlike_as_there_are():
    """Where all are of one kind, that one alone could tell nothing apart."""

    def kinds(told: str) -> str:
        leading = [SimpleNamespace(hypothesis=SimpleNamespace(kind=kind)) for kind in told]
        return "".join(one.hypothesis.kind for one in next_test._unlike(leading))  # type: ignore[arg-type]

    assert kinds("aaabcab") == "abcaaa"
    assert kinds("aaaaaaaa") == "aaaaaa"
    assert kinds("abcdefgh") == "abcdef"


REPORTS = Path(__file__).parent / "reports"


def test_a_look_again_with_a_load_switched_is_no_news_of_what_no_load_moves():
    """Only what a load moves would show anything but what was seen: 0.02 bits are left, where a second look by chance had 0.9."""
    study = Study(load(REPORTS / "oil.yaml"))
    found = ranked(study, "oil temperature gauge is off scale high with engine off")
    assert found.tests
    looks = [c for c in found.tests if isinstance(c.test.look, Show)]
    assert [c for c in looks if c.test.at.loads and c.bits > 0.1] == []
    moved = ranked(study, "oil temperature gauge shows 185 degF at cruise where 200 degF is true")
    assert (
        "switch landing light" in moved.tests[0].test.words
    )  # a bad ground is parted from the rest by what shares it
    assert moved.tests[0].test.words.endswith("at 'cruise'")


def test_no_load_is_switched_in_a_state_nobody_looked_at():
    study = Study(load(REPORTS / "monitor.yaml"))
    warmed = ("monitor CHT 1 stays still with head 1 warmed", "monitor CHT 1 moves with head 2 warmed")
    found = ranked(study, *warmed)
    assert found.tests
    assert not [c for c in found.tests if isinstance(c.test.look, Show) and c.test.at.loads]
