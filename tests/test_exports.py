# SPDX-License-Identifier: MIT
"""The built library: exports what the header says and nothing else, keeps its hands off the
process it runs in, has no variable that two threads could share."""
import ctypes
import re

import house

so, archive = house.library("so"), house.library("a")
if not so and not archive:
    house.skip("no built library")
if house.sanitized():
    house.skip("the compiler's own symbols are in this build")
report = house.Report()
names = {f.name for f in house.functions()}

# A library may not end, print, or change its host's locale, signals, or random numbers.
FORBIDDEN = set("""
    exit _exit _Exit quick_exit abort atexit on_exit __assert_fail __assert signal sigaction raise
    printf vprintf fprintf vfprintf puts putchar fputs perror psignal __printf_chk __fprintf_chk
    __vprintf_chk __vfprintf_chk __puts_chk stdin stdout stderr
    setlocale uselocale putenv setenv unsetenv chdir umask system popen fork
    rand srand random srandom drand48 srand48 strtok gets tmpnam mktemp setjmp _setjmp longjmp
    strerror localtime gmtime ctime asctime usleep sleep alarm
    """.split())
MEMORY = set("malloc calloc realloc free strdup strndup aligned_alloc posix_memalign".split())


def symbols(*command):
    return [line.split() for line in house.run("nm", *command).stdout.splitlines()]


if so:
    dynamic = {s[-1].split("@")[0] for s in symbols("-D", "--defined-only", so)
               if s[-2] != "A"}
    report.same(names, dynamic, "vug.h", "nm -D of the library")
    undefined = {s[-1].split("@")[0] for s in symbols("-D", "--undefined-only", so)}
    # A build with --enable-debug checks what must hold, and ends where it does not: it is for developers.
    checked = "NDEBUG" not in (house.BUILD / "Makefile").read_text() + (house.BUILD / "config.h").read_text()
    for name in sorted(FORBIDDEN - ({"__assert_fail"} if checked else set())):
        report.check(name not in undefined, f"the library uses {name}")

    # ---- constants, as the library lists them ------------------------------------------------
    lib = ctypes.CDLL(str(so))
    lib.vug_constant.restype = ctypes.c_char_p
    lib.vug_constant.argtypes = [ctypes.c_size_t, ctypes.POINTER(ctypes.c_int64)]
    listed, value = {}, ctypes.c_int64()
    while name := lib.vug_constant(len(listed), ctypes.byref(value)):
        if not report.check(name.decode() not in listed, f"{name} is listed twice"):
            break
        listed[name.decode()] = value.value
    header = {n: v for n, (v, _) in house.constants().items()}
    report.same(header, listed, "vug.h", "lib/base/constants.c")
    for name in header.keys() & listed.keys():
        report.check(header[name] == listed[name],
                     f"{name}: {header[name]} in vug.h, {listed[name]} in the library")

if archive:
    for symbol in symbols("-g", "--defined-only", archive):
        if len(symbol) == 3 and not symbol[2].startswith("."):  # a dot: the compiler's own
            report.check(re.match(r"vugi?_", symbol[2]),
                         f"{symbol[2]}: a global of the static library without the prefix")
    member = ""
    for symbol in symbols(archive):
        if len(symbol) == 1 and symbol[0].endswith(".o:"):
            member = symbol[0]
        elif len(symbol) == 2 and symbol[0] == "U" and symbol[1] in MEMORY:
            report.check(member.endswith("-memory.o:"),
                         f"{member} uses {symbol[1]}: take memory from the context's allocator")
    # One number is set once: the process of the first team of threads, which a child after fork() has
    # to know (lib/base/threads.c).
    allowed = {"team_process"}
    # Constants that hold pointers stand in .data.rel.ro: written by the loader, then read-only.
    for line in house.run("objdump", "-t", archive).stdout.splitlines():
        match = re.match(r"[0-9a-f]+ .{7} (\S+)\t\S+ +(\S+)$", line)
        if match and not match.group(2).startswith("."):
            section, name = match.groups()
            report.check(name in allowed or not re.match(r"\.(data(?!\.rel\.ro)|bss|tdata|tbss)|\*COM\*", section),
                         f"{name}: a variable with static lifetime (section {section})")
report.end()
