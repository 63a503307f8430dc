# SPDX-License-Identifier: MIT
"""vug: plans how a hollow translucent print is filled, vented, rinsed, drained and sealed.

    import vug
    mesh = vug.Mesh.load("part.stl")
    print(mesh.measure().volume_mm3)

Lengths are in mm, angles in degrees, material properties in SI units; units are in the names.
A failed call raises the exception of its status, with the library's message. Calls use a
context of their thread unless one is given; see Context for threads, progress and cancel.
"""
from __future__ import annotations

import ctypes
import itertools
from typing import Any, Dict

from . import _raw, flow, light
from ._context import Context, default_context
from ._errors import (ArgumentError, CancelledError, ConvergenceError, DomainError, FileError,
                      FormatError, InternalError, LimitError, MeshError, NotFoundError,
                      OutOfMemoryError, UnsupportedError, VugError, VugWarning)
from ._raw import lib as _lib
from ._records import *  # noqa: F401,F403
from .cavity import Cavities
from .fill import Course, Cups, Moment
from .mesh import Mesh, Shells, Thickness
from .plan import Plan, caution_text, pose_words
from .pose import Pockets, PoseScan, sphere_points

__version__ = "1.0.0"


def version() -> str:
    """Version of the library at hand."""
    return _lib.vug_version_string().decode()


def feature(name: str) -> bool:
    """Is an optional part ("openmp", "3mf") built in?"""
    return bool(_lib.vug_feature(name.encode()))


def constants() -> Dict[str, int]:
    """Every constant and limit of the library at hand, by name."""
    value, found = _raw.I64(), {}
    for index in itertools.count():
        name = _lib.vug_constant(index, ctypes.byref(value))
        if name is None:
            return found
        found[name.decode()] = value.value


def status_name(status: int) -> str:
    """The name of a status number."""
    return _lib.vug_status_name(status).decode()


def status_string(status: int) -> str:
    """One sentence for a status number."""
    return _lib.vug_status_string(status).decode()


def __getattr__(name: str) -> Any:
    """Constants without their prefix: vug.MAX_TRIANGLES."""
    try:
        return _raw.CONSTANTS["VUG_" + name]
    except KeyError:
        raise AttributeError(f"module 'vug' has no attribute {name!r}") from None
