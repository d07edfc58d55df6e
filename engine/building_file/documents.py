"""From the value of a JSON text to a document, or its faults."""

from __future__ import annotations

from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from soleplate.engine.building_file.document_faults import document_error
from soleplate.engine.building_file.errors import telling
from soleplate.engine.building_file.units import Units

Document = TypeVar("Document", bound=BaseModel)


def read_document(model: type[Document], value: Any) -> Document:
    """A document from the value of a JSON text.

    Raises:
        SchemaError: the published JSON Schema says no.
        UnbuildableError: it is well-formed, and nothing that can be built is like that.
    """
    units: Units = "in" if isinstance(value, dict) and value.get("units") == "in" else "mm"
    with telling(units):
        try:
            return model.model_validate(value, context={"units": units})
        except ValidationError as error:
            raise document_error(error, value, model) from None
