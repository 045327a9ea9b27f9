"""A crimped pair of splices joins + to + and - to -, and never the two legs of a couple to each other."""

from installcheck.document import loads
from installcheck.graph import build, indications

TEXT = """
installation: {name: test}
probes: {p: {part: bayonet probe K isolated, measures: head temperature}}
indicators: {g: {part: electronic head temperature indicator K}}
junctions: {s: {part: thermocouple splice K}}
wire_runs:
  A: {part: thermocouple lead K, gauge: 20 AWG, conductors: {'+': {from: 'p.+', to: s.1 +}, '-': {from: 'p.-', to: s.1 -}}}
  B: {part: thermocouple lead K, gauge: 20 AWG, conductors: {'+': {from: s.2 +, to: 'g.+'}, '-': {from: s.2 -, to: 'g.-'}}}
"""


def test_each_leg_reaches_its_own_side_of_the_probe():
    [one], unread = indications(build(loads(TEXT).installation))
    assert not unread
    assert {(leg.terminal, leg.reaches) for leg in one.legs} == {("+", "p.+"), ("-", "p.-")}
    assert [step.edge.kind for step in one.legs[0].steps] == ["conductor", "joint", "conductor"]
