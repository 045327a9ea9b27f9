TEXT = """
taps:
  fuel tap: {medium: fuel}
  other: {medium: OTHER}
indicators: {gauge: {principle: direct pressure, ports: [P]}}
fittings: {tee: {kind: tee, ports: ['1', '2', '3']}}
fluid_lines:
  L1: {from: fuel tap, to: tee.1}
  L2: {from: other, to: tee.2}
  L3: {from: tee.3, to: gauge.P, medium: LABEL}
"""


def text(label: str = "fuel", other: str = "fuel") -> str:
    return TEXT.replace("OTHER", other).replace("LABEL", label)


def by_item(verdicts):
    return {v.at[0]: v for v in verdicts}


def test_a_line_labelled_air_that_tees_into_fuel(judged):
    verdict = by_item(judged(text("air"), "line-medium"))["L3"]
    assert verdict.outcome == "discrepancy"
    assert verdict.path == ("fluid_lines", "L3", "medium")
    assert "fuel reaches it from fuel tap by L1 and tee" in verdict.message


def test_a_true_label_and_a_worse_one(judged):
    assert by_item(judged(text("fuel"), "line-medium"))["L3"].outcome == "meets"
    # priming fuel is fuel, and a line marked for mixture is treated no worse for carrying air
    assert by_item(judged(text("primer fuel"), "line-medium"))["L3"].outcome == "meets"


def test_a_line_that_nothing_reaches(judged):
    body = """
indicators: {gauge: {principle: direct pressure, ports: [P]}}
fittings: {tee: {kind: tee, ports: ['1', '2', '3']}}
fluid_lines: {L1: {from: tee.1, to: gauge.P, medium: oil}}
"""
    [verdict] = judged(body, "line-medium")
    assert verdict.missing == ("tap the line takes its medium from, or the port its fitting is screwed into",)


def test_two_media_joined(judged):
    found = by_item(judged(text(other="oil"), "media-joined"))
    assert found["fuel tap"].outcome == "discrepancy"
    assert "oil reaches the fuel tap fuel tap from other by L2, tee and L1" in found["fuel tap"].message
    assert found["other"].outcome == "discrepancy"


def test_one_medium_joined(judged):
    assert {str(v.outcome) for v in judged(text(), "media-joined")} == {"meets"}


PRIMER = """
taps:
  plenum: {medium: fuel-air mixture, location: LOCATION}
  primer: {medium: primer fuel}
indicators: {gauge: {principle: direct pressure, ports: [P]}}
fittings: {tee: {kind: tee, ports: ['1', '2', '3']}, nozzle: {kind: union, ports: ['1', '2']}}
fluid_lines:
  L1: {from: plenum, to: tee.1}
  L2: {from: primer, to: PORT}
  L3: {from: tee.3, to: gauge.P}
"""


def primer(port: str = "nozzle.1", location: str = "plenum") -> str:
    return PRIMER.replace("PORT", port).replace("LOCATION", location)


def test_primer_and_gauge_on_one_tee(judged):
    found = by_item(judged(primer("tee.2"), "primer-apart"))
    assert found["primer"].outcome == "discrepancy"
    assert found["primer"].at == ("primer", "gauge", "plenum")
    # not told a second time
    assert {str(v.outcome) for v in judged(primer("tee.2"), "media-joined")} == {"meets"}


def test_primer_kept_apart(judged):
    found = by_item(judged(primer(), "primer-apart"))
    assert found["primer"].outcome == "meets"
    assert found["plenum"].outcome == "meets"


def test_manifold_pressure_from_a_primer_port(judged):
    assert by_item(judged(primer(location="primer port"), "primer-apart"))["plenum"].outcome == "advisory"
