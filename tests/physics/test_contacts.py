"""Contact currents: the lower of contact and wire rules (AC 43.13-1B 11-67)."""

import pytest

from installcheck.physics.contacts import contact, contact_current


@pytest.mark.parametrize(
    ("size", "gauge", "amps"),
    [
        ("22D", "22", 5),
        ("22D", "26", 2),
        ("20", "20", 7.5),
        ("20", "24", 3),
        ("16", "16", 13),
        ("16", "18", 10),
        ("12", "12", 23),
        ("12", "14", 17),
    ],
)
def test_contact_current(size: str, gauge: str, amps: float) -> None:
    assert contact_current(size, gauge) == amps


def test_wire_that_does_not_fit() -> None:
    with pytest.raises(ValueError, match="takes 24 to 20 AWG, not 16"):
        contact_current("20", "16")
    with pytest.raises(ValueError, match="as thin as 28"):
        contact_current("22D", "28")
    with pytest.raises(ValueError, match="no contact size '21'"):
        contact("21")
