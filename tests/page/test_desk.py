"""One document on the page: judged, kept, saved whole, and never lost to another program."""

from pathlib import Path

import pytest

from installcheck.files.reading import UnreadableError
from installcheck.files.writing import OutputError
from installcheck.page.desk import ConflictError, Desk

TEXT = "installation: {name: test}\nzones: {cabin: {occupied: yes}}\n"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    file = tmp_path / "one.yaml"
    file.write_text(TEXT)
    return Desk(file, tmp_path, drafts=tmp_path / "state")


def test_a_text_that_cannot_be_read_keeps_the_verdicts_of_the_one_before(desk: Desk) -> None:
    first = desk.check(TEXT, 1)
    broken = desk.check(TEXT + "zones: {", 2)
    assert first is not None
    assert broken is not None
    assert broken.problems
    assert broken.ledger is first.ledger
    assert broken.of == TEXT


def test_an_older_question_is_not_answered_after_a_newer_one(desk: Desk) -> None:
    assert desk.check(TEXT, 5) is not None
    assert desk.check(TEXT + "#", 4) is None


def test_a_draft_outlives_the_program(desk: Desk, tmp_path: Path) -> None:
    desk.keep(TEXT + "# more\n")
    again = Desk(tmp_path / "one.yaml", tmp_path, drafts=tmp_path / "state")
    draft = again.drafts.read()
    assert draft is not None
    assert draft.text == TEXT + "# more\n"
    assert draft.based_on == again.digest


def test_saving_drops_the_draft_and_writes_the_bytes_as_they_are(desk: Desk, tmp_path: Path) -> None:
    text = TEXT.replace("\n", "\r\n") + "# \u00e9\r\n"
    desk.keep(text)
    desk.save(text)
    assert (tmp_path / "one.yaml").read_bytes() == text.encode()
    assert desk.drafts.read() is None
    desk.save(text + "#\r\n")


def test_a_file_changed_by_another_program_is_not_written_over_unasked(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text(TEXT + "# theirs\n")
    with pytest.raises(ConflictError) as told:
        desk.save(TEXT + "# mine\n")
    assert "-# theirs" in told.value.difference
    assert "+# mine" in told.value.difference
    assert (tmp_path / "one.yaml").read_text() == TEXT + "# theirs\n"
    (tmp_path / "one.yaml").write_text(TEXT + "# theirs again\n")
    with pytest.raises(ConflictError):
        desk.save(TEXT + "# mine\n", over=told.value.digest)
    desk.save(TEXT + "# mine\n", over=desk.on_disk())
    assert (tmp_path / "one.yaml").read_text() == TEXT + "# mine\n"


def test_a_file_that_is_gone_is_told_and_can_be_written_again(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "one.yaml").unlink()
    with pytest.raises(ConflictError):
        desk.save(TEXT)
    desk.save(TEXT, over=desk.on_disk())
    assert (tmp_path / "one.yaml").read_text() == TEXT


@pytest.mark.parametrize(
    "name",
    ["", "../out.yaml", "/etc/out.yaml", "a/b.yaml", ".hidden.yaml", "out.txt", "there.yaml", "linked.yaml"],
)
def test_a_new_document_is_saved_in_its_folder_alone(tmp_path: Path, name: str) -> None:
    (tmp_path / "there.yaml").write_text("x")
    (tmp_path / "linked.yaml").symlink_to(tmp_path / "nowhere")
    desk = Desk(None, tmp_path, TEXT, drafts=tmp_path / "state")
    with pytest.raises(OutputError):
        desk.save(TEXT, name)
    desk.save(TEXT, "good.yaml")
    assert (tmp_path / "good.yaml").read_text() == TEXT


def test_nothing_outside_the_folder_is_read(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "secret.yaml").write_text("zones: {secret zone: {}}\n")
    file = inner / "one.yaml"
    file.write_text(TEXT)
    desk = Desk(file, inner, drafts=tmp_path / "state")
    found = desk.check("include: [../secret.yaml]\n" + TEXT, 1)
    assert found is not None
    assert found.problems
    assert not any("secret zone" in p.message for p in found.problems)


@pytest.mark.parametrize("raw", [b"\xff\xfe\x00", b"a: \xff"])
def test_a_file_that_is_no_text_is_refused(tmp_path: Path, raw: bytes) -> None:
    (tmp_path / "one.yaml").write_bytes(raw)
    with pytest.raises(UnreadableError):
        Desk(tmp_path / "one.yaml", tmp_path, drafts=tmp_path / "state")
