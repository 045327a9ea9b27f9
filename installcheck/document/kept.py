"""YAML files as they were read, kept in the user's cache folder for the next start.

What is kept is used only for the very bytes it was made of, and only whole: it is sealed by its digest, and whatever is not
as it should be is read anew. Nothing is ever told of a folder that cannot be written.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

from ..files.reading import read_regular
from ..files.writing import OutputError, write_whole
from .parsing import read_source
from .source import Key, Plain, Source, Spot
from .yaml_text import MAX_BYTES

_FORM = b"1"
"""Changed when what is kept is read another way."""
_MOST = 64 * 1024 * 1024


def read_kept(files: Sequence[tuple[Path, str]], folder: Path | None = None) -> list[Source]:
    """Files that do not change from one start to the next, each with its name as it is shown.

    Args:
        folder: where they are kept; the user's cache folder when left out.

    Raises:
        DocumentError, UnreadableError: as :func:`source.read_source` and :func:`files.reading.read_regular`.
    """
    raws = [(read_regular(path, MAX_BYTES), name) for path, name in files]
    key = sha256(
        b"\0".join((_FORM, *(sha256(raw).digest() + name.encode() for raw, name in raws)))
    ).hexdigest()
    folder = folder if folder is not None else _cache_folder()
    target = folder / "parts.json" if folder is not None else None
    found = _taken_up(target, key, raws) if target is not None else None
    if found is not None:
        return found
    made = [read_source(raw, name) for raw, name in raws]
    if target is not None and not any(source.problems for source in made):
        _put_by(target, key, made)
    return made


def _cache_folder() -> Path | None:
    """The user's folder for what can be made again; ``None`` if there is none."""
    named = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    try:
        base = Path(named) if named else Path.home() / ".cache"
    except RuntimeError:
        return None
    return base / "installcheck" if base.is_absolute() else None


def _taken_up(target: Path, key: str, raws: Sequence[tuple[bytes, str]]) -> list[Source] | None:
    try:
        if target.stat().st_size > _MOST:
            return None
        seal, _, body = target.read_bytes().partition(b"\n")
        if sha256(body).hexdigest().encode() != seal:
            return None
        told = json.loads(body)
        if told["key"] != key:
            return None
        return [_source(raw, name, one) for (raw, name), one in zip(raws, told["files"], strict=True)]
    except (OSError, ValueError, KeyError, TypeError, IndexError):
        return None


def _put_by(target: Path, key: str, sources: Sequence[Source]) -> None:
    told = {"key": key, "files": [_told(source) for source in sources]}
    body = json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        write_whole(target, sha256(body).hexdigest().encode() + b"\n" + body)
    except (OSError, OutputError):
        return


def _containers(value: Plain) -> Iterator[dict[str, Plain] | list[Plain]]:
    """Every mapping and list of a value, each before what is in it."""
    if isinstance(value, (dict, list)):
        yield value
        for one in value.values() if isinstance(value, dict) else value:
            yield from _containers(one)


def _told(source: Source) -> dict[str, Any]:
    spots, unknown = [], []
    for number, held in enumerate(_containers(source.plain)):
        entries = source.spots[id(held)]
        keys: list[Key] = list(held) if isinstance(held, dict) else list(range(len(held)))
        spots.append([figure for key in keys for figure in entries[key]])
        unknown += [[number, key] for key in keys if (id(held), key) in source.unknowns]
    return {"plain": source.plain, "top": source.top, "spots": spots, "unknown": unknown}


class _Spots(dict[int, dict[Key, Spot]]):
    """Spots that are made out when they are asked for: few of a library ever are."""

    def __init__(self) -> None:
        super().__init__()
        self.told: dict[int, tuple[list[Key], list[int]]] = {}

    def __missing__(self, held: int) -> dict[Key, Spot]:
        keys, figures = self.told[held]
        figure = iter(figures)
        self[held] = made = dict(zip(keys, map(Spot, figure, figure, figure, figure), strict=True))
        return made


def _source(raw: bytes, name: str, told: dict[str, Any]) -> Source:
    spots = _Spots()
    made = Source(name, told["plain"], sha256(raw).digest(), top=Spot(*told["top"]), spots=spots, raw=raw)
    held = list(_containers(made.plain))
    for one, figures in zip(held, told["spots"], strict=True):
        keys: list[Key] = list(one) if isinstance(one, dict) else list(range(len(one)))
        if len(figures) != 4 * len(keys):
            raise ValueError("not the spots of these entries")
        spots.told[id(one)] = keys, figures
    for number, key in told["unknown"]:
        made.unknowns.add((id(held[number]), key))
    return made
