# SPDX-License-Identifier: MIT
"""Writes bindings/python/vug/_raw.py from vug.h: one line for each call, each struct mirrored."""
import re

import house

SIMPLE = {"int32_t": "I32", "uint32_t": "U32", "int64_t": "I64", "uint64_t": "U64",
          "size_t": "SIZE", "double": "F64", "float": "F32", "uint8_t": "U8", "vug_status": "STATUS", "void": "None"}

HEAD = '''# SPDX-License-Identifier: MIT
"""The C calls of vug.h as they stand: a line each. Written by tests/new_call; a test compares
it with the header. Programs want the classes of the package, not this."""
from ctypes import (CFUNCTYPE, POINTER as P, Structure, c_char_p as TEXT, c_double as F64, c_float as F32,
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


# ---- records: options and results as Python classes ------------------------------------------

RECORDS = house.RAW.parent / "_records.py"

RECORDS_HEAD = '''# SPDX-License-Identifier: MIT
"""The structs of vug.h as classes. Written by tests/new_call; a test compares it with the
header."""
from __future__ import annotations

from typing import Any, Tuple

from . import _raw
from ._record import Record
'''

HINTS = {"I32": "int", "U32": "int", "I64": "int", "U64": "int", "SIZE": "int", "F64": "float",
         "U8": "int", "TEXT": "str", "STATUS": "int"}


def class_name(struct):
    return "".join(word.capitalize() for word in struct.split("_")[1:])


def wrapped(text, indent, first=""):
    """Lines of at most 99 columns."""
    lines, line = [], indent + first
    for word in text.split():
        if len(line) + len(word) + 1 > 98 and line.strip():
            lines.append(line.rstrip())
            line = indent
        line += word + " "
    return lines + [line.rstrip()]


def struct_docs():
    """struct -> (comment, {member: comment})"""
    text, found = house.HEADER.read_text(), {}
    for comment, name, body in re.findall(
            r"(?:/\*\*((?:(?!\*/).)*)\*/\s*)?typedef struct (vug_\w+) \{(.*?)\} \2;", text, re.S):
        members = {}
        for line in re.findall(r"(\w+)(?:\[\w+\])*;\s*/\*\*?<?((?:(?!\*/).)*)\*/", body, re.S):
            members[line[0]] = re.sub(r"\s*\n\s*\*?\s*", " ", line[1]).strip()
        found[name] = (re.sub(r"\s*\n\s*\*?\s*", " ", comment).strip(), members)
    return found


def records():
    out, docs, names = [RECORDS_HEAD], struct_docs(), []
    values = house.constants()
    for struct in house.structs():
        if not struct.fields or struct.name == "vug_context_options":
            continue
        comment, members = docs[struct.name]
        name = class_name(struct.name)
        names.append(name)
        out.append(f"\n\nclass {name}(Record):\n")
        out.append("\n".join(wrapped(comment.replace("\\", "\\\\") + '"""', "    ", '"""')) + "\n\n")
        out.append(f"    _struct = _raw.{struct.name}\n")
        for kind, member_name, counts in struct.fields:
            if member_name == "struct_size":
                continue
            hint = HINTS.get(python_type(kind), "Any")
            if kind.strip() == "char" and counts:
                hint, counts = "str", []
            for count in reversed(counts):
                number = values[count][0] if count in values else int(count)
                hint = f"Tuple[{', '.join([hint] * number)}]" if number <= 4 else f"Tuple[{hint}, ...]"
            if member_name in members:
                out.append("\n".join(wrapped(members[member_name], "    #: ")) + "\n")
            out.append(f"    {member_name}: {hint}\n")
    listed = ", ".join(f'"{name}"' for name in names)
    out.append("\n\n" + "\n".join(wrapped(listed + "]", " " * 11, "__all__ = [")).lstrip() + "\n")
    return "".join(out)


# ---- sums: calls that take and give numbers, as functions of a module each floor -----------------

SUMS = {"flow": "Fluids, tubes, holes, capillarity, bubbles, drills, supplies.",
        "light": "Curing dose, wall and paint optics."}
CTYPE = {"double": "ctypes.c_double", "int32_t": "ctypes.c_int32", "uint32_t": "ctypes.c_uint32",
         "int64_t": "ctypes.c_int64", "uint8_t": "ctypes.c_uint8"}

SUMS_HEAD = '''# SPDX-License-Identifier: MIT
"""%s

Sums without a mesh. Units are in the names. Each takes numbers and raises DomainError for one
outside the range of its formula. A law that is drawn as a curve takes a number or a row of them
as its last argument, and gives the same. Written by tests/new_call from vug.h.
"""
from __future__ import annotations

from typing import Any, Optional, Sequence, Tuple

from ._context import Context
from ._raw import lib
from ._records import *  # noqa: F401,F403
from ._sums import Numbers, alike, byref, ctypes, law, ref, run  # noqa: F401
'''

# Not from the header alone: written by hand, and shown in the floor's module.
BY_HAND = {"flow": "from ._interval import interval_of  # noqa: F401\n"}


def is_law(f):
    """Does a call take a row and give one: const double *x, size_t count, double *y at its end?"""
    kinds = [k for k, _ in f.args]
    return kinds[-3:] == ["const double *", "size_t", "double *"] and kinds.count("const double *") == 1


def law_function(f):
    """The Python text of a law: a number gives a number, a row gives an array."""
    records = {s.name: class_name(s.name) for s in house.structs() if s.fields}
    x = f.args[-3][1]
    params, call = [], []
    for kind, name in f.args[1:-3]:
        base = kind.replace("const", "").replace("*", "").strip()
        params.append(f"{name}: Optional[{records[base]}]" if base in records
                      else f"{name}: {'float' if base == 'double' else 'int'}")
        call.append(f"ref({name})" if base in records else name)
    params += [f"{x}: Any", "context: Optional[Context] = None"]
    lines = [f"def {f.name[4:]}(\n        " + ",\n        ".join(params) + ") -> Any:"]
    lines += wrapped(python_doc(f) + '"""', "    ", '"""')
    call_lines = wrapped(f"return law(lib.{f.name}, context, {x}, {', '.join(call)})", " " * 8)
    lines += [call_lines[0][4:]] + call_lines[1:]
    return "\n".join(lines) + "\n"


def python_doc(f):
    doc = re.sub(r"\s*Errors:[^.]*\.?\s*$", "", f.doc).replace("\\", "\\\\")
    return re.sub(r"vug_(\w+)\(\)", r"\1()", doc)


def is_sum(f):
    if f.returns == "const char *":
        return not any("*" in kind for kind, _ in f.args)
    if not f.args or f.args[0][0] != "vug_context *" or f.returns != "vug_status":
        return False
    handles = {s.name for s in house.structs() if not s.fields} | {"void"}
    handles |= {c.name for c in house.callbacks()}
    return not any(kind.replace("const", "").replace("*", "").strip() in handles
                   for kind, _ in f.args[1:])


def text_function(f):
    """The Python text of a call that gives a constant text, or None."""
    params = ", ".join(f"{name}: int" for _, name in f.args)
    doc = re.sub(r"\bNULL\b", "None", re.sub(r" A constant;?[^.]*\.$", "", f.doc))
    lines = [f"def {f.name[4:]}({params}) -> Optional[str]:"]
    lines += wrapped(doc + '"""', "    ", '"""')
    lines.append(f"    text = lib.{f.name}({', '.join(name for _, name in f.args)})")
    lines.append("    return text.decode() if text is not None else None")
    return "\n".join(lines) + "\n"


def sum_function(f):
    """The Python text of one sum."""
    if f.returns == "const char *":
        return text_function(f)
    if is_law(f):
        return law_function(f)
    records = {s.name: class_name(s.name) for s in house.structs() if s.fields}
    rowwise = any(kind == "size_t" for kind, _ in f.args)
    fixed = dict(re.findall(r"(\w+)\[(\d+)\]", house.prototypes()[f.name]))
    counts = [n for k, n in f.args if k == "size_t"]
    params, before, call, results, hints, rows = [], [], [], [], [], []
    for kind, name in f.args[1:]:
        base = kind.replace("const", "").replace("*", "").strip()
        out = "*" in kind and "const" not in kind
        if kind == "size_t" and rowwise:
            continue
        if base in records and not out:
            params.append(f"{name}: Optional[{records[base]}]")
        elif base in records:
            before.append(f"{name} = {records[base]}()")
            results.append(name)
            hints.append(records[base])
        elif "*" not in kind:
            params.append(f"{name}: {'float' if base == 'double' else 'int'}")
        elif base == "char":
            params.append(f"{name}: str")
        elif not out:
            params.append(f"{name}: Sequence[float]")
            before.append(f"{name}_ = Numbers({name}, {CTYPE[base]})")
            if name in fixed:
                before.append(f"{name}_.must_have({fixed[name]})")
            else:
                rows.append(name + "_")
    for kind, name in f.args[1:]:
        base = kind.replace("const", "").replace("*", "").strip()
        out = "*" in kind and "const" not in kind
        if kind == "size_t" and rowwise:
            call.append("count")
        elif base in records:
            call.append(f"ref({name})")
        elif "*" not in kind:
            call.append(name)
        elif base == "char":
            call.append(f"{name}.encode()")
        elif not out:
            call.append(name + "_.pointer")
        else:
            before.append(f"{name} = {CTYPE[base]}()")
            call.append(f"byref({name})")
            results.append(name + ".value")
            hints.append("float" if base == "double" else "int")
    if rowwise and rows and counts:
        at = max(i for i, line in enumerate(before) if line.split(" ")[0] in rows) + 1
        before.insert(at, f"count = alike({', '.join(rows)})")
    result = hints[0] if len(hints) == 1 else f"Tuple[{', '.join(hints)}]"
    head = f"def {f.name[4:]}({', '.join(params + ['context: Optional[Context] = None'])}) -> {result}:"
    if len(head) > 98:
        head = f"def {f.name[4:]}(\n        " + ",\n        ".join(
            params + ["context: Optional[Context] = None"]) + f") -> {result}:"
    lines = [head] + wrapped(python_doc(f) + '"""', "    ", '"""')
    lines += ["    " + line for line in before]
    call_lines = wrapped(f"run(lib.{f.name}, context, {', '.join(call)})", " " * 8)
    lines += [call_lines[0][4:]] + call_lines[1:]
    lines.append(f"    return {', '.join(results)}")
    return "\n".join(lines) + "\n"


def sums(floor):
    out = [SUMS_HEAD % SUMS[floor] + BY_HAND.get(floor, "")]
    for f in house.functions():
        if f.floor == floor and is_sum(f):
            out.append("\n\n" + sum_function(f))
    return "".join(out)


def files():
    """Each file that follows from the header, with its text."""
    folder = house.RAW.parent
    return {house.RAW: generate(), RECORDS: records(),
            **{folder / f"{floor}.py": sums(floor) for floor in SUMS}}
