import random

import pytest

from installcheck.analysis.power.feeds import branches
from installcheck.analysis.power.run_currents import run_current
from installcheck.analysis.study import Study
from installcheck.document import loads

TEXT = """
installation: {name: test}
aircraft: {system_voltage: 14 V}
supplies:
  battery: {kind: battery}
  alternator: {kind: alternator, rated_current: 60 A}
  fuse: {kind: current limiter, rating: 80 A}
  alternator breaker: {kind: breaker, rating: 60 A}
  bus: {kind: bus}
  breaker: {kind: breaker, rating: 5 A}
  spare: {kind: breaker, rating: 10 A}
grounds: {airframe: {kind: structure}}
loads:
  lamp: {current: 3 A}
  heater: {power: 28 W}
  unknown load: {}
  radios: {current: 9 A, connected_at: bus}
  starter: {current: 200 A, duty: intermittent}
wire_runs:
  M1: {from: battery.+, to: fuse.in}
  M2: {from: fuse.out, to: bus}
  A1: {from: alternator.+, to: alternator breaker.in}
  A2: {from: alternator breaker.out, to: bus}
  T1: {from: bus, to: breaker.in}
  L1: {from: breaker.out, to: lamp.+}
  L2: {from: breaker.out, to: heater.+}
  T2: {from: bus, to: spare.in}
  S1: {from: battery.+, to: starter.+}
  R1: {from: lamp.-, to: airframe}
  R2: {from: battery.-, to: airframe}
  R3: {from: alternator.-, to: airframe}
  U1: {from: bus, to: unknown load.+}
"""


def study():
    return Study(loads(TEXT))


@pytest.mark.parametrize(
    ("run", "amps"),
    [
        ("L1", 3.0),
        ("L2", 2.0),  # 28 W / 14 V
        ("T1", 5.0),  # 3 + 2
        ("T2", 10.0),  # nothing drawn behind it, so what its protector lets by
        ("A1", 60.0),  # the alternator's rated output
        ("A2", 60.0),
        ("R1", 3.0),
        ("R3", 60.0),
    ],
)
def test_worst_current(run, amps):
    assert run_current(study(), run).value == pytest.approx(amps)


def test_load_of_no_current_is_missing_up_to_the_protector_before_it():
    assert run_current(study(), "U1").missing == ("current of the load",)
    # behind the 80 A limiter the bus carries an unknown load, so all the limiter lets by
    assert run_current(study(), "M1").value == pytest.approx(80)


def test_battery_return_carries_all_loads_or_all_charge():
    text = TEXT.replace("  unknown load: {}\n", "").replace("  U1: {from: bus, to: unknown load.+}\n", "")
    known = Study(loads(text))
    # lamp's return 3 A and the undrawn radios' 9 A against 60 A of charge
    branch = branches(known)["R2", ""]
    assert (branch.load, branch.sources) == (pytest.approx(12), 60)
    assert run_current(known, "R2").value == pytest.approx(60)


def test_starter_stands_apart():
    branch = branches(study())["S1", ""]
    assert (branch.load, branch.starter) == (0, 200)
    assert run_current(study(), "S1").value is None


@pytest.mark.parametrize("seed", range(20))
def test_loads_behind_every_bridge_against_brute_force(seed):
    """A bridge is a run whose loss parts loads from the battery; what it parts is what hangs behind it."""
    rng = random.Random(seed)
    nodes = [f"n{i}" for i in range(12)]
    ends = [(rng.choice(["battery.+", *nodes[:i]]), nodes[i]) for i in range(12)]
    ends += [tuple(rng.sample(nodes, 2)) for _ in range(rng.randrange(5))]
    amps = {node: rng.randrange(1, 9) for node in rng.sample(nodes, 6)}
    text = "installation: {name: random}\nsupplies: {battery: {kind: battery}}\njunctions: {"
    text += ", ".join(f"{n}: {{kind: stud}}" for n in nodes) + "}\nloads: {"
    text += ", ".join(f"load {n}: {{current: {a} A}}" for n, a in amps.items()) + "}\nwire_runs:\n"
    text += "".join(f"  W{i}: {{from: {a}, to: {b}}}\n" for i, (a, b) in enumerate(ends))
    text += "".join(f"  L{n}: {{from: {n}, to: load {n}.+}}\n" for n in amps)
    found = branches(Study(loads(text)))
    for i in range(len(ends)):
        reached, stack = {"battery.+"}, ["battery.+"]
        while stack:
            here = stack.pop()
            for j, (a, b) in enumerate(ends):
                for near, far in ((a, b), (b, a)):
                    if j != i and near == here and far not in reached:
                        reached.add(far)
                        stack.append(far)
        lost = sum(a for node, a in amps.items() if node not in reached)
        parted = any(node not in reached for node in nodes)
        branch = found[f"W{i}", ""]
        assert branch.alone == parted
        if parted:
            assert branch.load == pytest.approx(lost)
        else:
            assert branch.load <= sum(amps.values())


def test_constant_power_is_taken_at_the_lowest_voltage_it_works_down_to():
    text = """
installation: {name: test}
aircraft: {system_voltage: 14 V}
supplies: {bus: {kind: bus}}
loads: {radio: {power: 140 W, min_voltage: 10 V}}
wire_runs: {W: {from: bus, to: radio.+}}
"""
    # 140 W at 10 V: 14 A, and not the 10 A it takes at 14 V
    assert run_current(Study(loads(text)), "W").value == pytest.approx(14)
