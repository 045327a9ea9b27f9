"""Channels of one indication: in which order they are drawn and where they are parted where one sheet does not hold all."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from .cut import Cutter
from .kinds import DeviceKind

_BEGINS = (DeviceKind.PROBE, DeviceKind.SENDER)
"""What each channel of an indication begins at."""

Branch = tuple[str, ...]
"""Ids of runs that hang together."""


def grouped(branches: Sequence[Branch], cutter: Cutter) -> list[Branch]:
    """Branches that begin at nothing first, then channels by their groups, each in the order it is met."""
    groups = [_group(branch, cutter) for branch in branches]
    met: dict[tuple[str, ...], int] = {}
    for group in groups:
        for length in range(len(group or ()) + 1):
            met.setdefault((group or ())[:length], len(met))

    def rank(number: int) -> tuple[int, ...]:
        group = groups[number]
        if group is None:
            return ()
        return (1, *(met[group[:length]] for length in range(1, len(group) + 1)), number)

    return [branches[number] for number in sorted(range(len(branches)), key=rank)]


def parted(branches: Sequence[Branch], count: int, cutter: Cutter) -> int:
    """How many grouped branches, of ``count`` that fit, to draw first.

    They end where a group ends, the widest there is, unless that takes more than one sheet more; else every sheet gets
    as many channels as the others, or one less.
    """
    groups = [_group(branch, cutter) for branch in branches]
    channels = sum(group is not None for group in groups) or len(branches)
    sheets = ceil(len(branches) / count)
    ends = range(count, 0, -1)
    for level in (1, 2, 3):
        for end in ends:
            before, after = groups[end - 1], groups[end]
            bound = before is not None and after is not None and before[:level] != after[:level]
            if bound and 1 + ceil((len(branches) - end) / count) <= sheets + 1:
                return end
    each = ceil(channels / sheets)
    passed = 0
    for number, group in enumerate(groups, start=1):
        passed += group is not None or channels == len(branches)
        if passed == each:
            return min(number, count)
    return count


def _group(branch: Branch, cutter: Cutter) -> tuple[str, ...] | None:
    """Where the channel of a branch belongs; none if it begins at no source."""
    homes = (cutter.devices.get(home) for run in branch for home in cutter.ends_of(run))
    return next((device.group for device in homes if device is not None and device.kind in _BEGINS), None)
