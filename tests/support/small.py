"""Two small documents: one without a fault, and one whose marks are too far apart."""

GOOD = "installation: {name: NAME}\nzones: {cabin: {occupied: yes}}\n"
BAD = (
    GOOD
    + """\
senders: {s: {terminals: [A], zone: cabin, principle: resistive}}
indicators: {g: {terminals: [A], zone: cabin}}
wire_runs: {W1: {from: s.A, to: g.A, length: 5 ft, mark_spacing: 20 in}}
"""
)
