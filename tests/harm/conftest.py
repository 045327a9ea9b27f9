"""The whole list of harms is run by ``pytest tests/harm -m harm_all`` only: it takes minutes."""

import pytest


def pytest_collection_modifyitems(config, items):
    if "harm_all" in config.option.markexpr:
        return
    for item in items:
        if item.get_closest_marker("harm_all"):
            item.add_marker(
                pytest.mark.skip(reason="the whole list takes minutes; a sample of it runs: -m harm_all")
            )
