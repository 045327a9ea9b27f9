import pytest

from installcheck.analysis import missing

TEXT = """
aircraft: {{system_voltage: 14 V, ceiling: 12500 ft}}
zones: {{cabin: {{occupied: yes, temperature: {{lowest: 0 degC, highest: 50 degC}}}}}}
supplies:
  battery: {{kind: battery, zone: cabin}}
  bus: {{kind: bus, zone: cabin}}
  main fuse: {{kind: current limiter, rating: 60 A, zone: cabin}}
  breaker: {{kind: breaker, rating: {rating}, zone: cabin}}
loads: {{lamp: {{current: {load}, zone: cabin}}}}
wire_runs:
  M1: {{from: battery.+, to: main fuse.in, part: AS22759/16, gauge: 6 AWG, length: {main}, free_air: yes}}
  M2: {{from: main fuse.out, to: bus, part: AS22759/16, gauge: 6 AWG, length: 3 ft, free_air: yes}}
  T1: {{from: bus, to: breaker.in, part: AS22759/16, gauge: 18 AWG, length: {tap}, free_air: yes}}
  L1: {{from: breaker.out, to: lamp.+, part: AS22759/16, {gauge}, length: 5 ft, {more}}}
"""


def document(rating="5 A", load="4 A", gauge="gauge: 20 AWG", **more):
    told = {"main": "1 ft", "tap": "3 in", "more": "bundle: b"} | more
    return (
        TEXT.format(rating=rating, load=load, gauge=gauge, **told)
        + "bundles: {b: {wires: 33, load_share: 20 %}}\n"
    )


def of(verdicts, run):
    return next(v for v in verdicts if v.at[0] == run)


def test_breaker_that_passes_both_tables(judged):
    verdict = of(judged(document(), "wire-protected"), "L1")
    # 20 AWG, 150 degC: 7.5 A by table 11-3, 7 A by table 11-9
    assert (verdict.outcome, verdict.value, verdict.limit, verdict.margin) == ("meets", 5, 7, 2)


def test_breaker_that_passes_only_the_chart(judged):
    verdict = of(judged(document("7.5 A"), "wire-protected"), "L1")
    assert (verdict.outcome, verdict.value, verdict.limit, verdict.margin) == ("advisory", 7.5, 7, -0.5)
    # above the 4 A load and not above 7 A; 18 AWG: 10 A by 11-3, 9 A by 11-9
    assert verdict.remedy == "fit a 5 A breaker, or use 18 AWG"


def test_breaker_too_large_for_the_wire(judged):
    verdict = of(judged(document("15 A"), "wire-protected"), "L1")
    # 14 AWG: 20 A by 11-3 but 14 A by 11-9; 12 AWG: 30 A and 19 A. 20 AWG bears 7.5 A and 7 A, so a 5 A breaker
    assert (verdict.outcome, verdict.value, verdict.limit) == ("discrepancy", 15, 7.5)
    assert verdict.remedy == "fit a 5 A breaker, or use 12 AWG"


def test_single_wire_in_open_air_may_have_more(judged):
    verdict = of(judged(document("10 A", more="free_air: yes"), "wire-protected"), "L1")
    # free air, 50 degC: 1.633 sqrt(100) = 16.3 A x 0.944 = 15.4 A, so the wire bears it though the chart says 7.5 A
    assert (verdict.outcome, verdict.limit) == ("advisory", 7.5)


def test_gauge_not_told(judged):
    text = document(gauge="free_air: yes").replace(
        "lamp.+, part: AS22759/16", "lamp.+, temperature_rating: 150 degC"
    )
    text = text.replace("5 ft, bundle: b", "5 ft")
    verdict = of(judged(text, "wire-protected"), "L1")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("gauge of the run",))


def test_rating_not_told(judged):
    verdict = of(judged(document("unknown"), "wire-protected"), "L1")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("rating of the protector",))


def test_run_that_only_leads_to_its_own_protector_is_left_to_the_other_rule(judged):
    assert not [v for v in judged(document(), "wire-protected") if v.at[0] in ("M1", "T1")]


def test_short_tap(judged):
    verdicts = judged(document(), "protector-near-source")
    tap = next(v for v in verdicts if v.at == ("breaker", "T1"))
    assert (tap.outcome, tap.value, tap.limit) == ("meets", pytest.approx(3), pytest.approx(7))
    main = next(v for v in verdicts if v.at == ("main fuse", "M1"))
    # 12 in is over 7 in, and nothing says whether the wire is sheathed
    assert (main.outcome, main.missing) == ("undetermined", (missing.RUN_SHEATH,))


@pytest.mark.parametrize(
    ("where", "said", "outcome", "limit"),
    [
        ("M1", "sheathed: yes", "meets", 72),  # 12 in from the battery
        ("M1", "supported_by: conduit", "meets", 72),
        ("M1", "conduit: {kind: metal}", "meets", 72),
        ("M1", "sheathed: no", "advisory", 7),
        ("T1", "sheathed: yes", "meets", 40),  # 24 in from a bus
        ("T1", "sheathed: no", "advisory", 7),
        ("T1", "sheathed: unknown", "undetermined", None),
    ],
)
def test_bare_wire_in_a_sheath(judged, where, said, outcome, limit):
    text = document(tap="2 ft")
    text = text.replace(f"  {where}: {{", f"  {where}: {{{said}, ")
    verdict = next(v for v in judged(text, "protector-near-source") if v.at[-1] == where)
    assert (verdict.outcome, verdict.limit) == (outcome, limit if limit is None else pytest.approx(limit))


def test_one_bare_wire_of_two_out_of_its_sheath(judged):
    text = """
zones: {cabin: {occupied: yes}}
supplies: {battery: {kind: battery}, fuse: {kind: fuse, rating: 30 A}}
junctions: {post: {kind: stud}}
loads: {lamp: {current: 4 A}}
wire_runs:
  A: {from: battery.+, to: post, part: AS22759/16, gauge: 10 AWG, length: 20 in, sheathed: yes}
  B: {from: post, to: fuse.in, part: AS22759/16, gauge: 10 AWG, length: 10 in, sheathed: no}
  L: {from: fuse.out, to: lamp.+, part: AS22759/16, gauge: 10 AWG, length: 5 ft}
"""
    near = judged(text, "protector-near-source")[0]
    # 20 in + 10 in
    assert (near.outcome, near.value, near.limit) == ("advisory", pytest.approx(30), pytest.approx(7))
    sheathed = judged(text.replace("sheathed: no", "sheathed: yes"), "protector-near-source")[0]
    assert (sheathed.outcome, sheathed.limit) == ("meets", pytest.approx(72))


def test_long_tap(judged):
    verdict = next(v for v in judged(document(tap="4 ft"), "protector-near-source") if v.at[0] == "breaker")
    # 40 in - 48 in: too far even in a sheath
    assert (verdict.outcome, verdict.margin) == ("advisory", pytest.approx(-8))


def test_tap_of_unknown_length(judged):
    verdict = next(
        v for v in judged(document(tap="unknown"), "protector-near-source") if v.at[0] == "breaker"
    )
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("length of the run",))


def test_tap_heavy_enough_for_the_fuse_before_it_is_covered(judged):
    text = document(tap="2 ft").replace("gauge: 18 AWG", "gauge: 6 AWG")
    assert not [v for v in judged(text, "protector-near-source") if v.at[0] == "breaker"]
    assert of(judged(text, "wire-protected"), "T1").outcome == "meets"


NO_PROTECTOR = """
zones: {cabin: {occupied: yes}}
supplies:
  battery: {kind: battery, zone: cabin}
  contactor: {kind: contactor, coil_current: 1 A, zone: cabin}
  starter contactor: {kind: contactor, coil_current: 4 A, zone: cabin}
  avionics bus: {kind: bus, zone: cabin}
  a: {kind: breaker, rating: 10 A, zone: cabin}
loads: {clock: {current: 0.1 A, zone: cabin}, starter: {current: 200 A, duty: intermittent, zone: cabin}}
wire_runs:
  M1: {from: battery.+, to: contactor.in, part: AS22759/16, gauge: 4 AWG, length: 2 ft}
  M2: {from: battery.+, to: contactor.coil +, part: AS22759/16, gauge: 20 AWG, length: 3 ft}
  F1: {from: contactor.out, to: avionics bus, part: AS22759/16, gauge: 12 AWG, length: 2 ft}
  B1: {from: avionics bus, to: a.in, part: AS22759/16, gauge: 16 AWG, length: 3 in}
  C1: {from: avionics bus, to: clock.+, part: AS22759/16, gauge: 22 AWG, length: 2 ft}
  S1: {from: contactor.out, to: starter contactor.in, part: AS22759/16, gauge: 2 AWG, length: 2 ft}
  S2: {from: starter contactor.out, to: starter.+, part: AS22759/16, gauge: 2 AWG, length: 5 ft}
"""


def test_feed_without_any_protector(judged):
    verdicts = judged(NO_PROTECTOR, "wire-protected")
    feed, coil, clock = of(verdicts, "F1"), of(verdicts, "M2"), of(verdicts, "C1")
    assert {feed.outcome, coil.outcome, clock.outcome} == {"discrepancy"}
    assert "no protector between battery" in feed.message
    # 22 AWG bears 5 A by table 11-3
    assert clock.remedy.startswith("put a 5 A breaker within 7 in of ")


def test_starter_circuit_needs_none(judged):
    verdicts = judged(NO_PROTECTOR, "wire-protected")
    assert {of(verdicts, r).outcome for r in ("S1", "S2", "M1")} == {"meets"}


def test_short_coil_tap_needs_none(judged):
    text = NO_PROTECTOR.replace(
        "coil +, part: AS22759/16, gauge: 20 AWG, length: 3 ft", "coil +, length: 5 in"
    )
    verdict = of(judged(text, "wire-protected"), "M2")
    assert (verdict.outcome, verdict.value) == ("meets", pytest.approx(5))


def test_wire_to_a_load_from_nothing_drawn(judged):
    text = """
supplies: {bus: {kind: bus}, b: {kind: breaker, rating: 5 A}}
loads: {lamp: {current: 1 A}}
grounds: {airframe: {kind: structure}}
junctions: {block: {kind: terminal block, terminals: ['1', '2']}}
wire_runs:
  T1: {from: bus, to: b.in, part: AS22759/16, gauge: 20 AWG, length: 3 in}
  L1: {from: block.1, to: lamp.+, part: AS22759/16, gauge: 20 AWG, length: 3 ft}
  R1: {from: lamp.-, to: airframe, part: AS22759/16, gauge: 20 AWG, length: 3 ft}
"""
    [verdict] = judged(text, "wire-protected")
    assert (verdict.outcome, verdict.at, verdict.missing) == (
        "undetermined",
        ("L1",),
        ("wiring from the battery or bus to the run",),
    )


SHUNT = """
zones: {cabin: {occupied: yes}}
supplies: {battery: {kind: battery, zone: cabin}, bus: {kind: bus, zone: cabin}, f: {kind: fuse, rating: 1 A, zone: cabin}}
indicators: {ammeter: {terminals: ['+', '-'], zone: cabin, principle: voltage}}
grounds: {airframe: {kind: structure}}
junctions: {shunt: {part: shunt 50 mV, size: 60 A, zone: cabin}}
wire_runs:
"""


def test_fused_sense_wire(judged):
    text = (
        SHUNT
        + """
  M1: {from: battery.+, to: shunt.in, part: AS22759/16, gauge: 4 AWG, length: 4 in}
  S1: {from: shunt.sense +, to: f.in, part: AS22759/16, gauge: 22 AWG, length: 3 in}
  S2: {from: f.out, to: ammeter.+, part: AS22759/16, gauge: 22 AWG, length: 4 ft}
"""
    )
    assert of(judged(text, "wire-protected"), "S2").outcome == "meets"
    # 4 in and 3 in, the 7 in that need no sheath
    assert judged(text, "protector-near-source")[0].outcome == "meets"


def test_bare_sense_wire(judged):
    text = (
        SHUNT
        + """
  M1: {from: battery.+, to: shunt.in, part: AS22759/16, gauge: 4 AWG, length: 1 ft}
  S1: {from: shunt.sense +, to: ammeter.+, part: AS22759/16, gauge: 22 AWG, length: 4 ft}
"""
    )
    assert of(judged(text, "wire-protected"), "S1").outcome == "discrepancy"


def test_sense_wire_on_the_grounded_side(judged):
    text = (
        SHUNT
        + """
  M1: {from: battery.-, to: shunt.in, part: AS22759/16, gauge: 4 AWG, length: 1 ft}
  M2: {from: shunt.out, to: airframe, part: AS22759/16, gauge: 4 AWG, length: 1 ft}
  S1: {from: shunt.sense +, to: ammeter.+, part: AS22759/16, gauge: 22 AWG, length: 4 ft}
"""
    )
    assert judged(text, "wire-protected") == []


def test_protector_above_its_load(judged):
    verdict = next(v for v in judged(document(), "protector-above-load") if v.at == ("breaker",))
    assert (verdict.outcome, verdict.value, verdict.limit, verdict.margin) == ("meets", 4, 5, 1)
    verdict = next(v for v in judged(document(load="6 A"), "protector-above-load") if v.at == ("breaker",))
    assert (verdict.outcome, verdict.margin) == ("discrepancy", -1)
    assert verdict.remedy == "part the loads, or fit 7.5 A with wire behind it that bears it"
    verdict = next(v for v in judged(document(load="5 A"), "protector-above-load") if v.at == ("breaker",))
    assert verdict.outcome == "advisory"
    verdict = next(
        v for v in judged(document(load="unknown"), "protector-above-load") if v.at == ("breaker",)
    )
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("current of the load",))


ALTERNATOR = """
zones: {{cabin: {{}}}}
operating_points: {{cruise: {{phase: {phase}}}}}
supplies:
  alternator: {{kind: alternator, voltage: 14 V, rated_current: 60 A}}
  battery: {{kind: battery, voltage: 12 V, inner_resistance: 10 milliohm}}
  breaker: {{kind: breaker, rating: {rating}}}
  bus: {{kind: bus}}
loads: {{lamp: {{current: 20 A, duty: continuous, connected_at: bus}}}}
grounds: {{airframe: {{kind: structure}}}}
wire_runs:
  B1: {{from: battery.+, to: bus, gauge: 4 AWG, part: AS22759/16, length: 1 ft}}
  B2: {{from: battery.-, to: airframe, gauge: 4 AWG, part: AS22759/16, length: 1 ft}}
  A1: {{from: alternator.+, to: breaker.in, gauge: 4 AWG, part: AS22759/16, length: 3 ft}}
  A2: {{from: breaker.out, to: bus, gauge: 4 AWG, part: AS22759/16, length: 1 ft}}
  A3: {{from: alternator.-, to: airframe, gauge: 4 AWG, part: AS22759/16, length: 1 ft}}
"""


@pytest.mark.parametrize(
    ("rating", "phase", "outcome", "told"),
    [
        ("60 A", "cruise", "meets", "has 60 A behind it"),
        # less than the alternator can give, and more than flows: it may trip one day
        ("50 A", "cruise", "advisory", "has 60 A behind it and may trip"),
        ("10 A", "cruise", "discrepancy", "has 60 A behind it, and 20 A flow at cruise: it trips"),
        ("10 A", "start", "advisory", "has 60 A behind it and may trip"),
    ],
)
def test_breaker_of_an_alternator_and_what_flows_through_it(judged, rating, phase, outcome, told):
    verdict = of(judged(ALTERNATOR.format(rating=rating, phase=phase), "protector-above-load"), "breaker")
    assert verdict.outcome == outcome
    assert told in verdict.message


@pytest.mark.parametrize(("most", "outcome"), [("200 A", "meets"), ("50 A", "discrepancy")])
def test_contactor_of_a_starter_alone(judged, most, outcome):
    text = f"""
zones: {{cabin: {{}}}}
supplies:
  battery: {{kind: battery, voltage: 12 V}}
  contactor: {{kind: contactor, terminals: [in, out], max_current: {most}}}
loads: {{starter: {{current: 120 A, duty: intermittent}}}}
wire_runs:
  P1: {{from: battery.+, to: contactor.in}}
  P2: {{from: contactor.out, to: starter.+}}
"""
    assert of(judged(text, "contacts-above-load"), "contactor").outcome == outcome


def test_two_batteries_each_with_a_fuse(judged):
    text = """
aircraft: {ceiling: 12500 ft}
zones: {cabin: {temperature: {lowest: 0 degC, highest: 50 degC}}}
bundles: {b: {wires: 33, load_share: 20 %}}
supplies:
  one: {kind: battery}
  two: {kind: battery}
  f1: {kind: current limiter, rating: 30 A}
  f2: {kind: current limiter, rating: 30 A}
  bus: {kind: bus}
loads: {lamp: {current: 4 A}}
wire_runs:
  A1: {from: one.+, to: f1.in, part: AS22759/16, gauge: 8 AWG, length: 1 ft}
  A2: {from: f1.out, to: bus, part: AS22759/16, gauge: 10 AWG, length: 1 ft}
  B1: {from: two.+, to: f2.in, part: AS22759/16, gauge: 8 AWG, length: 9 ft}
  B2: {from: f2.out, to: bus, part: AS22759/16, gauge: 10 AWG, length: 1 ft}
  L1: {from: bus, to: lamp.+, part: AS22759/16, gauge: 10 AWG, route: [{zone: cabin, length: 5 ft}], bundle: b}
"""
    near = {v.at: v for v in judged(text, "protector-near-source")}
    # 9 ft = 108 in from the second battery, 72 in the most
    assert near["f2", "B1"].outcome == "advisory"
    assert near["f2", "B1"].margin == pytest.approx(-36)
    lamp = of(judged(text, "wire-protected"), "L1")
    # both fuses feed the bus: 60 A before a wire good for 30 A by fuse and 26 A by table 11-9 at 150 degC
    assert (lamp.outcome, lamp.value, lamp.limit) == ("discrepancy", 60, 30)


def test_a_feeder_behind_a_fuse_four_times_its_wire_is_told_at_the_wire(judged):
    text = """
aircraft: {system_voltage: 14 V, ceiling: 10000 ft}
zones: {cabin: {temperature: {lowest: 0 degC, highest: 50 degC}}}
supplies:
  battery: {kind: battery, voltage: 12 V, zone: cabin}
  main: {kind: fuse, rating: 120 A, zone: cabin}
  bus: {kind: bus, zone: cabin}
  small: {kind: breaker, rating: 5 A, zone: cabin}
loads: {lamp: {current: 4 A, zone: cabin}}
wire_runs:
  A1: {from: battery.+, to: main.in, part: AS22759/16, gauge: 1 AWG, length: 6 in}
  A2: {from: main.out, to: bus, part: AS22759/16, gauge: 10 AWG, length: 3 ft, free_air: yes}
  A3: {from: bus, to: small.in, part: AS22759/16, gauge: 20 AWG, length: %s, free_air: yes}
  A4: {from: small.out, to: lamp.+, part: AS22759/16, gauge: 20 AWG, length: 3 ft, free_air: yes}
"""
    feeder = of(judged(text % "3 in", "wire-protected"), "A2")
    # 10 AWG: a 30 A fuse by table 11-3, 26 A by table 11-9 at 150 degC
    assert (feeder.outcome, feeder.value, feeder.limit) == ("discrepancy", 120, 30)
    assert "where it begins" in feeder.remedy


def test_one_size_above_the_tables_is_the_most_wherever_a_wire_lies(judged):
    # 22 AWG: 5 A by table 11-3; 7.5 A is the next larger breaker, and a single wire in open air may have that (11-48)
    def outcome(rating, more):
        text = document(rating, gauge="gauge: 22 AWG", more=more)
        return of(judged(text, "wire-protected"), "L1").outcome

    assert outcome("7.5 A", "free_air: yes") == "advisory"
    assert outcome("10 A", "free_air: yes") == "discrepancy"
    unknown = document("7.5 A", gauge="gauge: 22 AWG").replace("5 ft, bundle: b", "unknown")
    assert of(judged(unknown, "wire-protected"), "L1").outcome == "undetermined"
    # what is certain stays certain where bundle and length are not told
    unknown = document("10 A", gauge="gauge: 22 AWG").replace("5 ft, bundle: b", "unknown")
    assert of(judged(unknown, "wire-protected"), "L1").outcome == "discrepancy"


def test_a_feeder_with_no_protector_at_all(judged):
    text = document().replace("to: main fuse.in", "to: bus").replace("length: 1 ft", "length: 8 ft")
    text = "\n".join(line for line in text.splitlines() if not line.startswith(("  M2", "  main fuse")))
    verdict = of(judged(text, "wire-protected"), "M1")
    assert verdict.outcome == "discrepancy"
    assert "no protector between battery and what it feeds" in verdict.message


def test_breaker_offered_suits_the_thinnest_wire_and_all_loads_behind_it(judged):
    more = """
  L2: {from: breaker.out, to: second.+, part: AS22759/16, gauge: 22 AWG, length: 5 ft, bundle: b}
bundles:"""
    text = document("15 A", gauge="gauge: 18 AWG").replace("loads: {", "loads: {second: {current: 0.5 A}, ")
    text = text.replace("bundles:", more.lstrip("\n"))
    # 18 AWG bears 9 A, 22 AWG 5 A: 5 A for both, above 4 + 0.5 A
    verdicts = judged(text, "wire-protected")
    assert of(verdicts, "L1").remedy.startswith("fit a 5 A breaker")
    assert of(verdicts, "L2").remedy.startswith("fit a 5 A breaker")
    # with 5.5 A behind it 5 A is too small, and only heavier wire is left
    assert of(judged(text.replace("4 A", "5 A"), "wire-protected"), "L2").remedy == "use 12 AWG"


ORDER = """
aircraft: {{system_voltage: 28 V}}
zones: {{cabin: {{occupied: yes}}}}
supplies:
{supplies}
loads: {{lamp: {{current: 1 A, zone: cabin}}}}
wire_runs:
  P1: {{from: main bus, to: breaker.in, part: AS22759/16, gauge: 20 AWG, length: 3 in}}
  P2: {{from: breaker.out, to: sub bus, part: AS22759/16, gauge: 20 AWG, length: 2 ft}}
  P3: {{from: sub bus, to: lamp.+, part: AS22759/16, gauge: 22 AWG, length: 2 ft}}
"""


@pytest.mark.parametrize("voltage", ["", ", voltage: 28 V"])
def test_verdicts_do_not_hang_on_the_order_of_supplies(judged, voltage):
    supplies = [
        f"  main bus: {{kind: bus{voltage}}}",
        "  breaker: {kind: breaker, rating: 5 A}",
        "  sub bus: {kind: bus}",
    ]
    for rule in ("wire-protected", "protector-near-source", "protector-above-load"):
        told = [
            sorted((v.at, v.outcome, v.message) for v in judged(ORDER.format(supplies="\n".join(some)), rule))
            for some in (supplies, supplies[::-1])
        ]
        assert told[0] == told[1]
        assert told[0]
    # The breaker stands before the lamp: 5 A, and 22 AWG bears 5 A by table 11-3.
    assert of(judged(ORDER.format(supplies="\n".join(supplies[::-1])), "wire-protected"), "P3").value == 5


def test_a_sense_wire_gets_a_small_fuse_and_no_thicker_wire(judged):
    text = """
supplies:
  battery: {kind: battery}
  main fuse: {kind: current limiter, rating: 60 A}
  bus: {kind: bus}
junctions: {shunt: {part: shunt 50 mV, size: 60 A}}
indicators: {ammeter: {principle: voltage, measures: load current, terminals: [a, b]}}
wire_runs:
  P1: {from: battery.+, to: main fuse.in, part: AS22759/16, gauge: 6 AWG, length: 1 ft}
  P2: {from: main fuse.out, to: shunt.in, part: AS22759/16, gauge: 6 AWG, length: 1 ft}
  P3: {from: shunt.out, to: bus, part: AS22759/16, gauge: 6 AWG, length: 1 ft}
  S1: {from: shunt.sense +, to: ammeter.a, part: AS22759/16, gauge: 20 AWG, length: 5 ft}
  S2: {from: shunt.sense -, to: ammeter.b, part: AS22759/16, gauge: 20 AWG, length: 5 ft}
"""
    for run in ("S1", "S2"):
        verdict = of(judged(text, "wire-protected"), run)
        # 20 AWG: 5 A fuse by table 11-3; the limiter is 60 A
        assert (verdict.outcome, verdict.value) == ("discrepancy", 60)
        assert verdict.remedy.startswith("put a 1 A fuse in it within 7 in of shunt.sense")


def test_a_breaker_is_never_told_to_be_a_larger_one(judged):
    """24 AWG has no entry in table 11-3 and bears 3 A by nothing but its own limit: behind 2 A it is the wire that goes."""
    text = document(rating="2 A", load="1 A", gauge="gauge: 24 AWG")
    verdict = of(judged(text, "wire-protected"), "L1")
    assert verdict.outcome == "advisory"
    assert "breaker" not in verdict.remedy
    assert "AWG" in verdict.remedy
