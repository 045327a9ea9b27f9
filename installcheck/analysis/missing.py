"""What a document can leave unsaid, in one wording each: the catalogue that every 'cannot be judged' is made from.

Grouped by the section that would say it, in alphabetical order. A rule or a computation that lacks a fact names the
entry of this module; a fact has one entry, however many ask for it.
"""

from __future__ import annotations

from typing import Final


class Missing(str):
    """A fact a document does not give: words that do not name the item ('route of the run'), and where it is said.

    Attributes:
        section: section of the document that says it; empty where several could.
        field: word under an item of that section, or ``word.word``; empty where it is a whole item.
    """

    __slots__ = ("field", "section")
    section: str
    field: str

    def __new__(cls, words: str, section: str = "", field: str = "") -> Missing:
        made = super().__new__(cls, words)
        made.section, made.field = section, field
        return made


RUN_GAUGE: Final = Missing("gauge of the run", "wire_runs", "gauge")
RUN_MARKING: Final = Missing("marking of the run ('marked: yes')", "wire_runs", "marked")
RUN_ROUTE: Final = Missing("route of the run with the length in each zone", "wire_runs", "route")
ZONE_TEMPERATURE: Final = Missing("temperature of the zone", "zones", "temperature")
