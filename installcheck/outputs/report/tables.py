"""Tables the review record adds to the papers: what one fault takes away, and what changed since the last issue."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from ...analysis.study import Study
from ...comparison import Comparison, compare_judged
from ...faults.play import play, usual_point
from ...papers.replaced import NotThereError, before
from ...papers.tables import Table
from ...rules.engine import judge
from ...rules.verdicts import Ledger
from ..wording import load_lines, weight_lines


def fault_table(study: Study) -> Table:
    """Every single fault an indication notices, played at the usual operating point."""
    point = usual_point(study)
    played = play(study, point)
    rows = []
    for fault in played:
        by_text: dict[str, list[str]] = defaultdict(list)
        for effect in fault.effects:
            by_text[effect.text].append(effect.indication)
        told = [f"opens {fault.opens}"] if fault.opens else []
        told += [f"{', '.join(names)}: {text}" for text, names in by_text.items()]
        told += [fault.note] if fault.note else []
        if told:
            rows.append((fault.kind, fault.at, "; ".join(told), ", ".join(fault.together) or None))
    quiet = len(played) - sum(1 for f in played if f.effects)
    note = (
        f"{len(played)} faults played at '{point.name}', one at a time; {quiet} of them move no indication."
    )
    return Table(
        "single faults",
        ("fault", "at", "effect", "required indications that fall together"),
        tuple(rows),
        (note,),
    )


def change_tables(ledger: Ledger) -> Iterator[Table]:
    """What the document changes against the one it says it replaces; nothing if it names none."""
    name = ledger.document.installation.installation.replaces
    if name is None:
        return
    try:
        earlier = before(ledger.study)
    except NotThereError as why:
        yield Table(f"changes since {name}", ("thing", "what happened"), (), (str(why),))
        return
    yield from _changes(compare_judged(judge(earlier), ledger), name)


def _changes(found: Comparison, name: str) -> Iterator[Table]:
    changes = tuple((one.ident, one.noun, one.message) for one in found.changes)
    yield Table(
        f"changes since {name}",
        ("thing", "kind", "what happened"),
        changes,
        (*load_lines(found.load), *weight_lines(found.weight)),
    )
    left = tuple((", ".join(one.at), one.message) for one in found.left)
    if left:
        yield Table("what the removed things leave", ("at", "left"), left)
    verdicts = tuple((one.trend, one.either.rule, one.either.message) for one in found.verdicts)
    yield Table("verdicts new, gone, better or worse", ("trend", "rule", "verdict"), verdicts)
    yield Table(
        "to be tested again",
        ("test", "at", "why"),
        tuple((one.what, ", ".join(one.at), one.why) for one in found.retests),
    )
