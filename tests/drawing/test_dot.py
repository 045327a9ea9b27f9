"""The DOT text: read back by the renderer, it has the things and the joints of the sheet."""

import json
import subprocess
from collections.abc import Callable

import pytest

from installcheck.drawing.render import renderer
from installcheck.drawing.sheet import Sheet
from installcheck.drawing.split import split_sheet
from installcheck.outputs.diagram.dot import sheet_dot


def read(dot: str) -> dict[str, list[dict[str, object]]]:
    done = subprocess.run(
        [renderer(), "-Kdot", "-Tdot_json"], input=dot.encode(), capture_output=True, check=True
    )
    graph: dict[str, list[dict[str, object]]] = json.loads(done.stdout)
    return graph


@pytest.mark.parametrize("wires", [5, 60])
def test_every_terminal_fitting_and_run_is_there(fictional_sheet: Callable[[int], Sheet], wires: int) -> None:
    for part in split_sheet(fictional_sheet(wires)):
        graph = read(sheet_dot(part))
        nodes = [thing for thing in graph["objects"] if "nodes" not in thing and "subgraphs" not in thing]
        terminals = sum(len(device.terminals) for device in part.devices)
        assert len(nodes) == terminals + len(part.joints) + len(part.fittings)
        assert len(graph["edges"]) == sum(1 + len(run.through) for run in part.runs)
        labels = " ".join(str(thing.get("label", "")) for thing in graph["objects"])
        for thing in (*part.bands, *part.barriers, *part.fittings):
            assert thing.label in labels


def test_text_of_the_document_is_neither_markup_nor_port_nor_attribute(hostile_sheet: Sheet) -> None:
    graph = read(sheet_dot(hostile_sheet))
    assert len(graph["edges"]) == 1
    assert len([thing for thing in graph["objects"] if "nodes" not in thing]) == 2
