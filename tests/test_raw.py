# SPDX-License-Identifier: MIT
"""The Python package's mirror of the header: the same calls, structs and constants, checked
against what cffi makes of the header (python3-cffi, an independent reader and layout)."""
import ctypes
import os
import re
import sys

import house
import raw

report = house.Report()
text = house.RAW.read_text()
for path, wanted in raw.files().items():
    report.check(path.read_text() == wanted,
                   f"{path.name} is not what tests/new_call --python makes of vug.h")
for f in house.functions():
    report.check(f'    "{f.name}": (' in text, f"{f.name}: no line in _raw.py")

# ---- every call is reached by the package's own classes and functions, not by _raw.py alone ------
package = "".join(p.read_text() for p in house.RAW.parent.glob("*.py") if p != house.RAW)
for f in house.functions():
    used = f"lib.{f.name}" in package or f'"{f.name}"' in package
    if f.name.endswith("_init"):  # Record calls it by its struct's name
        used = used or f"_raw.{f.name[:-5]}" in package
    report.check(used, f"{f.name}: no class or function of the Python package uses it")

# ---- every call is called by some test, in C or through the package -------------------------------
in_c = "".join(p.read_text() for p in (house.SRC / "tests").rglob("*.[ch]"))
in_python = "".join(p.read_text() for p in (house.SRC / "bindings/python/tests").glob("*.py"))
for f in house.functions():
    by_record = f.name.endswith("_init") and raw.class_name(f.name[:-5]) + "(" in package
    report.check(f.name + "(" in in_c or by_record or f.name.split("_")[-1] + "s(" in in_python,
                 f"{f.name}: no test calls it")

try:
    import cffi
except ImportError:
    house.skip("python3-cffi is not there")
so = house.library("so")
if not so or house.sanitized():
    house.skip("no plain shared library")
os.environ["VUG_LIBRARY"] = str(so)
sys.path.insert(0, str(house.SRC / "bindings" / "python"))
from vug import _raw  # noqa: E402

ffi = cffi.FFI()
ffi.cdef(house.plain_header())


def same(ours, theirs, where):
    """Does a ctypes type have the size, kind and sign of cffi's?"""
    if theirs.kind == "void":
        return report.check(ours is None, f"{where}: {ours} for void")
    if theirs.kind == "primitive":
        signed = not theirs.cname.startswith("u") and theirs.cname != "size_t"
        real = theirs.cname in ("double", "float")
        fits = ours is not None and ctypes.sizeof(ours) == ffi.sizeof(theirs)
        if fits and real:
            fits = isinstance(ours(0).value, float)
        elif fits:
            fits = isinstance(ours(0).value, int) and (ours(-1).value < 0) == signed
        return report.check(fits, f"{where}: {ours} for {theirs.cname}")
    if theirs.kind == "array":
        report.check(ours._length_ == theirs.length, f"{where}: array of {ours._length_}")
        return same(ours._type_, theirs.item, where)
    if theirs.kind == "pointer":
        item = theirs.item
        if item.kind == "void":
            return report.check(ours is ctypes.c_void_p, f"{where}: {ours} for {theirs.cname}")
        if item.cname == "char":
            return report.check(ours is ctypes.c_char_p, f"{where}: {ours} for {theirs.cname}")
        if not report.check(hasattr(ours, "_type_") and not isinstance(ours._type_, str),
                            f"{where}: {ours} for {theirs.cname}"):
            return False
        return same(ours._type_, item, where)
    if theirs.kind == "function":
        return same_function(ours._restype_, ours._argtypes_, theirs, where)
    return report.check(theirs.kind == "struct" and ours.__name__ == theirs.cname.split()[-1],
                        f"{where}: {ours} for {theirs.cname}")


def same_function(result, arguments, theirs, where):
    same(result, theirs.result, where + " result")
    report.check(len(arguments) == len(theirs.args), f"{where}: {len(arguments)} arguments")
    for i, (a, b) in enumerate(zip(arguments, theirs.args)):
        same(a, b, f"{where} argument {i + 1}")
    return True


for name, text in house.prototypes().items():
    if name in _raw.FUNCTIONS:
        result, arguments = _raw.FUNCTIONS[name]
        pointer = ffi.typeof(re.sub(rf"\b{name}\(", "(*)(", text))
        same_function(result, arguments, pointer, name)
from vug._record import TABLES  # noqa: E402
for struct in house.structs():
    for kind, name, _ in struct.fields:
        if raw.python_type(kind) in ("P(F64)", "P(U8)", "P(I32)", "P(U32)"):
            report.check((struct.name, name) in TABLES,
                           f"{struct.name}.{name}: no width in TABLES of _record.py")
    if struct.fields and hasattr(_raw, struct.name):
        ours, theirs = getattr(_raw, struct.name), ffi.typeof(struct.name)
        report.check([n for n, _ in ours._fields_] == [n for n, _ in theirs.fields],
                     f"{struct.name}: other members or another order")
        report.check(ctypes.sizeof(ours) == ffi.sizeof(theirs), f"{struct.name}: another size")
        for (name, kind), (_, field) in zip(ours._fields_, theirs.fields):
            where = f"{struct.name}.{name}"
            report.check(getattr(ours, name).offset == field.offset, f"{where}: another offset")
            same(kind, field.type, where)
for callback in house.callbacks():
    if hasattr(_raw, callback.name):
        same(getattr(_raw, callback.name), ffi.typeof(callback.name), callback.name)
for name, (value, _) in house.constants().items():
    report.check(_raw.CONSTANTS.get(name) == value, f"{name}: {_raw.CONSTANTS.get(name)} in _raw.py")
report.end()
