"""One more indication in a document: what comes, where, and that it harms nothing."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest
from typer.testing import CliRunner

from installcheck import check
from installcheck.analysis.fluid.facts import media
from installcheck.analysis.study import Study
from installcheck.cli.commands import app
from installcheck.document import Document, load, loads
from installcheck.document.edited import edited
from installcheck.document.rewriting import rewritten
from installcheck.model.fields import Measure
from installcheck.rules.verdicts import Ledger, Outcome
from installcheck.starter.add import NoSpotError, added
from installcheck.starter.kits import KITS

DEMO = Path(__file__).parents[2] / "demo_aircraft"
BARE = """\
installation: {name: bare}   # to be filled
aircraft: {system_voltage: VOLTS V}
engines: {engine: {cylinders: 6, layout: opposed, limits: {oil pressure: {maximum: 100 psi}}}}
zones: {engine: {fire_zone: yes, vibrates: yes}, space: {fire_zone: yes}, cabin: {occupied: yes}}
barriers: {firewall: {between: [space, cabin], kind: firewall}}
supplies:
  bus: {kind: bus, voltage: VOLTS V, zone: cabin}
grounds: {airframe: {kind: structure, zone: cabin}}
# the end
"""
READ_ONLY_BY_ITS_SCALE = {"red-line-place", "scale-resolution"}
"""Rules on how a dial of the part library shows this engine's limit, which the buyer of the dial settles."""


def bare(volts: int = 14) -> Document:
    return loads(BARE.replace("VOLTS", str(volts)))


def grave(ledger: Ledger) -> set[tuple[str, str]]:
    """Rule and thing of what is wrong, but for what the dial bought will settle."""
    outcomes = (Outcome.DISCREPANCY, Outcome.ADVISORY)
    return {
        (v.rule, v.at[0] if v.at else "")
        for v in ledger.verdicts
        if v.outcome in outcomes and v.rule not in READ_ONLY_BY_ITS_SCALE
    }


@pytest.mark.parametrize("volts", [14, 28])
@pytest.mark.parametrize("measure", KITS)
def test_each_indication_comes_whole_and_raises_nothing_of_its_own(measure: str, volts: int) -> None:
    document = bare(volts)
    now = edited(document, added(document, measure))
    ledger = check(now)
    (shown,) = [i for i, gauge in now.installation.indicators.items() if gauge.spec.measures == measure]
    budgets = [v for v in ledger.verdicts if v.rule == "indication-within-budget" and shown in v.at]
    assert [v.outcome for v in budgets] == [Outcome.UNDETERMINED]  # the budget is for the user to say
    assert grave(ledger) - grave(check(document)) == set()


@pytest.mark.parametrize("measure", KITS)
def test_in_a_document_with_gauges_it_breaks_nothing(measure: str) -> None:
    document = load(DEMO / "poor_ground_cured.yaml")
    now = edited(document, added(document, measure))
    assert grave(check(now)) - grave(check(document)) == set()


def test_every_indication_the_checker_knows_can_be_added() -> None:
    assert set(KITS) == set(get_args(Measure))


FED = """\
  alternator: {kind: alternator, voltage: 14 V, rated_current: 40 A, zone: engine}
  alternator breaker: {part: breaker, size: 50 A, zone: cabin}
wire_runs:
  A1: alternator.+ to alternator breaker.in, AS22759/16 6 AWG, engine 3 ft, space 1 ft, firewall by fireproof grommet, cabin 2 ft
  A2: alternator breaker.out to bus, AS22759/16 6 AWG, cabin 1 ft   # the feed
  A3: alternator.- to airframe, AS22759/16 6 AWG, engine 1 ft
"""


def test_an_ammeter_goes_into_the_feed_that_is_there() -> None:
    text = (
        BARE.replace("VOLTS", "14")
        .replace("voltage: 14 V, zone", "zone")
        .replace("grounds:", f"{FED}grounds:")
    )
    document = loads(text)
    edit = added(document, "load current")
    model = edited(document, edit).installation
    assert (model.wire_runs["A2"].from_, model.wire_runs["A2"].to) == ("alternator breaker.out", "shunt.in")
    feed = model.wire_runs["shunt feed"]
    assert (feed.from_, feed.to, str(feed.gauge)) == ("shunt.out", "bus", "6")
    assert (
        model.junctions["shunt"].size == model.indicators["ammeter"].size == "50 A"
    )  # as the breaker's 50 A
    assert "load current breaker" not in model.supplies
    (raw,) = rewritten(document, edit).values()
    assert "A2: alternator breaker.out to shunt.in, AS22759/16 6 AWG, cabin 1 ft   # the feed" in raw.decode()
    # 14 V over the 2.8 ohm load is 5 A; 5 A through the 1 milliohm shunt of 50 A is 5 mV, a tenth of its 50 mV.
    loaded = (
        raw.decode()
        + "loads: {lamp: {resistance: 2.8 ohm, duty: continuous, zone: cabin, connected_at: bus}}\n"
    )
    ledger = check(loads(loaded + "operating_points: {cruise: {phase: cruise}}\n"))
    assert grave(ledger) - grave(check(document)) == set()


def test_without_a_feed_an_ammeter_comes_with_one() -> None:
    document = bare(28)
    model = edited(document, added(document, "load current")).installation
    assert model.supplies["bus"].spec.voltage is None
    assert float(model.supplies["alternator"].spec.voltage) == pytest.approx(28)
    ways = {(r.from_, r.to) for r in model.wire_runs.values()}
    assert {
        ("alternator.+", "alternator breaker.in"),
        ("alternator breaker.out", "shunt.in"),
        ("shunt.out", "bus"),
        ("shunt.sense +", "sense fuse A.in"),
        ("sense fuse A.out", "ammeter.+"),
    } <= ways


def test_a_vacuum_gauge_has_its_line_to_the_pump() -> None:
    document = bare()
    model = edited(document, added(document, "vacuum")).installation
    now = edited(document, added(document, "vacuum"))
    assert media(Study(now)).at("vacuum gauge.P") == {"air"}
    assert model.fittings["vacuum bulkhead"].barrier == "firewall"


def test_a_range_is_chosen_that_shows_the_limit() -> None:
    # 100 psi stands at 100 % of a scale of 100 psi, and at 67 % of one of 150 psi.
    document = bare()
    gauge = edited(document, added(document, "oil pressure")).installation.indicators["oil pressure gauge"]
    assert gauge.size == "150 psi"


def test_a_gauge_hangs_where_its_like_do_and_a_second_of_a_kind_on_its_own() -> None:
    document = bare()
    first = edited(document, added(document, "fuel flow"))
    assert "fuel flow breaker" in first.installation.supplies
    second = edited(first, added(first, "fuel flow"))
    assert second.installation.wire_runs["fuel flow gauge 2 power"].from_ == "fuel flow breaker 2.out"


def test_the_way_of_its_like_is_taken_with_lengths_to_be_told() -> None:
    document = load(DEMO / "retrofit_corrected.yaml")
    now = edited(document, added(document, "fuel flow"))
    route = now.installation.wire_runs["fuel flow signal"].route
    assert route is not None
    assert [s.zone or s.barrier for s in route] == ["engine", "engine bay", "firewall", "cabin"]
    assert all(s.length is None for s in route)
    assert now.declared_unknown(("wire_runs", "fuel flow signal", "route", 0, "length"))
    assert now.installation.indicators["fuel flow gauge"].status == "new"


def test_the_text_keeps_every_line_it_had() -> None:
    document = load(DEMO / "retrofit_corrected.yaml")
    old = (DEMO / "retrofit_corrected.yaml").read_text(encoding="utf-8").splitlines()
    (raw,) = rewritten(document, added(document, "fuel flow")).values()
    new = raw.decode().splitlines()
    assert [line for line in new if line in old] == old


def test_several_engines_are_asked_about() -> None:
    document = load(DEMO / "twin.yaml")
    with pytest.raises(NoSpotError, match="say which engine it serves"):
        added(document, "fuel flow")
    engine = list(document.installation.engines)[1]
    now = edited(document, added(document, "head temperature", engine, 3))
    probe = now.installation.probes[f"{engine} head probe 3"]
    assert (probe.engine, probe.cylinder, probe.zone) == (engine, 3, "right engine")


@pytest.mark.parametrize(
    ("measure", "engine", "cylinder", "why"),
    [
        ("oil presure", None, None, "did you mean 'oil pressure'"),
        ("oil pressure", "left", None, "there is no engine 'left'"),
        ("head temperature", None, 9, "there is no cylinder 9: the engine has 6"),
    ],
)
def test_what_cannot_be_added_is_said(
    measure: str, engine: str | None, cylinder: int | None, why: str
) -> None:
    with pytest.raises(NoSpotError, match=why):
        added(bare(), measure, engine, cylinder)


@pytest.mark.parametrize(
    ("line", "instead", "why"),
    [
        ("zones: {", "zones: {cabin: {}}\n#", "no zone is known to hold the panel"),
        ("  bus:", "  lamp fuse: {kind: fuse, rating: 1 A}\n#", "no bus is told"),
        ("grounds:", "#", "no ground is told"),
    ],
)
def test_a_document_that_says_too_little_is_told_what(line: str, instead: str, why: str) -> None:
    text = BARE.replace("VOLTS", "14").replace("zone: cabin", "title: any").replace("barriers:", "#")
    with pytest.raises(NoSpotError, match=why):
        added(loads(text.replace(line, instead)), "oil pressure")


def test_on_the_command_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("bare.yaml").write_text(BARE.replace("VOLTS", "14"))
    told = CliRunner().invoke(app, ["add", "Fuel Flow", "bare.yaml", "--out", "more.yaml"])
    assert told.exit_code == 0
    assert "+  fuel flow gauge: {part: fuel flow indicator" in told.output
    assert Path("bare.yaml").read_text() == BARE.replace("VOLTS", "14")
    assert "installation: {name: bare}   # to be filled\n" in Path("more.yaml").read_text()
    refused = CliRunner().invoke(app, ["add", "fuel flow", "bare.yaml", "--out", "more.yaml"])
    assert refused.exit_code == 2
    assert "is there already" in refused.output
    unknown = CliRunner().invoke(app, ["add", "oil colour", "bare.yaml"])
    assert unknown.exit_code == 2
    assert "is not an indication that can be added" in unknown.output


USUAL = """\
usual:
  senders: {mounted_on: firewall, elevation: 0 in, station: -4 in, immersed: yes, status: existing}
  probes: {distance: 3 in, cylinder: 2}
  indicators: {required: yes, budget: 3 psi, supply_current: 9 A}
  fluid_lines: {fitted: 2020-01-01, sleeve: yes, marked: yes}
  wire_runs: {slack: 4 in, marked: yes, mark_spacing: 15 in}
  supplies: {essential: yes}   # a comment that stays
"""


def test_what_is_usual_of_its_like_is_not_said_of_what_nobody_has_told() -> None:
    text = BARE.replace("VOLTS", "28") + USUAL
    document = loads(text)
    model = edited(document, added(document, "oil pressure")).installation
    sender = model.senders["oil transducer"]
    assert (sender.elevation, sender.station, sender.immersed) == (None, None, None)
    assert sender.mounted_on == "firewall"  # as the kit itself says
    shown = model.indicators["oil pressure gauge"]
    assert (shown.required, shown.spec.budget) == (None, None)
    assert float(shown.spec.supply_current or 0) == pytest.approx(0.1)  # as its part says: 100 mA
    hose = model.fluid_lines["oil hose"]
    assert (hose.fitted, hose.sleeve, hose.marked) == (None, None, True)
    run = model.wire_runs["oil signal"]
    assert (run.slack, run.marked) == (None, True)
    assert model.supplies["oil pressure breaker"].essential is None
    head = edited(document, added(document, "head temperature")).installation.probes["head probe"]
    assert (head.distance, head.cylinder) == (None, None)
    (raw,) = rewritten(document, added(document, "oil pressure")).values()
    assert [line for line in text.splitlines() if line not in raw.decode().splitlines()] == []
