"""What a review decided of a whole change, and of what could not be judged, in the terminal."""

from __future__ import annotations

from rich.console import Console

from ...rules.decisions import Decisions, open_refusals, still_asked
from ...rules.verdicts import Ledger
from .words import indented, seen

_WHOLE = {"accept": "accepted", "refuse": "refused", "": "neither accepted nor refused"}


def print_review(review: Decisions, ledger: Ledger, console: Console) -> None:
    """Who reviewed, what of the whole change, what was refused and stands, and what was asked for and is still not judged."""
    by = " by ".join(part for part in ("THE REVIEW", review.reviewer) if part)
    console.print()
    console.print(seen(f"{by}, {review.date}" if review.date else by, style="bold"))
    lines = [f"the whole change: {_WHOLE[review.whole.decision]}{_why(review.whole.comment)}"]
    refused = [one for one in open_refusals(review, ledger.verdicts) if one is not review.whole]
    lines += [f"refused: {one.words}{_why(one.comment)}" for one in refused]
    lines += [f"asked for: {one.words}{_why(one.comment)}" for one in still_asked(review, ledger)]
    lines += [
        f"left open: {one.words}{_why(one.comment)}" for one in review.open if one.decision == "leave open"
    ]
    for line in lines:
        indented(console, 2, seen(line))


def _why(comment: str) -> str:
    return f": {comment}" if comment else ""
