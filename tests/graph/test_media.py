"""Media flooded through small nets, and properties that hold for any net."""

from hypothesis import given, settings
from hypothesis import strategies as st

from installcheck.document import loads
from installcheck.graph import build
from installcheck.graph.media import Media, flood

HEAD = "installation: {name: test}\n"


def flooded(text: str) -> Media:
    return flood(build(loads(HEAD + text).installation))


TEE = """
taps:
  fuel tap: {medium: fuel}
  gallery: {medium: oil}
indicators: {gauge: {principle: direct pressure, ports: [P]}}
fittings:
  tee: {kind: tee, ports: ['1', '2', '3']}
  hole: {kind: restrictor, bore: 0.040 in, ports: [in, out], screwed_into: fuel tap}
  cock: {kind: cock, ports: [in, out], position: POSITION}
fluid_lines:
  L1: {from: hole.out, to: tee.1}
  L2: {from: tee.2, to: gauge.P, medium: air}
  L3: {from: tee.3, to: cock.in}
  L4: {from: cock.out, to: gallery}
"""


def test_an_open_cock_joins_two_media():
    media = flooded(TEE.replace("POSITION", "open"))
    assert media.in_line("L2") == {"fuel", "oil"}
    assert media.at("gallery") == {"oil", "fuel"}


def test_a_closed_cock_parts_them():
    media = flooded(TEE.replace("POSITION", "closed"))
    assert media.in_line("L2") == {"fuel"}
    assert media.in_line("L3") == {"fuel"}
    assert media.in_line("L4") == {"oil"}


def test_the_way_is_told_edge_by_edge():
    media = flooded(TEE.replace("POSITION", "closed"))
    [(node, feed)] = media.into_line("L2")
    assert node == "tee.2"
    # screwed into the tap, through the restrictor, the line, the tee
    assert [h.edge.ident for h in feed.hops] == ["hole", "hole", "L1", "tee"]
    assert feed.source.ident == "fuel tap"
    assert feed.restrictors == ("hole",)


def test_a_restrictor_protects_only_what_lies_behind_it_from_every_source():
    media = flooded(TEE.replace("POSITION", "open"))
    assert media.unrestricted("tee.2", "fuel") is None
    # oil comes by the cock, past no restrictor
    way = media.unrestricted("tee.2", "oil")
    assert way is not None
    assert way.source.ident == "gallery"


def test_a_check_valve_passes_one_way():
    text = """
taps: {a: {medium: fuel}, b: {medium: water}}
fittings: {valve: {kind: check valve, ports: [in, out], flow: [in, out]}}
fluid_lines: {L1: {from: a, to: valve.in}, L2: {from: valve.out, to: b}}
"""
    media = flooded(text)
    assert media.in_line("L2") == {"fuel", "water"}
    assert media.in_line("L1") == {"fuel"}


def test_a_small_bore_restricts_whatever_it_is_called():
    text = """
taps: {a: {medium: oil}}
fittings: {elbow: {kind: elbow, ports: ['1', '2'], bore: BORE, screwed_into: a}}
indicators: {gauge: {ports: [P]}}
fluid_lines: {L1: {from: elbow.2, to: gauge.P, bore: 0.180 in}}
"""
    # half of 0.180 in is 0.090 in
    assert flooded(text.replace("BORE", "0.089 in")).restricting == {"elbow"}
    assert flooded(text.replace("BORE", "0.091 in")).restricting == frozenset()


def test_a_transducer_ends_the_fluid_and_a_flow_pick_up_does_not():
    text = """
taps: {pump: {medium: fuel}}
senders:
  flow: {principle: pulse pick-up, measures: fuel flow, terminals: ['+'], ports: [in, out]}
  pressure: {principle: pressure transducer, terminals: ['+', '-'], ports: [P]}
fittings: {union: {kind: union, ports: ['1', '2']}, end: {kind: union, ports: ['1', '2']}}
fluid_lines:
  L1: {from: pump, to: flow.in}
  L2: {from: flow.out, to: union.1}
  L3: {from: union.2, to: pressure.P}
wire_runs: {W1: {from: pressure.+, to: flow.+}}
"""
    media = flooded(text)
    assert media.in_line("L3") == {"fuel"}
    assert media.at("pressure.+") == frozenset()


def test_the_filling_of_a_bulb_is_a_medium_of_its_own():
    text = """
senders: {bulb: {principle: vapour-pressure bulb, ports: [P]}}
indicators: {gauge: {principle: capillary, ports: [P]}}
fluid_lines: {C1: {from: bulb.P, to: gauge.P, kind: capillary}}
"""
    assert flooded(text).in_line("C1") == {"bulb filling"}


def test_a_net_of_many_sources_is_still_told_whole():
    taps = "\n".join(f"  t{i}: {{medium: oil}}" for i in range(12))
    lines = "\n".join(f"  L{i}: {{from: t{i}, to: block.{i}}}" for i in range(12))
    ports = ", ".join(f"'{i}'" for i in range(13))
    text = f"""
taps:
{taps}
indicators: {{gauge: {{ports: [P]}}}}
fittings: {{block: {{kind: manifold, ports: [{ports}]}}}}
fluid_lines:
{lines}
  out: {{from: block.12, to: gauge.P}}
"""
    media = flooded(text)
    assert media.in_line("out") == {"oil"}
    assert media.unrestricted("gauge.P", "oil") is not None


MEDIA = ["fuel", "oil", "air", "fuel-air mixture", "primer fuel"]
TAPS, TEES = 4, 5
PORTS = [f"tap {i}" for i in range(TAPS)] + [f"tee {i}.{p}" for i in range(TEES) for p in "123"]
joins = st.lists(
    st.tuples(st.sampled_from(PORTS), st.sampled_from(PORTS)).filter(lambda j: j[0] != j[1]), max_size=12
)


def net(media: list[str], pairs: list[tuple[str, str]]) -> Media:
    taps = "\n".join(f"  tap {i}: {{medium: {m}}}" for i, m in enumerate(media))
    tees = "\n".join(f"  tee {i}: {{kind: tee, ports: ['1', '2', '3']}}" for i in range(TEES))
    lines = "\n".join(
        f"  L{i}: {{from: {a}, to: {b}, length: 1 ft, bore: 0.1 in}}" for i, (a, b) in enumerate(pairs)
    )
    return flooded(f"taps:\n{taps}\nfittings:\n{tees}\n" + (f"fluid_lines:\n{lines}\n" if lines else ""))


@settings(max_examples=60)
@given(st.lists(st.sampled_from(MEDIA), min_size=TAPS, max_size=TAPS), joins, joins)
def test_media_only_grow_when_a_connection_is_added(media, pairs, more):
    before, after = net(media, pairs), net(media, pairs + more)
    for port in PORTS:
        assert before.at(port) <= after.at(port)


@settings(max_examples=60)
@given(st.lists(st.sampled_from(MEDIA), min_size=TAPS, max_size=TAPS), joins)
def test_every_medium_has_a_way_from_a_source_of_it(media, pairs):
    found = net(media, pairs)
    for port in PORTS:
        feeds = list(found.feeds(port))
        assert {f.source.medium for f in feeds} == found.at(port)
        for feed in feeds:
            node = feed.source.node
            for hop in feed.hops:
                assert hop.near == node
                node = hop.far
            assert node == port
