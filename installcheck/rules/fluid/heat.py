"""Heat: what stands in a hotter place than it is made for."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.study import Study
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.comparing import at_most
from ...model.quantities import Quantity, in_unit, plain_number
from ...model.things import Placed, TerminalSpec
from ...model.wiring import Junction
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_SECTIONS = ("senders", "probes", "indicators", "fittings", "junctions", "supplies", "loads")


@dataclass(frozen=True, slots=True)
class _Rated:
    """A thing that says how hot its surroundings may be."""

    ident: str
    path: DocPath
    thing: Placed
    rating: Quantity | None


def _rated(study: Study) -> Iterator[_Rated]:
    for section in _SECTIONS:
        for ident, thing in study.model.section(section).items():
            spec = getattr(thing, "spec", None)
            if not isinstance(thing, Placed) or not isinstance(spec, TerminalSpec):
                continue
            if isinstance(thing, Junction) and thing.spec.kind == "splice":
                continue  # its heat is judged by a rule of its own
            unknown = study.document.declared_unknown((section, ident, "temperature_rating"))
            if spec.temperature_rating is not None or unknown:
                yield _Rated(ident, (section, ident), thing, spec.temperature_rating)


@rule(
    "part-temperature",
    title="A part stands in no hotter place than it is made for",
    why="Electronics and seals that are too hot drift, leak and fail, most of all after shutdown, when the cooling air stands still.",
    source="limit of the part",
    formula="highest temperature of its own, else of its zone, against its temperature rating",
    example="a transducer rated 105 degC in a zone that reaches 110 degC: 5 degC over",
    over=_rated,
)
def part_temperature(study: Study, subject: Subject, one: _Rated) -> Verdict:
    """A thing that states a temperature rating."""
    if one.rating is None:
        return subject.lacks(missing.PART_TEMPERATURE_RATING)
    own, zone = one.thing.temperature, one.thing.zone
    if own is not None:
        hottest: Quantity | None = own.highest
    elif zone is None:
        return subject.lacks(missing.PART_ZONE)
    else:
        hottest = study.hottest(zone)
        reached = study.reached(zone)
        if hottest is None and reached is not None and not at_most(reached, one.rating):
            hottest = reached  # a few points are not the hottest, and are too hot already
    if hottest is None:
        return subject.placed("zones", str(zone)).lacks(missing.ZONE_TEMPERATURE)
    unit = one.rating.unit
    hot = in_unit(hottest, unit, "temperature")
    where = "its own place" if own is not None else f"the {zone}"
    text = f"{one.ident} sees up to {plain_number(hot)} {unit} in {where} and is rated {one.rating.text}"
    return subject.at_most(
        hot,
        in_unit(one.rating, unit, "temperature"),
        unit,
        text,
        remedy=f"move it to a cooler place, shield and cool it, or fit one for {plain_number(hot)} {unit} or more",
    )
