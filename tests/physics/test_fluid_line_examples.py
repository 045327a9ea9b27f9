"""The examples in the docstrings of the fluid-line modules hold."""

import doctest
from importlib import import_module

import pytest


@pytest.mark.parametrize(
    "module",
    [
        "validity",
        "tables",
        "media",
        "friction",
        "flow",
        "spill",
        "sensing_lines",
        "tubes",
        "hoses",
        "vibration",
    ],
)
def test_examples(module: str) -> None:
    assert doctest.testmod(import_module(f"installcheck.physics.{module}")).failed == 0
