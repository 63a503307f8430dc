#!/bin/sh
# SPDX-License-Identifier: MIT
# The page in Chromium, with the coral: make page first. 77 (skipped) without page, browser or playwright-core.
here=$VUG_SRCDIR/examples/page
page=$VUG_BUILDDIR/examples/page/page.html
chromium=${CHROMIUM:-$(command -v chromium)} || { echo "chromium is not there"; exit 77; }
[ -e "$page" ] || { echo "the page was not built: make page"; exit 77; }
[ -d "$here/node_modules/playwright-core" ] || { echo "playwright-core is not there"; exit 77; }
[ -e "$VUG_BUILDDIR/.libs/libvug.so" ] || { echo "no shared library to compare with"; exit 77; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$VUG_BUILDDIR/examples/tools/vug-coral" --out "$work/coral.stl" >/dev/null || exit 1
CHROMIUM=$chromium VUG_LIBRARY=$VUG_BUILDDIR/.libs/libvug.so PYTHONPATH=$VUG_SRCDIR/bindings/python \
    node "$here/test.mjs" "$page" "$work/coral.stl" "${PICTURES:-$work}"
