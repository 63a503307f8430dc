# SPDX-License-Identifier: MIT
"""Names for annotations, which type checkers alone read: this file is not imported while a program runs."""
from typing import Any

from numpy import float64, int32, uint8, uint32
from numpy.typing import NDArray

Doubles = NDArray[float64]
Numbers8 = NDArray[uint8]
Numbers32 = NDArray[uint32]
Signed32 = NDArray[int32]
Table = NDArray[Any]
