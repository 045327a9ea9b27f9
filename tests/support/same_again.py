"""An installation told otherwise, so that every verdict must stay: other order, units, names, more steps of a route, lonely things.

A document is taken as the mapping its text holds.
"""

import copy
from math import isclose

from installations import quantities_of, read

from installcheck import check
from installcheck.model.comparing import SAME
from installcheck.model.kinds import KINDS
from installcheck.model.quantities import in_unit

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
HOLD_IDS = (
    "engines", "zones", "barriers", "operating_points", "senders", "indicators", "probes", "supplies", "loads",
    "grounds", "junctions", "bundles", "wire_runs", "taps", "fittings", "fluid_lines", "survey", "removed",
    "zone_temperatures", "joint_temperatures",
)  # fmt: skip
"""Words under which the keys are ids."""
FREE = (
    "part", "size", "title", "measures", "kind", "medium", "material", "location", "mounted_on", "notes", "label", "phase",
)  # fmt: skip
"""Words whose values are no ids, though one may read like an id."""
REMOVABLE = (
    "senders", "indicators", "probes", "supplies", "loads", "grounds", "junctions", "wire_runs", "fittings", "fluid_lines",
)  # fmt: skip
TELLS_OF_REMOVED = ("port-closed", "deviation-in-order")
"""Rules that ask what a removed thing has left behind, of what it was joined to."""


def judged(plain):
    """What is found of a document."""
    return check(read(plain)).verdicts


def verdicts(found, *, called=lambda ident: ident, without=()):
    """Rule, outcome and item of every verdict but those of things in ``without``; ids renamed by ``called``.

    Where several are equal it is open which is named: beside the item, and of several sources that share a load.
    """
    return sorted(
        (
            v.rule,
            v.outcome.value,
            *(sorted(map(called, v.at)) if v.rule == "source-load" else [called(v.at[0])]),
        )
        for v in found
        if not set(v.at) & set(without)
    )


def figures(found):
    """The same with the figures, the value last but one and the limit last."""
    return sorted(
        (
            v.rule,
            v.outcome.value,
            *(sorted(v.at) if v.rule == "source-load" else v.at[:1]),
            v.unit,
            0.0 if v.value is None else v.value,
            0.0 if v.limit is None else v.limit,
        )
        for v in found
    )


def assert_alike(one, other):
    """The same verdicts, their figures the same to six digits, or to a millionth of the limit: a small difference of two
    solved readings holds no more."""
    assert [v[:-2] for v in one] == [v[:-2] for v in other]
    for a, b in zip(one, other, strict=True):
        assert isclose(a[-1], b[-1], rel_tol=SAME), (a, b)
        assert isclose(a[-2], b[-2], rel_tol=5 * SAME, abs_tol=SAME * abs(a[-1])), (a, b)


def reordered(node, chance, depth=0):
    """Sections, things and words in another order; lists and what is below a word keep theirs."""
    if not isinstance(node, dict) or depth > 2:
        return node
    keys = list(node)
    chance.shuffle(keys)
    return {key: reordered(node[key], chance, depth + 1) for key in keys}


def in_other_units(plain):
    """Every quantity the document itself writes, in another unit."""
    written = copy.deepcopy(plain)
    changed = 0
    for path, quantity in quantities_of(read(plain).installation):
        unit = OTHER_UNIT.get(quantity.kind)
        holder = _held(written, path[:-1])
        if unit is None or holder is None or _held(holder, path[-1:]) != quantity.text:
            continue  # a figure of a part, or of a kind with one unit
        assert unit in KINDS[quantity.kind].units
        holder[path[-1]] = f"{in_unit(float(quantity), unit, quantity.kind):.15g} {unit}"
        changed += 1
    assert changed > 20
    return written


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


def new_names(plain):
    """A renaming of every id, also where it stands before a terminal. A load that is called a starter stays one."""
    idents = {
        ident
        for section, held in plain.items()
        if isinstance(held, dict) and section not in ("installation", "aircraft")
        for ident in held
    }
    new = {ident: f"thing {i}{' starter' * ('starter' in ident)}" for i, ident in enumerate(sorted(idents))}

    def called(text):
        ident, dot, terminal = text.partition(".")
        return new.get(ident, ident) + dot + terminal

    return called


def renamed(node, called, word=""):
    if isinstance(node, dict):
        return {
            (called(key) if word in HOLD_IDS else key): renamed(value, called, key)
            for key, value in node.items()
        }
    if isinstance(node, list):
        return [renamed(value, called, word) for value in node]
    return called(node) if isinstance(node, str) and word not in FREE else node


def with_split_routes(plain):
    """Every length of a route told as two halves."""
    split = copy.deepcopy(plain)
    lengths = [
        (path, quantity)
        for path, quantity in quantities_of(read(plain).installation)
        if path[2:3] == ("route",) and path[-1] == "length"
    ]
    for path, length in reversed(lengths):
        section, ident, _, i, _ = path
        route = split[section][ident]["route"]
        half = {**route[i], "length": f"{in_unit(float(length), 'mm', 'length') / 2:.15g} mm"}
        route[i : i + 1] = [half, dict(half)]
    return split


def with_lonely_things(plain):
    """A few things that join nothing, and their names."""
    more = copy.deepcopy(plain)
    zone = next(iter(plain["zones"]))
    lonely = {
        "senders": {"terminals": ["A", "B"], "zone": zone, "principle": "resistive"},
        "loads": {"terminals": ["+", "-"], "zone": zone, "current": "1 A", "duty": "intermittent"},
        "junctions": {"kind": "terminal block", "terminals": ["1", "2"], "zone": zone},
        "fittings": {"kind": "tee", "ports": ["1", "2", "3"], "zone": zone},
    }
    for section, thing in lonely.items():
        more.setdefault(section, {})[f"lonely {section}"] = thing
    return more, {f"lonely {section}" for section in lonely}


def with_things_taken_out(plain, chance):
    """The document with things marked removed, the same with them deleted, and their names."""
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
    return marked, deleted, gone


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
