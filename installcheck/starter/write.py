"""A commented document to start from, for the indications a person chooses."""

from __future__ import annotations

import json
from collections.abc import Collection
from dataclasses import dataclass
from importlib.resources import files

from jinja2 import Environment, StrictUndefined

from ..document import loads
from ..document.rewriting import rewritten
from ..document.wording import unknown_word
from .add import added
from .kits import KITS

_TEMPLATED = (
    "oil pressure",
    "oil temperature",
    "head temperature",
    "exhaust temperature",
    "fuel pressure",
    "manifold pressure",
    "engine speed",
    "fuel quantity",
)
"""Indications the template writes; any other is added to what it wrote."""
INDICATIONS = (*_TEMPLATED, *(one for one in KITS if one not in _TEMPLATED))
"""Indications a starter can hold."""
LAYOUTS = ("opposed", "inline", "radial", "vee")
BASES = ("CAR 3", "part 23 before 2017", "part 23 from 2017", "part 27", "amateur-built", "other")
_POWERED = {
    "oil pressure": "oil pressure gauge",
    "oil temperature": "oil temperature gauge",
    "head temperature": "head gauge",
    "exhaust temperature": "exhaust gauge",
    "fuel pressure": "fuel pressure gauge",
    "manifold pressure": "manifold pressure gauge",
    "fuel quantity": "fuel quantity gauge",
}
_PROBED = frozenset(("head temperature", "exhaust temperature"))
_LINES = {
    "oil pressure": ("oil", "oil"),
    "fuel pressure": ("fuel", "fuel"),
    "manifold pressure": ("manifold", "fuel-air mixture"),
}


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a starter is to hold.

    Attributes:
        name: name of the installation.
        indications: out of :data:`INDICATIONS`.
        cylinders, layout: of the engine.
        volts: nominal system voltage, 14 or 28 as a rule.
        basis: certification basis, out of :data:`BASES`.
    """

    name: str = "engine instruments"
    indications: tuple[str, ...] = ("oil temperature",)
    cylinders: int = 4
    layout: str = "opposed"
    volts: int = 14
    basis: str = "part 23 before 2017"


def check_wishes(wishes: Wishes) -> None:
    """Refuse what a document could not say.

    Raises:
        ValueError: with what is wrong and what would be right.
    """
    check_name(wishes.name)
    among("indication", wishes.indications, INDICATIONS)
    among("layout", (wishes.layout,), LAYOUTS)
    among("basis", (wishes.basis,), BASES)
    if not wishes.indications:
        raise ValueError(f"choose at least one indication: {', '.join(INDICATIONS)}")
    check_cylinders(wishes.cylinders)
    check_volts(wishes.volts)


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
    environment = Environment(
        autoescape=False,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        undefined=StrictUndefined,
    )
    environment.filters["text"] = lambda value: json.dumps(value, ensure_ascii=False)
    template = files("installcheck.starter").joinpath("starter.yaml.j2").read_text(encoding="utf-8")
    chosen = [one for one in _TEMPLATED if one in wishes.indications]
    text = environment.from_string(template).render(
        name=wishes.name.strip(),
        file=file if file.isprintable() else "installation.yaml",
        basis=wishes.basis,
        volts=wishes.volts,
        cylinders=wishes.cylinders,
        layout=wishes.layout,
        indications=chosen,
        powered=[_POWERED[one] for one in chosen if one in _POWERED],
        senders=[one for one in chosen if one not in _PROBED],
        probes=[one for one in chosen if one in _PROBED],
        lines=[_LINES[one] for one in chosen if one in _LINES],
    )
    for one in INDICATIONS:
        if one in wishes.indications and one not in _TEMPLATED:
            document = loads(text)
            (raw,) = rewritten(document, added(document, one, as_usual=True)).values()
            text = raw.decode()
    return text
