"""Prints what IfcOpenShell's validator says of each file that is named, as a JSON list.

It works by itself, so that what the library leaves open and warns of is no fault of a test.
"""

from __future__ import annotations

import ast
import json
import sys
from functools import cache
from types import SimpleNamespace

import ifcopenshell.express.rule_executor
import ifcopenshell.validate

# The rules of the schema are read, and rewritten in place, again for each file: nine tenths of the time.
ifcopenshell.express.rule_executor.ast = SimpleNamespace(parse=cache(ast.parse))


def issues(path: str) -> list[str]:
    """What is said against a file, by the schema and by its rules."""
    logger = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(path, logger, express_rules=True)
    return [str(said["message"]) for said in logger.statements]


if __name__ == "__main__":
    print(json.dumps([issues(path) for path in sys.argv[1:]]))
