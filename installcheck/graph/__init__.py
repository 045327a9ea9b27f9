"""The installation as one multigraph, and its views."""

from .build import Crossing, Graph, build
from .edges import Edge, total_length, zone_lengths
from .indications import (
    Indication,
    Leg,
    Unread,
    indications,
)
from .ways import Step

__all__ = [
    "Crossing",
    "Edge",
    "Graph",
    "Indication",
    "Leg",
    "Step",
    "Unread",
    "build",
    "indications",
    "total_length",
    "zone_lengths",
]
