#!/usr/bin/env python3
"""Makes the completions for bash, zsh and fish from the tables of the program.

    completions.py TABLES BASH ZSH FISH

TABLES is what manual_tables writes; the three files are written from
completion.bash.in and so on, which stand beside this one. A line of a template
such as @VALUES@ gives way to lines of the shell, the same in their turn.
"""
import json
import pathlib
import re
import sys

HERE = pathlib.Path(__file__).resolve().parent
# What may stand where --help has these words: the endings of files.
ENDINGS = {"TUNE": ["abc", "musicxml", "xml", "mxl"],
           "READINGS": ["yaml", "yml"], "ORDER": ["yaml", "yml"], "FILE": []}
ANY_PLACE = 99


def _places(command):
    """What stands after a command: a word of --help, and its first and last
    place. Options are left out of it."""
    words = re.sub(r"\[?-\w [A-Z]+\]?", "", command["words"]).split()
    for place, word in enumerate(words):
        kind = word.strip("[]").removesuffix("...")
        yield kind, place, ANY_PLACE if "..." in word else place


def _value_kind(option):
    """What an option takes, in the words of _places; None for a switch."""
    if not option["value"]:
        return None
    if option["words"]:
        return option["words"]
    return {"HORN2": "HORN"}.get(option["value"], option["value"])


def _names(option):
    short = [f"-{option['letter']}"] if option["letter"] else []
    return [*short, f"--{option['name']}"]


def _listed(words):
    """Words of a list in zsh and fish, with their blanks kept together."""
    return " ".join(word.replace(" ", "\\ ") for word in words)


def _quoted(text):
    """In single quotes, as all three shells understand them."""
    if re.search(r"\\(?! )", text):
        raise SystemExit(f"fish reads the backslash otherwise: {text}")
    return "'" + text.replace("'", "'\\''") + "'"


def _continued(lines):
    """One command over several lines."""
    return [*(f"{line} \\" for line in lines[:-1]), lines[-1]]


class _Tables:
    def __init__(self, path):
        tables = json.loads(pathlib.Path(path).read_text(encoding="utf-8"))
        self.commands = tables["commands"]
        self.horns = tables["horns"]

    def options(self):
        """Each command with each of its options."""
        for command in self.commands:
            for option in command["options"]:
                yield command["name"], option

    def names(self):
        return [command["name"] for command in self.commands] + ["help"]

    def does(self):
        """Each command with what it does."""
        return [*((command["name"], command["does"])
                  for command in self.commands),
                ("help", "the options of a command")]

    def valued(self):
        """Every option that has a value, in any command."""
        return list(dict.fromkeys(
            name for _, option in self.options() if option["value"]
            for name in _names(option)))

    def crooks(self):
        return [(horn["name"], horn["crooks"]) for horn in self.horns
                if horn["crooks"]]


def _filled(shell, parts):
    """The template of a shell with its parts; a part that has a line of its
    own stands as far in as that."""
    text = (HERE / f"completion.{shell}.in").read_text(encoding="utf-8")
    for name, lines in parts.items():
        text = re.sub(rf"^( *)@{name}@$", lambda found: "\n".join(
            found[1] + line for line in lines), text, flags=re.M)
        text = text.replace(f"@{name}@", "\n".join(lines))
    left = re.search(r"@[A-Z]+@", text)
    if left:
        raise SystemExit(f"completion.{shell}.in: nothing is called {left[0]}")
    return text


# bash

def _bash_action(kind):
    if isinstance(kind, list):
        return "_hornbook_offer " + _quoted("\n".join(kind))
    if kind == "HORN":
        return "_hornbook_horns"
    if kind == "FOLDER":
        return "_hornbook_folders"
    if kind in ENDINGS:
        return " ".join(["_hornbook_files", *ENDINGS[kind]])
    return ""


def _bash_cases(pairs):
    """Cases for pairs of pattern and action, those of one action together and
    those that are for all places last."""
    grouped = {}
    for pattern, action in pairs:
        if action:
            grouped.setdefault(("*" in pattern, action), []).append(pattern)
    return [line for (_, action), patterns in sorted(grouped.items())
            for line in (" | ".join(dict.fromkeys(patterns)) + ")",
                         f"    {action}", "    ;;")]


def _bash_values(tables):
    """What the options of the commands take; of all commands at once where
    they agree."""
    kinds = {}
    for command, option in tables.options():
        for name in _names(option):
            kinds.setdefault(name, {})[command] = _bash_action(
                _value_kind(option))
    for name, by_command in kinds.items():
        if len(set(by_command.values())) == 1:
            yield f"*' {name}'", next(iter(by_command.values()))
        else:
            yield from ((f"'{command} {name}'", action)
                        for command, action in by_command.items())


def _bash_places(tables):
    for command in tables.commands:
        for kind, first, last in _places(command):
            name = command["name"]
            yield (f"'{name} '*" if last == ANY_PLACE else
                   f"'{name} {first}'"), _bash_action(kind)
    yield "'help '*", "_hornbook_offer " + _quoted(
        "\n".join(tables.names()[:-1]))


def _bash(tables):
    options = [(command["name"], "_hornbook_offer " + _quoted("\n".join(
        name for option in command["options"] for name in _names(option))))
        for command in tables.commands]
    return _filled("bash", {
        "HORNS": [horn["name"] for horn in tables.horns],
        "CROOKS": _sh_crooks(tables),
        "VALUED": [" | ".join(tables.valued())],
        "VALUES": _bash_cases(_bash_values(tables)),
        "PLACES": _bash_cases(_bash_places(tables)),
        "OPTIONS": _bash_cases(options),
        "COMMANDS": [*tables.names(), "--help", "--version"],
    })


def _sh_crooks(tables):
    """A function that bash and zsh understand alike."""
    return _filled("sh", {
        "CROOKS": [f"{horn}) printf '%s\\n' {' '.join(map(_quoted, crooks))} ;;"
                   for horn, crooks in tables.crooks()]}).splitlines()


# zsh

def _zsh_action(kind):
    if isinstance(kind, list):
        return "(" + _listed(kind) + ")"
    if kind == "HORN":
        return "_hornbook_horns"
    if kind == "FOLDER":
        return "_files -/"
    if kind in ENDINGS:
        endings = "|".join(ENDINGS[kind])
        return f'_files -g "*.({endings})(-.)"' if endings else "_files"
    return " "


def _zsh_option(option):
    told = "[" + re.sub(r"([\[\]])", r"\\\1", option["help"]) + "]"
    value = option["value"]
    if value:
        action = ("_hornbook_crooks" if option["name"] == "crook" else
                  _zsh_action(_value_kind(option)))
        told += f":{value}:{action}"
    again = "*" if "times" in option["help"] else ""
    names = [name + ("" if not value else "=" if name[1] == "-" else "+")
             for name in _names(option)]
    if len(names) == 1:
        return _quoted(f"{again}{names[0]}{told}")
    return (_quoted(f"({' '.join(_names(option))})") +
            "{" + ",".join(names) + "}" + _quoted(told))


def _zsh_command(command):
    specs = [_zsh_option(option) for option in command["options"]]
    specs += [_quoted(f"{'*' if last == ANY_PLACE else first + 1}:{kind}:"
                      f"{_zsh_action(kind)}")
              for kind, first, last in _places(command)]
    lines = _continued(["_arguments -S", *(f"    {spec}" for spec in specs)])
    return [f"{command['name']})", *(f"    {line}" for line in lines),
            "    ;;"]


def _zsh(tables):
    return _filled("zsh", {
        "HORNS": [_quoted(f"{horn['name']}:{horn['title']}")
                  for horn in tables.horns],
        "CROOKS": _sh_crooks(tables),
        "COMMANDS": [_quoted(f"{name}:{does}") for name, does in tables.does()],
        "OPTIONS": [line for command in tables.commands
                    for line in _zsh_command(command)],
    })


# fish

def _fish_action(kind):
    if isinstance(kind, list):
        return "-x -a " + _quoted(_listed(kind))
    if kind == "HORN":
        return "-x -a '(__hornbook_horns)'"
    if kind == "FOLDER":
        return "-x -a '(__fish_complete_directories)'"
    if kind in ENDINGS:
        endings = "|".join(ENDINGS[kind])
        return f"-x -a '(__hornbook_files \"{endings}\")'" if (
            endings) else "-r -F"
    return "-x"


def _fish_option(command, option):
    names = f"-l {option['name']}"
    if option["letter"]:
        names = f"-s {option['letter']} {names}"
    action = ""
    if option["value"]:
        action = " " + ("-x -a '(__hornbook_crooks)'"
                        if option["name"] == "crook" else
                        _fish_action(_value_kind(option)))
    return (f"complete -c hornbook -n '__hornbook_uses {command}' {names}"
            f"{action} -d {_quoted(option['help'])}")


def _fish(tables):
    lines = [f"complete -c hornbook -n __hornbook_needs_command -a {name} "
             f"-d {_quoted(does)}" for name, does in tables.does()]
    lines += [f"complete -c hornbook -n '__hornbook_at help 0 0' -a {name} "
              f"-d {_quoted(does)}" for name, does in tables.does()[:-1]]
    lines += [f"complete -c hornbook -n '__hornbook_at {command['name']} "
              f"{first} {last}' {_fish_action(kind).removeprefix('-x ')}"
              for command in tables.commands
              for kind, first, last in _places(command) if kind != "WORD"]
    lines += [_fish_option(*pair) for pair in tables.options()]
    return _filled("fish", {
        "HORNS": _continued([f"{horn['name']} {_quoted(horn['title'])}"
                             for horn in tables.horns]),
        "CROOKS": [line for horn, crooks in tables.crooks() for line in (
            f"case {horn}",
            f"    printf '%s\\n' {' '.join(map(_quoted, crooks))}")],
        "VALUED": [" ".join(tables.valued())],
        "COMMANDS": lines,
    })


def main():
    tables = _Tables(sys.argv[1])
    for path, make in zip(sys.argv[2:5], (_bash, _zsh, _fish)):
        pathlib.Path(path).write_text(make(tables), encoding="utf-8")


main()
