"""Bodies: a building as solids, in formats that other programs show and take over.

In: a layout. Out: bytes, the same ones for the same layout.
"""

from __future__ import annotations

from soleplate.viewer.bodies.gltf import glb
from soleplate.viewer.bodies.ifc import ifc4
from soleplate.viewer.bodies.ifc_step import LACKING, is_installed
