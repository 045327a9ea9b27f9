"""``survey``: the hottest cylinder in a flight log."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from .console import PlainForm, console, fail, say


def survey(
    log: Annotated[Path, typer.Argument(help="recorder log of a flight, as text")],
    cylinders: Annotated[int | None, typer.Option(help="cylinders of the engine")] = None,
    limit: Annotated[str | None, typer.Option(help="head temperature limit, like '500 degF'")] = None,
    probed: Annotated[int | None, typer.Option(help="cylinder the aircraft's own probe is on")] = None,
    grade: Annotated[
        str | None,
        typer.Option(help="grade of the survey's probes: standard, special, IEC class 1 or IEC class 2"),
    ] = None,
    thermocouple: Annotated[str, typer.Option(help="type of the survey's probes: J, K, E, T or N")] = "K",
    column: Annotated[
        list[str] | None, typer.Option(help="what a column is, like 'cht 1=TC-3'; may be given again")
    ] = None,
    unit: Annotated[
        list[str] | None,
        typer.Option(help="unit the log does not state, like 'cht=degF'; may be given again"),
    ] = None,
    engine: Annotated[int, typer.Option(help="which engine, in a log that holds several")] = 1,
    interval: Annotated[str | None, typer.Option(help="time between rows of a log without times")] = None,
    form: Annotated[PlainForm, typer.Option(help="text for a person, json for a machine")] = PlainForm.TEXT,
    out: Annotated[
        Path | None, typer.Option(help="file to draw the temperatures in: svg, png or pdf")
    ] = None,
) -> None:
    """Find the hottest cylinder in a flight log: by phase, by how much, and how sure. Exit status: 2 if it cannot be read."""
    from ..files.writing import OutputError
    from ..outputs.pages import require_form, write_pages
    from ..survey.request import SurveyError, survey_log

    drawn: list[Path] = []
    try:
        if out is not None:
            require_form(out)
        found = survey_log(
            log,
            cylinders=cylinders,
            limit=limit,
            probed=probed,
            grade=grade,
            thermocouple=thermocouple,
            columns=column or (),
            units=unit or (),
            engine=engine,
            interval=interval,
        )
        if out is not None:
            from ..outputs.plots.survey import survey_pages

            drawn = write_pages(survey_pages(found), out)
    except (SurveyError, OutputError) as bad:
        fail(str(bad))
    if form is PlainForm.JSON:
        from ..outputs.machine.survey_json import survey_json

        sys.stdout.write(survey_json(found))
    else:
        from ..outputs.terminal.survey import print_survey

        print_survey(found, console())
        for name in drawn:
            say(str(name), out=True)
