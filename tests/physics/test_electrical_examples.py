"""The examples in the docstrings of the electrical modules still give what they show."""

import doctest
from importlib import import_module

import pytest


@pytest.mark.parametrize(
    "name", ["ampacity", "conductors", "contacts", "network_faults", "networks", "sources", "synchros"]
)
def test_docstring_examples(name: str) -> None:
    result = doctest.testmod(import_module(f"installcheck.physics.{name}"))
    assert result.attempted > 0
    assert result.failed == 0
