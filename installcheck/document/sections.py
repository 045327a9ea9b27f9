"""The sections of a document, and the words that can be written in the things of each."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import get_args, get_origin

from pydantic import BaseModel

from ..model.installation import SPECS, Installation
from .usual import NOT_OF_BUNDLE

KINDS = {name: info.annotation for name, info in Installation.model_fields.items()}
LISTS: Mapping[str, type[BaseModel]] = {n: get_args(k)[0] for n, k in KINDS.items() if get_origin(k) is list}
ITEMS: Mapping[str, type[BaseModel]] = {n: get_args(k)[1] for n, k in KINDS.items() if get_origin(k) is dict}
SHARED = {name: name in LISTS or name in ITEMS for name in KINDS} | {"usual": True, "routes": True}
ITEM_WORDS = {
    name: {f.alias or n: None for n, f in kind.model_fields.items() if n != "spec"}
    for name, kind in ITEMS.items()
}
WORDS: Mapping[str, Mapping[str, object]] = {
    name: {
        **{f.alias or n: f.annotation for n, f in kind.model_fields.items() if n != "spec"},
        **({n: f.annotation for n, f in SPECS[name].model_fields.items()} if name in SPECS else {}),
        **({"ends": str} if name == "wire_runs" else {}),
        **(dict.fromkeys(NOT_OF_BUNDLE, str) if name == "bundles" else {}),
    }
    for name, kind in ITEMS.items()
}
"""The words that can be written in a thing of each section, with what they hold."""
EVERY_WORD: Mapping[str, Collection[str]] = {
    **{
        name: [f.alias or n for n, f in kind.model_fields.items()]
        for name, kind in KINDS.items()
        if isinstance(kind, type) and issubclass(kind, BaseModel)
    },
    **WORDS,
}
"""The words of every section, those of sections that hold one thing among them."""
SPEC_WORDS = {section: dict.fromkeys(spec.model_fields) for section, spec in SPECS.items()}
