# SPDX-License-Identifier: MIT
"""vug: plans how a hollow translucent print is filled, vented, rinsed, drained and sealed.

    import vug
    print(vug.plan("part.stl"))

How to hold a hollow part, how to turn it, where to drill, how much paint, in words; what it was made of are the
classes: Mesh, Cavities, Pockets, PoseScan, Course, Cups, Skin, Plan.

Lengths are in mm, angles in degrees, material properties in SI units; units are in the names.
A failed call raises the exception of its status, with the library's message. Calls use a
context of their thread unless one is given; see Context for threads, progress and cancel.
"""
from __future__ import annotations

import ctypes
from typing import Dict

from . import _raw, _records, flow, light
from ._context import Context, default_context
from ._errors import (ArgumentError, CancelledError, ConvergenceError, DomainError, FileAccessError,
                      FileError, FolderError, FormatError, InternalError, LimitError, MeshError,
                      MissingFileError, NotFoundError, OutOfMemoryError, UnsupportedError, VugError,
                      VugWarning)
from ._raw import lib as _lib
from ._records import *  # noqa: F401,F403
from .cavity import Cavities, opening_letter, opening_number, percent_words
from .fill import Course, Cups, Moment, Skin
from .mesh import Mesh, Shells, Thickness
from .planning import Plan, caution_text, liquid, plan, pose_parse, pose_words
from .pose import Pockets, PoseScan, sphere_points

__all__ = ["ArgumentError", "CancelledError", "Cavities", "Context", "ConvergenceError", "Course", "Cups",
           "DomainError", "FileAccessError", "FileError", "FolderError", "FormatError", "InternalError",
           "LimitError", "Mesh", "MeshError", "MissingFileError", "Moment", "NotFoundError", "OutOfMemoryError", "Plan",
           "Pockets", "PoseScan", "Shells", "Skin", "Thickness", "UnsupportedError", "VugError", "VugWarning",
           "caution_text", "constants", "default_context", "feature", "flow", "light", "liquid",
           "opening_letter", "opening_number", "percent_words", "plan", "pose_parse", "pose_words", "sphere_points", "status_name", "status_string", "version"]
__all__ += _records.__all__
__version__ = "1.0.0"


def version() -> str:
    """Version of the library at hand."""
    return str(_lib.vug_version_string().decode())


def feature(name: str) -> bool:
    """Is an optional part ("openmp", "3mf") built in?"""
    return bool(_lib.vug_feature(name.encode()))


def constants() -> Dict[str, int]:
    """Every constant and limit of the library at hand, by name."""
    found: Dict[str, int] = {}
    value = ctypes.c_int64()
    while True:
        name = _lib.vug_constant(len(found), ctypes.byref(value))
        if name is None:
            return found
        found[name.decode()] = value.value


def status_name(status: int) -> str:
    """The name of a status number."""
    return str(_lib.vug_status_name(status).decode())


def status_string(status: int) -> str:
    """One sentence for a status number."""
    return str(_lib.vug_status_string(status).decode())


def __getattr__(name: str) -> int:
    """Constants without their prefix: vug.MAX_TRIANGLES."""
    try:
        return _raw.CONSTANTS["VUG_" + name]
    except KeyError:
        raise AttributeError(f"module 'vug' has no attribute {name!r}") from None
