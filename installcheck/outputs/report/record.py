"""What the review record says: every verdict, sheet, list and figure as plain values that a template lays out."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ...analysis.errors.error_budget import ErrorBudget
from ...analysis.errors.indicated import all_budgets, worst_budgets
from ...analysis.errors.truth_curves import truth_curves
from ...analysis.study import Study
from ...analysis.surveys import Unusable, surveys
from ...causes.causes import find_causes
from ...causes.danger import ENDANGERS, ORDER
from ...causes.found import Causes
from ...drawing.ink import Page
from ...drawing.kinds import Paper
from ...drawing.page import compose
from ...drawing.svg import page_svg
from ...files.names import visible
from ...model.quantities import in_unit, plain_number
from ...papers import PAPERS
from ...papers import paper as paper_of
from ...papers.replaced import NotThereError, before
from ...papers.tables import Table, cell_text
from ...rules.asking import asks, key_of
from ...rules.engine import all_rules
from ...rules.verdicts import Ledger, Outcome
from ..alike import few
from ..diagram.sheets import Subject, sheets
from ..numbering import findings
from ..plots.budget_bars import budget_page
from ..plots.survey import survey_pages
from ..plots.truth import truth_pages
from ..wording import CAUTION, VERSION, ask_of, count_of, settled_of
from .by_cause import DrawnSheet, cause_rows
from .ledger_rows import ledger_rows
from .tables import change_tables, fault_table

_LABELS = {
    Outcome.DISCREPANCY: "discrepancies",
    Outcome.ACCEPTED: "accepted deviations",
    Outcome.ADVISORY: "advisories",
    Outcome.UNDETERMINED: "cannot be judged",
    Outcome.MEETS: "meet",
}
_COVERAGE = ("items", "meets", "discrepancy", "accepted", "advisory", "undetermined", "not_concerned")


_ROWS = 4
"""Questions the first page has room for."""
_BODY = ("ring-out", "function")
"""Papers an inspector works from; the others stand in the appendix."""


def record(ledger: Ledger, paper: Paper = Paper.A4, causes: Causes | None = None) -> dict[str, Any]:
    """Everything the review record says, as plain values that a template lays out; ``causes`` where they are found already."""
    study, document = ledger.study, ledger.document
    found = causes or find_causes(ledger)
    numbered = findings(ledger, found)
    drawn = draw_sheets(ledger, paper, found)
    header = document.installation.installation
    rules = all_rules()
    curves = truth_curves(study)
    plots = [_picture(truth_pages(curves, header.name, None)[0], "truth-")] if curves else []
    surveyed = list(survey_parts(study))
    budgets = worst_budgets(all_budgets(study))
    papers = [_table(word, paper_of(word, ledger)) for word in _BODY]
    more = [_table(word, paper_of(word, ledger)) for word in PAPERS if word not in _BODY]
    more.append(_table("faults", fault_table(study)))
    changed = [_table(f"changes-{n}", table) for n, table in enumerate(change_tables(ledger))]
    papers += changed[-1:]
    more += changed[:-1]
    rows = list(cause_rows(found, drawn))
    contents = (
        [("summary", "To put right"), ("causes", "Causes and cures")] if rows else [("summary", "Summary")]
    )
    contents += [("sheets", "Diagram sheets")]
    contents += [("budgets", "Error by cause")] if budgets else []
    contents += [(str(t["id"]), str(t["title"])) for t in papers]
    contents += [("verdicts", "Ledger"), ("missing", "What could not be judged"), ("coverage", "Coverage")]
    contents += [("truth", "True against indicated")] if plots else []
    contents += [("survey", "Cylinder survey")] if surveyed else []
    contents += [(str(t["id"]), str(t["title"])) for t in more]
    contents += [("rules", "Basis of each rule")]
    return {
        "name": header.name,
        "revision": header.revision,
        "date": header.date,
        "drawing": header.drawing,
        "drawn_by": header.drawn_by,
        "replaces": replaced_by(study),
        "fitted": [*fitted(study), *taken_out(study)],
        "file": visible(document.name),
        "digest": document.digest,
        "version": VERSION,
        "caution": CAUTION,
        "paper": paper.value,
        "contents": contents,
        "counts": [(o.value, _LABELS[o], ledger.count(o)) for o in _LABELS],
        "told": [*dangers(rows), *minute_summary(ledger, found)],
        "causes": rows,
        "order": ORDER,
        "open": open_points(ledger),
        "registration": document.installation.aircraft.registration,
        "serial": document.installation.aircraft.serial,
        "rules_seen": sorted({v.rule for v in ledger.verdicts}),
        "verdicts": list(ledger_rows(ledger, numbered, drawn)),
        "missing": missing_data(ledger),
        "coverage_columns": [c.replace("_", " ") for c in _COVERAGE],
        "coverage": [
            {"rule": ident, "numbers": [getattr(t, c) for c in _COVERAGE]}
            for ident, t in ledger.coverage.items()
        ],
        "budgets": [
            {"title": budget_title(b), "svg": _picture(budget_page(b), f"budget-{n}-") if b.causes else ""}
            for n, b in enumerate(budgets)
        ],
        "plots": plots,
        "surveys": surveyed,
        "sheets": [{"id": s.id, "number": s.number, "subject": s.subject, "svg": s.svg} for s in drawn],
        "tables": papers,
        "more_tables": more,
        "deviations": [
            {
                "rule": d.rule,
                "at": d.at if isinstance(d.at, str) else ", ".join(d.at),
                "by": d.accepted_by or "not given",
                "data": d.data or "not given",
                "until": d.until or "not given",
            }
            for d in document.installation.deviations
        ],
        "rules": [
            {k: getattr(rules[ident], k) for k in ("id", "title", "why", "source", "formula", "example")}
            for ident in ledger.coverage
            if ident in rules
        ],
    }


def draw_sheets(ledger: Ledger, paper: Paper, causes: Causes) -> list[DrawnSheet]:
    """The sheets of the whole installation, their flags linked to the causes and the verdicts of the record."""
    made = []
    for sheet in sheets(ledger.document, ledger, [Subject.WHOLE], paper, causes):
        ident, art = f"sheet-{sheet.number}", f"art-{sheet.number}"
        page = compose(sheet)
        svg = re.sub(
            rf'"#{ident}-verdict-(\d+)',
            lambda link: f'"#{"cause" if int(link[1]) <= len(causes.causes) else "verdict"}-{link[1]}',
            _picture(page, f"{ident}-"),
        )
        svg = svg.replace("<svg ", f'<svg id="{art}" ', 1)
        made.append(DrawnSheet(ident, sheet.number, sheet.subject, svg, page, sheet.marks, sheet))
    return made


def _picture(page: Page, prefix: str) -> str:
    """A drawing as it stands inside the record, with ids of its own."""
    svg = page_svg(page, prefix=prefix).decode()
    return svg[svg.index("<svg") :]


def replaced_by(study: Study) -> str | None:
    """The name and the file of the installation before the change; the file alone where it cannot be read."""
    file = study.whole.installation.replaces
    try:
        return f"{before(study).whole.installation.name} ({file})" if file else None
    except NotThereError:
        return file


def fitted(study: Study) -> Iterator[str]:
    """The indicators that are new, and those that stay."""
    for status, words in (("new", "New indicators"), ("existing", "Indicators that stay")):
        names = [i for i, one in study.model.indicators.items() if (one.status or "existing") == status]
        if names:
            yield f"{words}: {few(names)}."


def taken_out(study: Study) -> Iterator[str]:
    """What the installation before the change has and this one has not, or only as removed."""
    try:
        earlier = before(study).whole if study.whole.installation.replaces else None
    except NotThereError:
        earlier = None
    for section in ("indicators", "senders", "probes", "fluid_lines"):
        listed = [study.whole.section(section)]
        listed += [earlier.section(section)] if earlier is not None else []
        was = [i for things in listed for i in things if i not in study.model.section(section)]
        if was:
            yield f"{section.replace('_', ' ').capitalize()} taken out: {few(list(dict.fromkeys(was)))}."
    if study.whole.removed:
        yield f"Said to be removed: {few(list(study.whole.removed))}."


def dangers(rows: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """How many things to put right endanger what, the worst first: ``Fire, fuel: 4. False reading: 6.``"""
    count = Counter(row["endangers"] for row in rows)
    if count:
        yield " ".join(f"{word.capitalize()}: {count[word]}." for word in ENDANGERS if count[word])


def minute_summary(ledger: Ledger, found: Causes) -> Iterator[str]:
    """What a person must know in a minute."""
    if ledger.failed:
        yield f"The checker itself failed in {', '.join(ledger.failed)}: what these rules would find is not known."
    discrepancies = count_of(ledger.count(Outcome.DISCREPANCY), "discrepancy", "discrepancies")
    if found.causes:
        told = f"{'It explains' if len(found.causes) == 1 else 'They explain'} {discrepancies}."
        cured = sum(1 for c in found.causes if c.edits)
        left = sum(1 for v in found.after if v.outcome is Outcome.DISCREPANCY)
        if cured:
            remain = count_of(left, "discrepancy remains", "discrepancies remain") if left else "none remains"
            told += f" With the {count_of(cured, 'cure', 'cures')} on the next pages made in a copy of the document, {remain}."
        yield told
        if not found.whole:
            yield "The search for cures ended at its allowance: one that was not tried may put several right at once."
    else:
        yield "No discrepancy was found by the rules listed under Coverage."
    if ledger.document.installation.installation.scope == "part":
        yield "The document tells of a part of an aircraft only; what it leaves out was not judged."
    open_points = ledger.count(Outcome.UNDETERMINED)
    if open_points:
        ask = next(iter(asks(ledger)), None)
        first = (
            f". For {len(ask.settles)} of {'it' if open_points == 1 else 'them'} {ask_of(ask)}"
            if ask and open_points > 1
            else ""
        )
        first = f": {ask_of(ask)}" if ask and open_points == 1 else first
        yield f"{count_of(open_points, 'point', 'points')} could not be judged, which is no pass{first}."
    advised = len(found.advisories)
    if advised:
        yield (
            f"{count_of(advised, 'advisory', 'advisories')} besides (good practice, or judged by a figure of a weak source): "
            "a diamond with its number on the sheets, in words in the ledger at the end."
        )
    accepted = ledger.count(Outcome.ACCEPTED)
    if accepted:
        yield f"{count_of(accepted, 'discrepancy is', 'discrepancies are')} covered by deviations; they are still shown."


def open_points(ledger: Ledger) -> list[dict[str, str]]:
    """What could not be judged, for the reviewer to leave open or to ask for: a row for each, the last for all the others."""
    questions = [(key_of(ask), ask_of(ask)) for ask in asks(ledger)]
    if len(questions) > _ROWS:
        others = f"{len(questions) - _ROWS + 1} more questions, under What could not be judged"
        questions[_ROWS - 1 :] = [("others", others)]
    return [{"key": key, "words": words} for key, words in questions]


def missing_data(ledger: Ledger) -> list[dict[str, str]]:
    """What to add to the document, what for, and what is judged then; what settles most first."""
    return [
        {
            "datum": "; ".join(fact.words for fact in ask.facts),
            "items": ", ".join(dict.fromkeys(item for fact in ask.facts for item in fact.items)),
            "rules": settled_of(ask),
        }
        for ask in asks(ledger)
    ]


def budget_title(budget: ErrorBudget) -> str:
    """``oil temperature gauge from oil bulb, climb: true 225 degF, shows 227 degF``."""
    true = f"{plain_number(in_unit(budget.true, budget.unit, budget.kind))} {budget.unit}"
    shows = (
        f"driven off its scale, {budget.beyond}"
        if budget.indicated is None
        else f"shows {plain_number(in_unit(budget.indicated, budget.unit, budget.kind), 4)} {budget.unit}"
    )
    return f"{budget.indication} from {budget.source}, {budget.point}: true {true}, {shows}"


def _table(word: str, table: Table) -> dict[str, object]:
    return {
        "id": f"paper-{word}",
        "title": table.name.capitalize(),
        "columns": table.columns,
        "rows": [
            [{"text": cell_text(c), "number": c is not None and not isinstance(c, str)} for c in row]
            for row in table.rows
        ],
        "notes": table.notes,
    }


def survey_parts(study: Study) -> Iterator[dict[str, Any]]:
    """Every survey of the document: its stages in words, and the bars of a log."""
    for n, found in enumerate(surveys(study)):
        if isinstance(found, Unusable):
            yield {"title": f"{found.survey}: cannot be used", "lines": [found.why], "svg": ""}
            continue
        lines = []
        for stage in found.stages:
            heads = ", ".join(
                f"{c}: {in_unit(t, found.unit, 'temperature'):.0f}"
                for c, t in sorted(stage.temperatures.items())
            )
            hottest = " and ".join(str(c) for c in stage.ranking.hottest)
            left = (
                ""
                if stage.margin is None
                else f", {in_unit(stage.margin, found.unit, 'temperature difference'):.1f} {found.unit} left to the limit"
            )
            rivals = [str(c) for c in stage.ranking.candidates if c not in stage.ranking.hottest]
            doubt = f"; {' and '.join(rivals)} cannot be excluded with these probes" if rivals else ""
            day = "on the hot day" if stage.corrected else "as read"
            lines.append(f"{stage.name} ({day}, {found.unit}): {heads}. Hottest: {hottest}{left}{doubt}.")
        examined = found.examined
        yield {
            "title": f"{found.survey}, {found.name}",
            "lines": lines,
            "svg": "" if examined is None else _picture(survey_pages(examined, None)[0], f"survey-{n}-"),
        }
