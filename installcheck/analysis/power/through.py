"""What flows through the contacts of a protector or switch, by the circuit as it is solved."""

from __future__ import annotations

from ...model.comparing import at_most
from ..circuit.solved import circuit
from ..study import Study


def steadily_through(study: Study, ident: str) -> tuple[float, str]:
    """Largest current in A through a supply's contacts, and the operating point; 0 and no point where none is known.

    A point of engine start is left out: its current is over in seconds.
    """
    edges = [e for e in study.graph.by_thing.get(("supplies", ident), ()) if e.kind == "contact"]
    most, at = 0.0, ""
    for point in study.points:
        if point.given is not None and point.given.phase == "start":
            continue
        net = circuit(study, point)
        for edge in edges:
            amps = abs(net.current(edge) or 0.0)
            if not at_most(amps, most):
                most, at = amps, point.name
    return most, at
