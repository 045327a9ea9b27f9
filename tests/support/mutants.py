"""Documents spoilt in their structure: what a person, an editor or an enemy can make of an installation."""

from __future__ import annotations

import copy
import random
from collections.abc import Callable, Iterator
from typing import Any

from installations import NAMES, demo, made_by_chance

Plain = dict[str, Any]
Spot = tuple[Any, Any]
"""A mapping or list, and the word or index of a value in it."""

SCALARS = (
    "unknown", "", "0", "-1", "1e300", "-1e300", "1e-300", "nan", "inf", "0 V", "-5 V", "1e12 V", "0 ohm", "1e-12 ohm", "1e9 ohm",
    "0 ft", "-3 ft", "99999 ft", "1/0 in", "0 psi", "1e9 psi", "-500 degC", "5000 degC", "0 A", "1e6 A", "0 rpm", "40 AWG", "0000 AWG", "22 AWG",
    "yes", "no", "true", "~", "null", "12:30", "0x10", "1_000", "\u00e9\u4e2d", "\u202ereversed", "a\x00b", "a\nb", "=1+1", "<b>", "&amp;",
    "'", '"', "{", "[", "- ", "#", "%", "@", "x" * 3000, ".", "..", "a.b.c", ".A", "A.", " ", "engine", "airframe", "firewall",
)  # fmt: skip
"""Values that stand for a kind of mistake: out of range, of another kind, escapes, names of things."""


def spots(node: Any) -> Iterator[Spot]:
    """Every place of a value below a node."""
    held = (
        list(node.items())
        if isinstance(node, dict)
        else list(enumerate(node))
        if isinstance(node, list)
        else []
    )
    for step, value in held:
        yield node, step
        yield from spots(value)


def _take_out(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    del holder[step]


def _scalar(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    holder[step] = rng.choice(SCALARS)


def _from_elsewhere(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    there, other = rng.choice(list(spots(plain)))
    holder[step] = copy.deepcopy(there[other])


def _exchanged(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    like = [s for s in spots(plain) if s[1] == step and s[0] is not holder]
    if like:
        there, other = rng.choice(like)
        holder[step], there[other] = copy.deepcopy(there[other]), copy.deepcopy(holder[step])


def _renamed(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    if isinstance(holder, dict):
        value = holder.pop(step)
        holder[rng.choice(("renamed", str(step) + "s", str(step).upper(), *SCALARS[:4], "unknown", "0"))] = (
            value
        )


def _doubled(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    if isinstance(holder, dict):
        holder[f"{step} again"] = copy.deepcopy(holder[step])
    else:
        holder.append(copy.deepcopy(holder[step]))


def _wrapped(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    holder[step] = [holder[step]] if rng.random() < 0.5 else {"value": holder[step]}


def _emptied(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    holder[step] = rng.choice(([], {}, None, ""))


def _scaled(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    value = holder[step]
    number, _, unit = str(value).partition(" ")
    try:
        holder[step] = f"{float(number) * rng.choice((0, -1, 0.001, 0.5, 2, 1000, 1e9)):g} {unit}".strip()
    except ValueError:
        holder[step] = rng.choice(SCALARS)


def _turned(rng: random.Random, plain: Plain, at: Spot) -> None:
    holder, step = at
    if isinstance(holder[step], list):
        holder[step].reverse()
    elif isinstance(holder[step], dict) and len(holder[step]) > 1:
        words = list(holder[step])
        one, other = rng.sample(words, 2)
        holder[step][one], holder[step][other] = holder[step][other], holder[step][one]


WAYS: tuple[Callable[[random.Random, Plain, Spot], None], ...] = (
    *(_take_out,) * 4, *(_scaled,) * 7, *(_exchanged,) * 5, *(_turned,) * 2, _scalar, _from_elsewhere, _renamed, _doubled, _wrapped, _emptied,
)  # fmt: skip
"""Most often what leaves a document readable: the deeper code is what is to be tried."""


def mutant(seed: int) -> tuple[str, Plain]:
    """Where it comes from, and a document with one to four places spoilt. One in eight comes of a whole demo."""
    rng = random.Random(seed)
    if rng.random() < 1 / 8:
        origin = rng.choice(NAMES)
        plain = demo(origin)
    else:
        origin, plain = f"chance {seed}", made_by_chance(seed)
    for _ in range(rng.choice((1, 1, 2, 3, 4))):
        found = list(spots(plain))
        if not found:
            break
        rng.choice(WAYS)(rng, plain, rng.choice(found))
    return origin, plain
