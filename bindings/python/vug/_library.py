# SPDX-License-Identifier: MIT
"""Finds and opens the C library: the one named by VUG_LIBRARY, the one built in this source
tree, or the one installed."""
from __future__ import annotations

import ctypes
import ctypes.util
import os
import sys
from pathlib import Path
from typing import Any, Iterator, Mapping, Tuple

MAJOR = 1  # of the library that these bindings speak to


def _candidates() -> Iterator[str]:
    named = os.environ.get("VUG_LIBRARY")
    if named:
        yield named
        return
    tree = Path(__file__).resolve().parents[3]  # bindings/python/vug/_library.py
    for name in ("libvug.so", "libvug.dylib"):
        built = tree / ".libs" / name
        if (tree / "include" / "vug.h").exists() and built.exists():
            yield str(built)
    prefix = Path(sys.prefix)
    for name in (f"libvug.so.{MAJOR}", f"libvug.{MAJOR}.dylib", "vug.dll"):
        installed = prefix / "lib" / name
        yield str(installed) if installed.exists() else name
    found = ctypes.util.find_library("vug")
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
        function.argtypes = arguments
    number = lib.vug_version_number()
    if number // 10000 != MAJOR:
        raise ImportError(
            f"this package speaks to vug {MAJOR}.x, the library found is "
            f"{lib.vug_version_string().decode()} ({lib._name})")
    return lib
