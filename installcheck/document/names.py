"""The names that things of an installation have, and what is wrong with one where it is used."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator

from ..model.installation import JOINABLE, Installation, is_one_point, split_end, terminals_of
from ..model.routes import RouteStep
from ..model.things import Placed
from .source import DocPath, Place, Problem
from .wording import listed, unknown_word

Locate = Callable[[DocPath], Place]
_SHARED = "both"
"""Engine of what a twin's engines share."""
_HINTS = 200
"""Problems that come with the nearest word; in a document with more, looking for them would take minutes."""


class Names:
    """The names of one installation.

    Args:
        model: what was read.
        locate: the place of a path in the document.
        dropped: ids left out because they could not be read; they count as known.
        damaged: things (section, id) read in part; any terminal of theirs counts as known.

    Attributes:
        used: names looked up since it was emptied.
    """

    def __init__(
        self,
        model: Installation,
        locate: Locate,
        dropped: Collection[str] = (),
        damaged: Collection[tuple[str, str]] = (),
    ) -> None:
        self.model, self.locate, self.dropped = model, locate, dropped
        self.hints = _HINTS
        self.used: set[str] = set()
        self.unread = {*dropped, *(ident for _, ident in damaged)}
        self.one_points: set[str] = set()
        self.passed = {**model.fittings, **model.junctions}
        self.loads = {**model.loads, **model.indicators}
        self.terminals: dict[str, tuple[str, ...] | None] = dict.fromkeys(dropped)
        for section, ident, thing in model.things():
            whole = (section, ident) not in damaged
            self.terminals.setdefault(ident, terminals_of(section, thing) if whole else None)
            if is_one_point(thing):
                self.one_points.add(ident)

    def problem(self, path: DocPath, message: str, text: str = "") -> Problem:
        return Problem(self.locate(path), message, text)

    def unknown(self, path: DocPath, word: str, known: Iterable[str], what: str) -> Problem:
        self.hints -= 1
        return self.problem(path, unknown_word(word, known, what, hint=self.hints >= 0), word)

    def name(self, path: DocPath, value: str | None, known: Collection[str], what: str) -> Iterator[Problem]:
        """A problem if ``value`` is not among ``known``."""
        if value is not None:
            self.used.add(value)
        if value is not None and value not in known and value not in self.dropped:
            yield self.unknown(path, value, known, what)

    def end(self, path: DocPath, end: str, *, whole: bool = True) -> Iterator[Problem]:
        """A problem if a run's end is not a thing, or not a terminal of it.

        ``whole``: whether all else of the run is known, without which a cable cannot be joined by the names of its terminals.
        """
        ident, terminal = split_end(end)
        self.used.add(ident)
        if end in self.dropped:
            return
        if ident not in self.terminals:
            yield self._no_thing(path, ident)
            return
        ground = self.model.grounds.get(ident)
        if ground is not None and ground.kind in ("strap", "bond"):
            told = f"'{ident}' is a {ground.kind}, which joins two grounds; end this at one of them"
            yield self.problem(path, told, end)
            return
        allowed = self.terminals[ident]
        if allowed is None or terminal in allowed or (not terminal and len(allowed) == 1):
            return
        if not whole and any(t.startswith(terminal) for t in allowed):
            return
        begun = next((t for t in allowed if terminal.startswith(f"{t} ")), None)
        if begun is not None:
            told = f"'{terminal}' is not a terminal of '{ident}': a comma is missing after '{ident}.{begun}'"
            yield self.problem(path, told, end)
        elif terminal:
            yield self.unknown(path, terminal, allowed, f"terminal of '{ident}'")
        else:
            shown = listed(f"{ident}.{t}" for t in allowed[:12]) + (", ..." if len(allowed) > 12 else "")
            yield self.problem(path, f"'{ident}' needs a terminal: {shown}", end)

    def _no_thing(self, path: DocPath, ident: str) -> Problem:
        """What is wrong with a name a run ends at that nothing has."""
        thing, _, terminal = ident.rpartition(" ")
        if thing in self.terminals and terminal in (self.terminals[thing] or ()):
            return self.problem(path, f"'{ident}' lacks its dot: write '{thing}.{terminal}'", ident)
        return self.unknown(path, ident, self.terminals, "thing in this document")

    def joined(self, path: DocPath, one: str, other: str, *, whole: bool = True) -> Iterator[Problem]:
        """A problem if both ends are the same point, or one is none."""
        idents = {split_end(end)[0] for end in (one, other)}
        whole = whole and all(ident in self.terminals and ident not in self.unread for ident in idents)
        yield from self.end((*path, "from"), one, whole=whole)
        yield from self.end((*path, "to"), other, whole=whole)
        ident, there = split_end(one)[0], split_end(other)[0]
        if one == other or (ident == there and ident in self.one_points):
            yield self.problem(
                (*path, "to"), f"this begins and ends at the same point, '{ident}'; name another end", other
            )

    def doubled(self) -> Iterator[Problem]:
        """Ids that name two things a run could end at."""
        seen: dict[str, str] = {}
        for section in (*JOINABLE, "wire_runs", "fluid_lines", "bundles"):
            for ident in self.model.section(section):
                if ident in seen:
                    told = f"the id '{ident}' is already used under {seen[ident]}; give this another, like '{ident} 2'"
                    yield self.problem((section, ident), told, ident)
                else:
                    seen[ident] = section

    def route(self, path: DocPath, steps: list[RouteStep] | None) -> Iterator[Problem]:
        for i, step in enumerate(steps or ()):
            yield from self.name((*path, i, "zone"), step.zone, self.model.zones, "zone")
            yield from self.name((*path, i, "barrier"), step.barrier, self.model.barriers, "barrier")
            yield from self.name((*path, i, "fitting"), step.fitting, self.passed, "fitting or junction")

    def placed(self, section: str, ident: str, thing: Placed) -> Iterator[Problem]:
        path: DocPath = (section, ident)
        yield from self.name((*path, "zone"), thing.zone, self.model.zones, "zone")
        if thing.engine != _SHARED or len(self.model.engines) != 2:
            yield from self.name((*path, "engine"), thing.engine, self.model.engines, "engine")
        grounding = getattr(thing, "grounding", None)
        if grounding is not None:
            yield from self.end((*path, "grounding", "to"), grounding.to)
        port = getattr(thing, "screwed_into", None)
        if port is not None:
            yield from self.end((*path, "screwed_into"), port)
