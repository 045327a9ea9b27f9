"""The papers a shop works from, as tables: wire list, cut list, parts list, fluid lines, labels, ring-out sheet, loads."""

from __future__ import annotations

from collections.abc import Callable

from ..analysis.study import Study
from .fluid_list import fluid_list
from .loads import load_change_table, load_table
from .parts_list import parts_list, weight_table
from .ring_out import ring_out_sheet
from .tables import Cell, Table
from .wires import cut_list, label_list, wire_list

PAPERS: dict[str, Callable[[Study], Table]] = {
    "wires": wire_list,
    "cut": cut_list,
    "parts": parts_list,
    "fluid": fluid_list,
    "labels": label_list,
    "ring-out": ring_out_sheet,
    "loads": load_table,
    "load-change": load_change_table,
    "weight": weight_table,
}
"""The papers by the word that asks for them."""

__all__ = ["PAPERS", "Cell", "Table"]
