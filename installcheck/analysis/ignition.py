"""The ignition where it is drawn: magnetos, coils and plugs, the leads between them and the wires that ground them."""

from __future__ import annotations

from ..model.installation import split_end
from ..model.wiring import WireRun
from .study import Study, once

_MAKERS = ("magneto", "ignition coil")


@once
def _of_ignition(study: Study) -> dict[str, str]:
    """The kind of every magneto, coil and plug; of most documents there is none."""
    return {
        ident: kind
        for ident, junction in study.model.junctions.items()
        if (kind := junction.spec.kind) == "spark plug" or kind in _MAKERS
    }


def _kind(study: Study, end: str | None) -> str | None:
    return _of_ignition(study).get(split_end(end or "")[0])


def _ends(run: WireRun) -> list[tuple[str | None, str | None]]:
    whole = [(run.from_, run.to)] if run.conductors is None else []
    return [*whole, *((c.from_, c.to) for c in (run.conductors or {}).values())]


def is_ignition_lead(study: Study, run: WireRun) -> bool:
    """Whether a run carries high tension: by what it is, or because it ends at a spark plug."""
    if run.spec.kind is not None and run.spec.kind != "wire":
        return run.spec.kind == "ignition lead"
    if not _of_ignition(study):
        return False
    return any(_kind(study, end) == "spark plug" for ends in _ends(run) for end in ends)


def grounds_magneto(study: Study, run: WireRun) -> bool:
    """Whether a run is the lead that shuts a magneto off: it ends at one, and is no lead to a plug or to a coil."""
    if not _of_ignition(study) or is_ignition_lead(study, run):
        return False
    for one, other in _ends(run):
        for here, there in ((one, other), (other, one)):
            at_case = split_end(here or "")[1] == "case"
            if _kind(study, here) == "magneto" and not at_case and _kind(study, there) not in _MAKERS:
                return True
    return False
