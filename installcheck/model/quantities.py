"""Quantities as a person writes them: ``12 ft 6 in``, ``1/8 in``, ``22 AWG``, ``-20 degC``, ``0.6 ohm``.

A quantity is a float in SI (temperatures in degC, angles in degrees) that remembers its text, unit and kind, so
that arithmetic is plain and a message can show a value in the unit the document used.
"""

from __future__ import annotations

import csv
import math
import re
from difflib import get_close_matches
from functools import cache, lru_cache
from pathlib import Path

from .kinds import DIFFERENCES, KINDS, READINGS, Kind

__all__ = [
    "ABSOLUTE_ZERO_C",
    "DIFFERENCES",
    "KINDS",
    "READINGS",
    "Gauge",
    "Kind",
    "Quantity",
    "QuantityError",
    "conversion",
    "in_unit",
    "parse",
    "parse_gauge",
    "plain_number",
    "show",
    "usual_units",
]

ABSOLUTE_ZERO_C = -273.15
"""degC, exact by the definition of the Celsius scale (SI brochure, 2.3.1)."""


class QuantityError(ValueError):
    """A text that is not a quantity of the kind wanted; the message says what would be."""


class Quantity(float):
    """A float in SI (degC for temperatures) that remembers ``text``, ``unit`` (spelling) and ``kind``."""

    __slots__ = ("kind", "text", "unit")
    text: str
    unit: str
    kind: str

    def __new__(cls, si: float, text: str, unit: str, kind: str) -> Quantity:
        made = super().__new__(cls, si)
        made.text, made.unit, made.kind = text, unit, kind
        return made

    def __repr__(self) -> str:
        return f"<{self.text}>"

    def __reduce__(self) -> tuple[type[Quantity], tuple[float, str, str, str]]:
        return Quantity, (float(self), self.text, self.unit, self.kind)


_NUMBER = r"(?:\d+(?:\s+|-)\d+/\d+|\d+/\d+|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)"
_SPAN = re.compile(r"[\d.]+\s*(?:-|–|to|\.\.)\s*(?P<last>[\d.]+\s*[^\d\s].*)")
"""Two figures with their unit: '13.8-14.2 V'."""
_SPELLINGS: dict[str, list[str]] = {}
for _k in KINDS.values():
    for _u in _k.units:
        _SPELLINGS.setdefault(_u, []).append(_k.name)
_UNIT = "|".join(re.escape(u) for u in sorted(_SPELLINGS, key=len, reverse=True))
_TERM = re.compile(rf"\s*(?P<number>{_NUMBER})\s*(?P<unit>(?:{_UNIT})(?=[\s\d]|$)|[^\d\s]\S*)?")


@cache
def _factors() -> dict[str, float]:
    """What one of each unit is in SI. From a table, because a units library takes longer to load than a document."""
    text = (Path(__file__).parent / "unit_factors.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return {row["unit"]: float(row["factor"]) for row in rows}


@cache
def conversion(kind: str, unit: str) -> tuple[float, float]:
    """Factor and offset that take a number in ``unit`` to SI: ``si = number * factor + offset``.

    Raises:
        KeyError: if ``unit`` is not a spelling of ``kind``.
    """
    name = KINDS[kind].units[unit]
    if kind != "temperature":
        return _factors()[name], 0.0
    return {"degF": (5 / 9, -160 / 9), "degC": (1.0, 0.0), "kelvin": (1.0, ABSOLUTE_ZERO_C)}[name]


def in_unit(si: float, unit: str, kind: str) -> float:
    """A value of ``kind`` in SI as a number in ``unit``."""
    factor, offset = conversion(kind, unit)
    return (si - offset) / factor


def show(si: float, unit: str, kind: str, digits: int = 3) -> str:
    """A value in SI as text in ``unit`` with ``digits`` significant digits and no exponent: ``0.412 V``."""
    number = in_unit(si, unit, kind)
    return f"{plain_number(number, digits)} {unit}"


_NOTHING = 1e-9
"""What is smaller is the rounding of a sum, in any unit a person writes."""


def plain_number(number: float, digits: int = 3) -> str:
    """A number with ``digits`` significant digits, without an exponent, whole digits never cut.

    >>> plain_number(0.04123), plain_number(1234.6), plain_number(-0.0001)
    ('0.0412', '1235', '-0.0001')
    """
    if not math.isfinite(number):
        return str(number)
    if abs(number) < _NOTHING:
        return "0"
    places = max(0, digits - 1 - math.floor(math.log10(abs(number))))
    text = f"{number:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _number(text: str) -> float:
    if "/" in text:
        *whole, fraction = text.replace("-", " ").split()
        top, bottom = fraction.split("/")
        if int(bottom) == 0:
            raise QuantityError(f"'{text}' divides by zero")
        return (int(whole[0]) if whole else 0) + int(top) / int(bottom)
    return float(text)


def _found_in(text: str, kinds: tuple[str, ...]) -> str:
    """The quantity that stands among other words, if there is one; else what one looks like."""
    for spelling in re.finditer(rf"[-+−]?{_NUMBER}\s*(?:{_UNIT})(?![^\s])", text):
        if any(spelling[0].split(maxsplit=1)[-1].lstrip("0123456789./-+ ") in KINDS[k].units for k in kinds):
            return f"'{spelling[0].strip()}' alone"
    return f"a number and a unit, like '{KINDS[kinds[0]].example}'"


def _article(noun: str) -> str:
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


def usual_units(kind: str) -> list[str]:
    """The spellings in which the units of a kind are shown."""
    units = KINDS[kind].units
    return [u for u in units if KINDS[kind].shown(u) == u]


def _as_example(text: str, kind: str) -> str:
    """A bare number with the first unit of a kind; a fraction is of an inch, as tools are."""
    inches = "/" in text and kind in ("length", "station")
    return (
        f"{text} {'in' if inches else usual_units(kind)[0]}"
        if len(text.split()) == 1
        else KINDS[kind].example
    )


def _refuse(text: str, unit: str, kinds: tuple[str, ...]) -> QuantityError:
    several = len(kinds) > 2
    wanted = _article("indication (temperature, pressure, speed, flow...)" if several else " or ".join(kinds))
    units = ", ".join(dict.fromkeys(u for k in kinds for u in usual_units(k)[: 2 if several else 8]))
    if not unit:
        example = KINDS[kinds[0]].example if several else _as_example(text, kinds[0])
        return QuantityError(f"'{text}' has no unit: {wanted} is written like '{example}' ({units})")
    if unit[0] == ",":
        return QuantityError(f"'{text}': write a point before decimals, and no comma in thousands")
    span = _SPAN.fullmatch(text.strip())
    if span is not None:
        return QuantityError(f"'{text}' is a range, and one value is wanted: write '{span['last']}'")
    others = [k for k in _SPELLINGS.get(unit, []) if k not in kinds]
    if others:
        return QuantityError(f"'{text}' is {_article(others[0])}, but {wanted} is wanted ({units})")
    known = [u for k in kinds for u in KINDS[k].units]
    near = [u for u in known if u.lower() == unit.lower().rstrip(".")] or get_close_matches(
        unit, known, 1, 0.5
    )
    own = next((KINDS[k].shown(near[0]) for k in kinds if near and near[0] in KINDS[k].units), None)
    hint = f"; did you mean '{own}'?" if own is not None else ""
    return QuantityError(f"'{unit}' in '{text}' is not a unit of {wanted} ({units}){hint}")


@lru_cache(maxsize=65536)
def parse(text: str, *kinds: str) -> Quantity:
    """Read ``text`` as a quantity of one of ``kinds`` (names in :data:`KINDS`).

    Raises:
        QuantityError: no unit, a unit of another kind, not a number, not finite, or a sign the kind cannot have.

    >>> round(parse("12 ft 6 in", "length"), 4), parse("500 degF", "temperature").unit
    (3.81, 'degF')
    """
    body = text.strip()
    if len(body) > 200:
        raise QuantityError(f"'{body[:40]}...' is too long to be a quantity")
    sign = -1.0 if body[:1] in ("-", "−") else 1.0
    if body[:1] in ("-", "−", "+"):
        body = body[1:]
    total = 0.0
    found: tuple[str, str] | None = None
    at, terms = 0, 0
    previous = math.inf
    while at < len(body):
        match = _TERM.match(body, at)
        if not match:
            raise QuantityError(f"'{text}' is not a quantity: write {_found_in(text, kinds)}")
        unit = (match["unit"] or "").strip()
        kind = next((k for k in kinds if unit in KINDS[k].units), None)
        if kind is None:
            raise _refuse(text, unit, kinds)
        if terms and ((kind != "length" and kind != "station") or conversion(kind, unit)[0] >= previous):
            raise QuantityError(
                f"'{text}' joins units that are not written together; write one number and unit"
            )
        factor, offset = conversion(kind, unit)
        previous = factor
        number = _number(match["number"])
        total += sign * number * factor + (offset if not terms else 0.0)
        found = found or (KINDS[kind].shown(unit), kind)
        terms += 1
        at = match.end()
        while at < len(body) and body[at].isspace():
            at += 1
    if found is None:
        raise QuantityError(f"{_article(kinds[0])} is wanted here, like '{KINDS[kinds[0]].example}'")
    unit, kind = found
    bounds = KINDS[kind]
    if not math.isfinite(total) or abs(total) > bounds.most:
        most = plain_number(in_unit(bounds.most, unit, kind))
        raise QuantityError(
            f"'{text}' is not {_article(kind)} found on an aircraft: {most} {unit} is the most"
        )
    if total and abs(total) < bounds.least:
        raise QuantityError(
            f"'{text}' is not {_article(kind)} that can be told from zero; write 0 {unit} where it is none"
        )
    if total < 0 and not KINDS[kind].signed:
        raise QuantityError(f"'{text}': {_article(kind)} cannot be negative; write it without the minus")
    if kind == "temperature" and total < ABSOLUTE_ZERO_C - 1e-9:
        raise QuantityError(f"'{text}' is below absolute zero")
    return Quantity(total, text.strip(), unit, kind)


_GAUGE = re.compile(r"^(?:(\d{1,2}|[1-4]/0|0{1,4})\s*AWG|AWG\s*(\d{1,2}|[1-4]/0|0{1,4}))$", re.IGNORECASE)


class Gauge(str):
    """An American wire gauge in its canonical text: ``22``, ``0``, ``2/0``."""

    __slots__ = ()

    @property
    def number(self) -> int:
        """The gauge as a whole number that falls as the wire grows: 22, 0, -1 for 2/0, -3 for 4/0."""
        return 1 - int(self[0]) if self.endswith("/0") else int(self)

    def __repr__(self) -> str:
        return f"<{self} AWG>"


@lru_cache(maxsize=256)
def parse_gauge(text: str) -> Gauge:
    """Read ``22 AWG``, ``AWG 22``, ``2/0 AWG`` or ``00 AWG``.

    Raises:
        QuantityError: anything else; a bare ``22`` is refused because it could be a length or a count.
    """
    match = _GAUGE.match(text.strip())
    if not match:
        bare = re.match(r"^#?\s*(\d{1,2}|[1-4]/0)\s*(?:ga\.?|gage|gauge)?$", text.strip())
        like = f"'{bare[1]} AWG'" if bare else "it like '22 AWG' or '2/0 AWG'"
        raise QuantityError(f"'{text}' is not a wire gauge: write {like}")
    word = match[1] or match[2]
    if set(word) == {"0"} and len(word) > 1:
        word = f"{len(word)}/0"
    if "/" not in word:
        word = str(int(word))
        if int(word) > 40:
            raise QuantityError(f"'{text}' is not a gauge in use: 4/0 AWG to 40 AWG")
    return Gauge("0" if word == "1/0" else word)
