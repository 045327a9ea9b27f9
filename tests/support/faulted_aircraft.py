"""Aircraft with one fault, made by editing their documents, and what a person would read on them.

A way of its own beside the tracer: the fault is written into the document (a wire is taken out, a resistor laid in, a part
exchanged), the document is read and solved afresh, and ohms come from a matrix of this module's own. Nothing of
``installcheck.tracing`` predicts here.
"""

from __future__ import annotations

import copy
import random
from dataclasses import dataclass, field, replace
from typing import Any

import networkx as nx
import numpy as np
from installations import Plain, demo, read

from installcheck.analysis.circuit.solved import Circuit, solve_circuit
from installcheck.analysis.errors.indicated import readers
from installcheck.analysis.errors.reading import curve_read
from installcheck.analysis.errors.reading import read as read_meter
from installcheck.analysis.sender_curves import falls, kind_of, output, output_kind
from installcheck.analysis.sender_curves import shown as shown_for
from installcheck.analysis.study import Point, Study
from installcheck.model.quantities import Quantity
from installcheck.physics.bulbs import temperature_range_c
from installcheck.physics.network_parts import Branch, Network
from installcheck.physics.networks import solve
from installcheck.physics.scale import OffScaleError
from installcheck.tracing.channels import channels
from installcheck.tracing.following import lead_points, supply_points
from installcheck.tracing.looks import (
    STOPPED,
    Answers,
    Compared,
    Followed,
    Holding,
    Insulated,
    Look,
    Marked,
    Observation,
    Ohms,
    Result,
    Rung,
    Setup,
    Shaken,
    Show,
    TrueValue,
    Volts,
)
from installcheck.tracing.marking import parts_of
from installcheck.tracing.states import stopped, usual

BRANCH = 0.001


@dataclass
class Fault:
    """One fault: its kind and place as the tracer names them, the edit that makes it, and what it does beside that; the two wires
    that touch each other.
    """

    kind: str
    at: tuple[str, ...]
    edit: Any = None
    of: str = ""
    offset: float = 0.0
    share: float = 1.0
    element: float | None = None
    erratic: tuple[str, ...] = ()
    other: dict[str, str] = field(default_factory=dict)
    wires: tuple[str, ...] = ()


class CannotPlayError(Exception):
    """A fault of which this module cannot tell what is seen."""


@dataclass
class Aircraft:
    """An aircraft with a fault, ready to be looked at; tolerances and noise fall by chance."""

    plain: Plain
    fault: Fault
    chance: random.Random
    sound: Study = None  # type: ignore[assignment]
    study: Study = field(init=False)

    def __post_init__(self) -> None:
        if self.sound is None:
            self.sound = Study(read(self.plain))
        self.study = self.sound
        if self.fault.edit is not None:
            edited = copy.deepcopy(self.plain)
            self.fault.edit(edited)
            self.study = Study(read(edited))
        self.errors: dict[str, float] = {}
        self._stir = ("", 0.0)
        self._nets: dict[Any, Circuit] = {}
        self._driven: set[str] = set()

    def error(self, name: str, most: float, *, even: bool = True) -> float:
        """A tolerance of this aircraft: the same whenever it is asked for."""
        if name not in self.errors:
            self.errors[name] = self.chance.uniform(-most, most) if even else self.chance.gauss(0, most)
        return self.errors[name]

    def look(self, at: Setup, look: Look) -> Observation:
        """What a person reads."""
        return Observation(at, look, self._result(at, look), f"{look} seen")

    def _result(self, at: Setup, look: Look) -> Result:
        if isinstance(look, Show):
            return self._shown(at, look)
        if isinstance(look, Ohms):
            ohms = self._ohms(at, look)
            if ohms > 2e7:
                return Result(word="open", text="open")
            return Result(
                max(0.0, ohms * (1 + self.chance.gauss(0, 0.006)) + self.chance.uniform(0, 0.1)),
                None,
                "ohm",
                "resistance",
            )
        if isinstance(look, Volts):
            if at.lifted and self.fault.kind in ("leads exchanged", "cavities shifted"):
                raise CannotPlayError("volts of a lead that is another than drawn")
            net = self._net(at) if not at.lifted or self._gives_volts(at) else self._with_lifted(at)
            value = self._across(look, self._volts(net, at, look))
            small = abs(value) < 0.2
            return Result(
                value * (1 + self.chance.gauss(0, 0.006)) + self.chance.gauss(0, 0.0003 if small else 0.01),
                None,
                "V",
                "voltage",
            )
        if isinstance(look, TrueValue) and look.at_port and self.fault.kind == "restrictor missing":
            return Result(word="erratic", text="jumping")
        if isinstance(look, TrueValue) and look.at_port:
            true = self._true(at, look.source)
            own = self.fault.kind == "sender drifted"  # it is the sender that is off, not what arrives at it
            there = self.fault.other.get(look.source)
            if there is not None:
                return Result(self._scaled(self._true(at, there), there, look.source), None, "", "")
            return Result(true if own else self._felt(at, look.source, true), None, "", "")
        if isinstance(look, TrueValue):
            return Result(
                self._true(at, look.source) + self.chance.gauss(0, 0.002) * self._span(look.source),
                None,
                "",
                "",
            )
        if isinstance(look, Holding):
            word = {
                "line leaking": "falls",
                "hose off": "falls",
                "line blocked": "still",
                "hoses exchanged": "still",
            }.get(self.fault.kind, "holds")
            return Result(word=word, text=word)
        if isinstance(look, Shaken):
            if self.fault.kind == "loose joint":
                return Result(word="erratic", text="jumping", at=self.fault.at[0])
            return Result(word="still", text="still")
        if isinstance(look, Marked):
            word = "wrong" if self._is_marked(look.thing) else "right"
            return Result(word=word, text=word, at=self._misplaced(look.thing) if word == "wrong" else "")
        if isinstance(look, Compared):
            channel = next(c for c in channels(self.sound) if str(c.show) == look.name)
            wrong = [t for t in parts_of(self.sound, channel) if self._is_marked(t)]
            names = sorted({n for t in wrong for n in (self._misplaced(t) or t).split(" and ")})
            word = "wrong" if names else "right"
            return Result(word=word, text=word, at=" and ".join(names))
        if isinstance(look, Insulated):
            if self.fault.kind in ("short to ground", "short to supply"):
                return Result(word="wrong", text="wrong", at=self.fault.at[0])
            if self.fault.wires:
                return Result(word="wrong", text="wrong", at=" and ".join(sorted(self.fault.wires)))
            return Result(word="right", text="right")
        if isinstance(look, Followed):
            return self._followed(at, look)
        if isinstance(look, Rung):
            return self._rung(at, look)
        assert isinstance(look, Answers)
        return Result(word=self._moves(look), text="")

    def _volts(self, net: Circuit, at: Setup, look: Volts) -> tuple[float | None, float | None]:
        """Volts of two nodes, the sender that is at fault giving what it gives."""
        drawn = [
            e
            for t in at.lifted
            for e in self.sound.graph.at(t)
            if look.a in (e.a, e.b) and e.kind == "conductor"
        ]
        lead = (
            "lifted 0" if drawn and "lifted 0" in net.nodes else look.a
        )  # of a lifted lead, its end is read
        named, look = look, Volts(lead, look.b)
        of, volts = self.fault.of, (net.voltage(look.a), net.voltage(look.b))
        through = tuple(
            self._through_sender(net, at, node, self._through_gauge(net, node, held))
            for node, held in zip((named.a, named.b), volts, strict=True)
        )
        if through != volts:
            return through
        of = next((source for source, _ in at.known if source in net.senders), of)
        one = net.senders.get(of)
        if None in volts or one is None or one.curve is None or of not in self.sound.model.senders:
            return volts
        felt = self._felt(at, of, self._true(at, of))
        out = self._output(net, at, of, felt)
        if out >= 1e8 and at.lifted:  # the end of a lead that goes nowhere
            return tuple(None if n == lead else v for n, v in zip((look.a, look.b), volts, strict=True))  # type: ignore[return-value]
        v = self._with_output(net, of, out)
        return tuple(float(v[net.nodes[n]]) for n in (look.a, look.b))  # type: ignore[return-value]

    def _through_gauge(self, net: Circuit, node: str, held: float | None) -> float | None:
        """V of a node; a supply terminal that nothing holds stands, through the gauge, where the other one does."""
        ident = node.partition(".")[0]
        one = self.sound.model.indicators.get(ident)
        ends = [f"{ident}.{t}" for t in (one.spec.supply_terminals or ())] if one else []
        if node not in ends or held is not None:
            return held
        return net.voltage(next(n for n in ends if n != node))

    def _through_sender(self, net: Circuit, at: Setup, node: str, held: float | None) -> float | None:
        """V of a node; a lifted lead in no circuit stands, through its resistive sender, where the body of that does."""
        sender = node.partition(".")[0]
        if held is not None or sender not in self.sound.model.senders or self.fault.kind == "sender open":
            return held
        graph = self._lifted_study(at).graph
        joined = nx.Graph((e.a, e.b) for e in graph.edges if e.kind in ("conductor", "joint") and e.closed)
        if "lifted 0" not in joined or node not in nx.node_connected_component(joined, "lifted 0"):
            return held
        through = (e.b if e.a == node else e.a for e in graph.at(node) if e.kind == "element")
        return next((v for other in through if (v := net.voltage(other)) is not None), None)

    def _across(self, look: Volts, volts) -> float:
        """Volts between two nodes; across a battery that nothing else holds, its own."""
        ident = look.a.partition(".")[0]
        supply = self.study.model.supplies.get(ident)
        if None not in volts and not any(v != v for v in volts):
            return volts[0] - volts[1]
        if supply is None or look.b != f"{ident}.-" or ident in self._dead():
            return 0.0
        return float(supply.spec.voltage)

    def _is_marked(self, thing: str) -> bool:
        """Whether the marks of a thing give the fault away."""
        fault = self.fault
        if fault.kind in ("wrong sender", "probe wrong type", "lead of wrong metal"):
            return fault.at[0] == thing or ("lead" in fault.at and thing in self.study.model.wire_runs)
        if fault.kind == "wrong gauge":
            return f"{fault.at[0]} ".startswith(f"{thing} ")
        if fault.kind in ("leads exchanged", "cavities shifted"):
            sound, now = self.sound.graph, self.study.graph
            return (
                any(
                    {e.label for e in sound.at(n) if e.kind == "conductor"}
                    != {e.label for e in now.at(n) if e.kind == "conductor"}
                    for n in sound.nodes
                    if n.partition(".")[0] == thing and n in now.nodes
                )
                or fault.at[0] == thing
            )
        return False

    def _misplaced(self, thing: str) -> str:
        """The wires that a person finds at another terminal of a thing than drawn."""
        if self.fault.kind not in ("leads exchanged", "cavities shifted"):
            return ""
        now, sound = self.study.graph, self.sound.graph
        found: set[str] = set()
        for node in now.nodes:
            if node.partition(".")[0] == thing:
                drawn = {e.label for e in sound.at(node)} if node in sound.nodes else set()
                found |= {e.label for e in now.at(node) if e.kind == "conductor"} - drawn
        return " and ".join(sorted(found))

    def _followed(self, at: Setup, look: Followed) -> Result:
        """The first point of a supply, from its bus and then from the structure, that has a tenth less than it should."""
        ground = next(i for i, g in self.sound.model.grounds.items() if g.kind == "structure")
        net, sound = self._net(at), self._net_of_sound(at)
        feed, home = supply_points(self.sound, look.indicator)
        most = max(sound.voltage(n) - sound.voltage(ground) for n in feed)
        for node in (*feed, *home):
            has = self._across(Volts(node, ground), self._volts(net, at, Volts(node, ground)))
            has *= 1 + self.chance.gauss(0, 0.006)
            if abs(has - (sound.voltage(node) - sound.voltage(ground))) > 0.1 * most:
                return Result(word="lost", text="lost", at=node)
        return Result(word="right", text="right")

    def _rung(self, at: Setup, look: Rung) -> Result:
        """The first point of each lead to which it does not ring, or reads an ohm and a tenth above what it is drawn with."""
        channel = next(c for c in channels(self.sound) if str(c.show) == look.name)
        lost = []
        ways = lead_points(self.sound, channel)
        turned = frozenset((e.a, e.b) for way in ways for e, _, _ in way if e.kind == "contact")
        for way in ways:
            start = way[0][1]
            for _, _, far in way:
                drawn = self._sound_one._ohms(at, Ohms(start, far), turned)
                has = self._ohms(at, Ohms(start, far), turned) * (1 + self.chance.gauss(0, 0.006))
                if has > 1.1 * drawn + 1.0 + self.chance.uniform(0, 0.05):
                    lost.append(far)
                    break
        if not lost:
            return Result(word="right", text="right")
        return Result(word="lost", text="lost", at=" and ".join(dict.fromkeys(lost)))

    @property
    def _sound_one(self) -> Aircraft:
        return Aircraft(self.plain, Fault("none", ()), random.Random(0), self.sound)

    def _moves(self, look: Answers) -> str:
        """Whether the pointer follows what one sender or probe is made to feel."""
        name, _, position = look.name.partition(" at ")
        show = Show(name, position or None)
        base, span, middle = (
            self._true(Setup(STOPPED), look.source),
            self._span(look.source),
            self._middle(look.source),
        )
        by = middle - base if abs(middle - base) >= 0.2 * span else 0.2 * span
        reader = next(r for r in readers(self.sound) if look.source in (*r.sources, r.ident))
        if len(reader.sources) > 1:
            raise CannotPlayError(f"{look.source} alone of those that are read as one")
        if "temperature" in (reader.measure or ""):
            by = min(by, 100.0)
        seen = []
        for self._stir in ((look.source, 0.0), (look.source, by)):
            seen.append(self._shown(Setup(STOPPED), show))
        self._stir = ("", 0.0)
        one, other = seen
        if one.value is not None and other.value is not None:
            return "moves" if abs(one.value - other.value) > abs(by) / 3 else "still"
        return "still" if one.word == other.word else "moves"

    def _middle(self, source: str) -> float:
        reader = next(r for r in readers(self.sound) if source in (*r.sources, r.ident))
        dial = reader.spec.scale
        return (float(dial.lowest) + float(dial.highest)) / 2 if dial is not None else 0.0

    def _reader(self, look: Show, study: Study):
        found = [r for r in readers(study) if r.name == look.name]
        if look.position is not None:
            for one in study.indications:
                if one.name == look.name and one.position == look.position:
                    return next((r for r in found if r.source == one.source), None)
            return None
        return found[0] if found else None

    def _span(self, source: str) -> float:
        reader = next((r for r in readers(self.sound) if source in (*r.sources, r.ident)), None)
        dial = reader.spec.scale if reader is not None else None
        return float(dial.highest) - float(dial.lowest) if dial is not None else 1.0

    def _true(self, at: Setup, source: str) -> float:
        reader = next((r for r in readers(self.sound) if source in (*r.sources, r.ident)), None)
        point = self._point(self.sound, at)
        if source in dict(at.known) and at.point == STOPPED:
            return dict(at.known)[source] + self.chance.gauss(0, 0.002) * self._span(source)
        if source in dict(at.bathed):
            return dict(at.bathed)[source] + self.error("bath", 0.7, even=False)
        if reader is None:  # a switch, which nobody reads: felt through exchanged hoses
            said = point.reading(self.sound.model.senders[source].spec.measures)
            if said is None:
                raise CannotPlayError(source)
            return float(said)
        said = point.reading(reader.measure)
        if reader.measure in ("bus voltage", "load current") and (said is None or at.point == STOPPED):
            sound = solve_circuit(self.sound, point)
            said = self._carried(sound, reader)
        if said is None:
            limit = reader.limit
            dial = reader.spec.scale
            said = (
                (limit.normal_high or limit.maximum)
                if limit is not None
                else (dial.lowest + dial.highest) / 2
            )
        value = float(said)
        cold = at.point == STOPPED
        warm = reader.measure is not None and "temperature" in reader.measure
        drift = self.error(
            f"truth {source} {at.point}",
            (3.0 if warm else 0.0) if cold else 0.02 * self._span(source),
            even=False,
        )
        moved = (
            self.fault.offset
            if self.fault.kind == "true reading" and source in (self.fault.of, *self.fault.at) and not cold
            else 0.0
        )
        return value + drift + moved + (self._stir[1] if self._stir[0] == source else 0.0)

    def _scaled(self, value: float, source: str, there: str) -> float:
        """A pressure read through a line of another: in hPa absolute it is the same, whatever the dial."""
        measures = [
            next((r.measure for r in readers(self.sound) if s in (*r.sources, r.ident)), None)
            or self.sound.model.senders.get(s).spec.measures
            for s in (source, there)
        ]
        if measures[0] == measures[1] or not {"manifold pressure", "vacuum"} & set(measures):
            return value
        absolute = {"manifold pressure": value, "vacuum": 101325 - value}.get(measures[0], 101325 + value)
        return {"manifold pressure": absolute, "vacuum": 101325 - absolute}.get(
            measures[1], absolute - 101325
        )

    def _carried(self, net: Circuit, reader) -> float:
        """V of the bus, or A through the shunt, in a sound aircraft."""
        if reader.measure == "bus voltage":
            return net.voltage(reader.source) or 0.0
        edge = next(e for e in net.study.graph.edges if e.ident == reader.source and e.kind == "spool")
        return abs(net.current(edge) or 0.0)

    def _point(self, study: Study, at: Setup) -> Point:
        if at.point == STOPPED:
            point = stopped(study)
        else:
            named = at.point or usual(study).name
            point = next(p for p in study.points if p.name == named)
        if at.loads:
            from installcheck.tracing.states import with_loads

            point = with_loads(study, point, at.loads)
        return point

    def _net(self, at: Setup) -> Circuit:
        key = (at.point, at.loads)
        if key not in self._nets:
            self._nets[key] = self._solved(self.study, self._point(self.study, at))
        return self._nets[key]

    def _gives_volts(self, at: Setup) -> bool:
        """Whether a lead is the signal of a transducer, whose volts a high input does not move."""
        for one in self.sound.indications:
            curve = curve_read(self.sound, one) if one.section == "senders" else None
            names = one.spec.terminals or ()
            signal = names[1] if len(names) > 2 else names[0] if names else ""
            if (
                curve is not None
                and output_kind(curve) == "voltage"
                and at.lifted == (f"{one.indicator}.{signal}",)
            ):
                return True
        return False

    def _with_lifted(self, at: Setup) -> Circuit:
        """The network with the wires of a terminal taken off it, still joined to each other."""
        key = (at.point, at.loads, at.lifted, at.joined)
        if key not in self._nets:
            study = self._lifted_study(at)
            self._nets[key] = self._solved(study, self._point(study, at))
        return self._nets[key]

    def _lifted_study(self, at: Setup) -> Study:
        edited = copy.deepcopy(self.plain)
        if self.fault.edit is not None:
            self.fault.edit(edited)
        for number, terminal in enumerate(at.lifted):
            stud = f"lifted {number}"
            edited.setdefault("junctions", {})[stud] = {"kind": "stud"}
            for held in edited["wire_runs"].values():
                for holder in (held, *(held.get("conductors") or {}).values()):
                    for end in ("from", "to"):
                        if str(holder.get(end)) == terminal:
                            holder[end] = stud
        for number, (a, b, ohms) in enumerate(at.joined):
            lay(edited, f"test {number}", a, b, max(ohms, BRANCH))
        return Study(read(edited))

    def _net_of_sound(self, at: Setup) -> Circuit:
        return solve_circuit(self.sound, self._point(self.sound, at), carried=True)

    def _solved(self, study: Study, point: Point) -> Circuit:
        """The network, protectors opened that carry more than they are made for, the worst first."""
        opened: list[str] = []
        overrun: list[str] = []
        while True:
            net = self._regulated(
                self._as_true(
                    solve_circuit(study, point, dead=(*self._dead(), *overrun), opened=opened, carried=True),
                    point,
                )
            )
            if not self.fault.kind.startswith("short"):
                return self._browned(net, point)
            asked = {
                e.ident: abs(net.current(e) or 0.0)
                for e in study.graph.edges
                if e.kind == "supply"
                and e.ident not in overrun
                and study.model.supplies[e.ident].spec.rated_current is not None
                and study.model.supplies[e.ident].spec.kind != "battery"
                and abs(net.current(e) or 0.0) > float(study.model.supplies[e.ident].spec.rated_current)
            }
            through = {
                e.ident: abs(net.current(e) or 0.0)
                for e in study.graph.edges
                if e.kind == "contact"
                and e.section == "supplies"
                and e.ident not in opened
                and study.model.supplies[e.ident].spec.rating is not None
            }
            if asked:
                # What carries all of an alternator and is rated below what that can give opens; else its voltage
                # collapses, and no protector sees more of it.
                most = {i: float(study.model.supplies[i].spec.rated_current) for i in asked}
                own = [
                    p
                    for p, amps in through.items()
                    for i, given in asked.items()
                    if abs(amps - given) < 0.05 * given
                    and float(study.model.supplies[p].spec.rating) < most[i]
                ]
                if own:
                    opened.append(own[0])
                    overrun.clear()
                else:
                    overrun += asked
                continue
            carried = {p: amps / float(study.model.supplies[p].spec.rating) for p, amps in through.items()}
            worst = max(carried, key=carried.__getitem__, default=None)
            if worst is None or carried[worst] <= 1.0:
                return net
            if carried[worst] < 2.0:
                raise CannotPlayError(f"{worst} may open or not")
            opened.append(worst)
            overrun.clear()  # what is cleared lets the alternator hold its voltage again

    def _browned(self, net: Circuit, point: Point) -> Circuit:
        """The network with each gauge or load that has too little voltage taking what a resistor takes of it.

        The resistor of a gauge is that of its lowest working voltage by its current, that of a load its usual one by its. A
        battery that rests joins in where what is left stands below its own voltage, and gives each draw its current again.
        """
        sound = solve_circuit(self.sound, point, carried=True)
        drawn = sound.solution.network
        usual = {
            (e.section, e.ident): float(
                sound.solution.voltage[drawn.draw_start[n]] - sound.solution.voltage[drawn.draw_end[n]]
            )
            for n, e in enumerate(sound.draw_edge)
            if e is not None
        }
        bare, browned = net.solution.network, set()
        resting = [
            k
            for e, k in net.branch_of.items()
            if e.kind == "supply" and e.ident in net.resting and bare.is_open[k]
        ]
        while True:
            network, v = net.solution.network, net.solution.voltage
            low = [k for k in resting if v[bare.end[k]] - v[bare.start[k]] < bare.emf[k] - 0.01]
            if low and browned:
                is_open = bare.is_open.copy()
                is_open[low] = False
                bare = replace(bare, is_open=is_open)
                resting = [k for k in resting if k not in low]
                browned = set()
                net = replace(net, solution=solve(bare))
                continue
            worst = None
            for number, e in enumerate(net.draw_edge):
                had = usual.get((e.section, e.ident), 0.0) if e is not None else 0.0
                if e is None or e.section not in ("indicators", "loads") or number in browned or not had >= 1:
                    continue
                one, other = int(network.draw_start[number]), int(network.draw_end[number])
                least, amps = 0.65 * had, float(network.draw_value[number])
                ohms = had / amps if amps > 0 else 0.0
                if e.section == "indicators":
                    span = self.study.model.indicators[e.ident].spec.supply_voltage
                    if span is not None and span.lowest.kind == "voltage":
                        least = min(float(span.lowest), 0.98 * had)
                    ohms = least / amps if amps > 0 else 0.0
                across = v[one] - v[other]
                short = amps > 0 and across > 0 and (number in net.solution.unsupplied or across < least)
                if short and (worst is None or amps > worst[3]):
                    worst = number, one, other, amps, ohms
            if worst is None:
                return net
            number, one, other, _, ohms = worst
            browned.add(number)
            drawn = network.draw_value.copy()
            drawn[number] = 0.0
            net = replace(
                net, solution=solve(replace(network, draw_value=drawn).with_branch(Branch(one, other, ohms)))
            )

    def _regulated(self, net: Circuit) -> Circuit:
        """The network with the feeds of transducers giving nothing where they are driven, for a regulator takes no current in, or
        shorted, for it gives no more than some ampere."""
        network, v = net.solution.network, net.solution.voltage
        driven, spent = [], False
        for node, number in net.outlets.items():
            if number is None:
                continue
            given = v[network.start[number]] - v[network.end[number]] + network.emf[number]
            if given / max(float(network.resistance[number]), 1e-9) < -1e-3:
                driven.append(number)
                self._driven.add(node.partition(".")[0])
            elif given / max(float(network.resistance[number]), 1e-9) > 1.0:
                driven.append(number)
                spent = True
        if not driven:
            return net
        solution = solve(network.with_open(driven))
        if not spent:
            return replace(net, solution=solution)
        v, emf = np.nan_to_num(solution.voltage), network.emf.copy()
        for one in net.followers:  # what a transducer gives follows what it is fed with
            emf[one.branch] *= max(0.0, float(v[one.plus] - v[one.minus])) / one.nominal
        return replace(net, solution=solve(replace(solution.network, emf=emf)))

    def _dead(self) -> tuple[str, ...]:
        return self.fault.at if self.fault.kind == "dead supply" else ()

    def _shown(self, at: Setup, look: Show) -> Result:
        fault = self.fault
        if at.swapped is not None and fault.of in at.swapped and fault.kind in OF_SOURCE:
            return self._with_spare(f"sender {fault.of}")._shown(Setup(at.point, at.loads), look)
        if (
            at.swapped is not None
            and at.swapped[1] == ""
            and look.name.startswith(at.swapped[0])
            and fault.at[:1] == (look.name,)
            and fault.kind in OF_GAUGE
        ):
            return self._with_spare(f"gauge {look.name}")._shown(Setup(at.point, at.loads), look)
        reader = self._reader(look, self.sound)
        if reader is None:
            return Result(word="right", text="right")
        read = self._exchanged(at, look)
        name, dial = look.name, reader.spec.scale
        span = float(dial.highest) - float(dial.lowest) if dial is not None else 100.0
        if fault.kind == "gauge dead" and fault.at == (name,):
            return Result(word="dead", text="nothing")
        if {name, str(look)} & set(fault.erratic) and at.point != STOPPED:
            return Result(word="erratic", text="jumping")
        there = self._reader(read, self.sound)
        source = there.ident if there.spec.principle == "direct pressure" else there.source
        other = (
            {} if self._stir[0] == source else fault.other
        )  # what is put on it by hand comes through no hose
        true = self._true(at, other.get(source, source))
        if source in other:
            true = self._scaled(true, fault.other[source], source)
        word, value = self._reading(at, read, there, source, true)
        if (
            word in ("off scale high", "off scale low")
            and fault.kind == "gauge drifted"
            and fault.at == (name,)
        ):
            word, value = None, float(dial.highest if word.endswith("high") else dial.lowest)
        if fault.kind == "gauge stuck" and fault.at == (name,):
            word, value = None, fault.offset
        if value is not None:
            if fault.kind == "gauge drifted" and fault.at == (name,):
                value += fault.offset
            gauge = float(reader.spec.accuracy) if reader.spec.accuracy is not None else 0.02 * span
            value += self.error(f"gauge {name}", gauge) + self.chance.gauss(0, 0.004 * span)
            if dial is not None and value > float(dial.highest):
                word, value = "off scale high", None
            elif dial is not None and value < float(dial.lowest):
                word, value = "off scale low", None
        return Result(
            value,
            word,
            dial.highest.unit if dial is not None else "",
            dial.highest.kind if dial is not None else "",
            word or "",
        )

    def _exchanged(self, at: Setup, look: Show) -> Show:
        """The indication whose leads end at the terminals of another for the test."""
        one, other = at.swapped or ("", "")
        if str(look) not in (one, other):
            return look
        wanted = other if str(look) == one else one
        return next(
            (
                Show(i.name, i.position)
                for i in self.sound.indications
                if str(Show(i.name, i.position)) == wanted
            ),
            look,
        )

    def _with_spare(self, part: str) -> Aircraft:
        """The same aircraft with another gauge or sender, sound and with a tolerance of its own."""
        made = Aircraft(self.plain, Fault("none", ()), self.chance, self.sound)
        made.errors = {name: error for name, error in self.errors.items() if name != part}
        return made

    def _felt(self, at: Setup, source: str, true: float) -> float:
        fault = self.fault
        if fault.of != source:
            return true
        seated = source not in dict(at.bathed) and source not in dict(at.known)
        if seated and fault.kind in ("probe badly seated", "probe heated", "line leaking", "hose off"):
            around = self._around(at, source)
            return around + fault.share * (true - around)
        moved = fault.kind == "sender drifted" or (seated and fault.kind == "line holds liquid")
        return true + fault.offset if moved else true

    def _around(self, at: Setup, source: str) -> float:
        reader = next(r for r in readers(self.sound) if source in (*r.sources, r.ident))
        point = self._point(self.sound, at)
        if reader.measure is not None and "temperature" not in reader.measure:
            rest = stopped(self.sound).reading(reader.measure)
            return float(rest) if rest is not None else 0.0
        zone = self.sound.model.find(source)[1].zone
        return point.zones.get(zone, 20.0)

    def _reading(
        self, at: Setup, look: Show, reader, source: str, true: float
    ) -> tuple[str | None, float | None]:
        sender = (
            float(self.sound.model.senders[source].spec.tolerance or 0.0)
            if source in self.sound.model.senders
            else 0.0
        )
        felt = self._felt(at, source, true) + self.error(f"sender {source}", sender)
        if self.fault.kind == "line blocked" and self.fault.of == source:
            return "frozen", None
        spec = reader.spec
        study, ident = self.study, reader.ident
        net = self._with_lifted(at) if at.lifted else self._net(at)
        if at.lifted and self._unfed(net, source):
            raise CannotPlayError(f"{source} without its supply")
        if self._no_supply(net, study, ident, spec):
            if at.bathed:  # off its ground it returns through its sender: what that has in the bath is not in this network
                raise CannotPlayError(f"the supply of {ident} with {source} in a bath")
            return "dead", None
        if ident in self._driven:
            raise CannotPlayError(f"{ident} is driven from outside")
        key = next((k for k in net.meters if f"{k[0]} {k[1]}".strip() == look.name), None)
        one = next(
            (i for i in study.indications if i.name == look.name and i.position == look.position), None
        )
        probe = source in self.sound.model.probes
        meter = spec.measures in ("bus voltage", "load current")
        if probe or meter or spec.principle in (
            "direct pressure", "capillary", "synchro receiver", "synchronous tachometer", "pulse counter",
        ):  # fmt: skip
            return self._other(at, look, study, one, reader, source, felt)
        drawn = [(s, i) for s in (self.study, self.sound) for i in s.indications if i.name == look.name]
        curve = curve_read(*drawn[0])
        by_hand = [ohms for a, _, ohms in at.joined if a in at.lifted]
        if by_hand and key is None:
            if spec.principle == "bridge" and self.fault.edit is not None:
                raise CannotPlayError(f"a bridge of {ident} with a fault beside the resistor")
            try:
                return None, shown_for(curve, by_hand[0])
            except OffScaleError as off:
                return f"off scale {'high' if off.side == 'above' else 'low'}", None
        if key is not None and at.lifted:
            return self._told(read_meter(net.meters[key], curve, net.solution.voltage), net, key, spec, curve)
        if key is None or one is None:
            if spec.principle == "bridge" and len(spec.terminals or ()) > 2 and (one is None or not one.legs):
                return None, float(spec.bridge_balance)  # nothing flows in either arm: it is balanced
            return self._open(spec, curve)
        return self._through_network(net, at, one, key, source, felt)

    def _unfed(self, net: Circuit, source: str) -> bool:
        """Whether a transducer has not nearly the supply it has in a sound aircraft."""
        sound = self._net_of_sound(Setup(STOPPED))
        element = next((e for e in net.branch_of if e.ident == source and e.kind == "element"), None)
        one = next((f for f in net.followers if element and f.branch == net.branch_of[element]), None)
        was = next((e for e in sound.branch_of if e.ident == source and e.kind == "element"), None)
        if was is None or not any(f.branch == sound.branch_of[was] for f in sound.followers):
            return False
        v = net.solution.voltage
        return one is None or not abs(v[one.plus] - v[one.minus] - one.nominal) < 0.2 * one.nominal

    def _through_network(
        self, net: Circuit, at: Setup, one, key, source: str, felt: float
    ) -> tuple[str | None, float | None]:
        """The reading with the sender at what it feels: its branch is set in the arrays, and the network solved afresh."""
        drawn = next(i for i in self.sound.indications if i.name == one.name and i.position == one.position)
        curve = curve_read(net.study if self.fault.kind == "wrong gauge" else self.sound, drawn)
        if one.source != source:  # the leads were exchanged: what is read feels something else
            source = one.source
            felt = self._felt(at, source, self._true(at, source))
        out = self._output(net, at, source, felt)
        v = self._with_output(net, source, out)
        meter = net.meters[key]
        if meter.needed:
            raise CannotPlayError(f"the input of {one.indicator} lacks a figure")
        got = read_meter(meter, curve, v)
        if out >= 1e8:
            return self._open(one.spec, curve)
        return self._told(got, net, key, one.spec, curve, v)

    def _told(self, got, net: Circuit, key, spec, curve, v=None) -> tuple[str | None, float | None]:
        """What a pointer does with what its meter reads."""
        meter = net.meters[key]
        if got.dead:
            return self._open(spec, curve) if meter.how == "voltage" else ("dead", None)
        if got.value is None and self._far(meter, net.solution.voltage if v is None else v):
            return self._open(spec, curve)
        if got.value is None:
            return f"off scale {'high' if got.beyond == 'above' else 'low'}", None
        return None, got.value

    def _output(self, net: Circuit, at: Setup, source: str, felt: float) -> float:
        """What a sender puts out [ohm, V or A] at what it feels."""
        sensed = (net if self.fault.kind == "wrong sender" else self._net_of_sound(at)).senders[source]
        if source in dict(at.replaced):
            return dict(at.replaced)[source]
        if self.fault.kind in ("sender open", "sender shorted", "sender stuck") and self.fault.of == source:
            return self.fault.element
        points = sensed.curve.points
        if points is not None:
            felt = min(max(felt, float(points[0][0])), float(points[-1][0]))
        return _within(sensed.curve, felt)

    def _with_output(self, net: Circuit, source: str, out: float):
        """Node voltages with a sender putting out so much, feeds that are driven then giving nothing."""
        solution = solve(self._putting_out(net, source, net.senders[source].output, out))
        return self._regulated(replace(net, solution=solution)).solution.voltage

    def _putting_out(self, net: Circuit, source: str, had: float | None, out: float) -> Network:
        """The network with a sender putting out so much, in the place of what it had."""
        network, curve = net.solution.network, net.senders[source].curve
        element = next(e for e in net.study.graph.edges if e.ident == source and e.kind == "element")
        held = any(e is element for e in net.branch_of)
        if held and output_kind(curve) == "resistance":
            number = net.branch_of[element]
            resistance = network.resistance.copy()
            resistance[number] = min(max(out, 1e-6), 1e9)
            return replace(network, resistance=resistance)
        if held:
            number = net.branch_of[element]
            emf = network.emf.copy()
            is_open = network.is_open.copy()
            if out >= 1e8:
                is_open[number] = True
            else:
                emf[number] = emf[number] * out / had if had else out
            return replace(network, emf=emf, is_open=is_open)
        if element not in net.draw_of:
            raise CannotPlayError(element.ident)
        draw = network.draw_value.copy()
        draw[net.draw_of[element]] = 0.0 if out >= 1e8 else out
        return replace(network, draw_value=draw)

    def _as_true(self, net: Circuit, point: Point) -> Circuit:
        """The network with every sender at what is true of it: a document with its leads joined elsewhere may tell otherwise."""
        if self.fault.edit is None:
            return net
        for ident, sound in solve_circuit(self.sound, point, carried=True).senders.items():
            now = net.senders.get(ident)
            moved = self.fault.kind == "wrong sender" and ident == self.fault.of
            if now is None or None in (now.output, sound.output) or now.output == sound.output or moved:
                continue
            network = self._putting_out(net, ident, now.output, sound.output)
            net = replace(net, solution=solve(network), senders={**net.senders, ident: sound})
        return net

    def _far(self, meter, v) -> bool:
        """Whether no current flows through the sender at all."""
        if meter.how in ("voltage", "current"):
            return False
        return (
            abs(float(v[meter.feed]) - float(v[meter.high])) / max(meter.series, 1e-6) < 1e-6
            if meter.how != "bridge"
            else False
        )

    def _open(self, spec, curve) -> tuple[str | None, float | None]:
        told = spec.open_shows
        if isinstance(told, Quantity):
            return None, float(told)
        if told is not None:
            return {"nothing": "dead", "last value": "frozen"}.get(told, told), None
        if curve is None or output_kind(curve) != "resistance":
            return "dead", None
        return ("off scale low" if falls(curve) else "off scale high"), None

    def _no_supply(self, net: Circuit, study: Study, ident: str, spec) -> bool:
        if spec.principle in ("moving-coil thermocouple", "direct pressure", "capillary"):
            return False
        indicator = study.model.indicators[ident].spec
        if not indicator.supply_terminals:
            return False
        nodes = [f"{ident}.{t}" for t in indicator.supply_terminals]
        was, now = (
            [any(e.kind == "conductor" for e in s.graph.at(n)) for n in nodes]
            for s in (self.sound, net.study)
        )
        if any(a and not b for a, b in zip(was, now, strict=True)):
            return True
        plus, minus = (net.voltage(n) for n in nodes)
        base = solve_circuit(self.sound, self._point(self.sound, Setup(STOPPED)))
        had = [base.voltage(f"{ident}.{t}") for t in indicator.supply_terminals]
        if None in had or had[0] - had[1] < 1:
            return False
        least, span = 0.6 * (had[0] - had[1]), indicator.supply_voltage
        if span is not None and span.lowest.kind == "voltage":
            least = min(float(span.lowest), 0.98 * (had[0] - had[1]))
        return plus is None or minus is None or plus - minus < least

    def _other(
        self, at: Setup, look: Show, study: Study, one, reader, source: str, felt: float
    ) -> tuple[str | None, float | None]:
        """Thermocouples, direct gauges and the rest, by the budget of the edited document."""
        spec = reader.spec
        if source in self.sound.model.probes and self.fault.kind == "probe open" and self.fault.of == source:
            return self._open(spec, None)
        if self.fault.kind == "probe legs touching" and self.fault.of == source:
            zone = self.sound.model.find(source)[1].zone
            felt = self._point(self.sound, at).zones.get(zone, 20.0)
        if spec.measures in ("bus voltage", "load current"):
            return self._metered(at, reader, felt)
        turning = spec.principle in ("synchro receiver", "synchronous tachometer")
        if spec.principle not in ("direct pressure", "capillary") and (
            one is None or (turning and len(one.legs) < 3)
        ):
            return ("erratic", None) if turning else self._open(spec, None)
        mine = self._reader(look, study)
        if mine is None:
            return self._open(spec, None) if source in self.sound.model.probes else (None, felt)
        shorted = [(a, b) for a, b, ohms in at.joined if ohms < 1]
        if shorted and source in self.sound.model.probes:
            zone = self.sound.model.indicators[reader.ident].zone
            return None, self._point(self.sound, at).zones.get(zone, 20.0)
        budget = mine.at(self._point(study, at), felt)
        if budget.indicated is None:
            if budget.beyond:
                return f"off scale {'high' if budget.beyond == 'above' else 'low'}", None
            return None, felt
        return None, budget.indicated

    def _metered(self, at: Setup, reader, true: float) -> tuple[str | None, float | None]:
        """A voltmeter or ammeter: true as its terminals have the volts of a sound aircraft."""
        plus, minus = (f"{reader.ident}.{t}" for t in reader.spec.terminals)
        now, sound = self._net(at), solve_circuit(self.sound, self._point(self.sound, at), carried=True)
        had = (sound.voltage(plus) or 0.0) - (sound.voltage(minus) or 0.0)
        ends = now.voltage(plus), now.voltage(minus)
        if None in ends or abs(had) < 1e-9:
            return None, 0.0
        return None, true * (ends[0] - ends[1]) / had

    def _ohms(self, at: Setup, look: Ohms, turned: frozenset[tuple[str, str]] = frozenset()) -> float:
        """Ohms between two nodes, supplies, loads and gauges lifted: the inverse of a conductance matrix.

        ``turned`` are contacts that a selector turned by hand closes.
        """
        graph = self.study.graph
        gone = {t.partition(".")[0] for t in at.lifted if "." not in t}
        ends = {t for t in at.lifted if "." in t}
        off = dict(at.replaced)
        net: nx.MultiGraph = nx.MultiGraph()
        net.add_nodes_from((look.a, look.b))
        for e in graph.edges:
            ohms = 0.003 if (e.a, e.b) in turned else self._ohm_of(e, off)
            lifted = e.ident not in gone and {e.a.partition(".")[0], e.b.partition(".")[0]} & gone
            cut = any(n in (e.a, e.b) and e.ident != n.partition(".")[0] for n in ends)
            if ohms is None or lifted or cut or (e.kind == "bond" and e.ident in gone):
                continue
            net.add_edge(e.a, e.b, g=1 / max(ohms, BRANCH))
        for a, b, ohms in at.joined:
            net.add_edge(a, b, g=1 / max(ohms, BRANCH))
        if not nx.has_path(net, look.a, look.b):
            return float("inf")
        part = list(nx.node_connected_component(net, look.a))
        number = {n: i for i, n in enumerate(part)}
        matrix = np.zeros((len(part), len(part)))
        for a, b, data in net.edges(part, data=True):
            i, j, g = number[a], number[b], data["g"]
            matrix[[i, j], [i, j]] += g
            matrix[i, j] -= g
            matrix[j, i] -= g
        inverse = np.linalg.pinv(matrix, hermitian=True)
        i, j = number[look.a], number[look.b]
        return float(inverse[i, i] + inverse[j, j] - 2 * inverse[i, j])

    def _ohm_of(self, e, off: dict[str, float]) -> float | None:
        from installcheck.analysis.circuit.leads import ends_ohms, ohm_per_metre
        from installcheck.graph import total_length

        if e.kind == "conductor":
            per, length = ohm_per_metre(e), total_length(e.run)
            if per is None and e.run.spec.loop_length_resistance is not None and length is not None:
                per = float(e.run.spec.loop_length_resistance) / 2
            return (
                BRANCH
                if per is None or length is None
                else per * length + (ends_ohms(self.study, e).cold or 0.0)
            )
        if e.kind in ("joint", "contact", "bond"):
            return (e.resistance if e.resistance is not None else 0.003) if e.closed else None
        if e.kind == "spool":
            return e.resistance
        if e.kind == "couple":
            if self.fault.kind == "probe open" and self.fault.of == e.ident:
                return None
            if self.fault.kind == "probe legs touching" and self.fault.of == e.ident:
                return BRANCH
            if e.ident in off:
                return None if off[e.ident] > 1e8 else off[e.ident]
            return float(e.resistance) if e.resistance is not None else 1.0
        if e.kind == "winding":
            if e.section == "indicators":  # the gauge is off while ohms are measured
                return None
            return float(e.resistance) if e.resistance is not None else 10.0
        if e.kind == "element":
            if e.ident in off:
                return None if off[e.ident] > 1e8 else off[e.ident]
            if self.fault.element is not None and self.fault.of == e.ident:
                return None if self.fault.element > 1e8 else self.fault.element
            sender = self.study.model.senders[e.ident]
            curve = sender.spec.curve
            if curve is None:
                return 500.0  # a coil, of which the document tells nothing
            if output_kind(curve) != "resistance":
                return None
            said = stopped(self.study).reading(sender.spec.measures)
            at_rest = float(said) if said is not None and said.kind == kind_of(curve) else 0.0
            if said is None:
                at_rest = self._true(Setup(STOPPED), e.ident)
            felt = self._felt(
                Setup(STOPPED),
                e.ident,
                at_rest + self.error(f"rest {e.ident}", 2.0 if kind_of(curve) == "temperature" else 0.0),
            )
            points = curve.points
            if points is not None:
                felt = min(max(felt, float(points[0][0])), float(points[-1][0]))
            return _within(curve, felt)
        return None


def _within(curve, value: float) -> float:
    """What a sender puts out; beyond its law by the slope at its end."""
    if curve.law is not None:
        low, high = temperature_range_c(curve.law)
        if value > high:
            return output(curve, high) + (value - high) * (output(curve, high) - output(curve, high - 2)) / 2
        if value < low:
            return output(curve, low) - (low - value) * (output(curve, low + 2) - output(curve, low)) / 2
    return output(curve, value)


OF_GAUGE = ("gauge dead", "gauge stuck", "gauge drifted", "wrong gauge")
"""Faults that go with the gauge."""
OF_SOURCE = (
    "sender open",
    "sender shorted",
    "sender stuck",
    "sender drifted",
    "probe open",
    "probe legs touching",
    "probe wrong type",
    "probe badly seated",
    "wrong sender",
)
"""Faults that go with the sender or probe: what heats a probe from beside stays where it is."""


def lay(plain: Plain, name: str, a: str, b: str, ohms: float) -> None:
    """A wire of a resistance between two terminals."""
    plain["wire_runs"][name] = {"from": a, "to": b, "resistance": f"{ohms:.9g} ohm/m", "length": "1 m"}


def cut(run: str, leg: str = ""):
    """Breaks a wire, or a leg of a run; a stub stays on a gauge, whose terminal is taken to be fed where nothing is wired to it."""

    def edit(plain: Plain) -> None:
        held = plain["wire_runs"][run]
        holder = held["conductors"][leg] if leg else held
        end = str(holder["to"])
        studs = plain.setdefault("junctions", {})
        studs[f"break {run} {leg}".strip()] = {"kind": "stud"}
        holder["to"] = f"break {run} {leg}".strip()
        if end.partition(".")[0] in plain.get("indicators", {}) and not held.get("thermocouple"):
            stub = f"stub {run} {leg}".strip()
            studs[stub] = {"kind": "stud"}
            lay(plain, f"{stub} on", stub, end, BRANCH)

    return edit


def resist(run: str, ohms: float, leg: str = ""):
    """Lays a resistor into a wire at its far end."""

    def edit(plain: Plain) -> None:
        held = plain["wire_runs"][run]
        holder = held["conductors"][leg] if leg else held
        end = holder["to"]
        zone = next(
            (
                t.get("zone")
                for s in plain.values()
                if isinstance(s, dict)
                for i, t in s.items()
                if i == end.partition(".")[0] and isinstance(t, dict)
            ),
            None,
        )
        plain.setdefault("junctions", {})[f"joint {run}"] = {
            "kind": "resistor",
            "resistance": f"{ohms:.9g} ohm",
            **({"zone": zone} if zone else {}),
        }
        holder["to"] = f"joint {run}.in"
        tail = {k: v for k, v in held.items() if k in ("part", "gauge", "metal", "thermocouple")}
        plain["wire_runs"][f"tail {run}"] = {**tail, "from": f"joint {run}.out", "to": end, "length": "1 mm"}
        if leg and "conductors" in held:
            plain["wire_runs"][f"tail {run}"] = {
                "from": f"joint {run}.out",
                "to": end,
                "length": "1 mm",
                "resistance": "0.01 ohm/m",
            }

    return edit


def touch(end: str, ground: str, ohms: float = BRANCH):
    """Lays a short from a terminal to ground."""
    return lambda plain: lay(plain, "chafe", end, ground, max(ohms, BRANCH))


def change(section: str, ident: str, **words: Any):
    """Writes words into a thing."""

    def edit(plain: Plain) -> None:
        plain[section][ident].update(words)

    return edit


def demo_of(name: str) -> Plain:
    """A demo without what it holds of measurements."""
    plain = demo(name)
    plain.pop("measured", None)
    return plain
