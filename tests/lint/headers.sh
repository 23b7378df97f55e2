#!/bin/sh
# Every header compiles alone, so that none leans on what came before it.
set -eu
failed=0
libraries=$(pkg-config --cflags yaml-0.1 libxml-2.0 cairo pangocairo pangoft2 freetype2)
for header in $(cd src && find . -name '*.h' | sed 's|^\./||' | sort); do
    # shellcheck disable=SC2086 # flags are words
    if ! printf '#include "%s"\nint hbk_nothing(void);\n' "$header" |
        "$@" -std=c11 -D_XOPEN_SOURCE=700 -Wall -Wextra -Werror -Isrc \
            $libraries -fsyntax-only -x c -; then
        echo "$header does not compile alone"
        failed=1
    fi
done
exit $failed
