"""``basis`` and ``schema``: what stands behind a rule, and what a document may say."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from textwrap import indent
from typing import TYPE_CHECKING, Annotated

import typer

from .console import fail

if TYPE_CHECKING:
    from ..rules.vocabulary import Rule


def basis(
    rule: Annotated[
        str | None, typer.Argument(help="rule to explain; all of them, one line each, when left out")
    ] = None,
    page: Annotated[bool, typer.Option("--page", help="all rules as one page of Markdown")] = False,
) -> None:
    """Why a rule exists, its source, its formula, a worked number and sample documents."""
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
    _print_samples(one)


def _print_samples(one: Rule) -> None:
    """The samples of a rule, each a document that ``check`` takes."""
    from ..rules.samples import TITLES, samples

    told = samples(one)
    if told is None:
        return
    for kind, title in TITLES.items():
        if kind in told.never:
            print(f"\n{title}: none, {told.never[kind]}")
        else:
            print(f"\n{title}:\n\n{indent(told.texts[kind], '  ')}", end="")


class Schema(StrEnum):
    """What a schema is of."""

    DOCUMENT = "document"
    PARTS = "parts"
    VERDICTS = "verdicts"
    TRACE = "trace"


def schema(
    file: Annotated[
        Path | None, typer.Argument(help="installation whose ids, terminals and parts are offered as well")
    ] = None,
    of: Annotated[
        Schema, typer.Option(help="the document, a part file, or what check and trace write with --form json")
    ] = Schema.DOCUMENT,
    words: Annotated[
        bool, typer.Option("--words", help="for a person: every section and word, what it holds and means")
    ] = False,
    section: Annotated[str, typer.Option(help="with --words, only this section, or shape like 'curve'")] = "",
) -> None:
    """Write a JSON Schema: an editor uses it to complete and check a document as it is written."""
    from ..document.schema import document_schema
    from ..document.schema_words import blocks
    from ..document.wording import unknown_word
    from ..outputs.machine.schemas import schema_text
    from .reading import load_document

    if of is not Schema.DOCUMENT and (file is not None or words or section):
        fail("a file, --words and --section go with the schema of a document; leave out --of")
    document = load_document(file) if file is not None else None
    if not (words or section):
        sys.stdout.write(schema_text(of.value, document))
        return
    told = blocks(document_schema() if document is None else document_schema(document.library))
    if section and section not in told:
        fail(unknown_word(section, told, "section or shape of a document"))
    sys.stdout.write(told[section] if section else "\n".join(told.values()))
