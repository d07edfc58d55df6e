"""The example package as its users get it: built as a wheel, and installed into a fresh environment."""

from __future__ import annotations

import shutil
import subprocess
import sys
import venv
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "examples" / "plugin_package"

AS_ONE_FILE = f"import sys\nsys.path.append({str(PACKAGE / 'src')!r})\nfrom backing_boards import *\n"
"""The package from where it lies here, as a plugin in one file."""

SOURCES = ("engine", "plugins", "viewer", "api", "examples", "pyproject.toml", "README.md", "LICENSE")
"""Of Soleplate: what its own wheel is built from."""


@dataclass(frozen=True)
class Environment:
    """A virtual environment with Soleplate and the example installed, each from its wheel."""

    folder: Path

    @property
    def python(self) -> Path:
        return self.folder / "bin" / "python"

    @property
    def command(self) -> Path:
        return self.folder / "bin" / "soleplate"


def install(folder: Path, *, example: bool = True) -> Environment:
    """Build the wheels and install them; what they depend on is found where these tests find it."""
    environment = Environment(folder / "fresh")
    venv.create(environment.folder, with_pip=False, symlinks=True)
    (site,) = environment.folder.glob("lib/python*/site-packages")
    shared = [path for path in sys.path if path.endswith("site-packages")]
    lines = [f"import site; site.addsitedir({path!r})" for path in shared]
    (site / "shared.pth").write_text("\n".join(lines) + "\n")
    wheels = folder / "wheels"
    sources = [_copy(folder / "soleplate")]
    if example:
        sources.append(Path(shutil.copytree(PACKAGE, folder / "example")))
    for source in sources:
        _pip("wheel", "--no-deps", "--no-index", "--no-build-isolation", "--wheel-dir", wheels, source)
    # A Soleplate that these tests run with is seen from there too, and is not what is meant.
    flags = ("--no-deps", "--no-index", "--ignore-installed")
    _pip("--python", environment.python, "install", *flags, *sorted(wheels.glob("*.whl")))
    return environment


def _copy(folder: Path) -> Path:
    folder.mkdir()
    for name in SOURCES:
        copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy
        copy(ROOT / name, folder / name)
    return folder


def _pip(*arguments: str | Path) -> None:
    """Without a look at any index: nothing is fetched."""
    done = subprocess.run(
        [sys.executable, "-m", "pip", "--disable-pip-version-check", *arguments],
        capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
