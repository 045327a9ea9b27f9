"""What can be written at a place, and what its word means."""

from installcheck.document import loads
from installcheck.page.context import context_at
from installcheck.page.offers import help_at, offers

DOCUMENT = """
installation: {name: test}
zones: {engine: {}, cabin: {occupied: yes}}
senders: {oil bulb: {part: resistance bulb Pt100, zone: engine}}
indicators: {oil gauge: {terminals: [A, B], zone: cabin}}
wire_runs: {W1: {from: oil bulb.A, to: oil gauge.A, part: AS22759/16, gauge: 22 AWG}}
"""


def offered(text: str) -> list[str]:
    document = loads(DOCUMENT)
    return [o.word for o in offers(context_at(text, len(text)), document.installation, document.library)]


def test_words_of_a_thing_that_are_not_there_yet() -> None:
    found = offered("wire_runs:\n  W2: {from: oil bulb.A, ")
    assert {"to", "gauge", "route", "part"} <= set(found)
    assert "from" not in found


def test_sections_at_the_left_margin() -> None:
    assert offered("sen") == ["senders"]


def test_ends_are_terminals_of_the_document() -> None:
    assert offered("wire_runs:\n  W2: {from: oil b")[:2] == ["oil bulb.A", "oil bulb.B"]


def test_zones_parts_sizes_and_words_of_a_choice() -> None:
    assert offered("senders:\n  x: {zone: ca") == ["cabin"]
    assert "AS22759/16" in offered("wire_runs:\n  W2: {part: AS2")
    assert "22 AWG" in offered("wire_runs:\n  W1: {gauge: 2")
    assert "thermistor" in offered("senders:\n  x: {principle: ther")


def test_parts_are_of_the_section() -> None:
    assert not any("lead" in word for word in offered("probes:\n  x: {part: "))


def test_a_word_is_told_as_the_schema_tells_it() -> None:
    assert "gauge" in help_at(("wire_runs", "W1", "gauge"))
    assert help_at(("wire_runs", "W1", "route", 0, "zone"))
    assert help_at(("wire_runs", "W1", "nonsense")) == ""
    assert help_at(("nonsense", "W1")) == ""
