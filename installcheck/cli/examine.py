"""``compare``, ``faults`` and ``size``: what a change does, what a fault does, what could be lighter."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from .console import CHECKER_FAILED, PlainForm, console, fail, unless_failed
from .reading import load_document


def compare(
    old: Annotated[Path, typer.Argument(help="installation before the change")],
    new: Annotated[Path, typer.Argument(help="installation after it")],
    form: Annotated[PlainForm, typer.Option(help="text for a person, json for a machine")] = PlainForm.TEXT,
    every: Annotated[
        bool, typer.Option("--every", help="add what was only reworded, and verdicts that meet")
    ] = False,
    review: Annotated[
        Path | None,
        typer.Option(
            help="decisions of the last review; OLD's name with .decisions.json where that file is there"
        ),
    ] = None,
) -> None:
    """Say what an alteration changes. Exit status: 1 if a discrepancy is new or worse or was refused, 2 if a document cannot be read."""
    from ..comparison import compare as compared
    from ..rules.decisions import DecisionsError, open_refusals, read_decisions, still_asked

    found = compared(load_document(old), load_document(new))
    beside = old.with_name(f"{old.stem}.decisions.json")
    chosen = review or (beside if beside.exists() else None)
    try:
        review_of = None if chosen is None else read_decisions(chosen)
    except DecisionsError as bad:
        fail(str(bad))
    refused = [] if review_of is None else open_refusals(review_of, found.new_ledger.verdicts)
    asked = [] if review_of is None else still_asked(review_of, found.new_ledger)
    if form is PlainForm.JSON:
        from ..outputs.machine.compare_json import comparison_as_json

        sys.stdout.write(comparison_as_json(found))
    else:
        from ..outputs.terminal.compare import print_comparison

        print_comparison(found, console(), every=every, refused=refused, asked=asked)
    unless_failed(found.old_ledger, found.new_ledger)
    raise SystemExit(int(found.alarming or bool(refused)))


def faults(
    file: Annotated[
        Path | None, typer.Argument(help="installation; the only one in this folder when left out")
    ] = None,
    point: Annotated[
        str | None, typer.Option(help="operating point they are played at; the cruise when left out")
    ] = None,
    form: Annotated[PlainForm, typer.Option(help="text for a person, json for a machine")] = PlainForm.TEXT,
    every: Annotated[
        bool, typer.Option("--every", help="list faults that no indication shows as well")
    ] = False,
) -> None:
    """Play every single fault and say what it does to each indication. Exit status: 2 if the document cannot be read."""
    from ..analysis.study import Study
    from ..document.wording import unknown_word
    from ..faults.play import play, usual_point

    document = load_document(file)
    study = Study(document)
    named = {p.name: p for p in study.points}
    if point is not None and point not in named:
        fail(unknown_word(point, named, "operating point"))
    where = named[point] if point is not None else usual_point(study)
    played = play(study, where)
    if form is PlainForm.JSON:
        from ..outputs.machine.faults_json import faults_as_json

        sys.stdout.write(faults_as_json(document, where.name, played))
    else:
        from ..outputs.terminal.faults import print_faults

        print_faults(document, where.name, played, console(), every=every)


def size_(
    file: Annotated[
        Path | None, typer.Argument(help="installation; the only one in this folder when left out")
    ] = None,
    form: Annotated[PlainForm, typer.Option(help="text for a person, json for a machine")] = PlainForm.TEXT,
) -> None:
    """Choose the lightest gauges and protectors no rule faults. Exit status: 1 if a fault is left that no size cures."""
    from ..sizing.candidates import RuleFailedError
    from ..sizing.size import size

    document = load_document(file)
    try:
        sizing = size(document)
    except RuleFailedError as bad:
        fail(str(bad), CHECKER_FAILED)
    if form is PlainForm.JSON:
        from ..outputs.machine.size_json import sizing_as_json

        sys.stdout.write(sizing_as_json(document, sizing))
    else:
        from ..outputs.terminal.size import print_sizing

        print_sizing(document, sizing, console())
    raise SystemExit(1 if sizing.unmet else 0)
