from dataclasses import replace

import pytest

from installcheck.drawing.kinds import DeviceKind, JointKind
from installcheck.drawing.sheet import Band, Barrier, Block, Device, Fitting, Joint, Sheet, Terminal, Wire

BULB = Device("bulb", DeviceKind.SENDER, "engine", ("bulb",), (Terminal("bulb.A", "A"),))
SPLICE = Joint("SP1", JointKind.SPLICE, "cabin", "SP1")
SHEET = Sheet(
    "trainer",
    "oil temperature",
    (Band("engine", "ENGINE"), Band("cabin", "CABIN")),
    barriers=(Barrier("firewall", "FIREWALL", "engine"),),
    fittings=(Fitting("grommet", "grommet", "firewall"),),
    devices=(BULB,),
    joints=(SPLICE,),
    wires=(Wire("W1", "bulb.A", "SP1", through=("grommet",)),),
)


def test_a_sound_sheet_is_taken() -> None:
    assert SHEET.runs == SHEET.wires
    assert SHEET.placed == (BULB, SPLICE)
    assert (SHEET.titled(2, 3).number, SHEET.titled(2, 3).count) == (2, 3)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"bands": ()}, "at least one zone band"),
        ({"wires": (Wire("W1", "bulb.A", "bulb.B"),)}, "end of W1: 'bulb.B' is not on the sheet"),
        ({"wires": (Wire("W1", "bulb.A", "SP1", through=("plug",)),)}, "barrier fitting of W1: 'plug'"),
        ({"wires": (Wire("W1", "bulb.A", "SP1"),) * 2}, "'W1' is on the sheet twice"),
        ({"joints": (SPLICE, replace(SPLICE, id="bulb.A"))}, "'bulb.A' is on the sheet twice"),
        ({"devices": (replace(BULB, band="wing"),)}, "zone band of bulb: 'wing'"),
        ({"barriers": (Barrier("firewall", "FIREWALL", "wing"),)}, "before barrier firewall: 'wing'"),
        ({"fittings": (Fitting("grommet", "grommet", "wall"),)}, "barrier of fitting grommet: 'wall'"),
        ({"joints": (replace(SPLICE, block="TB"),)}, "block of joint SP1: 'TB'"),
        (
            {"joints": (replace(SPLICE, block="TB"),), "blocks": (Block("TB", "TB", "engine"),)},
            "joint SP1 and its block TB are in different zone bands",
        ),
    ],
)
def test_an_unsound_sheet_is_refused(change: dict[str, object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        replace(SHEET, **change)  # type: ignore[arg-type]
