"""A commented document to start from, for the indications a person chooses."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from functools import cache
from importlib.resources import files

from jinja2 import Environment, StrictUndefined, Template

from ..dataclass import dataclass
from ..document import loads
from ..document.rewriting import rewritten
from ..document.wording import unknown_word
from .add import added
from .kit import OF_AIRCRAFT, PLUMBED, UNFED
from .kits import KITS

_TEMPLATED = (
    "oil pressure",
    "oil temperature",
    "head temperature",
    "exhaust temperature",
    "fuel pressure",
    "manifold pressure",
    "engine speed",
)
"""Indications the template writes; any other is added to what it wrote."""
INDICATIONS = (*_TEMPLATED, *(one for one in KITS if one not in _TEMPLATED))
"""Indications a starter can hold."""
LAYOUTS = ("opposed", "inline", "radial", "vee")
OPERATIONS = ("VFR day", "VFR night", "IFR", "part 121")
BASES = ("CAR 3", "part 23 before 2017", "part 23 from 2017", "part 27", "amateur-built", "other")
_POWERED = {
    "oil pressure": "oil pressure gauge",
    "oil temperature": "oil temperature gauge",
    "head temperature": "head gauge",
    "exhaust temperature": "exhaust gauge",
    "fuel pressure": "fuel pressure gauge",
    "manifold pressure": "manifold pressure gauge",
}
_PROBED = frozenset(("head temperature", "exhaust temperature"))
_LINES = {
    "oil pressure": ("oil", "oil"),
    "fuel pressure": ("fuel", "fuel"),
    "manifold pressure": ("manifold", "fuel-air mixture"),
}
_ALONE: tuple[Mapping[str, str], ...] = (
    {
        "s": "",
        "code": "",
        "engine": "engine",
        "of": "",
        "hot": "engine",
        "near": "firewall space",
        "wall": "firewall",
        "root": "",
        "way": "engine to panel",
        "near_way": "firewall to panel",
    },
)
_SIDES: tuple[Mapping[str, str], ...] = tuple(
    {
        "s": f"{side} ",
        "code": side[0].upper(),
        "engine": side,
        "of": f", engine: {side}",
        "hot": f"{side} engine",
        "near": f"{side} wing",
        "wall": f"{side} firewall",
        "root": f"{side} wing root",
        "way": f"{side} engine to panel",
        "near_way": f"{side} wing to panel",
    }
    for side in ("left", "right")
)
"""What is called how on a single and on each side of a twin, with the places things of an engine go to."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a starter is to hold.

    Attributes:
        name: name of the installation.
        indications: out of :data:`INDICATIONS`.
        cylinders, layout: of the engine, or of each of two.
        volts: nominal system voltage, 14 or 28 as a rule.
        basis: certification basis, out of :data:`BASES`.
        engines: 1 or 2.
        operation: kinds of operation, out of :data:`OPERATIONS`.
        date: of the day it is written, as in 2026-05-01; none is told without it.
    """

    name: str = "engine instruments"
    indications: tuple[str, ...] = ("oil temperature",)
    cylinders: int = 4
    layout: str = "opposed"
    volts: int = 14
    basis: str = "part 23 before 2017"
    engines: int = 1
    operation: tuple[str, ...] = ("VFR day",)
    date: str | None = None


def check_wishes(wishes: Wishes) -> None:
    """Refuse what a document could not say.

    Raises:
        ValueError: with what is wrong and what would be right.
    """
    check_name(wishes.name)
    among("indication", wishes.indications, INDICATIONS)
    among("layout", (wishes.layout,), LAYOUTS)
    among("basis", (wishes.basis,), BASES)
    among("kind of operation", wishes.operation, OPERATIONS)
    if not wishes.indications:
        raise ValueError(f"choose at least one indication: {', '.join(INDICATIONS)}")
    check_cylinders(wishes.cylinders)
    check_volts(wishes.volts)
    check_engines(wishes.engines)


def check_name(name: str) -> None:
    """Refuse a name that is no line of text.

    Raises:
        ValueError: it is none.
    """
    if not 0 < len(name.strip()) <= 120 or not name.isprintable():
        raise ValueError("the name is a line of 1 to 120 characters")


def check_cylinders(count: int) -> None:
    """Refuse a number of cylinders no engine has.

    Raises:
        ValueError: it is one.
    """
    if not 1 <= count <= 36:
        raise ValueError("an engine has 1 to 36 cylinders")


def check_volts(volts: int) -> None:
    """Refuse a system voltage no light aircraft has.

    Raises:
        ValueError: it is one.
    """
    if not 1 <= volts <= 60:
        raise ValueError("the system voltage is given in whole volts, like 14 or 28")


def check_engines(count: int) -> None:
    """Refuse a number of engines for which no document is written.

    Raises:
        ValueError: it is one.
    """
    if count not in (1, 2):
        raise ValueError(
            "a document is begun for 1 or 2 engines; more are written beside them like the second"
        )


def among(what: str, chosen: Collection[str], known: Collection[str]) -> None:
    """Refuse a word that is not known.

    Raises:
        ValueError: with the nearest word that is.
    """
    for one in chosen:
        if one not in known:
            raise ValueError(unknown_word(one, known, what))


def starter(wishes: Wishes, file: str = "installation.yaml") -> str:
    """The text of a document that loads, checks and draws; ``file`` is named in its comments.

    Raises:
        ValueError: as :func:`check_wishes`.
    """
    check_wishes(wishes)
    chosen = [one for one in _TEMPLATED if one in wishes.indications]
    sides = _SIDES if wishes.engines == 2 else _ALONE
    powered = [_POWERED[one] for one in chosen if one in _POWERED]
    text = _template().render(
        name=wishes.name.strip(),
        file=file if file.isprintable() else "installation.yaml",
        basis=wishes.basis,
        operation=wishes.operation,
        date=wishes.date,
        volts=wishes.volts,
        cylinders=wishes.cylinders,
        layout=wishes.layout,
        sides=sides,
        twin=len(sides) > 1,
        indications=chosen,
        wanted=wishes.indications,
        powered=powered,
        fed=bool(powered) or any(one not in UNFED for one in wishes.indications if one not in _TEMPLATED),
        senders=[one for one in chosen if one not in _PROBED],
        probes=[one for one in chosen if one in _PROBED],
        lines=[_LINES[one] for one in chosen if one in _LINES],
        plumbed=not PLUMBED.isdisjoint(wishes.indications),
    )
    for one in INDICATIONS:
        if one in wishes.indications and one not in _TEMPLATED:
            for side in sides[:1] if one in OF_AIRCRAFT else sides:
                document = loads(text)
                engine = side["engine"] if len(sides) > 1 and one not in OF_AIRCRAFT else None
                (raw,) = rewritten(document, added(document, one, engine, as_usual=True)).values()
                text = raw.decode()
    return text


@cache
def _template() -> Template:
    """The template, which takes half the time of a starter to be read."""
    environment = Environment(
        autoescape=False,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        undefined=StrictUndefined,
    )
    environment.filters["text"] = lambda value: json.dumps(value, ensure_ascii=False)
    written = files("installcheck.starter").joinpath("starter.yaml.j2").read_text(encoding="utf-8")
    return environment.from_string(written)
