"""Rules of sensing lines: media, barriers, leaks, joints, ratings, upkeep."""
