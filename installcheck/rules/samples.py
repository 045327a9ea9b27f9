"""Samples of each rule: a fragment of a document that meets it, one that breaks it, one that says too little.

They stand in a YAML file beside the module of the rules (``marking.samples.yaml`` beside ``marking.py``), by rule id:

    run-marked:
      given: {what all three share}
      meets: {...}
      breaks: {...}
      unclear: {...}

Each is a fragment of a document, laid over ``given``, and over the ``given`` at the top of the file; ``null`` takes away
what the other says. A rule that can always judge says why under ``never_unclear`` in place of ``unclear``, one that
breaks nothing under ``never_breaks``.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from ..dataclass import dataclass
from .vocabulary import Rule

TITLES = {"meets": "Meets it", "breaks": "Breaks it", "unclear": "Says too little to judge"}
KINDS = tuple(TITLES)
_NEVER = {"breaks": "never_breaks", "unclear": "never_unclear"}
_TAKEN_AWAY = ("null", "~", "")
_HEADER = {"installation": {"name": "sample"}}


@dataclass(frozen=True, slots=True)
class Samples:
    """The samples of one rule.

    Attributes:
        texts: documents as YAML text by kind: 'meets', 'breaks', 'unclear'.
        never: why the rule cannot end in a kind, for a kind without a sample.
    """

    texts: Mapping[str, str]
    never: Mapping[str, str]


def samples(rule: Rule) -> Samples | None:
    """The samples of a rule; ``None`` if none are written.

    Raises:
        ValueError: a sample is no fragment of a document, or a kind has neither a sample nor a reason.
    """
    return _of_module(rule.judge.__module__).get(rule.id)


class _Dumper(yaml.SafeDumper):
    """Writes words as they were read: nothing is guessed from a scalar, so nothing needs quotes for its type."""

    yaml_implicit_resolvers = {}


@cache
def _of_module(module: str) -> Mapping[str, Samples]:
    package, _, name = module.rpartition(".")
    place = files(package).joinpath(f"{name}.samples.yaml")
    if not place.is_file():
        return {}
    loaded: dict[str, Any] = yaml.load(place.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    shared = loaded.pop("given", {})
    return {ident: _read(ident, shared, told) for ident, told in loaded.items()}


def _read(ident: str, shared: Mapping[str, Any], told: Mapping[str, Any]) -> Samples:
    texts: dict[str, str] = {}
    never: dict[str, str] = {}
    base = _laid_over(_laid_over(_HEADER, shared), told.get("given", {}))
    for kind in KINDS:
        if kind in told:
            document = _laid_over(base, told[kind] or {})
            texts[kind] = yaml.dump(
                document,
                Dumper=_Dumper,
                sort_keys=False,
                allow_unicode=True,
                width=100,
                default_flow_style=None,
            )
        elif _NEVER.get(kind) in told:
            never[kind] = told[_NEVER[kind]]
        else:
            raise ValueError(f"{ident} has no sample '{kind}'")
    return Samples(texts, never)


def _laid_over(base: Any, over: Any) -> Any:
    """One fragment laid over another: mappings joined, ``null`` taken away, anything else replaced."""
    if not isinstance(base, dict) or not isinstance(over, dict):
        return over
    joined = dict(base)
    for word, value in over.items():
        if isinstance(value, str) and value in _TAKEN_AWAY:
            joined.pop(word, None)
        else:
            joined[word] = _laid_over(joined.get(word), value)
    return joined
