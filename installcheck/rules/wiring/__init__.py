"""Rules of wire: gauge, heat, ends, joints, studs, routing, shields, bonds, marks."""
