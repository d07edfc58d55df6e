"""The building file: what a person asks for.

In: bytes or JSON values. Out: frozen documents, or every fault with its place.
"""

from __future__ import annotations

from soleplate.engine.building_file.accepted_values import accepted
from soleplate.engine.building_file.building import Building, Choices, FrameSpec, WallBlock
from soleplate.engine.building_file.document_faults import document_error
from soleplate.engine.building_file.documents import read_document
from soleplate.engine.building_file.errors import (
    BuildingError,
    EngineError,
    Fault,
    SchemaError,
    TooManyPiecesError,
    UnbuildableError,
    UnreadableError,
    pointer_to,
    telling,
)
from soleplate.engine.building_file.figures import (
    Count,
    Figure,
    Form,
    Listed,
    Mm,
    MmList,
    Reach,
    Said,
    Sides,
    Way,
    at_least,
    at_most,
    said,
)
from soleplate.engine.building_file.model import (
    AnyLength,
    Distance,
    Items,
    Limits,
    Model,
    Name,
    said_of,
    unbuildable,
)
from soleplate.engine.building_file.obstacles import Obstacle
from soleplate.engine.building_file.opening import At, Opening
from soleplate.engine.building_file.outline import (
    LONGEST_WALL,
    LOWEST_WALL,
    SHORTEST_WALL,
    SIDES,
    AnyOutline,
    ClosedPlan,
    PlanWall,
    Rectangle,
    SingleWalls,
    Tee,
    Through,
    WallEnd,
    in_each_other,
    partition_room,
    plan_walls,
    wall_names,
)
from soleplate.engine.building_file.panels import LEAST_PANEL, Panels
from soleplate.engine.building_file.pointing import pointer_within
from soleplate.engine.building_file.read_only import ReadOnlyDict, ReadOnlyError, read_only
from soleplate.engine.building_file.reading import LARGEST, read_json, read_json_file
from soleplate.engine.building_file.roof import (
    STEEPEST,
    DuoPitchRoof,
    LevelRoof,
    MonoPitchRoof,
    RoofPlanes,
    carries_roof,
    roof_planes,
    top_line,
)
from soleplate.engine.building_file.room import ANY, MOST_PIECES, Room
from soleplate.engine.building_file.single_wall import WallRequest, pointer_in_request
from soleplate.engine.building_file.site import Measured, Site, WorkRates
from soleplate.engine.building_file.stock import Grade, OnHand, Stock, StockLength, StockTimber
from soleplate.engine.building_file.timber import (
    UNKNOWN_DENSITY,
    Deviation,
    SectionField,
    SectionOf,
    Timber,
    ToleranceClass,
    tolerance,
    worst_and_likely,
)
from soleplate.engine.building_file.units import (
    MM2_PER_M2,
    MM3_PER_M3,
    MM_PER_INCH,
    MM_PER_M,
    MM_PER_UNIT,
    Units,
    format_figure,
    format_length,
    parse_length,
    plain_figure,
    round_for_tape,
)
from soleplate.engine.building_file.yielding import LengthYield, yield_of
