"""The installation as one multigraph, and its views."""

from .build import Crossing, Graph, build
from .edges import Edge, spare_length, total_length, zone_lengths
from .indications import Indication, Leg, Unread, indications
from .walk import Step, Walk

__all__ = [
    "Crossing",
    "Edge",
    "Graph",
    "Indication",
    "Leg",
    "Step",
    "Unread",
    "Walk",
    "build",
    "indications",
    "spare_length",
    "total_length",
    "zone_lengths",
]
