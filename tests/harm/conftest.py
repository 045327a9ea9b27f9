"""The whole list of harms is run by ``pytest tests/harm -m harm_all`` only: it takes minutes, and a sample of it runs always."""


def pytest_collection_modifyitems(config, items):
    if "harm_all" in config.option.markexpr:
        return
    whole = [item for item in items if item.get_closest_marker("harm_all")]
    if whole:
        config.hook.pytest_deselected(items=whole)
        items[:] = [item for item in items if not item.get_closest_marker("harm_all")]
