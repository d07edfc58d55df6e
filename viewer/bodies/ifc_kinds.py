"""What pieces are in IFC4 (ISO 16739-1:2018): entity, predefined type and set of quantities."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from soleplate.engine.shapes import Role

Entity = Literal["IfcMember", "IfcBeam", "IfcPlate"]


@dataclass(frozen=True, slots=True)
class IfcKind:
    """What a piece is; one that the standard has no type for is user-defined, under its role."""

    entity: Entity
    predefined: str

    @property
    def quantities(self) -> str:
        """The standard's name of its set of quantities."""
        return f"Qto_{self.entity.removeprefix('Ifc')}BaseQuantities"


OTHER: Final = IfcKind("IfcMember", "USERDEFINED")
SHEET: Final = IfcKind("IfcPlate", "SHEET")

KINDS: Final = {
    **dict.fromkeys(
        ("stud", "corner stud", "king stud", "backing stud", "jamb stud", "trimmer", "cripple"),
        IfcKind("IfcMember", "STUD"),
    ),
    **dict.fromkeys(("sole plate", "head plate", "raked plate"), IfcKind("IfcMember", "PLATE")),
    **dict.fromkeys(("rafter", "fly rafter"), IfcKind("IfcMember", "RAFTER")),
    **dict.fromkeys(("brace", "let-in brace"), IfcKind("IfcMember", "BRACE")),
    "post": IfcKind("IfcMember", "POST"),
    **dict.fromkeys(("joist", "rim joist", "trimmer joist"), IfcKind("IfcBeam", "JOIST")),
    **dict.fromkeys(("bearer", "ridge beam"), IfcKind("IfcBeam", "BEAM")),
    "lintel": IfcKind("IfcBeam", "LINTEL"),
}
"""By role."""


def kind_of(role: Role, like: str) -> IfcKind:
    """What a piece of a role is; a plugin's role is `like` one that ships."""
    return SHEET if role.sheet else KINDS.get(role.name) or KINDS.get(like, OTHER)
