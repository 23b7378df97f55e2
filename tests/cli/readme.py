#!/usr/bin/env python3
"""README.md is true: its commands run, its files are sound, its tables hold.

A command exits 0, or as the comment behind it says ("exit 1"). A YAML block
whose first line is the name of a file is that file.
"""
import os
import pathlib
import re
import shlex
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).parent))

from tap import ROOT, expect, main, run

README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```([^\n]*)\n(.*?)^```$", README, re.M | re.S)
PROSE = re.sub(r"^```.*?^```$", "", README, flags=re.M | re.S)
# Those that take the setting of a horn, in the words of the first table.
SETTING = {"notes", "chart", "passage", "slides", "pitch", "scales", "primer", "lessons", "choose",
           "resonances"}


def _commands():
    """Each line of a shell block that starts the program."""
    for kind, text in BLOCKS:
        if kind == "sh":
            for line in text.splitlines():
                assert line.startswith("hornbook "), line
                told = re.search(r"exit ([0-9])", line.partition(" # ")[2])
                words = shlex.split(line, comments=True)[1:]
                yield words, int(told[1]) if told else 0


def _files(folder):
    for kind, text in BLOCKS:
        name = re.match(r"# ([\w-]+\.yaml)\n", text)
        if kind == "yaml" and name:
            (folder / name[1]).write_text(text, encoding="utf-8")
    for name in ("charts", "instruments"):
        os.symlink(ROOT / name, folder / name)


def _help(command):
    text = expect(run(command, "--help"), 0).stdout
    return set(re.findall(r"^ +(?:-\w, )?(--[\w-]+)", text, re.M))


def _all_commands():
    text = expect(run("--help"), 0).stdout
    return set(re.findall(r"^  ([a-z]+) +", text, re.M))


def every_command_runs_as_told(folder):
    _files(folder)
    commands = list(_commands())
    assert {words[0] for words, _ in commands} == _all_commands()
    assert {code for _, code in commands} == {0, 1}
    for words, code in commands:
        expect(run(*words, folder=folder), code)
        for option, name in zip(words, words[1:]):
            if option in ("-o", "--report"):
                assert (folder / name).exists(), words
    sheet = re.search(r"`([\w-]+_[\w-]+\.pdf)`", PROSE)[1]
    assert (folder / "sheets" / sheet).is_file(), sheet


def its_horns_are_sound_and_nothing_about_them_is_doubted(folder):
    _files(folder)
    horns = [path.name for path in folder.glob("my-*.yaml")]
    assert len(horns) == 2
    for name in horns:
        result = expect(run("check", name, folder=folder), 0)
        assert result.stderr == "" and ": the file is good" in result.stdout, result
    text = expect(run("notes", "my-horn.yaml", folder=folder), 0).stdout
    for label in "0123456":
        assert re.search(rf"  {label}  +[0-9] ", text), label


def the_bore_it_shows_makes_a_horn(folder):
    bore = next(text for kind, text in BLOCKS if text.startswith("bore:"))
    (folder / "bored.yaml").write_text(
        "hornbook: 1\nname: By its bore\nwritten_c4_sounds: C4\n"
        "tuning: {note: C5}\ncompass: [B3, C6]\n" + bore, encoding="utf-8")
    text = expect(run("check", "bored.yaml", folder=folder), 0).stdout
    assert "key 1 open at rest" in text


def the_slip_it_shows_is_told_so(folder):
    (folder / "my-horn.yaml").write_text(
        "hornbook: 1\nname: A\nlenght: 1312\nwritten_c4_sounds: C4\n")
    told = expect(run("check", "my-horn.yaml", folder=folder), 1).stderr
    shown = next(text for kind, text in BLOCKS if "error:" in text)
    assert shown.strip() in told


def the_set_up_is_the_two_lines_that_are_tested(folder):
    lines = [line for kind, text in BLOCKS if kind == "sh setup"
             for line in text.splitlines()]
    assert lines == [
        ".ci/setup && build/hornbook chart cornet-b-flat -o build/cornet.pdf",
        ".ci/setup --tests && meson test -C build"]


def _taken_by(words):
    every = _all_commands()
    named = set(re.findall(r"`([a-z]+)`", words))
    assert named <= every
    if words.startswith("not "):
        return SETTING - named
    if words.startswith("all but "):
        return every - named
    return named or None


def the_tables_name_who_takes_what(folder):
    options = {command: _help(command) for command in _all_commands()}
    rows = [(option, words) for cell, words in
            re.findall(r"^\| (`-[^|]*) \|[^|]*\| ([^|]*) \|$", README, re.M)
            for option in re.findall(r"`(-[\w-]+)", cell)]
    assert len(rows) == 20
    for option, words in rows:
        option = "--output" if option == "-o" else option
        takers = {name for name in options if option in options[name]}
        want = _taken_by(words)
        if want is None:
            want = set(options) if option == "--quiet" else SETTING
        if option in ("--a4", "--temperature"):
            want = want | {"new"}  # which begins a horn that has them
        assert takers == want, (option, takers ^ want)


def every_option_is_named_and_none_but_those(folder):
    offered = set().union(*map(_help, _all_commands()))
    changes = README[README.index("\n## Changes"):]
    named = set(re.findall(r"(?<![\w-])--[a-z][\w-]*", README))
    gone = {"--pull-valves"}  # told under Changes
    assert gone <= set(re.findall(r"--[\w-]+", changes))
    # --tests is of .ci/setup, and -o stands for --output.
    named = named - gone - {"--tests"} | {"--output", "--help"}
    assert named == offered, named ^ offered


def a_section_speaks_of_its_own_options(folder):
    sections = re.split(r"^## ", PROSE, flags=re.M)[1:]
    told = 0
    for section in sections:
        command = section.split("\n")[0].lower()
        if command in _all_commands():
            told += 1
            named = set(re.findall(r"`(--[\w-]+)", section))
            assert named <= _help(command), (command, named - _help(command))
    assert told == 15  # every command but `horns`, which stands with the files


def its_links_lead_somewhere(folder):
    anchors = {re.sub(r"[^\w -]", "", title).lower().replace(" ", "-")
               for title in re.findall(r"^## (.*)$", README, re.M)}
    for target in re.findall(r"\]\(([^)]+)\)", README):
        if target.startswith("#"):
            assert target[1:] in anchors, target
        else:
            assert (ROOT / target).is_file(), target
    for path in re.findall(r"`((?:charts|instruments)/[^`]*)`", README):
        assert (ROOT / path).exists(), path


sys.exit(main(globals()))
