# SPDX-License-Identifier: MIT
"""Meshes and their shells."""
from __future__ import annotations

import ctypes
import os
from typing import TYPE_CHECKING, Any, Callable, ClassVar, List, Optional, Sequence, Tuple, Union

from . import _raw
from ._arrays import look, rows, take, vector
from ._context import Context, Handle, default_context, some
from ._errors import FileError, located
from ._library import file_name, room
from ._options import takes
from ._raw import lib
from ._records import (Backlit, BoreOptions, CavityOptions, CradleOptions, GuideOptions, HollowInfo,
                       HollowOptions, MeshCleanOptions, MeshCleanReport, MeshLoadOptions, MeshMeasures,
                       PlugOptions, ThicknessInfo)

if TYPE_CHECKING:
    from ._types import Doubles, Numbers8, Numbers32
    from .cavity import Cavities
    from .fill import Moment

Path = Union[str, bytes, "os.PathLike[str]"]
BORE_ROW = 11  # VUG_BORE_ROW
BORE_CUT = 4  # VUG_BORE_CUT


def _bore_row(bore: Sequence[float]) -> Any:
    """Up to BORE_ROW numbers; the rest is 0."""
    row = [float(x) for x in bore]
    return vector(row + [0.0] * (BORE_ROW - len(row)), BORE_ROW)


class Mesh(Handle):
    """A triangle mesh: equal vertices are one. Never changes once made."""

    _type = _raw.vug_mesh
    _free = "vug_mesh_free"
    _find_cavities: "ClassVar[Callable[..., Cavities]]"  # cavity.py gives it

    @classmethod
    def from_arrays(cls, vertices: Any, triangles: Any,
                    context: Optional[Context] = None) -> "Mesh":
        """From a table of points in mm (n rows of 3) and one of vertex numbers (m rows of 3,
        counter-clockwise seen from outside the solid)."""
        context = context or default_context()
        xyz, count, stride, keep = rows(vertices, ctypes.c_double, 3)
        corner, corners, corner_stride, keep_too = rows(triangles, ctypes.c_uint32, 3)
        mesh = context.make(cls, lib.vug_mesh_from_arrays, xyz, count, stride,
                            corner, corners, corner_stride)
        del keep, keep_too
        return mesh

    @classmethod
    @takes(MeshLoadOptions)
    def load(cls, path: Path, context: Optional[Context] = None, **options: Any) -> "Mesh":
        """From a file of any kind that is built in, told apart by content, else by the name's
        ending: STL, OBJ, PLY and OFF; with the feature "3mf" 3MF. options:
        members of MeshLoadOptions."""
        try:
            return (context or default_context()).make(
                cls, lib.vug_mesh_load, file_name(path), MeshLoadOptions(**options).pointer)
        except FileError as raised:
            raise located(raised, path, writing=False) from None

    @classmethod
    @takes(MeshLoadOptions)
    def load_memory(cls, data: Any, name: str = "memory", context: Optional[Context] = None,
                    **options: Any) -> "Mesh":
        """From the bytes of a file. name stands for it in messages, and its ending tells the format
        where the content does not. options: members of MeshLoadOptions."""
        block = bytes(data)
        return (context or default_context()).make(
            cls, lib.vug_mesh_load_memory, block, len(block), name.encode(),
            MeshLoadOptions(**options).pointer)

    def save(self, path: Path, format: int = _raw.CONSTANTS["VUG_FORMAT_AUTO"],
             colors: Any = None, context: Optional[Context] = None) -> None:
        """To a file, which is whole or untouched: STL, PLY or, with the feature "3mf", 3MF, by
        the name's ending or as format says (vug.FORMAT_STL and so on). colors, for a PLY: red,
        green and blue (0 to 255) of each vertex."""
        if colors is None:
            table, keep = None, None
        else:
            table, count, stride, keep = rows(colors, ctypes.c_uint8, 3)
            if count != len(self.vertices):
                raise ValueError(f"{count} colours for {len(self.vertices)} vertices")
            if stride != 3:  # this call takes rows without gaps
                table, count, stride, keep = rows([list(c) for c in colors], ctypes.c_uint8, 3)
        try:
            (context or default_context()).call(
                lib.vug_mesh_save, self._pointer, file_name(path), format, table)
        except FileError as raised:
            raise located(raised, path, writing=True) from None
        del keep

    @property
    def vertices(self) -> Doubles:
        """n rows of 3 in mm, a read-only look into the mesh."""
        pointer = self._pointer
        return look(lib.vug_mesh_vertices(pointer), (lib.vug_mesh_vertex_count(pointer), 3),
                    pointer.owner)

    def vertices_float(self, origin: Optional[Sequence[float]] = None) -> Any:
        """n rows of 3 single numbers in mm relative to origin, for a graphics card; a copy."""
        count = lib.vug_mesh_vertex_count(self._pointer)
        xyz = room(ctypes.c_float, 3 * count)
        self.context.check(lib.vug_mesh_vertices_float(
            self._pointer, None if origin is None else vector(origin), xyz))
        return look(ctypes.cast(xyz, ctypes.POINTER(ctypes.c_float)), (count, 3), xyz)

    @property
    def triangles(self) -> Numbers32:
        """m rows of 3 vertex numbers, a read-only look into the mesh."""
        pointer = self._pointer
        return look(lib.vug_mesh_triangles(pointer), (lib.vug_mesh_triangle_count(pointer), 3),
                    pointer.owner)

    def measure(self, context: Optional[Context] = None) -> MeshMeasures:
        """Health, volume, area and bounds."""
        measures = MeshMeasures()
        (context or default_context()).call(lib.vug_mesh_measure, self._pointer, measures.pointer)
        return measures

    @takes(Backlit)
    def backlit(self, width: int = 600, height: int = 800, cavities: "Optional[Cavities]" = None,
                moment: "Optional[Moment]" = None, context: Optional[Context] = None,
                **options: Any) -> Numbers8:
        """The part against the light: height x width x 4 bytes, red, green, blue and 255, rows from the
        top down. cavities: those that may be filled; moment: the liquid in one of them. options: members
        of Backlit, such as filled=1."""
        rgba = (ctypes.c_uint8 * max(1, 4 * width * height))()
        (context or default_context()).call(
            lib.vug_backlit_render, self._pointer, cavities and cavities._pointer,
            moment and moment._pointer, Backlit(**options).pointer, width, height, rgba,
            ctypes.c_size_t(0))
        return look(ctypes.cast(rgba, ctypes.POINTER(ctypes.c_uint8)), (height, width, 4), rgba)

    def volume_below(self, up: Sequence[float], level_mm: float,
                     context: Optional[Context] = None) -> float:
        """Volume inside a closed mesh below a level along up, exactly."""
        volume = ctypes.c_double()
        (context or default_context()).call(
            lib.vug_mesh_volume_below, self._pointer, vector(up), ctypes.c_double(level_mm),
            ctypes.byref(volume))
        return volume.value

    def level(self, up: Sequence[float], volume_mm3: float,
              context: Optional[Context] = None) -> float:
        """The level along up below which a closed mesh holds a volume: the inverse."""
        level = ctypes.c_double()
        (context or default_context()).call(
            lib.vug_mesh_level, self._pointer, vector(up), ctypes.c_double(volume_mm3),
            ctypes.byref(level))
        return level.value

    @takes(MeshCleanOptions)
    def clean(self, context: Optional[Context] = None,
              **options: Any) -> "Tuple[Mesh, MeshCleanReport]":
        """A copy with gaps closed and triangles turned, and what was found and changed. options:
        members of MeshCleanOptions."""
        context = context or default_context()
        report = MeshCleanReport()
        made = context.make_before(Mesh, lib.vug_mesh_clean, (
            self._pointer, MeshCleanOptions(**options).pointer), (report.pointer,))
        return made, report

    def hollow(self, context: Optional[Context] = None,
               **options: Any) -> "Tuple[Mesh, HollowInfo, Any]":
        """The part with an inner surface behind a wall, what was made, and the spots that stayed
        solid because they are too thin: rows of the widest place x, y, z, how wide it is there,
        and the volume. options: members of HollowOptions."""
        context = context or default_context()
        info = HollowInfo()
        table, count = ctypes.POINTER(ctypes.c_double)(), ctypes.c_size_t()
        made = context.make_before(Mesh, lib.vug_shape_hollow, (
            self._pointer, HollowOptions(**options).pointer),
            (info.pointer, ctypes.byref(table), ctypes.byref(count)))
        spots = take(table, (count.value, 5), lambda p: lib.vug_free(context._pointer, p))
        return made, info, spots

    def bore(self, bores: Any, context: Optional[Context] = None,
             **options: Any) -> "Tuple[Mesh, Any]":
        """A copy with round holes cut, and what was cut. bores: rows of up to 11 numbers, all as long as the
        first: point x, y, z, direction x, y, z, diameter, depth (0: through the wall there, infinity:
        through all), angle of a taper, diameter and angle of a countersink. What was cut: rows of volume
        in mm3, beginning and end along the direction in mm, number of sides. options: members of
        BoreOptions."""
        context = context or default_context()
        asked = [list(row) + [0.0] * (BORE_ROW - len(row)) for row in bores]
        table, count, _, keep = rows(asked, ctypes.c_double, BORE_ROW)
        cuts = (ctypes.c_double * (BORE_CUT * max(count, 1)))()
        made = context.make(Mesh, lib.vug_shape_bore, self._pointer, table, count,
                            BoreOptions(**options).pointer, cuts)
        del keep
        return made, look(ctypes.cast(cuts, ctypes.POINTER(ctypes.c_double)), (count, BORE_CUT), cuts)

    @classmethod
    def plug(cls, bore: Sequence[float], context: Optional[Context] = None,
             **options: Any) -> "Mesh":
        """A plug for a hole of bore(), given by its row. options: members of PlugOptions."""
        return (context or default_context()).make(
            cls, lib.vug_shape_plug, _bore_row(bore), PlugOptions(**options).pointer)

    def guide(self, bore: Sequence[float], context: Optional[Context] = None,
              **options: Any) -> "Mesh":
        """A drill guide that fits this part around a hole, given as a row of bore(). options: members
        of GuideOptions."""
        return (context or default_context()).make(
            Mesh, lib.vug_shape_guide, self._pointer, _bore_row(bore),
            GuideOptions(**options).pointer)

    def cradle(self, up: Sequence[float], openings: Any = (), context: Optional[Context] = None,
               **options: Any) -> "Tuple[Mesh, float]":
        """A cradle that holds this part with up upward, and how far the solid's centre of mass is from
        the edge of its base in mm. openings: rows x, y, z, diameter of those that stay free. options: members
        of CradleOptions."""
        table, count, _, keep = rows([list(row) for row in openings], ctypes.c_double, 4)
        stand = ctypes.c_double()
        made = (context or default_context()).make(
            Mesh, lib.vug_shape_cradle, self._pointer, vector(up), table, count,
            CradleOptions(**options).pointer, ctypes.byref(stand))
        del keep
        return made, stand.value

    @staticmethod
    def save_pieces(pieces: "Sequence[Mesh]", path: Path, names: Optional[Sequence[str]] = None,
                    context: Optional[Context] = None) -> None:
        """Several meshes in one 3MF, each an object with its name."""
        if names is not None and len(names) != len(pieces):
            raise ValueError(f"{len(names)} names for {len(pieces)} pieces")
        lent = [piece._pointer for piece in pieces]
        table = (ctypes.POINTER(_raw.vug_mesh) * max(len(pieces), 1))(
            *(one.owner.pointer for one in lent))
        words = None if names is None else (ctypes.c_char_p * max(len(names), 1))(
            *(name.encode() for name in names))
        (context or default_context()).call(lib.vug_mesh_save_pieces, table, words, len(pieces),
                                            file_name(path))
        del lent

    def thickness(self, cavities: "Optional[Cavities]" = None, spacing_mm: float = 0.0,
                  context: Optional[Context] = None) -> "Thickness":
        """The wall measured at every vertex of the skin: see Thickness."""
        return (context or default_context()).make(
            Thickness, lib.vug_thickness_measure, self._pointer,
            cavities._pointer if cavities is not None else None, ctypes.c_double(spacing_mm),
            _with={"mesh": self})

    def shells(self, context: Optional[Context] = None) -> "Shells":
        """The pieces connected by shared edges."""
        return (context or default_context()).make(Shells, lib.vug_mesh_shells, self._pointer,
                                                   _with={"mesh": self})

    @takes(CavityOptions)
    def cavities(self, holes: Any = None, context: Optional[Context] = None,
                 **options: Any) -> "Cavities":
        """What is inside, and its openings: see Cavities.find()."""
        return self._find_cavities(self, holes, context, **options)

    def _about(self) -> str:
        return f"of {some(len(self), 'triangle')}"

    def __len__(self) -> int:
        """The number of triangles."""
        return int(lib.vug_mesh_triangle_count(self._pointer))

    def __reduce__(self) -> Any:
        return Mesh.from_arrays, (self.vertices, self.triangles)


class Shells(Handle):
    """The pieces of a mesh that are connected by shared edges."""

    _type = _raw.vug_shells
    _free = "vug_shells_free"
    mesh: Mesh

    def _about(self) -> str:
        return f"{len(self)}"

    def __len__(self) -> int:
        return int(lib.vug_shells_count(self._pointer))

    @property
    def of_triangles(self) -> Numbers32:
        """The shell number of each triangle, a read-only look."""
        lent = self._pointer
        return look(lib.vug_shells_of_triangles(lent), (len(self.mesh),), lent.owner)

    def info(self, index: int) -> MeshMeasures:
        """Health and measures of one shell."""
        measures = MeshMeasures()
        self.context.check(lib.vug_shells_get(self._pointer, index, measures.pointer))
        return measures

    def infos(self) -> List[MeshMeasures]:
        """Health and measures of each shell."""
        return [self.info(i) for i in range(len(self))]


class Thickness(Handle):
    """The thickness of a part's wall: the diameter of the largest ball that touches the skin at a
    point from inside and goes no farther than the opposite wall."""

    _type = _raw.vug_thickness
    _free = "vug_thickness_free"
    mesh: Mesh

    @property
    def info(self) -> ThicknessInfo:
        """The statistics, by area."""
        info = ThicknessInfo()
        self.context.check(lib.vug_thickness_get(self._pointer, info.pointer))
        return info

    @property
    def vertices(self) -> Doubles:
        """Thickness at each vertex of the mesh, -1 where none was measured; a read-only look."""
        count = lib.vug_mesh_vertex_count(self.mesh._pointer)
        lent = self._pointer
        return look(lib.vug_thickness_vertices(lent), (count,), lent.owner)

    def histogram(self, lo_mm: float, hi_mm: float, count: int) -> Doubles:
        """Area of skin in each of count equal steps of thickness from lo_mm to hi_mm."""
        bins = room(ctypes.c_double, count)
        self.context.check(lib.vug_thickness_histogram(self._pointer, lo_mm, hi_mm, bins, count))
        return look(ctypes.cast(bins, ctypes.POINTER(ctypes.c_double)), (count,), bins)

    def at(self, point: Sequence[float]) -> float:
        """Thickness below the point of the skin that is nearest."""
        value = ctypes.c_double()
        self.context.check(lib.vug_thickness_at(self._pointer, vector(point), ctypes.byref(value)))
        return value.value

    def spots(self, below_mm: float, context: Optional[Context] = None) -> Any:
        """Connected spots thinner than below_mm, the thinnest first: rows of x, y, z of the
        thinnest point, its thickness, and the area of the spot."""
        context = context or default_context()
        table, count = ctypes.POINTER(ctypes.c_double)(), ctypes.c_size_t()
        context.call(lib.vug_thickness_spots, self._pointer, ctypes.c_double(below_mm),
                     ctypes.byref(table), ctypes.byref(count))
        return take(table, (count.value, 5), lambda p: lib.vug_free(context._pointer, p))
