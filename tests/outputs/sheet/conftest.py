"""Fictional sheets of any size, with everything that a sheet can show."""

from collections.abc import Callable
from itertools import count

import pytest

from installcheck.outputs.sheet import (
    Band,
    Barrier,
    Block,
    Change,
    Device,
    DeviceKind,
    Fitting,
    FluidLine,
    Joint,
    JointKind,
    LineKind,
    Mark,
    Outcome,
    Sheet,
    Terminal,
    Wire,
    WireKind,
)

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
