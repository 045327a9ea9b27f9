"""Words people use for the words of a document: 'EGT', 'flat four', 'circuit breaker', 'day and night VFR'."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from types import MappingProxyType

_MEANT: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        # indications
        "egt": ("exhaust temperature",),
        "exhaust gas temperature": ("exhaust temperature",),
        "cht": ("head temperature",),
        "cylinder head temperature": ("head temperature",),
        "tit": ("turbine inlet temperature",),
        "oat": ("outside air temperature",),
        "cat": ("carburettor air temperature",),
        "carburettor temperature": ("carburettor air temperature",),
        "oil temp": ("oil temperature",),
        "oil press": ("oil pressure",),
        "fuel press": ("fuel pressure",),
        "map": ("manifold pressure",),
        "manifold press": ("manifold pressure",),
        "suction": ("vacuum",),
        "rpm": ("engine speed",),
        "tachometer": ("engine speed",),
        "fuel level": ("fuel quantity",),
        "water temperature": ("coolant temperature",),
        "volts": ("bus voltage",),
        "amps": ("load current",),
        "ammeter": ("load current",),
        "head": ("head temperature",),
        # sections and words
        "gauges": ("indicators",),
        "instruments": ("indicators",),
        "thermocouples": ("probes",),
        "sensors": ("senders",),
        "wires": ("wire_runs",),
        "wiring": ("wire_runs",),
        "cables": ("wire_runs",),
        "harnesses": ("bundles",),
        "hoses": ("fluid_lines",),
        "tubes": ("fluid_lines",),
        "lines": ("fluid_lines",),
        "breakers": ("supplies",),
        "power": ("supplies",),
        "splices": ("junctions",),
        "connectors": ("junctions",),
        "plugs": ("junctions",),
        "walls": ("barriers",),
        "spaces": ("zones",),
        "name": ("installation",),
        "harness": ("bundle",),
        "max": ("maximum",),
        "limit": ("maximum",),
        "red line": ("maximum",),
        "redline": ("maximum",),
        "min": ("minimum",),
        # engines
        "flat": ("opposed",),
        "horizontally opposed": ("opposed",),
        "boxer": ("opposed",),
        "straight": ("inline",),
        "v": ("vee",),
        # rules and operations
        "car 03": ("CAR 3",),
        "car part 3": ("CAR 3",),
        "far 25": ("part 25",),
        "far 27": ("part 27",),
        "far 29": ("part 29",),
        "14 cfr part 25": ("part 25",),
        "14 cfr part 27": ("part 27",),
        "14 cfr part 29": ("part 29",),
        "homebuilt": ("amateur-built",),
        "experimental amateur built": ("amateur-built",),
        "day vfr": ("VFR day",),
        "night vfr": ("VFR night",),
        "vfr by day": ("VFR day",),
        "vfr by night": ("VFR night",),
        # phases
        "cruising": ("cruise",),
        "taxi": ("ground",),
        "starting": ("start",),
        # supplies, grounds, junctions
        "circuit breaker": ("breaker",),
        "cb": ("breaker",),
        "bus bar": ("bus",),
        "relay": ("contactor",),
        "solenoid": ("contactor",),
        "airframe": ("structure",),
        "engine": ("engine case",),
        "bonding strap": ("strap",),
        "ground strap": ("strap",),
        "ground bus": ("bus",),
        "terminal strip": ("terminal block",),
        "barrier strip": ("terminal block",),
        "connector": ("plug",),
        "receptacle": ("plug",),
        "butt splice": ("splice", "crimped splice"),
        "rotary switch": ("selector switch",),
        "mag": ("magneto",),
        "coil": ("ignition coil",),
        "ignition transformer": ("ignition coil",),
        "sparking plug": ("spark plug",),
        "spark plug lead": ("ignition lead",),
        "plug lead": ("ignition lead",),
        "high tension lead": ("ignition lead",),
        "selector": ("selector switch",),
        # wires and their ends
        "ring terminal": ("ring",),
        "ring tongue": ("ring",),
        "fork": ("spade",),
        "coax": ("coaxial cable",),
        "thermocouple wire": ("thermocouple lead",),
        "tinned copper": ("tin-plated copper",),
        "silvered copper": ("silver-plated copper",),
        # senders, probes, indicators
        "wheatstone bridge": ("bridge",),
        "rtd": ("resistance bulb",),
        "ntc": ("thermistor",),
        "hall effect": ("pulse pick-up",),
        "hall sensor": ("pulse pick-up",),
        "transducer": ("pressure transducer",),
        "bourdon tube": ("direct pressure",),
        "bourdon": ("direct pressure",),
        "ratiometer": ("ratio meter",),
        "moving coil": ("moving-coil thermocouple",),
        "ungrounded": ("isolated",),
        "insulated": ("isolated",),
        "spark plug gasket": ("gasket ring 14 mm",),
        # lines
        "stainless": ("stainless steel", "304 stainless"),
        "flexible hose": ("hose",),
        "pipe": ("tube",),
        "its pipe": ("pipe",),
        "hangs on its pipe": ("pipe",),
        "its line": ("pipe",),
        "its hose": ("hose",),
        "hangs on its hose": ("hose",),
        "rigid tube": ("tube",),
        "avgas": ("fuel",),
        "engine oil": ("oil",),
        "gasoline": ("fuel",),
        "shut off valve": ("cock",),
        "non return valve": ("check valve",),
        "one way valve": ("check valve",),
        "t": ("tee",),
        "orifice": ("restrictor",),
    }
)
"""What is meant by a word, in small letters with single blanks; of several, the one that is known at its place."""
_SPELLED = {
    "aluminum": "aluminium",
    "carburetor": "carburettor",
    "color": "colour",
    "gage": "gauge",
    "temp": "temperature",
}
_NUMBERS = MappingProxyType(
    {
        n: i
        for i, n in enumerate(
            [
                "one",
                "two",
                "three",
                "four",
                "five",
                "six",
                "seven",
                "eight",
                "nine",
                "ten",
                "eleven",
                "twelve",
            ],
            1,
        )
    }
)
_FLAT = re.compile(r"^(?P<layout>flat|straight|inline|opposed|v)[ -]*(?:\d+|[a-z]+)$")
_BOTH = re.compile(r"\s*(?:,|;|&|\+|/| and )\s*")


def plainly(word: str) -> str:
    """A word in small letters, with single blanks for hyphens and underscores, in British spelling."""
    words = re.sub(r"[\s_-]+", " ", word.strip().lower()).split(" ")
    return " ".join(_SPELLED.get(one, one) for one in words)


_PART_23 = ("part 23 before 2017", "part 23 from 2017")
_COULD_MEAN: Mapping[str, tuple[str, ...]] = MappingProxyType(
    dict.fromkeys(("far 23", "part 23", "14 cfr 23", "14 cfr part 23", "cfr 23", "far part 23"), _PART_23)
)
"""Words that stand for one of several, and do not say which."""


@lru_cache(maxsize=1024)
def _plain_choices(choices: tuple[str, ...]) -> Mapping[str, str]:
    made: dict[str, str] = {}
    for word in choices:
        for key in (plainly(word), plainly(word).replace(" ", "")):
            made.setdefault(key, word)
    return made


def meant(word: str, choices: Iterable[str]) -> str | None:
    """The word of ``choices`` another word stands for beyond doubt, if there is one.

    >>> meant("EGT", ["oil temperature", "exhaust temperature"]), meant("flat four", ["opposed", "radial"])
    ('exhaust temperature', 'opposed')
    """
    if len(word) > 60:
        return None
    known = _plain_choices(tuple(choices))
    plain = plainly(word)
    found = known.get(plain) or known.get(plain.replace(" ", ""))
    if found is not None:
        return found
    for one in _MEANT.get(plain, ()):
        if one in known.values():
            return one
    flat = _FLAT.match(plain)
    if flat is not None and "opposed" in known.values():
        return meant(flat["layout"], choices)
    return None


def could_mean(word: str, choices: Sequence[str]) -> list[str]:
    """The words of ``choices`` another word stands for, where it leaves open which: 'FAR 23'.

    >>> could_mean("FAR 23", ["CAR 3", "part 23 before 2017", "part 23 from 2017"])
    ['part 23 before 2017', 'part 23 from 2017']
    """
    return [one for one in _COULD_MEAN.get(plainly(word), ()) if one in choices]


def all_meant(text: str, choices: Sequence[str]) -> list[str] | None:
    """The words of ``choices`` that a text tells of: 'day and night VFR' is 'VFR day' and 'VFR night'."""
    pieces = [p for p in _BOTH.split(text) if p]
    one = next((m for p in pieces if (m := re.search(r"\b(VFR)\b", p, re.IGNORECASE))), None)
    found = [
        meant(p, choices) or (meant(f"{one[1]} {p}", choices) if one is not None else None) for p in pieces
    ]
    whole = [f for f in found if f is not None]
    return list(dict.fromkeys(whole)) if whole and len(whole) == len(pieces) else None


def spelled(choices: Sequence[str], *, several: bool = False) -> str:
    """A regular expression (ECMA 262) of every other spelling of some words: 'RPM', 'flat four', 'day and night VFR'.

    What it matches is what :func:`meant` and :func:`all_meant` understand, written with blanks, hyphens or underscores,
    in capitals or not.

    Args:
        choices: the words.
        several: whether a text may tell of more than one.
    """
    known = _plain_choices(tuple(choices))
    said = set(known) | {w for w, targets in _MEANT.items() if any(t in choices for t in targets)}
    american = {british: word for word, british in _SPELLED.items()}
    said |= {" ".join(american.get(piece, piece) for piece in word.split(" ")) for word in said}
    if several:
        said |= {re.sub(r" ?\bvfr\b ?", "", word) for word in said}
    one = "|".join(_any_case(word) for word in sorted(said - {""}, key=lambda w: (-len(w), w)))
    if "opposed" in choices:
        layouts = "|".join(_any_case(w) for w in ("flat", "straight", "inline", "opposed", "v"))
        one = f"{one}|({layouts})[ -]*([0-9]+|[A-Za-z]+)"
    more = rf"((\s*[,;&+/]\s*|\s+and\s+)({one}))*" if several else ""
    return rf"^\s*({one}){more}\s*$"


def _any_case(word: str) -> str:
    """A pattern of a plain word in any capitals, with blanks, hyphens or underscores between its pieces."""
    return "".join(
        f"[{c.upper()}{c}]" if c.isalpha() else "[ _-]+" if c == " " else re.escape(c) for c in word
    )


def number_meant(text: str) -> int | None:
    """A whole number that is written as a word or stands beside one: 'four', '4 cyl', 'no. 3'."""
    digits = re.findall(r"\d+", text)
    if len(digits) == 1 and "." not in re.sub(r"[Nn]o\.", "", text):
        return int(digits[0])
    return _NUMBERS.get(text.strip().lower())
