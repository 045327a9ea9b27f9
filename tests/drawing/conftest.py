"""Fictional sheets of any size, with everything that a sheet can show."""

from collections.abc import Callable
from functools import cache
from itertools import count
from random import Random

import pytest

from installcheck.drawing.kinds import Change, DeviceKind, JointKind, LineKind, Outcome, Paper, WireKind
from installcheck.drawing.sheet import (
    Band,
    Barrier,
    Block,
    Device,
    Fitting,
    FluidLine,
    Joint,
    Mark,
    Sheet,
    Terminal,
    Wire,
)
from installcheck.drawing.split import split_sheet

CAUTION = (
    "Advice only. This drawing shows a description, not the aircraft: the approved data, the local rules and a "
    "licensed person decide. Check against the aircraft before any work."
)


class SheetBuilder:
    """Adds one indication after another until the sheet has as many wires as asked."""

    def __init__(self, wires: int) -> None:
        self.target = wires
        self.devices: list[Device] = []
        self.joints: list[Joint] = []
        self.blocks: list[Block] = []
        self.wires: list[Wire] = []
        self.lines: list[FluidLine] = []
        self.breakers: list[Terminal] = []
        self.number = count(1)
        self.pin = count(1)

    def device(self, name: str, kind: DeviceKind, band: str, terminals: str, *lines: str) -> str:
        ends = tuple(Terminal(f"{name}.{t}", t) for t in terminals.split())
        self.devices.append(Device(name, kind, band, (name, *lines), ends))
        return name

    def wire(self, start: str, end: str, *flag: str, kind: WireKind = WireKind.PLAIN, **more: object) -> None:
        if len(self.wires) < self.target:
            wire = Wire(f"W{len(self.wires) + 1}", start, end, kind, flag, **more)  # type: ignore[arg-type]
            self.wires.append(wire)

    def pins(self, k: int, how_many: int) -> list[str]:
        names = []
        for _ in range(how_many):
            name = f"P1-{next(self.pin)}"
            self.joints.append(Joint(name, JointKind.PIN, "cabin", name.removeprefix("P1-"), "P1"))
            names.append(name)
        return names

    def power(self, k: int, dial: str) -> None:
        circuit = f"indication {k}"
        breaker = self.device(f"CB{k}", DeviceKind.PROTECTION, "panel", "line load", "1 A")
        self.wire(f"{dial}.power", f"{breaker}.load", "22 AWG", "1 ft 8 in", circuit=circuit)
        self.wire(f"{breaker}.line", "instrument bus.stud", "20 AWG", "8 in", circuit=circuit)
        self.wire(f"{dial}.ground", "panel ground.stud", "22 AWG", "2 ft", circuit=circuit)

    def bulb(self, k: int) -> None:
        circuit = f"indication {k}"
        bulb = self.device(f"oil bulb {k}", DeviceKind.SENDER, "engine", "A B", "nickel 90.38 ohm")
        dial = self.device(
            f"oil temperature {k}", DeviceKind.DIAL, "panel", "A B power ground", "100-250 degF"
        )
        for leg, pin in zip("AB", self.pins(k, 2), strict=True):
            more = {"pair": str(k), "circuit": circuit}
            self.wire(
                f"{bulb}.{leg}", pin, "22 AWG", "5 ft 6 in", kind=WireKind.PAIR, through=("grommet",), **more
            )
            self.wire(pin, f"{dial}.{leg}", "22 AWG", "3 ft", kind=WireKind.PAIR, **more)
        self.power(k, dial)

    def couple(self, k: int) -> None:
        circuit = f"indication {k}"
        probe = self.device(f"head probe {k}", DeviceKind.PROBE, "engine", "+ -", "type K, gasket 14 mm")
        dial = self.device(f"head temperature {k}", DeviceKind.DIAL, "panel", "+ -", "2 ohm loop")
        for leg, metal in (("+", "chromel"), ("-", "alumel")):
            splice = f"SP{k}{leg}"
            self.joints.append(Joint(splice, JointKind.SPLICE, "engine", splice))
            more = {"letters": f"K{leg}", "circuit": circuit, "kind": WireKind.THERMOCOUPLE}
            self.wire(f"{probe}.{leg}", splice, metal, "20 AWG", "1 ft 6 in", **more)
            self.wire(splice, f"{dial}.{leg}", metal, "20 AWG", "8 ft", through=("couple seal",), **more)

    def transducer(self, k: int) -> None:
        circuit = f"indication {k}"
        sender = self.device(
            f"fuel pressure {k}", DeviceKind.SENDER, "engine", "EXC SIG RTN", "0-30 psi", "0.5-4.5 V"
        )
        dial = self.device(
            f"fuel pressure gauge {k}", DeviceKind.DIAL, "panel", "EXC SIG RTN shield power ground"
        )
        more = {"shield": str(k), "circuit": circuit, "through": ("grommet",)}
        for name in ("EXC", "SIG", "RTN"):
            self.wire(f"{sender}.{name}", f"{dial}.{name}", "24 AWG", "7 ft 2 in", **more)
        self.joints.append(Joint(f"open {k}", JointKind.OPEN_END, "engine", "cut back"))
        more = {"circuit": circuit, "through": ("grommet",)}
        self.wire(f"open {k}", f"{dial}.shield", "7 ft", kind=WireKind.SHIELD, **more)
        self.power(k, dial)

    def tachometer(self, k: int) -> None:
        circuit = f"indication {k}"
        maker = self.device(f"tach generator {k}", DeviceKind.SENDER, "engine", "A B C", "three-wire, 2:1")
        dial = self.device(f"tachometer {k}", DeviceKind.DIAL, "panel", "A B C")
        for end, other in zip("ABC", "ACB", strict=True):
            self.wire(
                f"{maker}.{end}", f"{dial}.{other}", "20 AWG", "8 ft", through=("grommet",), circuit=circuit
            )
        self.lines.append(
            FluidLine(
                f"L{k}",
                f"{self.device(f'oil port {k}', DeviceKind.OTHER, 'engine', 'port', '1/8 NPT')}.port",
                f"{self.device(f'oil pressure {k}', DeviceKind.DIAL, 'panel', 'port', 'direct reading')}.port",
                "oil",
                (LineKind.TUBE, LineKind.HOSE, LineKind.CAPILLARY)[k // 4 % 3],
                ("1/8 in copper", "6 ft"),
                ("bulkhead union",),
                circuit,
                Change.REMOVED,
            )
        )

    def build(self) -> Sheet:
        self.device("instrument bus", DeviceKind.SUPPLY, "panel", "stud", "14 V")
        self.device("panel ground", DeviceKind.GROUND, "panel", "stud")
        self.blocks.append(Block("P1", "P1/J1 harness plug", "cabin"))
        makers = (self.bulb, self.couple, self.transducer, self.tachometer)
        while len(self.wires) < self.target:
            k = next(self.number)
            makers[(k - 1) % 4](k)
        used = {end for run in (*self.wires, *self.lines) for end in (run.start, run.end)}
        devices = tuple(d for d in self.devices if any(t.id in used for t in d.terminals))
        joints = tuple(j for j in self.joints if j.id in used)
        return Sheet(
            installation="Fictional four-cylinder trainer, remote indication",
            subject=f"Whole installation, {len(self.wires)} wires",
            caution=CAUTION,
            revision="B",
            date="2031-04-12",
            bands=(
                Band("engine", "ENGINE", "to 250 degF"),
                Band("cabin", "CABIN"),
                Band("panel", "PANEL", "behind the instruments"),
            ),
            barriers=(Barrier("firewall", "FIREWALL", "engine"),),
            fittings=(
                Fitting("grommet", "grommet with fire shield", "firewall"),
                Fitting("couple seal", "fireproof seal", "firewall"),
                Fitting("bulkhead union", "AN832-4 union", "firewall"),
            ),
            devices=devices,
            blocks=tuple(b for b in self.blocks if any(j.block == b.id for j in joints)),
            joints=joints,
            wires=tuple(self.wires),
            lines=tuple(self.lines),
            marks=self.marks(joints),
            notes=("Lengths are along the route, ends included.",),
        )

    def marks(self, joints: tuple[Joint, ...]) -> tuple[Mark, ...]:
        places = [w.id for w in self.wires[::9]] + [d.id for d in self.devices[2::11]] + ["firewall"]
        outcomes = (
            Outcome.DISCREPANCY,
            Outcome.ADVISORY,
            Outcome.UNDETERMINED,
            Outcome.ACCEPTED,
            Outcome.MEETS,
        )
        text = "drop 0.62 V, limit 0.50 V at 14 V; 18 AWG in place of 22 AWG gives 0.25 V (AC 43.13-1B table 11-6)"
        return tuple(
            Mark(number, outcomes[number % 5], f"{place}: {text}", place)
            for number, place in enumerate(places, start=1)
        )


@pytest.fixture(scope="session")
def fictional_sheet() -> Callable[[int], Sheet]:
    """A sheet of the given number of wires."""
    return lambda wires: SheetBuilder(wires).build()


def build_tangled_sheet(seed: int) -> Sheet:
    """A sheet of no sensible design: any kind anywhere, jumpers, long names, foreign letters, crowded verdicts."""
    random = Random(seed)
    bands = tuple(
        Band(f"band {n}", f"ZONE {n} " + "LONG " * random.randint(0, 4)) for n in range(random.randint(1, 7))
    )
    barriers = tuple(
        Barrier(f"barrier {n}", f"BULKHEAD {n}", bands[n].id)
        for n in range(len(bands) - 1)
        for _ in range(random.random() < 0.7)
    )
    fittings = tuple(
        Fitting(
            f"{barrier.id} fitting {n}",
            random.choice(("grommet", "pressure seal with clamp", "é")),
            barrier.id,
        )
        for barrier in barriers
        for n in range(random.randint(1, 3))
    )
    names = (
        "oil",
        "fuel pressure",
        "Öltemperatur °C Ω",
        "漢字 sender",
        "averyveryverylongsinglewordthatmustbecut",
    )
    devices = []
    for number in range(random.randint(2, 14)):
        terminals = tuple(
            Terminal(f"D{number}.{t}", random.choice(("A", "+", "signal ground", "PWR")) + str(t))
            for t in range(random.randint(1, 6))
        )
        lines = (f"{random.choice(names)} {number}", *("0-100 psi, 1/8 NPT",) * random.randint(0, 2))
        kind = random.choice(list(DeviceKind))
        devices.append(
            Device(f"D{number}", kind, random.choice(bands).id, lines, terminals, random.choice(list(Change)))
        )
    blocks = (Block("TB", "terminal block TB", random.choice(bands).id),)
    joints = tuple(
        Joint(f"TB-{n}", JointKind.STUD, blocks[0].band, str(n), "TB") for n in range(random.randint(1, 6))
    ) + tuple(
        Joint(f"SP{n}", random.choice(list(JointKind)[:5]), random.choice(bands).id, f"splice {n}")
        for n in range(random.randint(0, 5))
    )
    ends = [t.id for device in devices for t in device.terminals] + [joint.id for joint in joints]
    order = {band.id: n for n, band in enumerate(bands)}
    home = {t.id: order[d.band] for d in devices for t in d.terminals} | {j.id: order[j.band] for j in joints}

    def through(start: str, end: str) -> tuple[str, ...]:
        low, high = sorted((home[start], home[end]))
        crossed = [b.id for b in barriers if low <= order[b.after] < high]
        return tuple(random.choice([f.id for f in fittings if f.barrier == name]) for name in crossed)

    wires = []
    for number in range(random.randint(1, 60)):
        start, end = random.choice(ends), random.choice(ends)
        if start != end:
            kind = random.choice(list(WireKind))
            pair = str(number // 2) if random.random() < 0.3 else ""
            shield = str(number // 3) if random.random() < 0.2 else ""
            flag = ("22 AWG", "12 ft 6 in")[: random.randint(0, 2)]
            wires.append(
                Wire(
                    f"W{number}", start, end, kind, flag, through(start, end), "K+", pair, shield, "",
                    random.choice(list(Change)),
                )
            )  # fmt: skip
    lines = []
    for number in range(random.randint(0, 4)):
        start, end = random.choice(ends), random.choice(ends)
        if start != end:
            kind = random.choice(list(LineKind))
            lines.append(FluidLine(f"L{number}", start, end, "fuel", kind, ("1/4 in",), through(start, end)))
    targets = [
        "",
        "nowhere",
        *order,
        *(b.id for b in barriers),
        *(f.id for f in fittings),
        *ends,
        "D1",
        "TB",
        "W0",
    ]
    marks = tuple(
        Mark(
            n,
            random.choice(list(Outcome)),
            f"verdict {n} " + "with its reason " * random.randint(0, 9),
            target,
        )
        for n, target in enumerate(random.choices(targets, k=random.choice((0, 3, 20, 90))), start=1)
    )
    return Sheet(
        installation="Tangled " * random.randint(1, 30),
        subject=f"Tangle {seed}",
        bands=bands,
        caution=CAUTION,
        paper=random.choice(list(Paper)),
        barriers=barriers,
        fittings=fittings,
        devices=tuple(devices),
        blocks=blocks,
        joints=joints,
        wires=tuple(wires),
        lines=tuple(lines),
        marks=marks,
        notes=("A note.",) * random.randint(0, 2),
    )


@pytest.fixture(scope="session")
def tangled_sheet() -> Callable[[int], Sheet]:
    """A sheet of no sensible design, by number."""
    return build_tangled_sheet


@pytest.fixture(scope="session")
def tangled_parts() -> Callable[[int], list[Sheet]]:
    """The sheets that a sheet of no sensible design is split into, by its number; each is split once."""
    return cache(lambda seed: split_sheet(build_tangled_sheet(seed)))


HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "]]><![CDATA[ & &amp; &#60; <!-- -->",
    'quote " and backslash \\ and \\" both\\',
    "\\N \\G \\L %s {0} ${x}",
    "<b>html-like</b>",
    "javascript:alert(1)",
    "a\x00b\x1b[31m\u202ec",
    "node:port:n, [label=x]; } digraph {",
]


def build_hostile_sheet(text: str) -> Sheet:
    return Sheet(
        installation=text,
        subject=text,
        bands=(Band(f"band {text}", text, text),),
        caution=text,
        revision=text,
        date=text,
        devices=(
            Device(
                f"D1{text}", DeviceKind.SENDER, f"band {text}", (text, text), (Terminal(f"D1.{text}", text),)
            ),
            Device(f"D2{text}", DeviceKind.DIAL, f"band {text}", (text,), (Terminal(f"D2.{text}", text),)),
        ),
        wires=(Wire(text, f"D1.{text}", f"D2.{text}", flag=(text,), letters="K+", pair="1", circuit=text),),
        marks=(Mark(1, Outcome.DISCREPANCY, text, text),),
        notes=(text,),
    )


@pytest.fixture(params=range(len(HOSTILE)))
def hostile_sheet(request: pytest.FixtureRequest) -> Sheet:
    """A sheet whose every text tries to be something else."""
    return build_hostile_sheet(HOSTILE[request.param])
