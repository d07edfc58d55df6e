"""Clients that two generators make of the document: whole, sound by their types, and of use."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.store.place import Place
from tests.buildings import registry
from tests.serving import BASE, serving
from tests.tools import npm_tool, pip_tool

README = Path(__file__).parents[2] / "api" / "README.md"

IN_TYPESCRIPT = """
import type { components, paths } from "./client";

type Wall = components["schemas"]["WallRequest"];
type Layout = paths["/v1/walls"]["post"]["responses"][200]["content"]["application/json"];

export const wall: Wall = { name: "partition", frame: { section: [38, 63] }, length: 3120, height: 2400 };
export const marks = (layout: Layout): string[] =>
  layout.walls.flatMap((each) => each.pieces.map((piece) => piece.mark));
"""

IN_PYTHON = """
import sys

from client import AuthenticatedClient
from client.api.setting_out_and_planning import lay_out_wall
from client.models import FrameSpec, Layout, WallRequest

wall = WallRequest(name="partition", frame=FrameSpec(section=[38, 63]), length=3120, height=2400)


def marks(layout: Layout) -> list[str]:
    return [piece.mark for each in layout.walls for piece in each.pieces]


if __name__ == "__main__":
    answer = lay_out_wall.sync(client=AuthenticatedClient(base_url=sys.argv[1], token="any"), body=wall)
    assert isinstance(answer, Layout)
    print(*marks(answer))
"""


@pytest.fixture(scope="module")
def document(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("document")
    app = create_app(registry(), designs=Place(str(folder / "designs.sqlite")))
    file = folder / "openapi.json"
    file.write_bytes(TestClient(app, base_url=BASE).get("/openapi.json").content)
    return file


def run(*command: str | Path, folder: Path) -> str:
    """What a program says; it has to end well."""
    done = subprocess.run(command, cwd=folder, capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout + done.stderr


def test_a_client_in_typescript(document: Path, tmp_path: Path) -> None:
    """With the options that the generator has by itself."""
    generator = npm_tool("openapi-typescript", "openapi-typescript typescript")
    compiler = npm_tool("tsc", "openapi-typescript typescript")
    run(generator, document, "-o", "client.ts", folder=tmp_path)
    (tmp_path / "use.ts").write_text(IN_TYPESCRIPT)
    run(compiler, "--strict", "--noEmit", "--lib", "es2022", "use.ts", "client.ts", folder=tmp_path)
    (tmp_path / "use.ts").write_text(IN_TYPESCRIPT.replace("length: 3120", "length: true"))
    with pytest.raises(AssertionError, match="Type 'boolean' is not assignable"):
        run(compiler, "--strict", "--noEmit", "--lib", "es2022", "use.ts", "client.ts", folder=tmp_path)


def test_a_client_in_python(document: Path, tmp_path: Path) -> None:
    generator = pip_tool("openapi-python-client", "openapi-python-client")
    (tmp_path / "generator.yaml").write_text(settings(document))
    said = run(
        *(generator, "generate", "--path", document, "--config", "generator.yaml"),
        *("--meta", "none", "--output-path", "client"),
        folder=tmp_path,
    )
    assert said.split() == ["Generating", "client"], "something is left out"
    (tmp_path / "use.py").write_text(IN_PYTHON)
    run(sys.executable, "-m", "mypy", "--strict", "client", "use.py", folder=tmp_path)
    with serving() as server:
        marks = run(sys.executable, "use.py", server.address.rstrip("/"), folder=tmp_path)
    assert len(marks.split()) >= 8


def settings(document: Path) -> str:
    """Those that the README tells, and the same for kinds of file that other plugins bring."""
    told = README.read_text().partition("```yaml\n")[2].partition("```")[0]
    kinds = {
        kind
        for methods in json.loads(document.read_bytes())["paths"].values()
        for operation in methods.values()
        for answer in operation["responses"].values()
        for kind in answer.get("content", ())
        if not kind.startswith("text/") and not kind.endswith("json") and f"  {kind}: " not in told
    }
    return told + "".join(f"  {kind}: application/octet-stream\n" for kind in sorted(kinds))
