"""A split sheet shows all that the whole did, once, and every part says where the rest is."""

from collections import Counter, defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import combinations

import pytest

from installcheck.drawing.ink import Text
from installcheck.drawing.kinds import DeviceKind, JointKind, Outcome
from installcheck.drawing.page import compose
from installcheck.drawing.setting import fits, setting
from installcheck.drawing.sheet import Band, Barrier, Device, Fitting, Mark, Sheet, Terminal, Wire
from installcheck.drawing.split import split_sheet, split_sheets


def require_complete(whole: Sheet, parts: Sequence[Sheet]) -> None:
    assert [part.number for part in parts] == list(range(1, len(parts) + 1))
    assert {part.count for part in parts} == {len(parts)}
    seen = Counter(run.id for part in parts for run in part.runs)
    cut = {joint.label for part in parts for joint in part.joints if joint.kind is JointKind.OFF_SHEET}
    assert set(seen) == {run.id for run in whole.runs}
    assert {run for run, times in seen.items() if times > 1} == cut
    ends = {end for run in whole.runs for end in (run.start, run.end)}
    assert ends <= {t.id for part in parts for d in part.devices for t in d.terminals} | {
        joint.id for part in parts for joint in part.joints
    }
    for kind in ("devices", "blocks", "fittings"):
        shown = {thing.id for part in parts for thing in getattr(part, kind)}
        expected = {thing.id for thing in getattr(whole, kind)}
        if kind == "blocks":
            expected = {block for block in expected if any(joint.block == block for joint in whole.joints)}
        assert shown == expected
    by_number = {part.number: part for part in parts}
    for part in parts:
        for mark in part.marks:
            if mark.listed_on:
                assert any(
                    m.number == mark.number and not m.listed_on for m in by_number[mark.listed_on].marks
                )
    told = {mark.number for part in parts for mark in part.marks if not mark.listed_on}
    assert told == {mark.number for mark in whole.marks}


@pytest.mark.parametrize("wires", [5, 20, 60, 300])
def test_a_fictional_sheet_is_shown_whole(fictional_sheet: Callable[[int], Sheet], wires: int) -> None:
    whole = fictional_sheet(wires)
    require_complete(whole, split_sheet(whole))


@pytest.mark.parametrize("seed", range(40))
def test_a_tangled_sheet_is_shown_whole(
    tangled_sheet: Callable[[int], Sheet], tangled_parts: Callable[[int], list[Sheet]], seed: int
) -> None:
    require_complete(tangled_sheet(seed), tangled_parts(seed))


def test_a_sheet_with_room_is_left_alone(fictional_sheet: Callable[[int], Sheet]) -> None:
    whole = fictional_sheet(5)
    assert split_sheet(whole) == [whole]


def test_wires_of_one_circuit_stay_together(fictional_sheet: Callable[[int], Sheet]) -> None:
    sheets = defaultdict(set)
    for part in split_sheet(fictional_sheet(300)):
        for run in part.runs:
            sheets[run.circuit].add(part.number)
    assert all(len(numbers) == 1 for numbers in sheets.values())


def test_a_shared_device_says_where_else_it_is(fictional_sheet: Callable[[int], Sheet]) -> None:
    parts = split_sheet(fictional_sheet(60))
    on = [part.number for part in parts if any(d.id == "instrument bus" for d in part.devices)]
    assert len(on) > 1
    for part in parts:
        for device in part.devices:
            if device.id == "instrument bus":
                assert device.elsewhere == tuple(number for number in on if number != part.number)
            elif device.kind is DeviceKind.SENDER:
                assert device.elsewhere == ()


def test_several_views_are_numbered_through(fictional_sheet: Callable[[int], Sheet]) -> None:
    parts = split_sheets([fictional_sheet(60), fictional_sheet(5)])
    assert [part.number for part in parts] == list(range(1, len(parts) + 1))
    assert {part.count for part in parts} == {len(parts)}


def wide_sheet(zones: int) -> Sheet:
    """One wire through many zones, with a barrier of long name and a bulky fitting between each two."""
    bands = tuple(Band(f"zone {n}", f"EQUIPMENT COMPARTMENT {n}") for n in range(zones))
    barriers = tuple(Barrier(f"wall {n}", f"PRESSURE BULKHEAD {n}", f"zone {n}") for n in range(zones - 1))
    return Sheet(
        "airframe",
        "one long wire",
        bands,
        barriers=barriers,
        fittings=tuple(Fitting(f"seal {n}", "pressure seal", f"wall {n}") for n in range(zones - 1)),
        devices=(
            Device("sender", DeviceKind.SENDER, "zone 0", ("sender",), (Terminal("sender.A", "A"),)),
            Device("dial", DeviceKind.DIAL, f"zone {zones - 1}", ("dial",), (Terminal("dial.A", "A"),)),
        ),
        wires=(
            Wire(
                "W1",
                "dial.A",
                "sender.A",
                flag=("22 AWG",),
                through=tuple(f"seal {n}" for n in range(zones - 1)),
            ),
        ),
    )


def test_a_wire_through_too_many_zones_is_cut_at_connectors() -> None:
    whole = wide_sheet(14)
    assert not fits(whole)
    parts = split_sheet(whole)
    require_complete(whole, parts)
    assert len(parts) > 1
    assert all(fits(part) for part in parts)
    connectors = [(part.number, joint) for part in parts for joint in part.joints]
    assert len(connectors) == 2 * (len(parts) - 1)
    for number, joint in connectors:
        assert joint.kind is JointKind.OFF_SHEET
        assert joint.label == "W1"
        (other,) = joint.elsewhere
        assert abs(other - number) == 1
    assert sorted(f for part in parts for wire in part.wires for f in wire.through) == sorted(
        fitting.id for fitting in whole.fittings
    )


def test_a_wire_that_comes_back_through_a_barrier_has_it_on_its_sheet() -> None:
    whole = wide_sheet(14)
    back = Wire("W2", "sender.B", "switch.A", crosses=("wall 5",))
    whole = replace(
        whole,
        devices=(
            *(
                d if d.id != "sender" else replace(d, terminals=(*d.terminals, Terminal("sender.B", "B")))
                for d in whole.devices
            ),
            Device("switch", DeviceKind.SUPPLY, "zone 0", ("switch",), (Terminal("switch.A", "A"),)),
        ),
        wires=(*whole.wires, back),
    )
    parts = split_sheet(whole)
    require_complete(whole, parts)
    (on,) = [part for part in parts if back.id in {wire.id for wire in part.wires}]
    assert "wall 5" in {barrier.id for barrier in on.barriers}


def test_verdicts_without_room_go_to_a_list_of_their_own(fictional_sheet: Callable[[int], Sheet]) -> None:
    marks = tuple(Mark(n, Outcome.ADVISORY, f"verdict {n} " + "reason " * 20, "W1") for n in range(1, 201))
    whole = replace(fictional_sheet(5), marks=marks)
    parts = split_sheet(whole)
    require_complete(whole, parts)
    assert parts[-1].is_list
    assert all(fits(part) for part in parts)


def fan(probes: int, text: str = "type K, gasket 14 mm") -> Sheet:
    """Probes that all end at one block, two leads each."""
    names = [f"probe {n}" for n in range(1, probes + 1)]
    devices = [
        Device(n, DeviceKind.PROBE, "engine", (n, text), (Terminal(f"{n}.+", "+"), Terminal(f"{n}.-", "-")))
        for n in names
    ]
    pins = tuple(Terminal(f"block.{n}{leg}", f"{n}{leg}") for n in names for leg in "+-")
    devices.append(Device("block", DeviceKind.OTHER, "panel", ("block",), pins))
    wires = tuple(
        Wire(f"T{k} {leg}", f"{n}.{leg}", f"block.{n}{leg}", flag=("22 AWG",), circuit="heads")
        for k, n in enumerate(names)
        for leg in "+-"
    )
    bands = (Band("engine", "ENGINE"), Band("panel", "PANEL"))
    return Sheet("trainer", "heads", bands, devices=tuple(devices), wires=wires)


def test_a_circuit_that_one_sheet_cannot_hold_is_shared_out_evenly_and_no_probe_is_torn_apart() -> None:
    parts = split_sheet(fan(14))
    require_complete(fan(14), parts)
    shown = [sum(d.kind is DeviceKind.PROBE for d in part.devices) for part in parts]
    assert sum(shown) == 14
    assert len(parts) > 1
    assert max(shown) - min(shown) <= 1
    for part in parts:
        assert Counter(wire.start.rpartition(".")[0] for wire in part.wires).most_common()[-1][1] == 2


def test_a_few_things_that_nothing_joins_get_no_sheet_of_their_own(
    fictional_sheet: Callable[[int], Sheet],
) -> None:
    whole = fictional_sheet(60)
    idle = tuple(Device(f"idle {n}", DeviceKind.OTHER, "panel", (f"idle {n}",), ()) for n in range(2))
    whole = replace(whole, devices=(*whole.devices, *idle))
    parts = split_sheet(whole)
    require_complete(whole, parts)
    assert all(part.runs for part in parts)
    assert len(parts) == len(split_sheet(fictional_sheet(60)))


def test_a_sheet_that_stands_whole_on_another_is_not_drawn_twice(
    fictional_sheet: Callable[[int], Sheet],
) -> None:
    whole = fictional_sheet(5)
    alone = replace(whole, subject="one indication", marks=())
    assert [part.subject for part in split_sheets([whole, alone])] == [whole.subject]
    # Another verdict, or a wire that ends elsewhere, makes it another sheet.
    marked = replace(alone, marks=(Mark(99, Outcome.ADVISORY, "only here", "W1"),))
    assert len(split_sheets([whole, marked])) == 2
    first, *rest = alone.wires
    turned = replace(alone, wires=(replace(first, start=first.end, end=first.start), *rest))
    assert len(split_sheets([whole, turned])) == 2


def test_parts_of_a_sheet_say_which_circuits_they_show(fictional_sheet: Callable[[int], Sheet]) -> None:
    for part in split_sheet(replace(fictional_sheet(60), subject="Whole installation")):
        circuits = {run.circuit for run in part.runs}
        assert part.subject.startswith("Whole installation")
        if 0 < len(circuits) <= 2:
            assert all(circuit in part.subject for circuit in circuits)


def channels(count: int) -> Sheet:
    """Probes through a selector to one gauge, the wires of the probes first."""
    fanned = fan(count, "type K, bayonet, lead 4 ft of its own")
    selector = next(d for d in fanned.devices if d.id == "block")
    out = (Terminal("block.out +", "out +"), Terminal("block.out -", "out -"))
    dial = Device(
        "dial", DeviceKind.DIAL, "panel", ("dial",), (Terminal("dial.+", "+"), Terminal("dial.-", "-"))
    )
    others = tuple(d for d in fanned.devices if d is not selector)
    trunk = tuple(Wire(f"T99 {leg}", f"block.out {leg}", f"dial.{leg}", circuit="heads") for leg in "+-")
    devices = (*others, replace(selector, terminals=(*selector.terminals, *out)), dial)
    return replace(fanned, devices=devices, wires=(*fanned.wires, *trunk))


@pytest.mark.parametrize("count", [8, 10, 12, 16, 18])
def test_probes_of_a_gauge_are_shared_out_evenly_whichever_sheet_the_gauge_is_on(count: int) -> None:
    parts = split_sheet(channels(count))
    require_complete(channels(count), parts)
    shown = [sum(d.kind is DeviceKind.PROBE for d in part.devices) for part in parts]
    assert sum(shown) == count
    assert max(shown) - min(shown) <= 1, shown


def served(circuits: int) -> Sheet:
    """Indicators that are each fed from one bus and grounded at one stud, as are their transmitters."""
    devices = [
        Device("bus", DeviceKind.SUPPLY, "panel", ("bus", "26 V"), (Terminal("bus.1", ""),)),
        Device("stud", DeviceKind.GROUND, "panel", ("stud", "on the frame"), (Terminal("stud.1", ""),)),
    ]
    wires = []
    for n in range(circuits):
        for name, kind, band in (("sender", DeviceKind.SENDER, "engine"), ("dial", DeviceKind.DIAL, "panel")):
            pins = tuple(Terminal(f"{name} {n}.{pin}", pin) for pin in ("S1", "S2", "R1", "R2"))
            devices.append(Device(f"{name} {n}", kind, band, (f"{name} {n}",), pins))
            for pin, rail in (("R1", "bus.1"), ("R2", "stud.1")):
                wires.append(Wire(f"{name[0]}{n}{pin}", f"{name} {n}.{pin}", rail, circuit=f"dial {n}"))
        wires += [
            Wire(f"x{n}{pin}", f"sender {n}.{pin}", f"dial {n}.{pin}", circuit=f"dial {n}")
            for pin in ("S1", "S2")
        ]
    bands = (Band("engine", "ENGINE"), Band("panel", "PANEL"))
    return Sheet("trainer", "synchros", bands, devices=tuple(devices), wires=tuple(wires))


@pytest.mark.parametrize("circuits", [2, 3, 8])
def test_feeds_of_one_indication_do_not_cross_those_of_another(circuits: int) -> None:
    """Of one bus and one stud, each indication would cross all below it: the two are drawn again beside each."""
    whole = served(circuits)
    parts = split_sheet(whole)
    require_complete(whole, parts)
    for part in parts:
        for pieces in setting(part).best[0].grid.pieces:
            for one, other in combinations(pieces, 2):
                crossed = (one.left_y - other.left_y) * (one.right_y - other.right_y) < 0
                assert not crossed or one.run.circuit == other.run.circuit, (one.run.id, other.run.id)


def test_long_advisories_on_a_shared_thing_are_told_once_and_a_discrepancy_on_every_sheet() -> None:
    marks = (
        Mark(1, Outcome.DISCREPANCY, "the stud is loose: " + "word " * 40, "stud"),
        Mark(2, Outcome.ADVISORY, "the stud carries all: " + "word " * 40, "stud"),
        Mark(3, Outcome.ADVISORY, "the stud is of brass", "stud"),
    )
    parts = split_sheet(replace(served(12), marks=marks))
    assert len(parts) > 1
    told = Counter(mark.number for part in parts for mark in part.marks if not mark.listed_on)
    assert told == {1: len(parts), 2: 1, 3: 1}
    first = next(part.number for part in parts if any(m.number == 2 and not m.listed_on for m in part.marks))
    assert {m.listed_on for part in parts for m in part.marks if m.number == 2} == {0, first}
    # What takes no more room than the reference to another sheet would is told again.
    parts = split_sheet(replace(served(12), marks=marks[2:]))
    assert all(not mark.listed_on for part in parts for mark in part.marks)


def test_one_finding_at_several_places_has_one_number_and_one_note(
    fictional_sheet: Callable[[int], Sheet],
) -> None:
    whole = fictional_sheet(5)
    marks = tuple(Mark(1, Outcome.DISCREPANCY, "the breaker is too large", w.id) for w in whole.wires)
    page = compose(replace(whole, marks=marks))
    notes = [ink.text for ink in page.inks if isinstance(ink, Text) and "breaker is too" in ink.text]
    assert notes == ["discrepancy: the breaker is too large"]
    assert sum(isinstance(ink, Text) and ink.text == "1" and ink.bold for ink in page.inks) >= len(marks)


def in_groups(count: int, *groups: tuple[str, ...]) -> Sheet:
    """Probes through a selector to one gauge, of some groups in turn."""
    whole = channels(count)
    turns = {f"probe {n}": groups[n % len(groups)] for n in range(1, count + 1)}
    return replace(whole, devices=tuple(replace(d, group=turns.get(d.id, ())) for d in whole.devices))


def _groups_shown(parts: Sequence[Sheet]) -> list[set[tuple[str, ...]]]:
    return [{d.group for d in part.devices if d.kind is DeviceKind.PROBE} for part in parts]


@pytest.mark.parametrize("count", [12, 16, 20])
def test_probes_are_parted_by_their_groups(count: int) -> None:
    whole = in_groups(count, ("heads", "right"), ("heads", "left"))
    parts = split_sheet(whole)
    require_complete(whole, parts)
    assert len(parts) > 1
    assert all(len(shown) <= 1 for shown in _groups_shown(parts))
    assert len(parts) <= len(split_sheet(channels(count))) + 1


def test_the_wider_word_parts_first() -> None:
    whole = in_groups(12, ("heads", "right"), ("exhausts", "right"), ("heads", "left"), ("exhausts", "left"))
    parts = split_sheet(whole)
    require_complete(whole, parts)
    assert all(len({group[0] for group in shown}) <= 1 for shown in _groups_shown(parts))


def test_groups_of_one_are_no_reason_for_many_sheets() -> None:
    count = 12
    whole = in_groups(count, *((f"sort {n}",) for n in range(count)))
    parts = split_sheet(whole)
    require_complete(whole, parts)
    assert len(parts) <= len(split_sheet(channels(count))) + 1
