"""A sample of the trials: aircraft faulted by editing their documents, answers read off them, and what the tracer makes of it.

All trials of a demo, or of a document made by chance, are run with ``trace_trials.trials``; these few are for every day.
"""

import random

import pytest
import yaml
from bench_document import TWO_WIRE
from faulted_aircraft import Fault, cut, resist, touch
from harm import right
from installations import read
from trace_trials import trial

from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.tracing.channels import channels

PLAIN = yaml.load(TWO_WIRE, yaml.CSafeLoader)
MOST_TESTS = 4

FAULTS = [
    Fault("open", ("E1",), cut("E1"), of="bulb"),
    Fault("open", ("E3",), cut("E3"), of="bulb"),
    Fault("bad joint", ("E2",), resist("E2", 30.0), of="bulb"),
    Fault("bad joint", ("E4",), resist("E4", 12.0), of="bulb"),
    Fault("short to ground", ("E1",), touch("bulb.A", "airframe"), of="bulb"),
    Fault("sender open", ("bulb",), of="bulb", element=1e9),
    Fault("sender shorted", ("bulb",), of="bulb", element=0.001),
    Fault("sender drifted", ("bulb",), of="bulb", offset=40.0),
    Fault("sender drifted", ("bulb",), of="bulb", offset=-35.0),
    Fault("gauge drifted", ("gauge",), offset=30.0),
    Fault("gauge stuck", ("gauge",), offset=150.0),
    Fault("gauge dead", ("gauge",)),
    Fault("true reading", ("bulb",), of="bulb", offset=45.0),
    Fault("open", ("P2",), cut("P2")),
]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda f: f"{f.kind} {f.at[0]} {f.offset:g}")
@pytest.mark.parametrize("seed", [1, 2])
def test_the_right_one_stands_first_and_is_never_excluded(fault, seed):
    [channel] = channels(Study(loads(TWO_WIRE)))
    found = trial(PLAIN, fault, channel, random.Random(seed))
    assert found is not None
    assert found.excluded is None, found
    assert found.tests is not None, found
    assert found.tests <= MOST_TESTS, found


@pytest.mark.parametrize(("share", "seed"), [(1.31, 7), (1.4, 10)])
def test_a_probe_heated_from_beside_is_told_from_a_hot_head_by_an_instrument_beside_it(share, seed):
    """The gauge tells how hot the probe is, and so how hot the head is if it is the head: a second instrument reads that, or less."""
    plain = right("finch")
    study = Study(read(plain))
    channel = next(c for c in channels(study) if c.source == "head 3")
    fault = Fault("probe heated", ("head 3",), of="head 3", share=share)
    found = trial(plain, fault, channel, random.Random(seed), study)
    assert found is not None
    assert found.firm is not None, found
    assert found.firm <= MOST_TESTS, found
    assert found.excluded is None
