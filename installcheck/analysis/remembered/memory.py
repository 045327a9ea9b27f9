"""Results kept with what they read: which still stand after an edit, and which are worked out again."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from functools import partial
from typing import Any

from ..study import Point
from .alike import alike, blended
from .reads import FRAME, Owner, Reading, Token, put_in_doubt, work

Kept = dict[Any, "Fact"]


class Fact:
    """Something worked out that others read.

    Attributes:
        token: what its readers have read.
        value: it.
        reading: what it rests on.
        changed: the round in which it last became another.
    """

    __slots__ = ("anew", "changed", "home", "key", "reading", "token", "value")
    token: Token | None
    reading: Reading

    def __init__(
        self, value: object, home: Kept, key: object, anew: Callable[[], object], changed: int
    ) -> None:
        self.token, self.value, self.changed = Token(), value, changed
        self.home, self.key, self.anew = home, key, anew

    def in_doubt(self) -> None:
        """It waits until it is asked for."""

    def forget(self) -> None:
        """Nobody asked for it when it was in doubt."""
        self.reading.dead = True
        if self.home.get(self.key) is self:
            del self.home[self.key]


class Memory:
    """Facts and what they rest on.

    A result in doubt stands if nothing it read has become another: each fact it read is worked out again first, and one that
    comes out as it was stops the doubt.

    Attributes:
        round: counts the documents it has been asked of.
    """

    def __init__(self) -> None:
        self.round = 0
        self._points: list[Point] = []
        self._doubted: list[Reading] = []
        self._log: list[Callable[[], object]] | None = None
        self._unknown: list[Reading] = []
        """Readings made in the document tried now, which are let known only if it comes to be changed in its turn."""
        self._is_asked = False

    def fact(self, home: Kept, key: Any, anew: Callable[[], object]) -> Any:
        """A fact kept in ``home`` under ``key``; ``anew`` works it out."""
        fact = home.get(key)
        if fact is not None and (fact.reading.hit or fact.reading.doubts):
            self._settle(fact)
            fact = home.get(key)
        if fact is None:
            with work() as read:
                value = self._told(anew())
            fact = home[key] = Fact(value, home, key, anew, self.round)
            fact.reading = self.reading(fact, read)
            self.on_return(fact.forget)
        assert fact.token is not None
        FRAME.note(fact.token)
        return fact.value

    def stands(self, reading: Reading) -> bool:
        """Whether a result still rests on what it read."""
        if reading.hit:
            return False
        for fact in reading.doubts:
            assert isinstance(fact, Fact)
            if fact.reading.dead:
                return False  # it was forgotten: no later change would reach what rests on it
            self._settle(fact)
            if fact.changed > reading.sure:
                return False
        reading.doubts = []
        return True

    def reading(self, owner: Owner, read: Collection[Token]) -> Reading:
        """What a result that was worked out now rests on."""
        made = Reading(owner, read, self.round)
        if self._log is None:
            made.known()
        else:
            self._unknown.append(made)
            self._log.append(made.unmake)
        return made

    def _let_known(self) -> None:
        for reading in self._unknown:
            reading.known()
        self._unknown = []

    def on_return(self, undo: Callable[[], object]) -> None:
        """What to do when the document tried is left again; nothing, where none is tried."""
        if self._log is not None:
            self._log.append(undo)

    def replaced(self, old: Reading) -> None:
        """A result has been worked out again, or is gone."""
        old.dead = True
        self.on_return(lambda: setattr(old, "dead", False))

    def _settle(self, fact: Fact) -> None:
        """Work a fact out again if it does not stand; if it fails now, it is another and not kept."""
        if not fact.reading.doubted or self.stands(fact.reading):
            return
        before = (fact.value, fact.changed, fact.reading)
        self.replaced(fact.reading)
        self.on_return(lambda: _put_back(fact, *before))
        try:
            with work() as read:
                new = self._told(fact.anew())
        except Exception:
            fact.home.pop(fact.key, None)
            fact.changed = self.round
            fact.reading = self.reading(fact, ())
            return
        new = blended(fact.value, new)
        if new is not fact.value:
            fact.value, fact.changed = new, self.round
        fact.reading = self.reading(fact, read)

    def _told(self, value: object) -> object:
        """A result; operating points, which are the same only as themselves, are those of before where they say the same."""
        if isinstance(value, Point):
            return self._point(value)
        if isinstance(value, tuple) and value and all(isinstance(one, Point) for one in value):
            return tuple(map(self._point, value))
        return value

    def _point(self, point: Point) -> Point:
        for known in self._points:
            if known.given is point.given and all(
                alike(getattr(known, name), getattr(point, name)) for name in ("name", "zones", "joints")
            ):
                return known
        self._points.append(point)
        return point

    def doubt(self, changed: Iterable[Token]) -> None:
        """Put in doubt whatever rests on what has changed."""
        self._let_known()
        self._is_asked = False
        self._doubted += put_in_doubt(changed, for_good=self._log is None)

    def all_asked(self) -> None:
        """Everything has been judged: what is in doubt and was not asked for is forgotten, at the latest before the next trial."""
        if self._log is None:
            self._forget_unasked()
        self._is_asked = True

    def _forget_unasked(self) -> None:
        for reading in self._doubted:
            fact = reading.owner
            if reading.doubted and not reading.dead and isinstance(fact, Fact):
                fact.forget()
                self.on_return(partial(_put_back, fact, fact.value, fact.changed, reading))
        self.on_return(partial(_beyond_doubt, self._doubted))
        self._doubted = []

    @contextmanager
    def trial(self) -> Iterator[None]:
        """Within it another document is tried; afterwards everything is as it was. There may be others within it.

        Raises:
            RuntimeError: something in doubt was not judged.
        """
        if self._doubted and not self._is_asked:
            raise RuntimeError("judge the document before another is tried")
        self._forget_unasked()
        self._let_known()
        above, self._log = self._log, []
        try:
            yield
        finally:
            self._unknown = []
            for undo in reversed(self._log):
                undo()
            _beyond_doubt(self._doubted)
            self._log, self._doubted, self._is_asked = above, [], True


def _beyond_doubt(readings: Iterable[Reading]) -> None:
    for reading in readings:
        reading.hit, reading.doubts = False, []


def _put_back(fact: Fact, value: object, changed: int, reading: Reading) -> None:
    fact.value, fact.changed, fact.reading = value, changed, reading
    reading.dead = False
    fact.home[fact.key] = fact
