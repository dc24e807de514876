"""Who is let in: only the page itself, on this machine, with its secret."""

from __future__ import annotations

import json
import os
import signal
import socket
import stat

import pytest

from spinefit.page.safety import MOST_BYTES
from spinefit.page.secret import kept_secret
from tests.page.served import served

JOB = 'title = "Tide Tables"\nwidth = "20mm"\nheight = "210mm"\n'


@pytest.mark.parametrize("path", ["", "part/page.js", "opened", "ask/answer", "nothing"])
def test_without_the_secret_nothing_is_given(page, path):
    for secret in ("", "wrong", page.address.split("/")[3][:-1], page.address.split("/")[3] + "x"):
        whole = f"http://{page.host}/{secret}/{path}"
        code, _, body = page.reply("", whole=whole)
        assert code == 403
        assert b"spinefit page" in body


@pytest.mark.parametrize(
    "headers",
    [
        {"Host": "harbour.example"},
        {"Host": "localhost:8377"},
        {"Origin": "http://harbour.example"},
        {"Origin": "null"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_foreign_hosts_and_origins_are_turned_away(page, headers):
    for path, body in (("", None), ("ask/answer", json.dumps({"job": JOB}).encode())):
        assert page.reply(path, body, headers)[0] == 403


def test_the_page_itself_is_let_in(page):
    own = {"Origin": f"http://{page.host}", "Sec-Fetch-Site": "same-origin"}
    code, headers, _ = page.reply("ask/answer", json.dumps({"job": JOB}).encode(), own)
    assert code == 200
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["x-content-type-options"] == "nosniff"
    assert "server" not in headers


def test_the_policy_lets_nothing_of_others_run(page):
    _, headers, body = page.reply("")
    policy = dict(part.split(" ", 1) for part in headers["content-security-policy"].split("; "))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["connect-src"] == "'self'"
    assert policy["frame-ancestors"] == "'none'"
    assert b"<style" not in body
    assert b"style=" not in body
    assert b"onclick" not in body


def test_only_parts_of_the_page_are_read(page):
    for name in ("..%2fserver.py", "%2fetc%2fpasswd", "page.py", "__init__.py", "../server.py"):
        assert page.reply(f"part/{name}")[0] == 404


def test_it_listens_on_this_machine_alone(page):
    port = int(page.host.rpartition(":")[2])
    for family, *_, place in socket.getaddrinfo(
        socket.gethostname(), port, type=socket.SOCK_STREAM
    ):
        if str(place[0]).startswith("127.") or family is not socket.AF_INET:
            continue
        with socket.socket(family, socket.SOCK_STREAM) as other:
            other.settimeout(2)
            assert other.connect_ex(place) != 0


def test_what_is_too_large_is_not_taken(page):
    code, _, body = page.reply("file", b"\0" * (MOST_BYTES + 1))
    assert code == 413
    assert b"20 MB" in body


@pytest.mark.parametrize("body", [b"", b"{", b"[]", b"7", b'"job"', b"[" * 5000])
def test_what_is_no_question_is_refused(page, body):
    assert page.reply("ask/answer", body)[0] == 400


def test_any_turn_is_answered_without_a_trace(tmp_path):
    with served(tmp_path) as page:
        body = json.dumps({"job": JOB}).encode()
        for turn in ("9" * 5000, "9" * 30, "-1", "x", "%D9%A3", ""):
            assert page.reply(f"ask/answer?tab=one&turn={turn}", body)[0] == 200
        page.process.terminate()
        assert page.process.stderr.read() == ""


@pytest.mark.parametrize(
    "line",
    [
        'font = "/etc/passwd"', 'font = "../secret.ttf"', 'tools = "/etc/passwd"',
        'method-file = "methods.toml"', 'font = "~/own.ttf"', "font = 'C:\\own.ttf'",
        'fallback = ["EB Garamond", "/etc/hosts"]',
    ],
)  # fmt: skip
def test_no_file_of_the_machine_is_read(page, line):
    told = page.ask("ask/answer", {"job": f"{JOB}{line}\n"})
    assert "opened in the page" in told["fault"]["text"]
    assert told["fault"]["where"] == line.partition(" ")[0]


def test_no_path_of_the_machine_is_told(page):
    told = page.ask("ask/answer", {"job": 'title = "Tides"\nwidth = "20 furlongs"\n'})
    assert told["fault"]["where"] == "width"
    assert "/" not in told["fault"]["text"].replace("3/8in", "")


def test_the_secret_can_be_read_by_its_user_alone(tmp_path):
    first = kept_secret(tmp_path / "own")
    place = tmp_path / "own" / "page-secret"
    if os.name == "posix":
        assert stat.S_IMODE(place.stat().st_mode) == 0o600
    assert kept_secret(tmp_path / "own") == first
    second = kept_secret(tmp_path / "own", renewed=True)
    assert second != first
    assert kept_secret(tmp_path / "own") == second
    place.chmod(0o644)
    if os.name == "posix":
        assert kept_secret(tmp_path / "own") != second


def test_a_renewed_address_turns_the_old_one_away(tmp_path):
    with served(tmp_path) as first:
        old = first.address
    with served(tmp_path) as again:
        assert again.address.split("/")[3] == old.split("/")[3]
    with served(tmp_path, "--new-address") as renewed:
        whole = f"http://{renewed.host}/{old.split('/')[3]}/"
        assert renewed.reply("", whole=whole)[0] == 403


def test_ctrl_c_ends_it_with_0(tmp_path):
    with served(tmp_path) as page:
        page.process.send_signal(signal.SIGINT)
        assert page.process.wait(30) == 0
        assert page.process.stdout.read() == ""
        assert page.process.stderr.read() == ""


def test_a_port_that_is_taken_is_said(tmp_path, run):
    with served(tmp_path) as page:
        port = page.host.rpartition(":")[2]
        done = run("page", "--no-open", "--port", port)
        assert done.exit_code == 2
        assert "--port 0" in done.stderr
