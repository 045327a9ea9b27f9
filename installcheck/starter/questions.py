"""The questions asked before a starter is written; an answer that was given as an option is not asked again."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from shlex import quote
from types import MappingProxyType
from typing import TypeVar

import typer

from ..document.equivalents import all_meant, meant, number_meant
from .write import (
    BASES,
    INDICATIONS,
    LAYOUTS,
    OPERATIONS,
    Wishes,
    among,
    check_cylinders,
    check_engines,
    check_name,
    check_volts,
)

T = TypeVar("T")


def wishes(given: Mapping[str, Sequence[str]], *, ask: bool, date: str | None = None) -> Wishes:
    """What the starter is to hold: as given, else as answered, else as usual. Nothing is asked unless ``ask``.

    What was given is looked at before anything is asked, and an answer that cannot be is asked again at once, so that no
    answer is lost.

    Args:
        given: what options say, by their names; an option not given is absent or empty.
        date: of the day.

    Raises:
        ValueError: what was given cannot be.
        InterruptedError: the asking was broken off; holds the options that say what was answered.
    """
    usual = Wishes()
    told = {option: list(given.get(option) or ()) for option in _OPTIONS}
    for option, texts in told.items():
        if texts:
            _OPTIONS[option](", ".join(texts))

    def answer(option: str, question: str, default: object, read: Callable[[str], T]) -> T:
        texts = told[option]
        if not texts and ask:
            try:
                texts += [typer.prompt(question, str(default), value_proc=_again(read))]
            except typer.Abort:
                raise InterruptedError(_as_options(told)) from None
        return read(", ".join(texts) or str(default))

    name = answer("name", "Name of the installation", usual.name, _name)
    listed = "\n".join(f"  {i} {one}" for i, one in enumerate(INDICATIONS, 1))
    question = f"Which indications? Numbers or names, with commas between\n{listed}\n"
    indications = answer("indication", question, ", ".join(usual.indications), _indications)
    engines = answer("engines", "Engines (1 or 2)", usual.engines, _engines)
    of = "the engine" if engines == 1 else "each engine"
    flown = f"Kinds of operation, with commas between ({', '.join(OPERATIONS)})"
    return Wishes(
        name,
        tuple(indications),
        answer("cylinders", f"Cylinders of {of}", usual.cylinders, _cylinders),
        answer("layout", f"Layout ({', '.join(LAYOUTS)})", usual.layout, _layout),
        answer("volts", "System voltage", usual.volts, _volts),
        answer("basis", f"Certification basis ({', '.join(BASES)})", usual.basis, _basis),
        engines,
        tuple(answer("operation", flown, ", ".join(usual.operation), _operations)),
        date,
    )


def _as_options(told: Mapping[str, Sequence[str]]) -> str:
    """The options that say what was answered."""
    return " ".join(
        f"--{option} {quote(str(one))}"
        for option, texts in told.items()
        if texts
        for one in _several(_OPTIONS[option](", ".join(texts)))
    )


def _several(answer: object) -> Sequence[object]:
    return answer if isinstance(answer, list) else [answer]


def _again(read: Callable[[str], object]) -> Callable[[str], str]:
    """A reader of an answer that has it asked again, with what would be right, if it cannot be."""

    def once_more(text: str) -> str:
        try:
            read(text)
            return text
        except ValueError as bad:
            raise typer.BadParameter(str(bad)) from None

    return once_more


def _name(text: str) -> str:
    check_name(text)
    return text


def _cylinders(text: str) -> int:
    count = _number(str(number_meant(text) or text), "an engine has 1 to 36 cylinders")
    check_cylinders(count)
    return count


def _volts(text: str) -> int:
    volts = _number(
        text.removesuffix("V").strip(), "the system voltage is given in whole volts, like 14 or 28"
    )
    check_volts(volts)
    return volts


def _number(text: str, told: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 7):
        raise ValueError(told)
    return int(text)


def _engines(text: str) -> int:
    words = {"single": 1, "one": 1, "twin": 2, "two": 2}
    count = words.get(text.strip().lower()) or _number(text.strip(), "give 1 or 2 engines")
    check_engines(count)
    return count


def _layout(text: str) -> str:
    layout = meant(text, LAYOUTS) or text
    among("layout", (layout,), LAYOUTS)
    return layout


def _basis(text: str) -> str:
    basis = meant(text, BASES) or text
    among("basis", (basis,), BASES)
    return basis


def _operations(text: str) -> list[str]:
    words = [word for one in text.split(",") if (word := one.strip())]
    found = all_meant(text, OPERATIONS) or [meant(word, OPERATIONS) or word for word in words]
    among("kind of operation", found, OPERATIONS)
    if not found:
        raise ValueError(f"choose at least one kind of operation: {', '.join(OPERATIONS)}")
    return found


def _indications(text: str) -> list[str]:
    found = chosen(text)
    among("indication", found, INDICATIONS)
    if not found:
        raise ValueError(f"choose at least one indication: {', '.join(INDICATIONS)}")
    return found


def chosen(answer: str) -> list[str]:
    """Indications from an answer like ``1, 3, engine speed``; what is no number is left as it was written."""
    found = []
    for word in (word.strip() for word in answer.split(",")):
        number = int(word) if word.isascii() and word.isdigit() and len(word) < 7 else 0
        if word:
            found.append(
                INDICATIONS[number - 1]
                if 0 < number <= len(INDICATIONS)
                else meant(word, INDICATIONS) or word.lower()
            )
    return found


_OPTIONS: Mapping[str, Callable[[str], object]] = MappingProxyType(
    {
        "name": _name,
        "indication": _indications,
        "engines": _engines,
        "cylinders": _cylinders,
        "layout": _layout,
        "volts": _volts,
        "basis": _basis,
        "operation": _operations,
    }
)
"""What reads what is given or answered, by the name of the option."""
