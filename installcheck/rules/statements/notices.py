"""Service notices and directives that bear on what is installed: how each stands, and on what record."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.study import Study
from ...model.installation import JOINABLE
from ...model.records import Notice
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "notice-settled",
    title="Every notice that bears on what is installed is complied with, on record, or does not apply",
    why="A notice is written after something failed in service. Left open, the same failure is waited for.",
    source="directives: 14 CFR 39.3, 39.7 (recalled); record of compliance: 14 CFR 43.9(a), 91.417(a)(2)(v) (recalled)",
    formula="state: complied with (with method, date and who signed), or does not apply",
    example="a notice on the oil line's hose, 'state: open'",
    over=lambda study: [n.number for n in study.model.notices],
)
def notice_settled(study: Study) -> Iterator[Verdict]:
    """Every notice, but those that concern only what is taken out."""
    for i, notice in enumerate(study.model.notices):
        names = notice.at or []
        if names and all(_is_gone(study, name) for name in names):
            continue
        yield _settled(Subject(study, (notice.number, *names), ("notices", i)), notice)


def _is_gone(study: Study, name: str) -> bool:
    """Whether this change takes a thing out."""
    return name in study.model.removed or any(
        name in study.taken_out(section) for section in (*JOINABLE, "wire_runs", "fluid_lines")
    )


def _settled(subject: Subject, notice: Notice) -> Verdict:
    about = f" ({notice.subject})" if notice.subject else ""
    where = f" on {', '.join(notice.at)}" if notice.at else ""
    text = f"notice {notice.number}{about}{where}"
    if notice.state is None:
        return subject.lacks(missing.NOTICE_STATE)
    if notice.state == "open":
        return subject.field("state").advisory(
            f"{text} is open",
            remedy="comply with it before flight if it is a directive, and else weigh it; record which",
        )
    if notice.state == "does not apply":
        return subject.field("state").meets(f"{text} does not apply")
    unsaid = [word for word in ("method", "date", "by") if getattr(notice, word) is None]
    if unsaid:
        return subject.lacks(missing.NOTICE_RECORD)
    return subject.field("state").meets(f"{text} was complied with on {notice.date}: {notice.method}")
