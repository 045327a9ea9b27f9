"""What a run, line or device is to the shop: there already, or new, as the document says or as the one it replaces shows."""

from __future__ import annotations

from ..analysis.study import Study, once
from ..graph import total_length
from ..model.comparing import same
from ..model.fluid import FluidLine
from ..model.wiring import WireRun
from .replaced import NotThereError, before


@once
def _earlier(study: Study) -> Study | None:
    try:
        return before(study)
    except NotThereError:
        return None


def status_of(study: Study, section: str, ident: str) -> str | None:
    """'new', 'existing' or 'removed'; ``None`` where neither this document nor the one before tells.

    A thing of the same name is the existing one if it is of the same part; a run also of the same gauge and length. One
    that only goes to other ends is 'existing, moved to other ends'.
    """
    thing = study.whole.section(section)[ident]
    stated: str | None = getattr(thing, "status", None)
    earlier = _earlier(study)
    if stated is not None or earlier is None:
        return stated
    was = earlier.model.section(section).get(ident)
    if was is None or not _alike(was, thing):
        return "new"
    return "existing" if _ends(was) == _ends(thing) else "existing, moved to other ends"


def _alike(was: object, thing: object) -> bool:
    if getattr(was, "part", None) != getattr(thing, "part", None) or _kind(was) != _kind(thing):
        return False
    if isinstance(was, (WireRun, FluidLine)) and isinstance(thing, (WireRun, FluidLine)):
        old, new = total_length(was), total_length(thing)
        if (old is None) != (new is None) or (old is not None and new is not None and not same(old, new)):
            return False
    return _size(was) == _size(thing)


def _kind(thing: object) -> object:
    spec = getattr(thing, "spec", None)
    return getattr(spec, "kind", None), getattr(spec, "principle", None)


def _size(thing: object) -> object:
    return getattr(thing, "gauge", None) or getattr(thing, "size", None)


def _ends(thing: object) -> object:
    if isinstance(thing, WireRun) and thing.conductors:
        return {name: (one.from_, one.to) for name, one in thing.conductors.items()}
    return getattr(thing, "from_", None), getattr(thing, "to", None)
