"""What flows where through the lines, at what pressure, and what a break lets out."""
