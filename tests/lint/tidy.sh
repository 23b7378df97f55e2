#!/bin/sh
# The sources keep the measures of .clang-tidy: no function longer than 80
# lines, with more than seven parameters or of cognitive complexity over 25.
#   tidy.sh BUILD, a build folder with its compile_commands.json
set -eu
if ! command -v clang-tidy >/dev/null 2>&1; then
    echo "clang-tidy is not here: skipped"
    exit 77
fi
# Standard error counts what was suppressed.
find src -name '*.c' -print0 | sort -z |
    xargs -0 -n 8 -P "$(nproc)" clang-tidy -p "$1" --quiet 2>/dev/null
