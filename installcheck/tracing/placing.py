"""Results that name a place: where a supply or a lead is lost, which wire or part is not as it should be."""

from __future__ import annotations

import re

from ..analysis.study import Study
from ..document.wording import unknown_word
from ..physics.network_parts import LARGEST_RESISTANCE
from .channels import channels
from .clauses import Conditioned
from .looks import (
    STOPPED,
    Answers,
    Compared,
    Followed,
    Holding,
    Insulated,
    Look,
    Marked,
    Result,
    Rung,
    Setup,
    Shaken,
    Word,
)
from .pieces import Piece

RESULTS: dict[type[Look], tuple[Word, ...]] = {
    Holding: ("holds", "falls", "still"),
    Answers: ("moves", "still"),
    Shaken: ("erratic", "still"),
    Marked: ("right", "wrong"),
    Compared: ("right", "wrong"),
    Insulated: ("right", "wrong"),
    Followed: ("right", "lost"),
    Rung: ("right", "lost"),
}
"""Results of looks that have no value."""
PLACED = re.compile(
    r"(?P<word>lost|jumping|jumps|erratic|wrong) at (?P<place>.+?)(?P<rest>\s+with its leads shaken)?"
)
"""A result with the place it was found at."""


class Placing(Conditioned):
    """A line whose result may name a place."""

    def found_at(self, look: Look, rest: Piece, placed: re.Match[str]) -> Result:
        """The result of a look that names a place."""
        study = self.study
        known = (
            list(study.graph.nodes)
            if isinstance(look, (Followed, Rung))
            else [*dict.fromkeys(e.label for e in study.graph.edges if e.kind == "conductor")]
        )
        if isinstance(look, (Shaken, Compared)):
            known += [*(i for _, i, _ in study.model.things()), *study.model.wire_runs]
        places = placed["place"].split(" and ")
        for name in places:
            if name not in known:
                raise self.fail(rest.cut(placed.start("place")), unknown_word(name, known, "place"))
        word = {"jumping": "erratic", "jumps": "erratic"}.get(placed["word"], placed["word"])
        if word not in RESULTS.get(type(look), ()):
            raise self.fail(rest, unknown_word(placed["word"], RESULTS.get(type(look), ()), "result"))
        if isinstance(look, (Marked, Compared)):
            places.sort()
        return Result(word=word, text=rest.text, at=" and ".join(places))


def at_of(study: Study, look: Look) -> Setup:
    """The state of the aircraft in which a look is taken that is only taken in one."""
    if not isinstance(look, Rung):
        return Setup(STOPPED)
    source = next(c.source for c in channels(study) if str(c.show) == look.name)
    return Setup(STOPPED, replaced=((source, LARGEST_RESISTANCE),))
