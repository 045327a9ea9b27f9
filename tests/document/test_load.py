"""Whole documents: parts, files, ten errors at once, and documents broken at random."""

import copy
import hashlib
import os
import random
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from installcheck.document import Document, DocumentError, load, loads
from installcheck.document.parts import standard_library
from installcheck.graph import build, indications

HEAD = "installation: {name: test}\n"


def refused(text: str, *, head: str = HEAD) -> list[str]:
    with pytest.raises(DocumentError) as bad:
        loads(head + text, "f")
    return [str(p) for p in bad.value.problems]


TEN = """\
installation: {name: ten errors}
zones:
  engine bay: {fire_zone: yes, temperature: {lowest: 0 degF, highest: 250 degF}}
  cabin: {occupied: yes}
gauges: {}
barriers:
  firewall: {between: [engine bay, cabin], kind: firewal}
senders:
  oil bulb: {principle: resistance bulb, terminals: [A, B], zone: engine by, curve: {law: Pt100, ponts: []}}
  pressure sender: {principle: resistive, terminals: [S], case_return: yes, zone: engine bay, full_scale: 60}
  inlet bulb: {part: resistance blub, zone: engine bay}
indicators:
  oil gauge: {terminals: [A, B], zone: cabin, budjet: 5 degF}
  oil bulb: {terminals: [A], zone: cabin}
wire_runs:
  W1: {from: oil gauge.A, to: pressure sender.C, length: 3 ft}
  W2: {part: AS22759/16, gauge: 22 AWG, from: oil gauge.B, to: pressure sender.S, length: 25 psi}
  W3: {from: inlet bulb.A, to: oil gauge.B}
"""
TEN_TOLD = [
    ("5:1", "'gauges' is not a section; did you mean 'indicators'?"),
    ("7:50", "'firewal' is not one of: firewall, bulkhead, floor, panel, shroud; did you mean 'firewall'?"),
    ("9:67", "'engine by' is not a zone; did you mean 'engine bay'?"),
    ("9:98", "'ponts' is not a word known here; did you mean 'points'?"),
    ("10:107", "'60' has no unit: an indication (temperature, pressure, speed, flow...) is written like"),
    ("11:22", "there is no part 'resistance blub' for senders"),
    ("13:47", "'budjet' is not a word under indicators; did you mean 'budget'?"),
    ("14:3", "the id 'oil bulb' is already used under senders"),
    ("16:31", "'C' is not a terminal of 'pressure sender'; known are case, S"),
    ("17:91", "'25 psi' is a pressure, but a length is wanted (ft, in, m, mm, cm, km)"),
]


def test_ten_errors_are_told_at_once_and_nothing_else():
    told = refused(TEN, head="")
    assert len(told) == len(TEN_TOLD) == 10
    for said, (where, message) in zip(told, TEN_TOLD, strict=True):
        assert said.startswith(f"f:{where}: {message}")


def test_errors_keep_the_offending_text():
    with pytest.raises(DocumentError) as bad:
        loads(TEN)
    assert [p.text for p in bad.value.problems] == [
        "gauges",
        "firewal",
        "engine by",
        "ponts",
        "60",
        "resistance blub",
        "budjet",
        "oil bulb",
        "C",
        "25 psi",
    ]


ENGINE = "engines: {engine: {cylinders: 4}}\n"
ENDS = "senders: {s: {terminals: [A, B]}}\nindicators: {g: {terminals: [A, B]}}\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "zones: {z: {temperature: {lowest: 9 degF, highest: 1 degF}}}",
            "highest (1 degF) is below lowest (9 degF); exchange them",
        ),
        (
            "zones: {z: {temperature: {lowest: 1 degF, highest: 9 degF, normal: 20 degF}}}",
            "normal (20 degF) is not between lowest (1 degF) and highest (9 degF)",
        ),
        ("engines: {e: {cylinders: 0}}", "0 is below 1, the least possible here"),
        ("engines: {e: {cylinders: 40}}", "40 is above 36, the most possible here"),
        ("engines: {e: {cylinders: 4.5}}", "'4.5' is not a whole number"),
        ("engines: {e: {cylinders: four}}", "'four' is not a whole number; write 4"),
        ("engines: {e: {tachometer_drive: nan}}", "'nan' is not a finite number"),
        ("engines: {e: {tachometer_drive: 0}}", "0 is not above 0.0"),
        ("engines: {e: {cowl_flaps: maybe}}", "'maybe' is neither yes nor no; write 'yes' or 'no'"),
        (
            "engines: {e: {cylinders: 4, hottest_cylinder: 6}}",
            "there is no cylinder 6: 'e' has 4 cylinders, 1 to 4",
        ),
        (
            "engines: {e: {cylinders: 2, seats: {3: left}}}",
            "there is no cylinder 3: 'e' has 2 cylinders, 1 to 2",
        ),
        (ENGINE + "probes: {p: {cylinder: 5}}", "there is no cylinder 5: 'engine' has 4 cylinders, 1 to 4"),
        (
            ENGINE + "survey: {s: {stages: {climb: {temperatures: {4: 400 degF, 7: 410 degF}}}}}",
            "there is no cylinder 7: 'engine' has 4 cylinders, 1 to 4",
        ),
        (
            ENGINE + "indicators: {g: {cylinders: [1, 2, 3, 5]}}",
            "there is no cylinder 5: 'engine' has 4 cylinders, 1 to 4",
        ),
        ("grounds: {g: {kind: strap}}", "a strap joins two grounds: give 'from' and 'to', not 'joins'"),
        (
            "grounds: {a: {kind: structure}, g: {kind: stud, from: a}}",
            "only a strap or bond has 'from' and 'to'; say what the stud is fastened to by 'joins'",
        ),
        ("grounds: {g: {kind: stud, joins: g}}", "'g' is fastened to itself"),
        ("zones: {a: {}, b: {}}\nbarriers: {w: {between: [a, b, a]}}", "more than the 2 values wanted here"),
        ("zones: {a: {}}\nbarriers: {w: {between: [a]}}", "fewer values than are wanted here"),
        (
            "zones: {a: {}}\nbarriers: {w: {between: a}}",
            "a list of values is wanted here, like [a, b], not a",
        ),
        (
            "zones: {a: [b]}",
            "'word: value' lines are wanted here, not a list; like '{occupied: ..., fire_zone: ...}'",
        ),
        ("zones: {a: {title: {b: c}}}", "one text is wanted here, not a mapping"),
        ("zones: []", "'zones' holds ids, each with its own entries: write 'name: {...}' lines without '- '"),
        ("deviations: {a: b}", "'deviations' holds lines that start with '- ', like '- {...}'"),
        (
            "senders: {s: {curve: {law: Pt100, points: [[0 psi, 1 ohm], [1 psi, 2 ohm]]}}}",
            "a curve is given once: as a law, as points, or as steinhart_hart",
        ),
        (
            "senders: {s: {curve: {points: [[0 psi, 1 ohm], [1 psi, 1 ohm]]}}}",
            "the outputs of a curve's points must rise throughout or fall throughout",
        ),
        (
            "senders: {s: {capillary_bore: 0 in}}",
            "'0 in': a length of zero is impossible here; write its size, or unknown",
        ),
        (
            "indicators: {g: {open_shows: high}}",
            "one of: off scale high, off scale low, nothing, last value, or a quantity; 'high' is not a quantity:"
            " write a number and a unit, like '180 degF'",
        ),
        ("zones: {z: {title: " + "x" * 81 + "}}", "longer than the 80 characters kept here"),
        (
            "fluid_lines: {f: {from: a.b.c, to: b}}",
            "'a.b.c' is not an end: write thing.terminal, with one dot",
        ),
        (
            "survey: {s: {date: 2026-01-01, stages: {climb: {}}}}",
            "'temperatures' is missing: 'temperatures: ...'",
        ),
    ],
)
def test_impossible_values(text, said):
    [problem] = refused(text)
    assert problem.split(": ", 1)[1] == said


@pytest.mark.parametrize(
    ("ident", "word"),
    [
        ("'a.b'", "a.b"),
        ("'a: {b: c}'", "a: {b: c}"),
        ("'<script>'", "<script>"),
        ("'=1+1'", "=1+1"),
        ("'-a'", "-a"),
        ("' a'", " a"),
        ("''", ""),
        ("é", "é"),
        ("'a\"b'", 'a"b'),
        ("'a\\b'", "a\\b"),
        ("'../a'", "../a"),
        ("'a;b'", "a;b"),
        ("'${a}'", "${a}"),
        ("x" * 61, "x" * 57 + "..."),
    ],
)
def test_ids_that_could_be_taken_for_something_else(ident, word):
    [problem] = refused(f"zones: {{{ident}: {{}}}}")
    assert problem == (
        f"f:2:9: '{word}' cannot be an id: up to 60 letters, digits, spaces and _ / # + ( ) & - are allowed,"
        " beginning with a letter or digit; no dot"
    )


@pytest.mark.parametrize("character", ["\u202e", "\u200f", "\u200b", "\u0007"])
@pytest.mark.parametrize("text", ['zones: {{"a{}b": {{}}}}', 'zones: {{a: {{title: "x{}y"}}}}'])
def test_hidden_characters_are_told_once(text, character):
    [problem] = refused(text.format(f"\\u{ord(character):04x}"))
    assert f"holds the hidden character U+{ord(character):04X}" in problem


@pytest.mark.parametrize("name", ["A.B", "''", "' A'"])
def test_terminals_that_could_not_be_named(name):
    [problem] = refused(f"senders: {{s: {{terminals: [{name}]}}}}")
    assert problem.endswith("cannot name a terminal: up to 40 characters, no dot")


def test_terminals_with_long_names():
    assert refused(f"senders: {{s: {{terminals: [{'x' * 41}]}}}}") == [
        "f:2:27: longer than the 40 characters kept here"
    ]


def test_ids_that_are_words_of_the_reader():
    names = [
        "float",
        "str",
        "list",
        "spec",
        "dict",
        "function",
        "nullable",
        "include",
        "null2",
        "true",
        "1e3",
    ]
    text = "zones: {" + ", ".join(f"{n}: {{occupied: mayb}}" for n in names) + "}"
    told = refused(text)
    assert len(told) == len(names)
    assert len(set(told)) == len(names)


def test_what_follows_from_an_error_is_left_unsaid():
    # an unknown word for the terminals, for the ends, an id that cannot be: no more is said of what depends on them
    told = refused(
        "senders: {s: {terminls: [A, B]}, 't.u': {terminals: [A]}}\nprobes: {p: {part: no part}}\n"
        "indicators: {g: {terminals: [A, B]}}\nwire_runs:\n"
        "  W1: {from: s.A, to: g.A}\n  W2: {form: s.B, to: g.B}\n  W3: {from: t.u, to: p.Q}\n"
    )
    assert [t.split(": ", 1)[1][:30] for t in told] == [
        "'terminls' is not a word under",
        "'t.u' cannot be an id: up to 6",
        "there is no part 'no part' for",
        "'form' is not a word under wir",
    ]


def test_a_thing_left_out_is_still_known_by_name():
    told = refused(
        "taps: {t: {zone: nowhere}}\nfittings: {e: {kind: elbow, ports: [A, B]}}\nfluid_lines: {f: {from: t, to: e.A}}\n"
    )
    assert told == [
        "f:2:8: 'medium' is missing: 'medium: fuel', or oil, hydraulic fluid, fuel-air mixture, manifold air, air"
    ]


def test_empty_and_shapeless_documents():
    assert refused("", head="") == [
        "f:1:1: the file is empty; 'installcheck new' writes a document to start from"
    ]
    assert refused("- a\n", head="") == [
        "f:1:1: the document is not a mapping of sections: 'installation:', 'zones:', 'senders:'..."
    ]
    assert refused("zones: {}\n", head="") == [
        "f:1:1: 'installation' is missing: a document begins with its name, 'installation: {name: ...}'"
    ]
    assert refused("installation: {}\n", head="") == ["f:1:1: 'name' is missing: 'name: ...'"]
    assert refused("installation: unknown\n", head="") == [
        "f:1:1: 'installation' is missing: a document begins with its name, 'installation: {name: ...}'"
    ]


def test_empty_sections_are_sections():
    assert loads(HEAD + "zones:\nsenders: ~\nmeasured: []\n").installation.zones == {}


UNKNOWN = """
zones:
  engine bay: {temperature: {lowest: unknown, highest: 250 degF}, occupied: unknown}
  cabin: {temperature: unknown}
senders:
  s: {curve: {points: [[0 psi, 10 ohm], [10 psi, unknown]]}, terminals: [A, unknown], tolerance: unknown}
wire_runs:
  W1: {part: AS22759/16, gauge: 22 AWG, from: s.A, to: g.A, route: [{zone: cabin, length: unknown}], resistance: unknown}
indicators:
  g: {terminals: [A], cylinders: [1, unknown]}
operating_points:
  climb: {zone_temperatures: {engine bay: unknown, cabin: 70 degF}, readings: {oil pressure: unknown}}
"""


def test_unknown_may_stand_anywhere():
    document = loads(HEAD + UNKNOWN)
    model = document.installation
    assert model.zones["engine bay"].temperature is None
    assert model.zones["engine bay"].occupied is None
    assert model.senders["s"].spec.curve is None
    assert model.senders["s"].spec.terminals is None
    assert model.indicators["g"].spec.cylinders is None
    assert model.wire_runs["W1"].route[0].length is None
    assert (
        model.wire_runs["W1"].spec.resistance is None
    )  # the part has one; the document says it is not known
    assert model.operating_points["climb"].zone_temperatures == {
        "cabin": pytest.approx(190 / 9)
    }  # (70 - 32) / 1.8
    assert model.operating_points["climb"].readings == {}
    for path in [
        ("zones", "engine bay", "temperature", "lowest"),
        ("zones", "cabin", "temperature"),
        ("senders", "s", "curve", "points", 1, 1),
        ("senders", "s", "terminals", 1),
        ("wire_runs", "W1", "route", 0, "length"),
        ("wire_runs", "W1", "resistance"),
        ("operating_points", "climb", "readings", "oil pressure"),
    ]:
        assert document.declared_unknown(path)
    assert not document.declared_unknown(("zones", "engine bay", "temperature", "highest"))
    assert not document.declared_unknown(("zones", "engine bay", "title"))


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("taps: {t: {medium: unknown}}", "medium"),
        ("zones: {a: {}}\nbarriers: {b: {between: [a, unknown]}}", "between"),
        ("grounds: {g: {kind: unknown}}", "kind"),
    ],
)
def test_what_cannot_be_unknown(text, word):
    [problem] = refused(text)
    assert problem.endswith(f"'{word}' cannot be unknown; leave the whole entry out, or find it out")


PARTS = """\
title: our own
source: measured 2026
parts:
  long bulb:
    for: senders
    principle: resistance bulb
    terminals: [A, B]
    curve: {law: Pt100}
    tolerance: 2 degF
  bad bulb:
    for: senders
    tolerance: 5 V/ft
  our wire:
    for: wire_runs
    metal: copper
    sizes:
      22 AWG: {resistance: 16 ohm/1000 ft}
      20 AWG: {resistance: 10 psi}
"""


def write(folder: Path, **files: str) -> Path:
    for name, text in files.items():
        path = folder / f"{name.replace('__', '/')}.yaml"
        path.parent.mkdir(exist_ok=True)
        path.write_text(text)
    return folder / "main.yaml"


def refused_file(path: Path) -> list[str]:
    with pytest.raises(DocumentError) as bad:
        load(path)
    return [str(p).removeprefix(f"{path.parent}/") for p in bad.value.problems]


def test_a_part_fills_the_spec_and_is_overridden_in_place():
    document = loads(
        HEAD + "senders: {s: {terminals: [A, B]}}\nindicators: {g: {terminals: [A, B]}}\nwire_runs:\n"
        "  W1: {part: AS22759/16, gauge: 22 AWG, from: s.A, to: g.A}\n"
        "  W2: {part: AS22759/16, gauge: 22 AWG, from: s.B, to: g.B, resistance: 20 ohm/1000 ft}\n"
        "  W3: {part: AS22759/16, gauge: AWG 20, from: s.B, to: g.B}\n"
        "  W4: {part: AS22759/16, gauge: 22 AWG, from: s.A, to: g.A}\n"
    )
    runs = document.installation.wire_runs
    # AC 43.13-1B table 11-9: 16.2 ohm and 9.88 ohm per 1000 ft of 22 and 20 AWG tin-plated wire
    assert [r.spec.resistance.text for r in runs.values()] == [
        "16.2 ohm/1000 ft",
        "20 ohm/1000 ft",
        "9.88 ohm/1000 ft",
        "16.2 ohm/1000 ft",
    ]
    assert runs["W2"].spec.temperature_rating == runs["W1"].spec.temperature_rating
    assert runs["W1"].spec is runs["W4"].spec
    assert document.place(("wire_runs", "W2", "resistance")).line == 6
    assert document.place(("wire_runs", "W1", "resistance")).file == "parts/wires.yaml"
    assert document.holds(("wire_runs", "W2", "resistance"))
    assert not document.holds(("wire_runs", "W1", "resistance"))


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        ("part: AS22759/16", "needs its gauge; it comes in 24 AWG, 22 AWG"),
        ("part: AS22759/16, gauge: 3 AWG", "does not come in '3 AWG'; it comes in 24 AWG, 22 AWG"),
        (
            "part: AS22759/166, gauge: 22 AWG",
            "there is no part 'AS22759/166' for wire_runs; did you mean 'AS22759/16'",
        ),
    ],
)
def test_sizes_and_names_of_parts(entry, said):
    [problem] = refused(ENDS + f"wire_runs: {{W1: {{{entry}, from: s.A, to: g.A}}}}")
    assert said in problem


def test_a_part_of_another_section():
    [problem] = refused("senders: {s: {part: AS22759/16}}")
    assert problem == "f:2:21: part 'AS22759/16' belongs under wire_runs, not senders"


def test_part_files_of_ones_own(tmp_path):
    main = write(
        tmp_path,
        main=HEAD + "part_files: [ours.yaml]\nsenders:\n  s: {part: long bulb, tolerance: 1 degF}\n",
        ours=PARTS,
    )
    document = load(main)
    spec = document.installation.senders["s"].spec
    assert (spec.terminals, spec.tolerance.text, spec.source) == (["A", "B"], "1 degF", "measured 2026")
    assert document.place(("senders", "s", "curve", "law")) == (str(tmp_path / "ours.yaml"), 8, 18)
    assert document.place(("senders", "s", "tolerance")) == (str(main), 4, 35)
    assert "long bulb" not in standard_library().parts


def test_errors_in_a_part_file_are_told_where_they_stand(tmp_path):
    main = write(
        tmp_path,
        main=HEAD
        + "part_files: [ours.yaml]\n"
        + "senders:\n  a: {part: bad bulb, terminals: [A]}\n  b: {part: bad bulb, terminals: [A]}\n"
        + "wire_runs: {W1: {part: our wire, gauge: 20 AWG, from: a.A, to: b.A}}\n",
        ours=PARTS,
    )
    told = refused_file(main)
    assert [t.split(" ", 2)[0] for t in told] == ["ours.yaml:12:16:", "ours.yaml:18:28:"]


def test_part_folders_named_by_the_caller(tmp_path):
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop" / "ours.yaml").write_text(PARTS)
    (tmp_path / "job").mkdir()
    main = write(tmp_path / "job", main=HEAD + "part_files: [ours.yaml]\nsenders: {s: {part: long bulb}}\n")
    assert refused_file(main)[0].startswith("main.yaml:2:14: there is no file 'ours.yaml' in the folder")
    assert load(main, [tmp_path / "shop"]).installation.senders["s"].spec.principle == "resistance bulb"


def test_included_files_add_their_sections(tmp_path):
    main = write(
        tmp_path,
        main=HEAD
        + "include: [zones.yaml, more/wires.yaml]\ndeviations: [{rule: a, at: b}]\nmeasured: [{value: 1 ohm}]\n",
        zones="zones:\n  cabin: {occupied: yes}\ndeviations:\n  - {rule: c, at: d}\n  - {rule: e, at: f}\n",
        more__wires="zones: {tail: {}}\nmeasured: [{value: 2 ohm}]\n",
    )
    document = load(main)
    assert list(document.installation.zones) == ["cabin", "tail"]
    assert [d.rule for d in document.installation.deviations] == ["a", "c", "e"]
    assert document.place(("zones", "cabin", "occupied")) == (str(tmp_path / "zones.yaml"), 2, 21)
    assert document.place(("deviations", 0)).file == str(main)
    assert document.place(("deviations", 2, "rule")) == (str(tmp_path / "zones.yaml"), 5, 12)
    assert document.place(("measured", 1, "value")) == (str(tmp_path / "more" / "wires.yaml"), 2, 20)
    assert document.holds(("deviations", 2, "at"))
    assert not document.holds(("deviations", 2, "until"))


def test_errors_in_included_files_have_their_own_places(tmp_path):
    main = write(
        tmp_path,
        main=HEAD + "include: [zones.yaml]\nzones: {cabin: {}}\naircraft: {}\nmeasured: [{value: 1 ohm}]\n",
        zones="zones: {cabin: {}, tail: {occupied: 7}}\naircraft: {}\ninclude: [more.yaml]\nmeasured:\n  - {value: 1 stone}\n",
    )
    assert refused_file(main) == [
        f"zones.yaml:1:9: 'cabin' is already under zones in {main}, line 3",
        "zones.yaml:1:37: '7' is neither yes nor no; write 'yes' or 'no'",
        f"zones.yaml:2:1: 'aircraft' is already given in {main}",
        f"zones.yaml:3:1: an included file cannot have 'include'; only {main} names other files",
        "zones.yaml:5:13: one of: open, or a quantity; 'stone' in '1 stone' is not a unit of an indication (temperature, pressure, speed, flow...)"
        " (ohm, kohm, V, mV, A, mA, degF, degC, psi, inHg, rpm, gal/h, L/min, qt, gal, %, deg, ft, in, Hz, kHz)",
    ]


def test_files_outside_the_folder_are_not_read(tmp_path):
    folder = tmp_path / "job"
    folder.mkdir()
    (tmp_path / "secret.yaml").write_text("zones: {secret: {}}\n")
    (folder / "link.yaml").symlink_to(tmp_path / "secret.yaml")
    (folder / "up").symlink_to(tmp_path)
    (folder / "loop.yaml").symlink_to(folder / "loop.yaml")
    (folder / "a").symlink_to(folder / "b")
    (folder / "b").symlink_to(folder / "a")
    os.mkfifo(folder / "pipe.yaml")
    names = [
        "../secret.yaml",
        "../job/../secret.yaml",
        str(tmp_path / "secret.yaml"),
        "link.yaml",
        "up/secret.yaml",
        "loop.yaml",
        "a/x.yaml",
        "pipe.yaml",
        ".",
        "x" * 5000,
        "no.yaml",
        "main.yaml",
    ]
    main = write(folder, main=HEAD + "include:\n" + "".join(f"  - {n}\n" for n in names))
    told = refused_file(main)
    outside = "lies outside the folder of the document"
    assert len(told) == len(names)
    for name, said in zip(names, told, strict=True):
        expected = (
            ["is already read"]
            if name == "main.yaml"
            else [outside]
            if name in names[:5]
            else ["cannot be followed to a file", "there is no file"]
        )
        assert any(e in said for e in expected), (name, said)
    assert not any("secret: " in t for t in told)


def test_a_link_inside_the_folder_is_followed(tmp_path):
    main = write(tmp_path, main=HEAD + "include: [link.yaml]\n", zones="zones: {cabin: {}}\n")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "zones.yaml")
    assert list(load(main).installation.zones) == ["cabin"]


def test_the_same_file_twice(tmp_path):
    main = write(tmp_path, main=HEAD + "include: [z.yaml, ./z.yaml]\n", z="zones: {cabin: {}}\n")
    assert refused_file(main) == ["main.yaml:2:19: './z.yaml' is already read"]


def test_a_missing_file_names_what_is_there(tmp_path):
    main = write(tmp_path, main=HEAD + "include: [zone.yaml, q.yaml]\n", zones="", wires="")
    assert refused_file(main) == [
        "main.yaml:2:11: there is no file 'zone.yaml' in the folder of the document; did you mean 'zones.yaml'?",
        "main.yaml:2:22: there is no file 'q.yaml' in the folder of the document; there are wires.yaml, zones.yaml",
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("include: zones.yaml", "f:2:10: 'include' is a list of file names: write 'include: [zones.yaml]'"),
        ("part_files: [{a: b}]", "f:2:14: a file name is wanted here"),
        ("include: [zones.yaml]", "f:2:11: a text without a file cannot name other files"),
    ],
)
def test_lists_of_files(text, said):
    assert refused(text) == [said]


def test_the_digest_follows_every_byte_of_every_file(tmp_path):
    files = {
        "main": HEAD + "include: [z.yaml]\npart_files: [p.yaml]\n",
        "z": "zones: {a: {}}\n",
        "p": "parts: {}\n",
    }
    first = load(write(tmp_path, **files)).digest
    sums = [hashlib.sha256(files[n].encode()).digest() for n in ("main", "z", "p")]
    assert first == hashlib.sha256(b"".join(sums)).hexdigest()
    seen = {first}
    for name in files:
        seen.add(load(write(tmp_path, **{**files, name: files[name] + "# more\n"})).digest)
        write(tmp_path, **files)
    assert len(seen) == 4
    assert load(tmp_path / "main.yaml").digest == first


def test_text_that_is_not_text():
    with pytest.raises(DocumentError, match="not UTF-8"):
        loads("a: \ud800")


def test_a_wrong_name_used_ten_thousand_times_is_told_quickly():
    runs = "".join(
        f"  W{i}: {{from: s{i}.A, to: x{i}.A, route: [{{zone: engin bay}}]}}\n" for i in range(10_000)
    )
    with pytest.raises(DocumentError) as bad:
        loads(HEAD + "zones: {engine bay: {}}\nwire_runs:\n" + runs)
    assert len(bad.value.problems) == 30_000


GOOD = """\
installation: {name: good, revision: A, notes: [one]}
aircraft: {basis: part 23 before 2017, operation: [VFR day], system_voltage: 14 V}
engines: {engine: {cylinders: 4, limits: {oil temperature: {maximum: 245 degF}}, seats: {1: right front}}}
zones:
  engine bay: {fire_zone: yes, temperature: {lowest: 0 degF, highest: 250 degF}}
  cabin: {occupied: yes}
barriers: {firewall: {between: [engine bay, cabin], kind: firewall}}
operating_points: {climb: {zone_temperatures: {cabin: 70 degF}, loads_on: [lamp], open_switches: [breaker]}}
grounds:
  airframe: {kind: structure, zone: cabin}
  engine case: {kind: engine case}
  strap: {kind: strap, from: engine case, to: airframe, resistance: 1 milliohm}
senders:
  bulb: {principle: resistance bulb, measures: oil temperature, terminals: [A, B], curve: {points: [[0 degF, 80 ohm], [300 degF, 140 ohm]]}}
  pressure: {principle: resistive, terminals: [S], case_return: yes, grounding: {to: engine case}}
probes: {head: {thermocouple: K, cylinder: 2, zone: engine bay}}
indicators:
  monitor:
    zone: cabin
    supply_terminals: [power, ground]
    inputs:
      oil: {principle: electronic resistance, terminals: [T1, T2], budget: 5 degF, open_shows: off scale high}
      pressure: {principle: series meter, terminals: [P]}
      head: {principle: electronic thermocouple, terminals: [C+, C-], thermocouple: K}
supplies: {battery: {kind: battery}, bus: {kind: bus}, breaker: {kind: breaker, rating: 5 A}}
loads: {lamp: {current: 1 A, connected_at: bus}}
junctions:
  plug: {kind: plug, mates: receptacle, cavities: {A: B}, pins: {A: {metal: copper}, B: {}}}
  receptacle: {kind: plug, terminals: [A, B]}
  selector: {kind: selector switch, terminals: [common +, 1 +, 2 +], selected: '1'}
bundles: {main: {wires: 12, zone: cabin}}
wire_runs:
  W1: {part: AS22759/16, gauge: 22 AWG, from: bulb.A, to: monitor.T1, route: [{zone: engine bay, length: 3 ft}, {barrier: firewall, through: grommet}, {zone: cabin, length: 4 ft}], bundle: main}
  W2: {part: AS22759/16, gauge: 22 AWG, from: bulb.B, to: monitor.T2, length: 7 ft, clearances: [{to: exhaust, kind: exhaust, distance: 4 in}]}
  W3: {part: thermocouple lead K, gauge: 20 AWG, length: 6 ft, conductors: {+: {from: head.+, to: monitor.C+}, -: {from: head.-, to: monitor.C-}}}
  W4: {part: shielded cable 1 core, gauge: 22 AWG, from: pressure.S, to: monitor.P, shield: {from: open, to: airframe}, terminations: [{kind: ring}, {kind: pin}]}
taps: {gallery: {medium: oil, engine: engine, pressure: 60 psi}}
fittings: {tee: {kind: tee, ports: [in, out, side]}, valve: {kind: check valve, flow: [in, out]}}
fluid_lines: {L1: {kind: tube, material: copper, from: gallery, to: tee.in, length: 1 ft}}
survey: {flight: {engine: engine, stages: {climb: {temperatures: {1: 400 degF, 2: 410 degF}}}}}
measured: [{between: [bulb.A, bulb.B], value: 95 ohm}, {of: W1, value: 0.1 ohm}]
deviations: [{rule: run-marked, at: W1, until: 2026-12-31}, {rule: run-marked, at: [W2, W3]}]
removed: {old gauge: {kind: instrument, zone: cabin, weight: 1 lb}}
"""
SCRAPS = [
    None,
    "",
    "unknown",
    "5",
    "5 psi",
    "-1 ohm",
    "x",
    "a.b",
    "yes",
    [],
    {},
    ["x"],
    {"x": "y"},
    [["1 psi", "2 ohm"]],
    "engine bay",
    "\u202e",
    7,
    "0",
]


def test_the_good_document_is_good():
    read = loads(GOOD)
    assert [i.name for i in indications(build(read.installation))[0]] == [
        "monitor oil",
        "monitor pressure",
        "monitor head",
    ]


def holders(value: object) -> list[dict | list]:
    inside = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    own = [value] if isinstance(value, (dict, list)) and value else []
    return own + [h for v in inside for h in holders(v)]


def broken(times: int, dice: random.Random) -> str:
    """The good document with entries deleted, doubled, moved, renamed or replaced."""
    whole = yaml.safe_load(GOOD)
    for _ in range(times):
        holder = dice.choice(holders(whole) or [whole])
        keys = list(holder) if isinstance(holder, dict) else list(range(len(holder)))
        if not keys:
            continue
        key = dice.choice(keys)
        other = dice.choice(holders(whole) or [whole])
        match dice.randrange(5):
            case 0:
                del holder[key]
            case 1:
                holder[key] = copy.deepcopy(dice.choice(SCRAPS))
            case 2 if isinstance(holder, list):
                holder.append(holder[key])
            case 3 if isinstance(holder, dict):
                holder[f"{key}x"] = holder.pop(key)
            case 4 if isinstance(holder, dict):
                holder[key] = yaml.safe_load(yaml.safe_dump(other))
    return yaml.safe_dump(whole, sort_keys=False, allow_unicode=True, width=80)


@settings(max_examples=300)
@given(st.integers(1, 6), st.randoms(use_true_random=False))
def test_broken_documents_are_read_or_refused_with_places(times, dice):
    text = broken(times, dice)
    try:
        read = loads(text, "f")
    except DocumentError as bad:
        lines = text.splitlines()
        told = [p for p in bad.problems if not p.place.file.startswith("parts/")]
    else:
        assert isinstance(read, Document)
        indications(build(read.installation))
        return
    for problem in told:
        assert problem.place.file == "f"
        assert problem.message
        assert 1 <= problem.place.line <= len(lines)
        assert 1 <= problem.place.column <= len(lines[problem.place.line - 1]) + 1
