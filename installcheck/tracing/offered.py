"""What a test is, and where its ends are."""

from __future__ import annotations

from ..analysis.study import Study
from ..dataclass import dataclass
from .channels import Channel
from .hazards import hazards, zone_of
from .looks import Look, Setup
from .wires import structure


@dataclass(frozen=True, slots=True)
class Test:
    """One test.

    Attributes:
        at, look: the state of the aircraft, and what is looked at.
        words: what to do, as an order.
        effort: word of the effort in the weights.
        hazards: what must be safe first, in order.
    """

    at: Setup
    look: Look
    words: str
    effort: str
    hazards: tuple[str, ...]


def made(
    study: Study, at: Setup, look: Look, words: str, effort: str, channel: Channel | None, *nodes: str
) -> Test:
    """A test with the hazards of its places."""
    return Test(at, look, words, effort, hazards(study, at, look, channel, nodes))


def gauge_ends(study: Study, channel: Channel) -> list[tuple[str, str]]:
    """Pairs of terminals of the gauge its leads end at; with ground where there is one lead alone."""
    assert channel.indication is not None
    nodes = [leg.steps[0].near for leg in channel.indication.legs if leg.steps]
    ground = structure(study)
    if len(nodes) == 1 and ground is not None:
        return [(nodes[0], ground)]
    return [(nodes[0], n) for n in nodes[1:] if n != nodes[0]] + (
        [(nodes[1], nodes[2])] if len(nodes) > 2 and nodes[1] != nodes[2] else []
    )


def noise_ends(study: Study, channel: Channel) -> tuple[str, ...]:
    """The terminals by which noise on the leads comes into a gauge: two that are joined there keep it out, or the one that is lifted."""
    if channel.indication is None or channel.way not in ("couple", "network"):
        return ()
    ends = gauge_ends(study, channel)
    return () if not ends else ends[0] if channel.way == "couple" else ends[0][:1]


def place_of(study: Study, node: str) -> str:
    """The word of the effort to reach a node."""
    zone = study.model.zones.get(zone_of(study, node) or "")
    if zone is None or zone.occupied:
        return "at the panel"
    return "on the engine" if zone.hot_parts else "in the engine bay"


FARTHER = ("at the panel", "lift at the panel", "at a plug", "in the engine bay", "on the engine")
"""Words of effort, the nearest place first."""
