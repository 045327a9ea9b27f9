"""The figures tracing takes by judgement: how often kinds of fault are met, how exact things are, what tests cost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from functools import cache
from importlib.resources import files
from math import isfinite

from ..dataclass import dataclass
from ..document.parsing import read_source
from ..document.source import Plain, Source, mapping
from ..document.wording import unknown_word


class WeightsError(ValueError):
    """A file of weights that cannot be used; the message tells line and column."""


@dataclass(frozen=True)
class Weights:
    """Figures by word; see ``weights.yaml`` for what each is.

    Attributes:
        source: where they come from.
        kinds, doubts, effort: by word.
        altered: what an alteration multiplies a weight by.
    """

    source: str
    kinds: Mapping[str, float]
    doubts: Mapping[str, float]
    effort: Mapping[str, float]
    altered: float
    own: Mapping[str, str] = field(default_factory=dict)


_GROUPS = ("kinds", "doubts", "effort")


@cache
def standard_weights() -> Weights:
    """The figures shipped with the package."""
    raw = (files("installcheck.tracing") / "weights.yaml").read_bytes()
    return _made(read_source(raw, "weights.yaml"), None)


def read_weights(source: Source) -> Weights:
    """The shipped figures with those of a file in their place.

    Raises:
        WeightsError: a word that is none of them, or what is no positive number.
    """
    return _made(source, standard_weights())


def _made(source: Source, base: Weights | None) -> Weights:
    if source.problems:
        raise WeightsError("\n".join(str(p) for p in source.problems))
    top = mapping(source.plain)
    groups: dict[str, dict[str, float]] = {g: dict(getattr(base, g)) if base else {} for g in _GROUPS}
    own: dict[str, str] = {}
    for word in top:
        if word not in (*_GROUPS, "source", "altered"):
            known = (*_GROUPS, "source", "altered")
            raise WeightsError(f"{source.place((word,), of_key=True)}: {unknown_word(word, known, 'group')}")
    for group in _GROUPS:
        for word, value in mapping(top.get(group)).items():
            path = (group, word)
            if base is not None and word not in groups[group]:
                raise WeightsError(
                    f"{source.place(path, of_key=True)}: {unknown_word(word, groups[group], 'word')}"
                )
            groups[group][word] = _number(source, path, value)
            own[word] = group
    altered = (
        _number(source, ("altered",), top["altered"]) if "altered" in top else base.altered if base else 1.0
    )
    told = top.get("source")
    named = str(told) if isinstance(told, str) else f"{source.name}"
    if base is not None:
        named = f"{base.source}; {', '.join(own) or 'nothing'} from {source.name}"
    return Weights(named, groups["kinds"], groups["doubts"], groups["effort"], altered, own)


def _number(source: Source, path: tuple[str, ...], value: Plain) -> float:
    try:
        number = float(str(value))
    except ValueError:
        number = float("nan")
    if not isfinite(number) or number <= 0:
        raise WeightsError(f"{source.place(path)}: '{value}' is no number above zero")
    return number
