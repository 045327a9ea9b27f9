"""Thermocouple circuits that share one input, through a selector or joined for an average."""

from __future__ import annotations

from ...dataclass import dataclass
from ...document.source import DocPath
from ..study import Study, once
from .circuits import Loop, loops


@dataclass(frozen=True, slots=True)
class Group:
    """Circuits of one input, in the order of the document."""

    loops: tuple[Loop, ...]

    @property
    def ident(self) -> str:
        """Id of the indicator."""
        return self.loops[0].indication.indicator

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return self.loops[0].path

    @property
    def name(self) -> str:
        """Name of the input."""
        return self.loops[0].indication.name

    @property
    def averaged(self) -> bool:
        """Whether the input shows the mean of all; else one is selected."""
        return self.loops[0].indication.averaged

    @property
    def probes(self) -> tuple[str, ...]:
        """Ids of the probes."""
        return tuple(loop.probe_id for loop in self.loops)


@once
def by_input(study: Study) -> tuple[Group, ...]:
    """The circuits of every thermocouple input."""
    found: dict[tuple[str, str], list[Loop]] = {}
    for loop in loops(study):
        found.setdefault((loop.indication.indicator, loop.indication.input), []).append(loop)
    return tuple(Group(tuple(group)) for group in found.values())


def groups(study: Study) -> list[Group]:
    """Circuits that share one input: two or more, through a selector or averaged."""
    return [
        g
        for g in by_input(study)
        if len(g.loops) > 1 and (g.averaged or g.loops[0].indication.position is not None)
    ]


def group_of(study: Study, loop: Loop) -> tuple[Loop, ...]:
    """The circuits that feed one input together; one alone where nothing is averaged."""
    if not loop.indication.averaged:
        return (loop,)
    mine = (loop.indication.indicator, loop.indication.input)
    return next(
        tuple(one for one in g.loops if one.indication.averaged)
        for g in by_input(study)
        if (g.loops[0].indication.indicator, g.loops[0].indication.input) == mine
    )
