"""Rules of thermocouple circuits: metals, joints, loops, groups, grounds."""
