"""What a document can leave unsaid, in one wording each: the catalogue that every 'cannot be judged' is made from.

Grouped by the section that would say it, in alphabetical order. A rule or a computation that lacks a fact names the
entry of this module; a fact has one entry, however many ask for it.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import Final


class Missing(str):
    """A fact a document does not give: words that do not name the item ('route of the run'), and where it is said.

    Attributes:
        section: section of the document that says it; empty where several could.
        field: word under an item of that section, or ``word.word``; empty where it is a whole item.
    """

    __slots__ = ("field", "section")
    section: str
    field: str

    def __new__(cls, words: str, section: str = "", field: str = "") -> Missing:
        made = super().__new__(cls, words)
        made.section, made.field = section, field
        return made


def without(facts: Iterable[str]) -> str:
    """Facts as what a judgement lacks.

    >>> without(["route of the run", "whether the engine is turbocharged"])
    'without the route of the run and without knowing whether the engine is turbocharged'
    """
    told = (f"without {'knowing' if fact.startswith('whether') else 'the'} {fact}" for fact in facts)
    return " and ".join(told).replace(" and without the ", " and the ")


CARRIER_BEND: Final = Missing("smallest bend radius of the run or its bundle", "", "bend_radius")
CARRIER_CLEARANCES: Final = Missing(
    "clearances of the run or its bundle: what it passes and how far off ('clearances: []' if nothing)",
    "",
    "clearances",
)
CARRIER_CONDUIT: Final = Missing(
    "conduit the run or its bundle lies in ('conduit: {kind: metal, bore: 0.5 in}')", "", "conduit"
)
CARRIER_CONDUIT_BORE: Final = Missing("bore of the conduit", "", "conduit.bore")
CARRIER_CONDUIT_RATING: Final = Missing(
    "highest temperature of the conduit", "", "conduit.temperature_rating"
)
CARRIER_DIAMETER: Final = Missing(
    "outside diameter of the bundle, or of the wire that lies alone", "", "outside_diameter"
)
CARRIER_SUPPORT: Final = Missing("support of the run or its bundle ('supported_by')", "", "supported_by")
CARRIER_SUPPORT_SPACING: Final = Missing(
    "distance between supports of the run or its bundle", "", "support_spacing"
)
CLAMPING: Final = Missing("clamping of wires and line ('clamped: yes' or 'no')", "", "clearances.clamped")
CLEARANCE_COMPASS: Final = Missing("distance to the compass", "", "clearances.distance")
CLEARANCE_NOISE: Final = Missing("smallest distance to the lead that makes noise", "", "clearances.distance")
CLEARANCE_TO_CONTROL: Final = Missing("smallest distance to the control or edge", "", "clearances.distance")
CLEARANCE_TO_EXHAUST: Final = Missing("clearance to the exhaust parts of its zone", "", "clearances")
CLEARANCE_TO_FLAMMABLE_LINES: Final = Missing(
    "clearance to the flammable lines of its zone", "", "clearances"
)
CLEARANCE_TO_HOT_PART: Final = Missing("smallest distance to the hot part", "", "clearances.distance")
CLEARANCE_TO_LINE: Final = Missing("smallest distance to the flammable line", "", "clearances.distance")
DISPUTED: Final = Missing("which of two statements that disagree is right")
INDICATOR_ERROR_DATA: Final = Missing("data of the circuit that the error depends on")
LINE_POSITION: Final = Missing("position of the wires, above or below the line", "", "clearances.position")
MEASURED_PARTS: Final = Missing("resistance of every part between the two terminals")
TOLERANCE_OF_KIND: Final = Missing("tolerance or accuracy in the unit of the indication")
SENDER_OR_LOOP_RESISTANCE: Final = Missing("resistance of the part, or the loop it is in")
STACK: Final = Missing("stack of the stud from the bottom up, washers and nuts included", "", "stack")
STACK_NAMES: Final = Missing("names of the terminals in the stack", "", "stack")
PART_ZONE: Final = Missing("zone of the part", "", "zone")
PART_TEMPERATURE_RATING: Final = Missing("temperature rating of the part", "", "temperature_rating")
PORT_ELEVATION: Final = Missing("height of the gauge or sender above its tap ('elevation')", "", "elevation")
AIRCRAFT_BASIS: Final = Missing("certification basis of the aircraft", "aircraft", "basis")
AIRCRAFT_OPERATION: Final = Missing("kinds of operation of the aircraft", "aircraft", "operation")
AIRCRAFT_REQUIRED: Final = Missing(
    "indications its papers require ('required' of the aircraft)", "aircraft", "required"
)
CEILING: Final = Missing("highest operating altitude of the aircraft", "aircraft", "ceiling")
LOAD_MONITORED: Final = Missing(
    "placard or monitor that keeps the load within the rating ('load_monitored: yes' or 'no')",
    "aircraft",
    "load_monitored",
)
SYSTEM_VOLTAGE: Final = Missing("system voltage of the aircraft", "aircraft", "system_voltage")
SYSTEM_VOLTAGE_OF_TABLE: Final = Missing(
    "system voltage of table 11-6: 14, 28, 115 or 200 V", "aircraft", "system_voltage"
)
BARRIER_KIND: Final = Missing("sort of wall ('kind: firewall'...)", "barriers", "kind")
BARRIER_MATERIAL: Final = Missing(
    "material of the firewall, or 'fireproof: yes' on test", "barriers", "material"
)
BUNDLE_DRIP_LOOP: Final = Missing(
    "drip loop of the bundle ('drip_loop: yes' or 'no')", "bundles", "drip_loop"
)
BUNDLE_SHARE: Final = Missing("share of the bundle's current capacity in use", "bundles", "load_share")
BUNDLE_SIZE: Final = Missing(
    "number of wires in the bundle, those not in this document included", "bundles", "wires"
)
BUNDLE_SHARE_AGREE: Final = Missing(
    "share of the bundle's current capacity in use that agrees with the currents of its runs",
    "bundles",
    "load_share",
)
BUNDLE_WIRES_AGREE: Final = Missing(
    "number of wires in the bundle that agrees with the runs listed in it", "bundles", "wires"
)
BUNDLE_WIRES: Final = Missing(
    "number of wires in the bundle, or 'free_air: yes' for a run that lies alone", "bundles", "wires"
)
ENGINE_ALTITUDE: Final = Missing("whether it is an altitude engine", "engines", "altitude_engine")
ENGINE_COOLING: Final = Missing("cooling of the engine: air or liquid", "engines", "cooling")
ENGINE_COOLING_SPEED: Final = Missing(
    "whether cooling in climb was shown above the speed of best rate of climb ('cooled_above_climb_speed')",
    "engines",
    "cooled_above_climb_speed",
)
ENGINE_COWL_FLAPS: Final = Missing("cowl flaps of the engine, yes or no", "engines", "cowl_flaps")
ENGINE_DRIVE_SENSE: Final = Missing(
    "sense of the tachometer drive ('drive_sense' of the engine)", "engines", "drive_sense"
)
ENGINE_FUEL_FEED: Final = Missing("fuel feed: gravity or pump", "engines", "fuel_feed")
ENGINE_HIGHEST: Final = Missing("highest the engine is allowed ('maximum' of its limit)", "engines", "limits")
ENGINE_INDICATION_LIMITS: Final = Missing("engine limits of the indication", "engines", "limits")
ENGINE_LIMITS_OF_KIND: Final = Missing(
    "engine limits and readings in the kind of the scale", "engines", "limits"
)
ENGINE_LOWEST: Final = Missing("lowest the engine is allowed ('minimum' of its limit)", "engines", "limits")
ENGINE_MIXTURE: Final = Missing(
    "whether the mixture follows the altitude by itself", "engines", "automatic_mixture"
)
ENGINE_NORMAL_RANGE: Final = Missing("normal range of the indication", "engines", "limits")
ENGINE_PREHEAT_LIMIT: Final = Missing(
    "whether preheat can exceed an induction temperature limit", "engines", "preheat_limit"
)
ENGINE_PREHEAT_RISE: Final = Missing("heat rise the preheater can give", "engines", "preheat_rise")
ENGINE_PRESSURE_OIL: Final = Missing("whether the oil system is under pressure", "engines", "pressure_oil")
ENGINE_PROPELLER: Final = Missing(
    "whether the propeller can be controlled in flight", "engines", "controllable_propeller"
)
ENGINE_SPEED: Final = Missing("rated speed of the engine", "engines", "speed")
ENGINE_TURBOCHARGED: Final = Missing("whether the engine is turbocharged", "engines", "turbocharged")
ENGINE_CYLINDERS: Final = Missing("number of cylinders of the engine", "engines", "cylinders")
ENGINE_FUEL_PRESSURE_REFERENCE: Final = Missing(
    "place the fuel pressure limit applies at ('fuel_pressure_reference')",
    "engines",
    "fuel_pressure_reference",
)
ENGINE_HEAD_REFERENCE: Final = Missing(
    "place the head-temperature limit is measured at ('head_reference')", "engines", "head_reference"
)
ENGINE_NUMBERED_FROM: Final = Missing("end at which cylinder number 1 sits", "engines", "numbered_from")
ENGINE_SEATS: Final = Missing("seat of each cylinder number of the engine", "engines", "seats")
ENGINE_FIRING: Final = Missing("rated speed and cylinders of the engine", "engines", "speed")
FITTING_BORE: Final = Missing("bore of the restrictor", "fittings", "bore")
FITTING_ENDS: Final = Missing("form of each end of the fitting ('ends')", "fittings", "ends")
FITTING_FIRE: Final = Missing(
    "material of the fitting, or its fire rating ('fireproof')", "fittings", "material"
)
FITTING_MATERIAL: Final = Missing("material of the fitting", "fittings", "material")
FITTING_PORTS: Final = Missing("line, instrument or cap on each port of the fitting", "fittings")
FITTING_PRESSURE: Final = Missing("working pressure of the fitting", "fittings", "rated_pressure")
FITTING_ZONE: Final = Missing("zone of the fitting", "fittings", "zone")
CAPILLARY_HEIGHTS: Final = Missing(
    "height of the parts of the capillary that are colder than the bulb", "fluid_lines", "route"
)
GAUGE_LINE: Final = Missing("line from a tap to the gauge", "fluid_lines")
GAUGE_HEIGHT: Final = Missing(
    "height of the gauge above the bulb ('rise' of the line, or 'elevation' of the gauge)",
    "fluid_lines",
    "rise",
)
LINE_ROUTE: Final = Missing("route of the line with the length in each zone", "fluid_lines", "route")
PORT_LINE: Final = Missing(
    "line from the intake port to the sender, with its restrictor or damper", "fluid_lines"
)
CAPILLARY_BULB: Final = Missing("bulb the capillary is made on", "fluid_lines", "from")
LINE_WALL: Final = Missing(
    "outside diameter, wall and bore of the line that go together", "fluid_lines", "wall"
)
HOSE_DIAMETER: Final = Missing("outside diameter of the hose", "fluid_lines", "outside_diameter")
HOSE_FITTED: Final = Missing("date the hose was fitted or cured", "fluid_lines", "fitted")
HOSE_LIFE: Final = Missing("life of the hose from its papers", "fluid_lines", "life")
HOSE_SLACK: Final = Missing("slack of the hose", "fluid_lines", "slack")
LINE_BARRIER: Final = Missing(
    "barrier the line crosses in its route, and the fitting it crosses by", "fluid_lines", "route.barrier"
)
LINE_BEND: Final = Missing("smallest bend radius of the line", "fluid_lines", "bend_radius")
LINE_BENDS: Final = Missing("number of bends of the tube", "fluid_lines", "bends")
LINE_BORE: Final = Missing("bore of the line, or its outside diameter and wall", "fluid_lines", "bore")
LINE_BORE_BEHIND: Final = Missing("bore of the line behind it", "fluid_lines", "bore")
LINE_CLEARANCES: Final = Missing(
    "clearances of the line: what it passes and how far off ('clearances: []' if nothing)",
    "fluid_lines",
    "clearances",
)
LINE_COIL: Final = Missing(
    "radius of the coil that takes up the spare capillary", "fluid_lines", "coil_radius"
)
LINE_CROSSED_BY: Final = Missing(
    "fitting, grommet or hole the line crosses the barrier by", "fluid_lines", "route.through"
)
LINE_CROSSING_FITTING: Final = Missing(
    "fitting the line crosses the barrier by, with its material", "fluid_lines", "route.fitting"
)
LINE_CROSSING_SEAL: Final = Missing(
    "seal of the hole in the barrier, and its fire rating", "fluid_lines", "route.through"
)
LINE_DISTANCE: Final = Missing(
    "smallest distance to what the line passes", "fluid_lines", "clearances.distance"
)
LINE_DRAIN: Final = Missing(
    "drain of the line, or its rise all the way ('low_point_drain: yes' or 'no')",
    "fluid_lines",
    "low_point_drain",
)
LINE_END_FORM: Final = Missing("end form of the line", "fluid_lines", "end_form")
LINE_FEED: Final = Missing("bore and length of the lines it feeds, and its pressure", "fluid_lines", "bore")
LINE_FIRE: Final = Missing("material of the line, its fire rating or its sleeve", "fluid_lines", "fire")
LINE_FIRE_RATING: Final = Missing("material of the line, or its fire rating", "fluid_lines", "fire")
LINE_IN_REACH: Final = Missing(
    "bore, length and pressure of the line within what pipe friction is known for", "fluid_lines", "bore"
)
LINE_KIND: Final = Missing("kind of the line: tube, hose or capillary", "fluid_lines", "kind")
LINE_LEAST_BEND: Final = Missing(
    "least bend radius of the part ('min_bend_radius')", "fluid_lines", "min_bend_radius"
)
LINE_LEAST_BEND_OR_SIZE: Final = Missing(
    "least bend radius of the part ('min_bend_radius'), or its outside diameter and material",
    "fluid_lines",
    "min_bend_radius",
)
LINE_LENGTH: Final = Missing("length of the line", "fluid_lines", "length")
LINE_MARKING: Final = Missing("marking of the line ('marked: yes')", "fluid_lines", "marked")
LINE_MATERIAL: Final = Missing("material of the line", "fluid_lines", "material")
LINE_MEDIUM: Final = Missing(
    "tap the line takes its medium from, or the medium of the line", "fluid_lines", "medium"
)
LINE_OPEN_ENDS: Final = Missing(
    "closing of the line's end ('open_ends: capped' or 'open')", "fluid_lines", "open_ends"
)
LINE_PURPOSE: Final = Missing(
    "purpose of the line ('purpose': instrument, feed, return, drain, vent...)", "fluid_lines", "purpose"
)
LINE_RATED_PRESSURE: Final = Missing(
    "rated pressure of the line, or its material, outside diameter and wall", "fluid_lines", "rated_pressure"
)
LINE_SIZE: Final = Missing(
    "outside diameter and material of the line, or its own limit", "fluid_lines", "outside_diameter"
)
LINE_STRAIGHT: Final = Missing(
    "straight length of the line at its fittings", "fluid_lines", "straight_at_fittings"
)
LINE_STRAIN: Final = Missing(
    "strain of the tube at its nuts ('strained: yes' or 'no')", "fluid_lines", "strained"
)
LINE_SUPPORT_SPACING: Final = Missing(
    "distance between supports of the line", "fluid_lines", "support_spacing"
)
LINE_TAP: Final = Missing(
    "tap the line takes its medium from, or the port its fitting is screwed into", "fluid_lines", "from"
)
LINE_TEMPERATURE_RATING: Final = Missing(
    "temperature rating of the line", "fluid_lines", "temperature_rating"
)
ROUTE_END_ZONE: Final = Missing("zone of what the run or line ends at", "", "zone")
ENGINE_STRAP: Final = Missing("strap or wire from the engine case to the structure", "grounds")
GROUND_JOINS: Final = Missing("what the ground stud or bus is fastened to ('joins')", "grounds", "joins")
GROUND_RESISTANCE: Final = Missing("resistance of the ground strap or joint", "grounds", "resistance")
INDICATOR_ACCURACY: Final = Missing("accuracy of the indicator", "indicators", "accuracy")
INDICATOR_ACCURACY_OR_BUDGET: Final = Missing(
    "accuracy of the indicator, or its budget", "indicators", "accuracy"
)
INDICATOR_BRIDGE: Final = Missing(
    "bridge arms, detector resistance and balance point of the indicator", "indicators", "bridge_arm"
)
INDICATOR_BUDGET: Final = Missing("error budget of the indication ('budget')", "indicators", "budget")
INDICATOR_BUDGET_OF_KIND: Final = Missing(
    "error budget in the unit of the indication", "indicators", "budget"
)
INDICATOR_BULB_LEADS: Final = Missing(
    "number of bulb leads the indicator is made for ('bulb_leads')", "indicators", "bulb_leads"
)
INDICATOR_CURVE: Final = Missing("curve the indicator's dial is drawn for", "indicators", "curve")
INDICATOR_DIVISION: Final = Missing("smallest division of the dial", "indicators", "scale.division")
INDICATOR_DIVISION_OR_ACCURACY: Final = Missing(
    "smallest division of the dial, or accuracy of the indicator", "indicators", "scale.division"
)
SOURCE_ENGINE: Final = Missing("engine of the sender, probe or tap it reads ('engine')", "senders", "engine")
INDICATOR_ENGINE_RATIO: Final = Missing(
    "engine revolutions for one of the generator that the indicator is made for ('engine_ratio')",
    "indicators",
    "engine_ratio",
)
INDICATOR_EXCITATION: Final = Missing(
    "voltage the indicator feeds its sender with ('excitation')", "indicators", "excitation"
)
INDICATOR_FULL_SCALE: Final = Missing(
    "sender full scale the indicator is made for ('full_scale')", "indicators", "full_scale"
)
INDICATOR_SHUNT: Final = Missing(
    "current and voltage of the shunt the ammeter is made for ('curve', or 'full_scale' and 'input_range')",
    "indicators",
    "curve",
)
INDICATOR_INNER: Final = Missing("inner resistance of the indicator", "indicators", "inner_resistance")
INDICATOR_IN_VIEW: Final = Missing(
    "view of the indicator from the pilot's seat ('in_view')", "indicators", "in_view"
)
INDICATOR_LOOP: Final = Missing(
    "inner resistance and excitation of the loop input", "indicators", "inner_resistance"
)
LIGHT_COLOUR: Final = Missing(
    "colour of the warning light and the value it comes on at ('markings')", "indicators", "markings"
)
INDICATOR_MARKINGS: Final = Missing("coloured marks on the dial ('markings')", "indicators", "markings")
INDICATOR_MEASURES: Final = Missing("what the indicator shows ('measures')", "indicators", "measures")
INDICATOR_OPEN: Final = Missing(
    "what the indicator shows with an open input ('open_shows')", "indicators", "open_shows"
)
INDICATOR_POLES: Final = Missing(
    "poles of the generator the indicator is made for ('generator_poles')", "indicators", "generator_poles"
)
INDICATOR_PRINCIPLE: Final = Missing("principle of the indicator", "indicators", "principle")
INDICATOR_PULL_UP: Final = Missing("pull-up and excitation of the input", "indicators", "pull_up")
INDICATOR_PULSES: Final = Missing(
    "pulses per engine revolution the indicator expects", "indicators", "pulses_per_revolution"
)
INDICATOR_PULSE_RATE: Final = Missing(
    "highest pulse rate the indicator follows", "indicators", "max_pulse_rate"
)
INDICATOR_PULSES_PER_GALLON: Final = Missing(
    "pulses per gallon the indicator expects", "indicators", "pulses_per_gallon"
)
INDICATOR_SCALE: Final = Missing("range of the dial ('scale')", "indicators", "scale")
INDICATOR_STANDING: Final = Missing(
    "standing of the indicator: required or an extra ('required')", "indicators", "required"
)
INDICATOR_SUPPLY_RANGE: Final = Missing(
    "supply the indicator works on ('supply_voltage')", "indicators", "supply_voltage"
)
INDICATOR_SUPPLY_CURRENT: Final = Missing("supply current of the indicator", "indicators", "supply_current")
INDICATOR_SUPPLY_TERMINALS: Final = Missing(
    "supply terminals of the indicator", "indicators", "supply_terminals"
)
INDICATOR_WINDING: Final = Missing(
    "winding resistance between two leads of the receiver", "indicators", "winding_resistance"
)
INDICATOR_COUPLE: Final = Missing("couple the indicator's scale is drawn for", "indicators", "thermocouple")
INDICATOR_INPUT_GROUNDING: Final = Missing(
    "grounding of the thermocouple input: isolated, common negative or grounded negative",
    "indicators",
    "input_grounding",
)
INDICATOR_LOOP_RESISTANCE: Final = Missing(
    "external resistance the indicator is calibrated for", "indicators", "loop_resistance"
)
INDICATOR_SCALE_REFERENCE: Final = Missing(
    "temperature of the cold end the uncompensated scale is drawn for ('reference_temperature')",
    "indicators",
    "reference_temperature",
)
INDICATOR_REFERENCE: Final = Missing(
    "place where the indicator takes its reference-junction temperature ('compensation')",
    "indicators",
    "compensation",
)
GAUGE_JOINT: Final = Missing("line that joins the gauge's port", "fluid_lines", "to")
INDICATION_BUDGET: Final = Missing("error budget of the indication", "indicators", "budget")
COLOUR_CODE: Final = Missing(
    "colour code of the thermocouple leads ('thermocouple_colours' of the installation)",
    "installation",
    "thermocouple_colours",
)
RECORD_DATE: Final = Missing("date of what the record enters ('fitted')")
GROUND_MATERIAL: Final = Missing("metal of the structure at the joint", "grounds", "material")
TERMINAL_COVER: Final = Missing("cover of its terminals ('covered: yes' or 'no')")
DOCUMENT_DATE: Final = Missing("date of this revision of the document", "installation", "date")
SHUNT_TOLERANCE: Final = Missing("tolerance of the shunt", "junctions", "tolerance")
JOINT_CONTACT: Final = Missing("contact resistance of the joint", "junctions", "contact_resistance")
JOINT_CONTACT_UNKNOWN: Final = Missing(
    "contact resistance that is said to be unknown", "junctions", "contact_resistance"
)
JOINT_CURRENT: Final = Missing("largest current of the contact", "junctions", "max_current")
JOINT_GAUGES: Final = Missing(
    "smallest and largest gauge the joint takes, or its contact size", "junctions", "smallest_gauge"
)
JOINT_KIND: Final = Missing("kind of the joint: splice, terminal block, plug...", "junctions", "kind")
JOINT_SPOOL: Final = Missing("resistance of the spool or resistor", "junctions", "resistance")
PLUG_MATE: Final = Missing("plug or receptacle that the plug joins ('mates')", "junctions", "mates")
SELECTOR_POSITION: Final = Missing("position of the selector ('selected')", "junctions", "selected")
SPLICE_RATING: Final = Missing("temperature rating of the splice", "junctions", "temperature_rating")
JOINT_CRIMPED: Final = Missing("crimping of the joint ('crimped: yes' or 'no')", "junctions", "crimped")
JOINT_SEALED: Final = Missing("sealing of the joint ('sealed: yes' or 'no')", "junctions", "sealed")
JOINT_ZONE_KIND: Final = Missing("zone of the joint, and its 'occupied: yes' or 'no'", "zones", "occupied")
SPLICE_ZONE: Final = Missing("zone of the splice", "junctions", "zone")
JOINT_ISOTHERMAL: Final = Missing(
    "whether all pins of the joint share one temperature ('isothermal'), or the difference across them",
    "junctions",
    "isothermal",
)
JOINT_METAL: Final = Missing("metal of the joint", "junctions", "metal")
JOINT_ZONE: Final = Missing("zone, or the temperature, of every joint of the lead", "junctions", "zone")
SPOOL_RESISTANCE: Final = Missing("resistance of the spool", "junctions", "resistance")
LOADS_AND_SUPPLIES: Final = Missing("supplies and loads that use the same ground", "loads")
LOAD_ON_TIME: Final = Missing("longest time the load is on", "loads", "on_time")
LOAD_CURRENT: Final = Missing("current of the load", "loads", "current")
LOAD_ESSENTIAL: Final = Missing(
    "standing of the load when the alternator is lost ('essential: yes' or 'no')", "loads", "essential"
)
RUN_LOADS: Final = Missing("loads behind the run", "loads")
MEASURED_BETWEEN: Final = Missing(
    "two terminals the voltage was measured between ('between')", "measured", "between"
)
MEASURED_CHECK: Final = Missing(
    "terminals or the run it was measured at ('between' or 'of'), with the selector's position where there is one",
    "measured",
    "between",
)
MEASURED_CONNECTED: Final = Missing(
    "voltage with both ends connected: an open end carries no current", "measured", "connected"
)
MEASURED_INDICATION: Final = Missing(
    "indicator or input the value was seen on ('of'), with the selector's position where there is one",
    "measured",
    "of",
)
MEASURED_INSULATION: Final = Missing("insulation as a resistance, or 'open'", "measured", "value")
MEASURED_LENGTH_OF: Final = Missing("run or line whose length was measured ('of')", "measured", "of")
MEASURED_RUN: Final = Missing("run the current was measured in ('of')", "measured", "of")
MEASURED_TRUE_VALUE: Final = Missing("true value at the time ('true_value')", "measured", "true_value")
BAROMETER: Final = Missing(
    "barometer at the time ('true_value'), or the elevation of the field", "measured", "true_value"
)
NOTICE_RECORD: Final = Missing("how the notice was complied with, when, and who signed", "notices", "method")
NOTICE_STATE: Final = Missing(
    "how the notice stands: open, complied with or does not apply", "notices", "state"
)
LOAD_POINT: Final = Missing("operating point at which it is on", "operating_points", "loads_on")
POINT_PHASE: Final = Missing("phase or engine speed of the operating point", "operating_points", "phase")
POINT_ALTITUDE: Final = Missing("pressure altitude of the operating point", "operating_points", "altitude")
POINT_READING: Final = Missing(
    "true value of the indication at an operating point ('readings'), or its limit",
    "operating_points",
    "readings",
)
PROBE_COUPLE: Final = Missing("thermocouple type of the probe", "probes", "thermocouple")
PROBE_GRADE: Final = Missing("tolerance grade of the couple", "probes", "grade")
PROBE_GROUND: Final = Missing(
    "ground the junction of the probe stands on ('grounding')", "probes", "grounding"
)
PROBE_JUNCTION: Final = Missing("junction of the probe: grounded or isolated", "probes", "junction")
PROBE_RESISTANCE: Final = Missing("resistance of the probe with its own lead", "probes", "resistance")
PROBE_TEMPERATURE_LIMITS: Final = Missing(
    "tolerance of the couple at this temperature", "probes", "thermocouple"
)
PROBE_CYLINDER: Final = Missing("cylinder the probe serves", "probes", "cylinder")
PROBE_DISTANCE_CLOSER: Final = Missing(
    "distance of the probe from the exhaust port, measured closer than its tolerance leaves open",
    "probes",
    "distance",
)
PROBE_DISTANCE: Final = Missing("distance of the probe from the exhaust port", "probes", "distance")
PROBE_KIND: Final = Missing("kind of the probe", "probes", "kind")
PROBE_MEASURES: Final = Missing("what the probe senses ('measures')", "probes", "measures")
REMOVED_LEFT: Final = Missing("state of the ends of the removed wire ('left')", "removed", "left")
REMOVED_CLOSING: Final = Missing(
    "closing of the ports it leaves ('left: capped', 'blanked' or 'open')", "removed", "left"
)
SENDER_BENCH_RESISTANCE: Final = Missing(
    "resistance of the sender or probe at bench temperature", "senders", "resistance"
)
SENDER_BODY: Final = Missing(
    "resistance of the path from the body of the sender to ground", "senders", "grounding.resistance"
)
SENDER_CURVE: Final = Missing("curve of the sender", "senders", "curve")
SENDER_MEASURES: Final = Missing("what the sender senses ('measures')", "senders", "measures")
SENDER_OF_KIND: Final = Missing("sender of what the indicator shows", "senders", "measures")
SENDER_CURVE_REACH: Final = Missing(
    "rest of the sender's curve, which ends before the value to be read", "senders", "curve"
)
SENDER_DRIVE: Final = Missing(
    "drive ratio of the tachometer ('drive_ratio' of its sender, or 'tachometer_drive' of the engine)",
    "senders",
    "drive_ratio",
)
SENDER_FILLING: Final = Missing("filling of the bulb", "senders", "filling")
SENDER_FILLING_CURVE: Final = Missing(
    "filling with a published vapour-pressure curve: diethyl ether or sulfur dioxide", "senders", "filling"
)
SENDER_FILLING_RANGE: Final = Missing(
    "true value within the vapour-pressure curve of the filling", "senders", "filling"
)
SENDER_FULL_SCALE: Final = Missing("full scale of the sender", "senders", "full_scale")
SENDER_POLES: Final = Missing("poles of the generator", "senders", "poles")
SENDER_POLE_PAIRS: Final = Missing("poles of the generator, which come in pairs", "senders", "poles")
SENDER_PRINCIPLE: Final = Missing("principle of the sender", "senders", "principle")
SENDER_PULSES: Final = Missing(
    "pulses per engine revolution of the pick-up", "senders", "pulses_per_revolution"
)
SENDER_ROTOR: Final = Missing(
    "rotor excitation of the synchro, voltage and frequency", "senders", "excitation_voltage"
)
SENDER_SENSE: Final = Missing("sense of the generator with its leads in order ('sense')", "senders", "sense")
SENDER_STATIONS: Final = Missing(
    "number of indicators the sender is meant for ('stations')", "senders", "stations"
)
SENDER_SUPPLY_CURRENT: Final = Missing("current the transducer draws", "senders", "supply_current")
SENDER_PULSES_PER_GALLON: Final = Missing(
    "pulses per gallon of the flow sender", "senders", "pulses_per_gallon"
)
SENDER_TOLERANCE: Final = Missing("tolerance of the sender", "senders", "tolerance")
SENDER_VOLUMES: Final = Missing("bulb volume and capillary bore of the system", "senders", "bulb_volume")
CARBURETTOR_AIR_PLACE: Final = Missing(
    "place the carburettor air temperature is taken at ('location')", "senders", "location"
)
OIL_TEMPERATURE_PLACE: Final = Missing(
    "place the oil temperature is taken at ('location')", "senders", "location"
)
OUTSIDE_AIR_ZONE: Final = Missing(
    "zone of the outside air probe, and whether hot parts run through it", "senders", "zone"
)
CAPILLARY_LEAST_BEND: Final = Missing(
    "least bend radius of the capillary ('min_bend_radius')", "senders", "min_bend_radius"
)
CAPILLARY_LENGTH: Final = Missing("length of the capillary as made", "senders", "capillary_length")
SENDER_ARM: Final = Missing("arm of the sender, port to centre of mass", "senders", "arm")
SENDER_IMMERSED: Final = Missing(
    "whether the bulb is wholly in the fluid ('immersed: yes' or 'no')", "senders", "immersed"
)
SENDER_JOINT: Final = Missing(
    "port the sender is screwed into, or the line that joins it", "senders", "screwed_into"
)
SENDER_MOUNTING: Final = Missing("mounting of the sender ('mounted_on')", "senders", "mounted_on")
SENDER_PROOF_PRESSURE: Final = Missing("proof pressure of the sender", "senders", "proof_pressure")
SENDER_THREAD: Final = Missing("thread of the sender's port", "senders", "port_thread")
SENDER_WEIGHT: Final = Missing("weight of the sender", "senders", "weight")
ALTERNATOR_RATING: Final = Missing("rated current of the alternator", "supplies", "rated_current")
BATTERY_CAPACITY: Final = Missing("capacity of the battery", "supplies", "capacity")
CONTACT_CURRENT: Final = Missing(
    "largest current of the switch or contactor ('max_current')", "supplies", "max_current"
)
SUPPLY_RESISTANCE: Final = Missing(
    "resistance through the contacts of the protector or switch, or within the source ('inner_resistance')",
    "supplies",
    "inner_resistance",
)
SENSE_FUSE: Final = Missing("resistance of the fuse in the sense lead", "supplies", "inner_resistance")
CONTACTOR_COIL: Final = Missing("coil current of the contactor", "supplies", "coil_current")
EXCITATION_SOURCE: Final = Missing("voltage and frequency of the source of excitation", "supplies", "voltage")
INVERTER_CURRENT: Final = Missing("current the inverter draws ('max_current')", "supplies", "max_current")
PROTECTOR_RATING: Final = Missing("rating of the protector", "supplies", "rating")
SUPPLY_TERMINALS: Final = Missing("terminals of the source", "supplies", "terminals")
SUPPLY_KIND: Final = Missing("kind of the supply", "supplies", "kind")
SUPPLY_VOLTAGE: Final = Missing("voltage of the supply", "supplies", "voltage")
SENDER_TAP: Final = Missing(
    "tap and line by which the pressure reaches it, above or below which it is said to stand", "fluid_lines"
)
TAP_CLOSING: Final = Missing("closing of the port ('capped: yes' or 'no')", "taps", "capped")
TAP_TEMPERATURE: Final = Missing("temperature of the fluid at the tap", "taps", "temperature")
TAP_PRESSURE: Final = Missing("pressure at the tap", "taps", "pressure")
TAP_SHUTOFF: Final = Missing(
    "cock or switch that shuts the fuel tap, and the time until it is shut ('shutoff', 'shutoff_time')",
    "taps",
    "shutoff",
)
TAP_SHUTOFF_TIME: Final = Missing(
    "time until the fuel tap can be shut ('shutoff_time')", "taps", "shutoff_time"
)
TAP_THREAD: Final = Missing("thread of the tap", "taps", "thread")
BARRIERS_CROSSED: Final = Missing(
    "barriers the run crosses in its route, and what it crosses each by", "wire_runs", "route.barrier"
)
CIRCUIT_ALONE: Final = Missing("wire runs and joints that tie it to a bus and to ground", "wire_runs")
CROSSED_BY: Final = Missing(
    "grommet, fitting or plug the run crosses the barrier by", "wire_runs", "route.through"
)
CROSSING_FIRE_RATING: Final = Missing(
    "fire rating of what the run crosses the firewall by: a fitting of known material, or a fireproof grommet",
    "wire_runs",
    "route.fitting",
)
HOLE_CLEARANCE: Final = Missing(
    "clearance between the wire and the edge of the hole, or its grommet", "wire_runs", "route.clearance"
)
INDICATOR_CIRCUIT: Final = Missing("circuit of the indication, from supply to sender and back", "wire_runs")
INDICATOR_GROUND: Final = Missing("wiring of the indicator's ground", "wire_runs")
INDICATOR_SUPPLY: Final = Missing("wiring of the indicator's supply", "wire_runs")
INVERTER_SUPPLY: Final = Missing("wiring of the inverter's supply", "wire_runs")
BRAID_DISTANCE: Final = Missing(
    "distance of the bare braid from what it passes", "wire_runs", "clearances.distance"
)
LEAD_BOTH_LEGS: Final = Missing(
    "run of both legs of the thermocouple lead, from the probe to the indicator", "wire_runs"
)
LEAD_COLOUR: Final = Missing("colour of each conductor of the lead", "wire_runs", "colour")
LEAD_GRADE: Final = Missing(
    "grade of the thermocouple lead: thermocouple, extension or compensating", "wire_runs", "grade"
)
LEAD_LEG_RESISTANCE: Final = Missing("resistance of each leg of the lead by itself", "wire_runs", "legs")
LEAD_METAL: Final = Missing("metal of each conductor of the lead (part, or 'metal')", "wire_runs", "metal")
LEAD_METAL_OF_PUBLISHED_EMF: Final = Missing(
    "metal of published emf (chromel, alumel, iron, constantan, copper) in each leg", "wire_runs", "metal"
)
LEAD_RANGE: Final = Missing("temperature range of the compensating lead", "wire_runs", "grade")
LEAD_TEMPERATURES_IN_TABLES: Final = Missing(
    "temperatures within the emf tables of the metals used", "wire_runs"
)
LEAD_TOLERANCE: Final = Missing(
    "tolerance of the thermocouple lead: standard or special", "wire_runs", "tolerance"
)
LOAD_BACK: Final = Missing("wire run or body that returns it to ground", "wire_runs")
BUS_FEED: Final = Missing("wire runs that feed the bus or inverter from a source", "wire_runs")
LOAD_FEED: Final = Missing("wire runs that feed it from a bus", "wire_runs")
LOAD_SOURCE: Final = Missing("supply that feeds it at this point", "wire_runs")
MEASURED_VOLTS_CIRCUIT: Final = Missing("circuit of the two terminals, from supply to ground", "wire_runs")
REMOVED_RUN_ENDS: Final = Missing(
    "state of the ends of the removed wire ('connected_to')", "wire_runs", "connected_to"
)
ROTOR_WIRING: Final = Missing("wiring of the rotor to its source", "wire_runs")
RUN_CURRENT: Final = Missing("current of the run, or of the loads behind it", "wire_runs", "current")
RUN_FEED: Final = Missing("wiring from the battery or bus to the run", "wire_runs")
RUN_FIRE_RATING: Final = Missing(
    "fire rating of the wire ('fire_rated: yes' or 'no')", "wire_runs", "fire_rated"
)
RUN_GAUGE: Final = Missing("gauge of the run", "wire_runs", "gauge")
RUN_INSULATION: Final = Missing(
    "insulation of the wire, by the material aircraft wire is made with ('insulation: ETFE')",
    "wire_runs",
    "insulation",
)
RUN_LENGTH: Final = Missing("length of the run", "wire_runs", "length")
RUN_LENGTHS_BEFORE: Final = Missing("lengths of the runs before it", "wire_runs", "length")
RUN_LENGTH_DRAWN: Final = Missing(
    "length of the run, to compare the measured one with", "wire_runs", "length"
)
RUN_LIMIT: Final = Missing("current limit of the wire, from its own sheet", "wire_runs")
RUN_MARKING: Final = Missing("marking of the run ('marked: yes')", "wire_runs", "marked")
RUN_METAL: Final = Missing("metal and plating of the conductor", "wire_runs", "metal")
RUN_RATING: Final = Missing("temperature rating of the wire", "wire_runs", "temperature_rating")
RUN_RESISTANCE: Final = Missing("part of the run, or its resistance per length", "wire_runs", "resistance")
RUN_BUNDLE: Final = Missing("bundle the run lies in", "wire_runs", "bundle")
RUN_ROUTE: Final = Missing("route of the run with the length in each zone", "wire_runs", "route")
RUN_SHEATH: Final = Missing(
    "sheath or conduit of the run from end to end ('sheathed: yes' or 'no')", "wire_runs", "sheathed"
)
RUN_TERMINAL_RESISTANCE: Final = Missing(
    "resistance of the terminals on the ends of the run", "wire_runs", "terminations.resistance"
)
RUN_TERMINALS: Final = Missing(
    "terminals on the ends of the run, with the gauges and stud they take", "wire_runs", "terminations"
)
RUN_VOLTAGE: Final = Missing("voltage rating of the wire", "wire_runs", "voltage_rating")
RUN_WAY: Final = Missing(
    "bundle of the run, or its route with the length in each zone", "wire_runs", "bundle"
)
SENDER_RETURN: Final = Missing("way of the sender's return", "wire_runs")
SENDER_SUPPLY: Final = Missing("wiring of the sender's supply", "wire_runs")
SHIELD_ENDS: Final = Missing("ends of the shield: a ground, a terminal, or 'open'", "wire_runs", "shield")
SHIELD_TO_GROUND: Final = Missing("wire runs from the terminal of the shield to ground", "wire_runs")
SOURCE_TO_BUS: Final = Missing("wire runs from the source to a bus", "wire_runs")
TERMINAL_CURRENT: Final = Missing("largest current of the terminal", "wire_runs", "terminations.max_current")
TERMINAL_STUD: Final = Missing("stud the terminal fits", "wire_runs", "terminations.stud")
TERMINAL_GAUGES: Final = Missing(
    "smallest and largest gauge the terminal takes", "wire_runs", "terminations.smallest_gauge"
)
WIRE_DIAMETER: Final = Missing("outside diameter of the wire", "wire_runs", "outside_diameter")
GAUGE_CASE_PRESSURE: Final = Missing("pressure in the gauge's case: its zone is pressurised", "zones")
ZONE_TEMPERATURE: Final = Missing("temperature of the zone", "zones", "temperature")
ZONE_VIBRATION: Final = Missing("vibration of the zone ('vibrates: yes' or 'no')", "zones", "vibrates")
PRESSURE_TAP: Final = Missing("tap the pressure is taken from, with its location", "taps", "location")
SURVEY_CONDITIONS: Final = Missing(
    "outside air temperature and altitude of each survey stage", "survey", "stages"
)
SURVEY_ENGINE: Final = Missing("engine surveyed", "survey", "engine")
SURVEY_EVERY_CYLINDER: Final = Missing("head temperature of every cylinder in the survey", "survey", "stages")
SURVEY_LOG_FLIGHT: Final = Missing("survey log of a flight", "survey", "log")
SURVEY_LOG_READABLE: Final = Missing("survey log that can be read", "survey", "log")
SURVEY_LOG_USABLE: Final = Missing("survey log that can be used", "survey", "log")
SURVEY_OR_NAMED_CYLINDER: Final = Missing(
    "survey of head temperatures, or the cylinder the engine's papers name for a single probe", "survey"
)
SURVEY_PROBED_CYLINDER: Final = Missing("survey temperature of the probed cylinder", "survey", "stages")
SURVEY_RANKABLE: Final = Missing("survey temperatures that can be ranked", "survey", "stages")
SURVEY_TEMPERATURES: Final = Missing("temperatures of the survey by stage, or its log", "survey", "stages")
SURVEY_GRADE: Final = Missing(
    "tolerance grade of the survey's probes ('probe_grade')", "survey", "probe_grade"
)


def run_limit_of(metal: str) -> Missing:
    """The current limit of a wire of a metal the tables do not list."""
    return Missing(f"current limit of a wire of {metal}, from its own sheet", "wire_runs")


def bundle_limit_beyond(wires: int) -> Missing:
    """The current limit in a bundle larger than the curve reaches."""
    return Missing(
        f"current limit of a bundle of more than {wires} wires, from the published curve", "bundles"
    )


ZONE_FIRE: Final = Missing("fire rating of the zone ('fire_zone: yes' or 'no')", "zones", "fire_zone")
ZONE_MOVEMENT: Final = Missing(
    "movement of the zone with the engine ('vibrates: yes' or 'no')", "zones", "vibrates"
)
ZONE_OCCUPIED: Final = Missing("use of the zone ('occupied: yes' or 'no')", "zones", "occupied")


_OF_SOME: Final = frozenset(
    (
        CAPILLARY_BULB,
        CAPILLARY_HEIGHTS,
        CARBURETTOR_AIR_PLACE,
        EXCITATION_SOURCE,
        HOSE_DIAMETER,
        INVERTER_CURRENT,
        JOINT_ZONE_KIND,
        LIGHT_COLOUR,
        LOAD_POINT,
        OIL_TEMPERATURE_PLACE,
        OUTSIDE_AIR_ZONE,
        PROBE_TEMPERATURE_LIMITS,
        SENDER_OF_KIND,
        SENSE_FUSE,
        SPLICE_RATING,
        SPLICE_ZONE,
    )
)
"""Entries that ask for a word of some things only: of another the same word is asked for by its name."""


@cache
def said_unknown(section: str, field: str) -> Missing:
    """The entry for a word of a section, which the document says is unknown; one of its own where the catalogue has none."""
    entries = [m for m in globals().values() if isinstance(m, Missing) and m not in _OF_SOME]
    found = next((m for m in entries if (m.section, m.field) == (section, field)), None)
    return found or Missing(f"'{field}' of {_SINGULAR.get(section, section)}", section, field)


_SINGULAR: Final = {
    "aircraft": "the aircraft",
    "engines": "the engine",
    "zones": "the zone",
    "barriers": "the barrier",
    "operating_points": "the operating point",
    "senders": "the sender",
    "indicators": "the indicator",
    "probes": "the probe",
    "supplies": "the supply",
    "loads": "the load",
    "grounds": "the ground",
    "junctions": "the junction",
    "bundles": "the bundle",
    "wire_runs": "the run",
    "taps": "the tap",
    "fittings": "the fitting",
    "fluid_lines": "the line",
    "survey": "the survey",
    "measured": "the measurement",
    "removed": "what is removed",
}
