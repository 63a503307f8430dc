# SPDX-License-Identifier: MIT
"""Curing dose, wall and paint optics.

Sums without a mesh. Units are in the names. Each takes numbers, or a row of them in its _array
form, and raises DomainError for a number outside the range of its formula. Written by
tests/new_call from vug.h.
"""
from __future__ import annotations

from typing import Any, Optional, Sequence, Tuple

from ._context import Context
from ._raw import lib
from ._records import *  # noqa: F401,F403
from ._sums import Numbers, alike, byref, ctypes, ref, run
