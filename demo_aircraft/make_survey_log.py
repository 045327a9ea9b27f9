"""Makes climb_survey.csv, the flight log of a head-temperature survey on a fictional aircraft, from a stated model.

The engine is a fictional four-cylinder opposed one, cylinders numbered from the propeller end, head temperature limit
500 degF. Its recorder has six head channels; probes are on cylinders 1 to 4, the inputs of CHT5 and CHT6 are open.

The model, in degF. Each head follows, with one time constant of 120 s, a target temperature:

    target = outside air + rise of the phase + 2 for each 1000 ft of height + what the cylinder adds in that phase

To each reading comes noise with a standard deviation of 0.6, and the recorder writes whole degrees. What the cylinders
add is the truth that a survey must find:

    phase          cyl 1   cyl 2   cyl 3   cyl 4
    ground           -6       0      -3      -9
    climb           -27     -19       0     -14     cylinder 3 hottest, 14 above cylinder 4
    lean cruise     -12     -19      -6       0     cylinder 4 hottest, 6 above cylinder 3
    descent          -9      -7       0      -2

Two standard thermocouples can differ by 7.9 degF, so a survey can be sure of the climb and not of lean cruise.

The open inputs do not depend on the engine: CHT5 sways about 400 and passes 480, more than any head; CHT6 rises slowly.

The flight takes 46 minutes with a row each 6 s. The day is 22 degF cooler than the hot day of 14 CFR 23.1043(b) at
every height, so a peak carried to the hot day is 22 degF above the one read.

Run it in this folder: python make_survey_log.py
"""

import math
import random
from pathlib import Path

STEP = 6.0
TIME_CONSTANT = 120.0
NOISE = 0.6
BELOW_HOT_DAY = 22.0
FIELD_ELEVATION = 900.0
LIMIT = 500.0

ADDED = {
    "ground": (-6.0, 0.0, -3.0, -9.0),
    "climb": (-27.0, -19.0, 0.0, -14.0),
    "lean cruise": (-12.0, -19.0, -6.0, 0.0),
    "descent": (-9.0, -7.0, 0.0, -2.0),
}
HOTTEST = {"climb": (3, 14.0), "lean cruise": (4, 6.0)}
"""The answer: the hottest cylinder of the phase, and its lead over the next [degF]."""

# rise degF, climb ft/min, airspeed kt, engine speed rev/min, manifold pressure inHg, exhaust degF
PHASES = {
    "ground": (210.0, 0.0, 0.0, 1200.0, 12.0, 950.0),
    "climb": (398.0, 700.0, 85.0, 2600.0, 26.0, 1280.0),
    "lean cruise": (322.0, 0.0, 125.0, 2400.0, 22.0, 1420.0),
    "descent": (223.0, -800.0, 130.0, 2200.0, 17.0, 1250.0),
}
# phase, minutes
FLIGHT = (
    ("ground", 4.0),
    ("climb", 8.0),
    ("lean cruise", 9.0),
    ("descent", 3.0),
    ("climb", 6.0),
    ("lean cruise", 5.0),
    ("descent", 9.25),
    ("ground", 1.5),
)
HEADER = (
    ["Time", "Press Alt", "OAT", "IAS", "RPM", "MAP"]
    + [f"CHT{n}" for n in range(1, 7)]
    + [f"EGT{n}" for n in range(1, 5)]
)
UNITS = ["hh:mm:ss", "ft", "deg F", "kt", "rpm", "inHg"] + ["deg F"] * 10


def outside_air(height: float) -> float:
    """Outside air [degF] at a `height` [ft]."""
    return 100.0 - BELOW_HOT_DAY - 3.6 * height / 1000


def make_log() -> str:
    """The text of the log."""
    # A fixed start of the random numbers: the same log each time.
    chance = random.Random(4)
    lines = [
        "Head temperature survey of a fictional aircraft, made by make_survey_log.py; no real engine behaves so",
        ",".join(HEADER),
        ",".join(UNITS),
    ]
    height, time = FIELD_ELEVATION, 0.0
    heads = [outside_air(height) + 60.0] * 4
    for phase, minutes in FLIGHT:
        rise, climb, speed, rpm, manifold, exhaust = PHASES[phase]
        for _ in range(round(minutes * 60 / STEP)):
            height = max(height + climb * STEP / 60, FIELD_ELEVATION)
            air = outside_air(height)
            for i, added in enumerate(ADDED[phase]):
                target = air + rise + 2 * height / 1000 + added
                heads[i] += (target - heads[i]) * (1 - math.exp(-STEP / TIME_CONSTANT))
            shown = [head + chance.gauss(0, NOISE) for head in heads]
            shown.append(400 + 85 * math.sin(time / 410 + 1) + chance.gauss(0, 3))
            shown.append(330 + time / 60 + 6 * math.sin(time / 95) + chance.gauss(0, 2))
            exhausts = [exhaust + 12 * i + chance.gauss(0, 4) for i in (0, 2, 1, -1)]
            clock = 9 * 3600 + 12 * 60 + int(time)
            row = [
                f"{clock // 3600:02d}:{clock // 60 % 60:02d}:{clock % 60:02d}",
                f"{height + chance.gauss(0, 4):.0f}",
                f"{air + chance.gauss(0, 0.2):.1f}",
                f"{max(speed + chance.gauss(0, 1), 0):.0f}",
                f"{rpm + chance.gauss(0, 6):.0f}",
                f"{manifold + chance.gauss(0, 0.1):.1f}",
                *(f"{value:.0f}" for value in shown),
                *(f"{value:.0f}" for value in exhausts),
            ]
            lines.append(",".join(row))
            time += STEP
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    Path(__file__).with_name("climb_survey.csv").write_text(make_log(), encoding="utf-8", newline="\n")
