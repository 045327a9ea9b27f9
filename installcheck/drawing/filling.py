"""Fill one sheet after another with what belongs together, in the order in which sheets are bound."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from ..dataclass import dataclass
from .border import PAPERS
from .channels import grouped, parted
from .cut import UNKNOWN, Cutter, placed_ids
from .foot import foot
from .halve import halves
from .kinds import Outcome
from .search import most
from .setting import fits, may_fit
from .sheet import Mark, Sheet
from .units import Rank, Unit, branches_of, units_of

_GUESS = 4  # so many units are tried first on a sheet
_HALF = 5  # a sheet with no more things than this goes on with what is bound next
_BARE = 3  # a sheet with no more things than this is put on another, if one has room
_LONG = 160  # letters of what is not told once more: two lines
_LIST_SHARE = 0.35  # part of the paper that verdicts on the sheet as a whole may take


@dataclass(frozen=True, slots=True)
class _Open:
    """What is still to be shown.

    Attributes:
        pending: verdicts on zones, barriers or the sheet as a whole: each is shown on the first sheet that has its place.
        spare: terminals without a run, likewise.
        told: numbers of verdicts whose text stands on an earlier sheet.
    """

    pending: tuple[Mark, ...]
    spare: frozenset[str]
    told: frozenset[int] = frozenset()

    def after(self, part: Sheet) -> _Open:
        """What is still to be shown once a sheet is made."""
        shown = {mark.key for mark in part.marks}
        ends = {terminal.id for device in part.devices for terminal in device.terminals}
        told = {mark.number for mark in part.marks if not mark.listed_on}
        pending = tuple(mark for mark in self.pending if mark.key not in shown)
        return _Open(pending, self.spare - ends, self.told | told)

    def again(self, part: Sheet) -> frozenset[int]:
        """Numbers that were told before and would take much room once more; discrepancies are told on every sheet."""
        told = {
            m.number: m.text
            for m in part.marks
            if m.number in self.told and m.outcome is not Outcome.DISCREPANCY
        }
        return frozenset(told) if sum(len(text) for text in told.values()) > _LONG else frozenset()


@dataclass(eq=False, frozen=True, slots=True)
class _Made:
    """A sheet, the units on it, and what was still to be shown when it was made; one with a cut run has none."""

    sheet: Sheet
    units: tuple[Unit, ...] = ()
    before: _Open | None = None


class Filler:
    """Fills one sheet after another; verdicts whose text found no room on them are in `spilled`."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.cutter = Cutter(sheet)
        self.spilled: list[Mark] = []
        self.made: list[_Made] = []
        ends = {end for run in sheet.runs for end in (run.start, run.end)}
        spare = frozenset(t.id for device in sheet.devices for t in device.terminals) - ends
        placed = placed_ids(sheet)
        pending = tuple(mark for mark in sheet.marks if mark.target not in placed)
        if foot(replace(sheet, marks=pending)).height > _LIST_SHARE * PAPERS[sheet.paper][1]:
            self.spilled += pending
            pending = tuple(moved(mark) for mark in pending)
        self.open = _Open(pending, spare)

    def parts(self) -> list[Sheet]:
        """Sheets in order; verdicts whose text found no room on them are in `spilled`."""
        units = units_of(self.sheet)
        left: list[Unit] = []
        for rank in Rank:
            left = self._fill([*left, *(unit for unit in units if unit.rank is rank)], rank)
        self._join_bare()
        self.spilled += [mark for mark in self.open.pending if not mark.listed_on]
        return [one.sheet for one in self.made]

    def _fill(self, waiting: list[Unit], rank: Rank) -> list[Unit]:
        """Make one sheet after another of some units; those that would leave the last half empty begin the next."""
        guess = max(1, min(len(waiting) // 4, _GUESS))
        passed: set[Unit] = set()  # two things alone, which go on a sheet with what follows
        while waiting:
            if rank is not Rank.ALONE and self._few(waiting):
                if rank is not Rank.POWER:
                    return waiting
                return [unit for unit in waiting if not (self._added(unit) or self._halved(unit))]
            part, count = self._fullest(len(waiting), guess, lambda n: waiting[:n])  # noqa: B023
            if part is None:
                unit, waiting = waiting[0], waiting[1:]
                part, rest = self._divide(unit)
                waiting = [rest, *waiting] if rest else waiting
                if fits(part):
                    here = replace(unit, runs=tuple(run.id for run in part.runs))
                    self.made.append(_Made(part, (here,), self.open))
                    self._taken(part)
                else:
                    self._taken(part)
                    self.made += [_Made(one) for one in self._squeeze(part)]
                continue
            shown, after = tuple(waiting[:count]), waiting[count:]
            if after and _things(part) < _BARE and passed.isdisjoint(shown):
                passed.update(shown)
                waiting, guess = [after[0], *shown, *after[1:]], 1
                continue
            made = _Made(part, shown, self.open)
            self._taken(part)
            self.made.append(made)
            waiting, guess = after, count
        return []

    def _added(self, unit: Unit) -> bool:
        """Put a unit on a sheet that still has room, so that what feeds stands apart from what indicates."""
        for number, one in reversed(list(enumerate(self.made))):
            if one.before is not None:
                units = (*one.units, unit)
                fuller = self._of(units, one.before)
                if may_fit(fuller) and fits(fuller):
                    self.made[number] = _Made(self._taken(fuller), units, one.before)
                    return True
        return False

    def _halved(self, unit: Unit) -> bool:
        """Share a unit and the last sheet out on two."""
        last = self.made[-1] if self.made else None
        if last is None or last.before is None:
            return False
        halves = self._in_two((*last.units, unit), last.before, _BARE)
        self.made[-1:] = halves or (last,)
        return halves is not None

    def _join_bare(self) -> None:
        """Put what would stand on a sheet with hardly anything on one beside it that has room, else share with it."""
        for bare in [one for one in self.made if one.units and _things(one.sheet) <= _BARE]:
            if bare in self.made:
                at = self.made.index(bare)
                pairs = [(at - 1, at), (at, at + 1), (at - 2, at)]
                pairs = [(a, b) for a, b in pairs if a >= 0 and b < len(self.made)]
                for join in (self._joined, self._shared):
                    if any(join(first, second) for first, second in pairs):
                        break

    def _joined(self, first: int, second: int) -> bool:
        """Make one of two sheets, where it fits."""
        one, other = self.made[first], self.made[second]
        if one.before is None or other.before is None:
            return False
        units = (*one.units, *other.units)
        fuller = self._of(units, one.before)
        if not (may_fit(fuller) and fits(fuller)):
            return False
        self.made[first] = _Made(self._taken(fuller), units, one.before)
        del self.made[second]
        return True

    def _shared(self, first: int, second: int) -> bool:
        """Share what is on two neighbouring sheets out evenly."""
        one, other = self.made[first], self.made[second]
        units = (*one.units, *other.units)
        if one.before is None or other.before is None or second - first > 1:
            return False
        halves = self._in_two(units, one.before, min(_things(one.sheet), _things(other.sheet)))
        if halves is not None:
            self.made[first], self.made[second] = halves
        return halves is not None

    def _in_two(self, units: Sequence[Unit], before: _Open, least: int) -> tuple[_Made, _Made] | None:
        """Two sheets of some units, as even as they fit, each with more things than `least`."""
        for cut in sorted(range(1, len(units)), key=lambda n: abs(2 * n - len(units))):
            left = self._of(units[:cut], before)
            right = self._of(units[cut:], before.after(left))
            bare = min(_things(left), _things(right)) <= least
            if not bare and may_fit(left) and may_fit(right) and fits(left) and fits(right):
                first = _Made(self._taken(left), tuple(units[:cut]), before)
                return first, _Made(self._taken(right), tuple(units[cut:]), before.after(left))
        return None

    def _few(self, units: Sequence[Unit]) -> bool:
        """Whether some units, none of them the rest of one begun, come to no more than half a sheet of things."""
        if (
            any(unit.rest for unit in units)
            or len(units) > _HALF
            or sum(len(unit.runs) for unit in units) > 2 * _HALF
        ):
            return False
        homes = {home for unit in units for run in unit.runs for home in self.cutter.ends_of(run)}
        return len(homes) <= _HALF

    def _fullest(
        self, limit: int, guess: int, units: Callable[[int], Sequence[Unit]]
    ) -> tuple[Sheet | None, int]:
        """The sheet of the most units that fit, and how many they are; none when not even one does.

        Only sheets that may well fit are laid out, the fullest first: nearly every one that is laid out is kept.
        """
        tried: dict[int, Sheet] = {}

        def part(count: int) -> Sheet:
            if count not in tried:
                tried[count] = self._part(units(count))
            return tried[count]

        count = most(limit, guess, lambda n: may_fit(part(n)))
        while count and not fits(part(count)):
            count -= 1
        return (tried[count] if count else None), count

    def _divide(self, unit: Unit) -> tuple[Sheet, Unit | None]:
        """A sheet of as many branches of a unit as fit, or of its runs where not even one does, and the others.

        Channels are parted by what they measure and by the bank of their cylinders where that costs no more than one
        sheet, else spread evenly: twelve probes of which seven fit come six and six.
        """
        branches = grouped(branches_of(unit, self.cutter), self.cutter)
        if len(branches) > 1:
            part, count = self._fullest(
                len(branches) - 1, len(branches) // 2, lambda n: [Unit(_joined(branches[:n]))]
            )
            if part is not None:
                even = parted(branches, count, self.cutter)
                evened = self._part([Unit(_joined(branches[:even]))]) if even < count else part
                if fits(evened):
                    part, count = evened, even
                return part, replace(unit, runs=_joined(branches[count:]), rest=True)
        whole = len(unit.runs)
        if whole < 2:
            return self._part([unit]), None
        part, count = self._fullest(whole - 1, whole // 2, lambda n: [Unit(unit.runs[:n])])
        if part is None:
            part, count = self._part([Unit(unit.runs[:1])]), 1
        return part, replace(unit, runs=unit.runs[count:])

    def _part(self, units: Sequence[Unit]) -> Sheet:
        return self._of(units, self.open)

    def _of(self, units: Sequence[Unit], still: _Open) -> Sheet:
        runs = {name for unit in units for name in unit.runs}
        alone = {name for unit in units for name in unit.alone}
        part = self.cutter.part(runs, alone, still.pending, still.spare)
        again = still.again(part)
        if not again:
            return part
        return replace(part, marks=tuple(moved(m) if m.number in again else m for m in part.marks))

    def _taken(self, part: Sheet) -> Sheet:
        """Note what a sheet shows, so that it is not shown again."""
        self.open = self.open.after(part)
        return part

    def _squeeze(self, part: Sheet) -> list[Sheet]:
        """A single run or device that does not fit: move its verdicts to a list, else cut the run at a zone."""
        unlisted = replace(part, marks=tuple(moved(mark) for mark in part.marks))
        if part.marks and fits(unlisted):
            self.spilled += [mark for mark in part.marks if not mark.listed_on]
            return [unlisted]
        pieces: list[Sheet] = []
        for half in halves(part):
            if fits(half):
                pieces.append(half)
                continue
            inner = Filler(half)
            pieces += inner.parts()
            self.spilled += inner.spilled
        return pieces or [part]


def _things(sheet: Sheet) -> int:
    return len(sheet.devices) + len(sheet.blocks)


def _joined(branches: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(name for branch in branches for name in branch)


def moved(mark: Mark) -> Mark:
    return mark if mark.listed_on else replace(mark, listed_on=UNKNOWN[0])
