#!/usr/bin/env python3
"""Whether --help tells the truth: every command takes each option that it
lists, and refuses every other."""
import re
import shutil
import sys

sys.dont_write_bytecode = True

from tap import ROOT, expect, main, run

DATA = ROOT / "tests/data"
TUNE = DATA / "galop.abc"
READINGS = DATA / "readings/minimal.yaml"

# A sound use of every command.
USES = {
    "check": ["cornet-b-flat"],
    "horns": [],
    "notes": ["cornopean-b-flat"],
    "chart": ["cornopean-b-flat", "-o", "x.svg"],
    "passage": ["cornopean-b-flat", TUNE],
    "slides": ["cornopean-b-flat"],
    "pitch": ["cornet-b-flat", "bass-e-flat"],
    "choose": [TUNE, "cornopean-b-flat"],
    "resonances": [DATA / "good/cornet-by-bore.yaml"],
    "scales": ["cornopean-b-flat"],
    "lessons": ["cornopean-b-flat"],
    "primer": ["cornopean-b-flat", "-o", "x.pdf"],
    "print": ["o.yaml"],
    "fit": ["cornet-b-flat", READINGS],
    "identify": [READINGS, "cornet-b-flat", "cornet-e-flat-rotary"],
    "new": ["--kind", "cornet", "--key", "Bb", "--valves", "3"],
}
# A value for every option that takes one.
VALUES = {
    "a4": "443", "temperature": "18.5", "room": "19",
    "valve-slides": "in", "crook": "none", "mouthpiece": "own",
    "stuck": "valve:2=down", "jobs": "2", "lip": "35", "hold": "E5", "why": "E5",
    "root": "C",
    "fingering": "1", "to": "900", "points": "50", "run": "C5 D5",
    "tempo": "90", "bars": "2", "choices": "2", "part": "1", "voice": "1",
    "line": "bottom",
    "tune": "1", "octave": "auto", "transpose": "-M2", "to-key": "auto:2",
    "sound": "s.wav", "report": "r.json", "layout": "card", "paper": "A5",
    "beside": "cornet-b-flat", "title": "A title", "dpi": "90",
    "reads": "bass", "names": "german", "range": "C4-C5", "knows": "bass-e-flat",
    "kind": "cornet", "key": "C", "keys": "0", "valves": "3", "open": "none",
    "called": "B", "lowers": "2 1 4", "loops": "182 88 294",
    "action": "rotary", "clef": "bass", "length": "1473", "name": "A horn",
    "pattern": "cornet-b-flat",
    "output": "y.svg", "format": "json",
}
# Where a command wants another value, or other words beside the option.
OTHER_VALUES = {
    ("notes", "output"): "y.csv", ("pitch", "output"): "y.csv",
    ("choose", "output"): "y.csv", ("identify", "output"): "y.json",
    ("lessons", "output"): "y.json", ("primer", "output"): "y.pdf",
    ("primer", "format"): "pdf",
    ("print", "output"): "folder", ("fit", "output"): "fitted.yaml",
    ("chart", "format"): "pdf", ("new", "output"): "new.yaml",
    ("new", "paper"): "A4", ("new", "format"): "svg",
}
FORM = ["--form", "--kind", "cornet", "-o", "form.svg"]
OTHER_WORDS = {
    ("pitch", "stuck"): ["cornet-b-flat"],
    ("notes", "root"): ["cornopean-b-flat", "--hold", "E5"],
    ("identify", "faults"): ["cornet-b-flat", READINGS],
    ("passage", "run"): ["cornopean-b-flat"],
    ("passage", "circles"): ["cornopean-b-flat", TUNE, "-o", "x.svg"],
    ("passage", "part"): ["cornopean-b-flat", "march.musicxml"],
    ("passage", "voice"): ["cornopean-b-flat", "march.musicxml"],
    ("choose", "part"): ["march.musicxml", "cornopean-b-flat"],
    ("choose", "voice"): ["march.musicxml", "cornopean-b-flat"],
    ("new", "form"): ["-o", "form.svg"], ("new", "paper"): FORM,
    ("new", "title"): FORM, ("new", "dpi"): FORM, ("new", "format"): FORM,
}


def _options_of(command):
    """The long options that --help lists, and whether each takes a value."""
    text = expect(run(command, "--help"), 0).stdout
    found = {name: bool(value) for name, value in re.findall(
        r"^  (?:-\w, )?--([a-z0-9-]+)( \S+)?  ", text, re.M)}
    assert len(found) == len(re.findall("^  -", text, re.M)), text
    return found


def _commands():
    listed = re.findall(r"^  ([a-z]+) .*  \S", expect(run("--help"), 0).stdout,
                        re.M)
    assert sorted(listed) == sorted(USES)
    return {command: _options_of(command) for command in listed}


def a_command_takes_every_option_that_it_lists(folder):
    shutil.copy(DATA / "march.musicxml", folder)
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\nsheets: [{sheet: card, paper: A6}]\n"
        "players: [{name: A, horn: cornet-b-flat}]\n")
    tried = set()
    for command, options in _commands().items():
        for name, takes_value in options.items():
            key = (command, name)
            words = [f"--{name}"]
            if takes_value:
                words.append(OTHER_VALUES.get(key, VALUES[name]))
                tried.add(name)
            result = run(command, *OTHER_WORDS.get(key, USES[command]),
                         *words, folder=folder)
            assert result.returncode in (0, 1), (
                key, result.returncode, result.stderr)
    assert tried == set(VALUES)


def the_example_of_every_help_runs(folder):
    shutil.copy(TUNE, folder / "tune.abc")
    shutil.copy(READINGS, folder / "readings.yaml")
    shutil.copy(ROOT / "instruments/patterns/cornet-b-flat.yaml",
                folder / "my-horn.yaml")
    (folder / "order.yaml").write_text(
        "hornbook_order: 1\nband: B\nsheets: [{sheet: card, paper: A6}]\n"
        "players: [{name: A, horn: cornet-b-flat}]\n")
    for command in USES:
        text = expect(run(command, "--help"), 0).stdout
        shown = re.findall(r"^For example:\n  hornbook (.*)$", text, re.M)
        assert len(shown) == 1 and shown[0].split()[0] == command, text
        result = run(*shown[0].split(), folder=folder)
        may_be_no = command in ("passage", "choose", "identify", "resonances")
        assert result.returncode in (0, 1 if may_be_no else 0), (
            shown, result.stderr)


def a_command_refuses_every_option_that_it_does_not_list(_):
    commands = _commands()
    every = {name: takes_value for options in commands.values()
             for name, takes_value in options.items()}
    assert len(every) > 30
    for command, options in commands.items():
        for name in set(every) - set(options):
            words = [f"--{name}"] + ([VALUES[name]] if every[name] else [])
            result = expect(run(command, *USES[command], *words), 2)
            assert f"--{name} does not belong" in result.stderr, result.stderr


sys.exit(main(globals()))
