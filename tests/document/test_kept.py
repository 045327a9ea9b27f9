"""What is kept of the part files is what would be read anew, and nothing else is ever used."""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path

import pytest

from installcheck.document import DocumentError
from installcheck.document.kept import _containers, read_kept
from installcheck.document.parsing import read_source

PARTS = sorted((Path(__file__).parents[2] / "parts").glob("*.yaml"))
TEXT = "parts:\n  a: {for: senders, terminals: [A, B], tolerance: unknown}\n  b:\n    for: probes\n"


def told(source):
    """Everything a source says: values, places, what is unknown."""
    held = list(_containers(source.plain))
    return (
        source.name,
        source.plain,
        source.digest,
        source.top,
        source.raw,
        [source.spots[id(one)] for one in held],
        [
            (n, key)
            for n, one in enumerate(held)
            for key in source.spots[id(one)]
            if (id(one), key) in source.unknowns
        ],
    )


def test_the_standard_parts_come_back_as_they_were_read(tmp_path):
    files = [(path, f"parts/{path.name}") for path in PARTS]
    anew = [told(read_source(path.read_bytes(), name)) for path, name in files]
    assert [told(s) for s in read_kept(files, tmp_path)] == anew
    assert (tmp_path / "parts.json").exists()
    assert [told(s) for s in read_kept(files, tmp_path)] == anew


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "some.yaml"
    path.write_text(TEXT)
    return path


def test_what_was_kept_is_not_parsed_again(file, tmp_path, monkeypatch):
    first = told(read_kept([(file, "some.yaml")], tmp_path)[0])
    monkeypatch.setattr("installcheck.document.kept.read_source", None)
    again = read_kept([(file, "some.yaml")], tmp_path)[0]
    assert told(again) == first
    assert again.declared_unknown(("parts", "a", "tolerance"))
    assert again.place(("parts", "b", "for")).line == 4


def test_another_text_is_read_anew(file, tmp_path):
    read_kept([(file, "some.yaml")], tmp_path)
    file.write_text(TEXT.replace("probes", "loads"))
    assert read_kept([(file, "some.yaml")], tmp_path)[0].plain["parts"]["b"]["for"] == "loads"


def _sealed(body: bytes) -> bytes:
    return sha256(body).hexdigest().encode() + b"\n" + body


@pytest.mark.parametrize(
    "spoil",
    [
        lambda data: data[: len(data) // 2],
        lambda data: data.replace(b"probes", b"loadss"),
        lambda data: b"",
        lambda data: b"\xff\x00" * 100,
        lambda data: _sealed(b"[]"),
        lambda data: _sealed(b"{}"),
        lambda data: _sealed(b"not json"),
        lambda data: _sealed(json.dumps({**json.loads(data.partition(b"\n")[2]), "files": []}).encode()),
        lambda data: _sealed(data.partition(b"\n")[2].replace(b'"spots":[[', b'"spots":[[1,')),
    ],
)
def test_whatever_is_not_as_it_should_be_is_read_anew(file, tmp_path, spoil):
    anew = told(read_kept([(file, "some.yaml")], tmp_path)[0])
    kept = tmp_path / "parts.json"
    kept.write_bytes(spoil(kept.read_bytes()))
    assert told(read_kept([(file, "some.yaml")], tmp_path)[0]) == anew


def test_a_folder_that_cannot_be_made_is_done_without(file, tmp_path):
    (tmp_path / "blocked").write_text("a file")
    assert read_kept([(file, "some.yaml")], tmp_path / "blocked" / "inside")[0].plain is not None


def test_a_file_that_cannot_be_parsed_is_not_kept(file, tmp_path):
    file.write_text("a: [")
    with pytest.raises(DocumentError):
        read_kept([(file, "some.yaml")], tmp_path)
    assert not (tmp_path / "parts.json").exists()
