#!/usr/bin/env python3
"""Fails when a file includes a layer that its own may not know.

The table is the one in DEVELOPERS.md, so the document cannot drift from it.
Also checks that a library header stays in the one folder that may use it,
that every include of the project is written from src/, and that nothing
outside base/ allocates.
"""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
SOURCES = ROOT / "src"
ROW = re.compile(r"^\| `(\w+)` \|[^|]*\| ([^|]*) \|$")
INCLUDE = re.compile(r'^\s*#\s*include\s+([<"])([^>"]+)[>"]')
ONLY_IN = {
    "yaml.h": {"reader"},
    "libxml/": {"tune"},
    "zlib.h": {"tune"},
    "zip.h": {"tune"},
    "cairo": {"render"},
    "pango/": {"render"},
    "fontconfig/": {"render"},
    "ft2build.h": {"render"},
    "getopt.h": {"cli"},
}
ALLOCATES = re.compile(r"\b(malloc|calloc|realloc|strdup)\s*\(")


def read_table():
    layers = {}
    for line in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines():
        row = ROW.match(line)
        if row:
            may = row.group(2).strip()
            layers[row.group(1)] = set(re.findall(r"`(\w+)`", may))
    return layers


def faults_of(path, layers):
    layer = path.relative_to(SOURCES).parts[0]
    if layer not in layers:
        yield f"{path}: the folder {layer} is not in the table of layers"
        return
    text = path.read_text(encoding="utf-8")
    for number, line in enumerate(text.splitlines(), 1):
        found = INCLUDE.match(line)
        where = f"{path.relative_to(ROOT)}:{number}"
        if found and found.group(1) == '"':
            other = found.group(2).split("/")[0]
            if "/" not in found.group(2):
                yield f"{where}: write the include from src/: {found.group(2)}"
            elif other != layer and other not in layers[layer]:
                yield f"{where}: {layer} may not include {other}"
        elif found:
            for prefix, allowed in ONLY_IN.items():
                if found.group(2).startswith(prefix) and layer not in allowed:
                    yield f"{where}: <{found.group(2)}> belongs in {allowed}"
        if layer != "base" and ALLOCATES.search(line):
            yield f"{where}: memory comes from base/arena.h"


def main():
    layers = read_table()
    if len(layers) < 6:
        print("DEVELOPERS.md has no table of layers")
        return 1
    faults = []
    files = sorted(SOURCES.rglob("*.[ch]"))
    for path in files:
        faults += faults_of(path, layers)
    print("\n".join(faults) or f"{len(files)} files keep their layers")
    return 1 if faults else 0


sys.exit(main())
