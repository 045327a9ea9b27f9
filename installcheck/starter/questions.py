"""The questions asked before a starter is written; an answer that was given as an option is not asked again."""

from __future__ import annotations

from collections.abc import Callable
from shlex import quote
from typing import TypeVar

import typer

from ..document.equivalents import meant
from .write import (
    BASES,
    INDICATIONS,
    LAYOUTS,
    Wishes,
    among,
    check_cylinders,
    check_engines,
    check_name,
    check_volts,
)

T = TypeVar("T")


def wishes(
    name: str | None,
    indications: list[str] | None,
    cylinders: int | None,
    layout: str | None,
    volts: int | None,
    basis: str | None,
    engines: int | None = None,
    *,
    ask: bool,
) -> Wishes:
    """What the starter is to hold: as given, else as answered, else as usual. Nothing is asked unless ``ask``.

    What was given is looked at before anything is asked, and an answer that cannot be is asked again at once, so that no
    answer is lost.

    Raises:
        ValueError: what was given cannot be.
        InterruptedError: the asking was broken off; holds the options that say what was answered.
    """
    usual = Wishes()
    given = [meant(one, INDICATIONS) or _lowered(one) for one in indications or ()]
    for value, check in (
        (name, _name),
        (cylinders, _cylinders),
        (layout, _layout),
        (volts, _volts),
        (basis, _basis),
        (engines, _engines),
    ):
        if value is not None:
            check(str(value))
    if given:
        _known(given)

    options = {
        "name": name,
        "cylinders": cylinders,
        "layout": layout,
        "volts": volts,
        "basis": basis,
        "engines": engines,
    }
    answered = [f"--{option} {quote(str(value))}" for option, value in options.items() if value is not None]
    answered += [f"--indication {quote(one)}" for one in given]

    def answer(option: str, value: T | None, question: str, default: T, read: Callable[[str], T]) -> T:
        if value is not None or not ask:
            return value if value is not None else default
        try:
            told: T = typer.prompt(question, default, value_proc=_again(read))
        except typer.Abort:
            raise InterruptedError(" ".join(answered)) from None
        several = chosen(str(told)) if option == "indication" else [str(told)]
        answered.extend(f"--{option} {quote(one)}" for one in several)
        return told

    called = answer("name", name, "Name of the installation", usual.name, _name)
    if not given:
        told = "\n".join(f"  {i} {one}" for i, one in enumerate(INDICATIONS, 1))
        question = f"Which indications? Numbers or names, with commas between\n{told}\n"
        given = chosen(answer("indication", None, question, ", ".join(usual.indications), _indications))
    how_many = answer("engines", engines, "Engines (1 or 2)", usual.engines, _engines)
    return Wishes(
        called,
        tuple(given),
        answer(
            "cylinders",
            cylinders,
            "Cylinders of the engine" if how_many == 1 else "Cylinders of each engine",
            usual.cylinders,
            _cylinders,
        ),
        answer("layout", layout, f"Layout ({', '.join(LAYOUTS)})", usual.layout, _layout),
        answer("volts", volts, "System voltage", usual.volts, _volts),
        answer("basis", basis, f"Certification basis ({', '.join(BASES)})", usual.basis, _basis),
        how_many,
    )


def _again(read: Callable[[str], T]) -> Callable[[str], T]:
    """A reader of an answer that has it asked again, with what would be right, if it cannot be."""

    def once_more(text: str) -> T:
        try:
            return read(text)
        except ValueError as bad:
            raise typer.BadParameter(str(bad)) from None

    return once_more


def _name(text: str) -> str:
    check_name(text)
    return text


def _cylinders(text: str) -> int:
    count = _number(text, "an engine has 1 to 36 cylinders")
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


def _indications(text: str) -> str:
    _known(chosen(text))
    return text


def _known(found: list[str]) -> None:
    among("indication", found, INDICATIONS)
    if not found:
        raise ValueError(f"choose at least one indication: {', '.join(INDICATIONS)}")


def _lowered(word: str) -> str:
    return word.strip().lower()


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
