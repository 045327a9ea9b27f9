"""What is said to be unknown takes back what rests on it, and nothing else."""

import pytest
from installations import demo, read

from installcheck import check
from installcheck.analysis.statements.could_be import COULD_BE
from installcheck.analysis.statements.unsaid import unsaid
from installcheck.document import loads
from installcheck.model.kinds import KINDS
from installcheck.model.quantities import parse


def judged(name, *paths):
    plain = demo(name)
    for path in paths:
        node = plain
        for step in path[:-1]:
            node = node[step]
        node[path[-1]] = "unknown"
    return check(read(plain))


def outcomes(ledger):
    return {(v.rule, v.at[0], v.path): v for v in ledger.verdicts if v.at}


@pytest.mark.parametrize(
    ("path", "rule", "at"),
    [
        (("supplies", "battery", "voltage"), "indication-within-budget", "oil temperature gauge"),
        (("supplies", "battery", "inner_resistance"), "indication-within-budget", "oil temperature gauge"),
        (("loads", "starter", "current"), "indication-within-budget", "oil pressure gauge"),
        (("grounds", "engine strap", "resistance"), "ground-shared", "oil temperature gauge"),
    ],
)
def test_one_unknown_figure_opens_what_others_rest_on_it(path, rule, at):
    told = [v for v in judged("poor_ground_cured", path).verdicts if (v.rule, v.at[0]) == (rule, at)]
    assert told
    assert all(v.outcome == "undetermined" and v.missing for v in told)


def test_what_does_not_rest_on_it_stands():
    before, after = (
        outcomes(judged("poor_ground_cured")),
        outcomes(judged("poor_ground_cured", ("supplies", "battery", "voltage"))),
    )
    marked = [key for key, v in before.items() if key[0] == "run-marked"]
    assert marked
    assert all(after[key].outcome == before[key].outcome for key in marked)


def test_the_unknown_word_is_named_in_the_words_of_the_catalogue():
    ledger = judged("poor_ground_cured", ("supplies", "battery", "voltage"))
    [verdict] = [v for v in ledger.verdicts if v.rule == "ground-shared" and v.at[0] == "oil pressure gauge"]
    assert "'voltage' of battery is unknown" in verdict.message
    assert (verdict.value, verdict.margin, verdict.unit) == (None, None, "")


LAMP = """
installation: {name: lamp, scope: part}
aircraft: {system_voltage: 14 V, ceiling: 10000 ft}
zones: {cabin: {occupied: yes, temperature: {lowest: 0 degC, highest: 40 degC}}}
loads: {lamp: {min_voltage: 12 V, current: 1 A, zone: cabin, connected_at: bus}}
supplies:
  bus: {kind: bus, zone: cabin}
  battery: {kind: battery, voltage: 12.6 V, capacity: 24 Ah, zone: cabin, inner_resistance: 10 milliohm}
grounds: {airframe: {kind: structure, zone: cabin}}
wire_runs:
  P1: {from: battery.+, to: bus, part: AS22759/16, gauge: 10 AWG, length: 1 ft}
  P2: {from: battery.-, to: airframe, part: AS22759/16, gauge: 10 AWG, length: 1 ft}
"""


def test_nothing_is_asked_again_of_a_document_without_unknown_words():
    assert unsaid(loads(LAMP)) == ()


def test_words_for_people_and_what_is_removed_may_be_unknown():
    text = LAMP.replace("lamp: {min", "old: {status: removed, current: unknown}, lamp: {title: unknown, min")
    assert unsaid(loads(text)) == ()


def test_a_range_with_one_end_unknown_takes_both_ends_anew():
    [word] = unsaid(loads(LAMP.replace("highest: 40 degC", "highest: unknown")))
    assert (word.ident, word.field) == ("cabin", "temperature.highest")


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_quantity_could_be_little_and_much(kind):
    values = [parse(text, kind) for text in COULD_BE[kind]]
    assert values == sorted(values)
    assert values[0] < values[-1]


def test_what_is_usually_unknown_is_unknown_of_each_thing():
    text = LAMP.replace("wire_runs:", "usual: {wire_runs: {slack: unknown}}\nwire_runs:")
    assert [w.path for w in unsaid(loads(text))] == [
        ("wire_runs", "P1", "slack"),
        ("wire_runs", "P2", "slack"),
    ]


def test_a_source_that_does_not_say_its_voltage_is_as_one_of_unknown_voltage():
    [word] = unsaid(loads(LAMP.replace("voltage: 12.6 V, ", "")))
    assert word.path == ("supplies", "battery", "voltage")


def test_unknown_loads_could_be_none_or_all():
    text = LAMP + "operating_points: {cruise: {loads_on: unknown}}\n"
    [word] = unsaid(loads(text))
    assert word.could_be == ([], ["lamp"])


def test_an_unknown_voltage_accuses_no_gauge_that_the_right_one_would_clear():
    # Without the alternator the battery feeds the bridge, which follows its supply: 13.4 degF low of 14 at 12.6 V, 1 at 14 V.
    ledger = judged("retrofit_corrected", ("supplies", "alternator", "voltage"))
    assert not [v for v in ledger.verdicts if v.outcome == "discrepancy"]


CERTAIN = """
installation: {name: test}
aircraft: {system_voltage: 14 V}
supplies: {battery: {kind: battery, voltage: 12 V}, breaker: {kind: breaker, rating: RATING}}
grounds: {airframe: {kind: structure}}
loads: {lamp: {current: CURRENT}}
wire_runs:
  B1: {from: battery.+, to: breaker.in, gauge: 8 AWG, part: AS22759/16, length: 3 in}
  B2: {from: battery.-, to: airframe, gauge: 8 AWG, part: AS22759/16, length: 1 ft}
  L1: {from: breaker.out, to: lamp.+, gauge: 22 AWG, part: AS22759/16, length: 3 ft}
  L2: {from: lamp.-, to: airframe, gauge: 22 AWG, part: AS22759/16, length: 1 ft}
"""


@pytest.mark.parametrize(
    ("current", "rating", "rule", "outcome"),
    [
        ("unknown", "50 A", "wire-protected", "discrepancy"),  # whatever the lamp draws, 22 AWG bears 5 A
        ("6 A", "5 A", "protector-above-load", "discrepancy"),
        ("unknown", "5 A", "protector-above-load", "undetermined"),
    ],
)
def test_a_certain_failure_stands(current, rating, rule, outcome):
    ledger = check(loads(CERTAIN.replace("CURRENT", current).replace("RATING", rating)))
    told = {v.outcome for v in ledger.verdicts if v.rule == rule and v.at[0] in ("L1", "breaker")}
    assert told == {outcome}


def test_of_several_unknown_words_those_are_named_that_bear_on_it():
    ledger = judged(
        "poor_ground_cured",
        ("supplies", "battery", "voltage"),
        ("loads", "starter", "current"),
        ("wire_runs", "P2", "marked"),
        ("wire_runs", "E1", "marked"),
    )
    told = outcomes(ledger)
    shared = [
        v for (rule, at, _), v in told.items() if rule == "ground-shared" and at == "oil pressure gauge"
    ]
    asked = {str(m) for v in shared for m in v.missing}
    assert asked
    assert not any("mark" in words for words in asked)


WIRES = """
bundles: {harness: {wires: unknown, marked: unknown, support_spacing: unknown, clearances: unknown}}
senders: {bulb: {terminals: [A, B]}}
indicators: {gauge: {principle: bridge, terminals: [A, B]}}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, bundle: harness, zone: engine, metal: copper, gauge: 22 AWG}
  W2: {from: bulb.B, to: gauge.B, bundle: harness, zone: engine, metal: copper, gauge: 22 AWG}
"""


def test_a_count_that_could_be_too_small_is_asked_for_alone():
    text = WIRES.replace(", zone: engine", ", route: [{zone: engine, length: 3 ft}]")
    verdicts = check(
        loads("installation: {name: test}\nzones: {engine: {}}\n" + text), ["bundle-agrees"]
    ).verdicts
    [verdict] = [v for v in verdicts if v.at[0] == "harness"]
    assert verdict.outcome == "undetermined"
    assert "'wires' of harness" in verdict.message
    assert "marked" not in verdict.message
    assert "support_spacing" not in verdict.message


TOGETHER = """
installation: {name: test}
zones: {engine: {fire_zone: yes}}
taps: {gallery: {medium: oil, zone: engine, location: gallery, pressure: PRESSURE, temperature: TEMPERATURE}}
fittings: {restrictor: {kind: restrictor, ports: [in, out], bore: 0.040 in, screwed_into: gallery, zone: engine}}
senders:
  sender: {principle: switch, measures: oil pressure, terminals: [S], ports: [P], zone: engine}
  bulb: {principle: resistance bulb, measures: oil temperature, terminals: [A, B], zone: engine, immersed: unknown}
fluid_lines:
  hose: {from: restrictor.out, to: sender.P, kind: hose, bore: 0.18 in, route: [{zone: engine, length: 2 ft}], slack: unknown}
"""


@pytest.mark.parametrize(
    ("pressure", "temperature", "wanted"),
    [
        ("unknown", "unknown", {"pressure at the tap", "temperature of the fluid at the tap"}),
        ("60 psi", "unknown", {"temperature of the fluid at the tap"}),
        ("60 psi", "200 degF", set()),
    ],
)
def test_words_that_bear_only_together_are_asked_for_without_the_others(pressure, temperature, wanted):
    """The leak of a broken hose takes the pressure and how thin the oil is: one of them alone tells nothing."""
    text = TOGETHER.replace("PRESSURE", pressure).replace("TEMPERATURE", temperature)
    [verdict] = check(loads(text), ["restrictor-at-source"]).verdicts
    assert set(verdict.missing) == wanted
