"""One mistake is one refusal, with what would be right: what only follows from it is not told."""

from __future__ import annotations

from pathlib import Path

import pytest

from installcheck.document import DocumentError, loads

WHOLE = (Path(__file__).parents[2] / "demo_aircraft" / "first_document.yaml").read_text(encoding="utf-8")


def refusals(written: str, instead: str) -> list[str]:
    assert written in WHOLE
    with pytest.raises(DocumentError) as refused:
        loads(WHOLE.replace(written, instead, 1))
    return [problem.message for problem in refused.value.problems]


@pytest.mark.parametrize(
    ("written", "instead", "told"),
    [
        ("\nsenders:", "\nsensors:", "'sensors' is not a section; did you mean 'senders'?"),
        ("\ngrounds:", "\nground:", "'ground' is not a section; did you mean 'grounds'?"),
        ("\nbundles:", "\nbundle:", "'bundle' is not a section; did you mean 'bundles'?"),
        ("CHT 1, in leads", "CHT 1, in lead", "'lead' is not a bundle; did you mean 'leads'?"),
        (
            "monitor.CHT 1",
            "moniter.CHT 1",
            "'moniter' is not a thing in this document; did you mean 'monitor'?",
        ),
        (
            "breaker.in, 20 AWG",
            "breaker.in 20 AWG",
            "'in 20 AWG' is not a terminal of 'monitor breaker': a comma is missing after 'monitor breaker.in'",
        ),
        (
            "bus to gauge breaker.in, 20 AWG",
            "bus to gauge breaker.in, 20 ga",
            "'20 ga' is not a wire gauge: write '20 AWG'",
        ),
        (
            "6 cylinder, budget: 25 degF",
            "6 cylinder, budgt: 25 degF",
            "'budgt' is not a word under indicators; did you mean 'budget'?",
        ),
        (
            "head temperature: {maximum:",
            "head temperature: {red line:",
            "'red line' is not a word known here; did you mean 'maximum'?",
        ),
        (
            "location: engine inlet",
            "location: inlet",
            "'inlet' is not known here; did you mean 'engine inlet' or 'carburettor inlet' or 'servo inlet'?",
        ),
        (
            "firewall by fireproof grommet 0.5 in clear",
            "firewall 0.5 in",
            "'firewall 0.5 in' is no part of a route, since firewall is a barrier: write 'firewall by fireproof grommet'",
        ),
        (
            "firewall by fireproof grommet 0.5 in clear",
            "firewall through grommet",
            "'firewall through grommet' is no part of a route, since firewall is a barrier: write 'firewall by grommet'",
        ),
        (
            "oil temperature: {maximum: 240 degF}",
            "oil temperature: {maximum: 240 deg}",
            "'240 deg' is an angle, but an oil temperature is told in degF, degC, K",
        ),
    ],
)
def test_one_mistake_is_told_once(written: str, instead: str, told: str) -> None:
    assert refusals(written, instead) == [told]


def test_a_word_that_leaves_open_which_is_meant_is_told_with_each() -> None:
    [told] = refusals("basis: CAR 3", "basis: FAR 23")
    assert told.endswith("did you mean 'part 23 before 2017' or 'part 23 from 2017'?")
