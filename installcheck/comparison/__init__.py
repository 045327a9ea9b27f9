"""What an alteration changes: in things, in what it leaves, in verdicts, load, weight, error, and what to test again."""

from .change import Change, Detail, Kind
from .compare import Comparison, IndicationChange, compare, compare_judged
from .figures import LoadChange, WeightChange, WeightItem
from .largest_errors import LargestError
from .left_behind import Left
from .retest import Retest
from .verdict_changes import VerdictChange

__all__ = [
    "Change",
    "Comparison",
    "Detail",
    "IndicationChange",
    "Kind",
    "LargestError",
    "Left",
    "LoadChange",
    "Retest",
    "VerdictChange",
    "WeightChange",
    "WeightItem",
    "compare",
    "compare_judged",
]
