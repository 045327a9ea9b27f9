"""Every name a document uses names something in it, and joins something."""

import pytest
import yaml

from installcheck.document import DocumentError, loads

BASE = """\
installation: {name: test}
zones: {bay: {}, cabin: {}}
barriers: {firewall: {between: [bay, cabin]}}
engines: {left: {cylinders: 4}, right: {cylinders: 6}}
grounds: {frame: {kind: structure}, case: {kind: engine case}, strap: {kind: strap, from: case, to: frame}}
supplies: {bus: {kind: bus}, breaker: {kind: breaker}}
senders: {bulb: {terminals: [A, B]}, bare: {}}
indicators: {gauge: {terminals: [A, B]}, other: {}}
probes: {head: {}}
loads: {lamp: {}}
junctions:
  P: {kind: plug, terminals: [a, b]}
  R: {kind: plug, terminals: [a, b]}
  S: {kind: selector switch, terminals: [common +, left +, right +]}
bundles: {loom: {}}
taps: {port: {medium: oil}}
fittings: {tee: {kind: tee, ports: [in, out, side]}, valve: {kind: check valve}}
"""


def told(text: str) -> list[str]:
    """What is wrong with the base and one more entry in one of its sections."""
    section, _, entry = text.partition(": ")
    whole = yaml.safe_load(BASE)
    whole.setdefault(section, {}).update(yaml.safe_load(f"{{{entry}}}"))
    try:
        loads(yaml.safe_dump(whole, sort_keys=False))
    except DocumentError as bad:
        return [p.message for p in bad.problems]
    return []


def test_the_base_is_good():
    loads(BASE)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("senders: s: {zone: bays}", "'bays' is not a zone; did you mean 'bay'?"),
        ("senders: s: {engine: centre}", "'centre' is not an engine; known are left, right"),
        (
            "senders: s: {grounding: {to: fram}}",
            "'fram' is not a thing in this document; did you mean 'frame'?",
        ),
        ("senders: s: {screwed_into: tee.top}", "'top' is not a terminal of 'tee'; known are in, out, side"),
        ("barriers: floor: {between: [bay, cellar]}", "'cellar' is not a zone; known are bay, cabin"),
        ("taps: t: {medium: oil, engine: centre}", "'centre' is not an engine; known are left, right"),
        ("taps: t: {medium: oil, zone: hell}", "'hell' is not a zone; known are bay, cabin"),
        (
            "grounds: g: {kind: stud, joins: fram}",
            "'fram' is not a thing in this document; did you mean 'frame'?",
        ),
        (
            "grounds: g: {kind: stud, joins: strap}",
            "'strap' is a strap, which joins two grounds; end this at one of them",
        ),
        (
            "grounds: g: {kind: bond, from: case, to: case}",
            "this begins and ends at the same point, 'case'; name another end",
        ),
        ("indicators: i: {backs_up: gage}", "'gage' is not an indicator; did you mean 'gauge'?"),
        ("indicators: i: {backs_up: i}", "'i' cannot back itself up"),
        ("indicators: i: {compensated_at: xyz}", "'xyz' is not a thing in this document; known are "),
        (
            "indicators: i: {inputs: {x: {compensated_at: P.z}}}",
            "'z' is not a terminal of 'P'; known are a, b",
        ),
        ("loads: l: {connected_at: buss}", "'buss' is not a supply; did you mean 'bus'?"),
        ("fittings: f: {barrier: firewal}", "'firewal' is not a barrier; did you mean 'firewall'?"),
        ("fittings: f: {kind: check valve, flow: [in, up]}", "'up' is not a port of 'f'; known are in, out"),
        ("junctions: J: {mates: Q}", "'Q' is not a junction; known are "),
        ("junctions: J: {mates: J}", "'J' cannot mate with itself"),
        (
            "junctions: J: {terminals: [a, b], mates: P, cavities: {c: a}}",
            "'c' is not a pin of 'J'; known are a, b",
        ),
        (
            "junctions: J: {terminals: [a, b], mates: P, cavities: {a: c}}",
            "'c' is not a pin of 'P'; known are a, b",
        ),
        (
            "junctions: J: {kind: selector switch, terminals: [common, one, two], selected: three}",
            "'three' is not a position of 'J'; known are one, two",
        ),
        ("bundles: b: {zone: hell}", "'hell' is not a zone; known are bay, cabin"),
        ("survey: s: {engine: centre}", "'centre' is not an engine; known are left, right"),
        ("removed: r: {kind: wire, zone: hell}", "'hell' is not a zone; known are bay, cabin"),
        ("probes: p: {engine: left, cylinder: 5}", "there is no cylinder 5: 'left' has 4 cylinders, 1 to 4"),
        ("wire_runs: W: {from: bulb.A, to: gauge.C}", "'C' is not a terminal of 'gauge'; known are A, B"),
        ("wire_runs: W: {from: bulb, to: gauge.A}", "'bulb' needs a terminal: bulb.A, bulb.B"),
        (
            "wire_runs: W: {from: bulb.A, to: gage.A}",
            "'gage' is not a thing in this document; did you mean 'gauge'?",
        ),
        (
            "wire_runs: W: {from: bulb.A, to: bulb.A}",
            "this begins and ends at the same point, 'bulb'; name another end",
        ),
        (
            "wire_runs: W: {from: bus.1, to: bus.2}",
            "this begins and ends at the same point, 'bus'; name another end",
        ),
        (
            "wire_runs: W: {from: bulb.A, to: strap}",
            "'strap' is a strap, which joins two grounds; end this at one of them",
        ),
        ("wire_runs: W: {from: bulb.A, to: head.x}", "'x' is not a terminal of 'head'; known are +, -"),
        ("wire_runs: W: {from: bulb.A, to: bus, bundle: lom}", "'lom' is not a bundle; did you mean 'loom'?"),
        (
            "wire_runs: W: {from: bulb.A, to: bus, shield: {from: fram, to: open}}",
            "'fram' is not a thing in this document; did you mean 'frame'?",
        ),
        (
            "wire_runs: W: {from: bulb.A, to: bus, route: [{zone: bey}]}",
            "'bey' is not a zone; did you mean 'bay'?",
        ),
        (
            "wire_runs: W: {from: bulb.A, to: bus, route: [{barrier: floor}]}",
            "'floor' is not a barrier; known are firewall",
        ),
        (
            "wire_runs: W: {from: bulb.A, to: bus, route: [{barrier: firewall, fitting: tea}]}",
            "'tea' is not a fitting or junction; did you mean 'tee'?",
        ),
        (
            "wire_runs: W: {conductors: {+: {from: bulb.A, to: bulb.A}}}",
            "this begins and ends at the same point, 'bulb'; name another end",
        ),
        (
            "wire_runs: W: {legs: {A: {}, B: {}}, conductors: {C: {from: bulb.A, to: gauge.A}}}",
            "'C' is not a leg of 'W'; known are A, B",
        ),
        (
            "wire_runs: W: {from: bulb.A}",
            "a run has either 'from' and 'to', or 'conductors' that each have them: 'from: oil bulb.A, to: oil gauge.A'",
        ),
        (
            "wire_runs: W: {from: bulb.A, to: bus, conductors: {+: {from: bulb.A, to: gauge.A}}}",
            "a run has either 'from' and 'to', or 'conductors' that each have them: 'from: oil bulb.A, to: oil gauge.A'",
        ),
        (
            "fluid_lines: L: {from: port, to: tee.top}",
            "'top' is not a terminal of 'tee'; known are in, out, side",
        ),
        (
            "fluid_lines: L: {from: tee.in, to: tee.in}",
            "this begins and ends at the same point, 'tee'; name another end",
        ),
        (
            "operating_points: o: {zone_temperatures: {hell: 1 degF}}",
            "'hell' is not a zone; known are bay, cabin",
        ),
        ("operating_points: o: {joint_temperatures: {Q.a: 1 degF}}", "'Q' is not a joint; known are "),
        ("operating_points: o: {loads_on: [lamb]}", "'lamb' is not a load; did you mean 'lamp'?"),
        (
            "operating_points: o: {open_switches: [breakers]}",
            "'breakers' is not a supply; did you mean 'breaker'?",
        ),
        ("operating_points: o: {dead_supplies: [x]}", "'x' is not a supply; known are breaker, bus"),
    ],
)
def test_names_that_name_nothing(text, said):
    [message] = told(text)
    assert message.startswith(said)
    assert message == said or said.endswith(" ")


@pytest.mark.parametrize(
    "text",
    [
        "wire_runs: W: {from: bare, to: bus}",
        "wire_runs: W: {from: bare.anything, to: other.something}",
        "wire_runs: W: {from: frame.left stud, to: port.x}",
        "wire_runs: W: {from: P.a, to: P.b}",
        "wire_runs: W: {conductors: {a: {from: bulb.A, to: gauge.A}, b: {from: bulb.A, to: gauge.A}}}",
        "wire_runs: W: {from: bulb.A, to: bus, route: [{barrier: firewall, fitting: P}]}",
        "wire_runs: W: {from: bulb.A, to: bus, clearances: [{to: anything in words, kind: exhaust}]}",
        "junctions: J: {kind: plug, mates: P, cavities: {anything: a}}",
        "senders: s: {terminals: [S], grounding: {to: bulb.A}}",
        "operating_points: o: {loads_on: [lamp, gauge], joint_temperatures: {P: 1 degF, R.a: 2 degF}}",
    ],
)
def test_names_that_name_something(text):
    assert told(text) == []


MEASURED = BASE + "wire_runs: {W1: {from: bulb.A, to: bus}}\nmeasured:\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("between: [bulb.A, gauge.B]", None),
        ("of: gauge", None),
        ("of: gauge.oil", None),
        ("of: W1", None),
        ("of: strap", None),
        ("between: [bulb.A, gauge.C]", "'C' is not a terminal of 'gauge'; known are A, B"),
        ("of: W2", "'W2' is not a thing in this document"),
    ],
)
def test_what_was_measured(text, said):
    document = f"{MEASURED}  - {{{text}, value: 1 ohm}}\n"
    if said is None:
        loads(document)
        return
    with pytest.raises(DocumentError, match=said):
        loads(document)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("P: {kind: plug, mates: R}\n  R: {kind: plug, mates: P}", None),
        (
            "P: {kind: plug, mates: R}\n  R: {kind: plug, mates: Q}\n  Q: {kind: plug}",
            "'R' mates 'Q', not 'P'",
        ),
        (
            "P: {kind: plug, mates: R, cavities: {a: b}}\n  R: {kind: plug, mates: P, cavities: {b: a}}",
            "the cavities of 'R' and 'P' are told at both; tell them at one",
        ),
    ],
)
def test_mates(more, said):
    text = f"installation: {{name: test}}\njunctions:\n  {more}\n"
    if said is None:
        loads(text)
        return
    with pytest.raises(DocumentError, match=said) as bad:
        loads(text)
    assert len(bad.value.problems) == 1


@pytest.mark.parametrize(
    ("one", "other"),
    [("senders", "probes"), ("loads", "wire_runs"), ("fittings", "bundles"), ("taps", "grounds")],
)
def test_an_id_in_two_sections(one, other):
    entry = {"wire_runs": "{from: q.+, to: q.-}", "taps": "{medium: oil}", "grounds": "{kind: structure}"}
    with pytest.raises(DocumentError) as bad:
        loads(
            "installation: {name: test}\n"
            f"{one}: {{same: {entry.get(one, '{}')}{', q: {}' if one == 'loads' else ''}}}\n"
            f"{other}: {{same: {entry.get(other, '{}')}}}\n"
        )
    [problem] = bad.value.problems
    # things that a run can end at come first in the order of the sections, whichever is written first
    assert problem.message in (
        f"the id 'same' is already used under {one}; give this another, like 'same 2'",
        f"the id 'same' is already used under {other}; give this another, like 'same 2'",
    )


def test_a_zone_and_a_thing_may_share_a_name():
    loads("installation: {name: test}\nzones: {panel: {}}\nindicators: {panel: {zone: panel}}\n")


def test_two_conductors_of_one_name():
    with pytest.raises(DocumentError, match="'A' is here twice; the first is on line 4"):
        loads(
            "installation: {name: test}\nloads: {a: {}}\nwire_runs:\n  W: {conductors: {A: {from: a.+, to: a.-},\n"
            "    A: {from: a.+, to: a.-}}}\n"
        )


def test_a_case_is_a_terminal_where_it_carries_current():
    case = "installation: {{name: test}}\nsenders: {{s: {{terminals: [S]{}}}}}\nloads: {{l: {{}}}}\ngrounds: {{g: {{kind: structure}}}}\n"
    wire = "wire_runs: {{W: {{from: s.case, to: l.+}}}}\n".format()
    loads(case.format(", case_return: yes") + wire)
    loads(case.format(", grounding: {to: g}") + wire)
    with pytest.raises(DocumentError, match="'case' is not a terminal of 's'; known are S"):
        loads(case.format("") + wire)


def test_many_terminals_are_not_all_listed():
    pins = ", ".join(f"P{n}" for n in range(40))
    with pytest.raises(DocumentError) as bad:
        loads(
            f"installation: {{name: test}}\njunctions: {{J: {{terminals: [{pins}]}}}}\nloads: {{a: {{}}}}\n"
            "wire_runs: {W1: {from: J, to: a.+}, W2: {from: J.x, to: a.+}}\n"
        )
    needs, unknown = (p.message for p in bad.value.problems)
    assert needs.endswith("J.P10, J.P11, ...")
    assert unknown.endswith("and 28 more")


def test_where_nothing_is_there_to_be_named():
    with pytest.raises(DocumentError) as bad:
        loads("installation: {name: test}\nwire_runs: {W: {from: a.b, to: c.d, bundle: e}}\n")
    assert [p.message for p in bad.value.problems] == [
        "'a' is not a thing in this document; there is none here to name, so write it first",
        "'c' is not a thing in this document; there is none here to name, so write it first",
        "'e' is not a bundle; there is none here to name, so write it first",
    ]
