"""What an alteration changes: in things, in what it leaves, in verdicts, load, weight, error, and what to test again."""

from .change import Change, Detail, Kind
from .compare import Comparison, IndicationChange, compare
from .errors import LargestError
from .figures import LoadChange, WeightChange, WeightItem
from .judged import VerdictChange
from .leaves import Left
from .retest import Retest

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
]
