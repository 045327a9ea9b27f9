"""Two statements of one fact agree: one of two that do not is wrong, and nobody can say which from the document."""

from __future__ import annotations

from ...analysis.statements import figures, heights, labels, locations, places, routes, states
from ...analysis.statements.pairs import Pair
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.edits import Edit, Put
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_ONE_FACT = "plain physics: one thing has one {}"


def _answer(subject: Subject, pair: Pair) -> Verdict:
    subject = subject.along(*pair.beside)
    if pair.agree and pair.lacks:
        return subject.lacks(*pair.lacks)
    if pair.agree:
        return subject.meets(pair.message)
    told = subject.discrepancy if pair.certain else subject.advisory
    return told(pair.message, remedy=pair.remedy, cure=[_looked_at(*one) for one in pair.instead])


def _looked_at(path: DocPath, text: str) -> Edit:
    """The other of two statements, written once somebody has looked."""
    word = str(path[-1]).replace("_", " ")
    words = f"look at {path[1]}, and write {text} as its {word} if it is so"
    return Edit((Put(path, text),), words, f"the {word} of {path[1]} is told wrong", must_measure=True)


@rule(
    "route-agrees",
    title="A run or line goes from where one of its ends is to where the other is, and leaves out no zone",
    why="A route that ends elsewhere than its device leaves out the heat, the walls and the length of the way it does not name.",
    source=_ONE_FACT.format("place"),
    formula="first and last zone of the route = zones of its two ends; each barrier lies between the zones before and after it",
    example="a run to a gauge in the cabin whose route ends in the engine bay",
    over=routes.ways,
)
def route_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every run and line with a route; structure is everywhere, and what sits in a barrier is on both its sides.

    Of two zones that are open to each other and that the route passes both, a thing can be reached from either; that is
    advised only.
    """
    return _answer(subject, pair)


@rule(
    "length-agrees",
    title="The length of a run or line is the sum of its route, and no less than it rises",
    why="The resistance, the drop and the weight follow from the length; of two lengths one is wrong.",
    source=_ONE_FACT.format("length"),
    formula="length = sum of the route (with its slack or coil, if told), within the rounding of the figures written; rise <= length",
    example="90 ft, and a route of 9 ft",
    over=routes.extents,
)
def length_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every run and line that gives both; every line that gives how far it rises."""
    return _answer(subject, pair)


@rule(
    "height-agrees",
    title="A gauge or sender stands as high above its tap as the lines between them rise",
    why="The head of the liquid follows from the height; of two heights one is wrong, and the reading is off by the difference.",
    source=_ONE_FACT.format("height"),
    formula="elevation = sum of the rises on the way, within their rounding and 1.5 in a fitting (assumed); a line that tells no "
    "rise rises at most its length",
    example="'elevation: 0 in', and a hose from its tap that rises 14 in",
    over=heights.heights,
)
def height_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every gauge and sender that tells its elevation and is reached by one source through lines."""
    return _answer(subject, pair)


@rule(
    "load-agrees",
    title="The watts and the amperes of a load make a voltage the system can have",
    why="Wires, protectors and sources are judged by one of the two; if it is the wrong one they are too small.",
    source="plain physics: P = V I; range of a system: RTCA DO-160 section 16 (recalled)",
    formula="P / I between 9 and 15.15 V in a 14 V system, 18 and 30.3 V in a 28 V system",
    example="20 A and 14 W: 0.7 V",
    over=figures.loads,
)
def load_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every load that gives both."""
    return _answer(subject, pair)


@rule(
    "bundle-agrees",
    title="A bundle holds at least the runs that lie in it, and none of them lies alone",
    why="A wire in a bundle may carry less, the more wires lie with it; a count too small lets it carry too much.",
    source="plain physics: the runs listed are in it",
    formula="wires of the bundle >= runs whose bundle it is",
    example="'wires: 2' and eight runs",
    over=figures.bundles,
)
def bundle_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every bundle that gives its number of wires."""
    return _answer(subject, pair)


@rule(
    "tube-agrees",
    title="The wall and the bore of a tube or hose fit its outside diameter",
    why="Burst pressure, flow and weight follow from these three; of figures that cannot be together one is wrong.",
    source=_ONE_FACT.format("size"),
    formula="bore = outside diameter - 2 walls, and more than nothing",
    example="a wall of 0.2 in in a tube of 0.25 in",
    over=figures.tubes,
)
def tube_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every line that gives its outside diameter and its wall or bore."""
    return _answer(subject, pair)


@rule(
    "burst-agrees",
    title="A line bursts at no less than the pressure it is rated to work at",
    why="A line that bursts below its rating either bursts in service, or one of the two figures is that of another line.",
    source="plain physics: what has burst bears no pressure",
    formula="burst pressure >= working pressure",
    example="a hose rated 1000 psi that bursts at 150 psi",
    over=figures.ratings,
)
def burst_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every line that gives both."""
    return _answer(subject, pair)


@rule(
    "limits-in-order",
    title="The limits of an indication, both ends of an arc and the pressures of a tap rise in their order",
    why="A dial is marked and an error judged against these; a minimum above the maximum makes every reading right or none.",
    source="plain logic; limits and ranges: 14 CFR 23.1549 (recalled; sister 25.1549)",
    formula="minimum <= caution and normal range <= maximum; low <= high of each range and arc; pressure <= max_pressure of a tap; "
    "curve of a pressure sender to its full scale; of an engine least oil <= oil, normal range <= rated speed <= maximum, a seat a "
    "cylinder (advised)",
    example="oil pressure minimum 100 psi, maximum 25 psi",
    over=figures.ranges,
)
def limits_in_order(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every indication of an engine with two limits or more, every arc on a dial, and every tap with both pressures."""
    return _answer(subject, pair)


@rule(
    "fire-zone-agrees",
    title="A zone with exhaust parts and lines that burn is a fire zone",
    why="Lines, fittings and walls are asked to stand fire by what the zone is said to be.",
    source="14 CFR 23.1181 (recalled; same substance in 25.1181)",
    formula="hot parts and a flammable line in a zone: 'fire_zone: yes'",
    example="'fire_zone: no' of the space with the exhaust and the carburettor in it",
    over=places.fire_zones,
)
def fire_zone_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every zone that says whether it is a fire zone and holds both."""
    return _answer(subject, pair)


@rule(
    "firewall-agrees",
    title="A firewall parts a fire zone from the rest",
    why="If neither side is a fire zone nothing on them is judged as such; either the wall or a zone is told wrong.",
    source="14 CFR 23.1191 as before amendment 23-64 (recalled; same substance in 25.1191)",
    formula="one of the two zones of a firewall: 'fire_zone: yes'",
    example="a firewall between an engine bay with 'fire_zone: no' and the cabin",
    over=places.firewalls,
)
def firewall_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every firewall whose two zones say whether they are fire zones."""
    return _answer(subject, pair)


@rule(
    "place-agrees",
    title="A thing is in the zone of what it is fastened to",
    why="Heat, vibration and the way of its wires follow from where it is.",
    source=_ONE_FACT.format("place"),
    formula="zone of a thing = zone of the port it is screwed into, or of the body it is bolted to",
    example="a sender in the cabin bolted to the engine case",
    over=places.seats,
)
def place_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Everything screwed into, or grounded by its fastening to, a thing whose zone is told."""
    return _answer(subject, pair)


@rule(
    "location-agrees",
    title="A sender or probe senses where its tap is, and sits where its place says",
    why="A pressure taken at the pump or a temperature taken in the cabin is judged as what the word says it is.",
    source=_ONE_FACT.format("place"),
    formula="location of a sender = location of the tap that reaches it; a place holds what is measured there; a place on the engine "
    "is in no occupied zone, the firewall beside its own wall",
    example="a sender said to sense at the sump, and a hose to it from the gallery",
    over=locations.locations,
)
def location_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every sender with a location and every probe with a mount, where something else tells of the same place."""
    return _answer(subject, pair)


@rule(
    "label-agrees",
    title="The face of an indicator names what it shows",
    why="The pilot acts on what the face says: fuel pressure read off an oil pressure gauge keeps a failing engine running.",
    source="14 CFR 23.1301: labelled as to its function",
    formula="what the words of the label can stand for, with what the indicator shows among it",
    example="'FUEL PRESS' on the gauge of oil pressure",
    over=labels.labels,
)
def label_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every indicator whose label names something that is shown."""
    return _answer(subject, pair)


@rule(
    "point-agrees",
    title="An operating point is a state the aircraft can be in",
    why="Errors, drops and ampacities are worked out at the points; one beyond the ceiling or the range of a zone judges another "
    "aircraft.",
    source="plain logic: a range and a value in it",
    formula="altitude and elevation of the field <= ceiling; temperature of a zone within its range; one engine speed; readings within the limits (advised)",
    example="a bay at 150 degC at cruise, said to see 90 degC at most",
    over=states.points,
)
def point_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every altitude, zone temperature and reading of an operating point that something else bounds."""
    return _answer(subject, pair)


@rule(
    "strap-agrees",
    title="A strap resists at least as much as the wire it is made of",
    why="Ground offsets are worked out from it; a figure too small hides them all.",
    source="plain physics; resistance of the gauge: AC 43.13-1B table 11-9",
    formula="resistance >= resistance of its gauge and length, within 10 %",
    example="1 milliohm, and 10 ft of 10 AWG, which alone have 12.6 milliohm",
    over=states.straps,
)
def strap_agrees(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """Every strap that gives its resistance, gauge and length."""
    return _answer(subject, pair)
