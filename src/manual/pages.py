#!/usr/bin/env python3
"""Puts the pages of the manual together, for scdoc.

    pages.py TABLES SCHEMA SCHEMA SCHEMA SOURCES OUT PAGE...

A page's source has what was written by hand. A line of its own, such as
@OPTIONS@, stands for what comes from elsewhere: from the tables of the program
(TABLES, as manual_tables writes them), or from the schema of a file. Title,
name and synopsis come before. It is an error when a command has no page, when
a page does without what it should have, and when a schema leaves a property
without its text or its unit.
"""
import json
import pathlib
import re
import sys

sys.dont_write_bytecode = True

import fields
from scdoc import escape, joined

def _synopsis(words):
    """What stands after the command: HORN -o FILE."""
    words = re.sub(r"([\[\]])", r"\\\1", words)
    words = re.sub(r"(?<!\S)((?:\\\[)?)(-o)\b", r"\1*\2*", words)
    return re.sub(r"\b([A-Z]{2,})\b", r"_\1_", words)


def _option(option):
    names = [f"*-{option['letter']}*"] if option["letter"] else []
    names.append(f"*--{option['name']}*")
    value = f" _{escape(option['value'])}_" if option["value"] else ""
    told = option["help"]
    if option["name"] == "help":
        told = "the short form of this page"
    if "low" in option:
        told += f"; from {option['low']:g} to {option['high']:g}{option['unit']}"
    if any(word not in told for word in option["words"]):
        told += "; " + joined(option["words"])
    return f"{', '.join(names)}{value}\n\t{escape(told)}\n"


def _command_parts(command):
    shown = f"hornbook {command['name']} {command['example']}"
    return {
        "OPTIONS": "\n".join(map(_option, command["options"])),
        "EXAMPLE": f"```\n{shown}\n```\n",
    }


def _command_head(name, command):
    return (f"# NAME\n\n{name} - {escape(command['does'])}\n\n"
            f"# SYNOPSIS\n\n*hornbook {command['name']}* "
            f"{_synopsis(command['words'])} \\[_option_...\\]\n\n")


def _command_list(commands):
    return "\n".join(
        f"*{command['name']}* {_synopsis(command['words'])}\n"
        f"\t{escape(command['does'])}; see "
        f"*hornbook-{command['name']}*(1)\n" for command in commands)


def _filled(page, source, parts):
    """The source with its parts in their places, each exactly once."""
    for name, part in parts.items():
        if len(re.findall(rf"^@{name}@$", source, re.M)) != 1:
            raise SystemExit(f"{page}.scd: has to say @{name}@ once, on a line "
                             "of its own")
        source = re.sub(rf"^@{name}@$", lambda _: part.rstrip("\n"), source,
                        flags=re.M)
    left = re.search(r"^@.*", source, re.M)
    if left:
        raise SystemExit(f"{page}.scd: nothing is called {left[0]}")
    return source


def _page(page, source, tables, schemas):
    name, _, section = page.rpartition(".")
    commands = {f"hornbook-{command['name']}": command
                for command in tables["commands"]}
    head, parts = "", {}
    if name in commands:
        head = _command_head(name, commands[name])
        parts = _command_parts(commands[name])
    elif page == "hornbook.1":
        parts = {"COMMANDS": _command_list(tables["commands"])}
    elif section == "5":
        kind = name.removeprefix("hornbook-")
        parts = {"FIELDS": fields.described(kind, schemas[kind])}
    elif section == "1":
        raise SystemExit(f"{page}.scd: there is no command of that name")
    return (f"{name}({section}) \"hornbook {tables['version']}\" "
            f"\"hornbook manual\"\n\n{head}{_filled(page, source, parts)}")


def _nothing_is_left_out(tables, pages):
    for command in tables["commands"]:
        page = f"hornbook-{command['name']}.1"
        if page not in pages:
            raise SystemExit(
                f"the command '{command['name']}' has no page: write "
                f"src/manual/{page}.scd and name it in src/manual/meson.build")


def _json(path):
    return json.loads(pathlib.Path(path).read_text(encoding="utf-8"))


def main():
    tables, *schemas, sources, out = sys.argv[1:7]
    pages = sys.argv[7:]
    tables = _json(tables)
    schemas = {pathlib.Path(path).name.split(".")[0]: _json(path)
               for path in schemas}
    _nothing_is_left_out(tables, pages)
    for page in pages:
        source = (pathlib.Path(sources) / f"{page}.scd").read_text(
            encoding="utf-8")
        made = _page(page, source, tables, schemas)
        (pathlib.Path(out) / f"{page}.scd").write_text(made, encoding="utf-8")


if __name__ == "__main__":
    main()
