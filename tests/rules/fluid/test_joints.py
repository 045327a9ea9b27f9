import pytest

from installcheck.rules.fluid.joints import form

TEXT = """
taps: {{tap: {{medium: {medium}{tap}}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P]{sender}}}}}
fittings:
  fitting: {{kind: adapter, ports: [in, out], screwed_into: tap{fitting}}}
fluid_lines: {{L1: {{from: fitting.out, to: sender.P{line}}}}}
"""
ENDS = ", ends: {in: 1/8 pipe thread, out: 37 degree flare -4}"
TUBE = ", kind: tube, outside_diameter: 1/4 in, end_form: 37 degree flare -4"


def text(**words: str) -> str:
    usual = {"medium": "oil", "tap": ", thread: 1/8 pipe thread", "sender": "", "fitting": ENDS, "line": TUBE}
    return TEXT.format(**{**usual, **words})


def pairs(verdicts):
    return {v.at: v for v in verdicts}


@pytest.mark.parametrize(
    ("one", "other", "mates"),
    [
        ("37 degree flare -4", "hose end -4", True),
        ("37 degree flare -4", "37 degree flare 1/4", True),
        ("37 degree flare -4", "37 degree flare -6", False),
        ("37 degree flare -4", "45 degree flare 1/4", False),
        ("37 degree flare -4", "1/8 pipe thread", False),
        ("1/8 pipe thread", "1/8-27 NPT", True),
        ("1/8 pipe thread", "1/4 pipe thread", False),
        ("5/8-18", "5/8-18 UNF", True),
        ("5/8-18", "1/2-20", False),
        ("compression sleeve", "compression sleeve", True),
    ],
)
def test_forms(one, other, mates):
    assert form(one).mates(form(other)) is mates
    assert form(other).mates(form(one)) is mates


def test_all_ends_mate(judged):
    verdicts = judged(text(sender=", port_thread: 37 degree flare -4"), "fitting-mates")
    assert {v.at for v in verdicts} == {("L1", "fitting"), ("L1", "sender"), ("fitting", "tap")}
    assert {str(v.outcome) for v in verdicts} == {"meets"}


def test_a_45_degree_flare_on_a_37_degree_fitting(judged):
    body = text(line=TUBE.replace("37", "45"), sender=", port_thread: 45 degree flare 1/4")
    found = pairs(judged(body, "fitting-mates"))
    assert found["L1", "fitting"].outcome == "discrepancy"
    assert found["L1", "fitting"].path == ("fluid_lines", "L1", "from")
    assert "flare the tube to 37 degrees" in found["L1", "fitting"].remedy
    assert found["L1", "sender"].outcome == "meets"


def test_a_flare_nut_on_a_pipe_thread(judged):
    verdict = pairs(judged(text(sender=", port_thread: 1/8 pipe thread"), "fitting-mates"))["L1", "sender"]
    assert verdict.outcome == "discrepancy"
    assert verdict.remedy == "screw an adapter, pipe thread 1/8 to flare -4 (AN816), between them"


def test_a_fitting_of_another_thread_in_the_tap(judged):
    verdict = pairs(judged(text(tap=", thread: 1/4 pipe thread"), "fitting-mates"))["fitting", "tap"]
    assert verdict.outcome == "discrepancy"


def test_ends_not_given(judged):
    found = pairs(judged(text(tap="", line=", kind: tube"), "fitting-mates"))
    assert found["fitting", "tap"].missing == ("thread of the tap",)
    assert found["L1", "fitting"].missing == ("end form of the line",)


def test_a_flare_of_another_size_than_the_tube(judged):
    body = text(line=TUBE.replace("1/4 in", "3/8 in"))
    [verdict] = [v for v in judged(body, "fitting-mates") if v.at == ("L1",)]
    # 3/8 in is six sixteenths
    assert verdict.message == "line L1 is a tube of -6 with a flare -4"


@pytest.mark.parametrize(
    ("line", "fitting", "outcome"),
    [
        ("copper", "aluminium", "advisory"),
        ("5052-O aluminium", "brass", "advisory"),
        ("5052-O aluminium", "steel", "meets"),
        ("copper", "brass", "meets"),
        ("304 stainless", "aluminium", "meets"),
    ],
)
def test_metals(judged, line, fitting, outcome):
    body = text(line=f", kind: tube, material: {line}", fitting=f", material: {fitting}")
    assert pairs(judged(body, "line-metals"))["L1", "fitting"].outcome == outcome


def test_moist_manifold_air_is_told(judged):
    body = text(medium="manifold air", line=", kind: tube, material: copper", fitting=", material: aluminium")
    verdict = pairs(judged(body, "line-metals"))["L1", "fitting"]
    assert "moist air" in verdict.message
    assert "copper, for both" in verdict.remedy


def test_metals_not_given(judged):
    assert pairs(judged(text(), "line-metals"))["L1", "fitting"].missing == (
        "material of the line",
        "material of the fitting",
    )


def test_a_hose_is_not_concerned(judged):
    assert judged(text(line=", kind: hose, material: rubber"), "line-metals") == []


@pytest.mark.parametrize(
    ("sender", "fitting", "outcome"),
    [
        ("brass", "aluminium", "advisory"),
        ("brass", "steel", "meets"),
        ("stainless steel 316", "aluminium", "meets"),
    ],
)
def test_a_sender_and_the_fitting_it_is_screwed_to(judged, sender, fitting, outcome):
    body = f"""
senders: {{sender: {{principle: switch, terminals: [S], ports: [P], material: {sender}}}}}
fittings: {{adapter: {{kind: adapter, ports: [a, b], material: {fitting}, screwed_into: sender.P}}}}
"""
    [verdict] = judged(body, "line-metals")
    assert (verdict.outcome, verdict.at) == (outcome, ("sender", "adapter"))
