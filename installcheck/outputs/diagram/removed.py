"""What an alteration takes out, and what joins nothing, as parts of a drawing."""

from __future__ import annotations

from collections.abc import Iterator

from ...drawing.kinds import Change, DeviceKind
from ...drawing.sheet import Device
from ...graph import Graph
from ...model.installation import JOINABLE, Installation
from .collect import place_alone
from .parts import Parts, zone_band

_SECTIONS = (*JOINABLE, "wire_runs", "fluid_lines")


def removed_things(model: Installation) -> frozenset[tuple[str, str]]:
    """Section and id of everything whose status is 'removed'."""
    return frozenset(_removed(model))


def _removed(model: Installation) -> Iterator[tuple[str, str]]:
    for section in _SECTIONS:
        for ident, thing in model.section(section).items():
            if getattr(thing, "status", None) == "removed":
                yield section, ident


def with_removed_things(model: Installation) -> Installation:
    """The installation as if nothing had been removed, so that what was can be drawn where it was."""
    changed = {
        section: {
            ident: thing.model_copy(update={"status": "existing"})
            if getattr(thing, "status", None) == "removed"
            else thing
            for ident, thing in model.section(section).items()
        }
        for section in _SECTIONS
    }
    return model.model_copy(update=changed)


def add_removed(parts: Parts, model: Installation) -> None:
    """Draw what the 'removed' section tells of, each in its zone, with how what it leaves is closed."""
    for ident, gone in model.removed.items():
        name = f"removed {ident}"
        lines = [ident, gone.title or gone.kind]
        if gone.ends:
            lines.append(f"was at {', '.join(gone.ends)}")
        if gone.left is not None:
            lines.append(f"left {gone.left}")
        band = zone_band(parts, model, gone.zone)
        parts.devices[name] = Device(name, DeviceKind.OTHER, band, tuple(lines), (), Change.REMOVED)
        parts.target.setdefault(ident, name)


def add_idle(parts: Parts, graph: Graph) -> None:
    """Draw things of the document that no run and no line joins."""
    for section in JOINABLE:
        for ident, thing in graph.whole.section(section).items():
            straps = section == "grounds" and getattr(thing, "kind", "") in ("strap", "bond")
            if ident not in parts.target and getattr(thing, "status", None) != "removed" and not straps:
                place_alone(parts, graph, section, ident, thing)
