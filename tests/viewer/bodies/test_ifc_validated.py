"""The building as IFC4, held against IfcOpenShell's validator with the rules of the schema."""

from __future__ import annotations

import re

import pytest

from soleplate.viewer.bodies import ifc4
from tests.viewer.bodies.ifc_checks import issues, rewritten_otherwise
from tests.viewer.bodies.models import BUILDINGS, empty, layout_named

FOUND = {
    # A user-defined member that does not say what it is, which the rules of the schema alone forbid.
    "no object type": (r"(IFCMEMBER\([^;]*),'noggin',([^;]*\.USERDEFINED\.\);)", r"\1,$,\2"),
    "negative depth": (r"IFCEXTRUDEDAREASOLID\(([^;]*),[0-9.]+\);", r"IFCEXTRUDEDAREASOLID(\1,-5.);"),
    "no global id": (r"(IFCMEMBER\()'[^']*'", r"\1'no id'"),
}
PASSED = {
    "misspelt": (r"\.STUD\.", ".STUDD."),
    "dropped": (r"(IFCMEMBER\([^;]*),\.STUD\.\);", r"\1);"),
    "added": (r"(IFCMEMBER\([^;]*)\.STUD\.\);", r"\1.STUD.,$);"),
}
"""Faults that the validator need not find."""


def planted(pattern: str, instead: str) -> bytes:
    """A file with one fault in its text."""
    text, count = re.subn(pattern, instead, ifc4(layout_named("partition")).decode("ascii"), count=1)
    assert count == 1
    return text.encode("ascii")


@pytest.fixture(scope="module", name="said")
def said_(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[str]]:
    """What the validator says of everything; it is asked once, since it reads its rules for some seconds."""
    files = {name: ifc4(layout_named(name)) for name in BUILDINGS}
    files |= {"nothing": ifc4(empty())} | {name: planted(*fault) for name, fault in FOUND.items()}
    return issues(files, tmp_path_factory.mktemp("ifc"))


@pytest.mark.parametrize("name", [*BUILDINGS, "nothing"])
def test_the_validator_has_nothing_against_it(name: str, said: dict[str, list[str]]) -> None:
    assert said[name] == []


@pytest.mark.parametrize("name", FOUND)
def test_the_validator_finds_a_planted_fault(name: str, said: dict[str, list[str]]) -> None:
    assert said[name]


@pytest.mark.parametrize("name", PASSED)
def test_what_it_may_pass_is_found_by_writing_it_again(name: str) -> None:
    (line,) = rewritten_otherwise(planted(*PASSED[name]))
    assert "IFCMEMBER" in line
