"""What the column names and units of recorder logs mean: which role a column plays, on which cylinder, in
which unit."""

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from ..dataclass import dataclass
from ..model.quantities import conversion

_WORDS: Mapping[str, tuple[str, Mapping[str, tuple[str, ...]]]] = {
    # quantity: the kind of quantity it is, and the words recorders have for each of its units.
    "temperature": (
        "temperature",
        {"degF": ("f", "fahrenheit"), "degC": ("c", "celsius", "centigrade"), "K": ("k",)},
    ),
    "altitude": (
        "length",
        {
            "ft": ("ft", "feet", "ftmsl", "ftbaro", "ftwgs", "ftpa", "ftpress"),
            "m": ("m", "meter", "meters", "metre", "metres", "mmsl"),
        },
    ),
    "speed": (
        "airspeed",
        {
            "kt": ("kt", "kts", "kn", "knot", "knots", "kias"),
            "mph": ("mph",),
            "km/h": ("km/h", "kmh", "kph"),
            "m/s": ("m/s",),
        },
    ),
    "pressure": (
        "pressure",
        {
            "inHg": ("inhg", "hg", '"hg', "inchhg", "inch", "inches", "in"),
            "psi": ("psi",),
            "kPa": ("kpa",),
            "hPa": ("hpa", "mbar", "mb"),
            "bar": ("bar",),
            "Pa": ("pa",),
        },
    ),
    "time": (
        "time",
        {
            "s": ("s", "sec", "secs", "second", "seconds"),
            "ms": ("ms", "msec", "milliseconds"),
            "min": ("min", "mins", "minute", "minutes"),
            "h": ("h", "hr", "hrs", "hour", "hours"),
            "days": ("d", "day", "days"),
        },
    ),
    "speed of rotation": ("speed", {"rpm": ("rpm", "1/min", "rev/min", "r/min")}),
}


def _factor(kind: str, unit: str) -> float:
    return conversion(kind, unit)[0]


_VERTICAL = {
    **dict.fromkeys(("fpm", "ft/min", "ftmin", "ft/m"), _factor("length", "ft") / _factor("time", "min")),
    "m/s": 1.0,
    "m/min": 1 / _factor("time", "min"),
    "kt": _factor("airspeed", "kt"),
}

QUANTITIES: Mapping[str, Mapping[str, tuple[float, float]]] = {
    quantity: {word: conversion(kind, unit) for unit, words in units.items() for word in words}
    for quantity, (kind, units) in _WORDS.items()
} | {"vertical speed": {word: (factor, 0.0) for word, factor in _VERTICAL.items()}}
"""Factor and offset of each word for a unit to degC, m, m/s, Pa, s and 1/min."""

_UNIT_WORDS = frozenset(word for units in QUANTITIES.values() for word in units)
# Units and formats of columns that are not read, so that a line of units is known as one.
_OTHER_UNITS = re.compile(
    r"[gl]ph|usgal|gals?|lbs?|l|volts?|v|amps?|a|%|%pwr|degrees?|deg|nm|mpg|lcl|utc|ident|enum|bool|g|mhz"
    r"|h{1,2}:mm(?::ss)?|mm:ss|[ymd]{1,4}[-/]?[ymd]{1,4}[-/]?[ymd]{1,4}"
)

ROLE_QUANTITY: Mapping[str, str] = {
    "cht": "temperature",
    "egt": "temperature",
    "oat": "temperature",
    "oil temperature": "temperature",
    "altitude": "altitude",
    "ias": "speed",
    "ground speed": "speed",
    "vertical speed": "vertical speed",
    "rpm": "speed of rotation",
    "manifold pressure": "pressure",
    "time": "time",
    "hours": "time",
    "date": "date",
}
"""Every role a column can be given, with its quantity; 'cht' and 'egt' also take the cylinder's number."""

_ENGINE = r"(?:(?:e|eng|engine) ?(?P<engine>[1-4]) ?|(?P<side>l|left|r|right) ?)?"
_SHORT_ENGINE = r"(?:(?:e|eng|engine) ?(?P<engine>[1-4])? ?)?"
_CHT = r"(?:cht|cyl(?:inder)? ?head(?: ?temp(?:erature)?)?|head ?temp(?:erature)?)"
_EGT = r"(?:egt|exhaust ?(?:gas ?)?temp(?:erature)?)"


def _numbered(core: str) -> str:
    return (
        rf"{_ENGINE}(?:{core} ?(?:no|nr|#|cyl(?:inder)?|c)? ?(?P<after>\d{{1,2}})"
        rf"|(?:no|nr|#|cyl(?:inder)?|c)? ?(?P<before>\d{{1,2}}) {core})"
    )


# The first pattern of a role that some column fits wins: pressure altitude before altitude by satellite.
_PATTERNS: tuple[tuple[str, int, re.Pattern[str]], ...] = tuple(
    (role, rank, re.compile(pattern))
    for role, patterns in {
        "cht": (_numbered(_CHT),),
        "egt": (_numbered(_EGT),),
        "oat": (
            r"oat|outside ?air ?temp(?:erature)?|outside ?temp(?:erature)?|(?:amb|ambient)(?: air)? ?temp(?:erature)?|sat",
        ),
        "oil temperature": (rf"{_SHORT_ENGINE}oil ?t(?:emp(?:erature)?)?",),
        "altitude": (
            r"p(?:ress(?:ure)?)? ?alt(?:itude)?|alt ?p(?:ress(?:ure)?)?",
            r"alt(?:itude)? ?(?:ind(?:icated)?|b(?:aro)?)|(?:ind(?:icated)?|baro) ?alt(?:itude)?",
            r"alt(?:itude)?(?: ?msl)?|msl(?: ?alt(?:itude)?)?",
            r"gps ?alt(?:itude)?|alt(?:itude)? ?gps",
        ),
        "ias": (r"k?ias|ind(?:icated)? ?air ?speed|air ?speed", r"k?cas|calibrated ?air ?speed"),
        "ground speed": (r"gnd ?spd|gs|ground ?speed|gps ?(?:ground ?)?speed",),
        "vertical speed": (r"v ?spd|vs|vsi|vertical ?speed|rate ?of ?climb|roc",),
        "rpm": (rf"{_SHORT_ENGINE}(?:rpm|tach|engine ?speed|crank ?rpm)(?: ?(?:1|l|left))?",),
        "manifold pressure": (rf"{_SHORT_ENGINE}(?:map|mp|man(?:ifold)? ?(?:press(?:ure)?)?)",),
        "time": (
            r"time ?stamp|date ?time|date (?:and )?time",
            r"(?:elapsed|session|flight|log|run) ?time|elapsed|seconds|secs?|s|t",
            r"(?:lcl|local)? ?(?:time|clock)",
            r"(?:utc|gmt|zulu|gps|system) ?(?:time|clock)|utc|gmt",
        ),
        "date": (r"(?:lcl|local)? ?date", r"(?:utc|gmt|gps) ?date"),
        "hours": (
            rf"{_SHORT_ENGINE}(?:hobbs(?: ?time)?|tach ?time|(?:total|tach|hobbs|flight)? ?h(?:ou)?rs|hour ?meter|hour ?counter)",
        ),
    }.items()
    for rank, pattern in enumerate(patterns)
)


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a column name says: its `role`, `cylinder` and `engine` where it names one, the unit word in the
    name.

    `rank` is 0 for the column preferred for its role.
    """

    role: str
    cylinder: int | None
    engine: int | None
    unit: str
    rank: int


def tidy_name(name: str) -> str:
    """A column name without case, degree signs and the difference between blanks, dots, dashes and
    underlines."""
    return re.sub(r"[\s_.\-/\\°º˚]+", " ", name[:200].casefold().strip(" \t#\"'")).strip()


def unit_word(text: str) -> str:
    """The word a unit has in `QUANTITIES`, from any of its spellings: '°F', 'deg F' and '[degF]' are all
    'f'."""
    word = re.sub(r"[\s_.°º˚øÂ#\[\](){}]+", "", text[:40]).casefold()
    return re.sub(r"^deg(?:rees?)?(?=[fck]$|fahr|cels|cent)", "", word)


def is_unit(text: str) -> bool:
    """Whether `text` is a unit or a date or time format, of a column that is read or not."""
    word = unit_word(text)
    return word in _UNIT_WORDS or _OTHER_UNITS.fullmatch(word) is not None


@lru_cache(maxsize=4096)
def meaning(name: str) -> Meaning | None:
    """What the column `name` means, or None where it is no name that is known."""
    if len(name) > 80:
        return None
    bracket = re.fullmatch(r"(.*?)[\[({]([^\[\](){}]*)[\])}][\s:]*", name.strip())
    if bracket is None:
        return _plain_meaning(name)
    inside = bracket[2].strip()
    if inside.isdigit():
        return _plain_meaning(f"{bracket[1]} {inside}")
    found = _plain_meaning(bracket[1])
    word = unit_word(inside)
    if found is None or not is_unit(inside):
        return None
    return Meaning(found.role, found.cylinder, found.engine, word, found.rank)


def _plain_meaning(name: str) -> Meaning | None:
    tidy = re.sub(r"[,:#]+", " ", tidy_name(name)).strip()
    tidy = re.sub(" +", " ", tidy)
    found = _match(tidy, "")
    if found is not None:
        return found
    # A unit at the end of the name: 'CHT1 F', 'CHT1_degF', 'Altitude ft', 'OAT deg C'.
    words = tidy.split(" ")
    for taken in (1, 2):
        if len(words) > taken:
            unit = unit_word("".join(words[-taken:]))
            found = _match(" ".join(words[:-taken]), unit) if is_unit(unit) else None
            if found is not None and (
                unit in QUANTITIES.get(ROLE_QUANTITY[found.role], ()) or found.role == "date"
            ):
                return found
    return None


def _match(tidy: str, unit: str) -> Meaning | None:
    for role, rank, pattern in _PATTERNS:
        match = pattern.fullmatch(tidy)
        if match is not None:
            groups = match.groupdict()
            number = groups.get("after") or groups.get("before")
            engine = groups.get("engine")
            if engine is None and groups.get("side"):
                engine = "1" if groups["side"].startswith("l") else "2"
            return Meaning(role, int(number) if number else None, int(engine) if engine else None, unit, rank)
    return None


def letter_channels(names: Sequence[str]) -> dict[int, Meaning]:
    """Columns called by a letter and a number only, where the set of them leaves no doubt.

    'C1, C2, ... E1, E2, ...' are heads and exhausts; 'E1, E2, ...' beside heads called by name are
    exhausts. A single 'E1' may be an engine as well, so it means nothing.
    """
    letters: dict[str, dict[int, int]] = {"c": {}, "e": {}}
    for i, name in enumerate(names):
        match = re.fullmatch(r"([ce]) ?(\d{1,2})", tidy_name(name))
        if match:
            letters[match[1]].setdefault(int(match[2]), i)
    named = [found for found in map(meaning, names) if found is not None]
    heads = {found.cylinder for found in named if found.role == "cht"}
    exhausts = {found.cylinder for found in named if found.role == "egt"}
    roles: list[tuple[str, str]] = []
    if not heads and len(letters["c"]) >= 2 and set(letters["c"]) == set(letters["e"]):
        roles = [("c", "cht"), ("e", "egt")]
    elif len(heads) >= 2 and not exhausts and len(letters["e"]) >= 2:
        roles = [("e", "egt")]
    return {
        i: Meaning(role, number, None, "", 0)
        for letter, role in roles
        for number, i in letters[letter].items()
    }


def count_roles(names: Sequence[str]) -> int:
    """How well a line serves as header: 0 unless it names a head temperature, else more with each role it
    names."""
    if len(names) > 500:
        return 0
    letters = letter_channels(names)
    found = [letters.get(i) or meaning(name) for i, name in enumerate(names)]
    heads = sum(one is not None and one.role == "cht" for one in found)
    return 0 if heads == 0 else 3 * heads + sum(one is not None for one in found)
