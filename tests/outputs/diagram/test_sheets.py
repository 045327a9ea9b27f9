"""Drawings of whole documents: readable, complete, in order, marked at the place, and the same bytes on two runs."""

import importlib.util
import re
import sys
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest
from demo_causes import causes_of

from installcheck import check
from installcheck.analysis.study import Study
from installcheck.document import load, loads
from installcheck.drawing.ink import Trace
from installcheck.drawing.kinds import Change, DeviceKind, JointKind, Paper, WireKind
from installcheck.drawing.page import compose
from installcheck.drawing.png import page_png
from installcheck.drawing.svg import sheet_svg
from installcheck.files.writing import OutputError
from installcheck.outputs.diagram.change import sheets_of_change
from installcheck.outputs.diagram.dot import graph_dot
from installcheck.outputs.diagram.sheets import Subject, sheets
from installcheck.outputs.diagram.write import write_graph, write_sheets
from installcheck.outputs.pages import pages_as_pdf

TESTS = Path(__file__).parents[2]


def _module(path):
    """A test module by its file: tests are no package."""
    spec = importlib.util.spec_from_file_location(f"shared_{path.stem}", path)
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


readable = _module(TESTS / "drawing" / "test_readable.py")
big = _module(TESTS / "benchmarks" / "big_document.py")
DEMOS = ("before", "retrofit", "retrofit_corrected", "twin")


@cache
def demo(name):
    """A demo, read once."""
    return load(TESTS.parent / "demo_aircraft" / f"{name}.yaml")


@cache
def drawn(name):
    """The sheets of the whole of a demo, without its verdicts."""
    return sheets(demo(name))


@cache
def ledger_of(name):
    """What is found of a demo, judged once."""
    return check(demo(name))


@cache
def judged(name):
    """The sheets of the whole of a demo, with its verdicts."""
    return sheets(demo(name), ledger_of(name))


def texts(made):
    """All text of some sheets, each text element once, in one string."""
    found = []
    for sheet in made:
        root = ElementTree.fromstring(sheet_svg(sheet))
        found += [t.text or "" for t in root.iter(f"{readable.SVG}text")]
    return "\n".join(found)


def require_readable(made):
    for sheet in made:
        boxes = readable.text_boxes(sheet_svg(sheet))
        assert list(readable.overlaps(boxes)) == [], sheet.subject
        page = readable.compose(sheet)
        for box in boxes:
            assert box.left >= readable.MARGIN, box
            assert box.right <= page.width - readable.MARGIN, box
            assert box.top >= readable.MARGIN, box
            assert box.bottom <= page.height - readable.MARGIN, box
        assert list(readable.crossed(page)) == [], sheet.subject


def require_complete(document, made):
    """Every run, line and thing that is not removed stands on a sheet by its id."""
    model = document.installation
    ids = {w.id for s in made for w in s.wires} | {x.id for s in made for x in s.lines}
    ids |= {w for s in made for x in s.lines for w in (part.removeprefix("+ ") for part in x.flag)}
    for ident, run in model.wire_runs.items():
        for name in run.conductors or [""]:
            assert f"{ident} {name}".strip() in ids, ident
    for ident in model.fluid_lines:
        assert ident in ids, ident
    names = {d.lines[0] for s in made for d in s.devices} | {j.label for s in made for j in s.joints}
    names |= {b.label.split(" NEW")[0].split(" REMOVED")[0] for s in made for b in s.blocks}
    names |= {f.label for s in made for f in s.fittings} | ids
    folded = {i for i, f in model.fittings.items() if f.screwed_into is not None}
    for section, ident, _ in model.things():
        assert ident in names or ident in folded, (section, ident)


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("paper", list(Paper))
def test_all_sheets_of_the_demos_can_be_read(name, paper):
    made = sheets(demo(name), ledger_of(name), list(Subject), paper)
    require_readable(made)
    assert [s.number for s in made] == list(range(1, len(made) + 1))


@pytest.mark.parametrize("name", DEMOS)
def test_no_text_of_a_demo_is_cut_short(name):
    assert "…" not in texts(sheets(demo(name), None, list(Subject)))


@pytest.mark.parametrize("name", DEMOS)
def test_the_whole_of_a_demo_is_on_its_sheets(name):
    require_complete(demo(name), drawn(name))


@pytest.mark.parametrize("wires", [5, 20, 60, 150, 300])
def test_generated_installations_can_be_read_and_are_complete(wires):
    document = loads(big.big_document(max(wires, 10)) if wires >= 10 else SMALLEST)
    made = sheets(document, check(document), [Subject.WHOLE, Subject.POWER, Subject.GROUNDS])
    require_readable(made)
    require_complete(document, sheets(document))


SMALLEST = """
installation: {name: five wires, revision: A, date: 2031-04-12}
zones: {engine: {}, cabin: {}}
barriers: {firewall: {between: [engine, cabin], kind: firewall}}
supplies: {bus: {kind: bus, zone: cabin}, breaker: {kind: breaker, rating: 1 A, zone: cabin}}
grounds: {airframe: {kind: structure, zone: cabin}, stud: {kind: stud, joins: airframe, resistance: 1 milliohm, zone: cabin}}
senders: {bulb: {principle: resistance bulb, terminals: [A, B], zone: engine, measures: oil temperature, curve: {law: Pt100}}}
indicators:
  gauge: {principle: electronic resistance, measures: oil temperature, terminals: [A, B], supply_terminals: [power, ground], zone: cabin}
junctions:
  splice: {kind: splice, zone: engine}
  P1: {kind: plug, terminals: ['1', '2'], zone: cabin, mates: J1}
  J1: {kind: plug, terminals: ['1', '2'], zone: cabin}
wire_runs:
  W1: {from: bulb.A, to: splice, part: AS22759/16, gauge: 22 AWG, length: 2 ft}
  W2:
    {from: splice, to: P1.1, part: AS22759/16, gauge: 22 AWG,
    route: [{zone: engine, length: 4 ft 6 in}, {barrier: firewall, through: fireproof grommet}, {zone: cabin, length: 1 ft}]}
  W3: {from: J1.1, to: gauge.A, part: AS22759/16, gauge: 22 AWG, length: 8 in}
  W4: {from: bulb.B, to: gauge.B, part: AS22759/16, gauge: 22 AWG, length: 2.5 m}
  W5: {from: bus, to: breaker.in, part: AS22759/16, gauge: 22 AWG, length: 3 in}
  W6: {from: breaker.out, to: gauge.power, part: AS22759/16, gauge: 22 AWG, length: 1 ft}
  W7: {from: gauge.ground, to: stud, part: AS22759/16, gauge: 22 AWG, length: 1 ft}
"""


def indication(text=SMALLEST, ledger=False, name="gauge"):
    document = loads(text)
    made = sheets(document, check(document) if ledger else None, [Subject.INDICATIONS])
    (sheet,) = [s for s in made if s.subject == f"Indication: {name}"]
    return sheet


def test_an_indication_from_sender_to_bus_and_structure_with_every_joint_between():
    sheet = indication()
    assert {w.id for w in sheet.wires} == {"W1", "W2", "W3", "W4", "W5", "W6", "W7", "stud joint"}
    joints = {j.id: j.kind for j in sheet.joints}
    assert joints == {
        "splice": JointKind.SPLICE, "P1.1": JointKind.PIN, "J1.1": JointKind.PIN,
    }  # fmt: skip
    assert {d.lines[0] for d in sheet.devices} == {"bulb", "gauge", "bus", "breaker", "stud", "airframe"}
    chain = {w.id: (w.start, w.end) for w in sheet.wires}
    assert chain["W1"] == ("bulb.A", "splice")
    assert chain["W2"] == ("splice", "P1.1")
    assert chain["W3"] == ("J1.1", "gauge.A")
    assert chain["W5"] == ("bus", "breaker.in")


def test_wires_are_labelled_with_gauge_and_length_as_written():
    flags = {w.id: w.flag for w in indication().wires}
    assert flags["W2"] == ("22 AWG", "5 ft 6 in")
    assert flags["W3"] == ("22 AWG", "8 in")
    assert flags["W4"] == ("22 AWG", "2.5 m")
    assert flags["stud joint"] == ("1 milliohm",)


@pytest.mark.parametrize("name", ["retrofit", "twin"])
def test_every_terminal_of_an_indication_is_on_its_sheet(name, demo_folder):
    from installcheck.analysis.study import Study

    document = load(demo_folder / f"{name}.yaml")
    study = Study(document)
    made = sheets(document, None, [Subject.INDICATIONS])
    for one in study.indications:
        mine = [s for s in made if s.subject == f"Indication: {one.indicator}"]
        ends = {t.id for s in mine for d in s.devices for t in d.terminals} | {
            j.id for s in mine for j in s.joints
        }
        for leg in one.legs:
            for step in leg.steps:
                if step.edge.kind in ("conductor", "spool", "contact", "joint"):
                    assert {step.near, step.far} <= ends, (one.name, step.edge.label)


def test_terminals_stand_in_the_order_of_their_own_device_so_that_crossed_leads_cross(demo_folder):
    made = sheets(load(demo_folder / "retrofit.yaml"), None, [Subject.INDICATIONS])
    (sheet,) = [s for s in made if s.subject == "Indication: exhaust gauge"]
    (selector,) = [d for d in sheet.devices if d.lines[0] == "selector"]
    names = [t.label for t in selector.terminals]
    assert names == ["common +", "common -", "1 +", "1 -", "2 +", "2 -", "3 +", "3 -", "4 +", "4 -"]
    heights = {}
    for ink in compose(sheet).inks:
        if isinstance(ink, Trace) and ink.id in ("run-T13 +", "run-T13 -", "run-T14 +", "run-T14 -"):
            heights[ink.id] = (ink.points[0][1], ink.points[-1][1])
    (a, b), (c, d) = heights["run-T13 +"], heights["run-T13 -"]
    assert (a < c) == (b < d)
    # The legs of T14 are swapped at the selector.
    (a, b), (c, d) = heights["run-T14 +"], heights["run-T14 -"]
    assert (a < c) != (b < d)


def test_a_cable_is_no_twisted_pair_unless_the_document_says_so():
    text = SMALLEST + (
        "  C1: {part: thermocouple lead K, gauge: 20 AWG, length: 3 ft, conductors: {+: {from: probe.+, to: head.+}, '-': {from: probe.-, to: head.-}}}\n"
        "  C2: {part: shielded cable 3 core, gauge: 22 AWG, length: 3 ft, twisted: yes, conductors: {A: {from: bulb.A, to: head.+}, B: {from: bulb.B, to: head.-}, C: {from: bulb.B, to: head.-}}}\n"
        "probes: {probe: {thermocouple: K, zone: engine}}\n"
    ).replace("to: head.", "to: head gauge.")  # fmt: skip
    text = text.replace(
        "junctions:",
        "  head gauge: {principle: moving-coil thermocouple, thermocouple: K, terminals: [+, '-'], zone: cabin}\njunctions:",
    )
    made = sheets(loads(text))
    wires = {w.id: w for s in made for w in s.wires}
    assert (wires["C1 +"].pair, wires["C1 +"].kind, wires["C1 +"].letters) == (
        "C1",
        WireKind.THERMOCOUPLE,
        "K+",
    )
    assert wires["C2 A"].pair == ""
    assert "twisted" in wires["C2 A"].flag
    assert "twisted" not in wires["C1 +"].flag
    assert "twisted pair" not in texts(made)


def test_a_shield_is_drawn_to_its_ground_and_open_at_its_other_end():
    text = SMALLEST.replace(
        "  W7:",
        "  C1: {part: shielded cable 3 core, gauge: 22 AWG, length: 3 ft, shield: {from: open, to: stud}, conductors: {A: {from: bulb.A, to: gauge.A}}}\n  W7:",
    )
    sheet = indication(text)
    (shield,) = [w for w in sheet.wires if w.kind is WireKind.SHIELD]
    assert shield.end == "stud"
    assert {j.kind for j in sheet.joints if j.id == shield.start} == {JointKind.OPEN_END}


def test_what_is_removed_is_drawn_as_removed():
    text = SMALLEST.replace(
        "gauge: 22 AWG, length: 1 ft}\n  W7", "gauge: 22 AWG, length: 1 ft, status: removed}\n  W7"
    )
    text += "removed: {old gauge: {kind: instrument, left: blanked, zone: cabin, ends: [bulb.A]}}\n"
    made = sheets(loads(text))
    (w6,) = [w for s in made for w in s.wires if w.id == "W6"]
    assert w6.change is Change.REMOVED
    (gone,) = [d for s in made for d in s.devices if d.lines[0] == "old gauge"]
    assert gone.change is Change.REMOVED
    assert gone.lines == ("old gauge", "instrument", "was at bulb.A", "left blanked")
    assert "W6" not in {w.id for s in sheets(loads(text), None, [Subject.POWER]) for w in s.wires}


def test_a_new_block_says_so_once():
    text = SMALLEST.replace("P1: {kind: plug,", "P1: {kind: plug, status: new,")
    words = texts(sheets(loads(text)))
    assert len(re.findall(r"P1 NEW", words)) == 1
    assert "1 NEW\n" not in words.replace("P1 NEW", "")


FLUID = """
installation: {name: lines}
zones: {engine: {}, bay: {}, cabin: {}}
barriers:
  first wall: {between: [engine, bay]}
  second wall: {between: [bay, cabin]}
taps: {tap: {medium: oil, zone: engine}, spare tap: {medium: fuel, zone: engine}}
indicators: {gauge: {principle: direct pressure, ports: [P], measures: oil pressure, zone: cabin}}
fittings:
  restrictor: {kind: restrictor, terminals: [in, out], bore: 0.040 in, screwed_into: tap, zone: engine}
  first: {kind: bulkhead fitting, terminals: ['1', '2'], barrier: first wall, zone: bay}
  second: {kind: bulkhead fitting, terminals: ['1', '2'], barrier: second wall, zone: cabin}
  dead end: {kind: bulkhead fitting, terminals: ['1', '2'], barrier: first wall, zone: bay}
  elbow: {kind: elbow, terminals: [in, out], screwed_into: gauge.P, zone: cabin}
fluid_lines:
  L2: {from: first.2, to: second.1, medium: oil, length: 8 in, material: rubber, size: '-4'}
  L1: {from: restrictor.out, to: first.1, medium: oil, length: 10 in, material: copper, outside_diameter: 0.25 in}
  L3: {from: second.2, to: elbow.in, medium: oil, length: 6 in, material: copper, outside_diameter: 0.25 in}
  L4: {from: spare tap, to: dead end.1, medium: fuel, length: 6 in}
"""


def test_a_line_through_two_barriers_is_one_line_with_both_fittings():
    (sheet,) = sheets(loads(FLUID), None, [Subject.FLUID])
    whole = next(x for x in sheet.lines if x.medium == "oil")
    assert {whole.start, whole.end} == {"tap", "gauge.P"}
    assert {whole.id, *(f.removeprefix("+ ") for f in whole.flag)} >= {"L1", "L2", "L3"}
    assert "2 ft" in whole.flag  # 8 + 10 + 6 in
    assert whole.flag == ("copper", "0.25 in", "+ L2", "rubber", "-4", "+ L3", "2 ft")
    assert len(whole.through) == 2
    (dead,) = [x for x in sheet.lines if x.medium == "fuel"]
    assert {j.kind for j in sheet.joints if j.id in (dead.start, dead.end)} == {JointKind.OPEN_END}
    (tap,) = [d for d in sheet.devices if d.lines[0] == "tap"]
    assert "restrictor 0.04 in" in tap.lines or "restrictor 0.040 in" in tap.lines


def test_an_indication_shows_the_line_to_its_gauge():
    made = sheets(loads(FLUID), None, [Subject.INDICATIONS])
    assert [s.subject for s in made] == ["Indication: gauge"]
    assert len(made[0].lines) == 1


def test_verdicts_stand_at_the_conductor_they_concern_and_link_to_their_text():
    text = SMALLEST.replace("W4: {from: bulb.B", "W4: {marked: no, from: bulb.B")
    document = loads(text)
    ledger = check(document, ["run-marked"])
    (sheet,) = sheets(document, ledger)
    (mark,) = [m for m in sheet.marks if m.target == "W4"]
    assert "W4" in mark.text
    svg = sheet_svg(sheet).decode()
    assert f'href="#verdict-{mark.number}"' in svg
    assert f'id="verdict-{mark.number}"' in svg


def test_an_indication_sheet_has_no_verdicts_of_other_circuits():
    text = SMALLEST + "  W9: {from: breaker.out, to: stud, gauge: 22 AWG, length: 1 ft, marked: no}\n"
    document = loads(text)
    (sheet,) = sheets(document, check(document, ["run-marked"]), [Subject.INDICATIONS])
    assert "W9" not in {m.target for m in sheet.marks}
    assert all("W9" not in m.text for m in sheet.marks)


@pytest.mark.parametrize("name", ["retrofit", "twin"])
def test_equal_bytes_on_two_runs(name, demo_folder):
    def made():
        document = load(demo_folder / f"{name}.yaml")
        found = sheets(document, check(document), list(Subject))
        return (
            [sheet_svg(s) for s in found],
            graph_dot(Study(document)),
            page_png(compose(found[0])),
            pages_as_pdf([compose(s) for s in found[:4]]),
        )

    assert made() == made()


def test_files_of_every_form(tmp_path):
    document = loads(SMALLEST)
    found = sheets(document) * 2
    names = write_sheets(found, tmp_path / "d.svg")
    assert [p.relative_to(tmp_path).as_posix() for p in names] == ["d/d-01.svg", "d/d-02.svg"]
    assert write_sheets(found, tmp_path / "d.pdf")[0].read_bytes().startswith(b"%PDF")
    assert write_sheets(found[:1], tmp_path / "d.png")[0].read_bytes().startswith(b"\x89PNG")
    assert "graph" in write_graph(Study(document), tmp_path / "d.dot")[0].read_text()
    with pytest.raises(OutputError, match="the ending picks the form"):
        write_sheets(found, tmp_path / "d.gif")


def test_pages_of_an_earlier_drawing_do_not_stay_among_the_new(tmp_path):
    (sheet,) = sheets(loads(SMALLEST))
    assert len(write_sheets([sheet] * 3, tmp_path / "d.svg")) == 3
    (tmp_path / "d" / "my notes.svg").write_text("mine")
    write_sheets([sheet] * 2, tmp_path / "d.svg")
    assert sorted(p.name for p in (tmp_path / "d").iterdir()) == ["d-01.svg", "d-02.svg", "my notes.svg"]


def test_a_folder_that_cannot_be_made_is_told(tmp_path):
    (tmp_path / "d").write_text("a file of that name")
    with pytest.raises(OutputError, match="the folder"):
        write_sheets(sheets(loads(SMALLEST)) * 2, tmp_path / "d.svg")
    assert [p.name for p in tmp_path.iterdir()] == ["d"]


@pytest.mark.parametrize(
    "text",
    [
        "installation: {name: empty}",
        "installation: {name: one zone}\nzones: {cabin: {}}",
        "installation: {name: no zones}\nsenders: {s: {terminals: [A, B]}}\nindicators: {g: {terminals: [A, B]}}\nwire_runs: {W1: {from: s.A, to: g.A}}",
        "installation: {name: loop}\njunctions: {s: {kind: splice}}\nindicators: {g: {terminals: [A, B]}}\nwire_runs: {W1: {from: g.A, to: g.B}, W2: {from: g.A, to: s}}",
    ],
)
def test_documents_with_next_to_nothing_are_drawn(text):
    document = loads(text)
    made = sheets(document, check(document), list(Subject))
    require_readable(made)
    require_complete(document, made)


@pytest.mark.parametrize(
    ("name", "order"),
    [
        # the battery's and an alternator's feed, gauges from senders and probes, the joints of the stud to the structure
        ("retrofit", ["P1", "E3", "T14 +", "manifold hose", "bond 3"]),
        ("twin", ["B1", "L10 A", "L61 +", "R61 +", "left strap"]),
    ],
)
def test_power_comes_first_then_indications_then_grounds(name, order):
    made = judged(name)
    on = {run.id: sheet.number for sheet in made if sheet.subject.startswith("Whole") for run in sheet.runs}
    assert [on[ident] for ident in order] == sorted(on[ident] for ident in order)


@pytest.mark.parametrize("name", ["before", "retrofit", "retrofit_corrected", "twin", "first_document"])
def test_no_sheet_of_the_whole_holds_next_to_nothing(name):
    for sheet in judged(name):
        assert sheet.is_list or len(sheet.devices) + len(sheet.blocks) > 2, sheet.subject


def test_no_sheet_of_a_change_holds_next_to_nothing(demo_folder):
    old, new = (load(demo_folder / f"{name}.yaml") for name in ("before", "retrofit"))
    for sheet in sheets_of_change(old, new, check(new)):
        assert sheet.is_list or len(sheet.devices) + len(sheet.blocks) > 2, sheet.subject


def test_flags_bear_the_number_of_the_thing_to_put_right():
    """One of the demo's causes is a breaker too large for the seven runs behind it, and for the returns of four gauges."""
    causes = causes_of("retrofit")
    made = sheets(causes.ledger.document, causes.ledger, causes=causes)
    number = next(n for n, cause in enumerate(causes.causes, start=1) if "gauges breaker" in cause.heading)
    places = {mark.target for sheet in made for mark in sheet.marks if mark.number == number}
    fed, returned = {"P9", "P9A", "P9B", "P20", "P22", "P24", "P28"}, {"P21", "P23", "P25", "P29"}
    assert places == {"device gauges breaker", *fed, *returned}
    # T11 and T12 together unmatch the exhaust gauge: each is flagged under its own number alone
    numbers = {t: {m.number for s in made for m in s.marks if m.target.startswith(t)} for t in ("T11", "T12")}
    assert [len(found) for found in numbers.values()] == [1, 1]
    assert numbers["T11"] != numbers["T12"]
    shapes = {mark.number: mark.outcome for sheet in made for mark in sheet.marks}
    assert all(shapes[n] == "discrepancy" for n in range(1, len(causes.causes) + 1))
    assert {shapes[n] for n in shapes if n > len(causes.causes)} == {"advisory"}


@pytest.mark.parametrize("name", [*DEMOS, "poor_ground", "first_document", "from_lists"])
def test_no_run_is_drawn_through_a_zone_it_does_not_pass(name):
    model = demo(name).installation
    passed = {i: {f"zone {s.zone}" for s in r.route or () if s.zone} for i, r in model.wire_runs.items()}
    seen = 0
    for sheet in drawn(name):
        place = {band.id: number for number, band in enumerate(sheet.bands)}
        band = {t.id: d.band for d in sheet.devices for t in d.terminals} | {
            j.id: j.band for j in sheet.joints
        }
        for wire in sheet.wires:
            ends = sorted(place[band[end]] for end in (wire.start, wire.end))
            mine = passed.get(wire.id) or passed.get(wire.id.rpartition(" ")[0])
            if mine:
                between = {b.id for b in sheet.bands[ends[0] + 1 : ends[1]]}
                assert between <= mine, (sheet.subject, wire.id)
                seen += 1
    assert seen > 3


def test_channels_of_a_selector_are_parted_by_the_bank_of_their_cylinders():
    """Seats of the twin's engines: 1, 3, 5 on the right, 2, 4, 6 on the left. No sheet holds six with the gauge."""
    made = drawn("twin")
    for side in ("left", "right"):
        for sort in ("head", "exhaust"):
            shown = [
                [
                    d.id[-1]
                    for d in sheet.devices
                    if d.id.startswith(f"device {side} {sort} ") and d.id[-1].isdigit()
                ]
                for sheet in made
                if not sheet.subject.startswith("Overview")
            ]
            assert [one for one in shown if one] == [["1", "3", "5"], ["2", "4", "6"]]


def test_heads_and_exhausts_of_a_monitor_stand_on_a_sheet_each():
    made = drawn("first_document")
    probes = [{d.id.split()[1] for d in s.devices if d.kind is DeviceKind.PROBE} for s in made[1:]]
    assert [one for one in probes if one] == [{"head"}, {"exhaust"}]


def test_a_strap_crosses_every_barrier_between_its_zones():
    made = drawn("twin")
    sheet = next(s for s in made if any(w.id == "right strap" for w in s.wires))
    strap = next(w for w in sheet.wires if w.id == "right strap")
    assert set(strap.crosses) == {"barrier right fuselage side", "barrier right firewall"}
    assert set(strap.crosses) <= {b.id for b in sheet.barriers}


def test_each_engine_of_a_twin_is_drawn_on_its_own_side():
    order = [f"zone {z}" for z in ("left engine", "left wing", "cabin", "right wing", "right engine")]
    for sheet in drawn("twin"):
        shown = [band.id for band in sheet.bands]
        assert shown == [zone for zone in order if zone in shown]


@pytest.mark.parametrize("name", [*DEMOS, "poor_ground", "first_document", "from_lists"])
def test_no_sheet_of_an_indication_goes_on_with_power(name):
    """Runs between sources, buses and protectors alone stand on sheets without a gauge."""
    power = {DeviceKind.SUPPLY, DeviceKind.PROTECTION}
    for sheet in drawn(name):
        kinds = {t.id: d.kind for d in sheet.devices for t in d.terminals}
        feeds = [w.id for w in sheet.wires if {kinds.get(w.start), kinds.get(w.end)} <= power]
        dials = [d.id for d in sheet.devices if d.kind is DeviceKind.DIAL]
        assert not (feeds and dials) or sheet.subject.startswith("Overview"), (sheet.subject, feeds, dials)
