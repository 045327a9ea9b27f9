"""What is wrong with a thing, as who stands before it would say it: by the word of the document at fault."""

from __future__ import annotations

from ...analysis.study import Study
from ...document.wording import a
from ...model.routes import RouteStep
from ...model.wiring import WireRun
from .spots import Spot, spot, told

_SAID = {
    "location": "{thing} is at the {value}",
    "mounted_on": "{thing} is mounted on the {value}",
    "mount": "{thing} is mounted by {value}",
    "seat": "{thing} sits {value}",
    "side": "{thing} is on the {value} side",
    "connected_to": "{thing} is connected to {value}",
    "supported_by": "{thing} is held by {value}",
    "position": "{thing} lies {value}{beside}",
    "fittings.position": "{thing} stands {value}",
    "left": "{thing} is left {value}",
    "part": "{thing} is {value}",
    "kind": "{thing} is {value}",
    "terminals": "{thing} has the terminals {value}",
    "metal": "{thing} is of {value}",
    "gauge": "{thing} is of {value}",
    "rating": "{thing} is of {value}",
    "size": "{thing} is of size {value}",
    "measures": "{thing} measures {value}",
    "zone": "{thing} is in the {value}",
    "bundle": "{thing} lies in {value}",
}
"""By the last word of a path, or section and word where it means another thing there, what a value says of the thing."""
_DONE = {
    "location": "move {thing} to the {value}",
    "mounted_on": "mount {thing} on the {value}",
    "mount": "mount {thing} by {value}",
    "seat": "move {thing} to {value}",
    "side": "move {thing} to the {value} side",
    "connected_to": "connect {thing} to {value}",
    "supported_by": "hold {thing} by {value}",
    "position": "lead {thing} {value}",
    "fittings.position": "turn {thing} {value}",
    "zone": "move {thing} to the {value}",
    "bundle": "lay {thing} in {value}",
}
"""Likewise, how another value is brought about."""
_TOLD_OF_ACTS = {
    "low_point_drain": ("{thing} has a low-point drain", "{thing} has no low-point drain"),
    "drip_loop": ("{thing} has a drip loop", "{thing} has no drip loop"),
    "sleeve": ("{thing} has a sleeve", "{thing} has no sleeve"),
    "in_view": ("{thing} is in view", "{thing} is out of view"),
    "strained": ("{thing} is strained", "{thing} is free of strain"),
    "clamped": ("{thing} is clamped{beside}", "{thing} is not clamped off{beside}"),
    "guarded": ("{thing} is guarded{beside}", "{thing} has no guard{beside}"),
    "twisted": ("{thing} is twisted", "the wires of {thing} are not twisted"),
}
"""By a word that takes yes or no, what each says of the thing."""


def says(study: Study, one: Spot, beside: str = "") -> str:
    """What a field says of its thing: ``E1 passes the firewall through an open hole``; ``beside`` is what it is from."""
    thing, word = str(one.path[1]), str(one.path[-1])
    if isinstance(one.value, bool):
        yes, no = _TOLD_OF_ACTS.get(
            word, (f"{{thing}} is {_label(word)}{{beside}}", f"{{thing}} is not {_label(word)}{{beside}}")
        )
        return (yes if one.value else no).format(thing=thing, beside=beside)
    value = told(one.value)
    if word == "through":
        step = spot(study, one.path[:-1])
        if step is not None and isinstance(step.value, RouteStep):
            return f"{thing} passes the {step.value.barrier} through {a(value)}"
        return f"{thing} reaches ground through {value}"
    if word == "part" and one.path[0] == "wire_runs":
        return made_of(study, thing)
    pattern = _for(_SAID, one, f"the {_label(word)} of {{thing}}{{beside}} is {{value}}")
    return pattern.format(thing=thing, value=value, beside=beside)


def does(study: Study, one: Spot, value: object, how: str = "") -> str:
    """What is done to make a field say another value: ``make T12 of thermocouple lead K in place of AS22759/16``."""
    thing, word = one.path[1], one.path[-1]
    step = spot(study, one.path[:-1]) if word == "through" else None
    if step is not None and isinstance(step.value, RouteStep):
        return f"lead {thing} through the {step.value.barrier} by {a(told(value))}{how} in place of {a(told(one.value))}"
    if word == "part":
        verb = "make {} of" if one.path[0] in ("wire_runs", "fluid_lines") else "fit {} as"
        return f"{verb.format(thing)} {told(value)}{how} in place of {told(one.value)}"
    pattern = _for(_DONE, one, f"make the {_label(str(word))} of {{thing}} {{value}}")
    return f"{pattern.format(thing=thing, value=told(value))}{how} in place of {told(one.value)}"


def _for(patterns: dict[str, str], one: Spot, other: str) -> str:
    word = str(one.path[-1])
    return patterns.get(f"{one.path[0]}.{word}") or patterns.get(word, other)


def made_of(study: Study, ident: str) -> str:
    """What a run is made of, and that it lies where thermocouple lead belongs: ``T12 is AS22759/16 in a thermocouple leg``."""
    run: WireRun = study.model.wire_runs[ident]
    part = run.part or "wire without a part number"
    for one in study.indications:
        if one.section == "probes" and any(s.edge.ident == ident for leg in one.legs for s in leg.steps):
            couple = study.model.probes[one.source].spec.thermocouple
            if run.spec.thermocouple is None:
                metal = "copper" if "copper" in str(run.spec.metal) else run.spec.metal
                what = f"{metal} wire ({part})" if metal is not None else part
                return f"{ident} is {what} in a thermocouple leg"
            if couple is not None and run.spec.thermocouple != couple:
                return f"{ident} is lead for type {run.spec.thermocouple} on a probe of type {couple}"
    return f"{ident} is made of {part}"


def crossing(ident: str, step: RouteStep) -> str:
    """``E1 passes the firewall through an open hole``."""
    by = a(step.through) if step.through is not None else "what is not told"
    return f"{ident} passes the {step.barrier} through {by}"


def _label(word: str) -> str:
    return word.replace("_", " ")
