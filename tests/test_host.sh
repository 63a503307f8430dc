#!/bin/sh
# SPDX-License-Identifier: MIT
# A host with the library inside: both jobs end, one is stopped while the other goes on, memory comes back.
# Under a thread sanitizer this is the test of the whole library with two contexts in two threads.
host=$VUG_BUILDDIR/tests/host_tool
[ -x "$host" ] || { echo "the examples are not built"; exit 77; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "test_host: $*" >&2
    exit 1
}

"$host" --poses 40 --json "$work/both.json" >"$work/out" || fail "two jobs: $?"
[ "$(grep -c '"VUG_OK"' "$work/both.json")" -eq 2 ] || fail "both jobs should end well"
grep -q '"left_bytes": 0' "$work/both.json" || fail "memory stays behind"

# Stopped at once, by the main thread; the other job goes on.
timeout 60 "$host" --poses 60 --cancel-after 0 --json "$work/one.json" >"$work/out" || fail "stop: $?"
[ "$(grep -c 'VUG_ERR_CANCELLED' "$work/one.json")" -eq 1 ] || fail "the second job should be stopped"
[ "$(grep -c '"VUG_OK"' "$work/one.json")" -eq 1 ] || fail "the first job should end well"
grep -q '"left_bytes": 0' "$work/one.json" || fail "memory stays behind after a stop"

# A plug-in in C++ that keeps what was found and drags a vent about. Its air is compared with what is kept
# beside it; words must be the same, figures within one and a half of their last digit.
cxx=${CXX:-c++}
if [ -e "$VUG_BUILDDIR/.libs/libvug.so" ] && command -v "$cxx" >/dev/null; then
    example=$VUG_SRCDIR/examples/drag_a_vent
    "$cxx" -std=c++17 -Wall -Wextra -Wpedantic -Wshadow -Werror -I"$VUG_SRCDIR/include" "$example.cpp" \
        -L"$VUG_BUILDDIR/.libs" -lvug -o "$work/drag" || fail "drag_a_vent.cpp does not build"
    LD_LIBRARY_PATH=$VUG_BUILDDIR/.libs "$work/drag" "$VUG_SRCDIR/examples/gourd.stl" >"$work/drag.out" ||
        fail "drag_a_vent: $?"
    paste -d ' ' "$work/drag.out" "$example.out" | awk '
        { half = NF / 2; for (i = 1; i <= half; i++) { a = $i; b = $(i + half); d = a - b
          if (a ~ /^[0-9.]+$/ ? d * d > 0.015 * 0.015 : a != b) { print; exit 1 } } }' || fail "drag_a_vent differs"
    [ "$(wc -l <"$work/drag.out")" -eq 9 ] || fail "drag_a_vent ends early"
    LD_LIBRARY_PATH=$VUG_BUILDDIR/.libs "$work/drag" missing.stl 2>"$work/err" && fail "drag_a_vent: no file"
    grep -q "missing.stl" "$work/err" || fail "drag_a_vent: no word about the file"
else
    echo "skipped: drag_a_vent.cpp: no C++ compiler, or no shared library"
fi

# The host's limit is an error of the call, not the end of the process.
"$host" --memory 1 --poses 40000 >"$work/out" 2>"$work/err"
[ $? -eq 1 ] || fail "a small limit should fail with 1"
grep -q "out of memory" "$work/err" || fail "no word about memory: $(cat "$work/err")"
