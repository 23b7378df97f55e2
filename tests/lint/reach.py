#!/usr/bin/env python3
"""Fails when a change of horn.h would rebuild more than a third of the tree.

Counts the .c files of src/ that see `horn/horn.h`, directly or through other
headers: whoever only hands a horn on declares the struct, and horn/about.h says
what can be asked of one without its insides. Also fails on a header that is
longer than one can take in, but for those written down below with the reason,
and on any file of as many lines as DEVELOPERS.md says it stays under.
"""
import pathlib
import re
import sys

SOURCES = pathlib.Path(__file__).resolve().parents[2] / "src"
INCLUDE = re.compile(r'^\s*#\s*include\s+"([^"]+)"', re.M)
WHOLE_HORN = "horn/horn.h"
SHARE = 1 / 3
LINES_MOST = 150
FILE_LINES_BELOW = 600
# Headers that may be longer, each with its reason.
LONG = {}


def read_includes(files):
    return {name: INCLUDE.findall(text) for name, text in files.items()}


def seen_from(includes, start):
    seen, todo = set(), [start]
    while todo:
        for other in includes.get(todo.pop(), ()):
            if other not in seen:
                seen.add(other)
                todo.append(other)
    return seen


def faults_of_reach(files):
    includes = read_includes(files)
    if WHOLE_HORN not in files:
        yield f"src has no {WHOLE_HORN}; say here what took its place"
        return
    units = [name for name in files if name.endswith(".c")]
    reached = [name for name in units
               if WHOLE_HORN in seen_from(includes, name)]
    print(f"{WHOLE_HORN} reaches {len(reached)} of {len(units)} .c files")
    if len(reached) > SHARE * len(units):
        yield (f"{WHOLE_HORN} reaches {len(reached)} of {len(units)} .c files, "
               f"more than {SHARE:.0%}; include a part of it, or about.h")
        for name in files:
            if name.endswith(".h") and WHOLE_HORN in includes[name]:
                yield f"src/{name}: hands {WHOLE_HORN} on"


def faults_of_length(files):
    for name, text in files.items():
        lines = text.count("\n")
        if name.endswith(".h") and lines > LINES_MOST and name not in LONG:
            yield f"src/{name}: {lines} lines, at most {LINES_MOST}"
        if lines >= FILE_LINES_BELOW:
            yield f"src/{name}: {lines} lines, under {FILE_LINES_BELOW} wanted"
    for name in LONG:
        if files.get(name, "").count("\n") <= LINES_MOST:
            yield f"src/{name}: not too long any more; strike it from LONG"


def main():
    files = {path.relative_to(SOURCES).as_posix():
             path.read_text(encoding="utf-8")
             for path in sorted(SOURCES.rglob("*.[ch]"))}
    faults = [*faults_of_reach(files), *faults_of_length(files)]
    print("\n".join(faults) or "every header can be taken in at once")
    return 1 if faults else 0


sys.exit(main())
