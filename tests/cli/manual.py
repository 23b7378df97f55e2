#!/usr/bin/env python3
"""The manual is whole and true: every option and property is in its page, its
pages render, and what its examples show runs.

In a page, a block whose first line is the name of a file is that file. Any other
block has commands, which exit 0 or as the comment behind says ("exit 1").
"""
import functools
import json
import os
import pathlib
import re
import shlex
import shutil
import subprocess
import sys

sys.dont_write_bytecode = True

from tap import PROGRAM, ROOT, expect, flat, main, run

SOURCES = ROOT / "src/manual"
BUILT = PROGRAM.parent / "src/manual"
SCHEMAS = [ROOT / "charts/order.schema.json",
           ROOT / "instruments/horn.schema.json",
           ROOT / "instruments/readings.schema.json"]
# What scdoc puts between any two paragraphs; mandoc says that it is needless.
NEEDLESS = "skipping paragraph macro"


def _pages():
    pages = {path.name: path for path in BUILT.glob("hornbook*.[157]")}
    assert len(pages) >= 18, pages.keys()
    return pages


@functools.cache
def _text(page):
    result = subprocess.run(["mandoc", "-T", "utf8", "-O", "width=200", page],
                            capture_output=True, check=True)
    return re.sub(".\b", "", result.stdout.decode())


def _blocks(page):
    """The blocks of a page, as they go into scdoc."""
    source = (BUILT / f"{page}.scd").read_text(encoding="utf-8")
    return re.findall(r"^```\n(.*?)^```$", source, re.M | re.S)


def _file(block):
    named = re.match(r"[#%] ([\w-]+\.[a-z]+)\n", block)
    return named and named[1]


def _commands(page):
    """Settings of the environment, words and exit code of each command."""
    for block in _blocks(page):
        if _file(block):
            continue
        for line in block.replace("\\\\\n", " ").splitlines():
            words = shlex.split(line, comments=True)
            settings = {}
            while "=" in words[0]:
                name, _, value = words.pop(0).partition("=")
                settings[name] = value
            assert words.pop(0) == "hornbook", line
            told = re.search(r"# exit ([0-9])", line)
            yield settings, words, int(told[1]) if told else 0


def _run_with(settings, *words, folder=None):
    """Runs with these settings of the environment for once."""
    before = dict(os.environ)
    os.environ.update(settings)
    try:
        return run(*words, folder=folder)
    finally:
        os.environ.clear()
        os.environ.update(before)


@functools.cache
def _help(*words):
    return expect(run(*words, "--help"), 0).stdout


def _all_commands():
    return set(re.findall(r"^  ([a-z]+) +", _help(), re.M))


def every_page_renders_without_a_warning(folder):
    for page in _pages().values():
        result = subprocess.run(["mandoc", "-T", "lint", "-W", "warning", page],
                                capture_output=True, text=True, check=False)
        said = [line for line in result.stdout.splitlines()
                if NEEDLESS not in line]
        assert said == [] and result.stderr == "", said
        wide = subprocess.run(["mandoc", "-T", "utf8", page],
                              capture_output=True, check=True).stdout
        for line in re.sub(".\b", "", wide.decode()).splitlines():
            assert len(line) <= 80, (page.name, line)


def every_command_has_a_page_that_every_list_names(folder):
    named = {f"hornbook-{command}.1" for command in _all_commands()}
    assert named <= _pages().keys(), named - _pages().keys()
    first = _text(_pages()["hornbook.1"])
    for command in _all_commands():
        assert f"see hornbook-{command}(1)" in first, command
    listed = set(re.findall(r"^  '(hornbook[\w-]*\.[157])',$", (
        SOURCES / "meson.build").read_text(encoding="utf-8"), re.M))
    there = {path.name.removesuffix(".scd") for path in SOURCES.glob("*.scd")}
    assert listed == there == _pages().keys(), listed ^ there


def a_page_has_its_options_and_no_others(folder):
    for command in _all_commands():
        offered = re.findall(r"^  ((?:-\w, )?--[\w-]+(?: \S+)?)  ?",
                             _help(command), re.M)
        assert len(offered) >= 2
        text = _text(_pages()[f"hornbook-{command}.1"])
        text = re.search(r"^OPTIONS$(.*?)^\w", text, re.M | re.S)[1]
        shown = re.findall(r"^ {7}((?:-\w, )?--[\w-]+.*)$", text, re.M)
        assert shown == offered, (command, shown, offered)


def a_page_says_what_help_says(folder):
    for command in _all_commands():
        text = flat(_text(_pages()[f"hornbook-{command}.1"]))
        usage, does = _help(command).split("\n\n")[0].split("\n", 1)
        assert f"hornbook-{command} - {flat(does)}" in text
        assert usage.removeprefix("Usage: ") in text, usage
        example = flat(_help(command).partition("\nFor example:\n")[2])
        assert example in text, example


def what_a_page_names_is_there(folder):
    pages = {name.rpartition(".")[0] + f"({name[-1]})" for name in _pages()}
    for name, page in _pages().items():
        named = set(re.findall(r"hornbook(?:-[a-z]+)?\([0-9]\)", _text(page)))
        assert named <= pages, (name, named - pages)
        for option in re.findall(r"(?<![\w-])--[a-z][\w-]*", _text(page)):
            assert any(option in _help(command)
                       for command in _all_commands()) or (
                           option == "--version"), (name, option)


def _properties(part):
    """Every name that a schema describes, with its text."""
    if isinstance(part, dict):
        for name, inner in part.get("properties", {}).items():
            if isinstance(inner, dict) and "description" in inner:
                yield name, inner["description"]
        for inner in part.values():
            yield from _properties(inner)
    elif isinstance(part, list):
        for inner in part:
            yield from _properties(inner)


def every_property_of_a_schema_is_in_its_page(folder):
    seen = 0
    for path in SCHEMAS:
        kind = path.name.removesuffix(".schema.json")
        schema = json.loads(path.read_text(encoding="utf-8"))
        text = _text(_pages()[f"hornbook-{kind}.5"])
        plain = flat(text)
        for name, said in _properties(schema):
            seen += 1
            assert re.search(rf"^ {{7}}{name} \(.+\)$", text, re.M), name
            assert flat(said.replace("`", "")) in plain, said
    assert seen > 150, seen


def _put_together(folder, *, change=None, pages=("hornbook.1",)):
    """Runs the generator on schemas, one of them changed."""
    schemas = []
    for path in SCHEMAS:
        schema = json.loads(path.read_text(encoding="utf-8"))
        if change and path.name.startswith("readings"):
            change(schema)
        schemas.append(folder / path.name)
        schemas[-1].write_text(json.dumps(schema))
    return subprocess.run(
        [sys.executable, SOURCES / "pages.py", BUILT / "tables.json", *schemas,
         SOURCES, folder, *pages], capture_output=True, text=True, check=False)


def what_is_missing_is_an_error(folder):
    pages = sorted(_pages())
    expect(_put_together(folder, pages=pages), 0)
    assert (folder / "hornbook.1.scd").read_bytes() == (
        BUILT / "hornbook.1.scd").read_bytes()
    for page in pages:
        if page.endswith(".1") and page != "hornbook.1":
            left = [other for other in pages if other != page]
            told = expect(_put_together(folder, pages=left), 1).stderr
            assert f"has no page: write src/manual/{page}.scd" in told

    def without_a_text(schema):
        del schema["properties"]["set"]["description"]

    def without_a_unit(schema):
        schema["properties"]["a4"]["description"] = "Of the tuner."

    for change, want in [
            (without_a_text, "readings: set: has no description"),
            (without_a_unit, "readings: a4: a number without its unit")]:
        told = expect(_put_together(folder, pages=pages, change=change), 1)
        assert want in told.stderr, told.stderr


def every_example_runs(folder):
    shown = [(_file(block), block) for page in _pages()
             for block in _blocks(page) if _file(block)]
    assert len({name for name, _ in shown}) == len(shown) >= 5
    ran = []
    for number, page in enumerate(_pages()):
        here = folder / str(number)
        here.mkdir()
        for name, block in shown:
            (here / name).write_text(block, encoding="utf-8")
        commands = list(_commands(page))
        assert commands, f"{page} has no example"
        for settings, words, code in commands:
            writes = {"-o", "--report"} & set(words)
            if not writes and (settings, words, code) in ran:
                continue  # another page shows it too
            ran.append((settings, words, code))
            result = expect(_run_with(settings, *words, folder=here), code)
            for option, name in zip(words, words[1:]):
                if option in ("-o", "--report") and code == 0:
                    assert (here / name).exists(), words
            assert code != 0 or result.stdout or result.stderr, words


def what_the_page_on_trouble_quotes_is_what_is_said(folder):
    horn = "hornbook: 1\nname: A\nwritten_c4_sounds: C4\n"
    gaps = horn + ("length: 1312\ncompass: [C3, C6]\nkeys:\n"
                   "  - {key: 1, rest: open, raises: -1, finger: right ring}\n")
    shown = flat(_text(_pages()["hornbook-trouble.7"]))
    (folder / "empty").mkdir()
    for quoted, words, file in [
            ("'lenght' is unknown here", ["check"], horn + "lenght: 1312\n"),
            ("indent with spaces, not with tabs", ["check"], horn + "\tx: 1\n"),
            ("write decimals with a point", ["check"], horn + "length: 1,3\n"),
            ("'hornbook' is missing", ["check"], "name: A\n"),
            ("this describes a horn, and an order is wanted here", ["print"],
             gaps),
            ("nothing sounds near it", ["check"], gaps),
            ("partial 1 would give it", ["check"], gaps),
            ("not available", ["notes"], gaps)]:
        (folder / "my-horn.yaml").write_text(file)
        result = run(*words, "my-horn.yaml", folder=folder)
        assert quoted in result.stdout + result.stderr, (quoted, result)
        assert quoted in shown, quoted
    told = expect(run("notes", "my-horn", folder=folder), 3).stderr
    assert "no horn called 'my-horn' comes with the program" in told and (
        "no horn called 'my-horn' comes with the program" in shown)
    empty = {"HORNBOOK_INSTRUMENTS": str(folder / "empty")}
    told = expect(_run_with(empty, "horns"), 3).stderr
    assert "there are no horns in" in told and "there are no horns in" in shown


MISSING = [tool for tool in ("mandoc",) if shutil.which(tool) is None]
if not (BUILT / "hornbook.1").exists():
    MISSING.append("scdoc")
sys.exit(main(globals(), MISSING))
