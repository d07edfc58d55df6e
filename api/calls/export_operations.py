"""The rows of the table of operations that make files: one for each exporter that has options."""

from __future__ import annotations

from typing import Final

from soleplate.api.calls.operations import (
    WORK,
    WORKING_OUT,
    Answer,
    Operation,
    Parameter,
    building_body,
    query_parameters,
)
from soleplate.api.calls.working import WorkCalls
from soleplate.api.http import NOT_FOUND, described
from soleplate.engine.registry import Registry

NAMED: Final = {"Content-Disposition": "The name to save it under."}


def export_operations(registry: Registry, work: WorkCalls) -> tuple[Operation, ...]:
    """Every call for a file: those exporters that have options by name, and one call for all others."""
    body = building_body(registry)
    types = {exporter.name: exporter.media_type for _, exporter in registry.exporters}
    told = {
        exporter.name: described(exporter.options)
        for _, exporter in registry.exporters
        if exporter.options.model_fields
    }
    made = [
        Operation(
            "POST", f"/v1/exports/{name}", _id(name), f"Make the {name} of a building",
            Answer("The file", media_type=types[name], headers=NAMED),
            work.exports(name), body=body, problems=WORK, group=WORKING_OUT,
            parameters=query_parameters(schemas),
        )
        for name, schemas in told.items()
    ]  # fmt: skip
    plain = {name: media_type for name, media_type in types.items() if name not in told}
    if plain:
        first, *others = sorted(set(plain.values()))
        made.append(
            Operation(
                "POST", "/v1/exports/{name}", "exportBuilding", "Make a file of a building",
                Answer("The file", media_type=first, other_types=tuple(others), headers=NAMED),
                work.export, body=body, problems=(NOT_FOUND, *WORK), group=WORKING_OUT,
                parameters={
                    "name": Parameter("Which export; the installed plugins bring them", tuple(plain))
                },
            )
        )  # fmt: skip
    return tuple(made)


def _id(name: str) -> str:
    return "export" + "".join(word.capitalize() for word in name.split("-"))
