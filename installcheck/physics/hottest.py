"""Which cylinder is the hottest, and how sure that is, from probes that each have a tolerance.

Temperatures, margins and tolerances are in degC; as only differences matter, one other unit may stand for all
of them. A tolerance is the bound a = greatest error of one probe; readings are of the same kind of probe at
the same point.
"""

from collections.abc import Sequence
from math import erfc, sqrt

from ..dataclass import dataclass
from .tables import read_table
from .thermocouple_limits import limit_of_error_c
from .validity import finite, not_negative, positive, within


def probe_tolerance(
    temperature: float, grade: str = "standard", kind: str = "K", standard: str = "ASTM E230"
) -> float:
    """Limit of error [degC] of new thermocouple wire of a type `kind` and `grade` at `temperature` [degC].

    ASTM E230 or IEC 60584-1, the greater of a fixed figure and a share of the reading. Service adds drift to
    it.

    >>> probe_tolerance(230), probe_tolerance(230, "special")
    (2.2, 1.1)
    >>> probe_tolerance(230, "class 2", standard="IEC 60584-1")
    2.5
    """
    return limit_of_error_c(standard, grade, kind, finite("temperature", temperature, "degC"))


def worst_case_difference(tolerance: float) -> float:
    """Greatest difference [degC] two probes of one `tolerance` [degC] can show at one temperature: 2a."""
    return 2 * positive("tolerance", tolerance, "degC")


def rectangular_difference(tolerance: float, tail: float) -> float:
    """Difference [degC] that two probes with rectangular errors within `tolerance` [degC] exceed with chance
    `tail` [-].

    The difference is triangular over 2a: P(D > x) = (2a - x)^2 / (8a^2), so x = (2 - sqrt(8 tail)) a. `tail`
    up to 0.5.
    """
    within("tail", tail, 0, 0.5, "")
    return (2 - sqrt(8 * tail)) * positive("tolerance", tolerance, "degC")


def chance_wrong_gaussian(difference: float, tolerance: float) -> float:
    """Chance [-] that the lower of two readings `difference` [degC] apart is truly the hotter, sigma = a /
    sqrt(3).

    >>> round(chance_wrong_gaussian(5, 3.96), 4)
    0.061
    """
    sigma = positive("tolerance", tolerance, "degC") / sqrt(3)
    # Phi(-x) = erfc(x / sqrt 2) / 2 with x = M / (sigma sqrt 2)
    return 0.5 * erfc(not_negative("difference", difference, "degC") / (2 * sigma))


def chance_wrong_triangular(difference: float, tolerance: float) -> float:
    """The same chance [-] for rectangular probe errors, (2a - M)^2 / (8a^2); zero from M = 2a on."""
    shortfall = max(worst_case_difference(tolerance) - not_negative("difference", difference, "degC"), 0.0)
    return shortfall**2 / (8 * tolerance**2)


def chance_wrong_of_several(temperatures: Sequence[float], tolerance: float) -> float:
    """Upper bound [-] on the chance that another cylinder is hotter than the highest: the chances of all
    rivals added.

    `temperatures` [degC], one a cylinder, two or more.
    """
    readings = _finite_readings(temperatures, at_least=2)
    top = readings.index(max(readings))
    rivals = readings[:top] + readings[top + 1 :]
    return min(sum(chance_wrong_gaussian(readings[top] - rival, tolerance) for rival in rivals), 1.0)


def candidates(temperatures: Sequence[float], difference: float) -> tuple[int, ...]:
    """Indices of all `temperatures` [degC] within `difference` [degC] of the highest, in their order."""
    readings = _finite_readings(temperatures, at_least=1)
    not_negative("difference", difference, "degC")
    return tuple(i for i, reading in enumerate(readings) if max(readings) - reading <= difference)


@dataclass(frozen=True, slots=True)
class Swap:
    """What a swap of two probes shows: `cylinders` the true difference [degC], `probes` that of the probes
    [degC]."""

    cylinders: float
    probes: float


def swap(before: float, after: float) -> Swap:
    """True difference of cylinder A less B from the differences shown `before` and `after` their probes
    change places [degC]."""
    finite("difference before", before, "degC")
    finite("difference after", after, "degC")
    return Swap((before + after) / 2, (before - after) / 2)


@dataclass(frozen=True, slots=True)
class Repeats:
    """Paired differences of repeated climbs: `mean` and `deviation` [degC], Student's `t` [-] (None where all
    are equal) and `t_needed` [-] for 5 % one-sided. A probe's own error repeats too; no number of climbs
    removes it."""

    count: int
    mean: float
    deviation: float
    t: float | None
    t_needed: float

    @property
    def proven(self) -> bool:
        """Whether the mean difference stands above its scatter."""
        return self.mean > 0 if self.t is None else self.t > self.t_needed


def t_needed(degrees_of_freedom: int) -> float:
    """Student's t [-] exceeded by chance in 5 % on one side; between rows of the table, the row with fewer
    degrees."""
    within("degrees of freedom", degrees_of_freedom, 1, 1e9, "")
    rows = [(int(row["degrees_of_freedom"]), float(row["t"])) for row in read_table("student_t")]
    return max(row for row in rows if row[0] <= degrees_of_freedom)[1]


def repeats(differences: Sequence[float]) -> Repeats:
    """Student's t of paired `differences` [degC] between two cylinders, two or more."""
    d = _finite_readings(differences, at_least=2)
    n = len(d)
    mean = sum(d) / n
    deviation = sqrt(sum((x - mean) ** 2 for x in d) / (n - 1))
    t = mean / (deviation / sqrt(n)) if deviation > 0 else None
    return Repeats(n, mean, deviation, t, t_needed(n - 1))


@dataclass(frozen=True, slots=True)
class Stages:
    """Several stages against the limit, indices counting from 0.

    `governing` is the stage with the smallest of `margins` [degC]; `hottest` the cylinders highest there
    (more than one is a tie). `shortfall[stage][cylinder]` [degC] is how far a cylinder lies below the highest
    of its stage; `worst` its greatest over the stages, and `index` the greatest of shortfall less margin:
    above zero, another cylinder can be at its limit while this one still reads below the highest the survey
    saw.
    """

    margins: tuple[float, ...]
    governing: int
    hottest: tuple[int, ...]
    shortfall: tuple[tuple[float, ...], ...]
    worst: tuple[float, ...]
    index: tuple[float, ...]


def weigh_stages(stages: Sequence[Sequence[float]], limits: Sequence[float]) -> Stages:
    """Weigh `stages` (rows of one temperature [degC] a cylinder, corrected) by their margin to `limits`
    [degC], one a stage."""
    rows = [_finite_readings(stage, at_least=1) for stage in stages]
    if not rows or len({len(row) for row in rows}) != 1 or len(limits) != len(rows):
        raise ValueError("every stage needs one temperature for each cylinder, and a limit")
    margins = tuple(
        finite("limit", limit, "degC") - max(row) for limit, row in zip(limits, rows, strict=True)
    )
    shortfall = tuple(tuple(max(row) - reading for reading in row) for row in rows)
    governing = margins.index(min(margins))
    columns = list(zip(*shortfall, strict=True))
    return Stages(
        margins,
        governing,
        tuple(i for i, short in enumerate(shortfall[governing]) if short == 0),
        shortfall,
        tuple(max(column) for column in columns),
        tuple(max(short - left for short, left in zip(column, margins, strict=True)) for column in columns),
    )


def _finite_readings(readings: Sequence[float], at_least: int) -> list[float]:
    if len(readings) < at_least:
        raise ValueError(f"{at_least} or more readings are needed, not {len(readings)}")
    return [finite("reading", float(reading), "degC") for reading in readings]
