"""Parts list with quantities, weight and moment, and the change an alteration makes to weight and balance."""

from __future__ import annotations

from ..analysis.study import Study
from ..analysis.weights import Weighed, weighed_things, weight_change
from ..model.quantities import in_unit
from .standing import status_of
from .tables import Cell, Table, rounded


def parts_list(study: Study) -> Table:
    """Parts by title with quantities and weight; wire and line by the foot."""
    groups: dict[tuple[str, str, str], list[Weighed]] = {}
    for one in weighed_things(study):
        if one.status == "removed":
            continue
        status = status_of(study, one.kind, one.ident) or ""
        groups.setdefault((one.kind, one.title, status), []).append(one)
    rows: list[tuple[Cell, ...]] = []
    for (kind, title, status), members in sorted(groups.items()):
        weights = [m.weight for m in members]
        whole = sum(w for w in weights if w is not None) if all(w is not None for w in weights) else None
        unit = members[0].unit
        rows.append(
            (
                title,
                kind.replace("_", " "),
                status or None,
                rounded(sum(m.quantity for m in members), 3),
                unit or "each",
                None if whole is None else rounded(in_unit(whole, "lb", "mass"), 3),
                ", ".join(m.ident for m in members),
                "; ".join(dict.fromkeys(m.source for m in members if m.source)) or None,
            )
        )
    columns = ("part", "section", "status", "quantity", "unit", "weight [lb]", "used as", "figures from")
    return Table(
        "parts list",
        columns,
        tuple(rows),
        (
            "Weight is left empty where the document or the part does not give it; weights of wire may be estimates, see the part's source.",
        ),
    )


def weight_table(study: Study) -> Table:
    """What is new and what is removed, with weight, arm and moment, and the totals."""
    rows: list[tuple[Cell, ...]] = []

    def row(ident: str, what: str, kg: float | None, arm: float | None, sign: float) -> None:
        pounds = None if kg is None else sign * in_unit(kg, "lb", "mass")
        inches = None if arm is None else in_unit(arm, "in", "station")
        moment = None if pounds is None or inches is None else pounds * inches
        rows.append((ident, what, rounded(pounds), rounded(inches), rounded(moment)))

    for one in weighed_things(study):
        if one.status in ("new", "removed"):
            row(one.ident, one.status, one.weight, one.arm, -1.0 if one.status == "removed" else 1.0)
    for ident, gone in study.whole.removed.items():
        row(
            ident,
            "removed",
            None if gone.weight is None else float(gone.weight),
            None if gone.station is None else float(gone.station),
            -1.0,
        )
    total = weight_change(study)
    rows.append(
        (
            "total",
            "",
            rounded(in_unit(total.weight, "lb", "mass")),
            None,
            rounded(
                in_unit(total.moment, "in", "station")
                / in_unit(1.0, "kg", "mass")
                * in_unit(1.0, "lb", "mass")
            ),
        )
    )
    datum = study.whole.aircraft.datum
    notes = [f"Arms are from the datum{': ' + datum if datum else ', which the document does not name'}."]
    if total.unweighed:
        notes.append(f"Not weighed, not in the total: {', '.join(total.unweighed)}.")
    if total.without_arm:
        notes.append(f"No arm, weight counted but not moment: {', '.join(total.without_arm)}.")
    return Table(
        "weight and balance change",
        ("id", "change", "weight [lb]", "arm [in]", "moment [in lb]"),
        tuple(rows),
        tuple(notes),
    )
