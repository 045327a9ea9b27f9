"""Pure functions of numbers: the physics of sensing, wiring and fluid lines. Imports nothing of ours."""
