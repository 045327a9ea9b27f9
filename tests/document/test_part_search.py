"""Parts found by the words of the hangar; the lines to paste are a document."""

import pytest

from installcheck.document import loads
from installcheck.document.part_search import figures, found, lines_for, scalar, terminals
from installcheck.document.parts import standard_library

LIBRARY = standard_library()


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("CHT probe bayonet K", "bayonet probe K"),
        ("egt clamp grounded", "exhaust clamp probe K grounded"),
        ("carb air bulb gauge", "bridge carburettor air temperature indicator"),
        ("pt100", "resistance bulb Pt100"),
        ("tacho generator", "tachometer generator three wire"),
        ("vapor-pressure bulb", "vapour-pressure oil temperature bulb"),
        ("ammeter shunt", "shunt ammeter"),
        ("MAP gage direct", "direct manifold pressure gauge"),
        ("shielded 2 core", "shielded cable 2 core"),
    ],
)
def test_words_of_the_hangar_find_the_part(words: str, key: str) -> None:
    assert key in [part.key for part in found(LIBRARY, words)]


def test_every_word_must_fit_and_the_section_narrows() -> None:
    assert not found(LIBRARY, "bayonet zeppelin")
    assert {part.section for part in found(LIBRARY, "oil", "senders")} == {"senders"}
    assert len(found(LIBRARY, "")) == len(LIBRARY.parts)


def test_sizes_and_terminals_are_as_the_file_writes_them() -> None:
    assert LIBRARY.parts["breaker"].as_written()[:2] == ["1 A", "2 A"]
    assert list(terminals(LIBRARY.parts["resistance bulb Pt100"])) == ["A", "B"]
    assert dict(figures(LIBRARY.parts["breaker"]))["rating"].startswith("1 A: 1 A, 2 A: 2 A")


@pytest.mark.parametrize("key", list(LIBRARY.parts))
def test_the_lines_to_paste_name_the_part_in_a_size_it_comes_in(key: str) -> None:
    part = LIBRARY.parts[key]
    section, line = lines_for(part)
    body = line.replace("route: [{zone: ..., length: ...}]", "route: [{zone: cabin, length: 1 ft}]")
    body = body.replace("zone: ...", "zone: cabin")
    if "from: ..." in body:
        joined = "X.A" if part.section == "wire_runs" else "X.P"
        body = body.replace("from: ..., to: ...", f"from: {joined}, to: {joined.replace('X', 'Y')}")
        if len(part.raw.get("conductors") or ()) > 1 or "core" in key or "pair" in key:
            pytest.skip("a cable joins conductor by conductor, which only its user can say")
        ends = "senders: {X: {terminals: [A], ports: [P], zone: cabin}, Y: {terminals: [A], ports: [P], zone: cabin}}\n"
    else:
        ends = ""
    loads(f"installation: {{name: test}}\nzones: {{cabin: {{occupied: yes}}}}\n{ends}{section}\n{body}\n")


@pytest.mark.parametrize(
    "text", ["a: b", "-4", "x # y", "[a", "it's", "null", " a", "+", "&x", "*x", "unknown", "", "a,b"]
)
def test_a_scalar_reads_back_as_itself(text: str) -> None:
    assert loads(f"installation: {{name: {scalar('n' + text)}}}").installation.installation.name == "n" + text
    import yaml

    assert yaml.load(f"[{scalar(text)}]", Loader=yaml.BaseLoader) == [text]
