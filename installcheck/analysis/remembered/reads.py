"""What was read on the way to a result, and which results are in doubt once some of it is another.

Whatever can be read of a document has a :class:`Token`; a result that is worked out reads some, and is remembered with them
as a :class:`Reading`. A result that others read has a token of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from typing import Any, Protocol, TypeVar

T = TypeVar("T")


class Token:
    """Something that can be read: a field of a thing, the ids of a section, a result."""

    __slots__ = ("readers",)

    def __init__(self) -> None:
        self.readers: list[Reading] = []


class Owner(Protocol):
    """Whose reading it is: a fact or the answer of a rule. ``token`` is ``None`` where nothing reads it."""

    @property
    def token(self) -> Token | None: ...

    def in_doubt(self) -> None:
        """Called when what it read may have changed."""


class Reading:
    """What a result rests on. Nothing puts it in doubt before it is :meth:`known`.

    Attributes:
        hit: whether something it read of the document is another now.
        doubts: results it read that may be others now.
        dead: whether it has been replaced or forgotten.
        sure: the round in which it was last known to stand.
    """

    __slots__ = ("_is_known", "_read", "dead", "doubts", "hit", "owner", "sure")

    def __init__(self, owner: Owner, read: Collection[Token], sure: int) -> None:
        self.owner, self.sure, self._read = owner, sure, read
        self.hit = self.dead = self._is_known = False
        self.doubts: list[Owner] = []

    def known(self) -> None:
        """Let what it read know of it."""
        self._is_known = True
        for token in self._read:
            token.readers.append(self)

    def unmake(self) -> None:
        """Take it out of what it read, of which nothing has been read since; nobody has it now but its owner."""
        self.dead = True
        del self.owner
        if self._is_known:
            for token in self._read:
                token.readers.pop()

    @property
    def doubted(self) -> bool:
        """Whether it may not stand any more."""
        return self.hit or bool(self.doubts)


class _Frame:
    """The result that is being worked out now: ``note`` takes down what it reads."""

    __slots__ = ("note",)
    note: Callable[[Token], object]


def _nobody(token: Token) -> None:
    """Outside every result, nobody takes down what is read."""


FRAME = _Frame()
FRAME.note = _nobody


class work:  # noqa: N801
    """Works something out and holds what it read: ``with work() as read: ...``.

    If it fails, what it read is read by whatever asked for it.
    """

    __slots__ = ("_above", "read")

    def __enter__(self) -> set[Token]:
        self._above = FRAME.note
        self.read: set[Token] = set()
        FRAME.note = self.read.add
        return self.read

    def __exit__(self, kind: object, fault: BaseException | None, trace: object) -> None:
        FRAME.note = self._above
        if fault is not None:
            for token in self.read:
                self._above(token)


def put_in_doubt(changed: Iterable[Token], *, for_good: bool) -> list[Reading]:
    """Put in doubt whatever rests on what has changed; the readings that were not in doubt before.

    ``for_good``: whether what is dead stays so, and need not be met again.
    """
    ahead: list[Reading] = []
    for token in changed:
        if for_good:
            token.readers = [reading for reading in token.readers if not reading.dead]
        for reading in token.readers:
            if not reading.dead:
                if not (reading.hit or reading.doubts):
                    ahead.append(reading)
                reading.hit = True
    for reading in ahead:  # grows while it is walked
        owner = reading.owner
        owner.in_doubt()
        own = owner.token
        if own is None:
            continue
        if for_good:
            own.readers = [beyond for beyond in own.readers if not beyond.dead]
        for beyond in own.readers:
            if not beyond.dead:
                if not (beyond.hit or beyond.doubts):
                    ahead.append(beyond)
                beyond.doubts.append(owner)
    return ahead


class Tokens:
    """The tokens of one kind of thing, by what they are of, each made when it is first read."""

    __slots__ = ("by_key",)

    def __init__(self) -> None:
        self.by_key: dict[Any, Token] = {}

    def note(self, key: object) -> None:
        """Take down that it is read."""
        try:
            FRAME.note(self.by_key[key])
        except KeyError:
            self.by_key[key] = token = Token()
            FRAME.note(token)

    def of(self, key: object) -> list[Token]:
        """The token of something, if it was ever read."""
        token = self.by_key.get(key)
        return [] if token is None else [token]

    def all(self) -> list[Token]:
        """Every token."""
        return list(self.by_key.values())
