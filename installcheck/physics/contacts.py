"""Current and wire range of the crimp contacts in plugs and receptacles."""

from functools import cache

from ..dataclass import dataclass
from .conductors import gauge_number
from .tables import read_table, unknown


@dataclass(frozen=True, slots=True)
class Contact:
    """A contact size: `smallest` and `largest` gauge it takes, `current` [A]."""

    size: str
    smallest: str
    largest: str
    current: float
    status: str

    def takes(self, gauge: str) -> bool:
        """Whether a wire of this `gauge` fits the contact's barrel.

        >>> contact("20").takes("22"), contact("20").takes("18")
        (True, False)
        """
        return gauge_number(self.largest) <= gauge_number(gauge) <= gauge_number(self.smallest)


@cache
def contact(size: str) -> Contact:
    """A contact by its size: `22D`, `20`, `16` or `12`; AS39029 contact data."""
    rows = read_table("contact_sizes")
    for row in rows:
        if row["size"] == size:
            return Contact(size, row["smallest_awg"], row["largest_awg"], float(row["amps"]), row["status"])
    raise unknown("contact size", size, [row["size"] for row in rows])


def contact_current(size: str, gauge: str) -> float:
    """Current [A] of a wire in a contact: the lower of the contact's and the wire's; AC 43.13-1B 11-67.

    >>> contact_current("16", "20")
    7.5
    """
    found = contact(size)
    if not found.takes(gauge):
        raise ValueError(f"a size {size} contact takes {found.smallest} to {found.largest} AWG, not {gauge}")
    by_wire = {row["awg"]: float(row["amps"]) for row in read_table("contact_wire_amps")}
    if gauge_number(gauge) > max(map(gauge_number, by_wire)):
        raise ValueError(f"no contact current is known for a wire as thin as {gauge} AWG")
    return min(found.current, by_wire.get(gauge, found.current))
