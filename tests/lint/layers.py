#!/usr/bin/env python3
"""Fails when a file includes a folder that its own may not know.

The table is the one in DEVELOPERS.md, so the document cannot drift from it; a
folder within a folder has a row of its own. Also fails on a circle of files, by
what they include or what they call, a module being a .c file with its header,
but for those written down below with their reason; checks that a library header
stays in the one folder that may use it, that every include of the project is
written from src/, and that nothing outside base/ allocates or has the C library
read a number.
"""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
SOURCES = ROOT / "src"
ROW = re.compile(r"^\| `([\w/]+)` \|[^|]*\| ([^|]*) \|$")
INCLUDE = re.compile(r'^\s*#\s*include\s+([<"])([^>"]+)[>"]')
ONLY_IN = {
    "yaml.h": {"reader"},
    "libxml/": {"tune"},
    "zlib.h": {"tune", "render"},
    "zip.h": {"tune"},
    "cairo": {"render"},
    "pango/": {"render"},
    "qpdf/": {"render"},
    "fontconfig/": {"render"},
    "ft2build.h": {"render"},
    "getopt.h": {"cli"},
}
READS_NUMBERS = re.compile(r"\b(strto[a-z]+|ato[fil]+|f?scanf|sscanf)\s*\(")
ALLOCATES = re.compile(r"\b(malloc|calloc|realloc|strdup)\s*\(")
# Comments and texts; a function where it is defined; any of our names.
NO_CODE = re.compile(r'/\*.*?\*/|"(?:\\.|[^"\\\n])*"', re.S)
DEFINED = re.compile(r"^(?!static)\w[\w\s*]*?\b(hbk_\w+)\([^;{}]*\)\s*\{", re.M)
NAME = re.compile(r"(?<!struct )(?<!enum )\bhbk_\w+")
# Circles of modules that are meant, each with its reason. There is none: music
# and the fields within it, in ABC, ask both the cursor they share.
CIRCLES = set()


def read_table():
    layers = {}
    for line in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines():
        row = ROW.match(line)
        if row:
            may = row.group(2).strip()
            layers[row.group(1)] = set(re.findall(r"`([\w/]+)`", may))
    return layers


def folder_of(name):
    return name.rsplit("/", 1)[0]


def faults_of(path, layers):
    name = path.relative_to(SOURCES).as_posix()
    layer = folder_of(name)
    if layer not in layers:
        yield f"{path}: the folder {layer} is not in the table of layers"
        return
    text = path.read_text(encoding="utf-8")
    for number, line in enumerate(text.splitlines(), 1):
        found = INCLUDE.match(line)
        where = f"{path.relative_to(ROOT)}:{number}"
        if found and found.group(1) == '"':
            if "/" not in found.group(2):
                yield f"{where}: write the include from src/: {found.group(2)}"
                continue
            other = folder_of(found.group(2))
            if other != layer and other not in layers[layer]:
                yield f"{where}: {layer} may not include {other}"
        elif found:
            for prefix, allowed in ONLY_IN.items():
                if (found.group(2).startswith(prefix)
                        and name.split("/")[0] not in allowed):
                    yield f"{where}: <{found.group(2)}> belongs in {allowed}"
        if layer != "base" and ALLOCATES.search(line):
            yield f"{where}: memory comes from base/arena.h"
        if layer != "base" and READS_NUMBERS.search(line):
            yield f"{where}: numbers are read by base/number.h"


def read_modules(files):
    """The modules that each module includes, or calls."""
    text = {path: path.read_text(encoding="utf-8") for path in files}
    code = {path: NO_CODE.sub(" ", text[path]) for path in files}
    module = {path: path.relative_to(SOURCES).with_suffix("").as_posix()
              for path in files}
    home = {name: module[path] for path in files if path.suffix == ".c"
            for name in DEFINED.findall(code[path])}
    arrows = {}
    for path in files:
        to = arrows.setdefault(module[path], set())
        for line in text[path].splitlines():
            found = INCLUDE.match(line)
            if found and found.group(1) == '"':
                to.add(found.group(2).removesuffix(".h"))
        if path.suffix == ".c":
            to |= {home[name] for name in NAME.findall(code[path])
                   if name in home}
        to.discard(module[path])
    return arrows


def reach(arrows, start):
    seen, todo = set(), [start]
    while todo:
        for other in arrows.get(todo.pop(), ()):
            if other not in seen:
                seen.add(other)
                todo.append(other)
    return seen


def circles_of(files):
    arrows = read_modules(files)
    ahead = {module: reach(arrows, module) for module in arrows}
    found = {frozenset(other for other in ahead[module]
                       if module in ahead.get(other, ()))
             for module in arrows if module in ahead[module]}
    known = set(CIRCLES)
    for circle in sorted(found - known, key=sorted):
        yield "a circle of files: " + ", ".join(sorted(circle))
    for circle in known - found:
        yield "no circle any more: " + ", ".join(sorted(circle))


def main():
    layers = read_table()
    if len(layers) < 6:
        print("DEVELOPERS.md has no table of layers")
        return 1
    faults = []
    files = sorted(SOURCES.rglob("*.[ch]"))
    for path in files:
        faults += faults_of(path, layers)
    faults += circles_of(files)
    print("\n".join(faults) or f"{len(files)} files keep their layers")
    return 1 if faults else 0


sys.exit(main())
