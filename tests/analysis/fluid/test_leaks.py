"""Leaks of broken lines, against published and hand-worked figures, and properties of any line."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from installcheck.analysis.fluid.facts import lines
from installcheck.analysis.fluid.leaks import Leaks, leaks
from installcheck.analysis.fluid.losses import explosive_after, oil_lasts, spilled
from installcheck.analysis.study import Study
from installcheck.document import loads

LITRE_PER_MINUTE = 1e-3 / 60

TEXT = """
installation: {{name: test}}
engines: {{engine: {{oil_quantity: 8 qt, oil_minimum: 2 qt}}}}
zones: {{engine: {{}}, bay: {{}}, cabin: {{volume: 2 m3}}}}
taps:
  gallery: {{medium: oil, pressure: 60 psi, temperature: 90 degC}}
  inlet: {{medium: fuel, pressure: 25 psi, temperature: 15 degC, shutoff: cock, shutoff_time: 20 s}}
indicators: {{gauge: {{principle: direct pressure, ports: [P], zone: cabin}}}}
fittings:
  hole: {{kind: restrictor, {bore}ports: [in, out], screwed_into: inlet}}
  plain: {{kind: adapter, ports: [in, out], screwed_into: inlet}}
fluid_lines:
  L1: {{from: {start}, to: gauge.P, kind: tube, outside_diameter: {od}, wall: {wall},
    route: [{{zone: engine, length: 1 m}}, {{zone: bay, length: 0.5 m}}, {{zone: cabin, length: 0.5 m}}]}}
"""


def found(
    start: str, bore: str = "bore: 0.040 in, ", od: str = "1/4 in", wall: str = "0.035 in"
) -> tuple[Study, Leaks]:
    study = Study(loads(TEXT.format(start=start, bore=bore, od=od, wall=wall)))
    [part] = lines(study)
    return study, leaks(study, part)


def test_fuel_without_a_restrictor():
    study, them = found("inlet")
    leak = them.into(["cabin"])
    # 0.180 in bore, 1.5 m to the cabin, 25 psi, 720 kg/m3, 0.6 cSt, Colebrook smooth: 7.5642 L/min
    assert leak.flow / LITRE_PER_MINUTE == pytest.approx(7.5642, rel=0.005)
    assert leak.bare == leak.flow
    # 150.118 mL of fuel bring 2 m3 to 1.3 %: 0.150118/7.5642 min = 1.191 s
    assert explosive_after(study, leak, leak.flow) == pytest.approx(1.191, rel=0.01)
    # 2 m of 16.417 mL/m in the line: 32.8 mL; 7.5642 L/min for 20 s is 2.521 L
    assert spilled(study, leak, leak.flow) == pytest.approx(2.554e-3, rel=0.01)


def test_fuel_behind_a_restrictor():
    _, them = found("hole.out")
    leak = them.into(["cabin"])
    # hole alone at Cd 0.80: 0.649287 * 0.80/0.61 = 0.8515 L/min. The line then takes v = 0.853 m/s, Re 6498,
    # f = 0.0353, (0.0353*328 + 1.5) * 360 * 0.728 = 3.42 kPa of 172.4: 0.8515 * sqrt(1 - 0.0198) = 0.843
    assert leak.flow / LITRE_PER_MINUTE == pytest.approx(0.843, rel=0.005)
    assert leak.bare / LITRE_PER_MINUTE == pytest.approx(7.5642, rel=0.005)
    assert leak.restrictors == ("hole",)


def test_oil_of_a_quarter_inch_line():
    study, them = found("gallery")
    leak = them.into(["cabin"])
    # 60 psi, 840 kg/m3, 26.73 cSt, 1.5 m: 7.2523 L/min; 6 qt of 0.946353 L in 46.98 s
    assert leak.flow / LITRE_PER_MINUTE == pytest.approx(7.2523, rel=0.005)
    seconds, left = oil_lasts(study, leak, leak.flow)
    assert seconds == pytest.approx(46.98, rel=0.005)
    assert left == "below the 2 qt minimum"


def test_the_place_nearest_the_source_leaks_most():
    _, them = found("gallery")
    assert [leak.zone for leak in them.each] == ["engine", "bay", "cabin"]
    flows = [leak.flow for leak in them.each]
    assert flows == sorted(flows, reverse=True)


def test_what_is_missing_is_named():
    _, them = found("hole.out", bore="")
    assert them.each == ()
    assert them.missing == ("bore of the restrictor",)


lengths = st.floats(0.01, 5)
bores = st.sampled_from(["0.061", "0.085", "0.118", "0.180", "0.305"])


def chain(medium: str, pieces: list[tuple[str, float]], holes: dict[int, float]) -> dict[str, Leaks]:
    """Leaks of tubes in a chain, with a restrictor before those named."""
    zones = "\n".join(f"  z{i}: {{}}" for i in range(len(pieces)))
    fittings, runs, start = [], [], "tap"
    for i, (bore, length) in enumerate(pieces):
        kind = f"restrictor, bore: {holes[i]} in" if i in holes else "union"
        fittings.append(f"  f{i}: {{kind: {kind}, ports: [in, out], zone: z{i}}}")
        runs.append(f"  S{i}: {{from: {start}, to: f{i}.in, length: 0 in, bore: {bore} in}}")
        runs.append(
            f"  L{i}: {{from: f{i}.out, to: e{i}.in, bore: {bore} in, route: [{{zone: z{i}, length: {length} m}}]}}"
        )
        fittings.append(f"  e{i}: {{kind: union, ports: [in, out], zone: z{i}}}")
        start = f"e{i}.out"
    text = "\n".join(
        [
            "installation: {name: test}",
            "zones:",
            zones,
            f"taps: {{tap: {{medium: {medium}, pressure: 60 psi, temperature: 40 degC}}}}",
            "fittings:",
            *fittings,
            "fluid_lines:",
            *runs,
        ]
    )
    study = Study(loads(text))
    return {part.ident: leaks(study, part) for part in lines(study)}


pieces = st.lists(st.tuples(bores, lengths), min_size=1, max_size=4)


@settings(max_examples=40)
@given(st.sampled_from(["fuel", "oil"]), pieces, st.floats(0.01, 0.3), st.integers(0, 3))
def test_a_restrictor_never_increases_a_leak(medium, run, hole, where):
    where = where % len(run)
    plain, held = chain(medium, run, {}), chain(medium, run, {where: round(hole, 4)})
    for i in range(len(run)):
        [before], [after] = plain[f"L{i}"].each, held[f"L{i}"].each
        assert after.flow <= before.flow * (1 + 1e-9)
        assert after.flow <= after.bare * (1 + 1e-9)


@settings(max_examples=40)
@given(st.sampled_from(["fuel", "oil"]), bores, st.lists(lengths, min_size=2, max_size=5), st.booleans())
def test_a_burst_further_along_the_same_bore_never_leaks_more(medium, bore, spans, held):
    them = chain(medium, [(bore, span) for span in spans], {0: 0.04} if held else {})
    flows = [them[f"L{i}"].each[0].flow for i in range(len(spans))]
    assert all(b <= a * (1 + 1e-9) for a, b in itertools.pairwise(flows))


def test_two_sources_of_one_line_leak_together():
    text = """
installation: {name: test}
zones: {bay: {}}
taps: {a: {medium: fuel, pressure: 25 psi}, b: {medium: fuel, pressure: 25 psi}}
indicators: {gauge: {ports: [P], zone: bay}}
fittings: {tee: {kind: tee, ports: ['1', '2', '3'], zone: bay}}
fluid_lines:
  L1: {from: a, to: tee.1, bore: 0.1 in, length: 1 m}
  L2: {from: b, to: tee.2, bore: 0.1 in, length: 1 m}
  L3: {from: tee.3, to: gauge.P, bore: 0.1 in, length: 1 m}
"""
    study = Study(loads(text))
    by_id = {part.ident: leaks(study, part) for part in lines(study)}
    [leak] = by_id["L3"].each
    assert leak.taps == ("a", "b")
    assert leak.flow == pytest.approx(sum(way.flow() for way in leak.ways))
    assert len(leak.ways) == 2
