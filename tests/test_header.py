# SPDX-License-Identifier: MIT
"""vug.h: plain C for any parser, compiles alone, keeps to the types that every language has."""
import os
import re
import shutil
import tempfile

import house

report = house.Report()
functions = house.functions()
names = [f.name for f in functions]
report.check(names, "no function found in the header")
report.check(len(names) == len(set(names)), "a function is declared twice")
report.check(set(names) == set(house.prototypes()), "a prototype stands outside a floor's section")

# ---- the map has the same names -----------------------------------------------------------
exported = house.map_names()
report.check(len(exported) == len(set(exported)), "a name is in the map twice")
report.same(names, exported, "vug.h", "lib/vug.map")

# ---- independent parsers take the plain text -----------------------------------------------
plain = house.plain_header()
try:
    import cffi
    ffi = cffi.FFI()
    ffi.cdef(plain)
    lib = ffi.dlopen(None)
    declared = [k for k in ffi._parser._declarations if k.startswith("function ")]
    report.check(len(declared) == len(names),
                 f"cffi finds {len(declared)} functions, we find {len(names)}")
    for struct in house.structs():
        if struct.fields:
            kind = ffi.typeof(struct.name)
            report.check([n for n, _ in kind.fields] == [n for _, n, _ in struct.fields],
                         f"{struct.name}: cffi reads other members")
            report.check(kind.fields[0][0] == "struct_size" and
                         kind.fields[0][1].type is ffi.typeof("uint32_t"),
                         f"{struct.name}: the first member is not uint32_t struct_size")
            given = struct.name in house.given_structs()
            report.check(given == (struct.name + "_init" in names),
                         f"{struct.name}: what goes in has an _init call, what comes out has none")
except ImportError:
    print("python3-cffi is not there")
try:
    from pycparser import c_ast, c_parser
    types = "".join(f"typedef int {t};" for t in
                    "int8_t uint8_t int32_t uint32_t int64_t uint64_t size_t".split())
    tree = c_parser.CParser().parse(types + plain, "vug.h")
    declared = [d.name for d in tree.ext
                if isinstance(d, c_ast.Decl) and isinstance(d.type, c_ast.FuncDecl)]
    report.check(sorted(declared) == sorted(names), "pycparser finds other functions")
except ImportError:
    print("python3-pycparser is not there")

# ---- types and forms that every language has -------------------------------------------------
BANNED = r"\b(long|short|unsigned|signed|int|float(?! \*)|bool|_Bool|union|inline|FILE|time_t|off_t|va_list)\b|\.\.\.|:\s*\d"
for line in plain.splitlines():
    found = re.search(BANNED, line)
    report.check(not found, f"not for a public header: {line.strip()}")
report.check(not re.search(r"\benum\s+\w", plain), "a named enum: constants travel as int32_t")
macros = re.findall(r"^#\s*define\s+(\w+)\(", house.HEADER.read_text(), flags=re.M)
report.check(not macros, f"function-like macros: {macros}")
for body in re.findall(r"\benum\s*\{([^}]*)\}", plain):
    first = body.split(",")[0].strip()
    report.check(re.fullmatch(r"VUG_\w+ = -1", first) and body.count("-") == 1,
                 f"enum of {first}: its first member, and no other, is -1, which makes it signed")
handles = {s.name for s in house.structs() if not s.fields}
for f in functions:
    report.check(f.doc, f"{f.name}: no /** comment */ before it")
    for kind, name in f.args:
        report.check(name, f"{f.name}: an argument has no name")
        base = kind.replace("const", "").strip()
        report.check(base not in {s.name for s in house.structs()}, f"{f.name}: struct by value")
    if f.returns == "vug_status":
        report.check("VUG_ERR_" in f.doc or "as for" in f.doc or "The same" in f.doc or
                     "rrors as" in f.doc, f"{f.name}: the comment names no error")
for handle in handles - {"vug_context"}:
    free = handle + "_free"
    report.check(free in names, f"{handle}: no {free}()")

# ---- compiles alone, without a warning --------------------------------------------------------
WARN = "-Wall -Wextra -Wpedantic -Werror -Wshadow -Wundef".split()
ALONE = """#if VUG_VERSION_MAJOR * 10000 + VUG_VERSION_MINOR * 100 + VUG_VERSION_PATCH < 10000
#error "a version before the first"
#endif
int main(void) { return VUG_OK; }
"""
# What a C++ program, and a generator of bindings, takes the type of a constant for.
SIGNED = "#include <type_traits>\n" + "".join(
    f"static_assert(std::is_same<std::underlying_type<decltype({name})>::type, int32_t>::value, \"{name}\");\n"
    for name in house.constants() if not name.startswith("VUG_VERSION_"))
with tempfile.TemporaryDirectory() as folder:
    for compiler, standard, suffix in (
            ("gcc", "c11", "c"), ("clang", "c11", "c"), ("gcc", "c99", "c"), ("gcc", "c2x", "c"),
            ("g++", "c++17", "cpp"), ("clang++", "c++17", "cpp"), ("g++", "c++11", "cpp")):
        if not shutil.which(compiler):
            print(compiler, "is not there")
            continue
        source = os.path.join(folder, f"alone.{suffix}")
        with open(source, "w") as out:
            out.write('#include "vug.h"\n#include "vug.h"\n' + ALONE + (SIGNED if suffix == "cpp" else ""))
        done = house.run(compiler, f"-std={standard}", *WARN, f"-I{house.SRC}/include",
                         "-fsyntax-only", source)
        report.check(done.returncode == 0, f"{compiler} -std={standard}: {done.stdout}")
report.end()
