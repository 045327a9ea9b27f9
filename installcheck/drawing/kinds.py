"""Kinds of what a sheet shows, hence how it is drawn."""

from enum import StrEnum


class DeviceKind(StrEnum):
    """What a device is, hence its outline and symbol."""

    SENDER = "sender"
    PROBE = "probe"
    DIAL = "dial"
    SUPPLY = "supply"
    PROTECTION = "protection"
    SWITCH = "switch"
    GROUND = "ground"
    OTHER = "other"


class JointKind(StrEnum):
    """Where conductors or lines meet without a device."""

    SPLICE = "splice"
    STUD = "stud"
    PIN = "plug pin"
    TEE = "tee"
    OPEN_END = "open end"
    OFF_SHEET = "off sheet"


class WireKind(StrEnum):
    """How a wire is drawn."""

    PLAIN = "plain"
    PAIR = "pair"
    THERMOCOUPLE = "thermocouple leg"
    SHIELD = "shield"
    STRAP = "ground strap"


class LineKind(StrEnum):
    """How a fluid line is drawn."""

    TUBE = "tube"
    HOSE = "hose"
    CAPILLARY = "capillary"


class Change(StrEnum):
    """What the alteration does to a thing."""

    NONE = ""
    NEW = "new"
    REMOVED = "removed"


class Outcome(StrEnum):
    """Outcome of a verdict, hence the shape of its mark."""

    MEETS = "meets"
    DISCREPANCY = "discrepancy"
    ADVISORY = "advisory"
    UNDETERMINED = "undetermined"
    ACCEPTED = "accepted"


class Paper(StrEnum):
    """Paper of the sheet, always landscape."""

    A4 = "A4"
    LETTER = "Letter"
