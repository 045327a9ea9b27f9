"""What a look is expected to show."""

from __future__ import annotations

from ..dataclass import dataclass
from .looks import Word


@dataclass(frozen=True, slots=True)
class Expect:
    """What a look shows in a world; with both a value and a word it may be either, one as likely as the other.

    Attributes:
        value: in SI (degC); ``None`` where it is a word.
        word: how the pointer or meter stands where that is no value.
        fixed: whether the value does not follow what is true.
        spread: how many times as wide a doubt of the sender comes out on the dial; 0 where it does not follow.
        follows: how much of a doubt of what is true reaches the sender or probe: less than 1 through a leak or a bad seat.
        unsure: by how much it may differ as a part is another than drawn, of which no figure is known [SI].
        places: places a person would name with the word, each with its probability; none where the word is told without.
        felt: what it follows, where that is not its own: the sender, probe or gauge of exchanged hoses or places.
    """

    value: float | None = None
    word: Word | None = None
    fixed: bool = False
    spread: float = 1.0
    follows: float = 1.0
    unsure: float = 0.0
    felt: str = ""
    places: tuple[tuple[str, float], ...] = ()


WORD_OF: dict[str, Word] = {
    "above": "off scale high",
    "below": "off scale low",
    "dead": "dead",
    "frozen": "frozen",
    "erratic": "erratic",
}
"""What is told of a pointer by how it stands in the worked-out state."""
