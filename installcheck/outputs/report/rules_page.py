"""The page of rules: every rule with its reason, source, formula and a worked number, as Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import groupby

from ...rules.samples import TITLES, samples
from ...rules.vocabulary import Rule
from ..wording import CAUTION

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~])")


def rules_page(rules: Iterable[Rule]) -> str:
    """All rules, grouped by the module they are in, with a table of contents."""
    groups = [(topic, list(group)) for topic, group in groupby(sorted(rules, key=_topic), _topic)]
    count = sum(len(group) for _, group in groups)
    lines = [
        "# What is checked, and why",
        "",
        f"{count} rules. This page is made by `installcheck basis --page`; change a rule where it is written, not here.",
        "",
        _plain(CAUTION),
        "",
    ]
    for topic, group in groups:
        lines += [f"- {_plain(topic)}: " + ", ".join(f"[{one.id}](#{one.id})" for one in group)]
    for topic, group in groups:
        lines += ["", f"## {_plain(topic)}"]
        for one in group:
            lines += [
                "",
                f"### {one.id}",
                "",
                f"{_plain(one.title).removesuffix('.')}.",
                "",
                f"{_plain(one.why)}",
                "",
            ]
            for word, text in (("Source", one.source), ("Formula", one.formula), ("Example", one.example)):
                lines.append(f"- {word}: {_plain(text)}")
            lines += _samples(one)
    return "\n".join(lines) + "\n"


def _samples(one: Rule) -> Iterator[str]:
    """The samples of a rule, folded away until they are asked for."""
    told = samples(one)
    if told is None:
        return
    yield from ("", "<details><summary>Sample documents</summary>")
    for kind, title in TITLES.items():
        if kind in told.never:
            yield from ("", f"{title}: none, {_plain(told.never[kind])}")
        else:
            yield from ("", f"{title}:", "", "```yaml", told.texts[kind].rstrip("\n"), "```")
    yield from ("", "</details>")


def _topic(one: Rule) -> str:
    words = one.judge.__module__.rpartition(".")[2].replace("_", " ")
    return words[:1].upper() + words[1:]


def _plain(text: str) -> str:
    """Text that Markdown leaves as it is."""
    return _SPECIAL.sub(r"\\\1", " ".join(text.split()))
