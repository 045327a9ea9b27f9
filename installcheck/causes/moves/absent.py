"""Wires that are not there: a terminal that nothing is on joined as its like is joined, or past what it goes by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from ...analysis.power.wiring import PROTECTORS
from ...analysis.study import Study, once
from ...model.edits import Edit, Put, Written
from ...model.installation import split_end, terminals_of
from ...model.wiring import WireRun
from .ends import End, ends, of_run
from .lines import next_id
from .spots import written

_WIRED = ("senders", "probes", "indicators", "supplies", "loads", "junctions")
_RETURNS = ("-", "ground", "G")
_SIGNALS = ("senders", "probes", "indicators")
_MOST, _MOST_LIKE = 6, 2


@once
def unwired(study: Study) -> dict[str, list[str]]:
    """Of each device, the terminals by name that no run, line or conductor ends at."""
    found: dict[str, list[str]] = {}
    for section in _WIRED:
        for ident, thing in study.model.section(section).items():
            if section == "junctions" and thing.spec.kind != "shunt":  # type: ignore[attr-defined]
                continue  # a spare post of a block lacks nothing
            taken = {e.end for e in ends(study).get(ident, ())}
            names = terminals_of(section, thing) or ()  # type: ignore[arg-type]
            ports = getattr(getattr(thing, "spec", None), "ports", None) or ()
            free = [n for n in names if f"{ident}.{n}" not in taken and n != "case" and n not in ports]
            if free:
                found[ident] = free
    return found


def laid(study: Study, ident: str) -> Iterator[Edit]:
    """A wire to each terminal of a device that nothing is on."""
    for terminal in unwired(study).get(ident, ())[:_MOST]:
        end = f"{ident}.{terminal}"
        yield from _to_its_like(study, ident, terminal, end)
        yield from _beside_another(study, ident, end)
        yield from _as_its_twin(study, ident, end)
        yield from _from_what_is_free(study, ident, end)
        yield from _home(study, ident, terminal, end)


def _to_its_like(study: Study, ident: str, terminal: str, end: str) -> Iterator[Edit]:
    """As the same terminal of another device of its sort is wired, to a block, a bus or a ground."""
    section = _section(study, ident)
    for other, at in ends(study).items():
        if other == ident or _section(study, other) != section:
            continue
        for one in at:
            run = study.model.wire_runs[one.run]
            if one.conductor or split_end(one.end)[1] != terminal or run.from_ is None or run.to is None:
                continue
            far = run.to if one.path[-1] == "from" else run.from_
            if _section(study, split_end(far)[0]) in ("junctions", "supplies", "grounds"):
                yield _run(study, run, one.run, end, far)


def _from_what_is_free(study: Study, ident: str, end: str) -> Iterator[Edit]:
    """From a protector that feeds nothing, or to the sender or gauge of the same measure that lacks a wire as well."""
    own = [e.run for e in ends(study).get(ident, ()) if not e.conductor]
    measured = _measures(study, ident)
    for other, free in unwired(study).items():
        supply = study.model.supplies.get(other)
        if supply is not None and supply.spec.kind in PROTECTORS and "out" in free and own:
            yield _run(study, study.model.wire_runs[own[0]], own[0], f"{other}.out", end)
        elif other != ident and measured and _measures(study, other) == measured:
            like = _between_their_zones(study, ident, other)
            for theirs in free if like else ():
                yield _run(study, study.model.wire_runs[like], like, f"{other}.{theirs}", end)


def _measures(study: Study, ident: str) -> str | None:
    found = study.model.find(ident)
    if found is None or found[0] not in _SIGNALS:
        return None
    return getattr(found[1], "measures", None) or getattr(getattr(found[1], "spec", None), "measures", None)


def _between_their_zones(study: Study, ident: str, other: str) -> str:
    """A run of a signal on one wire between the zones of two devices, that way or back; empty if there is none."""
    zones = {getattr(study.model.find(i)[1], "zone", None) for i in (ident, other)}  # type: ignore[index]
    for name, run in study.model.wire_runs.items():
        route = run.route or []
        met = {_section(study, split_end(end)[0]) for end in (run.from_, run.to) if end is not None}
        if met & {*_SIGNALS} and len(route) > 1 and {route[0].zone, route[-1].zone} == zones:
            return name
    return ""


def _beside_another(study: Study, ident: str, end: str) -> Iterator[Edit]:
    """Beside a run between two devices, from the one's free terminal to the other's; or as another conductor of it."""
    for one in ends(study).get(ident, ()):
        run = study.model.wire_runs[one.run]
        far = _far(run, one)
        if far is None:
            continue
        for other in unwired(study).get(split_end(far)[0], ())[:_MOST]:
            there = f"{split_end(far)[0]}.{other}"
            if one.conductor:
                spare = next((n for n in run.spec.legs or () if n not in (run.conductors or {})), None)
                if spare is not None:
                    ours, theirs = ("from", "to") if one.path[-1] == "from" else ("to", "from")
                    put = Put(("wire_runs", one.run, "conductors", spare), {ours: end, theirs: there})
                    yield Edit(
                        (put,),
                        f"join {end} and {there} by conductor {spare} of {one.run}",
                        f"{end} is not wired",
                    )
            else:
                yield _run(study, run, one.run, end, there)


def _as_its_twin(study: Study, ident: str, end: str) -> Iterator[Edit]:
    """As another terminal of it is wired: to the same terminal of another thing of the sort that is on that."""
    for one in ends(study).get(ident, ()):
        run = study.model.wire_runs[one.run]
        far = _far(run, one)
        if far is None or one.conductor:
            continue
        device, terminal = split_end(far)
        for other, free in unwired(study).items():
            if other != device and terminal in free and _kind(study, other) == _kind(study, device):
                yield _run(study, run, one.run, end, f"{other}.{terminal}")


def _kind(study: Study, ident: str) -> tuple[str, str]:
    """Section and sort of a thing."""
    found = study.model.find(ident)
    return (
        (found[0], str(getattr(getattr(found[1], "spec", None), "kind", "")))
        if found is not None
        else ("", "")
    )


def _home(study: Study, ident: str, terminal: str, end: str) -> Iterator[Edit]:
    """A return to each ground, made as the other wire of the device."""
    if terminal not in _RETURNS:
        return
    zone = getattr(study.model.section(_section(study, ident))[ident], "zone", None)
    for one in ends(study).get(ident, ())[:1]:
        run = study.model.wire_runs[one.run]
        if run.conductors is not None:
            continue
        for ground, thing in study.model.grounds.items():
            if thing.kind not in ("strap", "bond"):
                route: list[Written] = [{"zone": str(zone), "length": "12 in"}]
                yield _run(study, run, one.run, end, ground, route)


def _far(run: WireRun, one: End) -> str | None:
    """The other end of a conductor."""
    held = run.conductors[one.conductor] if run.conductors is not None and one.conductor else run
    return held.to if one.path[-1] == "from" else held.from_


def _run(
    study: Study, like: WireRun, name: str, first: str, last: str, route: list[Written] | None = None
) -> Edit:
    """A run made as another one, from one terminal to another."""
    plain = written(like)
    assert isinstance(plain, Mapping)
    made: dict[str, Written] = dict(plain)
    made |= {"from": first, "to": last}
    if route is not None:
        made["route"] = route
    new = next_id(name, set(study.whole.wire_runs))
    how = f"as {name}" if route is None else f"of the wire of {name}"
    return Edit(
        (Put(("wire_runs", new), made),), f"run a wire from {first} to {last}, {how}", f"{first} is not wired"
    )


def _section(study: Study, ident: str) -> str:
    found = study.model.find(ident)
    return found[0] if found is not None else ""


def to_what_lacks_one(study: Study, ident: str) -> Iterator[Edit]:
    """An end of a run at a bus or a source, taken to a terminal of a sender, probe or indicator that nothing is on."""
    own = of_run(study, ident)
    beside = {e.device for e in own}
    lacking = [
        (device, terminal)
        for device, free in unwired(study).items()
        for terminal in free
        if _section(study, device) in _SIGNALS
    ]
    lacking.sort(key=lambda one: (one[0] not in beside, _SIGNALS.index(_section(study, one[0]))))
    for one in own:
        if _section(study, one.device) != "supplies":
            continue
        for device, terminal in lacking[:_MOST]:
            words = f"take {one.label} to {device}.{terminal} in place of {one.end}"
            yield Edit((Put(one.path, f"{device}.{terminal}"),), words, f"{one.label} goes to {one.end}")


def where_its_like_goes(study: Study, ident: str) -> Iterator[Edit]:
    """An end of a run at a bus or a source, where the wire at the same terminal of another device of the sort goes."""
    own = of_run(study, ident)
    for one in own:
        if _section(study, one.device) != "supplies":
            continue
        for near in own:
            if near.conductor != one.conductor or near is one or _section(study, near.device) not in _SIGNALS:
                continue
            theirs = [
                far.end
                for other, group in ends(study).items()
                for e in group
                if other != near.device
                and _section(study, other) == _section(study, near.device)
                and split_end(e.end)[1] == split_end(near.end)[1]
                for far in of_run(study, e.run)
                if far.conductor == e.conductor and far is not e
            ]
            for end, _ in Counter(t for t in theirs if t != one.end).most_common(_MOST_LIKE):
                words = f"take {one.label} to {end}, as its like, in place of {one.end}"
                yield Edit((Put(one.path, end),), words, f"{one.label} goes to {one.end}")


def past_a_protector(study: Study, ident: str) -> Iterator[Edit]:
    """An end of a run at a bus, a source or a shunt, moved behind a protector that nothing is fed from."""
    run = study.model.wire_runs[ident]
    for word, end in (("from", run.from_), ("to", run.to)):
        device = split_end(end)[0] if end is not None else ""
        if _section(study, device) not in ("supplies", "junctions"):
            continue
        for other, supply in study.model.supplies.items():
            free = unwired(study).get(other, ())
            if (
                supply.spec.kind in ("breaker", "fuse", "current limiter")
                and "out" in free
                and other != device
            ):
                put = Put(("wire_runs", ident, word), f"{other}.out")
                yield Edit(
                    (put,), f"feed {ident} from {other}.out in place of {end}", f"{ident} is fed from {end}"
                )
