"""Where a pressure sender hangs: on the airframe, or on a stem that shakes with the engine."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.fluid.facts import listed
from ...analysis.study import Study
from ...model.comparing import at_least, at_most
from ...model.devices import Sender
from ...model.fluid import Fitting
from ...model.installation import split_end
from ...model.quantities import in_unit, plain_number
from ...physics.tubes import tube_material
from ...physics.vibration import firing_frequency, resonance_gain, second_moment, stem_frequency, stem_stress
from ..verdicts import Outcome, Verdict
from ..vocabulary import Subject, rule

_ROOT_M, _ROOT_BORE_M = 0.334 * 0.0254, 0.220 * 0.0254
"""Root diameter and bore of a 1/8 in pipe thread: assumed, as no drawing of the sender is at hand."""
_SHAKE = 10 * 9.80665
"""10 g peak at the engine: assumed."""
_NOTCH = 3.0
"""What a thread root multiplies bending stress by: two to three (recalled), the safe end."""
_DAMPING = 0.02
"""Damping of a screwed metal stem, share of critical: assumed."""
_ENDURES = 0.3
"""Share of ultimate strength that copper alloys bear for ever in bending: recalled."""
_CLEAR = 2.0
"""A stem whose own frequency is twice that of the firing is shaken by 1.33 times at most."""


@rule(
    "sender-mounting",
    title="A pressure sender is not hung on the vibrating engine by its port",
    why="Engine vibration bends the stem at its thread. A heavy sender on a stack of fittings broke off about ten hours after "
    "it was fitted, and let the oil out.",
    source="NTSB ERA22FA261 and NASA ASRS 697585: mount it on the firewall or a bracket, joined by a hose",
    formula="stress = 3 gain m a L c/I at the thread root, f = sqrt(3 E I/(m L^3))/(2 pi); a = 10 g",
    example="150 g at 60 mm on a 1/8 pipe thread of brass: 220 Hz, 18.1 MPa at 10 g before notch and resonance",
    over="senders",
)
def sender_mounting(study: Study, subject: Subject, sender: Sender) -> Verdict | None:
    """A sender with a fluid port that senses pressure."""
    if not _has_port(sender):
        return None
    ident, mounted = subject.ident, subject.field("mounted_on")
    if sender.mounted_on in ("firewall", "airframe") and (held := _held_by_port(study, sender)) is not None:
        return mounted.along(*held).discrepancy(
            f"sender {ident} is carried by the {sender.mounted_on} and screwed to {listed(held)}, which moves with the engine: "
            "its port takes that movement",
            remedy="join it by a hose on each side that leads to the engine, or carry it on the engine",
        )
    if sender.mounted_on in ("firewall", "airframe"):
        return mounted.meets(f"sender {ident} is carried by the {sender.mounted_on}")
    if sender.mounted_on in ("hose", "pipe"):
        return mounted.advisory(
            f"sender {ident} hangs on its {sender.mounted_on}"
            + (", whose nut and flare take its shaking" if sender.mounted_on == "pipe" else ""),
            remedy=f"clamp the sender to the firewall, apart from the {sender.mounted_on}",
        )
    if sender.mounted_on is None:
        zone = study.model.zones.get(sender.zone or "")
        unknown = study.document.declared_unknown((*subject.path, "mounted_on"))
        if unknown or zone is None or zone.vibrates is not False:
            return subject.lacks(missing.SENDER_MOUNTING)
        return subject.meets(f"sender {ident} sits in the {sender.zone}, which does not move with the engine")
    stack = _stack(study, sender)
    return _bracket(subject, sender) if stack is None else _stem(subject, sender, stack)


def _held_by_port(study: Study, sender: Sender) -> list[str] | None:
    """What a sender is screwed to without a line between, if it moves with the engine."""
    stack = _stack(study, sender)
    if stack is None or sender.screwed_into is None:
        return None
    end = study.model.fittings[stack[-1]].screwed_into if stack else sender.screwed_into
    held = [*stack, *([split_end(end)[0]] if end is not None else [])]
    for ident in held:
        found = study.model.find(ident)
        zone = study.model.zones.get(getattr(found[1], "zone", None) or "") if found is not None else None
        if zone is not None and zone.vibrates:
            return held
    return None


def _has_port(sender: Sender) -> bool:
    if sender.spec.principle in ("vapour-pressure bulb", "liquid-filled bulb"):
        return False
    if sender.spec.principle == "pulse pick-up":
        return sender.screwed_into is not None
    return bool(sender.spec.ports) or (
        sender.screwed_into is not None and "pressure" in (sender.spec.measures or "")
    )


def _stack(study: Study, sender: Sender) -> list[str] | None:
    """Fittings between a sender and the engine, none for one screwed into it; ``None`` if a line joins it."""
    if sender.screwed_into is None:
        return None
    stack: list[str] = []
    end: str | None = sender.screwed_into
    while end is not None:
        ident = split_end(end)[0]
        fitting = study.model.fittings.get(ident)
        if fitting is None or ident in stack:
            break
        stack.append(ident)
        end = fitting.screwed_into
    return stack


def _bracket(subject: Subject, sender: Sender) -> Verdict:
    ident, mounted = subject.ident, subject.field("mounted_on")
    node = f"{ident}.{(sender.spec.ports or ['P'])[0]}"
    joined = [e.line for e in subject.study.graph.at(node) if e.line is not None]
    if not joined:
        return subject.lacks(missing.SENDER_JOINT)
    if all(line.spec.kind == "hose" for line in joined):
        return mounted.meets(f"sender {ident} is carried by the engine and joined by a hose")
    return mounted.advisory(
        f"sender {ident} is carried by the engine and joined by a rigid line, which vibration cracks",
        remedy="mount it on the firewall and join it by a hose",
    )


def _stem(subject: Subject, sender: Sender, stack: list[str]) -> Verdict:
    """A sender that its port carries, alone or on a stack of fittings."""
    how = f"on {listed(stack)}" if stack else "by its port alone"
    text = f"sender {subject.ident} hangs on the engine {how}"
    remedy = "mount it on the firewall, with a restrictor at the tap and a hose between"
    mass, arm = sender.spec.weight, sender.spec.arm
    speed = _firing(subject.study, sender)
    subject = subject.along(*stack)
    mounted = subject.field("mounted_on")
    if mass is None or arm is None or mass <= 0 or arm <= 0 or speed is None:
        needs = ((missing.SENDER_WEIGHT, mass), (missing.SENDER_ARM, arm), (missing.ENGINE_FIRING, speed))
        lacking = [w for w, v in needs if not v]
        if stack:
            unknown = f"{text}; its stress is not known without the {' and the '.join(lacking)}"
            return mounted.advisory(unknown, remedy=remedy)
        return subject.lacks(*lacking)
    metal = tube_material(_root(sender, subject.study, stack))
    natural = stem_frequency(
        metal.elastic_modulus, second_moment(_ROOT_M, _ROOT_BORE_M), float(mass), float(arm)
    )
    # Up to rated speed the firing passes every lower frequency: a stem slower than that is shaken at its own.
    ratio = min(speed / natural, 1.0)
    still = stem_stress(float(mass), _SHAKE, float(arm), _ROOT_M, _ROOT_BORE_M)
    stress = still * _NOTCH * resonance_gain(ratio, _DAMPING)
    lasts, yields = _ENDURES * metal.ultimate, metal.yields_at
    text += (
        f": {plain_number(natural)} Hz against {plain_number(speed)} Hz of the firing, "
        f"{plain_number(stress / 1e6)} MPa at its thread under 10 g"
    )
    if not at_most(stress, yields):
        beyond = f"{text}, beyond the yield of {plain_number(yields / 1e6)} MPa"
        return mounted.at_most(stress / 1e6, yields / 1e6, "MPa", beyond, remedy=remedy)
    lasting = mounted.at_most(stress / 1e6, lasts / 1e6, "MPa", text, remedy=remedy, practice=True)
    if lasting.outcome is Outcome.MEETS and (stack or not at_least(natural, _CLEAR * speed)):
        return mounted.advisory(text, remedy=remedy)
    return lasting


def _root(sender: Sender, study: Study, stack: list[str]) -> str:
    """Metal of the stem's root: of the fitting in the engine, of the sender itself where it is screwed in, else brass."""
    fitting: Fitting | None = study.model.fittings.get(stack[-1]) if stack else None
    made = (fitting.spec.material if fitting is not None else sender.spec.material) or ""
    if "aluminium" in made:
        return "6061-T6"
    return "304 annealed" if "steel" in made or "stainless" in made else "brass"


def _firing(study: Study, sender: Sender) -> float | None:
    found = study.model.engine_of(sender)
    engine = found[1] if found is not None else None
    if engine is None or engine.speed is None or engine.cylinders is None or engine.speed <= 0:
        return None
    return firing_frequency(in_unit(engine.speed, "rpm", "speed"), engine.cylinders)
