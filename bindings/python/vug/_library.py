# SPDX-License-Identifier: MIT
"""Finds and opens the C library: the one named by VUG_LIBRARY, the one beside this file, as wheels have
it, the one built in this source tree, or the one installed."""
from __future__ import annotations

import ctypes
import ctypes.util
import operator
import os
import sys
from pathlib import Path
from typing import Any, Iterator, Mapping, Tuple

MAJOR = 1  # of the library that these bindings speak to
NAMES = (f"libvug.so.{MAJOR}", f"libvug.{MAJOR}.dylib", f"libvug-{MAJOR}.dll", "vug.dll")


def _candidates() -> Iterator[str]:
    named = os.environ.get("VUG_LIBRARY")
    if named:
        yield named
        return
    for name in NAMES:
        beside = Path(__file__).resolve().with_name(name)
        if beside.exists():
            yield str(beside)
    tree = Path(__file__).resolve().parents[3]  # bindings/python/vug/_library.py
    for name in ("libvug.so", "libvug.dylib", NAMES[2]):
        built = tree / ".libs" / name
        if (tree / "include" / "vug.h").exists() and built.exists():
            yield str(built)
    prefix = Path(sys.prefix)
    for name in NAMES:
        places = [prefix / folder / name for folder in ("lib", "bin", "Library/bin")]
        yield next((str(place) for place in places if place.exists()), name)
    for name in ("vug", Path(NAMES[2]).stem):  # on Windows: a library in PATH, where loading by name doesn't look
        found = ctypes.util.find_library(name)
        if found:
            yield found


def _open() -> ctypes.CDLL:
    tried = []
    for name in _candidates():
        try:
            return ctypes.CDLL(name)
        except OSError as error:
            tried.append(f"  {name}: {error}")
    raise ImportError(
        "the vug library was not found; install it, or set VUG_LIBRARY to its file.\n"
        "Tried:\n" + "\n".join(tried))


class Whole:
    """Whole numbers that fit: ctypes alone would cut 2**70 to 0 and make -1 the largest size."""

    def __init__(self, kind: Any) -> None:
        bits = 8 * ctypes.sizeof(kind)
        self.kind = kind
        self.low = -2 ** (bits - 1) if kind(-1).value < 0 else 0
        self.high = self.low + 2 ** bits - 1

    def fit(self, value: Any) -> int:
        """value as an int; OverflowError if it has no room, TypeError if it is not whole."""
        number = operator.index(value)
        if not self.low <= number <= self.high:
            raise OverflowError(f"{number} does not fit: {self.low} to {self.high} do")
        return number

    def from_param(self, value: Any) -> Any:
        """What ctypes calls for an argument."""
        return value if isinstance(value, self.kind) else self.kind(self.fit(value))


def file_name(path: Any) -> bytes:
    """A path for the library; ValueError, as open() raises, if C would see another one."""
    name = os.fsencode(path)
    if b"\0" in name:
        raise ValueError("embedded null byte")
    return name


class Text:
    """Bytes that end where C thinks they end."""

    @staticmethod
    def from_param(value: Any) -> Any:
        """What ctypes calls for an argument."""
        if isinstance(value, bytes) and b"\0" in value:
            raise ValueError("embedded null byte")
        return ctypes.c_char_p.from_param(value)


WHOLE = {kind: Whole(kind) for kind in (ctypes.c_int32, ctypes.c_int64, ctypes.c_size_t,
                                        ctypes.c_uint8, ctypes.c_uint32, ctypes.c_uint64)}


def room(item: Any, count: int, width: int = 1) -> Any:
    """A C array for count rows of results, at least one."""
    return (item * (width * max(WHOLE[ctypes.c_size_t].fit(count), 1)))()


def declare(functions: Mapping[str, Tuple[Any, Tuple[Any, ...]]]) -> ctypes.CDLL:
    """Opens the library and gives each function its result and argument types. A function
    that an older library lacks is left out; calling it raises AttributeError."""
    lib = _open()
    for name, (result, arguments) in functions.items():
        try:
            function = getattr(lib, name)
        except AttributeError:
            continue
        function.restype = result
        function.argtypes = [WHOLE.get(kind, Text if kind is ctypes.c_char_p else kind)
                             for kind in arguments]
    number = lib.vug_version_number()
    if number // 10000 != MAJOR:
        raise ImportError(
            f"this package speaks to vug {MAJOR}.x, the library found is "
            f"{lib.vug_version_string().decode()} ({lib._name})")
    return lib
