"""Each document is small enough to see by eye what a lost part takes with it."""

import pytest

PANEL = """
aircraft: {{basis: CAR 3, operation: [VFR day]}}
engines: {{e: {{cooling: air, pressure_oil: yes, cowl_flaps: no, cooled_above_climb_speed: no, altitude_engine: no}}}}
zones: {{cabin: {{}}}}
supplies:
  battery: {{kind: battery, voltage: 12.6 V, zone: cabin}}
  alternator: {{kind: alternator, zone: cabin}}
  bus: {{kind: bus, zone: cabin}}
  one: {{kind: breaker, rating: 5 A, zone: cabin}}
  two: {{kind: breaker, rating: 5 A, zone: cabin}}
loads: {{lamp: {{current: 1 A, zone: cabin}}}}
grounds:
  frame: {{kind: structure}}
  stud: {{kind: stud, joins: frame}}
  other stud: {{kind: stud, joins: frame}}
bundles: {{loom: {{}}}}
senders:
  s1: {{principle: resistive, measures: oil pressure, terminals: [A, B], zone: cabin}}
  s2: {{principle: resistive, measures: {second}, terminals: [A, B], zone: cabin}}
indicators:
  gauge: {{principle: ratio meter, measures: oil pressure, terminals: [A, B], supply_terminals: [power, ground], zone: cabin, required: yes}}
  spare: {{principle: ratio meter, measures: {second}, terminals: [A, B], supply_terminals: [power, ground], zone: cabin{more}}}
wire_runs:
  S0: {{from: battery.+, to: bus}}
  S8: {{from: alternator.+, to: bus}}
  S1: {{from: bus, to: one.in}}
  S2: {{from: bus, to: two.in}}
  G1: {{from: one.out, to: gauge.power}}
  G2: {{from: {feed}.out, to: spare.power}}
  L1: {{from: one.out, to: lamp.+}}
  R1: {{from: gauge.ground, to: stud}}
  R2: {{from: spare.ground, to: {ground}}}
  A1: {{from: s1.A, to: gauge.A, bundle: loom}}
  B1: {{from: s1.B, to: gauge.B, bundle: loom}}
  A2: {{from: s2.A, to: spare.A{bundle}}}
  B2: {{from: s2.B, to: spare.B{bundle}}}
"""
BACKS = ", backs_up: gauge"


def panel(*, feed="two", ground="other stud", bundle="", second="oil pressure", more=BACKS):
    return PANEL.format(feed=feed, ground=ground, bundle=bundle, second=second, more=more)


@pytest.fixture
def backup(judged):
    def run(text):
        [verdict] = judged(text, "backup-independent")
        return verdict

    return run


def test_backup_of_its_own(backup):
    verdict = backup(panel())
    assert verdict.outcome == "meets"
    assert (verdict.value, verdict.limit) == (0, 0)


@pytest.mark.parametrize(
    ("shared", "told"),
    [
        ({"feed": "one"}, "breaker 'one'"),
        ({"ground": "stud"}, "ground 'stud'"),
        ({"bundle": ", bundle: loom"}, "harness 'loom'"),
    ],
)
def test_backup_that_shares(backup, shared, told):
    verdict = backup(panel(**shared))
    assert verdict.outcome == "discrepancy"
    assert told in verdict.message
    assert "oil pressure: spare is no backup of gauge" in verdict.message
    assert verdict.path == ("indicators", "spare", "backs_up")


def test_backup_on_the_same_sender(backup):
    text = panel().replace("from: s2.A", "from: s1.A").replace("from: s2.B", "from: s1.B")
    verdict = backup(text)
    assert "sender 's1'" in verdict.message
    # one thing only is shared
    assert (verdict.value, verdict.margin) == (1, -1)


def test_two_ways_to_a_source_are_no_single_part(backup):
    # both gauges hang on one bus, which is fed by battery and alternator; a fuse in one way takes out neither
    text = panel().replace(
        "S0: {from: battery.+, to: bus}",
        "S0: {from: battery.+, to: fuse.in}\n  S9: {from: fuse.out, to: bus}",
    )
    text = text.replace("supplies:\n", "supplies:\n  fuse: {kind: fuse, rating: 30 A, zone: cabin}\n")
    assert backup(text).outcome == "meets"
    alone = text.replace("  S8: {from: alternator.+, to: bus}\n", "")
    assert "fuse 'fuse'" in backup(alone).message


def test_doubled_ground_straps(backup):
    # both gauges ground at one stud, joined to the frame by two straps: the stud is shared, neither strap is
    text = panel(ground="stud").replace(
        "  stud: {kind: stud, joins: frame}",
        "  stud: {kind: stud}\n  left strap: {kind: strap, from: stud, to: frame}\n  right strap: {kind: strap, from: stud, to: frame}",
    )
    verdict = backup(text)
    assert "ground 'stud'" in verdict.message
    assert "strap" not in verdict.message


def test_backup_of_nothing(backup):
    verdict = backup(panel(second="fuel quantity"))
    assert "shows nothing that gauge shows" in verdict.message


LINES = """
engines: {e: {}}
zones: {cabin: {}}
taps: {gallery: {medium: oil, engine: e}, port: {medium: oil, engine: e}}
fittings: {tee: {kind: tee, terminals: [in, a, b], screwed_into: gallery, zone: cabin}}
indicators:
  gauge: {principle: direct pressure, measures: oil pressure, ports: [P], zone: cabin}
  spare: {principle: direct pressure, measures: oil pressure, ports: [P], zone: cabin, backs_up: gauge}
fluid_lines:
  one: {kind: tube, from: tee.a, to: gauge.P}
  two: {kind: tube, from: tee.b, to: spare.P}
"""


def test_one_tap_for_both(backup):
    verdict = backup(LINES)
    assert verdict.outcome == "discrepancy"
    # the tap, both lines and the tee
    assert verdict.value == 4
    assert "tap 'gallery'" in verdict.message
    assert backup(LINES.replace("from: tee.b", "from: port")).outcome == "meets"


def test_plug_and_receptacle_are_one_part(backup):
    text = panel().replace(
        "bundles:",
        "junctions:\n  plug: {kind: plug, terminals: [a, b], mates: socket, zone: cabin}\n  socket: {kind: plug, terminals: [a, b], zone: cabin}\nbundles:",
    )
    text = text.replace(
        "G1: {from: one.out, to: gauge.power}",
        "G1: {from: one.out, to: plug.a}\n  G3: {from: socket.a, to: gauge.power}",
    )
    text = text.replace(
        "G2: {from: two.out, to: spare.power}",
        "G2: {from: two.out, to: plug.b}\n  G4: {from: socket.b, to: spare.power}",
    )
    verdict = backup(text)
    assert verdict.outcome == "discrepancy"
    assert verdict.value == 1
    assert "plug 'plug'" in verdict.message


def test_all_a_breaker_takes_out(judged):
    told = {v.at[0]: v for v in judged(panel(), "protector-takes-out")}
    assert "takes out gauge and lamp" in told["one"].message
    assert "takes out spare" in told["two"].message
    both = {v.at[0]: v for v in judged(panel(feed="one", more=", required: no"), "protector-takes-out")}
    assert both["one"].outcome == "advisory"
    assert "every reading of oil pressure" in both["one"].message


def test_breaker_that_takes_all_required(judged):
    text = panel(feed="one", second="oil temperature", more=", required: yes")
    told = {v.at[0]: v for v in judged(text, "protector-takes-out")}
    assert told["one"].outcome == "advisory"
    assert "every required indication of engine e" in told["one"].message
    # 2 of 2 lost, at most 1 should be
    assert (told["one"].value, told["one"].limit, told["one"].margin) == (2, 1, -1)
    assert told["two"].outcome == "meets"
    assert "nothing by itself" in told["two"].message


def test_shared_ground_and_loom(judged):
    text = panel(ground="stud", bundle=", bundle: loom", second="oil temperature", more=", required: yes")
    told = {v.at[0]: v.outcome for v in judged(text, "single-part-takes-out")}
    assert told == {"stud": "advisory", "loom": "advisory"}
    # with a third required indication elsewhere they do not take all
    third = text.replace(
        "indicators:\n",
        "indicators:\n  tach: {principle: direct pressure, measures: engine speed, zone: cabin, required: yes}\n",
    )
    told = {v.at[0]: v.outcome for v in judged(third, "single-part-takes-out")}
    assert told == {"stud": "meets", "loom": "meets"}


def test_one_box_for_all(judged):
    text = """
aircraft: {basis: CAR 3, operation: [VFR day]}
engines: {e: {cooling: air, pressure_oil: yes, cowl_flaps: no, cooled_above_climb_speed: no, altitude_engine: no}}
zones: {cabin: {}}
indicators: {monitor: {principle: voltage, zone: cabin, inputs: {
  OP: {measures: oil pressure}, OT: {measures: oil temperature}, RPM: {measures: engine speed}}}}
"""
    [verdict] = judged(text, "single-part-takes-out")
    assert verdict.outcome == "advisory"
    assert "indicator 'monitor' takes out monitor OP, monitor OT and monitor RPM" in verdict.message


def test_both_engines_on_one_part(judged):
    text = """
aircraft: {basis: CAR 3, operation: [VFR day]}
engines: {left: {pressure_oil: yes}, right: {pressure_oil: yes}}
zones: {cabin: {}}
supplies: {bus: {kind: bus, zone: cabin}, breaker: {kind: breaker, rating: 5 A, zone: cabin}}
indicators:
  a: {principle: voltage, measures: oil pressure, engine: left, supply_terminals: [p, g], zone: cabin}
  b: {principle: voltage, measures: oil pressure, engine: right, supply_terminals: [p, g], zone: cabin}
  c: {principle: direct pressure, measures: engine speed, engine: left, zone: cabin}
  d: {principle: direct pressure, measures: engine speed, engine: right, zone: cabin}
wire_runs: {A: {from: bus, to: breaker.in}, B: {from: breaker.out, to: a.p}, C: {from: breaker.out, to: b.p}}
"""
    [verdict] = judged(text, "protector-takes-out")
    assert verdict.outcome == "advisory"
    assert "oil pressure of every engine at once" in verdict.message
