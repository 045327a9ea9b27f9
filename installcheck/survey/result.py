"""What a survey of head temperatures finds. Temperatures and differences in degC, times in s."""

from collections.abc import Mapping

from ..dataclass import dataclass
from ..logs.flight_log import LeftOut, LogNote
from ..logs.values import show_difference, show_temperature
from ..physics.hottest import Repeats


@dataclass(frozen=True, slots=True)
class Head:
    """One cylinder in one phase: its `peak` [degC] with the `line` of the log and the `time` [s] it first
    stands at, its `mean` [degC], the `rows_hottest` in which it alone was the hottest, and the peak carried
    to the hot day."""

    cylinder: int
    peak: float
    line: int
    time: float
    mean: float
    rows: int
    rows_hottest: int
    corrected: float | None
    clamped: bool


@dataclass(frozen=True, slots=True)
class Ranking:
    """Who is hottest: more than one in `hottest` is a tie. `lead` [degC] over the `next` cylinder, 0 in a
    tie.

    `tolerance` [degC] is the greatest error of one probe; `candidates` are all that two such errors could
    make the hottest, `sure` that there is only one; `chance_wrong` [-] bounds the chance that another is
    hotter.
    """

    order: tuple[int, ...]
    hottest: tuple[int, ...]
    next: int | None
    lead: float
    tolerance: float
    candidates: tuple[int, ...]
    chance_wrong: float | None

    @property
    def sure(self) -> bool:
        """Whether probe tolerance leaves one cylinder only."""
        return len(self.candidates) == 1


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch in which every head had settled, from line `first` to line `last`, with the mean of each head
    [degC] and the largest slope with its 95 % band [degC/s]."""

    first: int
    last: int
    seconds: float
    rows: int
    means: Mapping[int, float]
    rate: float


@dataclass(frozen=True, slots=True)
class Phase:
    """One phase of the flight: `by_peak` ranks peaks (on the hot day where the survey is corrected),
    `by_time` names who was hottest in most of the `rows_compared`; `rows_tied` had no single hottest.
    `repeat` compares hottest and next over `repeat_of` ('steady stretches' or 'passes'). `margin` [degC] is
    what is left to the limit."""

    name: str
    rows: int
    seconds: float
    passes: int
    heads: tuple[Head, ...]
    by_peak: Ranking
    carried_in: bool
    by_steady: Ranking | None
    by_time: tuple[int, ...]
    rows_compared: int
    rows_tied: int
    steady: tuple[Stretch, ...]
    repeat: Repeats | None
    repeat_of: str
    margin: float | None
    finding: str

    @property
    def own(self) -> Ranking:
        """The order that belongs to the phase itself: that of its steady stretches, else that of its
        peaks."""
        return self.by_steady or self.by_peak


@dataclass(frozen=True, slots=True)
class OrderChange:
    """The hottest differs between two phases; `sure` where the probes' tolerance cannot explain it."""

    phase: str
    hottest: tuple[int, ...]
    other_phase: str
    other_hottest: tuple[int, ...]
    sure: bool


@dataclass(frozen=True, slots=True)
class Survey:
    """The result: `phases`, and over all the `governing` phase (least margin, or highest where no limit is
    given) with its `hottest`. `shortfall` [degC] says how much the `probed` cylinder reads below the hottest,
    by phase; `weighted` [degC], by cylinder, is the greatest shortfall less margin: above zero a gauge on
    that cylinder can miss the limit."""

    file: str
    unit: str
    limit: float | None
    grade: str
    cylinders: tuple[int, ...]
    unmeasured: tuple[int, ...]
    corrected: bool
    phases: tuple[Phase, ...]
    governing: str | None
    hottest: tuple[int, ...]
    weighted: Mapping[int, float]
    probed: int | None
    shortfall: Mapping[str, float]
    changes: tuple[OrderChange, ...]
    left_out: tuple[LeftOut, ...]
    log_notes: tuple[LogNote, ...]
    notes: tuple[str, ...]
    finding: str

    def show(self, temperature: float) -> str:
        """A `temperature` [degC] in the unit of the log."""
        return show_temperature(temperature, self.unit)

    def show_difference(self, difference: float) -> str:
        """A temperature `difference` [degC] in the unit of the log."""
        return show_difference(difference, self.unit)
