"""Forms for one more thing: what they ask, and the edit their answers come to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..dataclass import dataclass
from ..document import Document
from ..document.part_search import found
from ..document.parts import Library
from ..model.edits import Edit, Put
from ..model.installation import JOINABLE, Installation, terminals_of
from ..starter.add import NoSpotError, added
from ..starter.kits import KITS
from .pasting import PASTED_HELP, NotFilledError, one_line, pasted, require_part

__all__ = ["NotFilledError", "edit_of", "forms"]


@dataclass(frozen=True, slots=True)
class Field:
    """One line of a form.

    Attributes:
        word: name of the answer.
        title: what it is called on the page.
        help: what to write, in a line.
        choices: what is offered; anything else may be written.
        needed: whether it must be answered.
        long: whether it takes several lines.
    """

    word: str
    title: str
    help: str = ""
    choices: tuple[str, ...] = ()
    needed: bool = False
    long: bool = False


@dataclass(frozen=True, slots=True)
class Form:
    """What a thing of one kind is asked."""

    kind: str
    title: str
    fields: tuple[Field, ...]


INDICATION, WIRE_LIST = "indication", "wire list"
"""Kinds of form that come to more than one thing."""
_DEVICES = {
    "senders": "sender",
    "probes": "probe",
    "indicators": "indicator",
    "supplies": "supply or protector",
    "junctions": "joint",
}
_JOINED = {"wire_runs": "wire run", "fluid_lines": "fluid line"}


def forms(model: Installation | None, library: Library) -> list[Form]:
    """The forms there are, with the names, parts and places of a document offered."""
    zones = tuple(model.zones) if model is not None else ()
    ends = tuple(_ends(model)) if model is not None else ()
    bundles = tuple(model.bundles) if model is not None else ()
    engines = tuple(model.engines) if model is not None else ()
    made = [
        Form(
            INDICATION,
            "indication, with all it takes",
            (
                Field("measure", "Of", "what it shows", tuple(KITS), needed=True),
                Field("engine", "Engine", "where there are several", engines),
                Field("cylinder", "Cylinder", "of a probe"),
            ),
        ),
        Form(
            WIRE_LIST,
            "wire list, pasted from a spreadsheet",
            (Field("rows", "Rows", PASTED_HELP, needed=True, long=True),),
        ),
    ]
    for section, noun in _JOINED.items():
        made.append(
            Form(
                section,
                noun,
                (
                    Field("id", "Id", "as it is marked on the wire or line", needed=True),
                    Field("from", "From", "terminal or port at one end", ends, needed=True),
                    Field("to", "To", "terminal or port at the other end", ends, needed=True),
                    Field("part", "Part", "key of a part", _parts(library, section)),
                    Field(
                        "size",
                        "Gauge" if section == "wire_runs" else "Size",
                        "22 AWG" if section == "wire_runs" else "-4",
                    ),
                    Field(
                        "route",
                        "Route",
                        "zones in order with the length in each: engine 3 ft, firewall by fireproof grommet, cabin 4 ft",
                    ),
                    *(
                        (Field("bundle", "Bundle", "what it is tied into", bundles),)
                        if section == "wire_runs"
                        else ()
                    ),
                ),
            )
        )
    for section, noun in _DEVICES.items():
        made.append(
            Form(
                section,
                noun,
                (
                    Field("id", "Name", "what the wires will call it", needed=True),
                    Field("part", "Part", "key of a part", _parts(library, section), needed=True),
                    Field("size", "Size", "where the part comes in sizes"),
                    Field("zone", "Zone", "where it sits", zones, needed=True),
                    *(
                        (Field("cylinder", "Cylinder", "number of the cylinder it is on"),)
                        if section == "probes"
                        else ()
                    ),
                ),
            )
        )
    return made


def _parts(library: Library, section: str) -> tuple[str, ...]:
    return tuple(part.key for part in found(library, "", section))


def _ends(model: Installation) -> Iterator[str]:
    for section, ident, thing in model.things():
        if section in JOINABLE:
            for terminal in terminals_of(section, thing) or ("",):
                yield f"{ident}.{terminal}" if terminal else ident


def edit_of(kind: str, answers: Mapping[str, str], document: Document) -> Edit:
    """The edit that a filled form comes to: a wire or line in one line, anything else with its words.

    Raises:
        NotFilledError: something needed is missing, the kind is not known, an id is taken, or it does not fit.
    """
    model, library = document.installation, document.library
    form = next((one for one in forms(model, library) if one.kind == kind), None)
    if form is None:
        raise NotFilledError("there is no form of that kind")
    given = {field.word: answers.get(field.word, "").strip() for field in form.fields}
    missing = [field.title for field in form.fields if field.needed and not given[field.word]]
    if missing:
        raise NotFilledError(f"still to be filled in: {', '.join(missing)}")
    taken = {i for s in (*JOINABLE, "wire_runs", "fluid_lines") for i in model.section(s)}
    if kind == INDICATION:
        return _indication(given, document)
    if kind == WIRE_LIST:
        return pasted(given["rows"], taken, library)
    ident = given.pop("id")
    if ident in taken:
        raise NotFilledError(f"'{ident}' is there already: give another name")
    require_part(kind, given["part"], given["size"], library)
    value = one_line(given) if kind in _JOINED else {word: value for word, value in given.items() if value}
    return Edit((Put((kind, ident), value),), f"add {form.title} {ident}")


def _indication(given: Mapping[str, str], document: Document) -> Edit:
    cylinder = given["cylinder"]
    if cylinder and not (cylinder.isascii() and cylinder.isdigit() and 1 <= int(cylinder) <= 36):
        raise NotFilledError(f"a cylinder is a number from 1 to 36, not '{cylinder}'")
    try:
        return added(
            document, given["measure"].lower(), given["engine"] or None, int(cylinder) if cylinder else None
        )
    except NoSpotError as bad:
        raise NotFilledError(str(bad)) from None
