#!/usr/bin/env python3
"""DEVELOPERS.md stays short, shows every layer and names nothing that is gone.

The registers it sends on to (SOURCES.md of a folder) and the comments of the
sources are held to the same: every file of the project that they name is there;
and no register is left out of it.
"""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
DOCUMENT = ROOT / "DEVELOPERS.md"
BYTES_MAX = 25000
ROW = re.compile(r"^\| `([\w/]+)` \|[^|]*\| [^|]* \|$", re.MULTILINE)
HOUSE = re.compile(r"^```house\n(.*?)^```$", re.MULTILINE | re.DOTALL)
FENCE = re.compile(r"^```.*?^```$", re.MULTILINE | re.DOTALL)
QUOTED = re.compile(r"`([^`\s]+)`")
FILE = re.compile(r"[\w.-]+(?:/[\w.-]+)*\.(?:abc|build|c|def|h|json|md|py|sh|yaml)")
FOLDER = re.compile(r"\.?\w+(?:/\w+)*/")
COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
PATH = re.compile(r"(?<![\w./-])([a-z]+)((?:/\w+)+\.(?:c|h|def|py|json|md)\b)")
# What a reader is told to make.
EXAMPLES = {"your-file.yaml"}


def is_there(name, document):
    homes = [ROOT, ROOT / "src", ROOT / "tests/unit", document.parent]
    return any((home / name).exists() for home in homes)


def names_of(text):
    for name in QUOTED.findall(FENCE.sub("", text)):
        if FILE.fullmatch(name) or FOLDER.fullmatch(name):
            yield name


def faults_of_comments():
    rooms = {path.name for path in (ROOT / "src").iterdir()}
    rooms |= {"tests", "instruments", "charts", "src"}
    for path in sorted([*(ROOT / "src").rglob("*.[ch]"),
                        *(ROOT / "src").rglob("*.def")]):
        text = path.read_text(encoding="utf-8")
        for comment in COMMENT.findall(text):
            for room, rest in PATH.findall(comment):
                if room in rooms and not is_there(room + rest, path):
                    yield (f"{path.relative_to(ROOT)}: a comment names "
                           f"{room + rest}, which is not there")


def faults_of_house(text):
    layers = ROW.findall(text)
    house = HOUSE.search(text)
    if not layers or not house:
        yield "the table of layers or the picture of the house is missing"
        return
    shown = re.findall(r"[a-z]+(?:/[a-z]+)*", house.group(1))
    for layer in layers:
        if layer not in shown:
            yield f"the picture of the house lacks {layer}"
        if not (ROOT / "src" / layer).is_dir():
            yield f"there is no src/{layer}"


def main():
    text = DOCUMENT.read_text(encoding="utf-8")
    faults = list(faults_of_house(text))
    size = len(text.encode())
    if size > BYTES_MAX:
        faults.append(f"DEVELOPERS.md has {size} bytes, {BYTES_MAX} at most: "
                      "move what speaks of one folder into it")
    registers = sorted([*(ROOT / "src").rglob("*.md"),
                        *(ROOT / "instruments").rglob("*.md")])
    for register in registers:
        name = register.relative_to(ROOT).as_posix()
        if f"`{name}`" not in text:
            faults.append(f"DEVELOPERS.md does not name {name}")
    seen = 0
    for document in [DOCUMENT, *registers]:
        for name in names_of(document.read_text(encoding="utf-8")):
            seen += 1
            if name not in EXAMPLES and not is_there(name, document):
                faults.append(f"{document.relative_to(ROOT)} names {name}, "
                              "which is not there")
    faults += faults_of_comments()
    print("\n".join(faults) or f"{size} bytes, {seen} names, all there")
    return 1 if faults or seen < 50 else 0


sys.exit(main())
