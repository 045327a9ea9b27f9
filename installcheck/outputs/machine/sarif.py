"""Verdicts as SARIF 2.1.0 (OASIS standard), the form code hosts show on the line.

A discrepancy is a failure of level error, an advisory one of level warning; what could not be judged is ``open``
(3.27.9: not enough information to decide); an accepted one carries a suppression that names its deviation. What meets
is left out unless asked for, since code hosts list every result as a finding; the counts stand in the properties.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Sequence
from hashlib import sha256
from pathlib import PurePath
from typing import Any
from urllib.parse import quote

from ...batch.record import Checked, Record, Told, exit_status
from ...document import Place
from ...rules.engine import all_rules
from ...rules.verdicts import Outcome, Verdict
from ...rules.vocabulary import Rule
from ..wording import CAUTION, UNTRIED, VERSION, numbers
from .json_text import json_text

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json"
_KINDS = {
    Outcome.DISCREPANCY: ("fail", "error"),
    Outcome.ACCEPTED: ("fail", "error"),
    Outcome.ADVISORY: ("fail", "warning"),
    Outcome.UNDETERMINED: ("open", "none"),
    Outcome.MEETS: ("pass", "none"),
}
"""Kind and level by outcome; the level is 'none' for every kind but 'fail' (3.27.10)."""


def as_sarif(records: Sequence[Record], *, every: bool = False) -> str:
    """The checks as one SARIF log; ``every`` lists what meets as well."""
    rules = all_rules()
    index = {ident: i for i, ident in enumerate(rules)}
    checked = [one for one in records if isinstance(one, Checked)]
    run = {
        "tool": {
            "driver": {
                "name": "installcheck",
                "version": VERSION,
                "shortDescription": {
                    "text": "Checks descriptions of aircraft engine-instrument installations."
                },
                "fullDescription": {"text": CAUTION},
                "rules": [_rule(one) for one in rules.values()],
            }
        },
        "columnKind": "unicodeCodePoints",
        "invocations": [
            {
                "executionSuccessful": exit_status(records) < 2,
                "exitCode": exit_status(records),
                "toolExecutionNotifications": [n for one in records for n in _notifications(one)],
            }
        ],
        "artifacts": [
            {"location": {"uri": file_uri(name)}, "hashes": {"sha-256": digest}}
            for name, digest in dict.fromkeys(file for one in checked for file in one.files)
        ],
        "results": [result for one in checked for result in _results(one, index, every=every)],
        "properties": {
            "caution": CAUTION,
            "documents": [
                {
                    "file": one.name,
                    "installation": one.title,
                    "revision": one.revision,
                    "digest": one.digest,
                    "summary": {outcome.value: n for outcome, n in one.counts.items()},
                }
                for one in checked
            ],
        },
    }
    log = {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}
    return json_text(log)


def _rule(one: Rule) -> dict[str, Any]:
    return {
        "id": one.id,
        "shortDescription": {"text": one.title},
        "fullDescription": {"text": one.why},
        "help": {"text": f"Source: {one.source}\nFormula: {one.formula}\nExample: {one.example}"},
        "properties": {"source": one.source, "formula": one.formula},
    }


def _results(one: Checked, index: dict[str, int], *, every: bool) -> Iterator[dict[str, Any]]:
    """One result for each cause, its consequences as related places; then each verdict that belongs to none."""
    told: set[int] = set()
    for cause in one.causes:
        told.update(cause.all)
        yield _of_cause(cause, one.verdicts, index)
    for place, (verdict, where) in enumerate(one.verdicts):
        if place not in told and (every or verdict.outcome is not Outcome.MEETS):
            yield _result(verdict, where, index)


def _of_cause(
    cause: Told, verdicts: Sequence[tuple[Verdict, Place]], index: dict[str, int]
) -> dict[str, Any]:
    first, *others = (verdicts[place] for place in cause.all)
    made = _result(*first, index)
    cure = f". Cure, tried: {cause.cure}" if cause.cure else ". No change that was tried puts it right"
    made["message"] = {"text": f"{cause.heading}: {first[0].message}{cure}"}
    made["locations"] = [{**_location(cause.place), "logicalLocations": [_logical(first[0])]}]
    made["relatedLocations"] = [
        {"id": number, **_location(place), "message": {"text": f"{verdict.rule}: {verdict.message}"}}
        for number, (verdict, place) in enumerate([first, *others], 1)
    ]
    return made


def _result(verdict: Verdict, place: Place, index: dict[str, int]) -> dict[str, Any]:
    kind, level = _KINDS[verdict.outcome]
    told = numbers(verdict)
    text = verdict.message + (f" ({told})" if told else "")
    if verdict.remedy:
        text += f". {UNTRIED.capitalize()}: {verdict.remedy}"
    made: dict[str, Any] = {
        "ruleId": verdict.rule,
        "kind": kind,
        "level": level,
        "message": {"text": text},
        "locations": [{**_location(place), "logicalLocations": [_logical(verdict)]}],
        "partialFingerprints": {"installcheckItem/v1": _fingerprint(verdict)},
        "properties": {
            "outcome": verdict.outcome.value,
            "at": list(verdict.at),
            "source": verdict.source,
            "missing": list(verdict.missing),
        },
    }
    if verdict.rule in index:
        made["ruleIndex"] = index[verdict.rule]
    if verdict.outcome is Outcome.ACCEPTED:
        made["suppressions"] = [
            {"kind": "inSource", "status": "accepted", "justification": verdict.deviation}
        ]
    return made


def _location(place: Place) -> dict[str, Any]:
    told = {"message": {"text": place.cell}} if place.cell else {}
    return {
        **told,
        "physicalLocation": {
            "artifactLocation": {"uri": file_uri(place.file)},
            "region": {"startLine": place.line, "startColumn": place.column},
        },
    }


def _logical(verdict: Verdict) -> dict[str, Any]:
    path = [str(step) for step in verdict.path]
    name = verdict.at[0] if verdict.at else (path[-1] if path else "installation")
    return {"name": name, "fullyQualifiedName": "/".join(path) or name, "kind": "object"}


def _fingerprint(verdict: Verdict) -> str:
    """What stays the same when lines move: the rule, the items and the path."""
    told = json.dumps([verdict.rule, verdict.at, verdict.path])
    return sha256(told.encode()).hexdigest()[:32]


def _notifications(one: Record) -> Iterator[dict[str, Any]]:
    if isinstance(one, Checked):
        for verdict, place in one.verdicts:
            if verdict.failed:
                yield {
                    "level": "error",
                    "message": {"text": verdict.message},
                    "associatedRule": {"id": verdict.rule},
                    "locations": [_location(place)],
                }
        return
    for problem in one.problems:
        yield {
            "level": "error",
            "message": {"text": problem.message},
            "locations": [_location(problem.place)],
        }


def file_uri(name: str) -> str:
    """A file as it was named, as a URI: relative stays relative, an absolute path becomes ``file:///...``.

    >>> file_uri("my plane/retrofit.yaml"), file_uri("/hangar/a.yaml")
    ('my%20plane/retrofit.yaml', 'file:///hangar/a.yaml')
    """
    path = PurePath(name)
    return path.as_uri() if path.is_absolute() else quote(os.fsencode(path.as_posix()))
