"""The DOT text, read by a program that lays DOT out: the graph of the installation as real nodes and edges."""

import json
import shutil
import subprocess
import sysconfig
from collections import Counter, defaultdict
from pathlib import Path

import pytest

from installcheck.analysis.study import Study
from installcheck.document import load, loads
from installcheck.model.installation import is_one_point, terminals_of
from installcheck.outputs.diagram.dot import graph_dot

RENDERER = shutil.which("graphviz-pure", path=sysconfig.get_path("scripts")) or "graphviz-pure"
DEMOS = ("before", "retrofit", "retrofit_corrected", "twin")


def read(dot: str, engine: str = "dot", form: str = "dot_json") -> dict[str, list[dict[str, object]]]:
    done = subprocess.run(
        [RENDERER, f"-K{engine}", f"-T{form}"], input=dot.encode(), capture_output=True, check=True
    )
    assert b"rror" not in done.stderr, done.stderr
    graph: dict[str, list[dict[str, object]]] = json.loads(done.stdout)
    return graph


@pytest.mark.parametrize("name", DEMOS)
def test_every_device_terminal_run_line_zone_and_barrier_is_there(name: str, demo_folder: Path) -> None:
    study = Study(load(demo_folder / f"{name}.yaml"))
    model, graph = study.graph.model, read(graph_dot(study))
    things = graph["objects"]
    nodes = [thing for thing in things if "nodes" not in thing and "subgraphs" not in thing]
    clusters = [thing for thing in things if str(thing.get("name", "")).startswith("cluster_")]
    for section in ("zones", "barriers"):
        told = {thing["ident"] for thing in clusters if thing.get("section") == section}
        assert told == set(model.section(section))
    terminals = defaultdict(set)
    for node in nodes:
        terminals[node.get("ident")].add(node.get("terminal"))
    boxes = {thing["ident"] for thing in clusters if thing.get("section") not in ("zones", "barriers")}
    for section, ident, thing in model.things():
        assert ident in terminals, ident
        if not is_one_point(thing):
            assert set(terminals_of(section, thing) or ()) <= terminals[ident]
            assert ident in boxes or None in terminals[ident] or not terminals_of(section, thing)
    # A run of several crossings comes in as many parts and one: each part says whose it is.
    told = Counter((edge["section"], edge["ident"]) for edge in graph["edges"])
    for ident, run in model.wire_runs.items():
        for conductor in run.conductors or [""]:
            crossed = sum(step.barrier is not None for step in run.route or ())
            assert told["wire_runs", f"{ident} {conductor}".strip()] == 1 + crossed
    for ident, line in model.fluid_lines.items():
        assert told["fluid_lines", ident] == 1 + sum(step.barrier is not None for step in line.route or ())


SMALL = """
installation: {name: small, revision: B}
zones: {engine: {}, cabin: {}}
barriers: {firewall: {between: [engine, cabin], kind: firewall}}
grounds: {airframe: {kind: structure, zone: cabin}}
senders: {bulb: {principle: resistance bulb, terminals: [A, B], zone: engine, measures: oil temperature}}
indicators: {gauge: {principle: electronic resistance, measures: oil temperature, terminals: [A, B], zone: cabin}}
wire_runs:
  W1:
    {from: bulb.A, to: gauge.A, part: AS22759/16, gauge: 22 AWG,
    route: [{zone: engine, length: 4 ft}, {barrier: firewall, through: fireproof grommet}, {zone: cabin, length: 1 ft}]}
  W2: {from: bulb.B, to: airframe, part: AS22759/16, gauge: 22 AWG, length: 3 ft}
"""


def test_a_run_goes_from_terminal_to_terminal_by_way_of_its_crossing() -> None:
    graph = read(graph_dot(Study(loads(SMALL))))
    names = {thing["_gvid"]: thing for thing in graph["objects"]}

    def ends(edge: dict[str, object]) -> tuple[object, ...]:
        found = [names[edge[key]] for key in ("tail", "head")]  # type: ignore[index]
        return tuple((one.get("ident"), one.get("terminal") or one.get("kind")) for one in found)

    parts = [ends(edge) for edge in graph["edges"] if edge["ident"] == "W1"]
    assert parts == [(("bulb", "A"), (None, "crossing")), ((None, "crossing"), ("gauge", "A"))]
    assert [ends(edge) for edge in graph["edges"] if edge["ident"] == "W2"] == [
        (("bulb", "B"), ("airframe", None))
    ]
    first = next(edge for edge in graph["edges"] if edge["ident"] == "W1")
    assert str(first["label"]).split("\\n") == ["W1", "22 AWG", "5 ft", ""]


@pytest.mark.parametrize("engine", ["dot", "neato", "fdp"])
def test_any_layout_takes_it(engine: str) -> None:
    assert all("pos" in edge for edge in read(graph_dot(Study(loads(SMALL))), engine, "json")["edges"])


def test_the_caution_is_on_it_once() -> None:
    dot = graph_dot(Study(loads(SMALL)))
    assert dot.count("licensed person") == 1
    assert "small, revision B" in dot


HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    'quote " and backslash \\ and both\\',
    "<b>html-like</b>",
    "node:port:n, [label=x]; } digraph {",
    "\\N \\G %s {0}",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_text_of_the_document_is_neither_markup_nor_port_nor_attribute(text: str) -> None:
    name, terminal, end = (
        json.dumps(words) for words in (text, text[:40].strip(), f"bulb.{text[:40].strip()}")
    )
    study = Study(
        loads(
            f"installation: {{name: {name}}}\nsenders: {{bulb: {{terminals: [{terminal}, B]}}}}\n"
            f"indicators: {{g: {{terminals: [A, B], title: {name}}}}}\n"
            f"wire_runs: {{W1: {{from: {end}, to: g.A, colour: {name}}}}}\n"
        )
    )
    graph = read(graph_dot(study))
    (edge,) = [edge for edge in graph["edges"] if edge["kind"] == "conductor"]
    nodes = {thing["_gvid"]: thing for thing in graph["objects"] if "nodes" not in thing}
    assert len(nodes) == 4
    assert nodes[edge["tail"]]["section"] == "senders"  # type: ignore[index]


def test_hidden_characters_of_a_text_are_shown_as_a_sign(monkeypatch: pytest.MonkeyPatch) -> None:
    # A document that holds them is refused; whoever builds one without reading it is safe as well.
    monkeypatch.setattr("installcheck.outputs.diagram.dot.CAUTION", "right\u202eleft \u2066isolated\x1b[31m")
    assert "right\ufffdleft \ufffdisolated\ufffd[31m" in graph_dot(Study(loads(SMALL)))
