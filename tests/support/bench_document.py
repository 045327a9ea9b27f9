"""A small installation whose figures can be worked out by hand."""

TWO_WIRE = """
installation: {name: bench}
zones: {engine: {hot_parts: yes, temperature: {lowest: 20 degC, highest: 20 degC}}, cabin: {occupied: yes, temperature: {lowest: 20 degC, highest: 20 degC}}}
aircraft: {system_voltage: 12 V}
operating_points: {cruise: {phase: cruise, readings: {oil temperature: 100 degC}, zone_temperatures: {engine: 20 degC, cabin: 20 degC}}}
grounds: {airframe: {kind: structure, zone: cabin}}
supplies:
  battery: {kind: battery, voltage: 12 V, inner_resistance: 10 milliohm, zone: cabin}
  breaker: {kind: breaker, rating: 5 A, zone: cabin}
senders:
  bulb: {principle: resistive, measures: oil temperature, terminals: [A, B], tolerance: 1 degC, zone: engine,
    curve: {points: [[0 degC, 50 ohm], [100 degC, 100 ohm], [200 degC, 150 ohm]]}}
indicators:
  gauge: {principle: electronic resistance, measures: oil temperature, terminals: [S, R], supply_terminals: [power, ground], supply_current: 50 mA,
    excitation: 5 V, pull_up: 400 ohm, accuracy: 1 degC, scale: {lowest: 0 degC, highest: 200 degC, division: 5 degC}, open_shows: off scale high, zone: cabin,
    curve: {points: [[0 degC, 50 ohm], [100 degC, 100 ohm], [200 degC, 150 ohm]]}}
junctions: {plug: {kind: plug, terminals: ['1', '2'], zone: engine}}
wire_runs:
  P1: {from: battery.+, to: breaker.in, resistance: 0.01 ohm/m, length: 1 m}
  P2: {from: breaker.out, to: gauge.power, resistance: 0.01 ohm/m, length: 1 m}
  P3: {from: gauge.ground, to: airframe, resistance: 0.01 ohm/m, length: 1 m}
  P4: {from: battery.-, to: airframe, resistance: 0.01 ohm/m, length: 1 m}
  E1: {from: bulb.A, to: plug.1, resistance: 0.01 ohm/m, length: 1 m}
  E2: {from: bulb.B, to: plug.2, resistance: 0.01 ohm/m, length: 1 m}
  E3: {from: plug.1, to: gauge.S, resistance: 0.01 ohm/m, length: 1 m}
  E4: {from: plug.2, to: gauge.R, resistance: 0.01 ohm/m, length: 1 m}
"""
"""A sender of 0.5 ohm/K; its wires are next to nothing, so that r ohm more in them reads 2 r K high."""
