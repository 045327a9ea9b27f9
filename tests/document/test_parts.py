"""The part library against the tables its figures come from, and against the models they must fill."""

import math
from collections import Counter
from pathlib import Path

import pytest

from installcheck.document.load import loads
from installcheck.document.parsing import read_file, read_source
from installcheck.document.parts import Library, Part, read_parts, standard_library
from installcheck.document.source import DocumentError
from installcheck.model.devices import IndicatorSpec, SenderSpec
from installcheck.model.fluid import FittingSpec, LineSpec
from installcheck.model.installation import SPECS
from installcheck.model.power import SupplySpec
from installcheck.model.things import Spec, TerminalSpec
from installcheck.model.wiring import JunctionSpec, WireSpec

FILES = sorted((Path(__file__).parents[2] / "parts").glob("*.yaml"))
KEYS = sorted(standard_library().parts)
FOOT = 0.3048
KILOFOOT = 1000 * FOOT
PSI = 6894.757293168
INCH = 0.0254


def part(key: str) -> Part:
    return standard_library().parts[key]


def spec(key: str, size: str | None = None) -> Spec:
    found = part(key)
    return SPECS[found.section].model_validate(found.figures(size))


def every_size(key: str) -> list[tuple[str | None, Spec]]:
    return [(size, spec(key, size)) for size in part(key).sizes or (None,)]


def of(section: str) -> list[str]:
    return [key for key in KEYS if part(key).section == section]


def test_the_files_read_without_a_problem() -> None:
    assert standard_library().problems == []
    assert {path.stem for path in FILES} >= {
        "wires",
        "senders",
        "indicators",
        "fluid_lines",
        "fittings",
        "junctions",
    }


@pytest.mark.parametrize("key", KEYS)
def test_every_part_in_every_size_fits_its_model(key: str) -> None:
    for size, made in every_size(key):
        assert made.title, (key, size)
        assert made.source, (key, size)


def test_no_key_is_in_two_files() -> None:
    counts = Counter(key for path in FILES for key in read_parts(read_file(path)).parts)
    assert [key for key, n in counts.items() if n > 1] == []
    assert len(counts) == len(KEYS)


def test_every_section_that_takes_parts_has_some() -> None:
    assert {part(key).section for key in KEYS} == set(SPECS)


def test_every_file_says_where_its_figures_come_from() -> None:
    for path in FILES:
        plain = read_file(path).plain
        assert isinstance(plain, dict)
        assert plain.get("title"), path
        assert plain.get("source"), path


# AC 43.13-1B Chg 1 table 11-9, ohm/1000 ft at 20 degC (it has no 26 AWG), and the AS22759 maxima, recalled.
AC_43_13 = {
    "24": 28.40, "22": 16.20, "20": 9.88, "18": 6.23, "16": 4.81, "14": 3.06, "12": 2.02, "10": 1.26, "8": 0.70,
    "6": 0.44, "4": 0.28, "2": 0.18, "1": 0.15, "0": 0.12, "2/0": 0.09, "3/0": 0.07, "4/0": 0.06,
}  # fmt: skip
AS22759_MAX = {
    "26": 41.3, "24": 26.2, "22": 16.2, "20": 9.88, "18": 6.23, "16": 4.81, "14": 3.06, "12": 2.02, "10": 1.26,
    "8": 0.701, "6": 0.445, "4": 0.28, "2": 0.183, "1": 0.149, "0": 0.116, "2/0": 0.091, "3/0": 0.071, "4/0": 0.056,
}  # fmt: skip
SAFER = {g: max(AC_43_13.get(g, 0.0), AS22759_MAX[g]) for g in AS22759_MAX}
CIRCULAR_MILS = {
    "26": 304, "24": 475, "22": 755, "20": 1216, "18": 1900, "16": 2426, "14": 3831, "12": 5874, "10": 9354, "8": 16983,
    "6": 26818, "4": 42615, "2": 66500, "1": 81700, "0": 104500, "2/0": 133000, "3/0": 166500, "4/0": 210900,
}  # fmt: skip
COPPER_WIRES = [
    "AS22759/16", "AS22759/32", "AS22759/34", "AS22759/41", "AS22759/43", "copper wire 150 degC", "copper wire 105 degC",
    "shielded cable 1 core", "shielded cable 2 core", "shielded cable 3 core", "twisted pair", "bonding strap",
]  # fmt: skip


@pytest.mark.parametrize("key", COPPER_WIRES)
def test_wire_resistance_is_the_higher_of_the_two_tables(key: str) -> None:
    for gauge, made in every_size(key):
        assert isinstance(made, WireSpec)
        assert gauge is not None
        assert made.resistance is not None
        assert made.resistance * KILOFOOT == pytest.approx(SAFER[gauge], rel=1e-9), gauge
        assert "recalled" in (made.source or "")


def test_the_sizes_from_26_to_4_0_all_exist() -> None:
    assert set(part("copper wire 150 degC").sizes) == set(AS22759_MAX)


def test_high_strength_alloy_resists_more_than_copper() -> None:
    # AS22759/33, recalled; no table of the AC covers the alloy.
    recalled = {"26": 44.8, "24": 28.4, "22": 17.5, "20": 10.7}
    for gauge, made in every_size("AS22759/33"):
        assert isinstance(made, WireSpec)
        assert made.resistance is not None
        assert made.resistance * KILOFOOT == pytest.approx(recalled[str(gauge)])
        assert made.resistance * KILOFOOT >= SAFER[str(gauge)]


@pytest.mark.parametrize(
    ("key", "metal", "rating_c"),
    [
        ("AS22759/16", "tin-plated copper", 150),
        ("AS22759/32", "tin-plated copper", 150),
        ("AS22759/34", "tin-plated copper", 150),
        ("AS22759/33", "high-strength copper alloy", 200),
        ("AS22759/41", "nickel-plated copper", 200),
        ("AS22759/43", "silver-plated copper", 200),
    ],
)
def test_wire_types(key: str, metal: str, rating_c: float) -> None:
    made = spec(key, "22")
    assert isinstance(made, WireSpec)
    assert made.metal == metal
    assert made.temperature_rating == pytest.approx(rating_c)
    assert made.voltage_rating == pytest.approx(600)


def test_wire_weight_and_diameter_are_the_stated_estimate() -> None:
    # 22 AWG: conductor 1.15 sqrt(755) = 31.60 mil, two walls of 14 mil: 59.6, given as 60 mil.
    # Copper 1.05 x 0.003027 x 755 = 2.400; insulation pi/4 (0.060^2 - 0.0316^2) in2 x 12000 in x 0.0650 lb/in3 = 1.594.
    made = spec("AS22759/16", "22")
    assert isinstance(made, WireSpec)
    assert made.outside_diameter == pytest.approx(0.060 * INCH)
    assert made.linear_weight is not None
    assert made.linear_weight * KILOFOOT / 0.45359237 == pytest.approx(2.400 + 1.594, abs=0.01)
    assert "estimated" in (made.source or "")


@pytest.mark.parametrize("key", of("wire_runs"))
def test_no_wire_is_lighter_than_its_copper_nor_thinner_than_its_conductor(key: str) -> None:
    for gauge, made in every_size(key):
        assert isinstance(made, WireSpec)
        if gauge is None or made.linear_weight is None or made.outside_diameter is None:
            continue
        bare = 0.003027 * CIRCULAR_MILS[gauge] * (len(made.legs or ()) or 1)
        assert made.linear_weight * KILOFOOT / 0.45359237 > bare, gauge
        assert made.outside_diameter > math.sqrt(CIRCULAR_MILS[gauge]) / 1000 * INCH, gauge


def test_shielded_cables_name_their_cores() -> None:
    for n in (2, 3):
        made = spec(f"shielded cable {n} core", "22")
        assert isinstance(made, WireSpec)
        assert list(made.legs or ()) == list("ABC"[:n])
        assert made.shielded
        assert made.shield_resistance is not None


# Ohm per double foot at 20 degC, solid wire: public thermocouple-wire table.
LOOPS = {
    "J": {"14": 0.091, "16": 0.145, "18": 0.234, "20": 0.367, "22": 0.584, "24": 0.928, "26": 1.476},
    "K": {"14": 0.147, "16": 0.233, "18": 0.376, "20": 0.589, "22": 0.937, "24": 1.490, "26": 2.369},
    "E": {"14": 0.177, "16": 0.281, "18": 0.453, "20": 0.709, "22": 1.129, "24": 1.795, "26": 2.853},
    "T": {"14": 0.076, "16": 0.120, "18": 0.194, "20": 0.304, "22": 0.483, "24": 0.768, "26": 1.221},
    "N": {"14": 0.195, "16": 0.310, "18": 0.500, "20": 0.783, "22": 1.245, "24": 1.980, "26": 3.148},
}
LEGS = {
    "J": ("iron", "constantan"),
    "K": ("chromel", "alumel"),
    "E": ("chromel", "constantan"),
    "T": ("copper", "constantan"),
    "N": ("nicrosil", "nisil"),
}
# Positive and negative conductor: ASTM E230, IEC 60584-3, US military aircraft leads (None: no colour found).
COLOURS = {
    "J": (("white", "red"), ("black", "white"), ("black", "yellow")),
    "K": (("yellow", "red"), ("green", "white"), ("white", "green")),
    "E": (("purple", "red"), ("violet", "white"), (None, None)),
    "T": (("blue", "red"), ("brown", "white"), ("red", "yellow")),
    "N": (("orange", "red"), ("pink", "white"), (None, None)),
}


@pytest.mark.parametrize("grade", ["thermocouple", "extension"])
@pytest.mark.parametrize("couple", LOOPS)
def test_thermocouple_lead_resistance(couple: str, grade: str) -> None:
    key = f"{grade} lead {couple}"
    assert set(part(key).sizes) == set(LOOPS[couple])
    for gauge, made in every_size(key):
        assert isinstance(made, WireSpec)
        assert (made.thermocouple, made.grade) == (couple, grade)
        if couple == "N":  # no figure of a single nicrosil or nisil leg is published
            loop = made.loop_length_resistance
        else:
            legs = [leg.resistance for leg in (made.legs or {}).values()]
            loop = sum(r for r in legs if r is not None)  # type: ignore[assignment]
            assert len(legs) == 2
        assert loop is not None
        # the copper leg is computed to five digits, the table is rounded to three decimals
        assert loop * FOOT == pytest.approx(LOOPS[couple][str(gauge)], abs=6e-4), gauge


@pytest.mark.parametrize(
    "key", [k for k in of("wire_runs") if k.startswith(("thermocouple lead", "extension lead"))]
)
def test_thermocouple_lead_metals_and_colours(key: str) -> None:
    for gauge, made in every_size(key):
        assert isinstance(made, WireSpec)
        assert made.thermocouple is not None
        assert list(made.legs or ()) == ["+", "-"]
        plus, minus = (made.legs or {}).values()
        assert (plus.metal, minus.metal) == LEGS[made.thermocouple]
        us, iec, military = COLOURS[made.thermocouple]
        assert (plus.colour_us, minus.colour_us) == us, gauge
        assert (plus.colour_iec, minus.colour_iec) == iec, gauge
        assert (plus.colour_military, minus.colour_military) == military, gauge


@pytest.mark.parametrize("feet", [25, 50, 100])
def test_lead_made_to_a_loop_resistance(feet: int) -> None:
    made = spec(f"thermocouple lead K 7 ohm per {feet} ft")
    assert isinstance(made, WireSpec)
    assert made.loop_length_resistance is not None
    assert made.loop_length_resistance * feet * FOOT == pytest.approx(7.0)  # MIL-DTL-5846D para 1.2


def names_of(made: TerminalSpec) -> list[str]:
    names = [*(made.terminals or ()), *(made.ports or ())]
    if isinstance(made, JunctionSpec):
        names += list(made.pins or ())
    if isinstance(made, IndicatorSpec):
        names += [
            n for one in (made.inputs or {}).values() for n in (*(one.terminals or ()), *(one.ports or ()))
        ]
        names += list(made.supply_terminals or ())
    return names


@pytest.mark.parametrize("key", [k for k in KEYS if part(k).section not in ("wire_runs", "fluid_lines")])
def test_every_device_names_its_terminals_once(key: str) -> None:
    for size, made in every_size(key):
        assert isinstance(made, TerminalSpec)
        names = names_of(made)
        if key in ("bus bar", "stud"):  # any number of terminals, named by what is fastened to them
            assert names == []
            continue
        assert names, (key, size)
        assert len(set(names)) == len(names), (key, size)
        assert not [n for n in names if "." in n], (key, size)


@pytest.mark.parametrize("key", of("probes"))
def test_probes_have_a_positive_and_a_negative_terminal(key: str) -> None:
    made = spec(key)
    assert isinstance(made, TerminalSpec)
    assert made.terminals == ["+", "-"]


@pytest.mark.parametrize("key", of("fittings"))
def test_the_ends_of_a_fitting_are_its_ports(key: str) -> None:
    for size, made in every_size(key):
        assert isinstance(made, FittingSpec)
        assert made.ports
        assert set(made.ends or made.ports) == set(made.ports), size
        assert made.fireproof is not None
        if made.material == "aluminium":
            assert made.fireproof is False


@pytest.mark.parametrize("key", [k for k in of("senders") if "transducer" in k])
def test_transducers_span_their_output(key: str) -> None:
    low, high = (0.004, 0.020) if "mA" in key else (0.5, 4.5)
    for size, made in every_size(key):
        assert isinstance(made, SenderSpec)
        assert made.curve is not None
        assert made.curve.points is not None
        (first, zero), (last, top) = made.curve.points
        assert first == pytest.approx(0), size
        assert zero == pytest.approx(low), size
        assert top == pytest.approx(high), size
        assert last == made.full_scale
        assert last.text.lower() == size


@pytest.mark.parametrize("key", ["breaker", "switch breaker", "fuse", "current limiter"])
def test_the_rating_of_a_protector_is_its_size(key: str) -> None:
    for size, made in every_size(key):
        assert isinstance(made, SupplySpec)
        assert made.rating is not None
        assert made.rating.text.lower() == size


def test_breakers_come_from_1_to_70_ampere() -> None:
    ratings = [made.rating for _, made in every_size("breaker") if isinstance(made, SupplySpec)]
    assert (min(r for r in ratings if r), max(r for r in ratings if r)) == (1.0, 70.0)
    # every breaker AC 43.13-1B table 11-3 pairs with a wire up to 10 AWG
    assert {5.0, 7.5, 10.0, 15.0, 20.0, 30.0, 40.0} <= set(ratings)


def steinhart_hart(key: str, celsius: float) -> float:
    """Resistance by bisection on the coefficients the part carries."""
    made = spec(key)
    assert isinstance(made, SenderSpec)
    assert made.curve is not None
    assert made.curve.steinhart_hart is not None
    a, b, c = made.curve.steinhart_hart
    low, high = 0.0, 16.0
    for _ in range(80):
        middle = (low + high) / 2
        if 1 / (a + b * middle + c * middle**3) - 273.15 > celsius:
            low = middle
        else:
            high = middle
    return math.exp(low)


@pytest.mark.parametrize(
    ("size", "celsius", "ohm"),
    [
        # B law by hand: R = R25 exp(B (1/T - 1/298.15 K))
        ("2 kohm", 25, 2000),
        ("2 kohm", 100, 188.94),  # 3500 (1/373.15 - 1/298.15) = -2.35945, exp = 0.094472
        ("2 kohm", -40, 52770),  # 3500 (1/233.15 - 1/298.15) = 3.27274, exp = 26.383
        ("10 kohm", 25, 10000),
        ("10 kohm", 100, 697.5),  # 3950 (1/373.15 - 1/298.15) = -2.66281, exp = 0.069752
    ],
)
@pytest.mark.parametrize("wires", ["", " two wire"])
def test_a_thermistor_follows_the_b_law(wires: str, size: str, celsius: float, ohm: float) -> None:
    assert steinhart_hart(f"thermistor sender {size}{wires}", celsius) == pytest.approx(ohm, rel=2e-4)


def test_no_curve_of_one_maker_stands_in_the_library() -> None:
    """Every curve is a law, a standard's or in round figures: at most three digits that count."""
    odd = []
    for key, part in standard_library().parts.items():
        for figures in (part.raw, *part.sizes.values()):
            curve = figures.get("curve")
            points = curve.get("points") if isinstance(curve, dict) else None
            for value in (v for point in points or () for v in point):
                digits = str(value).split(" ", maxsplit=1)[0].replace(".", "").strip("-0")
                if len(digits) > 3:
                    odd.append((key, value))
    assert odd == []


@pytest.mark.parametrize(
    ("key", "terminals", "case_return"),
    [
        ("resistance bulb nickel 90.38", ["A", "B"], None),
        ("resistance bulb nickel 90.38 three lead", ["A", "B", "C"], None),
        ("thermistor sender 2 kohm", ["S"], True),
        ("synchro transmitter", ["S1", "S2", "S3", "R1", "R2"], None),
        ("tachometer generator three wire", ["1", "2", "3"], None),
    ],
)
def test_sender_terminals(key: str, terminals: list[str], case_return: bool | None) -> None:
    made = spec(key)
    assert isinstance(made, SenderSpec)
    assert (made.terminals, made.case_return) == (terminals, case_return)


@pytest.mark.parametrize("ohm", [2, 8])
def test_moving_coil_indicators_state_their_loop_but_no_invented_inner_resistance(ohm: int) -> None:
    for key in [k for k in of("indicators") if k.startswith("moving-coil") and f" {ohm} ohm " in k]:
        made = spec(key)
        assert isinstance(made, IndicatorSpec)
        assert made.loop_resistance == pytest.approx(ohm)
        assert made.inner_resistance is None


@pytest.mark.parametrize("cylinders", [4, 6])
def test_engine_monitor_shows_every_cylinder(cylinders: int) -> None:
    made = spec(f"electronic engine monitor {cylinders} cylinder")
    assert isinstance(made, IndicatorSpec)
    for word in ("CHT", "EGT"):
        shown = [one.cylinders for name, one in (made.inputs or {}).items() if name.startswith(word)]
        assert shown == [[n] for n in range(1, cylinders + 1)]


@pytest.mark.parametrize("couple", ["J", "K", "E", "T"])
@pytest.mark.parametrize("joint", ["terminal block", "plug", "splice"])
def test_thermocouple_joints_are_of_the_metals_they_join(joint: str, couple: str) -> None:
    plus, minus = LEGS[couple]
    for size, made in every_size(f"thermocouple {joint} {couple}"):
        assert isinstance(made, JunctionSpec)
        for name, pin in (made.pins or {}).items():
            assert pin.metal == (plus if name.endswith("+") else minus), (size, name)


def test_selector_positions() -> None:
    for size, made in every_size("thermocouple selector switch"):
        assert isinstance(made, JunctionSpec)
        n = int(str(size).split()[0])
        assert made.terminals == [
            "common +",
            "common -",
            *(f"{i} {p}" for i in range(1, n + 1) for p in "+-"),
        ]


@pytest.mark.parametrize(("size", "amps"), [("22D", 5.0), ("20", 7.5), ("16", 13.0), ("12", 23.0)])
def test_contact_currents(size: str, amps: float) -> None:
    for _, made in every_size(f"plug size {size} contacts"):
        assert isinstance(made, JunctionSpec)
        assert (made.contact_size, made.max_current) == (size, amps)  # AS39029 family, recalled


# Lowest tensile strength [psi], recalled typical specification minimum.
@pytest.mark.parametrize(
    ("key", "strength"),
    [("tube 5052-O", 25000), ("tube 6061-T6", 42000), ("tube 304 stainless", 75000), ("tube copper", 30000)],
)
def test_tube_pressures_are_barlows(key: str, strength: float) -> None:
    for size, made in every_size(key):
        assert isinstance(made, LineSpec)
        assert made.outside_diameter is not None
        assert made.wall is not None
        assert made.burst_pressure is not None
        assert made.rated_pressure is not None
        outside, wall = made.outside_diameter / INCH, made.wall / INCH
        over, thick = str(size).split(" x ")
        top, bottom = over.split("/")
        assert outside == pytest.approx(int(top) / int(bottom)), size
        assert wall == pytest.approx(float(thick)), size
        assert made.burst_pressure / PSI == pytest.approx(2 * strength * wall / outside, abs=0.6), size
        assert made.rated_pressure == pytest.approx(made.burst_pressure / 4, abs=0.6 * PSI)


def test_quarter_inch_tube() -> None:
    # 1/4 x 0.035: 2 x 25000 x 0.035 / 0.25 = 7000 psi; a quarter is 1750 psi. pi (0.25 - 0.035) 0.035 in2 = 15.25 mm2,
    # times 2680 kg/m3 = 40.9 g/m. Bend 9/16 in and supports 13.5 in: AC 43.13-1B, recalled.
    made = spec("tube 5052-O", "1/4 x 0.035")
    assert isinstance(made, LineSpec)
    assert made.burst_pressure == pytest.approx(7000 * PSI)
    assert made.rated_pressure == pytest.approx(1750 * PSI)
    assert made.linear_weight == pytest.approx(0.0409, abs=0.0001)
    assert made.min_bend_radius == pytest.approx(9 / 16 * INCH)
    assert made.support_spacing == pytest.approx(13.5 * INCH)


# AC 43.13-1B table 9-3: hose inside diameter [in], operating and burst pressure [psi], bend radius [in].
HOSE = {
    "-3": (1 / 8, 3000, 12000, 3.00),
    "-4": (3 / 16, 3000, 12000, 3.00),
    "-5": (1 / 4, 3000, 10000, 3.38),
    "-6": (5 / 16, 2000, 9000, 4.00),
    "-8": (13 / 32, 2000, 8000, 4.63),
    "-10": (1 / 2, 1750, 7000, 5.50),
    "-12": (5 / 8, 1750, 6000, 6.50),
}


def test_rubber_hose() -> None:
    assert set(part("hose MIL-H-8794").sizes) == set(HOSE)
    for size, made in every_size("hose MIL-H-8794"):
        assert isinstance(made, LineSpec)
        bore, operating, burst, bend = HOSE[str(size)]
        assert made.bore == pytest.approx(bore * INCH)
        assert made.rated_pressure == pytest.approx(operating * PSI)
        assert made.burst_pressure == pytest.approx(burst * PSI)
        assert made.min_bend_radius == pytest.approx(bend * INCH)
        assert made.fire == "none"


def test_no_aluminium_line_is_called_fire_resistant() -> None:
    for key in of("fluid_lines"):
        for _, made in every_size(key):
            assert isinstance(made, LineSpec)
            if "aluminium" in (made.material or ""):
                assert made.fire == "none"


def test_restrictor_bore_is_its_size() -> None:
    for key in ("restrictor fitting steel", "restrictor fitting aluminium", "restrictor union steel"):
        assert "0.040 in" in part(key).sizes
        for size, made in every_size(key):
            assert isinstance(made, FittingSpec)
            assert made.bore is not None
            assert made.bore.text == size


DOCUMENT = """
installation: {name: parts by size}
supplies: {oil breaker: {part: breaker, size: 5 A}}
senders: {oil sender: {part: pressure transducer 0.5-4.5 V, size: 100 psi}}
indicators: {fuel gauge: {part: direct fuel pressure gauge}}
junctions: {selector: {part: thermocouple selector switch, size: 4 position}}
fittings: {tap restrictor: {part: restrictor fitting steel, size: 0.040 in}, tee: {part: tee AN824 steel, size: -4}}
wire_runs: {W1: {part: AS22759/16, gauge: 22 AWG, from: oil breaker.out, to: oil sender.+}}
fluid_lines: {L1: {part: tube 5052-O, size: 1/4 x 0.035, from: tap restrictor.out, to: fuel gauge.P}}
"""


def test_a_document_takes_parts_by_their_size() -> None:
    model = loads(DOCUMENT).installation
    assert model.supplies["oil breaker"].spec.rating == 5.0
    assert model.senders["oil sender"].spec.full_scale == pytest.approx(100 * PSI)
    assert model.junctions["selector"].spec.terminals is not None
    assert model.fittings["tap restrictor"].spec.bore == pytest.approx(0.040 * INCH)
    assert model.wire_runs["W1"].spec.resistance == pytest.approx(16.2 / KILOFOOT)
    assert model.fluid_lines["L1"].spec.wall == pytest.approx(0.035 * INCH)


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("part: breaker, size: 6 A", "does not come in '6 A'"),
        ("part: breaker", "needs its size"),
        ("part: braker, size: 5 A", "did you mean 'breaker'"),
        ("part: AS22759/16", "belongs under wire_runs"),
    ],
)
def test_a_size_or_part_that_is_not_there(written: str, told: str) -> None:
    with pytest.raises(DocumentError) as bad:
        loads(f"installation: {{name: wrong}}\nsupplies: {{cb: {{{written}}}}}\n")
    assert told in str(bad.value)


def test_a_part_file_of_ones_own_is_told_what_is_wrong_with_it() -> None:
    text = b"colour: blue\nparts:\n  a: {for: wings}\n  b: 3\n  c: {for: probes, title: mine}\n"
    library: Library = read_parts(read_source(text, "mine.yaml"))
    assert list(library.parts) == ["c"]
    assert [(p.place.line, p.text) for p in library.problems] == [(1, "colour"), (3, "wings"), (4, "b")]
