#!/bin/sh
# SPDX-License-Identifier: MIT
# The Python package's own tests; 77 (skipped) without pytest or without a shared library.
[ -z "${VUG_QUICK-}" ] || { echo "the quick run goes without"; exit 77; }
"${PYTHON3:-python3}" -c 'import pytest' 2>/dev/null || { echo "pytest is not there"; exit 77; }
[ -e "$VUG_BUILDDIR/.libs/libvug.so" ] || { echo "no shared library"; exit 77; }
grep -q '^CFLAGS = .*sanitize' "$VUG_BUILDDIR/Makefile" && { echo "a sanitized library"; exit 77; }
exec "$PYTHON3" -B -m pytest -q -p no:cacheprovider "$VUG_SRCDIR/bindings/python/tests"
