"""What is said of an engine against what else is said of it: its oil, its rated speed and the seats of its cylinders."""

from __future__ import annotations

from collections.abc import Iterator

from ...model.aircraft import Engine
from ...model.quantities import Quantity
from ..study import Study
from .pairs import Pair, rises


def engines(study: Study) -> Iterator[Pair]:
    """Engines: the least oil below all there is, the rated speed among its limits, a seat for each cylinder."""
    for ident, its in study.model.engines.items():
        yield from _oil(ident, its)
        yield from _speed(ident, its)
        yield from _seats(ident, its)


def _oil(ident: str, its: Engine) -> Iterator[Pair]:
    if its.oil_minimum is None or its.oil_quantity is None:
        return
    yield Pair(
        ident,
        ("engines", ident, "oil_minimum"),
        rises(its.oil_minimum, its.oil_quantity),
        f"{ident} holds {its.oil_quantity.text} of oil, and {its.oil_minimum.text} is the least it may have",
        "correct one of them from the papers of the engine",
        open=(("engines", ident, "oil_minimum"), ("engines", ident, "oil_quantity")),
    )


def _speed(ident: str, its: Engine) -> Iterator[Pair]:
    """The rated speed: no more than the limit, and no less than what is normal. Papers may rate an engine otherwise: advised."""
    limit = (its.limits or {}).get("engine speed")
    if its.speed is None or limit is None:
        return
    bounds: list[tuple[str, Quantity, bool]] = []
    if limit.maximum is not None and limit.maximum.kind == "speed":
        bounds.append(("its limit", limit.maximum, rises(its.speed, limit.maximum)))
    if limit.normal_high is not None and limit.normal_high.kind == "speed":
        bounds.append(("the top of its normal range", limit.normal_high, rises(limit.normal_high, its.speed)))
    for what, bound, agree in bounds:
        yield Pair(
            ident,
            ("engines", ident, "speed"),
            agree,
            f"{ident} is rated at {its.speed.text}, and {what} is {bound.text}",
            "correct one of them from the papers of the engine",
            certain=False,
        )


def _seats(ident: str, its: Engine) -> Iterator[Pair]:
    if not its.seats or its.cylinders is None:
        return
    beyond = len(its.seats) > its.cylinders or max(its.seats) > its.cylinders
    yield Pair(
        ident,
        ("engines", ident, "cylinders"),
        len(its.seats) == its.cylinders and not beyond,
        f"{ident} has {its.cylinders} cylinders, and seats are told of {len(its.seats)}",
        "correct the number of cylinders, or tell the seat of each",
        open=(("engines", ident, "cylinders"), ("engines", ident, "seats")),
        certain=beyond,
    )
