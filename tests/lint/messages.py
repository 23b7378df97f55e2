#!/usr/bin/env python3
"""src/base/messages.def is the one list of what the program can say.

Its numbers rise, none is given twice or taken from the retired, every name is
used by a source and no source has a number of its own. An example is what a
user reads: words of it stand in a row in the sources, so that a sentence that
is changed there is changed here too.
"""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
SOURCES = ROOT / "src"
LIST = SOURCES / "base/messages.def"
STRING = r'"(?:[^"\\\n]|\\.)*"'
STRINGS = rf"({STRING}(?:\s*{STRING})*)"
ENTRY = re.compile(rf"HBK_MESSAGE\((\d+), (HBK_H_\w+),\s*{STRINGS},\s*{STRINGS}\)")
GONE = re.compile(rf"HBK_RETIRED\((\d+), {STRINGS}\)")
COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
LOCAL = re.compile(r"\b(?:HBK_)?H_[A-Z0-9_]+\s*=\s*\d+")
NAME = re.compile(r"\bHBK_H_[A-Z0-9_]+\b")
# So many words of an example in a row are no accident.
WORDS = 3


def joined(literals):
    text = "".join(part[1:-1] for part in re.findall(STRING, literals))
    return text.replace('\\"', '"').replace("\\\\", "\\")


def words_of(text):
    return re.findall(r"[\w./:;,|^_=()\[\]-]+", text)


def runs_of(text):
    words = words_of(text)
    return {tuple(words[i:i + WORDS]) for i in range(len(words) - WORDS + 1)}


def read_sources():
    """The names used, the literals' runs of words, numbers of their own."""
    used, runs, faults = set(), set(), []
    for path in sorted(SOURCES.rglob("*.[ch]")):
        text = COMMENT.sub("", path.read_text(encoding="utf-8"))
        used.update(NAME.findall(text))
        for literals in re.findall(STRINGS, text):
            runs |= runs_of(joined(literals))
        for found in LOCAL.findall(text):
            faults.append(f"{path.relative_to(ROOT)}: {found} belongs in "
                          "src/base/messages.def")
    return used, runs, faults


def main():
    text = COMMENT.sub("", LIST.read_text(encoding="utf-8"))
    entries = [(int(number), name, joined(meaning), joined(example))
               for number, name, meaning, example in ENTRY.findall(text)]
    retired = {int(number) for number, _ in GONE.findall(text)}
    used, runs, faults = read_sources()
    if ENTRY.sub("", GONE.sub("", text)).strip():
        faults.append("not understood: "
                      + ENTRY.sub("", GONE.sub("", text)).split("\n\n")[0])
    last = 0
    for number, name, meaning, example in entries:
        if number <= last:
            faults.append(f"H{number:03} does not come after H{last:03}")
        last = number
        if number in retired:
            faults.append(f"H{number:03} is retired")
        if name not in used:
            faults.append(f"H{number:03} {name} is said by nothing")
        if not meaning.strip():
            faults.append(f"H{number:03} {name} has no meaning")
        if not runs_of(example) & runs:
            faults.append(f"H{number:03} {name} has an example that nothing "
                          f"says: {example}")
    names = [name for _, name, _, _ in entries]
    faults += [f"{name} stands twice" for name in set(names)
               if names.count(name) > 1]
    faults += [f"{name} is not in the list" for name in used - set(names)
               if name != "HBK_H_"]
    print("\n".join(faults) or f"{len(entries)} messages are listed")
    return 1 if faults or not entries else 0


sys.exit(main())
