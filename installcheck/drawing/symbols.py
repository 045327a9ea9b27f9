"""Outlines and symbols, drawn in a unit that grows with the sheet: circuit symbols follow IEC 60617 practice."""

from collections.abc import Iterator
from math import cos, pi, sin

from .captions import MARK_SIZE, SMALL, mark_width
from .ink import GREY, HEAVY, LINE, THIN, Dash, Disc, Ink, Path, Point, Spot, Text, Trace, rectangle
from .kinds import Change, DeviceKind, JointKind, Outcome, WireKind
from .sheet import Mark

TERMINAL = 2.1  # radius of a terminal [pt]


def outline(
    kind: DeviceKind, x: float, y: float, width: float, height: float, s: float, change: Change
) -> Path:
    """Outline of a device: a dial is rounded, a probe has cut corners, all else is square."""
    dash = Dash.DASHED if change is Change.REMOVED else Dash.SOLID
    corner = {DeviceKind.DIAL: 7.0, DeviceKind.PROBE: 5.0}.get(kind, 0.0) * s
    corner = min(corner, width / 2, height / 2)
    if not corner:
        return rectangle(x, y, width, height, dash=dash)
    steps = 6 if kind is DeviceKind.DIAL else 1
    points: list[Point] = []
    centres = (
        (x + width - corner, y + corner),
        (x + width - corner, y + height - corner),
        (x + corner, y + height - corner),
        (x + corner, y + corner),
    )
    for quarter, (cx, cy) in enumerate(centres):
        for step in range(steps + 1):
            angle = (quarter - 1 + step / steps) * pi / 2
            points.append((cx + corner * cos(angle), cy + corner * sin(angle)))
    return Path(tuple(points), LINE, dash, closed=True, fill="white")


def symbol(kind: DeviceKind, x: float, y: float, s: float) -> Iterator[Ink]:
    """Symbol of a device in a square of 12 units whose top left corner is x, y."""

    def at(*points: Point) -> tuple[Point, ...]:
        return tuple((x + px * s, y + py * s) for px, py in points)

    match kind:
        case DeviceKind.SENDER:
            yield Path(at((0.5, 4), (11.5, 4), (11.5, 8), (0.5, 8)), LINE, closed=True, fill="white")
            yield Path(at((2, 11), (9.5, 1.5)), LINE)
            yield Path(at((9.5, 1.5), (9.3, 4.1), (7.2, 2.5)), LINE, closed=True, fill="black")
        case DeviceKind.PROBE:
            yield Path(at((11.5, 2.5), (2, 6), (11.5, 9.5)), LINE)
            yield Disc(*at((2, 6))[0], 1.6 * s, LINE, "black")
        case DeviceKind.DIAL:
            yield Disc(*at((6, 6))[0], 5.4 * s, LINE)
            yield Path(at((6, 6), (9, 2.6)), 1.2)
            yield Disc(*at((6, 6))[0], 0.9 * s, LINE, "black")
        case DeviceKind.SUPPLY:
            for px, half, width in ((2.5, 5.0, LINE), (5, 2.5, HEAVY), (7.5, 5.0, LINE), (10, 2.5, HEAVY)):
                yield Path(at((px, 6 - half), (px, 6 + half)), width)
        case DeviceKind.PROTECTION:
            arc = tuple((6 - 4 * cos(k * pi / 8), 7 - 4 * sin(k * pi / 8)) for k in range(9))
            yield Path(at(*arc), LINE)
            yield Disc(*at((2, 8))[0], 1.2 * s, LINE)
            yield Disc(*at((10, 8))[0], 1.2 * s, LINE)
        case DeviceKind.SWITCH:
            yield Path(at((2, 8), (10, 3)), LINE)
            yield Disc(*at((2, 8))[0], 1.2 * s, LINE)
            yield Disc(*at((10, 8))[0], 1.2 * s, LINE)
        case DeviceKind.GROUND:
            yield Path(at((6, 0.5), (6, 5)), LINE)
            for py, half in ((5.0, 5.0), (7.5, 3.2), (10.0, 1.4)):
                yield Path(at((6 - half, py), (6 + half, py)), LINE)
        case DeviceKind.OTHER:
            yield rectangle(x + 2 * s, y + 2 * s, 8 * s, 8 * s, stroke=THIN)


def joint(kind: JointKind, x: float, y: float, s: float, change: Change) -> Iterator[Ink]:
    """Symbol of one contact of a joint, centred on the wire."""
    match kind:
        case JointKind.SPLICE:
            yield rectangle(x - 5 * s, y - 1.7 * s, 10 * s, 3.4 * s, fill="black")
        case JointKind.TEE:
            yield Disc(x, y, 3 * s, LINE, "black")
        case JointKind.STUD:
            yield Disc(x, y, 3.2 * s)
            yield Disc(x, y, 1.1 * s, LINE, "black")
        case JointKind.PIN:
            for dx in (-3.2, 0.6):
                yield Path(
                    ((x + dx * s, y - 2.6 * s), (x + (dx + 2.6) * s, y), (x + dx * s, y + 2.6 * s)), LINE
                )
        case JointKind.OPEN_END:
            yield Path(((x, y - 3 * s), (x, y + 3 * s)), HEAVY)
        case JointKind.OFF_SHEET:
            tip = ((x - 4 * s, y - 3 * s), (x + 2 * s, y - 3 * s), (x + 5 * s, y), (x + 2 * s, y + 3 * s))
            yield Path((*tip, (x - 4 * s, y + 3 * s)), LINE, closed=True, fill="white")
    if change is Change.REMOVED:
        yield cross(x, y, s)


def cross(x: float, y: float, s: float) -> Trace:
    """The cross on a thing that is taken away, in one stroke."""
    r = 2.6 * s
    points = ((x - r, y - r), (x + r, y + r), (x, y), (x - r, y + r), (x + r, y - r))
    return Trace("", "removed", points, ((LINE, Dash.SOLID, "black"),))


def joint_reach(kind: JointKind, s: float) -> float:
    """How far the symbol of a joint reaches to either side of its middle [pt]."""
    return {
        JointKind.SPLICE: 5.0,
        JointKind.STUD: 3.2,
        JointKind.PIN: 0.0,
        JointKind.OFF_SHEET: 4.0,
        JointKind.TEE: 0.0,
        JointKind.OPEN_END: 0.0,
    }[kind] * s


def mark(verdict: Mark, x: float, base: float, s: float, href: str, title: str) -> Iterator[Ink]:
    """A verdict mark on a line of text; x is where the text before it ends."""
    x += 3.0 * s
    yield from mark_shape(verdict.outcome, x, base, s)
    number = x + (MARK_SIZE + 1.5) * s
    yield Text(number, base, str(verdict.number), SMALL * s, bold=True)
    width = mark_width(verdict) - 3.0
    yield Spot(x - 1, base - MARK_SIZE * s, width * s + 2, (MARK_SIZE + 1.5) * s, "", title, href)


def mark_shape(outcome: Outcome, x: float, base: float, s: float) -> Iterator[Ink]:
    """Shape of an outcome in a square of `MARK_SIZE` standing just under the baseline."""
    size = MARK_SIZE * s
    top, bottom = base - size * 0.88, base + size * 0.12
    middle, centre = x + size / 2, (top + bottom) / 2
    match outcome:
        case Outcome.DISCREPANCY:
            yield Path(((middle, top), (x + size, bottom), (x, bottom)), LINE, closed=True, fill="black")
        case Outcome.ADVISORY:
            points = ((middle, top - 0.5), (x + size, centre), (middle, bottom + 0.5), (x, centre))
            yield Path(points, LINE, closed=True, fill="white")
        case Outcome.UNDETERMINED:
            yield Disc(middle, centre, size / 2, LINE)
            # Five points of a question mark: type this small would fall under the least readable size.
            q = size / 7
            hook = ((-1.3, -1.2), (-0.9, -2.3), (0.3, -2.5), (1.3, -1.7), (1.2, -0.8), (0, 0.1), (0, 1.0))
            yield Path(tuple((middle + px * q, centre + py * q) for px, py in hook), LINE)
            yield Disc(middle, centre + 2.2 * q, 0.45 * q, THIN, "black")
        case Outcome.ACCEPTED:
            yield rectangle(x + 0.4 * s, top, size - 0.8 * s, size - 0.4 * s)
        case Outcome.MEETS:
            tick = ((x, centre), (x + size * 0.35, bottom), (x + size, top))
            yield Path(tick, 1.2)


def wire_stroke(kind: WireKind, change: Change) -> tuple[float, Dash, str]:
    """Width, style and colour of a wire."""
    if change is Change.REMOVED:
        return (THIN, Dash.SOLID, GREY)
    return {
        WireKind.PLAIN: (LINE, Dash.SOLID, "black"),
        WireKind.PAIR: (LINE, Dash.SOLID, "black"),
        WireKind.THERMOCOUPLE: (1.1, Dash.DASHED, "black"),
        WireKind.SHIELD: (1.3, Dash.DOTTED, "black"),
        WireKind.STRAP: (HEAVY, Dash.SOLID, "black"),
    }[kind]


def oval(x: float, top: float, bottom: float, half: float, dash: Dash) -> Path:
    """A stadium around wires that run side by side."""
    arc = ((-1.0, 0.0), (-0.87, 0.5), (-0.5, 0.87), (0.0, 1.0), (0.5, 0.87), (0.87, 0.5), (1.0, 0.0))
    upper = tuple((x + half * px, top + half * (1 - py)) for px, py in arc)
    lower = tuple((x + half * px, bottom - half * (1 - py)) for px, py in reversed(arc))
    return Path((*upper, *lower), 0.7, dash, closed=True)
