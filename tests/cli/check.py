#!/usr/bin/python3
"""What `check` says it understood, and what it doubts.

Each x.yaml of tests/doubtful is a horn with a slip, or one that looks like it:
`check` must say exactly x.err on standard error, and call it good only if that
is empty.
"""

import glob
import json
import math
import re
import shutil
import sys

from tap import ROOT, expect, flat, main, run

FOLDER = "tests/doubtful"
DOUBTED = ": can be read, but look at the warnings: "


def _read(path):
    with open(path, encoding="utf-8") as stream:
        return stream.read()


def every_slip_is_told_in_its_words(_):
    files = sorted(glob.glob(FOLDER + "/*.yaml"))
    assert len(files) >= 26
    for path in files:
        said = _read(path[: -len("yaml")] + "err")
        result = run("check", path)
        assert result.stderr == said, (path, result.stderr)
        refused = " error: " in said
        assert result.returncode == (1 if refused else 0), path
        assert (": the file is good: " in flat(result.stdout)) == (said == ""), path
        assert (DOUBTED in flat(result.stdout) + " ") == (said != "" and not refused), path


def no_shipped_horn_is_doubted(_):
    result = expect(run("check", "instruments/patterns",
                        "instruments/measured"), 0)
    assert result.stderr == ""
    assert flat(result.stdout).count(": the file is good: ") > 30


def what_was_understood_is_told(_):
    def facts(name):
        text = expect(run("check", name), 0).stdout
        return text.split("\n", 1)[1]

    assert facts(FOLDER + "/broken-horn.yaml") == """\
  pitch   written C5, open, sounds Bb4 on partial 4; as the file has it,
          A4 = 440.0 Hz at 20 °C; nothing can be pulled to tune it
  does    valve 1 lowers a whole tone, valve 2 stuck down, valve 3 lowers a tone
          and a half
  notes   25 of 31 from F#3 to C6 are available
          not Bb3, C4, F4, F5, Bb5, C6: because of what is stuck
  slides  main (main tube) stuck, out 0 of 20 mm
  stuck   valve 2 is stuck down
"""
    text = flat(facts("cornet-b-flat"))
    assert " notes 31 of 31 from F#3 to C6 are available " in text
    assert "main (main tube) out 10 of 30 mm" in text
    assert "first (loop of valve 1) out 2 of 15 mm" in text
    # A half wave of B flat 2 (ISO 16 and the scale) in air of 20 degrees,
    # 343.2 m/s; the slide adds twice what it is drawn.
    half_mm = 1000 * 343.2 / 2 / (440 / 2 ** (23 / 12))
    low, high = map(float, re.search(r"slides ([0-9.]+) to ([0-9.]+) Hz",
                                     text).groups())
    assert math.isclose(low, 440 * half_mm / (half_mm + 40), abs_tol=0.1)
    assert math.isclose(high, 440 * half_mm / (half_mm - 20), abs_tol=0.1)
    # Worked out from the series of partials: C, G, C, E, G, B flat and C.
    text = facts("bugle-b-flat")
    assert "  notes   7 of 25 from C4 to C6 are available\n" in text
    text = facts("keyed-bugle-c-6")
    assert ("  does    key 1 open at rest; pressed, it lowers a semitone, key 2 "
            "raises a\n") in text
    # The compass of a horn in F goes to partial 16.
    text = facts(FOLDER + "/horn-in-f-follows-its-compass.yaml")
    assert "  notes   31 of 31 from F#3 to C6 are available\n" in text
    text = facts(FOLDER + "/highest-too-low.yaml")
    assert ("not G#5 to C6: partial 8 would give it, but only 2 to 6 are "
            "used\n") in text
    text = facts("ophicleide-c-9")
    assert "not F#2, G#2: the nearest fingering is 100 cents off\n" in text


def what_can_be_put_in_is_listed(_):
    text = flat(expect(run("check", "cornopean-b-flat",
                           "cornet-b-flat-bore",
                           "cornet-b-flat-echo-bell-museum"), 0).stdout)
    assert ("crooks A (shank) adds 88 mm, written C sounds A; Ab (crook) adds "
            "180 mm, written C sounds Ab; G (crook) adds") in text
    assert ("takes mouthpiece own (cup 1.2 ml), deep (1.7 ml), shallow (0.9 "
            "ml)") in text
    assert "written C sounds Ab, its chart is none to learn from" in text
    assert text.count("none to learn from") == 1
    horns = json.loads(expect(run("check", "--json", "cornet-b-flat-bore",
                                  "cornet-b-flat-echo-bell-museum"),
                              0).stdout)["horns"]
    assert horns[0]["crooks"] == [] and horns[1]["mouthpieces"] == []
    assert horns[0]["mouthpieces"] == [
        {"mouthpiece": "deep", "volume_ml": 1.7},
        {"mouthpiece": "shallow", "volume_ml": 0.9}]
    assert [(c["crook"], c["kind"], c["learn_from"])
            for c in horns[1]["crooks"]] == [("A", "shank", True),
                                             ("Ab", "crook", False)]


def sizes_of_holes_are_not_dropped_in_silence(folder):
    """A horn by its length knows only what a key raises."""
    for size, said in ((", pad_lift: 2", True), (", diameter: 20", True),
                       ("", False)):
        (folder / "k.yaml").write_text(
            "hornbook: 1\nname: K\nwritten_c4_sounds: C4\nfundamental: C3\n"
            "keys:\n  - {key: 1, rest: closed, raises: 2, "
            f"finger: right index{size}}}\n")
        text = flat(expect(run("check", "k.yaml", folder=folder), 0).stdout)
        assert ("say nothing of a horn without a bore" in text) == said
    assert "holes " not in expect(run("check", "keyed-bugle-c-6-munich"),
                                  0).stdout


def a_quiet_check_says_good_alone(_):
    result = expect(run("check", "--quiet", "cornet-b-flat"), 0)
    assert result.stdout == ("cornet-b-flat: the file is good: Cornet in B flat, "
                             "three pistons\n")
    result = expect(run("check", "--quiet", FOLDER + "/german-b.yaml"), 0)
    assert result.stdout == FOLDER + "/german-b.yaml" + DOUBTED + "A cornet\n"
    assert result.stderr == ""


def what_is_broken_goes_on_to_horns_made_of_it(folder):
    (folder / "old.yaml").write_text(
        "hornbook: 1\nbased_on: cornet-b-flat\nname: Broken\n"
        "stuck: [valve:2=down, 'slide:first=3']\n")
    (folder / "new.yaml").write_text(
        "hornbook: 1\nbased_on: old.yaml\nname: Half mended\n"
        "stuck: valve:2=mended\n")
    (folder / "r.yaml").write_text(
        "hornbook_readings: 1\nreadings:\n"
        "  - {note: C5, fingering: 0, cents: -8}\n"
        "  - {note: D5, fingering: 1, cents: 12}\n")
    text = expect(run("check", "old.yaml", folder=folder), 0).stdout
    assert "valve 2 is stuck down\n" in text
    expect(run("fit", "new.yaml", "r.yaml", "-q", "-o", "fitted.yaml",
               folder=folder), 0)
    for name in ("new.yaml", "fitted.yaml"):
        text = expect(run("check", name, folder=folder), 0).stdout
        assert "first (loop of valve 1) stuck, out 3 of 15 mm" in flat(text)
        assert "valve 2 is stuck" not in text
    assert "valves: pattern" in (folder / "fitted.yaml").read_text()


def what_notes_refuses_is_not_good(folder):
    for name in ("length-in-inches", "length-in-centimetres"):
        shutil.copy("%s/%s.yaml" % (FOLDER, name), folder)
        for command in ("check", "notes"):
            result = run(command, name + ".yaml", folder=folder)
            assert result.returncode == (1 if command == "check" else 3)
            assert "[H131]" in result.stderr
            assert result.stdout == ""


def a_file_of_another_kind_is_told_for_what_it_is(folder):
    order = ROOT / "charts/larkmoor.yaml"
    readings = ROOT / "tests/data/readings/minimal.yaml"
    horn = ROOT / "instruments/patterns/cornet-b-flat.yaml"
    tune = ROOT / "tests/data/galop.abc"
    shutil.copy(tune, folder)
    for words, code, said in (
            (["check", order], 1, "this is an order, and a horn is wanted"),
            (["notes", readings], 3, "these are readings, and a horn is"),
            (["print", readings], 3, "these are readings, and an order is"),
            (["print", horn], 3, "this describes a horn, and an order is wanted here"),
            (["passage", "cornet-b-flat", order], 2,
             "this is an order, and a tune is wanted here"),
            (["choose", readings, "cornet-b-flat"], 2,
             "these are readings, and a tune is wanted here"),
            (["fit", "cornet-b-flat", "cornet-b-flat"], 2,
             "is a horn, and a file of readings is wanted here"),
            (["identify", "cornet-b-flat", readings], 2,
             "is a horn, and a file of readings is wanted here"),
            (["notes", "galop.abc"], 3, "this is a tune by its name"),
            (["chart", "cornet-b-flat", "-o", "x.pdf", "--beside",
              "galop.abc"], 3, "this is a tune by its name"),
            (["print", "cornet-b-flat"], 2, "and an order is wanted here"),
            (["passage", tune, "cornet-b-flat"], 3,
             "this is a tune by its name, and a horn is wanted here"),
            (["choose", "cornet-b-flat", tune], 2,
             "cornet-b-flat is a horn, and a tune is wanted here"),
            (["fit", "cornet-b-flat", order], 3,
             "this is an order, and readings are wanted here")):
        result = expect(run(*words, folder=folder), code)
        assert result.stdout == "" and said in result.stderr, result.stderr
        told = [line for line in result.stderr.splitlines()
                if not line.startswith("Try ")]
        assert len(told) == 1, "one sentence, not one for each name in it"
    own = folder / "cornet-b-flat"
    own.write_text(tune.read_text())
    expect(run("choose", own.name, "cornet-b-flat", folder=folder), 1)


sys.exit(main(globals()))
