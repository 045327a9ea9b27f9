"""Kinds of quantity, and the spellings of their units."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from ..dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity: its name, its SI unit, and each accepted spelling with the full name of the unit.

    Of several spellings of one unit the first is the one shown.

    Attributes:
        least: smallest size in SI that is not zero; below it no instrument of an aircraft tells it from zero.
        most: largest size in SI that anything on an aircraft has, with room above.
    """

    name: str
    si: str
    units: Mapping[str, str]
    example: str
    least: float
    most: float
    signed: bool = False

    def shown(self, spelling: str) -> str:
        """The spelling in which a unit is shown: ``degF`` for ``°F``."""
        name = self.units[spelling]
        return next(u for u, n in self.units.items() if n == name and u not in OTHER_SPELLINGS)


_ALSO = {
    "ft": "FT;Ft;ft.;Feet;Foot",
    "in": "IN;In;in.;Inch;Inches",
    "degF": "deg F;degree F;degrees F;deg. F;ºF;° F;F°",
    "degC": "deg C;degree C;degrees C;deg. C;ºC;° C;C°",
    "psi": "PSI;Psi;p.s.i.;lb/in2;lb/sq in",
    "inHg": "in Hg;in. Hg;in.Hg;inhg;INHG;InHg;IN HG",
    "bar": "Bar;BAR",
    "V": "v;Volt;Volts;VDC;V DC;V dc;Vdc;volts DC",
    "A": "Amp;Amps;AMP;AMPS;ampere;amperes;Ampere;Amperes",
    "ohm": "Ohm;Ohms;OHM;OHMS",
    "kohm": "kOhm;kilohm;kilohms",
    "W": "w;Watt;Watts",
    "hp": "HP;bhp",
    "rpm": "RPM;Rpm;r.p.m.;R.P.M.;revs/min",
    "Hz": "hz;HZ;cps",
    "gal": "gals;Gal;US gal;U.S. gal;US gallon;US gallons",
    "qt": "qts;qt.;US qt",
    "gal/h": "GPH;Gph;gal/hour;gallons per hour;gallons/hour;US gal/h;US gph",
    "lb": "LB;Lb;LBS;Lbs;lb.;lbs.;pound;pounds",
    "oz": "OZ;Oz;oz.;ounce;ounces",
    "h": "hrs;Hours",
    "Ah": "AH;Amp hours;amp hours;ampere hours;A h",
    "%": "per cent;pct",
    "kt": "knot;knots;KT;kts",
}
"""Other spellings a person uses, by the unit's own; none that could be taken for another unit of any kind."""
OTHER_SPELLINGS = frozenset(o for also in _ALSO.values() for o in also.split(";"))


def _kind(
    name: str, si: str, units: str, example: str, bounds: tuple[float, float], *, signed: bool = False
) -> Kind:
    pairs = (word.split("=") if "=" in word else (word, word) for word in units.split(";"))
    spelled = {k.strip(): v.strip() for k, v in pairs}
    others = {o: spelled[u] for u, also in _ALSO.items() if u in spelled for o in also.split(";")}
    return Kind(name, si, MappingProxyType({**others, **spelled}), example, *bounds, signed)


_LENGTH = (
    "ft=foot;in=inch;m=meter;mm=millimeter;cm=centimeter;km=kilometer;foot;feet=foot;inch;inches=inch;"
    "'=foot;\"=inch;′=foot;″=inch"
)
_PRESSURE = "psi=psi;inHg=inHg_32F;kPa=kilopascal;bar=bar;mbar=millibar;hPa=hectopascal;Pa=pascal;MPa=megapascal;mmHg=mmHg"
_MASS = "lb=pound;oz=ounce;g=gram;kg=kilogram;lbs=pound"

KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        k.name: k
        for k in (
            _kind("length", "meter", _LENGTH, "12 ft 6 in", (1e-06, 100000.0)),
            _kind("station", "meter", _LENGTH, "42.5 in", (1e-06, 100000.0), signed=True),
            _kind(
                "temperature",
                "degC",
                "degF;degC;K=kelvin;F=degF;C=degC;°F=degF;°C=degC",
                "180 degF",
                (0.0, 5000.0),
                signed=True,
            ),
            _kind(
                "temperature difference",
                "delta_degC",
                "degF=delta_degF;degC=delta_degC;K=kelvin;F=delta_degF;C=delta_degC;°F=delta_degF;°C=delta_degC",
                "10 degF",
                (0.0001, 5000.0),
            ),
            _kind("pressure", "pascal", _PRESSURE, "25 psi", (0.01, 1000000000.0), signed=True),
            _kind(
                "voltage",
                "volt",
                "V=volt;mV=millivolt;kV=kilovolt;uV=microvolt;µV=microvolt;μV=microvolt;volt;volts=volt",
                "14 V",
                (1e-09, 100000.0),
                signed=True,
            ),
            _kind(
                "current",
                "ampere",
                "A=ampere;mA=milliampere;uA=microampere;µA=microampere;μA=microampere;amp=ampere;amps=ampere",
                "350 mA",
                (1e-12, 100000.0),
                signed=True,
            ),
            _kind(
                "resistance",
                "ohm",
                "ohm;kohm=kiloohm;Mohm=megaohm;milliohm;microohm;ohms=ohm;mohm=milliohm;Ω=ohm;\u2126=ohm;kΩ=kiloohm;MΩ=megaohm;mΩ=milliohm",
                "0.6 ohm",
                (1e-06, 1000000000000.0),
            ),
            _kind(
                "power",
                "watt",
                "W=watt;kW=kilowatt;mW=milliwatt;hp=horsepower;watt;watts=watt",
                "28 W",
                (1e-09, 10000000.0),
            ),
            _kind("speed", "rpm", "rpm;rev/min=rpm;r/min=rpm", "2700 rpm", (0.001, 1000000.0)),
            _kind("frequency", "hertz", "Hz=hertz;kHz=kilohertz", "400 Hz", (0.001, 10000000000.0)),
            _kind(
                "time",
                "second",
                "s=second;min=minute;h=hour;d=day;months=month;years=year;ms=millisecond;hr=hour;hours=hour;hour;minutes=minute;seconds=second;days=day;day;month;year",
                "2.5 h",
                (1e-06, 10000000000.0),
            ),
            _kind(
                "volume",
                "meter**3",
                "qt=quart;gal=gallon;L=liter;mL=milliliter;cm3=centimeter**3;m3=meter**3;in3=inch**3;quart;quarts=quart;gallon;gallons=gallon;l=liter;ml=milliliter",
                "6 qt",
                (1e-12, 1000.0),
            ),
            _kind(
                "flow",
                "meter**3/second",
                "gal/h=gallon/hour;L/min=liter/minute;L/h=liter/hour;qt/min=quart/minute;gph=gallon/hour;gal/hr=gallon/hour;l/min=liter/minute;l/h=liter/hour",
                "10 gal/h",
                (1e-12, 10.0),
            ),
            _kind("mass", "kilogram", _MASS, "1.2 lb", (1e-09, 1000000.0)),
            _kind(
                "angle",
                "degree",
                "deg=degree;degrees=degree;°=degree",
                "37 deg",
                (1e-06, 10000.0),
                signed=True,
            ),
            _kind("ratio", "dimensionless", "%=percent;percent", "2 %", (1e-09, 1000.0)),
            _kind("charge", "ampere_hour", "Ah=ampere_hour;A.h=ampere_hour", "24 Ah", (1e-3, 1e5)),
            _kind(
                "resistance per length",
                "ohm/meter",
                "ohm/1000 ft=ohm/kilofoot;ohm/ft=ohm/foot;ohm/m=ohm/meter;ohm/km=ohm/kilometer",
                "16.2 ohm/1000 ft",
                (1e-07, 10000000.0),
            ),
            _kind(
                "mass per length",
                "kilogram/meter",
                "lb/1000 ft=pound/kilofoot;lb/ft=pound/foot;g/m=gram/meter;kg/km=kilogram/kilometer",
                "2.6 lb/1000 ft",
                (1e-08, 1000.0),
            ),
            _kind(
                "airspeed",
                "meter/second",
                "kt=knot;kn=knot;mph=mile/hour;km/h=kilometer/hour;m/s=meter/second",
                "90 kt",
                (0.001, 1000.0),
            ),
            _kind(
                "dissipation",
                "watt/delta_degC",
                "mW/degC=milliwatt/delta_degC;W/degC=watt/delta_degC;mW/°C=milliwatt/delta_degC;W/°C=watt/delta_degC",
                "5 mW/degC",
                (1e-09, 10000.0),
            ),
            _kind(
                "torque",
                "newton*meter",
                "in-lb=inch*pound_force;ft-lb=foot*pound_force;N.m=newton*meter",
                "60 in-lb",
                (1e-06, 100000.0),
            ),
        )
    }
)

READINGS = ("temperature", "pressure", "speed", "flow", "volume", "voltage", "current", "ratio", "angle")
"""Kinds an engine indication can be in."""
DIFFERENCES = ("temperature difference", *READINGS[1:])
"""Kinds a difference of two indications can be in."""
