"""The building as glTF, held against Khronos's validator, which runs in node."""

from __future__ import annotations

import json
import os
import shutil
import struct
import subprocess
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from soleplate.viewer.bodies import glb
from tests.buildings import building, layout_of
from tests.viewer.bodies.models import BUILDINGS, empty, layout_named
from tests.viewer.bodies.test_gltf import HOSTILE, Model

SCRIPT = Path(__file__).with_name("validate_gltf.cjs")
FOLDER = "SOLEPLATE_NPM_TOOLS"
"""The environment's name of a folder into which `npm install --prefix` has put `gltf-validator`."""

Json = dict[str, Any]


def with_wrong_most(document: Json) -> None:
    next(each for each in document["accessors"] if "max" in each)["max"][0] += 1.0


def with_a_node_used_twice(document: Json) -> None:
    first, second, *_ = (node for node in document["nodes"] if "children" in node)
    second["children"].append(first["children"][0])


def with_a_matrix_that_is_no_turn(document: Json) -> None:
    next(node for node in document["nodes"] if "matrix" in node)["matrix"][0:3] = [1.0, 1.0, 0.0]


PLANTED: dict[str, tuple[Callable[[Json], None], str]] = {
    "wrong most": (with_wrong_most, "ACCESSOR_MAX_MISMATCH"),
    "node used twice": (with_a_node_used_twice, "NODE_PARENT_OVERRIDE"),
    "no turn": (with_a_matrix_that_is_no_turn, "NODE_MATRIX_NON_TRS"),
}
"""Faults, and the validator's names for them."""


def planted(fault: Callable[[Json], None]) -> bytes:
    model = Model.read(glb(layout_named("hen_house")))
    fault(model.document)
    text = json.dumps(model.document).encode()
    text += b" " * (-len(text) % 4)
    chunks = ((b"JSON", text), (b"BIN\0", model.binary))
    body = b"".join(struct.pack("<I", len(held)) + kind + held for kind, held in chunks)
    return b"glTF" + struct.pack("<II", 2, 12 + len(body)) + body


def issues(files: Mapping[str, bytes], folder: Path) -> dict[str, Json]:
    """What the validator says of each file; without it the test is skipped, or fails where it is promised."""
    installed = Path(os.environ.get(FOLDER, os.devnull)) / "node_modules"
    lacking = [
        what
        for what, there in (
            ("node is not installed", shutil.which("node") is not None),
            (f"{FOLDER} names no folder with gltf-validator in it", (installed / "gltf-validator").is_dir()),
        )
        if not there
    ]
    if lacking:
        said = f"{' and '.join(lacking)}; npm install --prefix FOLDER gltf-validator, and set {FOLDER}=FOLDER"
        if os.environ.get("CI") or FOLDER in os.environ:
            pytest.fail(f"glTF was not validated: {said}")
        pytest.skip(f"glTF is not validated here: {said}")
    paths = [folder / f"{number}.glb" for number in range(len(files))]
    for path, content in zip(paths, files.values(), strict=True):
        path.write_bytes(content)
    done = subprocess.run(
        ["node", str(SCRIPT), *map(str, paths)],
        env=os.environ | {"NODE_PATH": str(installed)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return dict(zip(files, json.loads(done.stdout), strict=True))


@pytest.fixture(scope="module", name="said")
def said_(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Json]:
    hostile = building(name=HOSTILE, frame={"section": [45, 70], "material": HOSTILE, "density": 400})
    files = {name: glb(layout_named(name)) for name in BUILDINGS}
    files |= {"nothing": glb(empty()), "hostile": glb(layout_of(hostile))}
    files |= {name: planted(fault) for name, (fault, _) in PLANTED.items()}
    return issues(files, tmp_path_factory.mktemp("gltf"))


@pytest.mark.parametrize("name", [*BUILDINGS, "nothing", "hostile"])
def test_the_validator_has_nothing_against_it(name: str, said: dict[str, Json]) -> None:
    assert said[name]["messages"] == []
    assert (said[name]["numErrors"], said[name]["numWarnings"]) == (0, 0)


@pytest.mark.parametrize("name", PLANTED)
def test_the_validator_finds_a_planted_fault(name: str, said: dict[str, Json]) -> None:
    assert PLANTED[name][1] in {message["code"] for message in said[name]["messages"]}
    assert said[name]["numErrors"] > 0
