"""A sheet set on its paper: whether it fits, and laid out no more often than that needs."""

from functools import cached_property

from .border import inside
from .foot import PAD, foot, inner_width
from .items import LOW, NARROW, Spacing, renumber
from .layout import Draft, Layout
from .sheet import Fitting, FluidLine, Sheet, Wire

_LARGEST = 1.35  # a small drawing is enlarged up to this
_SMALLEST = 0.97  # and a full one made smaller down to this, which leaves the smallest text at 6.8 pt
_LEAST_ROOM = 60.0  # height left for a drawing under any list [pt]


class Setting:
    """One sheet on its paper. A spacing is laid out when first asked for, and kept."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.wide = inner_width(sheet) - 2 * PAD
        self.foot = foot(sheet)
        _, top, _, bottom = inside(sheet.paper)
        self.free = bottom - top - self.foot.height - 2 * PAD
        self.high = max(self.free, _LEAST_ROOM)
        self.drafts: dict[Spacing, Draft] = {}
        self.layouts: dict[Spacing, Layout] = {}

    def draft(self, spacing: Spacing) -> Draft:
        """The sheet in columns at a spacing."""
        if spacing not in self.drafts:
            self.drafts[spacing] = Draft(self.sheet, spacing)
        return self.drafts[spacing]

    def layout(self, spacing: Spacing) -> Layout:
        """The sheet laid out at a spacing."""
        if spacing not in self.layouts:
            self.layouts[spacing] = self.draft(spacing).lay_out(self.high / _SMALLEST)
        return self.layouts[spacing]

    def _scale(self, width: float, height: float) -> float:
        return min(self.wide / width, self.high / height, _LARGEST)

    def _at_most(self, spacing: Spacing) -> float:
        """Scale above which a spacing cannot come out, found without laying it out."""
        return self._scale(*self.draft(spacing).least_size)

    @cached_property
    def _order(self) -> list[Spacing]:
        """Spacings, the one that may come out largest first."""
        return sorted((LOW, NARROW), key=self._at_most, reverse=True)

    @cached_property
    def may_fit(self) -> bool:
        """Whether the sheet can be drawn on its paper as far as is known without laying it out."""
        if self.sheet.is_list:
            return self.free >= 0
        return self.free >= _LEAST_ROOM and any(self._at_most(s) >= _SMALLEST for s in (LOW, NARROW))

    @cached_property
    def fits(self) -> bool:
        """Whether the sheet can be drawn on its paper at a readable size."""
        if self.sheet.is_list or not self.may_fit:
            return self.may_fit
        fitting = any(
            self._at_most(spacing) >= _SMALLEST
            and self._scale(self.layout(spacing).width, self.layout(spacing).height) >= _SMALLEST
            for spacing in self._order
        )
        return fitting and self.best[1] >= _SMALLEST

    @cached_property
    def best(self) -> tuple[Layout, float]:
        """The layout that can be drawn largest, and its scale; a spacing that cannot win is not laid out."""
        found: tuple[Layout, float] | None = None
        for spacing in sorted(self._order, key=lambda s: s not in self.layouts):
            if found is None or self._at_most(spacing) > found[1]:
                layout = self.layout(spacing)
                scale = self._scale(layout.width, layout.height)
                if found is None or scale > found[1]:
                    found = layout, scale
        assert found is not None
        # What lost is let go: a drawing of thousands of wires would carry it all along.
        chosen = found[0].grid.spacing
        self.drafts, self.layouts = {chosen: self.drafts[chosen]}, {chosen: found[0]}
        return found

    def renumbered(self, sheet: Sheet) -> bool:
        """Take over the numbers of other sheets that `sheet` names; whether the layout holds for it.

        `sheet` differs in nothing else. Numbers have room of their own, so that the layout holds unless a thing that
        was on one sheet alone is now on several, or the list of verdicts grew.
        """
        below = foot(sheet)
        placed = {thing.id: thing for thing in sheet.placed}
        if below.height != self.foot.height or any(
            bool(thing.elsewhere) != bool(placed[thing.id].elsewhere) for thing in self.sheet.placed
        ):
            return False
        self.sheet, self.foot = sheet, below
        for draft in self.drafts.values():
            draft.grid.sheet = sheet
            for column in draft.grid.columns:
                for item in column.items:
                    if (
                        item.id in placed
                        and not item.again
                        and not isinstance(item.thing, Fitting | Wire | FluidLine)
                    ):
                        renumber(item, placed[item.id])
        return True


def setting(sheet: Sheet) -> Setting:
    """The setting of a sheet, made once and kept with it."""
    if not isinstance(sheet.kept, Setting):
        object.__setattr__(sheet, "kept", Setting(sheet))
    kept = sheet.kept
    assert isinstance(kept, Setting)
    return kept


def fits(sheet: Sheet) -> bool:
    """Whether a sheet can be drawn on its paper at a readable size."""
    return setting(sheet).fits


def may_fit(sheet: Sheet) -> bool:
    """Whether a sheet can be drawn on its paper as far as is known without laying it out: cheap, and never too strict."""
    return setting(sheet).may_fit


def numbered(before: Sheet, sheet: Sheet) -> Sheet:
    """`sheet`, which names the numbers of other sheets that `before` left open, with the layout of `before`."""
    if isinstance(before.kept, Setting) and before.kept.renumbered(sheet):
        object.__setattr__(sheet, "kept", before.kept)
    return sheet
