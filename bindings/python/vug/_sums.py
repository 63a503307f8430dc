# SPDX-License-Identifier: MIT
"""What the generated modules of sums (flow, light) are made with."""
from __future__ import annotations

import ctypes
from array import array
from ctypes import byref
from numbers import Real
from typing import Any, Optional

from ._numpy import numpy
from ._arrays import CODES
from ._context import Context, default_context
from ._record import Record


def run(function: Any, context: Optional[Context], *arguments: Any) -> None:
    """Calls a sum; the context is for the message."""
    (context or default_context()).call(function, *arguments)


def ref(record: Optional[Record]) -> Any:
    """A record for a call; None means the library's default."""
    return record.pointer if record is not None else None


class Numbers:
    """A row of numbers for a call, as it lies if it is a numpy array of the right type."""

    def __init__(self, values: Any, item: Any = ctypes.c_double) -> None:
        if numpy is not None:
            self.array = numpy.ascontiguousarray(values, dtype=CODES[item])
            if self.array.ndim != 1:
                raise ValueError(f"one row of numbers is needed, not shape {self.array.shape}")
            self.pointer = self.array.ctypes.data_as(ctypes.POINTER(item))
        else:
            self.array = array(CODES[item], values)
            kind = item * max(len(self.array), 1)
            self._block = kind.from_buffer(self.array) if len(self.array) else kind()
            self.pointer = ctypes.cast(self._block, ctypes.POINTER(item))
        self.count = len(self.array)

    def must_have(self, count: int) -> None:
        """Raises unless there are so many."""
        if self.count != count:
            raise ValueError(f"{count} numbers are needed, not {self.count}")

    @classmethod
    def room(cls, count: int, item: Any = ctypes.c_double) -> "Numbers":
        """Room for count results."""
        if numpy is not None:
            return cls(numpy.zeros(count, CODES[item]), item)
        return cls([0] * count, item)


def alike(*rows: Numbers) -> int:
    """The common length of rows that belong together."""
    counts = {row.count for row in rows}
    if len(counts) != 1:
        raise ValueError(f"rows of different lengths: {[row.count for row in rows]}")
    return counts.pop()


def law(function: Any, context: Optional[Context], given: Any, *before: Any) -> Any:
    """Calls a law whose last arguments are x, their count, and y: a number gives a number, a row
    gives an array."""
    single = isinstance(given, Real) or getattr(given, "ndim", None) == 0
    x = Numbers([given] if single else given)
    y = Numbers.room(x.count)
    run(function, context, *before, x.pointer, x.count, y.pointer)
    return float(y.array[0]) if single else y.array


__all__ = ["Numbers", "alike", "byref", "ctypes", "law", "ref", "run"]
