"""The same plain data written in the many ways people write YAML, for tests of what reads and changes texts."""

from __future__ import annotations

import json
import random

from installcheck.document.source import Plain

_WORDS = ("oil", "look at this: twice", "see drawing 4, sheet 2", "was 20 AWG", "don't chafe", "a # b", "{x}")


class Layout:
    """Writes plain data as YAML in a layout drawn by lot: blocks and brackets, quotes, comments, blank lines, aliases.

    Attributes:
        crlf, bom: line ends and mark the bytes are written with.
    """

    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        self.crlf, self.bom = dice.random() < 0.25, dice.random() < 0.15
        self.quoting = dice.choice((0.05, 0.3))
        self.blocks = dice.choice((0.2, 0.5, 0.8))
        self.comments = dice.choice((0.0, 0.15, 0.5))
        self.aliasing = dice.choice((0.0, 0.0, 0.5))
        self.merging = dice.choice((0.0, 0.0, 0.6))
        self.anchors: dict[str, str] = {}
        self.things = 0
        self.comment_count = 0

    def written(self, value: dict[str, Plain]) -> bytes:
        """A whole document."""
        lines: list[str] = []
        if self.dice.random() < 0.5:
            lines.append("# " + self.dice.choice(_WORDS))
        if self.dice.random() < 0.2:
            lines.append("---")
        if self.dice.random() < 0.05:
            lines += self._flow(value, 0, True).split("\n")
        else:
            lines += self._mapping(value, 0, 0)
        text = "\n".join(lines) + ("" if self.dice.random() < 0.1 else "\n")
        if self.crlf:
            text = text.replace("\n", "\r\n")
        return (b"\xef\xbb\xbf" if self.bom else b"") + text.encode()

    def _mapping(self, value: dict[str, Plain], indent: int, depth: int) -> list[str]:
        lines: list[str] = []
        before = " " * indent
        givers: dict[str, dict[str, Plain]] = {}
        for word, inner in value.items():
            lines += self._between(indent, depth)
            start = f"{before}{self._scalar(word, flow=False, key=True)}:"
            if depth == 1 and isinstance(inner, dict) and self.dice.random() < self.merging:
                lines += self._merged(start, inner, indent, givers)
            else:
                lines += self._entry(start, inner, indent, depth)
        return lines

    def _merged(
        self, start: str, value: dict[str, Plain], indent: int, givers: dict[str, dict[str, Plain]]
    ) -> list[str]:
        """A thing that takes over what it shares with one above it by a merge key, or one that others can take from."""
        fit = [
            name
            for name, held in givers.items()
            if held.keys() <= value.keys() and any(value[k] == v for k, v in held.items())
        ]
        if not fit:
            self.things += 1
            name = f"t{self.things}"
            givers[name] = {k: v for k, v in value.items() if isinstance(v, str)}
            if len(givers[name]) < len(value) or not value:
                del givers[name]
                return self._entry(start, value, indent, 2)
            aliasing, self.aliasing = self.aliasing, 0.0  # a node bears one anchor
            made = self._flow(value, indent + 2, False)
            self.aliasing = aliasing
            return [f"{start} &{name} {made}{self._tail()}"]
        held = givers[fit[0]]
        rest = {k: v for k, v in value.items() if k not in held or held[k] != v}
        if self.dice.random() < 0.5:
            words = [f"<<: *{fit[0]}"]
            for k, v in rest.items():
                words.append(f"{self._scalar(k, flow=True, key=True)}: {self._flow(v, indent, False)}")
            return [f"{start} {{{', '.join(words)}}}{self._tail()}"]
        return [
            f"{start}{self._tail()}",
            f"{' ' * (indent + 2)}<<: *{fit[0]}",
            *self._mapping(rest, indent + 2, 2),
        ]

    def _between(self, indent: int, depth: int) -> list[str]:
        made = []
        if depth < 2 and self.dice.random() < 0.3:
            made.append("")
        if self.dice.random() < self.comments / 2:
            made.append(" " * indent + self._comment())
        return made

    def _comment(self) -> str:
        self.comment_count += 1
        return f"# {self.dice.choice(_WORDS)} {self.comment_count}"

    def _tail(self) -> str:
        roll = self.dice.random()
        if roll < self.comments:
            return self.dice.choice(("  ", " ", "\t")) + self._comment()
        return "  " if roll > 0.97 else "\t" if roll > 0.95 else ""

    def _entry(self, start: str, value: Plain, indent: int, depth: int) -> list[str]:
        step = self.dice.choice((2, 2, 4))
        if isinstance(value, (dict, list)) and value and (depth == 0 or self.dice.random() < self.blocks):
            anchor = self._anchored(value)
            if anchor and anchor.startswith("*"):
                return [f"{start} {anchor}{self._tail()}"]
            head = start + (f" {anchor}" if anchor else "") + self._tail()
            if isinstance(value, dict):
                return [head, *self._mapping(value, indent + step, depth + 1)]
            return [head, *self._list(value, indent + self.dice.choice((0, step)) * (depth > 0), depth + 1)]
        if (
            isinstance(value, str)
            and self.dice.random() < 0.04
            and value.strip() == value
            and "unknown" not in value
        ):
            sign = self.dice.choice(("|-", ">-"))
            return [f"{start} {sign}", " " * (indent + step) + value]
        made = self._flow(value, indent + step, self.dice.random() < 0.3)
        return [*(f"{start} {made}".rstrip(" ") + self._tail()).split("\n")]

    def _list(self, value: list[Plain], indent: int, depth: int) -> list[str]:
        lines: list[str] = []
        before = " " * indent
        for inner in value:
            lines += self._between(indent, depth)
            if isinstance(inner, dict) and inner and self.dice.random() < 0.5:
                made = list(self._mapping(inner, indent + 2, 9))
                if made[0].strip().startswith("#") or not made[0].strip():
                    lines += [f"{before}-", *made]
                else:
                    lines += [f"{before}- {made[0][indent + 2 :]}", *made[1:]]
            else:
                lines.append(f"{before}- {self._flow(inner, indent + 2, False)}{self._tail()}")
        return lines

    def _anchored(self, value: Plain) -> str:
        """An alias if the value stood before, or perhaps an anchor."""
        if self.dice.random() >= self.aliasing:
            return ""
        key = json.dumps(value)
        if key in self.anchors:
            return f"*{self.anchors[key]}"
        if isinstance(value, (dict, list)) and any(
            isinstance(v, (dict, list)) for v in (value.values() if isinstance(value, dict) else value)
        ):
            return ""
        self.anchors[key] = f"a{len(self.anchors)}"
        return f"&{self.anchors[key]}"

    def _flow(self, value: Plain, indent: int, broken: bool) -> str:
        anchor = self._anchored(value) if value and value != "unknown" else ""
        if anchor.startswith("*"):
            return anchor
        mark = f"{anchor} " if anchor else ""
        if isinstance(value, (dict, list)):
            opens, closes = "{}" if isinstance(value, dict) else "[]"
            if isinstance(value, dict):
                entries = [
                    f"{self._scalar(w, flow=True, key=True)}: {self._flow(v, indent, False)}"
                    for w, v in value.items()
                ]
            else:
                entries = [self._flow(v, indent, False) for v in value]
            comma = "," if entries and self.dice.random() < 0.1 else ""
            joints = []
            for _i in range(max(0, len(entries) - 1)):
                tail = f" {self._comment()}" if broken and self.dice.random() < self.comments else ""
                joints.append(
                    "," + tail + "\n" + " " * indent
                    if broken or tail
                    else self.dice.choice((", ", ", ", ",  "))
                )
            body = "".join(e + (joints[i] if i < len(joints) else "") for i, e in enumerate(entries))
            blank = " " if self.dice.random() < 0.1 else ""
            return f"{mark}{opens}{blank}{body}{comma}{blank}{closes}"
        return mark + self._scalar(value, flow=True, key=False)

    def _scalar(self, value: str | None, *, flow: bool, key: bool) -> str:
        if value is None:
            return self.dice.choice(("~", "null", "") if not flow else ("~", "null"))
        roll = self.dice.random()
        if roll < self.quoting:
            return (
                json.dumps(value, ensure_ascii=False)
                if roll < self.quoting / 2
                else "'" + value.replace("'", "''") + "'"
            )
        plain = (
            value.replace(" ", "").replace("/", "").replace(".", "").isalnum()
            and value[0].isalnum()
            and value[-1] != " "
        )
        if plain and value not in ("null", "Null", "NULL"):
            return value
        return "'" + value.replace("'", "''") + "'"
