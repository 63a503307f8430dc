# SPDX-License-Identifier: MIT
"""What stays trapped when the part is held so."""
from __future__ import annotations

import ctypes
from ctypes import byref
from typing import TYPE_CHECKING, Any, List, Optional, Sequence

from . import _raw
from ._arrays import choices, look, packed, take, vector
from ._context import Context, Handle, default_context, some
from ._errors import error
from ._library import room
from ._options import takes
from ._raw import lib
from ._records import BoreInfo, PocketInfo, PocketsInfo, PoseInfo, PoseOptions
from .mesh import Mesh

if TYPE_CHECKING:
    from ._types import Doubles
    from .cavity import Cavities


class Pockets(Handle):
    """The pockets of air that stay trapped in a pose once all else is full, largest first."""

    _type = _raw.vug_pockets
    _free = "vug_pockets_free"
    cavities: "Cavities"

    @classmethod
    @takes(PoseOptions)
    def find(cls, cavities: "Cavities", up: Sequence[float],
             roles: Optional[Sequence[int]] = None, context: Optional[Context] = None,
             **options: Any) -> "Pockets":
        """Holds the part with up pointing up and fills it without hurry.

        roles: one number for each opening (vug.ROLE_OPEN, ROLE_SEALED and so on); None: all are
        open. options: members of PoseOptions.
        """
        which, count = choices(roles)
        return (context or default_context()).make(
            cls, lib.vug_pockets_find, cavities._pointer, vector(up), which, count,
            PoseOptions(**options).pointer, _with={"cavities": cavities})

    @classmethod
    @takes(PoseOptions)
    def find_poses(cls, cavities: "Cavities", ups: Any, roles: Optional[Sequence[int]] = None,
                   context: Optional[Context] = None, **options: Any) -> List["Pockets"]:
        """The same for many poses (rows of 3) in one call, on all threads."""
        context = context or default_context()
        which, count = choices(roles)
        given, poses, keep = packed(ups, ctypes.c_double, 3)
        out = (ctypes.POINTER(_raw.vug_pockets) * max(poses, 1))()
        context.call(lib.vug_pockets_find_poses, cavities._pointer, given, poses, which, count,
                     PoseOptions(**options).pointer, out)
        del keep
        made: List["Pockets"] = [cls(pointer, context) for pointer in out]
        for pockets in made:
            pockets.__dict__["cavities"] = cavities
        return made

    def _about(self) -> str:
        return f"{len(self)}, of {1e-3 * self.trapped_mm3:.3g} mL"

    def __len__(self) -> int:
        return int(lib.vug_pockets_count(self._pointer))

    @property
    def capacity_mm3(self) -> float:
        """Volume of all cavities, to which all volumes by columns are scaled."""
        return float(lib.vug_pockets_capacity_mm3(self._pointer))

    @property
    def trapped_mm3(self) -> float:
        """Volume of all trapped air, also of pockets too small to list."""
        return float(lib.vug_pockets_trapped_mm3(self._pointer))

    def totals(self) -> PocketsInfo:
        """Capacity and trapped air with their errors, and whether the cavities can be trusted."""
        info = PocketsInfo()
        self.context.check(lib.vug_pockets_totals(self._pointer, info.pointer))
        return info

    def info(self, index: int) -> PocketInfo:
        """Volume, highest point and level of one pocket."""
        info = PocketInfo()
        self.context.check(lib.vug_pockets_get(self._pointer, index, info.pointer))
        return info

    def infos(self) -> List[PocketInfo]:
        """The same for each pocket."""
        return [self.info(i) for i in range(len(self))]

    def section(self, point: Sequence[float], direction: Sequence[float],
                context: Optional[Context] = None) -> Doubles:
        """The columns in the vertical plane through point, seen along direction: rows of
        distance across, floor, level and ceiling in mm; liquid up to the level, air above."""
        context = context or default_context()
        table, count = ctypes.POINTER(ctypes.c_double)(), ctypes.c_size_t()
        context.call(lib.vug_pockets_section, self._pointer, vector(point), vector(direction),
                     byref(table), byref(count))
        return take(table, (count.value, 4), lambda p: lib.vug_free(context._pointer, p))

    def mesh(self, index: int, context: Optional[Context] = None) -> Mesh:
        """One pocket as a closed mesh: the cavity's wall above its level, and a flat lid."""
        return (context or default_context()).make(Mesh, lib.vug_pockets_mesh, self._pointer, index)

    def levels(self, points: Any, context: Optional[Context] = None) -> Doubles:
        """The level of the liquid at each point, rows of x, y, z: what lies in the cavity below it is
        liquid, above it air. NaN away from the cavities."""
        given, count, keep = packed(points, ctypes.c_double, 3)
        levels = (ctypes.c_double * max(count, 1))()
        (context or default_context()).call(lib.vug_pockets_levels, self._pointer, given, count, levels)
        del keep
        return look(ctypes.cast(levels, ctypes.POINTER(ctypes.c_double)), (count,), levels)

    def bore(self, index: int, context: Optional[Context] = None) -> BoreInfo:
        """Where to drill a vent for one pocket: the shortest way through the wall."""
        info = BoreInfo()
        (context or default_context()).call(
            lib.vug_pockets_bore, self.cavities._pointer, self._pointer, index, info.pointer)
        return info


class PoseScan(Handle):
    """Trapped air over poses spread evenly over the sphere."""

    _type = _raw.vug_pose_scan
    _free = "vug_pose_scan_free"

    @classmethod
    @takes(PoseOptions)
    def run(cls, cavities: "Cavities", roles: Optional[Sequence[int]] = None,
            context: Optional[Context] = None, **options: Any) -> "PoseScan":
        """Looks at pose_count poses on all threads. roles and options as for Pockets.find()."""
        which, count = choices(roles)
        return (context or default_context()).make(
            cls, lib.vug_pose_scan_run, cavities._pointer, which, count,
            PoseOptions(**options).pointer)

    def _about(self) -> str:
        return f"of {some(len(self), 'pose')}"

    def __len__(self) -> int:
        return int(lib.vug_pose_scan_count(self._pointer))

    @property
    def ups(self) -> Doubles:
        """The poses: n rows of 3, a read-only look."""
        lent = self._pointer
        return look(lib.vug_pose_scan_ups(lent), (len(self), 3), lent.owner)

    @property
    def trapped_mm3(self) -> Doubles:
        """Trapped air of each pose, a read-only look."""
        lent = self._pointer
        return look(lib.vug_pose_scan_trapped_mm3(lent), (len(self),), lent.owner)

    def info(self, index: int) -> PoseInfo:
        """What else is known of one pose."""
        info = PoseInfo()
        self.context.check(lib.vug_pose_scan_get(self._pointer, index, info.pointer))
        return info.take_lists()

    @property
    def best(self) -> int:
        """Number of the pose with the least trapped air."""
        return int(lib.vug_pose_scan_best(self._pointer))


def sphere_points(count: int) -> Doubles:
    """count unit vectors spread evenly over the sphere, as rows of 3."""
    block = room(ctypes.c_double, count, 3)
    status = lib.vug_sphere_points(count, block)
    if status:
        raise error(status)
    return look(ctypes.cast(block, ctypes.POINTER(ctypes.c_double)), (count, 3), block)
