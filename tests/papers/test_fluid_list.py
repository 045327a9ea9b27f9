"""Torque of flared nuts on the fluid line list."""

import pytest

from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.papers.fluid_list import fluid_list

TEXT = """
installation: {name: line}
zones: {bay: {}}
taps: {gallery: {medium: oil, zone: bay}}
senders: {sender: {ports: [P], zone: bay}}
fluid_lines: {L1: {from: gallery, to: sender.P, kind: tube, MORE}}
"""


@pytest.mark.parametrize(
    ("more", "torque"),
    [
        # 1/4 in: steel 135 to 150 in-lb; aluminium 40 to 65 by the one table and 50 to 65 by the other
        (
            "outside_diameter: 1/4 in, material: 304 stainless, end_form: 37 degree flare -4",
            "135 to 150 in-lb",
        ),
        (
            "outside_diameter: 1/4 in, material: 6061-T6 aluminium, end_form: 37 degree flare -4",
            "50 to 65 in-lb",
        ),
        ("outside_diameter: 1/4 in, material: 304 stainless, end_form: plain", None),
        ("material: 304 stainless, end_form: 37 degree flare -4", None),
    ],
)
def test_torque_of_flared_nuts(more, torque):
    table = fluid_list(Study(loads(TEXT.replace("MORE", more))))
    [row] = table.rows
    assert row[table.columns.index("flare nuts")] == torque
