#!/bin/sh
# SPDX-License-Identifier: MIT
# The JavaScript package's own tests, in node, against the native library; 77 (skipped) without node,
# without vug.wasm (make wasm) or without a plain shared library.
wasm=$VUG_BUILDDIR/bindings/js/vug.wasm
command -v node >/dev/null 2>&1 || { echo "node is not there"; exit 77; }
[ -e "$wasm" ] || { echo "vug.wasm was not built: make wasm"; exit 77; }
[ -e "$VUG_BUILDDIR/.libs/libvug.so" ] || { echo "no shared library to compare with"; exit 77; }
grep -q '^CFLAGS = .*sanitize' "$VUG_BUILDDIR/Makefile" && { echo "a sanitized library"; exit 77; }
major=$(node -p 'process.versions.node.split(".")[0]')
[ "$major" -ge 18 ] || { echo "node $major: its test runner came with 18"; exit 77; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"${PYTHON3:-python3}" -B "$VUG_SRCDIR/tests/js/native.py" >"$work/native.json" || exit 1
VUG_NATIVE=$work/native.json VUG_WASM=$wasm node --test "$VUG_SRCDIR/tests/js/test_library.mjs" \
    "$VUG_SRCDIR/tests/js/test_worker.mjs"
