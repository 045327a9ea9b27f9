"""The causes of a demo, found once in each process of the tests."""

from functools import cache
from pathlib import Path

from installcheck import check
from installcheck.causes.causes import Causes, find_causes
from installcheck.document import load

DEMO = Path(__file__).parents[2] / "demo_aircraft"


@cache
def causes_of(name: str) -> Causes:
    """The causes of the demo of a name, with its ledger. Nobody changes them."""
    return find_causes(check(load(DEMO / f"{name}.yaml")))
