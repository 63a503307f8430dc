# SPDX-License-Identifier: MIT
"""What is inside a part, and its openings."""
from __future__ import annotations

import ctypes
from ctypes import byref
from typing import TYPE_CHECKING, Any, List, Optional, Sequence

from . import _raw
from ._arrays import choices, look, packed, vector
from ._context import Context, Handle, default_context, some
from ._options import takes
from ._raw import lib
from ._records import (CavityInfo, CavityOptions, ChamberInfo, CupOptions, DrainOptions,
                      FillOptions, Fluid, OpeningInfo, PlanOptions, PoseOptions, SightInfo,
                      SkinOptions, ThroatInfo)
from ._sums import ref
from .fill import Course, Cups, Skin
from .mesh import Mesh
from .planning import Plan
from .pose import Pockets, PoseScan

if TYPE_CHECKING:
    from ._types import Doubles, Signed32


class Cavities(Handle):
    """The cavities of a part and their openings, both numbered from 0; openings over all
    cavities, by cavity."""

    _type = _raw.vug_cavities
    _free = "vug_cavities_free"

    @classmethod
    @takes(CavityOptions)
    def find(cls, mesh: Mesh, holes: Any = None, context: Optional[Context] = None,
             **options: Any) -> "Cavities":
        """Finds them in a closed mesh.

        holes: rows of 7 numbers, the openings that are named: a point on the outer skin (mm),
        a direction outward, a diameter (mm). One that is not in the mesh becomes a planned
        bore. options: members of CavityOptions.
        """
        context = context or default_context()
        table, count, keep = packed([] if holes is None else holes, ctypes.c_double, 7)
        made = context.make(cls, lib.vug_cavities_find, mesh._pointer, table, count,
                            CavityOptions(**options).pointer)
        del keep
        return made

    def with_bores(self, holes: Any, context: Optional[Context] = None) -> "Cavities":
        """The same cavities with more bores planned, without looking into the part again: quick
        enough to follow a vent that is dragged about. holes: rows as in find(); each becomes the last opening
        of its cavity."""
        given, count, keep = packed(holes, ctypes.c_double, 7)
        made = (context or self.context).make(Cavities, lib.vug_cavities_with_bores, self._pointer, given, count)
        del keep
        return made

    def _about(self) -> str:
        return f"{len(self)}, with {some(self.opening_count, 'opening')}"

    def __len__(self) -> int:
        """The number of cavities."""
        return int(lib.vug_cavities_count(self._pointer))

    def info(self, index: int) -> CavityInfo:
        """Volume, area, openings and so on of one cavity."""
        info = CavityInfo()
        self.context.check(lib.vug_cavities_get(self._pointer, index, info.pointer))
        return info

    def sight(self) -> SightInfo:
        """How finely was looked: narrower openings and open cavities may have been missed."""
        info = SightInfo()
        self.context.check(lib.vug_cavities_sight(self._pointer, info.pointer))
        return info

    def infos(self) -> List[CavityInfo]:
        """The same for each cavity."""
        return [self.info(i) for i in range(len(self))]

    def chambers(self, cavity: int) -> List[ChamberInfo]:
        """The chambers of one cavity, the one with the largest ball first."""
        found = [ChamberInfo() for _ in range(self.info(cavity).chambers)]
        for index, info in enumerate(found):
            self.context.check(lib.vug_cavities_chamber(self._pointer, cavity, index, info.pointer))
        return found

    def throats(self, cavity: int) -> List[ThroatInfo]:
        """The throats of one cavity, the widest first."""
        found = [ThroatInfo() for _ in range(self.info(cavity).throats)]
        for index, info in enumerate(found):
            self.context.check(lib.vug_cavities_throat(self._pointer, cavity, index, info.pointer))
        return found

    @property
    def opening_count(self) -> int:
        """The number of openings of all cavities."""
        return int(lib.vug_cavities_opening_count(self._pointer))

    def opening(self, index: int) -> OpeningInfo:
        """Where one opening is, and how wide."""
        info = OpeningInfo()
        self.context.check(lib.vug_cavities_opening(self._pointer, index, info.pointer))
        return info

    def openings(self) -> List[OpeningInfo]:
        """The same for each opening."""
        return [self.opening(i) for i in range(self.opening_count)]

    def sides_words(self) -> str:
        """Which side of the part is its top, front and left, in plain words."""
        text = ctypes.create_string_buffer(1000)
        self.context.call(lib.vug_sides_words, self._pointer, text, 1000)
        return text.value.decode()

    def doubt_words(self, cavity: int = -1) -> str:
        """Which openings are not sure, by letter, of one cavity or (-1) of all; "" if all are."""
        text = ctypes.create_string_buffer(400)
        self.context.call(lib.vug_doubt_words, self._pointer, cavity, text, 400)
        return text.value.decode()

    def outline(self, index: int) -> Doubles:
        """Outline of one opening: n rows of 3 in mm, counter-clockwise seen from outside; a
        read-only look."""
        points, count = ctypes.POINTER(ctypes.c_double)(), ctypes.c_size_t()
        lent = self._pointer
        self.context.check(lib.vug_cavities_opening_outline(
            lent, index, byref(points), byref(count)))
        return look(points, (count.value, 3), lent.owner)

    def mesh(self, index: int) -> Mesh:
        """The closed mesh that bounds one cavity's liquid space: wall and flat caps."""
        lent = self._pointer
        pointer = lib.vug_cavities_mesh(lent, index, None)
        if not pointer:
            raise IndexError(f"no cavity {index}")
        return Mesh(pointer, self.context, keeper=lent.owner)

    def mesh_tags(self, index: int) -> Signed32:
        """For each triangle of mesh(index): -1 for the wall, or the opening that it caps; a
        read-only look."""
        tags = ctypes.POINTER(ctypes.c_int32)()
        lent = self._pointer
        mesh = lib.vug_cavities_mesh(lent, index, byref(tags))
        return look(tags, (int(lib.vug_mesh_triangle_count(mesh)),), lent.owner)

    @takes(PoseOptions)
    def pockets(self, up: Sequence[float], roles: Optional[Sequence[int]] = None,
                context: Optional[Context] = None, **options: Any) -> Pockets:
        """The air that stays trapped in a pose: see Pockets.find()."""
        return Pockets.find(self, up, roles, context, **options)

    @takes(PoseOptions)
    def pockets_of_poses(self, ups: Any, roles: Optional[Sequence[int]] = None,
                         context: Optional[Context] = None, **options: Any) -> List[Pockets]:
        """The same for many poses in one call: see Pockets.find_poses()."""
        return Pockets.find_poses(self, ups, roles, context, **options)

    @takes(PoseOptions)
    def scan(self, roles: Optional[Sequence[int]] = None, context: Optional[Context] = None,
             **options: Any) -> PoseScan:
        """Trapped air over many poses: see PoseScan.run()."""
        return PoseScan.run(self, roles, context, **options)

    @takes(FillOptions)
    def fill(self, up: Sequence[float], roles: Optional[Sequence[int]] = None,
             fluid: Optional[Fluid] = None, context: Optional[Context] = None,
             **options: Any) -> Course:
        """Fills a cavity in a pose: see Course.fill()."""
        return Course.fill(self, up, roles, fluid, context, **options)

    @takes(DrainOptions)
    def drain(self, up: Sequence[float], roles: Optional[Sequence[int]] = None,
              fluid: Optional[Fluid] = None, context: Optional[Context] = None,
              **options: Any) -> Course:
        """Drains a cavity in a pose: see Course.drain()."""
        return Course.drain(self, up, roles, fluid, context, **options)

    @takes(FillOptions)
    def fill_rate_limit(self, up: Sequence[float], roles: Optional[Sequence[int]] = None,
                        fluid: Optional[Fluid] = None, context: Optional[Context] = None,
                        **options: Any) -> float:
        """The highest steady rate, in mm3/s, at which nothing spills before the rest is full.
        options: members of FillOptions."""
        which, count = choices(roles)
        rate = ctypes.c_double()
        given = FillOptions(**options)
        (context or default_context()).call(
            lib.vug_fill_rate_limit, self._pointer, ref(fluid), vector(up), which, count, given.pointer,
            byref(rate))
        return rate.value

    @takes(PlanOptions)
    def plan(self, fluid: Optional[Fluid] = None, solvent: Optional[Fluid] = None,
             roles: Optional[Sequence[int]] = None, context: Optional[Context] = None,
             **options: Any) -> Plan:
        """How to fill the part: see Plan.make()."""
        return Plan.make(self, fluid, solvent, roles, context, **options)

    @takes(CupOptions)
    def cups(self, up: Sequence[float], roles: Optional[Sequence[int]] = None,
             resin: Optional[Fluid] = None, context: Optional[Context] = None,
             **options: Any) -> Cups:
        """Suction cups while the part is printed: see Cups.find()."""
        return Cups.find(self, up, roles, resin, context, **options)

    @takes(SkinOptions)
    def skin(self, context: Optional[Context] = None, **options: Any) -> Skin:
        """The skin of all cavities, dry: see Skin.of()."""
        return Skin.of(self, context, **options)


# What makes cavities, in the files above: they cannot import this one, which imports them.
Mesh._find_cavities = Cavities.find
Plan._cavities_type = Cavities


def opening_letter(number: int, context: Optional[Context] = None) -> str:
    """What people call an opening: A to Z, A2 to Z2 and so on."""
    text = ctypes.create_string_buffer(64)
    (context or default_context()).call(lib.vug_opening_letter, number, text, 64)
    return text.value.decode()


def percent_words(part: float, whole: float, context: Optional[Context] = None) -> str:
    """A part of a whole as plans tell it: "0.37 %"."""
    text = ctypes.create_string_buffer(64)
    (context or default_context()).call(lib.vug_percent_words, part, whole, text, 64)
    return text.value.decode()


def opening_number(text: str, context: Optional[Context] = None) -> int:
    """The number of the opening that is called so."""
    number = ctypes.c_size_t()
    (context or default_context()).call(lib.vug_opening_number, text.encode(), byref(number))
    return number.value
