"""A run that a cure leads by itself lies by itself, also where the document tells a bundle once for all runs."""

from __future__ import annotations

import pytest

from installcheck.analysis.study import Study
from installcheck.causes.moves.places import bundles
from installcheck.document import loads
from installcheck.document.edited import edited

TEXT = """\
installation: {name: two harnesses}
zones: {engine: {fire_zone: yes}, cabin: {occupied: yes}}
senders: {bulb: {terminals: [A, B], zone: engine}}
indicators: {gauge: {terminals: [A, B], zone: cabin}}
bundles:
  front harness: {wires: 20, bend_radius: 6 in, support_spacing: 12 in}
  panel harness: {wires: 9, bend_radius: 4 in}
wire_runs:
  E1: {part: AS22759/16, gauge: 22 AWG, from: bulb.A, to: gauge.A, bundle: front harness}
  E2: {part: twisted pair, gauge: 22 AWG, conductors: {A: {from: bulb.A, to: gauge.A}, B: {from: bulb.B, to: gauge.B}},
    bundle: front harness}
"""
USUAL = "usual: {wire_runs: {bundle: panel harness}}\n"


def led_alone(text: str, run: str):
    document = loads(text)
    edit = next(e for e in bundles(Study(document), run) if "clamps of its own" in e.words)
    return edited(document, edit).installation


def test_it_lies_in_free_air_where_no_bundle_is_usual() -> None:
    after = led_alone(TEXT, "E1")
    run = after.wire_runs["E1"]
    assert (run.bundle, run.free_air) == (None, True)
    assert str(run.bend_radius.text) == "6 in"
    assert set(after.bundles) == {"front harness", "panel harness"}


@pytest.mark.parametrize(("run", "wires"), [("E1", 1), ("E2", 2)])
def test_it_gets_a_bundle_of_its_own_where_one_is_usual(run: str, wires: int) -> None:
    after = led_alone(USUAL + TEXT, run)
    own = after.wire_runs[run].bundle
    assert own not in (None, "front harness", "panel harness")
    assert not after.wire_runs[run].free_air
    bundle = after.bundles[own]
    assert (bundle.wires, bundle.support_spacing.text) == (wires, "12 in")
    assert [i for i, r in after.wire_runs.items() if r.bundle == own] == [run]
