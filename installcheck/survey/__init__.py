"""Which cylinder runs hottest, phase by phase and over all, from a flight log; by how much, and how sure that
is.

The advice rests on the data of the engine and the airframe, which decide, and on the judgement of a licensed
person.
"""

from .result import Head, OrderChange, Phase, Ranking, Stretch, Survey
from .run import survey

__all__ = ["Head", "OrderChange", "Phase", "Ranking", "Stretch", "Survey", "survey"]
