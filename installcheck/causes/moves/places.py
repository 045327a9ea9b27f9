"""Where things are: the cylinder of a probe, the place of a sender, the ground of a device, the way of a run."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from ...analysis.fluid.facts import media
from ...analysis.study import Study
from ...document.source import Plain, mapping
from ...model.edits import Change, Drop, Edit, Put, Swap, Written
from ...model.installation import split_end
from ...model.quantities import show
from ...model.wiring import WireRun
from .ends import ends
from .headings import crossing
from .spots import written

_SEATED = ("thread", "gasket", "sealed thread", "bolts", "painted bolts", "clamp")
"""What holds a body where it is: its ground is what it sits on."""
_FIREPROOF = ("fireproof grommet", "sealed plug", "bulkhead fitting")
_WAY = ("bend_radius", "support_spacing", "supported_by", "clearances")
_REFERENCES = {"oil temperature": "oil_reference", "fuel pressure": "fuel_pressure_reference"}
_PREFIX = {"inlet": "engine inlet", "outlet": "engine outlet"}


def cylinders(study: Study, ident: str) -> Iterator[Edit]:
    """A probe on each other cylinder, changed over with the probe of its kind that is there."""
    probe = study.model.probes[ident]
    found = study.model.engine_of(probe)
    if probe.cylinder is None or found is None or found[1].cylinders is None:
        return
    for number in range(1, found[1].cylinders + 1):
        if number != probe.cylinder:
            yield on_cylinder(study, ident, number)


def on_cylinder(study: Study, ident: str, number: int) -> Edit:
    """A probe on another cylinder; the one of its kind that is there takes its place."""
    probe = study.model.probes[ident]
    engine = study.model.engine_of(probe)
    there = next(
        (
            i
            for i, p in study.model.probes.items()
            if i != ident
            and p.cylinder == number
            and p.measures == probe.measures
            and p.mount == probe.mount
            and study.model.engine_of(p) == engine
        ),
        None,
    )
    if there is not None:
        changes: list[Change] = [Swap(("probes", ident, "cylinder"), ("probes", there, "cylinder"))]
        if probe.seat is not None and study.model.probes[there].seat is not None:
            changes.append(Swap(("probes", ident, "seat"), ("probes", there, "seat")))
        words = f"exchange {ident} and {there}: cylinder {number} for {probe.cylinder}"
        return Edit(tuple(changes), words, f"{ident} is on cylinder {probe.cylinder}")
    changes = [Put(("probes", ident, "cylinder"), str(number))]
    seat = (engine[1].seats or {}).get(number) if engine is not None else None
    if probe.seat is not None:
        changes.append(Put(("probes", ident, "seat"), seat) if seat else Drop(("probes", ident, "seat")))
    words = f"move {ident} to cylinder {number} in place of {probe.cylinder}"
    return Edit(tuple(changes), words, f"{ident} is on cylinder {probe.cylinder}")


def probe_places(study: Study, ident: str) -> Iterator[Edit]:
    """A probe at the distance and in the seat the engine's papers ask for."""
    probe = study.model.probes[ident]
    engine = study.model.engine_of(probe)
    if engine is None:
        return
    asked = engine[1].exhaust_probe_distance
    if asked is not None and probe.distance is not None and probe.distance != asked:
        put = Put(("probes", ident, "distance"), asked.text)
        words = f"move {ident} to {asked.text} from the port, in place of {probe.distance.text}"
        yield Edit((put,), words, f"{ident} is {probe.distance.text} from the port")
    seat = (engine[1].seats or {}).get(probe.cylinder or 0)
    if seat is not None and probe.seat not in (None, seat):
        put = Put(("probes", ident, "seat"), seat)
        words = f"move {ident} to cylinder {probe.cylinder} {seat}, in place of {probe.seat}"
        yield Edit((put,), words, f"{ident} sits {probe.seat}")


def where_its_runs_end(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """A device in the zone in which the routes of all runs and lines at it end, where it is said to be in another."""
    zone = getattr(study.model.section(section)[ident], "zone", None)
    ended: set[str | None] = set()
    for end in ends(study).get(ident, ()):
        route = study.model.wire_runs[end.run].route
        if route:
            ended.add(route[0 if end.path[-1] == "from" else -1].zone)
    for line in study.model.fluid_lines.values():
        for end_at, index in ((line.from_, 0), (line.to, -1)):
            if line.route and split_end(end_at)[0] == ident:
                ended.add(line.route[index].zone)
    if zone is not None and len(ended) == 1 and (there := ended.pop()) not in (None, zone):
        words = f"move {ident} to the {there}, where its runs end, in place of the {zone}"
        yield Edit((Put((section, ident, "zone"), str(there)),), words, f"{ident} is in the {zone}")


def sender_places(study: Study, ident: str) -> Iterator[Edit]:
    """A sender where the engine's papers say its limit applies."""
    sender = study.model.senders[ident]
    engine = study.model.engine_of(sender)
    word = _REFERENCES.get(sender.spec.measures or "")
    place = getattr(engine[1], word) if engine is not None and word is not None else None
    if place is not None and _PREFIX.get(place, place) != sender.location:
        put = Put(("senders", ident, "location"), _PREFIX.get(place, place))
        words = f"move {ident} to the {place}, in place of {sender.location or 'where it is'}"
        yield Edit((put,), words, f"{ident} is at the {sender.location}" if sender.location else "")


def lowered(study: Study, ident: str) -> Iterator[Edit]:
    """A sender above or below its tap, put at the height of the tap, its line led level."""
    height = study.model.senders[ident].elevation
    ports = study.model.senders[ident].spec.ports or ["P"]
    feeds = [f for p in ports for f in media(study).feeds(f"{ident}.{p}") if f.hops] if height else []
    if height is None or len(feeds) != 1:
        return
    lines = [(h, h.edge.line) for h in feeds[0].hops if h.edge.line is not None]
    told = [(h.edge.ident, line.rise, h.near == h.edge.a) for h, line in lines if line.rise is not None]
    changes: list[Change] = [Put(("senders", ident, "elevation"), "0 in")]
    if told:
        name, first, onward = told[0]
        others = sum(float(rise) if up else -float(rise) for _, rise, up in told[1:])
        level = show(-others if onward else others, first.unit, "length")
        changes.append(Put(("fluid_lines", name, "rise"), level))
    tap = feeds[0].source.ident
    where = f"{height.text.lstrip('-')} {'above' if height > 0 else 'below'} it"
    yield Edit(
        tuple(changes),
        f"put {ident} at the height of {tap}, in place of {where}, with its line led level",
        f"{ident} is {where.removesuffix(' it')} {tap}",
    )


def grounded(study: Study, section: str, ident: str) -> Iterator[Edit]:
    """The body of a thing on another ground."""
    grounding = getattr(study.model.section(section)[ident], "grounding", None)
    if grounding is None or grounding.through in _SEATED:
        return
    for ground, thing in study.model.grounds.items():
        if ground != grounding.to and thing.kind not in ("strap", "bond"):
            put = Put((section, ident, "grounding", "to"), ground)
            words = f"ground the body of {ident} at {ground} in place of {grounding.to}"
            yield Edit((put,), words, f"the body of {ident} is grounded at {grounding.to}")


def bundles(study: Study, ident: str) -> Iterator[Edit]:
    """A run in another bundle, or alone."""
    run = study.model.wire_runs[ident]
    if run.bundle is None:
        return
    for other in study.model.bundles:
        if other != run.bundle:
            put = Put(("wire_runs", ident, "bundle"), other)
            words = f"lay {ident} in {other} in place of {run.bundle}"
            yield Edit((put,), words, f"{ident} lies in {run.bundle}")
    raw = mapping(study.document.whole.get("wire_runs")).get(ident)
    written_of_it = mapping(study.document.expansion.written("wire_runs", ident, raw))
    beside, own = by_itself(study, ident, run, written_of_it)
    alone: list[Change] = [*beside]
    if "bundle" in own:
        alone.append(Put(("wire_runs", ident, "bundle"), own["bundle"]))
    else:
        alone.append(Drop(("wire_runs", ident, "bundle")))
        alone += [
            Put(("wire_runs", ident, w), v)
            for w, v in own.items()
            if not study.document.holds(("wire_runs", ident, w))
        ]
    words = f"lead {ident} outside {run.bundle}, in clamps of its own"
    yield Edit(tuple(alone), words, f"{ident} lies in {run.bundle}")


def by_itself(
    study: Study, ident: str, run: WireRun, own: Mapping[str, object]
) -> tuple[list[Change], dict[str, Written]]:
    """What lets a run lie as its bundle does, and by itself: what is put beside it, and its words in place of its bundle.

    It lies in free air; where the document tells a bundle once for all runs, it gets one of its own.

    Args:
        ident: what it is called.
        run: the run, or one it is laid like.
        own: what it writes itself.
    """
    found = study.model.bundles.get(run.bundle or "")
    way = {w: written(v) for w in _WAY if (v := getattr(found, w, None)) is not None}
    rest: dict[str, Plain] = {w: v for w, v in own.items() if w != "bundle" and isinstance(v, str)}
    if study.document.expansion.said_elsewhere("wire_runs", rest).get("bundle") is None:
        return [], {**way, "free_air": "yes"}
    name = f"{ident} by itself"
    wires = str(max(1, len(run.conductors or ())))
    return [Put(("bundles", name), {**way, "wires": wires, "load_share": "100 %"})], {"bundle": name}


def crossings(study: Study, ident: str) -> Iterator[Edit]:
    """A run across each barrier as most others cross it, and by a fireproof fitting."""
    run = study.model.wire_runs[ident]
    for index, step in enumerate(run.route or ()):
        if step.barrier is None:
            continue
        path = ("wire_runs", ident, "route", index)
        others = [
            s
            for i, r in study.model.wire_runs.items()
            for s in r.route or ()
            if i != ident
            and s.barrier == step.barrier
            and s.through != step.through
            and s.through != "open hole"
        ]
        usual = Counter(repr(written(s)) for s in others).most_common(2)
        for text, _ in usual:
            like = next(s for s in others if repr(written(s)) == text)
            words = f"lead {ident} through {step.barrier} by a {like.through} in place of {_by(step.through)}"
            yield Edit((Put(path, written(like)),), words, crossing(ident, step))
        for fitting in _FIREPROOF:
            if fitting != step.through and not any(s.through == fitting for s in others):
                words = f"lead {ident} through {step.barrier} by a {fitting} in place of {_by(step.through)}"
                yield Edit((Put((*path, "through"), fitting),), words, crossing(ident, step))


def crossed_well(study: Study, run: WireRun) -> list[Written]:
    """The route of a run, each barrier crossed as another run crosses it that does so by a fireproof fitting."""
    well: dict[str | None, Written] = {
        step.barrier: written(step)
        for other in study.model.wire_runs.values()
        for step in other.route or ()
        if step.barrier is not None and step.through in _FIREPROOF
    }
    return [well.get(step.barrier, written(step)) for step in run.route or ()]


def _by(through: str | None) -> str:
    if through is None:
        return "what is not told"
    return f"an {through}" if through[0] in "aeiou" else f"a {through}"
