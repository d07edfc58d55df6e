"""What a picture of a whole building takes: its solids, the partition of space, and the SVG."""

from __future__ import annotations

from soleplate.engine.laying_out import lay_out
from soleplate.viewer.pictures import Look, chosen, packed, picture_svg, scene_of
from tests.benchmarks.buildings import four_walls
from tests.benchmarks.timing import by_turns, yardstick
from tests.buildings import registry
from tests.floors import floor_with
from tests.roofs import mono

ROUNDS = 15
TARGETS = {200: 150.0, 400: 450.0}
"""ms of processor time by solids."""


def main() -> None:
    """Print the figures."""
    installed = registry()
    framed = mono() | {"floor": floor_with()}
    boards = {"rule": "rebated", "cover": 130, "lengths": [3000, 3600, 4200]}
    clad = framed | {"defaults": framed["defaults"] | {"cladding": boards}}
    for value in (four_walls(), framed, clad):
        layout = lay_out(installed.read_building(value), installed)
        unit, scene, svg, tree = by_turns(
            [
                yardstick,
                lambda layout=layout: scene_of(layout, Look()),
                lambda layout=layout: picture_svg(layout, Look()),
                lambda layout=layout: packed(layout, Look()),
            ],
            ROUNDS,
        )  # type: ignore[misc]
        count = len(chosen(layout, Look()))
        target = next((ms for solids, ms in TARGETS.items() if count <= solids), TARGETS[400])
        print(
            f"a picture of {count} pieces: {svg:.0f} ms, {svg / unit:.1f} of a yardstick of {unit:.1f} ms"
            f" (target {target:.0f} ms); solids and partition {scene / svg:.0%} of it; packed {tree:.0f} ms"
        )


if __name__ == "__main__":
    main()
