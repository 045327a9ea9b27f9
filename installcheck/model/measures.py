"""In what kinds of quantity each indication is given."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

_BY_LAST_WORD: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "pressure": ("pressure",),
        "vacuum": ("pressure",),
        "temperature": ("temperature",),
        "speed": ("speed",),
        "flow": ("flow",),
        "quantity": ("volume", "ratio"),
        "voltage": ("voltage",),
        "current": ("current",),
    }
)


def kinds_of(measure: str) -> Sequence[str]:
    """The kinds of quantity an indication is given in; none if it is not known.

    >>> kinds_of("oil temperature"), kinds_of("vacuum")
    (('temperature',), ('pressure',))
    """
    return _BY_LAST_WORD.get(measure.rpartition(" ")[2], ())
