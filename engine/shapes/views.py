"""Views: planes in the world in which the pieces of a part are drawn and measured."""

from __future__ import annotations

from dataclasses import dataclass

Vector = tuple[float, float, float]
"""In the world: X to the right along the front, Y from front to back, Z up; mm, or a direction."""


@dataclass(frozen=True, slots=True)
class View:
    """A plane seen from outside: u runs along `right`, v along `up`, and depth w inwards from it.

    `origin` is where u, v and w are 0; `right` and `up` are unit vectors, square to each other. A wall has
    one view, its `face`; a floor is seen from above in its `plan`; a slope has several.
    """

    name: str
    origin: Vector
    right: Vector
    up: Vector

    @property
    def inwards(self) -> Vector:
        """The unit vector away from the viewer: `up` x `right`."""
        (rx, ry, rz), (ux, uy, uz) = self.right, self.up
        return (uy * rz - uz * ry, uz * rx - ux * rz, ux * ry - uy * rx)

    def point(self, u: float, v: float, w: float = 0.0) -> Vector:
        """The place in the world of a place in the view, mm."""
        (x, y, z), inwards = self.origin, self.inwards
        return (
            x + u * self.right[0] + v * self.up[0] + w * inwards[0],
            y + u * self.right[1] + v * self.up[1] + w * inwards[1],
            z + u * self.right[2] + v * self.up[2] + w * inwards[2],
        )
