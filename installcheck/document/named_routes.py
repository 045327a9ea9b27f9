"""What is wrong in the routes of the section ``routes``, whether anything uses them or not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Protocol

from pydantic import ValidationError

from ..model.routes import RouteStep
from .implied import Said
from .references import References
from .routes import Routes, Step
from .source import DocPath, Place, Problem
from .wording import problems_of, unknown_word


class Spoken(Protocol):
    """Gives the place of what was said."""

    def __call__(self, said: Said, *, of_key: bool = False) -> Place: ...


_SECTIONS = {"zone": "zones", "barrier": "barriers"}


def wrong_in_routes(
    routes: Routes, references: References, spoken: Spoken, unknown: Callable[[DocPath], bool]
) -> Iterator[Problem]:
    """Each step as one of a run is read, at the place it was said.

    Args:
        spoken: gives the place of what was said.
        unknown: whether a document says of a path that it is unknown.
    """
    for name in routes.named:
        for step in routes.route(name):
            yield from _wrong_in(step, spoken, unknown)
            for word, section in _SECTIONS.items():
                known, value = references.model.section(section), step.words.get(word)
                if isinstance(value, str) and value not in known and value not in references.dropped:
                    yield Problem(
                        spoken(step.said.get(word, step.whole)), unknown_word(value, known, word), value
                    )


def _wrong_in(step: Step, spoken: Spoken, unknown: Callable[[DocPath], bool]) -> Iterator[Problem]:
    def said(loc: DocPath) -> Said:
        return step.said.get(str(loc[0]), step.whole) if loc else step.whole

    try:
        RouteStep.model_validate(step.words)
    except ValidationError as bad:
        errors = [e for e in bad.errors(include_url=False) if not unknown(said(e["loc"]).path)]
        yield from problems_of(
            errors,
            RouteStep,
            lambda loc, of_key: spoken(said(loc), of_key=of_key),
            lambda loc: unknown(said(loc).path),
            {},
        )
