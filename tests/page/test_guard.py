"""Attacks on the page: each is refused, and nothing of the document leaves."""

import http.client
import json
import socket
import threading
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import uvicorn

from installcheck.page.desk import Desk
from installcheck.page.guard import MAX_BODY, Keys
from installcheck.page.server import application

SECRET = "the secret zone"
TEXT = f"installation: {{name: test}}\nzones: {{{SECRET}: {{occupied: yes}}}}\n"


@dataclass
class Answer:
    status_code: int
    headers: dict[str, str]
    text: str

    def json(self) -> Any:
        return json.loads(self.text)


@dataclass
class Page:
    """A page that listens, and what is sent to it as it stands: no path is tidied, no header added."""

    port: int
    keys: Keys

    def send(self, method: str, path: str, headers: dict[str, Any], body: Any = None) -> Answer:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
            content = b"" if body is None else body if isinstance(body, bytes) else json.dumps(body).encode()
            for name, value in {"host": f"127.0.0.1:{self.port}", **headers}.items():
                connection.putheader(name, value)
            if body is not None:
                connection.putheader("content-length", str(len(content)))
            connection.endheaders()
            with suppress(OSError):  # refused by its head, before the rest is read
                connection.send(content)
            got = connection.getresponse()
            raw = {name.lower(): value for name, value in got.getheaders()}
            return Answer(got.status, raw, got.read().decode("utf-8", "replace"))
        finally:
            connection.close()

    def get(self, path: str) -> Answer:
        return self.send("GET", path, {})

    def ask(self, question: str, body: Any, **headers: str) -> Answer:
        sent = {"authorization": f"Bearer {self.keys.key}", "content-type": "application/json"}
        sent.update({name.replace("_", "-"): value for name, value in headers.items()})
        return self.send("POST", f"/ask/{question}", sent, body)


@pytest.fixture
def page(tmp_path: Path) -> Iterator[Page]:
    file = tmp_path / "one.yaml"
    file.write_text(TEXT)
    (tmp_path / "beside.txt").write_text(SECRET)
    desk, keys = Desk(file, tmp_path, drafts=tmp_path / "state"), Keys()
    with socket.create_server(("127.0.0.1", 0)) as listening:
        port = listening.getsockname()[1]
        app = application(desk, keys, [f"127.0.0.1:{port}"])
        server = uvicorn.Server(uvicorn.Config(app, log_level="critical", lifespan="off", ws="none"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
        thread.start()
        yield Page(port, keys)
        server.should_exit = True
        thread.join()
        desk.end()


def test_the_page_itself_is_answered(page: Page) -> None:
    assert SECRET in page.ask("open", {}).json()["main"]["text"]
    assert page.ask("check", {"texts": {"one.yaml": TEXT}, "serial": 1}).json()["counts"]["discrepancy"] == 0


HOSTS = [
    "evil.example",
    "evil.example:{port}",
    "localhost:{port}",
    "127.0.0.1",
    "127.0.0.1:80",
    "[::1]:{port}",
    "",
    "127.0.0.1:{port}.evil.example",
    "127.1:{port}",
    "0.0.0.0:{port}",
]
ORIGINS = [
    "http://evil.example",
    "null",
    "https://127.0.0.1:{port}",
    "http://127.0.0.1:1",
    "http://127.0.0.1",
    "http://localhost:{port}",
    "file://",
    "http://127.0.0.1:{port}.evil.example",
    "",
]
SITES = ["cross-site", "same-site", "CROSS-SITE"]
PATHS = [
    "/static/../desk.py",
    "/static/%2e%2e/desk.py",
    "/static/..%2fdesk.py",
    "/static/%2e%2e%2fdesk.py",
    "/static/....//desk.py",
    "/static//etc/passwd",
    "/static/%2fetc%2fpasswd",
    "/static/page.html%00.js",
    "/static/C:%5cx.js",
    "/one.yaml",
    "/beside.txt",
    "/static/beside.txt",
    "/static/",
    "/ask/",
    "/../one.yaml",
    "//one.yaml",
    "/static/page.html",
]
QUESTIONS = [
    "__init__",
    "_keep",
    "_sheets",
    "desk",
    "tour",
    "__class__",
    "open/../_keep",
    "nothing",
    "%5f%5fdict%5f%5f",
]
BODIES: list[Any] = [
    b"",
    b"{",
    b"[]",
    b"null",
    b"1",
    b'"x"',
    b"\xff",
    b"[" * 100_000,
    {"texts": 1, "serial": 1},
    {"texts": {"one.yaml": "x"}},
    {"serial": 1},
    {"texts": {"one.yaml": "x"}, "serial": True},
    {"texts": None, "serial": 1},
    {"texts": {"one.yaml": 1}, "serial": 1},
    {"texts": ["x"], "serial": 1},
]


@pytest.mark.parametrize("host", HOSTS)
def test_a_name_that_leads_here_is_no_way_in(page: Page, host: str) -> None:
    answer = page.ask("open", {}, host=host.format(port=page.port))
    assert answer.status_code == 421
    assert SECRET not in answer.text


@pytest.mark.parametrize("origin", ORIGINS)
def test_another_site_is_refused(page: Page, origin: str) -> None:
    answer = page.ask("open", {}, origin=origin.format(port=page.port))
    assert answer.status_code == 403
    assert SECRET not in answer.text


@pytest.mark.parametrize("site", SITES)
def test_a_browser_that_says_another_site_asks_is_believed(page: Page, site: str) -> None:
    assert page.ask("open", {}, sec_fetch_site=site).status_code == 403


@pytest.mark.parametrize("path", PATHS)
def test_nothing_but_the_pages_own_files_is_given_out(page: Page, path: str) -> None:
    answer = page.get(path)
    assert answer.status_code in (404, 405) or "def " not in answer.text
    assert SECRET not in answer.text
    assert "root:" not in answer.text


@pytest.mark.parametrize("question", QUESTIONS)
def test_only_questions_are_answered(page: Page, question: str) -> None:
    answer = page.ask(question, {"text": ""})
    assert answer.status_code in (404, 405)
    assert SECRET not in answer.text


@pytest.mark.parametrize("body", BODIES, ids=range(len(BODIES)))
def test_a_question_of_the_wrong_shape_is_refused(page: Page, body: Any) -> None:
    answer = page.ask("check", body)
    assert answer.status_code == 400
    assert answer.json()["refused"]


FILES = [
    "beside.txt",
    "../one.yaml",
    "/etc/passwd",
    "./one.yaml",
    "one.yaml/../beside.txt",
    "..%2fbeside.txt",
    "C:\\one.yaml",
    "one.yaml\0.txt",
    "__proto__",
    "",
]


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("question", ["file", "save", "theirs"])
def test_no_file_but_those_of_the_document_is_read_or_written(
    page: Page, tmp_path: Path, question: str, name: str
) -> None:
    answer = page.ask(question, {"file": name, "text": "x"})
    assert answer.json()["refused"]
    assert SECRET not in answer.text
    assert (tmp_path / "one.yaml").read_text() == TEXT
    assert sorted(p.name for p in tmp_path.iterdir()) == ["beside.txt", "one.yaml"]


@pytest.mark.parametrize("name", FILES)
def test_no_text_is_kept_or_judged_of_a_file_that_is_none_of_the_document(
    page: Page, tmp_path: Path, name: str
) -> None:
    told = page.ask("check", {"texts": {name: "zones: {"}, "serial": 1}).json()
    assert told["kept"]
    assert not told["problems"]
    assert page.ask("difference", {"texts": {name: "x"}}).status_code == 400
    assert not (tmp_path / "state").exists()


@pytest.mark.parametrize(
    "authorization", ["", "Bearer ", "Bearer x", "Basic eA==", "bearer", "Bearer \u00e9"]
)
def test_without_the_key_nothing_is_told(page: Page, authorization: str) -> None:
    headers = {"authorization": authorization.encode("latin-1"), "content-type": "application/json"}
    answer = page.send("POST", "/ask/open", headers, b"{}")
    assert answer.status_code == 401
    assert SECRET not in answer.text


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""]
)
def test_what_a_form_of_another_site_can_send_is_refused(page: Page, kind: str) -> None:
    assert page.ask("save", {"text": "x"}, content_type=kind).status_code == 415


@pytest.mark.parametrize("method", ["GET", "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE"])
def test_other_methods_are_refused(page: Page, method: str) -> None:
    answer = page.send(method, "/ask/open", {"authorization": f"Bearer {page.keys.key}"})
    assert answer.status_code == 405


def test_a_body_beyond_the_bound_is_refused_by_its_head_and_by_its_length(page: Page) -> None:
    assert page.ask("check", b"x" * (MAX_BODY + 1)).status_code == 413

    chunk = b"%x\r\n" % 1_000_000 + b"x" * 1_000_000 + b"\r\n"
    with socket.create_connection(("127.0.0.1", page.port), timeout=30) as raw:
        head = (
            f"POST /ask/check HTTP/1.1\r\nhost: 127.0.0.1:{page.port}\r\nauthorization: Bearer {page.keys.key}\r\n"
            "content-type: application/json\r\ntransfer-encoding: chunked\r\n\r\n"
        )
        raw.sendall(head.encode())
        with suppress(OSError):  # closed in the middle: refused
            for _ in range(MAX_BODY // 1_000_000 + 2):
                raw.sendall(chunk)
        assert b" 413 " in raw.recv(100)


def test_the_token_opens_one_window_once(page: Page) -> None:
    token = page.keys.token
    assert page.get("/?token=wrong").status_code == 403
    first = page.get(f"/?token={token}")
    assert f'content="{page.keys.key}"' in first.text
    second = page.get(f"/?token={token}")
    assert second.status_code == 403
    assert page.keys.key not in second.text
    plain = page.get("/")
    assert plain.status_code == 200
    assert page.keys.key not in plain.text


def test_every_answer_carries_the_strict_policy(page: Page) -> None:
    for answer in (page.get("/"), page.get("/static/page.js"), page.ask("open", {}), page.get("/nothing")):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["cache-control"] == "no-store"
        assert "access-control-allow-origin" not in answer.headers


def test_script_in_names_comes_out_as_text(page: Page) -> None:
    text = 'installation: {name: "<script>alert(1)</script>"}\nzones: {cabin: {title: "<img src=x onerror=alert(1)>", occupied: yes}}\n'
    page.ask("check", {"texts": {"one.yaml": text}, "serial": 1})
    sheets = page.ask("sheets", {"serial": 1}).json()["sheets"]
    svg = page.ask("sheet", {"digest": sheets[0]["digest"]}).json()["svg"]
    assert "<script" not in svg
    assert "<img" not in svg
