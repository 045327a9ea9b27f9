"""Many installations checked in one call, each with the record of what came of it."""
