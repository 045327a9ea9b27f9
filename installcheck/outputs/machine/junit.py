"""Verdicts as JUnit XML, the form build servers read: a suite per document, a case per verdict.

What is to be put right is one failure, with all it makes wrong; a discrepancy apart from that is another; what could not be judged is skipped, with what is missing; an advisory or an accepted
deviation passes and says so in its output; a file that cannot be read
and a rule that itself failed are errors.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from xml.etree import ElementTree as ET

from ...batch.record import Checked, Record, Told, Unreadable
from ...document import Place
from ...files.names import visible
from ...rules.verdicts import Outcome, Verdict
from ..wording import CAUTION, OUTCOME_WORDS, UNTRIED, numbers


def as_junit(records: Sequence[Record]) -> str:
    """The checks as JUnit XML text."""
    root = ET.Element("testsuites", name="installcheck")
    for one in records:
        root.append(_suite(one) if isinstance(one, Checked) else _unreadable(one))
    for count in ("tests", "failures", "errors", "skipped"):
        root.set(count, str(sum(int(suite.get(count, "0")) for suite in root)))
    ET.indent(root)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode") + "\n"


def _suite(one: Checked) -> ET.Element:
    failed = sum(verdict.failed for verdict, _ in one.verdicts)
    told = {place for cause in one.causes for place in cause.all}
    failures = sum(v.outcome is Outcome.DISCREPANCY for i, (v, _) in enumerate(one.verdicts) if i not in told)
    skipped = sum(
        v.outcome is Outcome.UNDETERMINED and not v.failed
        for i, (v, _) in enumerate(one.verdicts)
        if i not in told
    )
    suite = ET.Element(
        "testsuite",
        name=_clean(one.name),
        tests=str(len(one.verdicts) - len(told) + len(one.causes)),
        failures=str(failures + len(one.causes)),
        errors=str(failed),
        skipped=str(skipped),
    )
    properties = ET.SubElement(suite, "properties")
    for name, value in (
        ("installation", one.title),
        ("revision", one.revision),
        ("digest", one.digest),
        ("caution", CAUTION),
    ):
        if value:
            ET.SubElement(properties, "property", name=name, value=_clean(value))
    for number, cause in enumerate(one.causes, 1):
        suite.append(_of_cause(number, cause, one))
    seen: Counter[tuple[str, str]] = Counter()
    for i, (verdict, place) in enumerate(one.verdicts):
        if i in told:
            continue
        name = ".".join(str(step) for step in verdict.path) or ", ".join(verdict.at) or "installation"
        seen[verdict.rule, name] += 1
        again = seen[verdict.rule, name]
        suite.append(_case(verdict, place, name if again == 1 else f"{name} ({again})"))
    return suite


def _of_cause(number: int, cause: Told, one: Checked) -> ET.Element:
    """A cause as one failure, with all it makes wrong."""
    name = f"{number}: {cause.heading}"
    case = ET.Element(
        "testcase",
        classname="to put right",
        name=_clean(name),
        file=_clean(cause.place.file),
        line=str(cause.place.line),
    )
    failure = ET.SubElement(case, "failure", message=_clean(cause.heading), type="discrepancy")
    lines = [f"{v.rule}: {v.message}" for v, _ in (one.verdicts[i] for i in cause.all)]
    lines += [
        f"cure, tried: {cause.cure}" if cause.cure else "no change that was tried puts it right",
        f"at: {cause.place}",
    ]
    failure.text = _clean("\n".join(lines))
    return case


def _case(verdict: Verdict, place: Place, name: str) -> ET.Element:
    study = ET.Element(
        "testcase",
        classname=_clean(verdict.rule),
        name=_clean(name),
        file=_clean(place.file),
        line=str(place.line),
    )
    lines = [verdict.message]
    for label, text in (
        ("value", numbers(verdict)),
        (UNTRIED, verdict.remedy),
        ("missing", ", ".join(verdict.missing)),
        ("deviation", verdict.deviation),
        ("source", verdict.source),
        ("at", str(place)),
    ):
        if text:
            lines.append(f"{label}: {text}")
    told = _clean("\n".join(lines))
    if verdict.outcome is Outcome.DISCREPANCY:
        failure = ET.SubElement(study, "failure", message=_clean(verdict.message), type="discrepancy")
        failure.text = told
    elif verdict.failed:
        ET.SubElement(study, "error", message=_clean(verdict.message), type="failed").text = told
    elif verdict.outcome is Outcome.UNDETERMINED:
        ET.SubElement(study, "skipped", message=_clean(verdict.message))
    elif verdict.outcome is not Outcome.MEETS:
        ET.SubElement(study, "system-out").text = f"{OUTCOME_WORDS[verdict.outcome]}: {told}"
    return study


def _unreadable(one: Unreadable) -> ET.Element:
    suite = ET.Element("testsuite", name=_clean(one.name), tests="1", failures="0", errors="1", skipped="0")
    study = ET.SubElement(suite, "testcase", classname="document", name="can be read")
    first = one.problems[0]
    error = ET.SubElement(
        study, "error", message=_clean(first.message), type="failed" if one.failed else "unreadable"
    )
    error.text = _clean("\n".join(str(problem) for problem in one.problems))
    return suite


def _clean(text: str) -> str:
    """A text whose lines hold nothing that XML cannot hold, or that is not seen as itself."""
    return "\n".join(visible(line) for line in text.split("\n"))
