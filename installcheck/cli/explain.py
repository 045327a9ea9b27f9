"""``basis`` and ``schema``: what stands behind a rule, and what a document may say."""

from __future__ import annotations

import sys
from enum import StrEnum
from typing import Annotated

import typer

from .console import fail


def basis(
    rule: Annotated[
        str | None, typer.Argument(help="rule to explain; all of them, one line each, when left out")
    ] = None,
    page: Annotated[bool, typer.Option("--page", help="all rules as one page of Markdown")] = False,
) -> None:
    """Why a rule exists, its source, its formula and a worked number."""
    from ..rules.engine import all_rules

    rules = all_rules()
    if page:
        from ..outputs.report.rules_page import rules_page

        sys.stdout.write(rules_page(rules.values()))
        return
    if rule is None:
        width = max(len(r) for r in rules)
        for ident, one in rules.items():
            print(f"{ident:<{width}}  {one.title}")
        return
    if rule not in rules:
        from ..document.wording import unknown_word

        fail(unknown_word(rule, rules, "rule"))
    one = rules[rule]
    for label, text in (
        ("rule", one.id),
        ("asks", one.title),
        ("why", one.why),
        ("source", one.source),
        ("formula", one.formula),
        ("example", one.example),
    ):
        print(f"{label:>8}: {text}")


class Schema(StrEnum):
    """What a schema is of."""

    DOCUMENT = "document"
    PARTS = "parts"
    VERDICTS = "verdicts"


def schema(
    of: Annotated[
        Schema, typer.Option(help="the document, a part file, or the verdicts of --form json")
    ] = Schema.DOCUMENT,
) -> None:
    """Write a JSON Schema: an editor uses it to complete and check a document as it is written."""
    from ..outputs.machine.schemas import schema_text

    sys.stdout.write(schema_text(of.value))
