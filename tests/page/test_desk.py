"""One document on the page: judged, kept, saved whole, and never lost to another program."""

from pathlib import Path

import pytest

from installcheck.files.reading import UnreadableError
from installcheck.files.writing import OutputError
from installcheck.page.desk import Desk
from installcheck.page.text_file import ConflictError

TEXT = "installation: {name: test}\nzones: {cabin: {occupied: yes}}\n"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    file = tmp_path / "one.yaml"
    file.write_text(TEXT)
    return Desk(file, tmp_path, drafts=tmp_path / "state")


def test_a_text_that_cannot_be_read_keeps_the_verdicts_of_the_one_before(desk: Desk) -> None:
    first = desk.check({"one.yaml": TEXT}, 1)
    broken = desk.check({"one.yaml": TEXT + "zones: {"}, 2)
    assert first is not None
    assert broken is not None
    assert broken.problems
    assert broken.ledger is first.ledger
    assert broken.of == {"one.yaml": TEXT}


def test_an_older_question_is_not_answered_after_a_newer_one(desk: Desk) -> None:
    assert desk.check({"one.yaml": TEXT}, 5) is not None
    assert desk.check({"one.yaml": TEXT + "#"}, 4) is None


def test_a_draft_outlives_the_program(desk: Desk, tmp_path: Path) -> None:
    desk.main.keep(TEXT + "# more\n")
    again = Desk(tmp_path / "one.yaml", tmp_path, drafts=tmp_path / "state")
    draft = again.main.left()
    assert draft is not None
    assert draft.text == TEXT + "# more\n"
    assert draft.based_on == again.main.digest


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_a_saved_file_keeps_its_line_ends_and_its_draft_is_dropped(
    desk: Desk, tmp_path: Path, end: str
) -> None:
    file = tmp_path / "one.yaml"
    file.write_bytes(TEXT.replace("\n", end).encode())
    assert desk.main.reread() == TEXT
    changed = TEXT + "# \u00e9\n"
    desk.main.keep(changed)
    desk.save("one.yaml", changed)
    assert file.read_bytes() == changed.replace("\n", end).encode()
    assert desk.main.left() is None
    desk.save("one.yaml", changed + "#\n")
    assert file.read_bytes() == (changed + "#\n").replace("\n", end).encode()


def test_mixed_line_ends_stay_each_at_its_line(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "one.yaml"
    before = b"installation: {name: test}\r\n# one\n# two\rzones: {cabin: {occupied: yes}}\r\n"
    file.write_bytes(before)
    text = desk.main.reread()
    desk.save("one.yaml", text)
    assert file.read_bytes() == before
    desk.save("one.yaml", text.replace("# two", "# new\n# two"))
    assert file.read_bytes() == before.replace(b"# two", b"# new\r\n# two")


def test_a_file_keeps_who_may_read_it(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "one.yaml").chmod(0o600)
    desk.save("one.yaml", TEXT + "#\n")
    assert (tmp_path / "one.yaml").stat().st_mode & 0o777 == 0o600


def test_half_a_character_is_not_saved(desk: Desk, tmp_path: Path) -> None:
    with pytest.raises(OutputError):
        desk.save("one.yaml", TEXT + "# \ud800\n")
    assert (tmp_path / "one.yaml").read_text() == TEXT


def test_a_file_changed_by_another_program_is_not_written_over_unasked(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text(TEXT + "# theirs\n")
    with pytest.raises(ConflictError) as told:
        desk.save("one.yaml", TEXT + "# mine\n")
    assert "-# theirs" in told.value.difference
    assert "+# mine" in told.value.difference
    assert (tmp_path / "one.yaml").read_text() == TEXT + "# theirs\n"
    (tmp_path / "one.yaml").write_text(TEXT + "# theirs again\n")
    with pytest.raises(ConflictError):
        desk.save("one.yaml", TEXT + "# mine\n", over=told.value.digest)
    desk.save("one.yaml", TEXT + "# mine\n", over=desk.main.on_disk())
    assert (tmp_path / "one.yaml").read_text() == TEXT + "# mine\n"


def test_a_file_that_is_gone_is_told_and_can_be_written_again(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "one.yaml").unlink()
    with pytest.raises(ConflictError):
        desk.save("one.yaml", TEXT)
    desk.save("one.yaml", TEXT, over=desk.main.on_disk())
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
        desk.save("installation.yaml", TEXT, name)
    desk.save("installation.yaml", TEXT, "good.yaml")
    assert (tmp_path / "good.yaml").read_text() == TEXT


def test_nothing_outside_the_folder_is_read(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "secret.yaml").write_text("zones: {secret zone: {}}\n")
    file = inner / "one.yaml"
    file.write_text(TEXT)
    desk = Desk(file, inner, drafts=tmp_path / "state")
    found = desk.check({"one.yaml": "include: [../secret.yaml]\n" + TEXT}, 1)
    assert found is not None
    assert found.problems
    assert not any("secret zone" in p.message for p in found.problems)


@pytest.mark.parametrize("raw", [b"\xff\xfe\x00", b"a: \xff"])
def test_a_file_that_is_no_text_is_refused(tmp_path: Path, raw: bytes) -> None:
    (tmp_path / "one.yaml").write_bytes(raw)
    with pytest.raises(UnreadableError):
        Desk(tmp_path / "one.yaml", tmp_path, drafts=tmp_path / "state")


OTHER = "routes: {across: cabin 2 ft}\n"


@pytest.fixture
def two(tmp_path: Path) -> Desk:
    """A desk of a document that includes another file of its folder and has a part file there."""
    (tmp_path / "one.yaml").write_text("include: [sub/other.yaml]\npart_files: [own.yaml]\n" + TEXT)
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "other.yaml").write_text(OTHER)
    (tmp_path / "own.yaml").write_text(
        "source: its label\nparts: {own lamp: {for: loads, title: lamp, current: 1 A}}\n"
    )
    desk = Desk(tmp_path / "one.yaml", tmp_path, drafts=tmp_path / "state")
    assert desk.check({}, 1) is not None
    return desk


def test_the_files_a_document_names_are_opened_with_it(two: Desk) -> None:
    assert not two.checked.problems
    assert two.named() == ["one.yaml", "sub/other.yaml", "own.yaml"]


def test_an_included_text_is_judged_as_it_is_in_the_window_and_saved_by_itself(
    two: Desk, tmp_path: Path
) -> None:
    changed = OTHER.replace("2 ft", "two ft")
    found = two.check({"sub/other.yaml": changed}, 2)
    assert found is not None
    assert [p.place.file for p in found.problems] == ["sub/other.yaml"]
    assert (tmp_path / "sub" / "other.yaml").read_text() == OTHER
    good = OTHER.replace("2 ft", "3 ft")
    two.save("sub/other.yaml", good)
    assert (tmp_path / "sub" / "other.yaml").read_text() == good
    two.file("sub/other.yaml").keep(OTHER)
    again = Desk(tmp_path / "one.yaml", tmp_path, drafts=tmp_path / "state")
    again.check({}, 1)
    left = again.file("sub/other.yaml").left()
    assert left is not None
    assert left.text == OTHER
    assert again.main.left() is None


def test_an_included_file_that_cannot_be_read_is_opened_all_the_same(tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text("include: [other.yaml]\n" + TEXT)
    (tmp_path / "other.yaml").write_text("routes: {\n")
    desk = Desk(tmp_path / "one.yaml", tmp_path, drafts=tmp_path / "state")
    found = desk.check({}, 1)
    assert found is not None
    assert found.problems
    assert desk.named() == ["one.yaml", "other.yaml"]


@pytest.mark.parametrize(
    "name", ["beside.yaml", "../one.yaml", "/etc/passwd", "other.yaml", "", "sub/../one.yaml"]
)
def test_only_files_of_the_document_can_be_written(two: Desk, tmp_path: Path, name: str) -> None:
    (tmp_path / "beside.yaml").write_text("x")
    with pytest.raises(OutputError):
        two.save(name, "y")
    assert (tmp_path / "beside.yaml").read_text() == "x"


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "secret.yaml").write_text("zones: {secret zone: {}}\n")
    (inner / "linked.yaml").symlink_to(tmp_path / "secret.yaml")
    (inner / "one.yaml").write_text("include: [linked.yaml]\n" + TEXT)
    desk = Desk(inner / "one.yaml", inner, drafts=tmp_path / "state")
    found = desk.check({}, 1)
    assert found is not None
    assert found.problems
    assert desk.named() == ["one.yaml"]
