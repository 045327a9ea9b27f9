"""What is new and what is there already, where a document says only what it replaces."""

from installcheck.analysis.study import Study
from installcheck.document import load
from installcheck.papers.standing import status_of
from installcheck.papers.wires import cut_list


def test_status_from_the_installation_before(demo):
    study = Study(load(demo / "retrofit.yaml"))
    # P1 stands in both alike; P11 was 18 AWG; E1 is not in the one before; P28 only goes to another stud of the block
    assert status_of(study, "wire_runs", "P1") == "existing"
    assert status_of(study, "wire_runs", "P11") == "new"
    assert status_of(study, "wire_runs", "E1") == "new"
    assert status_of(study, "wire_runs", "P28") == "existing, moved to other ends"


def test_existing_runs_are_not_cut(demo):
    table = cut_list(Study(load(demo / "retrofit.yaml")))
    cut = {row[2] for row in table.rows}
    assert "P11" in cut
    assert not {"P1", "P28", "E8"} & cut
    assert any("moved to other ends: P28" in note for note in table.notes)


def test_nothing_is_guessed_without_an_installation_before(small):
    assert status_of(small, "wire_runs", "P1") is None
