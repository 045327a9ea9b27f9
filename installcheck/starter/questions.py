"""The questions asked before a starter is written; an answer that was given as an option is not asked again."""

from __future__ import annotations

import typer

from .write import BASES, INDICATIONS, LAYOUTS, Wishes


def wishes(
    name: str | None,
    indications: list[str] | None,
    cylinders: int | None,
    layout: str | None,
    volts: int | None,
    basis: str | None,
    *,
    ask: bool,
) -> Wishes:
    """What the starter is to hold: as given, else as answered, else as usual. Nothing is asked unless ``ask``."""
    usual = Wishes()

    def answer(given: str | None, question: str, default: str) -> str:
        return given if given is not None else str(typer.prompt(question, default)) if ask else default

    def number(given: int | None, question: str, default: int) -> int:
        return (
            given if given is not None else int(typer.prompt(question, default, type=int)) if ask else default
        )

    called = answer(name, "Name of the installation", usual.name)
    if not indications:
        told = "\n".join(f"  {i} {one}" for i, one in enumerate(INDICATIONS, 1))
        question = f"Which indications? Numbers or names, with commas between\n{told}\n"
        indications = chosen(answer(None, question, ", ".join(usual.indications)))
    return Wishes(
        called,
        tuple(indications),
        number(cylinders, "Cylinders of the engine", usual.cylinders),
        answer(layout, f"Layout ({', '.join(LAYOUTS)})", usual.layout),
        number(volts, "System voltage", usual.volts),
        answer(basis, f"Certification basis ({', '.join(BASES)})", usual.basis),
    )


def chosen(answer: str) -> list[str]:
    """Indications from an answer like ``1, 3, engine speed``; what is no number is left as it was written."""
    found = []
    for word in (word.strip() for word in answer.split(",")):
        number = int(word) if word.isascii() and word.isdigit() else 0
        if word:
            found.append(INDICATIONS[number - 1] if 0 < number <= len(INDICATIONS) else word.lower())
    return found
