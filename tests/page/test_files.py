"""The page's own files: whole, made from what is beside them, and in need of no network."""

import re
from hashlib import sha256
from pathlib import Path

import installcheck.page

PAGE = Path(installcheck.page.__file__).parent
STATIC = PAGE / "static"


def test_the_bundle_is_made_of_the_sources_beside_it() -> None:
    made = sha256(
        (PAGE / "editor" / "editor.mjs").read_bytes() + (PAGE / "editor" / "package-lock.json").read_bytes()
    )
    assert made.hexdigest() in (STATIC / "editor.js").read_text(encoding="utf-8").split("\n", 1)[0]


def test_every_file_the_page_asks_for_is_there_and_comes_from_here() -> None:
    for file in STATIC.glob("*.*"):
        if file.name in ("editor.js", "editor-licences.txt"):
            continue
        text = file.read_text(encoding="utf-8")
        assert "//" not in re.sub(r"(?m)^\s*//.*$|\s// .*$|/static/", "", text).replace("{{", ""), file.name
        for name in re.findall(r'/static/([\w.-]+)"|from "\./([\w.-]+)"', text):
            assert (STATIC / (name[0] or name[1])).is_file(), name


def test_nothing_of_a_document_becomes_markup() -> None:
    for file in STATIC.glob("*.js"):
        if file.name != "editor.js":
            assert not re.search(
                r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(|new Function",
                file.read_text(encoding="utf-8"),
            )
