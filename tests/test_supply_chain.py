"""What is installed with it: pinned by .ci/lock.txt, tested from .ci/lowest.txt on, and under licences that were looked at."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import Distribution, distribution
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
EXTRAS = PROJECT["optional-dependencies"]
ASKED = [Requirement(one) for one in (*PROJECT["dependencies"], *EXTRAS["pdf"], *EXTRAS["test"])]
PERMISSIVE = re.compile(r"MIT|BSD|0BSD|ISC|Apache|PSF|Zlib|CC0|Python Software Foundation|OFL")
WEAK_COPYLEFT = {"axe-core-python", "certifi", "graphviz-pure", "hypothesis", "pathspec"}
"""Used by the tests alone; DEVELOPERS.md names them."""
LOOKED_UP = {
    "axe-core-python": "MIT, of axe-core in it: MPL-2.0",
    "resvg-py": "MIT, of resvg: Apache-2.0 OR MIT",
}
"""Packages whose metadata state no licence, or not all: what their source says."""


def pins(file: str) -> dict[str, str]:
    """Name -> version of a list of pins."""
    lines = (ROOT / ".ci" / file).read_text().splitlines()
    found = (re.match(r"([A-Za-z0-9._-]+)==([^ ;\\]+)", line) for line in lines)
    return {canonicalize_name(one[1]): one[2] for one in found if one}


@pytest.mark.parametrize("file", ["lock.txt", "lowest.txt"])
def test_every_package_asked_for_is_pinned_within_what_is_asked(file: str) -> None:
    held = pins(file)
    for one in ASKED:
        assert held[canonicalize_name(one.name)] in one.specifier, one


def test_the_lowest_are_the_lowest_asked_for() -> None:
    held = pins("lowest.txt")
    for one in ASKED:
        for least in one.specifier:
            assert held[canonicalize_name(one.name)].startswith(least.version), one


def test_every_pin_of_the_lock_has_a_digest_and_no_place_of_a_machine() -> None:
    text = (ROOT / ".ci" / "lock.txt").read_text()
    for pin in re.split(r"\n(?=[a-z0-9])", text)[1:]:
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", pin), pin[:60]
    assert "://" not in text


def closure(asked: list[Requirement]) -> dict[str, Distribution]:
    """Everything installed because of what is asked."""
    found: dict[str, Distribution] = {}
    left = [one for one in asked if one.marker is None or one.marker.evaluate()]
    while left:
        name = canonicalize_name(left.pop().name)
        if name in found:
            continue
        found[name] = distribution(name)
        inner = (Requirement(text) for text in found[name].requires or ())
        left += [one for one in inner if one.marker is None or one.marker.evaluate({"extra": ""})]
    return found


def licence(one: Distribution) -> str:
    """What a package says of its licence."""
    told = one.metadata
    classes = [c for c in told.get_all("Classifier", []) if c.startswith("License")]
    return " ".join(
        [told.get("License-Expression") or "", (told.get("License") or "")[:60], *classes]
    ).strip()


def test_licences_are_permissive_but_for_those_told() -> None:
    told = {name: LOOKED_UP.get(name) or licence(one) for name, one in closure(ASKED).items()}
    weak = {name for name, words in told.items() if re.search(r"MPL|Mozilla|EPL|LGPL|GPL", words)}
    assert weak <= WEAK_COPYLEFT, weak - WEAK_COPYLEFT
    strange = {n: words for n, words in told.items() if n not in weak and not PERMISSIVE.search(words)}
    strange.pop("pysocks", None)  # 'BSD' stands in a field of its own kind in some of its releases
    assert not strange


def test_what_is_used_at_run_time_is_permissive() -> None:
    asked = [Requirement(one) for one in (*PROJECT["dependencies"], *EXTRAS["pdf"])]
    assert not WEAK_COPYLEFT & set(closure(asked))


def test_what_is_told_of_licences_is_what_is_tested() -> None:
    told = (ROOT / "DEVELOPERS.md").read_text()
    for name in WEAK_COPYLEFT:
        assert f"`{name}`" in told
