"""What explains a wrong reading: what tracing does not exclude, by the same hypotheses, predictions and weights."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ...analysis.study import Study, once

if TYPE_CHECKING:
    from ...tracing.looks import Observation
    from ...tracing.ranking import Ranked
    from ...tracing.trace import Tracer

_MOST, _RARE = 4, 0.03
"""Kinds of fault that are named, and the share of the likeliest's probability below which one is not."""


def explained(study: Study, index: int) -> str:
    """What of single faults explains a measured indication, with all that was seen of it; empty where nothing can be said."""
    from ...tracing.wording import told

    seen = _seen_with(study, index)
    if not seen:
        return ""
    _, _, ranking = _tracer(study).ranked(seen)
    if not ranking.standing:
        return "no single fault explains it together with what else was seen of it" if ranking.all else ""
    kinds: dict[str, list[Ranked]] = {}
    named_true = any(o.at.known for o in seen)
    standing = [r for r in ranking.standing if not (named_true and r.hypothesis.kind == "true reading")]
    for one in (r for r in standing if r.share > _RARE * standing[0].share):
        kinds.setdefault(one.hypothesis.kind, []).append(one)
    named = []
    for some in list(kinds.values())[:_MOST]:
        others = [", ".join(r.hypothesis.at) for r in some[1:]]
        named.append(f"{told(some[0])}{f' (or the same of {_few(others)})' if others else ''}")
    return f"would explain it, the likeliest first: {'; '.join(named)}"


@once
def _tracer(study: Study) -> Tracer:
    from ...tracing.trace import Tracer

    return Tracer(study)


@once
def _written(study: Study) -> tuple[Observation, ...]:
    from ...tracing.written import written

    return tuple(written(study)[0])


def _few(names: Sequence[str]) -> str:
    return ", ".join(names[:_MOST]) + (f" and {len(names) - _MOST} more" if len(names) > _MOST else "")


def _seen_with(study: Study, index: int) -> list[Observation]:
    """What was seen of the indication of a measurement: what it shows, and what a meter does at its gauge and its sender."""
    from ...tracing.channels import channel_of
    from ...tracing.looks import Show

    mine = next((o for o in _written(study) if o.path[:2] == ("measured", index)), None)
    channel = channel_of(study, mine.look) if mine is not None and isinstance(mine.look, Show) else None
    if mine is None or channel is None:
        return []
    own = {channel.indicator, *channel.sources}
    return [
        o
        for o in _written(study)
        if o.look == mine.look
        or (not isinstance(o.look, Show) and own & {n.partition(".")[0] for n in str(o.look).split(" to ")})
    ]
