"""`soleplate serve`: a real server in a process of its own, on loopback."""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import signal
import socket
import subprocess
import sys
import threading
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from urllib.parse import urlsplit

import httpx2
import pytest

from soleplate.api import environment
from soleplate.api.http.problems import MEDIA_TYPE
from soleplate.api.work.messages import EXAMPLE_WALL
from tests.api import plugin_files
from tests.api.test_command_line import refused
from tests.api.test_serve_stops import children, ended
from tests.buildings import BARE_HONEY_HOUSE, building, honey_house
from tests.serving import run, serving


def test_it_says_where_to_look_and_serves() -> None:
    with serving(BARE_HONEY_HOUSE) as server, httpx2.Client(base_url=server.address, timeout=60) as client:
        assert "<h1>Honey house</h1>" in client.get("/").text
        assert client.get("/health").json()["status"] == "up"
        assert client.post("/v1/layouts", json=honey_house()).status_code == 200
        assert "server" not in client.get("/health").headers


def test_fifty_megabytes_are_turned_away_and_the_server_goes_on() -> None:
    with serving() as server, httpx2.Client(base_url=server.address, timeout=60) as client:
        headers = {"content-type": "application/json"}
        answer = client.post("/v1/layouts", content=b" " * 50_000_000, headers=headers)
        assert (answer.status_code, answer.headers["content-type"]) == (413, MEDIA_TYPE)
        assert client.get("/health").status_code == 200


@pytest.mark.parametrize("sent", [signal.SIGINT, signal.SIGTERM])
def test_it_stops_when_told(sent: signal.Signals) -> None:
    with serving() as server:
        server.process.send_signal(sent)
        assert server.process.wait(20) in (0, 130, -sent)
        assert server.process.stderr is not None
        assert server.process.stderr.read() == ""


def test_a_port_that_is_taken() -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        refused(run("serve", "--port", port), f"port {port}", "in use", "--port")


def test_an_unknown_host() -> None:
    variables = dict(os.environ) | {"SOLEPLATE_TOKEN": "sesame"}
    refused(run("serve", "--host", "192.0.2.7", variables=variables), "192.0.2.7", "accepted")


def test_off_loopback_it_does_not_start_without_a_token() -> None:
    variables = {name: value for name, value in os.environ.items() if name != "SOLEPLATE_TOKEN"}
    refused(run("serve", "--host", "0.0.0.0", variables=variables), "SOLEPLATE_TOKEN")


def test_it_listens_on_loopback_alone() -> None:
    with serving() as server:
        assert urlsplit(server.address).hostname == "127.0.0.1"


def test_its_options_reach_the_server(tmp_path: Path) -> None:
    site = "https://plans.example"
    variables = dict(os.environ) | {"SOLEPLATE_TOKEN": "sesame"}
    told = {"authorization": "Bearer sesame", "origin": site}
    options = ("--token-for-reading", "--allow-origin", site, "--log", "json", "--workers", "1")
    with serving(*options, variables=variables) as server:
        with httpx2.Client(base_url=server.address, timeout=60) as client:
            assert client.get("/v1/rules").status_code == 401
            answer = client.post("/v1/walls", json=EXAMPLE_WALL, headers=told | {"X-Request-ID": "w1"})
            assert (answer.status_code, answer.headers["access-control-allow-origin"]) == (200, site)
        server.process.send_signal(signal.SIGTERM)
        assert server.process.stderr is not None
        lines = [json.loads(line) for line in server.process.stderr.read().splitlines()]
    assert [(line["method"], line["path"], line["status"]) for line in lines] == [
        ("GET", "/v1/rules", 401),
        ("POST", "/v1/walls", 200),
    ]
    assert lines[1]["request_id"] == "w1"
    assert set(lines[1]) == {"at", "request_id", "client", "method", "path", "status", "sent", "took_ms"}


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--allow-origin", "*"), "accepted is scheme and host"),
        (("--token-for-reading",), "SOLEPLATE_TOKEN"),
        (("--workers", "0"), "--workers"),
        (("--log", "loud"), "--log"),
    ],
)
def test_options_that_cannot_be(options: tuple[str, ...], words: str) -> None:
    variables = {name: value for name, value in os.environ.items() if name != "SOLEPLATE_TOKEN"}
    refused(run("serve", *options, variables=variables), words)


def test_the_example_client_prints_the_marks() -> None:
    script = Path(__file__).parents[2] / "examples" / "client" / "wall_marks.py"
    with serving("--workers", "1") as server:
        done = subprocess.run(
            [sys.executable, script, server.address], capture_output=True, text=True, check=False
        )
        layout = httpx2.post(f"{server.address}v1/walls", json=EXAMPLE_WALL, timeout=60).json()
    assert (done.returncode, done.stderr) == (0, "")
    soles = [each for each in layout["walls"][0]["plate_lengths"] if each["plate"] == "sole plate"]
    marks = [(f"{mark['at']:.1f}", mark["mark"]) for sole in soles for mark in sole["marks"]]
    printed = [line.split() for line in done.stdout.splitlines() if " mm  " in line]
    assert [sole["start"] for sole in soles] == [0.0, 2238.0]
    assert [(words[0], words[2]) for words in printed] == marks
    assert len(marks) >= 6
    assert layout["cautions"][0] in done.stdout


def test_the_example_client_says_what_is_wrong() -> None:
    script = Path(__file__).parents[2] / "examples" / "client" / "wall_marks.py"
    with socket.create_server(("127.0.0.1", 0)) as free:
        address = f"http://127.0.0.1:{free.getsockname()[1]}"
    done = subprocess.run([sys.executable, script, address], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith(f"no answer from {address}")


class Busy(BaseHTTPRequestHandler):
    """Busy for the first two calls; then it says no."""

    calls = 0

    def do_POST(self) -> None:
        Busy.calls += 1
        body = json.dumps({"type": "http://x/problems/no-token", "title": "A token", "detail": "is needed"})
        self.send_response(503 if Busy.calls < 3 else 401)
        self.send_header("Retry-After", "0")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body.encode())

    def log_message(self, *_: object) -> None:
        """Say nothing."""


def test_the_example_client_asks_a_busy_server_again() -> None:
    script = Path(__file__).parents[2] / "examples" / "client" / "wall_marks.py"
    with HTTPServer(("127.0.0.1", 0), Busy) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        address = f"http://127.0.0.1:{server.server_port}"
        done = subprocess.run([sys.executable, script, address], capture_output=True, text=True, check=False)
        server.shutdown()
    assert Busy.calls == 3
    assert done.returncode == 1
    assert done.stderr == "A token: is needed\nset SOLEPLATE_TOKEN to the server's token\n"


@pytest.mark.skipif(shutil.which("curl") is None, reason="curl is not installed")
def test_the_call_of_the_readme_with_curl() -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    (command,) = re.findall(r"```sh\n(curl .*?)```", readme, re.DOTALL)
    with serving("--workers", "1") as server:
        here = command.replace("http://127.0.0.1:8017/", server.address).replace("curl ", "curl -sS ")
        done = subprocess.run(["sh", "-c", here], capture_output=True, text=True, check=True)
    assert json.loads(done.stdout)["walls"][0]["name"] == "partition"


APP = "soleplate.api.environment:app"
UNDER = {
    "uvicorn": (
        "uvicorn", "--factory", APP, "--http", "soleplate.api.connections:Connection", "--port", "PORT",
        "--workers", "2", "--no-access-log",
    ),
    "gunicorn": (
        "gunicorn", f"{APP}()", "--worker-class", "uvicorn_worker.UvicornWorker", "--workers", "2",
        "--bind", "127.0.0.1:PORT",
    ),
}  # fmt: skip
"""Other servers, started as the README says, on another port."""


def test_the_readme_starts_other_servers_so() -> None:
    readme = (Path(__file__).parents[2] / "api" / "README.md").read_text(encoding="utf-8")
    for words in UNDER.values():
        line = shlex.join(word.replace("PORT", "8017") for word in words)
        assert line in readme


@pytest.mark.parametrize("name", UNDER)
def test_under_another_server_variables_set_it_up(name: str, tmp_path: Path) -> None:
    file = tmp_path / "barn.py"
    file.write_text(plugin_files.SOUND)
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    variables = dict(os.environ) | {
        "SOLEPLATE_PLUGINS": str(file), "SOLEPLATE_WITHOUT": "cautions", "SOLEPLATE_WORKERS": "1",
        "SOLEPLATE_LOG": "json", "SOLEPLATE_DESIGNS": str(tmp_path / "designs.sqlite"),
    }  # fmt: skip
    command = [sys.executable, "-m", *(word.replace("PORT", str(port)) for word in UNDER[name])]
    with (
        subprocess.Popen(command, env=variables, stderr=subprocess.PIPE, text=True) as process,
        httpx2.Client(base_url=f"http://127.0.0.1:{port}", timeout=60) as client,
    ):
        while True:
            try:
                health = client.get("/health").json()
                break
            except httpx2.TransportError:
                assert process.poll() is None
        assert "barn" in health["plugins"]
        assert "cautions" not in health["plugins"]
        lonely = building(defaults={"studs": {"rule": "lonely"}})
        assert client.post("/v1/layouts", json=lonely).status_code == 200
        pids = [pid for child in children(process.pid) for pid in (child, *children(child))]
        process.send_signal(signal.SIGTERM)
        assert process.wait(60) in (0, -signal.SIGTERM)
        assert len(pids) >= 4
        assert ended(pids)
        assert process.stderr is not None
        paths = [json.loads(line)["path"] for line in process.stderr if line.startswith("{")]
    assert paths == ["/health", "/v1/layouts"]


@pytest.mark.parametrize(
    ("name", "value"),
    [("SOLEPLATE_WORKERS", "many"), ("SOLEPLATE_LOG", "loud"), ("SOLEPLATE_WITHOUT_BROKEN", "yes")],
)
def test_variables_that_cannot_be(name: str, value: str) -> None:
    with pytest.raises(ValueError, match=f"{name} is '{value}'; accepted"):
        environment.app({name: value})
