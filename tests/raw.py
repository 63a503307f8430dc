# SPDX-License-Identifier: MIT
"""Writes bindings/python/vug/_raw.py from vug.h: one line for each call, each struct mirrored."""
import re

import house

SIMPLE = {"int32_t": "I32", "uint32_t": "U32", "int64_t": "I64", "uint64_t": "U64",
          "size_t": "SIZE", "double": "F64", "uint8_t": "U8", "vug_status": "STATUS", "void": "None"}

HEAD = '''# SPDX-License-Identifier: MIT
"""The C calls of vug.h as they stand: a line each. Written by tests/new_call; a test compares
it with the header. Programs want the classes of the package, not this."""
from ctypes import (CFUNCTYPE, POINTER as P, Structure, c_char_p as TEXT, c_double as F64,
                    c_int32 as I32, c_int64 as I64, c_size_t as SIZE, c_uint8 as U8,
                    c_uint32 as U32, c_uint64 as U64, c_void_p as PTR)

from ._library import declare

STATUS = I32
'''


def python_type(kind):
    """C type -> its ctypes name in _raw.py."""
    text = re.sub(r"\bconst\b", " ", kind)
    stars = text.count("*")
    base = text.replace("*", " ").strip()
    if base == "void" and stars:
        name, stars = "PTR", stars - 1
    elif base == "char" and stars:
        name, stars = "TEXT", stars - 1
    else:
        name = SIMPLE.get(base, base)
    for _ in range(stars):
        name = f"P({name})"
    return name


def member(field):
    kind, name, counts = field
    text = python_type(kind)
    values = house.constants()
    for count in reversed(counts):
        text = f"{text} * {values[count][0] if count in values else count}"
    return f'("{name}", {text})'


def generate():
    out = [HEAD]
    shapes, calls, handlers = house.structs(), house.functions(), house.callbacks()
    defined, queue = set(), []
    for floor, _ in house.floor_text():
        queue += [("handle", s) for s in shapes if s.floor == floor and not s.fields]
        queue += [("callback", c) for c in handlers if c.floor == floor]
        queue += [("struct", s) for s in shapes if s.floor == floor and s.fields]
    for what, item in queue:
        if what == "handle":
            out.append(f"\n\nclass {item.name}(Structure):\n    __slots__ = ()\n")
        elif what == "callback":
            types = ", ".join([python_type(item.returns)] + [python_type(k) for k, _ in item.args])
            out.append(f"\n\n{item.name} = CFUNCTYPE({types})\n")
        else:
            fields = ",\n        ".join(member(f) for f in item.fields)
            out.append(f"\n\nclass {item.name}(Structure):\n    _fields_ = [\n        {fields},\n    ]\n")
        defined.add(item.name)
    out.append("\n\n# name, result, arguments\nFUNCTIONS = {\n")
    floor = ""
    for f in calls:
        if f.floor != floor:
            floor = f.floor
            out.append(f"    # {floor}\n")
        types = "".join(python_type(k) + ", " for k, _ in f.args).rstrip()
        types = types.rstrip(",") + ("," if len(f.args) == 1 else "")
        out.append(f'    "{f.name}": ({python_type(f.returns)}, ({types})),\n')
    out.append("}\n\nCONSTANTS = {\n")
    floor = ""
    for name, (value, where) in house.constants().items():
        if where != floor:
            floor = where
            out.append(f"    # {floor}\n")
        out.append(f'    "{name}": {value},\n')
    out.append("}\n\nlib = declare(FUNCTIONS)\n")
    return "".join(out)
