# SPDX-License-Identifier: MIT
"""Writes bindings/js/raw.js and raw.d.ts from vug.h: calls, constants, and each struct as
WebAssembly lays it out (32-bit pointers, double and int64_t on 8 bytes)."""
import re

import house
import raw

FOLDER = house.SRC / "bindings" / "js"

# C type -> (name here, size and alignment in wasm32)
SIMPLE = {"int32_t": ("i32", 4), "uint32_t": ("u32", 4), "int64_t": ("i64", 8),
          "uint64_t": ("u64", 8), "size_t": ("u32", 4), "double": ("f64", 8), "float": ("f32", 4), "uint8_t": ("u8", 1),
          "char": ("u8", 1)}

NOTE = """// SPDX-License-Identifier: MIT
// The C calls of vug.h as they stand. Written by tests/new_call --js; a test compares it with the
// header. Programs want the classes of vug.js, not this.
"""


def kind_of(text):
    """C type of a member -> (name, size)"""
    if "*" in text or text.startswith("vug_"):
        base = text.replace("const", "").replace("*", "").strip()
        return (SIMPLE[base][0] + "*" if base in SIMPLE and base != "char" else "pointer"), 4
    return SIMPLE[text]


def layout(struct):
    """(size, [(member, kind, offset, count)]); count 0: one of it and no array."""
    values, at, members, widest = house.constants(), 0, [], 1
    for text, name, counts in struct.fields:
        kind, size = kind_of(text)
        count = 1
        for number in counts:
            count *= values[number][0] if number in values else int(number)
        at = (at + size - 1) // size * size
        members.append((name, kind, at, count if counts else 0))
        at += size * count
        widest = max(widest, size)
    return (at + widest - 1) // widest * widest, members


def module():
    out = [NOTE, "\nexport const CALLS = [\n"]
    out += [f'    "{f.name}",\n' for f in house.functions()]
    out.append("];\n\n// name: [size, [[member, kind, offset, count of an array or 0], ...]]\n"
               "export const STRUCTS = {\n")
    for struct in house.structs():
        if struct.fields:
            size, members = layout(struct)
            listed = ", ".join(f'["{n}", "{k}", {o}, {c}]' for n, k, o, c in members)
            out.append(f"    {struct.name}: [{size}, [{listed}]],\n")
    out.append("};\n\nexport const CONSTANTS = {\n")
    out += [f"    {name}: {value},\n" for name, (value, _) in house.constants().items()]
    out.append("};\n")
    return "".join(out)


def type_of(text):
    """C type of an argument or a result -> its TypeScript type"""
    if text == "void":
        return "void"
    if "*" in text or text.endswith("_fn"):
        return "Pointer"
    if text in ("int64_t", "uint64_t"):
        raise SystemExit(f"{text} by value: WebAssembly gives it as a BigInt; not handled here")
    return "number"


def comment(text, indent):
    lines = raw.wrapped(text.replace("*/", ""), indent + " * ", "")
    return f"{indent}/**\n" + "\n".join(lines) + f"\n{indent} */\n" if text else ""


def member_type(kind, count):
    one = {"pointer": "Pointer"}.get(kind, "number")
    if kind.endswith("*"):
        return "number[] | null"
    return "number[]" if count else one


def types():
    out = [NOTE, "\n/** An address in the module's memory; 0 is NULL. */\nexport type Pointer = number;\n",
           "\nexport declare const CALLS: string[];\n",
           "export declare const STRUCTS: Record<string, [number, [string, string, number, number][]]>;\n",
           "\nexport declare const CONSTANTS: {\n"]
    out += [f"    readonly {name}: {value};\n" for name, (value, _) in house.constants().items()]
    out.append("};\n")
    docs = raw.struct_docs()
    for struct in house.structs():
        if not struct.fields:
            continue
        text, members = docs[struct.name]
        out.append("\n" + comment(text, "") + f"export interface {raw.class_name(struct.name)} {{\n")
        for name, kind, _, count in layout(struct)[1]:
            if name != "struct_size":
                told = "string" if struct_text(struct, name) else member_type(kind, count)
                out.append(comment(members.get(name, ""), "    ") + f"    {name}: {told};\n")
        out.append("}\n")
    out.append("\n/** What the module exports. */\nexport interface Raw {\n"
               "    readonly memory: WebAssembly.Memory;\n"
               "    malloc(size: number): Pointer;\n    free(address: Pointer): void;\n")
    for f in house.functions():
        args = ", ".join(f"{name}: {type_of(kind)}" for kind, name in f.args)
        out.append(comment(f.doc, "    ") + f"    {f.name}({args}): {type_of(f.returns)};\n")
    out.append("}\n")
    return "".join(out)


def struct_text(struct, name):
    """Is a member an array of char?"""
    return any(n == name and k.strip() == "char" and c for k, n, c in struct.fields)


def assertions():
    """C that does not compile unless the compiler lays the structs out as raw.js says."""
    out = ['#include "vug.h"\n#include <stddef.h>\n']
    for struct in house.structs():
        if struct.fields:
            size, members = layout(struct)
            out.append(f'_Static_assert(sizeof({struct.name}) == {size}, "{struct.name}");\n')
            out += [f'_Static_assert(offsetof({struct.name}, {n}) == {o}, "{struct.name}.{n}");\n'
                    for n, _, o, _ in members]
    return "".join(out)


def files():
    """Each file that follows from the header, with its text."""
    return {FOLDER / "raw.js": module(), FOLDER / "raw.d.ts": types()}


if __name__ == "__main__":
    import sys
    sys.stdout.write(re.sub(r"\n+$", "\n", assertions()))
