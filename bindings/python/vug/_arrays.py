# SPDX-License-Identifier: MIT
"""Flat arrays to and from the library, by numpy where it is there, without copies where the
layout allows."""
from __future__ import annotations

import ctypes
from array import array
from itertools import chain
from typing import TYPE_CHECKING, Any, Optional, Sequence, Tuple

from ._numpy import numpy

if TYPE_CHECKING:
    from ._types import Table

CODES = {ctypes.c_double: "d", ctypes.c_float: "f", ctypes.c_uint32: "I", ctypes.c_int32: "i",
         ctypes.c_uint8: "B", ctypes.c_uint64: "Q"}


def _table_of(view: Any) -> Table:
    """For type checkers; without numpy it is a memoryview of the same shape."""
    table: Table = view
    return table


def look(pointer: Any, shape: Sequence[int], owner: Any) -> Table:
    """An array that looks into the library's memory and keeps its owner alive. Read-only; a
    memoryview without numpy."""
    item = pointer._type_
    count = 1
    for n in shape:
        count *= n
    code: Any = CODES[item]
    view: Any
    if count == 0 or not pointer:
        view = numpy.zeros(shape, code) if numpy is not None else \
            memoryview((item * 1)()).cast("B")[:0].cast(code)
        return _table_of(view)
    block = (item * count).from_address(ctypes.addressof(pointer.contents))
    block.owner = owner
    if numpy is not None:
        view = numpy.frombuffer(block, dtype=code).reshape(shape)
        view.flags.writeable = False
    else:
        view = memoryview(block).cast("B").cast(code, tuple(shape)).toreadonly()
    return _table_of(view)


def rows(values: Any, item: Any, width: int) -> Tuple[Any, int, int, Any]:
    """(pointer, rows, stride in bytes, what must stay alive) of a table of width columns. A
    numpy array of the right type goes in as it lies, rows apart as they are."""
    pointer_type = ctypes.POINTER(item)
    size = ctypes.sizeof(item)
    if numpy is not None:
        table = numpy.asarray(values)
        if item is not ctypes.c_double and table.dtype.kind == "f":
            raise TypeError("vertex numbers must be whole numbers")
        if item is not ctypes.c_double and table.size and table.dtype != CODES[item] and \
                (table.min() < 0 or table.max() > 2 ** (8 * size) - 1):
            raise ValueError(f"a number does not fit: {table.min()} to {table.max()}")
        table = numpy.asarray(table, dtype=CODES[item])
        if table.ndim == 1 and table.size % width == 0:
            table = table.reshape(-1, width)
        if table.ndim != 2 or table.shape[1] != width:
            raise ValueError(f"a table of {width} columns is needed, not one of shape {table.shape}")
        if table.strides[1] != size or table.strides[0] < size * width or \
                not table.flags.aligned:
            table = numpy.ascontiguousarray(table)
        address = table.ctypes.data_as(pointer_type)
        return address, table.shape[0], table.strides[0] if len(table) else size * width, table
    if isinstance(values, memoryview) or hasattr(values, "typecode"):
        flat = memoryview(values)
        if flat.format == CODES[item] and flat.c_contiguous:
            code: Any = CODES[item]
            block = array(code, flat.cast("B").cast(code))
            return _table(block, item, width)
    listed = list(values)
    if listed and hasattr(listed[0], "__len__"):
        if any(len(row) != width for row in listed):
            raise ValueError(f"a table of {width} columns is needed")
        listed = list(chain.from_iterable(listed))
    return _table(array(CODES[item], listed), item, width)


def packed(values: Any, item: Any, width: int) -> Tuple[Any, int, Any]:
    """(pointer, rows, what must stay alive) of a table whose rows follow each other without gaps."""
    pointer, count, stride, keep = rows(values, item, width)
    if stride != width * ctypes.sizeof(item):  # only numpy has such tables
        pointer, count, stride, keep = rows(numpy.ascontiguousarray(keep), item, width)
    return pointer, count, keep


def _table(block: Any, item: Any, width: int) -> Tuple[Any, int, int, Any]:
    if len(block) % width:
        raise ValueError(f"a table of {width} columns is needed")
    keep = (item * max(len(block), 1)).from_buffer(block) if len(block) else (item * 1)()
    return (ctypes.cast(keep, ctypes.POINTER(item)), len(block) // width,
            ctypes.sizeof(item) * width, (keep, block))


def take(pointer: Any, shape: Sequence[int], free: Any) -> Table:
    """A copy of an array that the library gave away, which free() gives back."""
    try:
        item = pointer._type_
        count = 1
        for n in shape:
            count *= n
        block = (item * max(count, 1))()
        if count:
            ctypes.memmove(block, pointer, count * ctypes.sizeof(item))
    finally:
        free(pointer)
    return look(ctypes.cast(block, ctypes.POINTER(item)), shape, block)


def choices(values: Optional[Sequence[int]]) -> Tuple[Any, int]:
    """(pointer, count) of whole numbers such as roles; None is none."""
    if values is None:
        return None, 0
    listed = [int(v) for v in values]
    return (ctypes.c_int32 * max(len(listed), 1))(*listed), len(listed)


def vector(values: Optional[Sequence[float]], count: int = 3) -> Any:
    """count numbers as a C array, or None."""
    if values is None:
        return None
    listed = [float(v) for v in values]
    if len(listed) != count:
        raise ValueError(f"{count} numbers are needed, not {len(listed)}")
    return (ctypes.c_double * count)(*listed)
