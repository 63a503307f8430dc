# SPDX-License-Identifier: MIT
"""Pouring and draining, in order and in time."""
from __future__ import annotations

import ctypes
from ctypes import byref
from typing import TYPE_CHECKING, Any, List, Optional, Sequence, Tuple

from . import _raw
from ._arrays import choices, look, packed, take, vector
from ._context import Context, Handle, default_context, some
from ._options import takes
from ._raw import lib
from ._records import (CourseInfo, CupInfo, CupOptions, DrainOptions, EventInfo, FillOptions, Fluid,
                       MomentInfo, PocketInfo, PoolInfo, SkinInfo, SkinOptions)
from ._sums import ref
from .mesh import Mesh

if TYPE_CHECKING:
    from ._types import Doubles
    from .cavity import Cavities


class Course(Handle):
    """The course of a fill or a drain: what happened when, and the state at any moment of it."""

    _type = _raw.vug_course
    _free = "vug_course_free"

    @classmethod
    @takes(FillOptions)
    @takes(FillOptions)
    def fill(cls, cavities: "Cavities", up: Sequence[float],
             roles: Optional[Sequence[int]] = None, fluid: Optional[Fluid] = None,
             context: Optional[Context] = None, **options: Any) -> "Course":
        """Fills a cavity, held so that up points up.

        roles: one number for each opening; None: all are open. fluid: None: water. options:
        members of FillOptions.
        """
        which, count = choices(roles)
        given = FillOptions(**options)
        return (context or default_context()).make(
            cls, lib.vug_fill_run, cavities._pointer, ref(fluid), vector(up), which, count,
            given.pointer)

    @classmethod
    @takes(DrainOptions)
    @takes(DrainOptions)
    def drain(cls, cavities: "Cavities", up: Sequence[float],
              roles: Optional[Sequence[int]] = None, fluid: Optional[Fluid] = None,
              context: Optional[Context] = None, **options: Any) -> "Course":
        """Drains a cavity, held so that up points up. roles and fluid as for fill(); options:
        members of DrainOptions."""
        which, count = choices(roles)
        given = DrainOptions(**options)
        return (context or default_context()).make(
            cls, lib.vug_drain_run, cavities._pointer, ref(fluid), vector(up), which, count,
            given.pointer)

    @property
    def info(self) -> CourseInfo:
        """The outcome."""
        info = CourseInfo()
        self.context.check(lib.vug_course_get(self._pointer, info.pointer))
        return info

    def _about(self) -> str:
        return f"of {some(len(self), 'event')}"

    def __len__(self) -> int:
        """The number of events."""
        return int(lib.vug_course_event_count(self._pointer))

    def event(self, index: int) -> EventInfo:
        """One event, in order of time."""
        event = EventInfo()
        self.context.check(lib.vug_course_event(self._pointer, index, event.pointer))
        return event

    def events(self) -> List[EventInfo]:
        """All events, in order of time."""
        return [self.event(i) for i in range(len(self))]

    def curve(self, context: Optional[Context] = None) -> Doubles:
        """Rows of time in s, liquid inside in mm3, and pressure at the inlet in Pa (fills,
        else 0)."""
        context = context or default_context()
        table, count = ctypes.POINTER(ctypes.c_double)(), ctypes.c_size_t()
        context.call(lib.vug_course_curve, self._pointer, byref(table), byref(count))
        return take(table, (count.value, 3), lambda p: lib.vug_free(context._pointer, p))

    def at_volume(self, volume_mm3: float, context: Optional[Context] = None) -> "Moment":
        """The moment at which so much liquid was inside, or the end."""
        return (context or default_context()).make(
            Moment, lib.vug_course_at_volume, self._pointer, ctypes.c_double(volume_mm3))

    def at_time(self, time_s: float, context: Optional[Context] = None) -> "Moment":
        """The moment at a time, or the end."""
        return (context or default_context()).make(
            Moment, lib.vug_course_at_time, self._pointer, ctypes.c_double(time_s))


class Moment(Handle):
    """The state at one moment of a course: pools and pockets, largest first."""

    _type = _raw.vug_moment
    _free = "vug_moment_free"

    @classmethod
    def make(cls, cavities: "Cavities", up: Sequence[float], liquid_mm3: float,
             air: Optional[Sequence[Sequence[float]]] = None, cavity: int = 0,
             spacing_mm: float = 0.0, context: Optional[Context] = None) -> "Moment":
        """A moment that no course came to: so much liquid, at rest, and air that rises from the
        points where it is seen; None: as if shaken. What one finds on the bench, to go on from."""
        table, count, keep = packed([] if air is None else air, ctypes.c_double, 3)
        made = (context or default_context()).make(
            cls, lib.vug_moment_make, cavities._pointer, cavity, vector(up),
            ctypes.c_double(spacing_mm), ctypes.c_double(liquid_mm3), table, count)
        del keep
        return made

    @property
    def info(self) -> MomentInfo:
        """The moment as a whole."""
        info = MomentInfo()
        self.context.check(lib.vug_moment_get(self._pointer, info.pointer))
        return info

    def _about(self) -> str:
        return f"with {1e-3 * self.info.liquid_mm3:.4g} mL inside"

    def pocket(self, index: int) -> PocketInfo:
        """One pocket of air."""
        info = PocketInfo()
        self.context.check(lib.vug_moment_pocket(self._pointer, index, info.pointer))
        return info

    def pockets(self) -> List[PocketInfo]:
        """All pockets of air."""
        return [self.pocket(i) for i in range(self.info.pockets)]

    def pool(self, index: int) -> PoolInfo:
        """One pool of liquid."""
        info = PoolInfo()
        self.context.check(lib.vug_moment_pool(self._pointer, index, info.pointer))
        return info

    def pools(self) -> List[PoolInfo]:
        """All pools of liquid."""
        return [self.pool(i) for i in range(self.info.pools)]

    def pool_volume(self, index: int, level_mm: float, context: Optional[Context] = None) -> float:
        """Volume that a pool would have at a level, as long as it keeps its shape."""
        volume = ctypes.c_double()
        (context or default_context()).call(
            lib.vug_moment_pool_volume, self._pointer, index, level_mm, byref(volume))
        return volume.value

    def pool_level(self, index: int, volume_mm3: float, context: Optional[Context] = None) -> float:
        """Level that a pool would have at a volume: the inverse."""
        level = ctypes.c_double()
        (context or default_context()).call(
            lib.vug_moment_pool_level, self._pointer, index, volume_mm3, byref(level))
        return level.value

    @takes(FillOptions)
    @takes(FillOptions)
    def turn(self, cavities: "Cavities", up: Sequence[float], roles: Optional[Sequence[int]] = None,
             fluid: Optional[Fluid] = None, context: Optional[Context] = None,
             **options: Any) -> Course:
        """Turns the part, with all openings covered and what is in it, so that up points up, frees
        the openings that are not sealed, and goes on filling. cavities: those of the course.
        roles, fluid, options: as for Course.fill(); all sealed: the part at rest."""
        which, count = choices(roles)
        given = FillOptions(**options)
        return (context or default_context()).make(
            Course, lib.vug_fill_turn, cavities._pointer, ref(fluid), self._pointer, vector(up),
            which, count, given.pointer)

    def section(self, point: Sequence[float], direction: Sequence[float],
                context: Optional[Context] = None) -> Doubles:
        """The columns in the vertical plane through point that faces a viewer to whom direction
        points from the part: rows of distance to the viewer's right, floor, level and ceiling
        in mm; liquid up to the level, air above."""
        context = context or default_context()
        table, count = ctypes.POINTER(ctypes.c_double)(), ctypes.c_size_t()
        context.call(lib.vug_moment_section, self._pointer, vector(point), vector(direction),
                     byref(table), byref(count))
        return take(table, (count.value, 4), lambda p: lib.vug_free(context._pointer, p))

    def levels(self, points: Any, context: Optional[Context] = None) -> Doubles:
        """The level of the liquid at each point, rows of x, y, z: what lies in the cavity below it is
        liquid, above it air. NaN away from the cavities."""
        given, count, keep = packed(points, ctypes.c_double, 3)
        levels = (ctypes.c_double * max(count, 1))()
        (context or default_context()).call(lib.vug_moment_levels, self._pointer, given, count, levels)
        del keep
        return look(ctypes.cast(levels, ctypes.POINTER(ctypes.c_double)), (count,), levels)

    def squeeze(self, fluid: Optional[Fluid] = None, pressure_pa: float = 0.0,
                air_pressure_pa: float = 0.0, context: Optional[Context] = None) \
            -> Tuple[float, List[float]]:
        """Extra liquid that goes in, in mm3, when trapped air is squeezed by the head above it and
        by pressure_pa at the inlet; and how small each pocket gets."""
        count = self.info.pockets
        volumes, liquid = (ctypes.c_double * max(count, 1))(), ctypes.c_double()
        (context or default_context()).call(
            lib.vug_moment_squeeze, self._pointer, ref(fluid), ctypes.c_double(pressure_pa),
            ctypes.c_double(air_pressure_pa), volumes, count, byref(liquid))
        return liquid.value, list(volumes)[:count]

    def surface(self, context: Optional[Context] = None) -> Mesh:
        """The free surfaces of the liquid, as flat meshes that look up."""
        return (context or default_context()).make(Mesh, lib.vug_moment_surface, self._pointer)

    def pocket_mesh(self, index: int, context: Optional[Context] = None) -> Mesh:
        """One pocket as a closed mesh: the cavity's wall above its levels, and flat lids."""
        return (context or default_context()).make(
            Mesh, lib.vug_moment_pocket_mesh, self._pointer, index)

    def pool_mesh(self, index: int, context: Optional[Context] = None) -> Mesh:
        """One pool as a closed mesh: the cavity's wall below its levels, and flat lids."""
        return (context or default_context()).make(
            Mesh, lib.vug_moment_pool_mesh, self._pointer, index)


class Cups(Handle):
    """The cups of a cavity while the part is printed: stretches of layers in which a piece of it
    is open to nothing but the film."""

    _type = _raw.vug_cups
    _free = "vug_cups_free"

    @classmethod
    @takes(CupOptions)
    @takes(CupOptions)
    def find(cls, cavities: "Cavities", up: Sequence[float],
             roles: Optional[Sequence[int]] = None, resin: Optional[Fluid] = None,
             context: Optional[Context] = None, **options: Any) -> "Cups":
        """Finds them with up the build direction, from the plate to the last layer. resin: None:
        1100 kg/m3, 0.2 Pa s. options: members of CupOptions."""
        which, count = choices(roles)
        given = CupOptions(**options)
        return (context or default_context()).make(
            cls, lib.vug_cups_find, cavities._pointer, ref(resin), vector(up), which, count,
            given.pointer)

    def _about(self) -> str:
        return f"{len(self)}"

    def __len__(self) -> int:
        return int(lib.vug_cups_count(self._pointer))

    def info(self, index: int) -> CupInfo:
        """One cup."""
        info = CupInfo()
        self.context.check(lib.vug_cups_get(self._pointer, index, info.pointer))
        return info

    def infos(self) -> List[CupInfo]:
        """All cups."""
        return [self.info(i) for i in range(len(self))]

    @property
    def layers(self) -> Doubles:
        """The layers: rows of height of its middle in mm, section of closed cups in mm2, resin held
        in them in mm3, and the greatest suction in Pa of what has an opening; a read-only look."""
        count = ctypes.c_size_t()
        lent = self._pointer
        rows = lib.vug_cups_layers(lent, byref(count))
        return look(rows, (count.value, 4), lent.owner)


class Skin(Handle):
    """The wall of cavities as it is seen from outside, and what liquid wets of it over a row of
    courses: backed, filmed, bare."""

    _type = _raw.vug_skin
    _free = "vug_skin_free"

    @classmethod
    @takes(SkinOptions)
    @takes(SkinOptions)
    def of(cls, cavities: "Cavities", context: Optional[Context] = None,
           **options: Any) -> "Skin":
        """The skin of all cavities, dry. options: members of SkinOptions."""
        given = SkinOptions(**options)
        return (context or default_context()).make(
            cls, lib.vug_skin_make, cavities._pointer, given.pointer)

    def wet(self, course: Course, fluid: Optional[Fluid] = None,
            context: Optional[Context] = None) -> None:
        """Adds the next course of a cavity. fluid: None: water."""
        (context or default_context()).call(lib.vug_skin_wet, self._pointer, ref(fluid),
                                            course._pointer)

    @property
    def info(self) -> SkinInfo:
        """What was wetted so far, as a whole."""
        info = SkinInfo()
        self.context.call(lib.vug_skin_get, self._pointer, info.pointer)
        return info

    def triangles(self, cavity: int = 0, context: Optional[Context] = None) -> Doubles:
        """For each triangle of the cavity's mesh: backed, filmed and bare in mm2, film in mm."""
        context = context or default_context()
        table, count = ctypes.POINTER(ctypes.c_double)(), ctypes.c_size_t()
        context.call(lib.vug_skin_triangles, self._pointer, ctypes.c_size_t(cavity), byref(table),
                     byref(count))
        return take(table, (count.value, 4), lambda p: lib.vug_free(context._pointer, p))

    def spots(self, context: Optional[Context] = None) -> Doubles:
        """Connected bare spots, the largest first: rows of x, y, z of its middle, its area in mm2,
        and how visible it is."""
        context = context or default_context()
        table, count = ctypes.POINTER(ctypes.c_double)(), ctypes.c_size_t()
        context.call(lib.vug_skin_spots, self._pointer, byref(table), byref(count))
        return take(table, (count.value, 5), lambda p: lib.vug_free(context._pointer, p))
