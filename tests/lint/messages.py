#!/usr/bin/env python3
"""Every message number in src/ stands once in the register of DEVELOPERS.md.

A number that means two things, one that nobody explained and one that no
longer exists are each a fault.
"""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
DEFINED = re.compile(r"\b((?:HBK_)?H_[A-Z0-9_]+)\s*=\s*(\d+)")
ROW = re.compile(r"^\| H(\d{3}) \|")


def main():
    owners = {}
    faults = []
    for path in sorted((ROOT / "src").rglob("*.[ch]")):
        for name, number in DEFINED.findall(path.read_text(encoding="utf-8")):
            place = f"{path.relative_to(ROOT)} {name}"
            if int(number) in owners:
                faults.append(f"H{int(number):03}: {owners[int(number)]}, {place}")
            owners[int(number)] = place
    register = []
    for line in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines():
        row = ROW.match(line)
        if row:
            register.append(int(row.group(1)))
    for number in sorted(set(register)):
        if register.count(number) > 1:
            faults.append(f"H{number:03} stands twice in the register")
        if number not in owners:
            faults.append(f"H{number:03} is registered but nothing says it")
    for number in sorted(set(owners) - set(register)):
        faults.append(f"H{number:03} ({owners[number]}) is not registered")
    print("\n".join(faults) or f"{len(owners)} message numbers are registered")
    return 1 if faults or not owners else 0


sys.exit(main())
