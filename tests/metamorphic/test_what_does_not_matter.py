"""What must not change a verdict: what is removed, order, units, names, a route told in more steps, a thing that joins nothing.

Each is tried on every demo and on documents made from them by chance.
"""

import copy
import random

import pytest
from installations import NAMES, demo, made_by_chance, quantities_of, read

from installcheck import check
from installcheck.model.kinds import KINDS
from installcheck.model.quantities import in_unit

CHANCES = range(200)
DOCUMENTS = [*NAMES, *range(6)]
OTHER_UNIT = {
    "length": "mm",
    "station": "mm",
    "temperature": "degC",
    "temperature difference": "degC",
    "pressure": "kPa",
    "voltage": "mV",
    "current": "mA",
    "resistance": "milliohm",
    "power": "mW",
    "volume": "mL",
    "mass": "g",
    "time": "s",
    "resistance per length": "ohm/m",
    "mass per length": "g/m",
    "airspeed": "m/s",
    "flow": "L/h",
    "frequency": "kHz",
}


def document_of(which):
    return demo(which) if isinstance(which, str) else made_by_chance(which)


def verdicts(plain, *, without=(), called=lambda ident: ident):
    """Rule, outcome and ids of every verdict that does not concern a thing of ``without``; ids are renamed by ``called``."""
    return sorted(
        (v.rule, v.outcome.value, *map(called, v.at))
        for v in check(read(plain)).verdicts
        if not set(v.at) & set(without)
    )


def figures(plain):
    """Rule, outcome, item and figures of every verdict. Which of several equals is named beside the item is open."""
    return sorted(
        (v.rule, v.outcome.value, v.at[0], v.unit, *(f"{x:.6g}" for x in (v.value, v.limit) if x is not None))
        for v in check(read(plain)).verdicts
    )


REMOVABLE = (
    "senders", "indicators", "probes", "supplies", "loads", "grounds", "junctions", "wire_runs", "fittings", "fluid_lines",
)  # fmt: skip
TELLS_OF_REMOVED = ("port-closed", "deviation-in-order")
"""Rules that ask what a removed thing has left behind, of what it was joined to."""


@pytest.mark.parametrize("which", DOCUMENTS)
def test_deleting_what_is_removed_changes_no_other_verdict(which):
    plain = document_of(which)
    chance = random.Random(0 if isinstance(which, str) else which)
    gone = {i for s in REMOVABLE for i, t in plain.get(s, {}).items() if t.get("status") == "removed"}
    for section in REMOVABLE:
        if plain.get(section) and chance.random() < 0.3:
            gone.add(chance.choice(list(plain[section])))
    gone = _with_what_hangs(plain, gone)
    marked, deleted = copy.deepcopy(plain), copy.deepcopy(plain)
    for section in REMOVABLE:
        for ident in gone & set(plain.get(section, {})):
            marked[section][ident]["status"] = "removed"
            del deleted[section][ident]
    for made in (marked, deleted):
        for section in ("measured", "deviations", "notices"):
            made[section] = [t for t in made.get(section, []) if not any(_names(x, gone) for x in _texts(t))]
        for point in made.get("operating_points", {}).values():
            for word in ("loads_on", "open_switches", "dead_supplies"):
                if word in point:
                    point[word] = [x for x in point[word] if x not in gone]
            point["joint_temperatures"] = {
                x: y for x, y in point.get("joint_temperatures", {}).items() if not _names(x, gone)
            }
    assert [v for v in verdicts(marked, without=gone) if v[0] not in TELLS_OF_REMOVED] == [
        v for v in verdicts(deleted, without=gone) if v[0] not in TELLS_OF_REMOVED
    ]


def _with_what_hangs(plain, gone):
    """``gone`` with everything that ends at, hangs on or names something in it."""
    while True:
        hanging = {
            ident
            for section in REMOVABLE
            for ident, thing in plain.get(section, {}).items()
            if ident not in gone and any(_names(text, gone) for text in _texts(thing))
        }
        if not hanging:
            return gone
        gone = gone | hanging


def _names(text, gone):
    return text in gone or text.partition(".")[0] in gone


def _texts(node):
    if isinstance(node, str):
        yield node
    elif isinstance(node, dict):
        for value in node.values():
            yield from _texts(value)
    elif isinstance(node, list):
        for value in node:
            yield from _texts(value)


@pytest.mark.parametrize("which", DOCUMENTS)
def test_order_does_not_matter(which):
    plain = document_of(which)
    chance = random.Random(1)
    assert figures(_shuffled(plain, chance)) == figures(plain)


def _shuffled(node, chance, depth=0):
    """Sections, things and words in another order; lists and what is below a word keep theirs."""
    if not isinstance(node, dict) or depth > 2:
        return node
    keys = list(node)
    chance.shuffle(keys)
    return {key: _shuffled(node[key], chance, depth + 1) for key in keys}


@pytest.mark.parametrize("which", DOCUMENTS)
def test_units_do_not_matter(which):
    plain = document_of(which)
    written = copy.deepcopy(plain)
    changed = 0
    for path, quantity in quantities_of(read(plain).installation):
        unit = OTHER_UNIT.get(quantity.kind)
        holder = _held(written, path[:-1])
        if unit is None or holder is None or _held(holder, path[-1:]) != quantity.text:
            continue  # a figure of a part, or of a kind with one unit
        number = in_unit(float(quantity), unit, quantity.kind)
        assert unit in KINDS[quantity.kind].units
        holder[path[-1]] = f"{number:.15g} {unit}"
        changed += 1
    assert changed > 20
    assert verdicts(written) == verdicts(plain)


def _held(node, path):
    """What stands at a path of a document; nothing where it stands in a part."""
    for step in path:
        if isinstance(node, dict):
            node = node.get(step)
        elif isinstance(node, list) and isinstance(step, int) and step < len(node):
            node = node[step]
        else:
            return None
    return node


@pytest.mark.parametrize("which", DOCUMENTS)
def test_names_do_not_matter(which):
    plain = document_of(which)
    idents = {
        ident
        for section, held in plain.items()
        if isinstance(held, dict) and section not in ("installation", "aircraft")
        for ident in held
    }
    # A load that is called a starter is one: the word is read, and stays.
    new = {ident: f"thing {i}{' starter' * ('starter' in ident)}" for i, ident in enumerate(sorted(idents))}

    def called(text):
        ident, dot, terminal = text.partition(".")
        return new.get(ident, ident) + dot + terminal

    assert verdicts(_renamed(plain, called)) == verdicts(plain, called=called)


FREE = (
    "part",
    "size",
    "title",
    "measures",
    "kind",
    "medium",
    "material",
    "location",
    "mounted_on",
    "notes",
    "label",
    "phase",
)
"""Words whose values are no ids, though one may read like an id."""


def _renamed(node, called, word=""):
    if isinstance(node, dict):
        return {
            (called(key) if word in _HOLD_IDS else key): _renamed(value, called, key)
            for key, value in node.items()
        }
    if isinstance(node, list):
        return [_renamed(value, called, word) for value in node]
    return called(node) if isinstance(node, str) and word not in FREE else node


_HOLD_IDS = (
    "engines", "zones", "barriers", "operating_points", "senders", "indicators", "probes", "supplies", "loads",
    "grounds", "junctions", "bundles", "wire_runs", "taps", "fittings", "fluid_lines", "survey", "removed",
    "zone_temperatures", "joint_temperatures",
)  # fmt: skip


@pytest.mark.parametrize("which", DOCUMENTS)
def test_a_route_told_in_more_steps_is_the_same_route(which):
    plain = document_of(which)
    split = copy.deepcopy(plain)
    halves = {
        path: q
        for path, q in quantities_of(read(plain).installation)
        if path[2:3] == ("route",) and path[-1] == "length"
    }
    for path in sorted(halves, key=str, reverse=True):
        section, ident, _, i, _ = path
        route = split[section][ident]["route"]
        if route[i].get("length") != halves[path].text:
            continue
        half = {**route[i], "length": f"{in_unit(float(halves[path]), 'mm', 'length') / 2:.15g} mm"}
        route[i : i + 1] = [half, dict(half)]
    assert verdicts(split) == verdicts(plain)


@pytest.mark.parametrize("which", DOCUMENTS)
def test_a_thing_that_joins_nothing_changes_no_other_verdict(which):
    plain = document_of(which)
    zone = next(iter(plain["zones"]))
    more = copy.deepcopy(plain)
    lonely = {
        "senders": {"terminals": ["A", "B"], "zone": zone, "principle": "resistive"},
        "loads": {"terminals": ["+", "-"], "zone": zone, "current": "1 A", "duty": "intermittent"},
        "junctions": {"kind": "terminal block", "terminals": ["1", "2"], "zone": zone},
        "fittings": {"kind": "tee", "ports": ["1", "2", "3"], "zone": zone},
    }
    for section, thing in lonely.items():
        more.setdefault(section, {})[f"lonely {section}"] = thing
    names = {f"lonely {section}" for section in lonely}
    assert verdicts(more, without=names) == verdicts(plain)
