"""Hypotheses of what is only there at times: with a load on, on transmitting, when warm or running."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..graph import Edge
from .changes import Cut, Shows, When
from .channels import Channel, channel_of
from .doubts import frame_of
from .hypotheses import Hypothesis, of_one
from .likelihood import fits
from .looks import STOPPED, Observation, Show
from .offered import noise_ends
from .predict import Predictor
from .weights import Weights

_BESIDE_LEADS = 0.5
"""How much rarer noise comes into one input of a gauge otherwise than by its leads: a judgement."""
_JUMPED = 10.0
"""How much likelier noise is where a pointer was said to jump with a load on and to be right without it: a judgement."""
_PARTS = frozenset(("conductor", "joint", "element", "couple"))


def in_conditions(
    predictor: Predictor, bad: Sequence[Channel], seen: Sequence[Observation], weights: Weights
) -> Iterator[Hypothesis]:
    """Noise that comes with a load, and what opens with heat or vibration, of the indications that misbehave at times."""
    for channel in bad:
        good, ill = _sorted(predictor, channel, seen, weights)
        for load in dict.fromkeys(name for one in ill for name, on in one.at.loads if on):
            jumped = any(one.result.word == "erratic" and (load, True) in one.at.loads for one in ill)
            yield from _noise(predictor, channel, load, jumped=jumped and bool(good))
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


def _noise(predictor: Predictor, channel: Channel, load: str, *, jumped: bool) -> Iterator[Hypothesis]:
    """What a load does to an indication while it is on, by its leads and, where it has any, beside them."""
    name = channel.show.name
    ends = noise_ends(predictor.study, channel)
    by = f"the leads of {name} pick up noise" if ends else f"{name} picks up noise"
    why = ": by the way they take, their screen or its ground" if ends else ""
    jumps = Shows(name, state="erratic")
    told = _JUMPED if jumped else 1.0
    by_leads = of_one(
        "noise with a load",
        (name, load),
        f"{by} from {load} or its wires while that is on{why}",
        (When(jumps, load=load, by=ends),),
        channel.path,
    )
    yield replace(by_leads, weight=told)
    if ends:
        yield replace(
            of_one(
                "noise with a load",
                (name, load, "gauge"),
                f"noise from {load} comes into {channel.indicator} itself, by its supply or its ground, while that is on",
                (When(jumps, load=load),),
                channel.path,
            ),
            weight=told * _BESIDE_LEADS,
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
