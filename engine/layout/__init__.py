"""The layout: what comes out, as models.

In: nothing. Out: the shapes of the results that every later stage fills and everybody reads.
"""

from __future__ import annotations

from soleplate.engine.layout.braces import BraceOut, StrapOut
from soleplate.engine.layout.cautions import CAUTIONS
from soleplate.engine.layout.findings import ENGLISH, PRACTICE, FindingOut, Level, gravest_first
from soleplate.engine.layout.fixings import FixingFault, FixingPlace, FixingsRow, JointFixingOut, TieOut
from soleplate.engine.layout.floors import FloorOut
from soleplate.engine.layout.goods import AnchorOut, GoodsRow
from soleplate.engine.layout.layout import Layout, PartOut
from soleplate.engine.layout.lists import BoardCount, BoardsOut, BuyingRow, CutOut, CuttingRow, RodCourse
from soleplate.engine.layout.order_of_work import (
    BlockedWay,
    ClosedIn,
    Helps,
    InTheWay,
    OrderCost,
    OrderOfWork,
    PlacedObstacle,
    PlacedPanel,
    SitePlan,
    StepKind,
    TemporaryBraceOut,
    WindOut,
    WorkHours,
    WorkStep,
)
from soleplate.engine.layout.pieces import (
    CutEnd,
    Fixing,
    HousingOut,
    NotchOut,
    Piece,
    Taper,
    Turn,
    mirrored_ends,
)
from soleplate.engine.layout.result import Record, Result
from soleplate.engine.layout.slopes import (
    ClosingOut,
    CoveringOut,
    CoveringPartOut,
    RafterCardOut,
    SlopeOut,
)
from soleplate.engine.layout.solids import plane_of, seen_solids, solids_of
from soleplate.engine.layout.walls import (
    BayOut,
    Change,
    CladdingOut,
    CourseOut,
    Drift,
    FinishOut,
    LeafOut,
    Mark,
    OpeningOut,
    PanelOut,
    PlanOut,
    PlateLength,
    Spacer,
    ViewOut,
    WallChanges,
    WallOut,
)
