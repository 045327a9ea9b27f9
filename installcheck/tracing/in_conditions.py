"""Hypotheses of what is only there at times: with a load on, on transmitting, when warm or running."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..graph import Edge
from .changes import Cut, Shows, When
from .channels import Channel, channel_of
from .doubts import frame_of
from .hypotheses import Hypothesis, of_one
from .likelihood import fits
from .looks import STOPPED, Observation, Show
from .predict import Predictor
from .weights import Weights

_PARTS = frozenset(("conductor", "joint", "element", "couple"))


def in_conditions(
    predictor: Predictor, bad: Sequence[Channel], seen: Sequence[Observation], weights: Weights
) -> Iterator[Hypothesis]:
    """Noise that comes with a load, and what opens with heat or vibration, of the indications that misbehave at times."""
    for channel in bad:
        good, ill = _sorted(predictor, channel, seen, weights)
        for load in dict.fromkeys(name for one in ill for name, on in one.at.loads if on):
            name = channel.show.name
            yield of_one(
                "noise with a load",
                (name, load),
                f"{name} picks up noise from {load} or its wires while that is on",
                (When(Shows(name, state="erratic"), load=load),),
                channel.path,
            )
        sound = tuple(dict.fromkeys(one.at.point for one in good if one.at.point))
        if any(one.at.point not in (*sound, STOPPED) for one in ill) and sound:
            for edge in _parts(predictor, channel):
                at = edge.label if edge.kind == "conductor" else edge.ident
                yield of_one(
                    "opens when warm",
                    (at,),
                    f"{at} opens when it is warm or shaken, and makes again at rest",
                    (When(Cut(edge), sound=sound),),
                    edge.path,
                    predictor.study.graph.zone_of(edge.a) or "",
                )


def _parts(predictor: Predictor, channel: Channel) -> list[Edge]:
    own = predictor.study.graph.by_thing.get((channel.section, channel.source), ())
    return [e for e in (*own, *channel.edges) if e.kind in _PARTS]


def _sorted(
    predictor: Predictor, channel: Channel, seen: Sequence[Observation], weights: Weights
) -> tuple[list[Observation], list[Observation]]:
    """What was seen of an indication as it should be, and what was not; nothing done to its circuit."""
    good: list[Observation] = []
    ill: list[Observation] = []
    for one in seen:
        done = one.at.lifted or one.at.joined or one.at.replaced or one.at.swapped
        if done or not isinstance(one.look, Show) or channel_of(predictor.study, one.look) is not channel:
            continue
        frame = frame_of(predictor.study, one.at, one.look, weights)
        as_is = predictor.expect(one.at, one.look, [()])
        told = one.result.word in ("wrong", "high", "low", "dead", "frozen", "erratic")
        off = told or fits([one], [frame], [as_is], weights)[0].against >= 0
        (ill if off else good).append(one)
    return good, ill
