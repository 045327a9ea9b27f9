"""Line ends: the window shows every line alike, the file keeps those it has."""

from __future__ import annotations

import re
from collections import Counter
from difflib import SequenceMatcher

_END = re.compile(r"\r\n|\r|\n")


def shown(written: str) -> str:
    """A file's text as the window shows it: each line ends with a line feed."""
    return _END.sub("\n", written) if "\r" in written else written


def written(text: str, before: str) -> str:
    """A text from the window as its file has it: a line that was there keeps its end, a new one ends as most do.

    Args:
        before: the file's text.
    """
    if "\r" not in before:
        return text
    ends = _END.findall(before)
    usual = Counter(ends).most_common(1)[0][0]
    if len(set(ends)) == 1:
        return text.replace("\n", usual)
    old, new = _END.split(before), text.split("\n")
    made = [usual] * len(new)
    for block in SequenceMatcher(None, old, new, autojunk=False).get_matching_blocks():
        for k in range(block.size):
            if block.a + k < len(ends):
                made[block.b + k] = ends[block.a + k]
    return "".join(line + end for line, end in zip(new, [*made[:-1], ""], strict=True))
