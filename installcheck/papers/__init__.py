"""The papers a shop works from, as tables: wire list, cut list, parts list, fluid lines, labels, ring-out and function sheets, measured values, loads."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ..analysis.study import Study
from ..rules.verdicts import Ledger, Outcome
from .fluid_list import fluid_list
from .function_sheet import function_sheet
from .loads import load_change_table, load_table
from .measured import measured_values
from .parts_list import parts_list, weight_table
from .ring_out import ring_out_sheet
from .tables import Cell, Table
from .wires import cut_list, label_list, wire_list

_OF_STUDY: dict[str, Callable[[Study], Table]] = {
    "wires": wire_list,
    "cut": cut_list,
    "parts": parts_list,
    "fluid": fluid_list,
    "labels": label_list,
    "function": function_sheet,
    "measured": measured_values,
    "loads": load_table,
    "load-change": load_change_table,
    "weight": weight_table,
}
PAPERS = (
    "wires",
    "cut",
    "parts",
    "fluid",
    "labels",
    "ring-out",
    "function",
    "measured",
    "loads",
    "load-change",
    "weight",
)
"""The words that ask for a paper, in the order they are made."""


def paper(word: str, ledger: Ledger) -> Table:
    """One paper of an installation that was judged; it says how many discrepancies stand against it.

    Raises:
        KeyError: no paper of that name.
    """
    made = ring_out_sheet(ledger) if word == "ring-out" else _OF_STUDY[word](ledger.study)
    standing = ledger.count(Outcome.DISCREPANCY)
    if not standing:
        return made
    told = f"{standing} discrepanc{'y stands' if standing == 1 else 'ies stand'} against this document: put them right before metal is cut."
    return replace(made, notes=(*made.notes, told))


__all__ = ["PAPERS", "Cell", "Table", "paper"]
