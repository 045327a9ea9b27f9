"""Covers: what a dropped tool can short is covered."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.power.run_currents import carries_power
from ...analysis.study import Study
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


def _told(study: Study) -> list[str]:
    """Supplies and junctions that say whether they are covered."""
    found = []
    for section in ("supplies", "junctions"):
        for ident, thing in study.model.section(section).items():
            path = (section, ident, "covered")
            if getattr(thing, "covered", None) is not None or study.document.declared_unknown(path):
                found.append(ident)
    return found


@rule(
    "live-terminals-covered",
    title="Terminals that carry power are covered",
    why="A tool or a loose nut across two posts welds itself on; ahead of the first protector nothing stops it.",
    source="AC 43.13-1B chapter 11 section 14 (terminal strips so mounted that loose metal cannot fall across them; recalled)",
    formula="covered: yes, of what says so and has a wire that carries power on it",
    example="a battery contactor with bare posts beside the control cables: put boots on them",
    over=_told,
)
def live_terminals_covered(study: Study) -> Iterator[Verdict]:
    """Every supply or junction that says whether it is covered; one that is silent is not asked."""
    for section in ("supplies", "junctions"):
        for ident, thing in study.model.section(section).items():
            covered = getattr(thing, "covered", None)
            unknown = study.document.declared_unknown((section, ident, "covered"))
            if covered is None and not unknown:
                continue
            subject = Subject(study, (ident,), (section, ident))
            if not _powered(study, section, ident):
                yield subject.meets(f"no wire on {ident} carries power")
            elif covered is None:
                yield subject.lacks(missing.TERMINAL_COVER)
            elif covered:
                yield subject.field("covered").meets(f"the terminals of {ident} are covered")
            else:
                yield subject.field("covered").advisory(
                    f"the terminals of {ident} carry power and are not covered",
                    remedy="put boots on them, or a cover over the whole",
                )


def _powered(study: Study, section: str, ident: str) -> bool:
    if section == "supplies":
        return True
    return any(carries_power(study, run) for run in _landing(study, ident))


def _landing(study: Study, ident: str) -> list[str]:
    """Runs with an end on a thing."""
    found = []
    for name, run in study.model.wire_runs.items():
        pairs = [(run.from_, run.to), *((c.from_, c.to) for c in (run.conductors or {}).values())]
        if any((end or "").partition(".")[0] == ident for pair in pairs for end in pair):
            found.append(name)
    return found
