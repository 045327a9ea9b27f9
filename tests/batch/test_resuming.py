"""What came of many files, kept: an interrupted call goes on, and only what would come out the same is not judged again."""

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from small import BAD, GOOD
from typer.testing import CliRunner

import installcheck
from installcheck.batch import many, resuming
from installcheck.batch.many import check_many, find_installations
from installcheck.batch.resuming import Kept, RecordError
from installcheck.cli.commands import app

DEMO = Path(__file__).parents[2] / "demo_aircraft"
LOGGED = "engines: {left: {cylinders: 4}}\nsurvey: {climb: {engine: left, log: climb.csv}}\n"
run = CliRunner().invoke


@pytest.fixture
def fleet(tmp_path):
    folder = tmp_path / "fleet"
    folder.mkdir()
    (folder / "a.yaml").write_text(GOOD.replace("NAME", "A"))
    (folder / "b.yaml").write_text(BAD.replace("NAME", "B"))
    (folder / "c.yaml").write_text("include: [shared.yaml]\ninstallation: {name: C}\n")
    (folder / "shared.yaml").write_text("zones: {cabin: {occupied: yes}}\n")
    return folder


@pytest.fixture
def judged(fleet, monkeypatch):
    """Checks the fleet with its record; gives the names of the files that were judged, and the records."""
    seen = []
    noted = many._noted

    def counted(file, **words):
        seen.append(file.name)
        return noted(file, **words)

    monkeypatch.setattr(many, "_noted", counted)

    def check():
        seen.clear()
        files, _ = find_installations([fleet])
        records = check_many(files, counts_only=True, workers=1, kept=Kept(fleet.parent / "done"))
        return list(seen), records

    return check


def test_the_same_call_again_judges_nothing_and_tells_the_same(judged):
    first, records = judged()
    assert first == ["a.yaml", "b.yaml", "c.yaml"]
    assert judged() == ([], records)


def test_a_document_that_has_changed_is_judged_again(fleet, judged):
    _, before = judged()
    (fleet / "a.yaml").write_text(BAD.replace("NAME", "A"))
    again, after = judged()
    assert again == ["a.yaml"]
    assert after[0].counts != before[0].counts
    assert after[1:] == before[1:]
    assert judged() == ([], after)


def test_what_a_document_rests_on_counts_as_the_document(fleet, judged):
    judged()
    (fleet / "shared.yaml").write_text("zones: {cabin: {occupied: no}}\n")
    assert judged()[0] == ["c.yaml"]
    (fleet / "shared.yaml").unlink()
    again, records = judged()
    assert again == ["c.yaml"]
    assert records[2].problems


def test_a_log_counts_from_when_it_is_there_to_when_it_is_gone(fleet, judged):
    (fleet / "a.yaml").write_text(GOOD + LOGGED)
    judged()
    log = fleet / "climb.csv"
    log.write_bytes((DEMO / "climb_survey.csv").read_bytes())
    assert judged()[0] == ["a.yaml"]
    assert judged()[0] == []
    log.write_bytes(log.read_bytes()[:-200])
    assert judged()[0] == ["a.yaml"]
    log.unlink()
    assert judged()[0] == ["a.yaml"]


def test_a_list_of_wires_counts(fleet, judged):
    (fleet / "b.yaml").write_text(
        BAD.replace("{W1: {from: s.A, to: g.A, length: 5 ft, mark_spacing: 20 in}}", "{table: w.csv}")
    )
    (fleet / "w.csv").write_text("Wire No.,From,To,Length\nW1,s.A,g.A,5 ft\n")
    _, records = judged()
    assert records[1].counts
    (fleet / "w.csv").write_text("Wire No.,From,To,Length\nW1,s.A,g.A,6 ft\n")
    assert judged()[0] == ["b.yaml"]


def test_a_part_file_counts_and_so_does_one_that_comes_to_stand_before_it(fleet, judged):
    part = "my bulb: {for: senders, title: Bulb, terminals: [A], source: its drawing}\n"
    (fleet / "b.yaml").write_text("part_files: [mine.yaml]\n" + BAD)
    (fleet / "mine.yaml").write_text(f"parts:\n  {part}")
    _, records = judged()
    assert records[1].counts, records[1]
    (fleet / "mine.yaml").write_text(f"parts:\n  {part.replace('Bulb', 'Lamp')}")
    assert judged()[0] == ["b.yaml"]


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="the system has no links")
def test_a_link_that_comes_to_lead_elsewhere_counts(fleet, judged):
    (fleet / "shared.yaml").rename(fleet / "one.yaml")
    (fleet / "two.yaml").write_bytes((fleet / "one.yaml").read_bytes())
    (fleet / "shared.yaml").symlink_to("one.yaml")
    judged()
    (fleet / "shared.yaml").unlink()
    (fleet / "shared.yaml").symlink_to("two.yaml")
    assert judged()[0] == ["c.yaml"]


def test_a_file_of_another_name_with_the_same_text_is_judged(fleet, judged):
    judged()
    (fleet / "d.yaml").write_bytes((fleet / "b.yaml").read_bytes())
    again, records = judged()
    assert again == ["d.yaml"]
    assert [one.name.rpartition("/")[2] for one in records] == ["a.yaml", "b.yaml", "c.yaml", "d.yaml"]


def test_the_same_name_in_another_folder_is_another_file(fleet, monkeypatch):
    other = fleet.parent / "other"
    other.mkdir()
    (other / "a.yaml").write_text(BAD.replace("NAME", "other"))
    kept = fleet.parent / "done"
    titles = []
    for folder in (fleet, other):
        monkeypatch.chdir(folder)
        titles.append(check_many([Path("a.yaml")], counts_only=True, kept=Kept(kept))[0].title)
    assert titles == ["A", "other"]


def test_what_cannot_be_read_is_tried_again(fleet, judged):
    (fleet / "broken.yaml").write_text("installation: {name: x}\nzonez: {}")
    assert judged()[0] == ["a.yaml", "b.yaml", "broken.yaml", "c.yaml"]
    again, records = judged()
    assert again == ["broken.yaml"]
    assert records[2].problems


def test_what_made_the_checker_fail_is_tried_again(fleet, judged, monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr("installcheck.rules.engine.judge", lambda study: 1 / 0)
        judged()
    assert judged()[0] == ["a.yaml", "b.yaml", "c.yaml"]


def test_what_hangs_on_the_day_counts_for_the_day(fleet, judged, monkeypatch):
    deviation = "deviations: [{rule: run-marked, at: [W1], accepted_by: R. Hale, data: drawing 7, until: 2031-02-03}]\n"
    (fleet / "b.yaml").write_text(BAD + deviation)
    judged()
    assert judged()[0] == []

    class Later(resuming.date):
        @classmethod
        def today(cls):
            return cls(2031, 2, 4)

    for module in (resuming, many):
        monkeypatch.setattr(module, "date", Later)
    assert judged()[0] == ["b.yaml"]


def test_the_clock_is_asked_where_it_is_known_of():
    """A verdict that hangs on the day is not kept beyond it: who asks for the day is known to ``batch``."""
    asking = re.compile(r"date\.today\(|datetime\.now\(|time\.time\(|utcnow\(|gmtime\(|localtime\(")
    package = Path(installcheck.__file__).parent
    judging = ("model", "document", "logs", "survey", "graph", "physics", "analysis", "rules")
    found = {
        file.relative_to(package).as_posix()
        for folder in judging
        for file in (package / folder).rglob("*.py")
        if asking.search(file.read_text(encoding="utf-8"))
    }
    assert found == {"rules/deviations.py"}


def test_another_checker_judges_all_again_and_says_so(fleet, judged, monkeypatch):
    judged()
    monkeypatch.setattr(resuming, "checker_digest", lambda: "another")
    told = run(app, ["check", str(fleet), "--record", str(fleet.parent / "done")])
    assert "kept by another release of installcheck: every file is judged again" in told.stderr
    assert judged()[0] == []


def test_the_digest_of_the_checker_covers_rules_and_parts(monkeypatch, tmp_path):
    known = resuming.checker_digest.__wrapped__()
    assert known == resuming.checker_digest.__wrapped__()
    extra = tmp_path / "extra.yaml"
    extra.write_text("a part more")
    shipped = resuming.shipped_files()
    monkeypatch.setattr(resuming, "shipped_files", lambda: [*shipped, extra])
    with_more = resuming.checker_digest.__wrapped__()
    extra.write_text("a part less")
    assert len({known, with_more, resuming.checker_digest.__wrapped__()}) == 3


@pytest.mark.parametrize(
    "spoil",
    [
        lambda line: line[:-9],
        lambda line: line.replace(b'"meets":', b'"meets":1'),
        lambda line: b"",
        lambda line: b"\xff\x00 {}",
        lambda line: resuming._sealed({"name": "fleet/b.yaml"})[:-1],
        lambda line: resuming._sealed(["b.yaml"])[:-1],
    ],
    ids=["cut short", "another count", "empty", "no text", "nothing told", "a list"],
)
def test_a_line_that_is_not_whole_counts_for_nothing_and_is_told_of(fleet, judged, spoil):
    _, records = judged()
    done = fleet.parent / "done"
    head, a, b, c, end = done.read_bytes().split(b"\n")
    assert not end
    done.write_bytes(b"\n".join((head, a, spoil(b), c, b"")))
    told = run(app, ["check", str(fleet), "--record", str(done)])
    assert "1 line of" in told.stderr
    assert "is judged again" in told.stderr
    done.write_bytes(b"\n".join((head, a, spoil(b), c, b"")))
    assert judged() == (["b.yaml"], records)


def test_a_last_line_that_was_being_written_counts_for_nothing(fleet, judged):
    _, records = judged()
    done = fleet.parent / "done"
    done.write_bytes(done.read_bytes()[:-20])
    kept = Kept(done)
    assert kept.broken == 1
    assert judged() == (["c.yaml"], records)


@pytest.mark.parametrize(
    "text", [b"", b"installation: {name: mine}\n", b"\x00\xff", b"{}\n", resuming._sealed({"title": "x"})]
)
def test_what_is_no_record_is_refused_and_left_as_it_is(fleet, text):
    other = fleet.parent / "mine"
    other.write_bytes(text)
    told = run(app, ["check", str(fleet), "--record", str(other)])
    assert told.exit_code == 2
    assert "is no record of a check" in told.stderr
    assert other.read_bytes() == text


def test_a_record_that_cannot_be_is_refused(fleet, monkeypatch):
    for path in (fleet, fleet / "absent" / "done", fleet / "a.yaml"):
        told = run(app, ["check", str(fleet), "--record", str(path)])
        assert told.exit_code == 2
        assert str(path) in told.stderr
    kept = Kept(fleet.parent / "done")
    (fleet.parent / "done").unlink()
    (fleet.parent / "done").mkdir()
    with pytest.raises(RecordError, match="cannot be written"):
        check_many([fleet / "a.yaml"], counts_only=True, kept=kept)


@pytest.mark.parametrize("more", [["--form", "json"], ["--watch"]])
def test_it_belongs_to_many_files_in_text_form(fleet, more):
    record = str(fleet.parent / "done")
    assert run(app, ["check", str(fleet), "--record", record, *more]).exit_code == 2
    assert run(app, ["check", str(fleet / "a.yaml"), "--record", record]).exit_code == 2
    assert not Path(record).exists()


def test_processes_keep_what_one_process_keeps(fleet):
    files, _ = find_installations([fleet])
    one, two = fleet.parent / "one", fleet.parent / "two"
    alone = check_many(files, counts_only=True, workers=1, kept=Kept(one))
    assert check_many(files, counts_only=True, workers=2, kept=Kept(two)) == alone
    assert sorted(one.read_bytes().split(b"\n")) == sorted(two.read_bytes().split(b"\n"))


MAIN = "from installcheck.cli import main\nmain()"
ENDED = """
import os, signal
from installcheck.batch.resuming import Kept

add, times = Kept.add, []


def add_and_end(self, made):
    add(self, made)
    times.append(made)
    if len(times) == 20:
        with open(self._path, "ab") as handle:
            handle.write(b"0123 {half a line")
        os.kill(os.getpid(), signal.HOW)


Kept.add = add_and_end
"""


def _check(*words, before=""):
    command = [sys.executable, "-c", before + MAIN, "check", *map(str, words)]
    return subprocess.run(command, capture_output=True, text=True, check=False)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="the system has no signal that ends a process")
@pytest.mark.parametrize(("how", "status"), [("SIGKILL", -9), ("SIGTERM", 143)])
def test_a_call_that_is_ended_in_the_middle_goes_on_where_it_was(tmp_path, how, status):
    folder = tmp_path / "fleet"
    folder.mkdir()
    for n in range(50):
        (folder / f"{n:03}.yaml").write_text((BAD if n % 3 else GOOD).replace("NAME", f"N{n}"))
    (folder / "030.yaml").write_text("installation: {name: x}\nzonez: {}")
    done = tmp_path / "done"
    whole = _check(folder)
    assert whole.returncode == 2
    assert "49 checked, 1 cannot be read" in whole.stdout

    ended = _check(folder, "--record", done, before=ENDED.replace("HOW", how))
    assert ended.returncode == status
    assert ended.stdout == ""
    *kept, half = done.read_bytes().split(b"\n")
    assert len(kept) == 21
    assert half == b"0123 {half a line"

    again = _check(folder, "--record", done)
    assert (again.stdout, again.returncode) == (whole.stdout, whole.returncode)
    assert "1 line of" in again.stderr
    assert done.read_bytes().split(b"\n")[:21] == kept
    assert done.read_bytes().count(b"\n") == 50


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="the system has no signal that ends a process")
def test_no_process_outlives_the_one_that_was_started(tmp_path):
    folder = tmp_path / "fleet"
    folder.mkdir()
    for n in range(200):  # more than is worth a second process
        (folder / f"{n:03}.yaml").write_text(f"# {'-' * 2000}\n" + BAD.replace("NAME", f"N{n}"))
    done = tmp_path / "done"
    code = "from installcheck.batch import many\nmany._cores = lambda: 2\n" + MAIN
    command = [sys.executable, "-c", code, "check", str(folder), "--record", str(done)]
    started = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    end = time.monotonic() + 120
    while (not done.exists() or done.read_bytes().count(b"\n") < 2) and time.monotonic() < end:
        time.sleep(0.01)
    started.kill()
    # Every process it has started holds its standard output open; this ends when the last of them has ended.
    assert started.communicate(timeout=60)[0] == ""
    assert 1 <= done.read_bytes().count(b"\n") - 1 < 200
