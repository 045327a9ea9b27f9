"""Inputs of a many-channel indicator, overridden one by one: what is written of one joins what its part says of it.

Inputs that are not written stay as the part has them; ``unused`` leaves one out.
"""

from __future__ import annotations

from collections.abc import Mapping

from .source import Plain, mapping
from .wording import unknown_word

UNUSED = "unused"


def merged(written: Mapping[str, Plain], of_part: Mapping[str, Plain]) -> dict[str, Plain]:
    """The inputs of an indicator: those of its part, with what is written of each."""
    made: dict[str, Plain] = {}
    for name in dict.fromkeys((*of_part, *written)):
        said = written.get(name, {})
        if said != UNUSED:
            base = mapping(of_part.get(name))
            made[name] = {**base, **said} if isinstance(said, dict) else dict(base) if said is None else said
    return made


def stray(written: Mapping[str, Plain], of_part: Mapping[str, Plain]) -> list[tuple[str, str]]:
    """Inputs said to be unused that the part does not have, each with what would be right."""
    return [
        (
            name,
            unknown_word(name, of_part, "input of its part")
            if of_part
            else f"its part has one input, which has no name: take '{name}: {UNUSED}' out",
        )
        for name, said in written.items()
        if said == UNUSED and name not in of_part
    ]
