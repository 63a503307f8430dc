#!/bin/sh
# SPDX-License-Identifier: MIT
# Is all C laid out as .clang-format has it? A step of .ci/run. include/vug.h is set by hand, like a table.
cd "$(dirname "$0")/.." || exit 1
major=$(clang-format --version 2>/dev/null | sed -n 's/.*version \([0-9]*\).*/\1/p')
if [ "$major" != 14 ]; then # others lay out some things otherwise
    echo "skipped: clang-format 14 is not there (found: ${major:-none})"
    exit 77
fi
find lib tests examples -name '*.[ch]' -exec clang-format --dry-run -Werror {} +
