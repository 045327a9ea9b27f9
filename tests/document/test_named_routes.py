"""A named route is looked at whether anything uses it or not, and what is wrong is told once."""

import pytest

from installcheck.document import DocumentError, loads

TEXT = """installation: {{name: test}}
zones: {{cabin: {{occupied: yes}}, engine: {{}}}}
barriers: {{wall: {{between: [cabin, engine]}}}}
routes:
  way: {route}
junctions: {{x: {{kind: splice}}, y: {{kind: splice}}}}
wire_runs:
  W1: {{from: x, to: y{used}}}
"""


@pytest.mark.parametrize("used", ["", ", route: way"])
@pytest.mark.parametrize(
    ("route", "place", "words"),
    [
        ("cabin 2 stone", "5:14", "'stone' in '2 stone' is not a unit of a length"),
        ("attic 3 ft", "5:8", "'attic' is not a zone"),
        ("cabin 3 ft, wall by magic, engine 2 ft", "5:28", "magic"),
        ("cabin 3 ft, fence by grommet, engine 2 ft", "5:20", "'fence' is not a barrier"),
        ("[{zone: attic, length: 3 ft}]", "5:16", "'attic' is not a zone"),
        ("[{zone: cabin, length: 3 stone}]", "5:31", "'stone' in '3 stone' is not a unit of a length"),
        (
            "[{zone: cabin, lenght: 3 ft}]",
            "5:23",
            "'lenght' is not a word known here; did you mean 'length'?",
        ),
    ],
)
def test_what_is_wrong_in_a_route_is_told_at_its_place(route, used, place, words):
    with pytest.raises(DocumentError) as caught:
        loads(TEXT.format(route=route, used=used))
    [problem] = [p for p in caught.value.problems if words in p.message]
    assert str(problem.place).endswith(place)
    assert len(caught.value.problems) == 1


def test_a_right_route_and_one_with_unknown_lengths_may_stand_unused():
    for route in ("cabin 3 ft, wall by fireproof grommet, engine 2 ft", "[{zone: cabin, length: unknown}]"):
        assert loads(TEXT.format(route=route, used="")).installation.wire_runs["W1"].route is None


@pytest.mark.parametrize(
    "route", ["frame 3", "bay 2 4 ft, frame 3, cabin 2 ft", "way", "frame 3 by grommet", "bay 2"]
)
def test_a_name_that_ends_in_a_number_is_no_length(route):
    numbered = (
        TEXT.replace("engine", "bay 2")
        .replace("wall", "frame 3")
        .format(route="frame 3", used=f", route: '{route}'")
    )
    [first, *_] = loads(numbered).installation.wire_runs["W1"].route
    assert (first.zone or first.barrier) == ("bay 2" if route.startswith("bay") else "frame 3")
    in_line = numbered.replace(numbered[numbered.index("{from") :], f"'x to y, {route}'\n")
    assert loads(in_line).installation.wire_runs["W1"].route[0] == first
