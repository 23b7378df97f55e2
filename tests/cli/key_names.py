#!/usr/bin/env python3
"""A horn fitted to what its keys are called, as a user does it."""
import json
import re
import sys

sys.dont_write_bytecode = True

from tap import ROOT, expect, flat, main, run

UNFITTED = ROOT / "tests/data/unfitted/keyed-bugle-c-6-munich.yaml"
SAID = "hape fitted to the key names"  # check begins it small


def _numbers(text, name):
    return re.findall(rf"{name}: ([0-9.]+)", text)


def a_fitted_horn_says_so_on_its_face(folder):
    expect(run("fit", "--key-names", UNFITTED, "-o", "fitted.yaml",
               folder=folder), 0)
    fitted = folder / "fitted.yaml"
    before, after = UNFITTED.read_text(), fitted.read_text()
    # The catalogue has the holes, and nobody measured a chimney.
    for recorded in ["from_bell", "diameter"]:
        assert _numbers(before, recorded) == _numbers(after, recorded)
        assert len(_numbers(after, recorded)) == 6
    assert _numbers(before, "chimney") != _numbers(after, "chimney")
    assert "shape   fitted to the key names: 26 notes" in expect(
        run("check", fitted), 0).stdout
    expect(run("chart", fitted, "-o", "c.svg", folder=folder), 0)
    said = re.sub(r"<[^>]+>", " ", (folder / "c.svg").read_text())
    assert SAID in re.sub(r"\s+", " ", said)
    assert SAID in flat(expect(run("notes", fitted), 0).stdout)
    for command in ["check", "notes"]:
        assert SAID not in flat(expect(run(command, UNFITTED), 0).stdout)
    # What was followed once is not followed again.
    told = expect(run("fit", "--key-names", fitted), 1).stderr
    assert "[H365]" in told and "already" in told


def the_report_tells_names_from_readings(folder):
    (folder / "page.yaml").write_text(
        "hornbook_readings: 1\na4: 432\nreadings:\n"
        "  - {note: C5, fingering: 0, cents: 4}\n"
        "  - {note: G4, fingering: 0, cents: -3}\n"
        "  - {note: D5, fingering: 3, cents: -9}\n"
        "  - {note: E5, fingering: 0, cents: -11}\n")
    answer = json.loads(expect(run("fit", "--key-names", UNFITTED, "page.yaml",
                                   "--json", folder=folder), 0).stdout)
    kinds = [reading["is_name"] for reading in answer["readings"]]
    assert kinds == [True] * 26 + [False] * 4
    names = answer["key_names"]
    assert names["notes"] == 26 and \
        25 < names["uncertainty_cents"] < 45
    assert names["sum"] < min(names["sum_semitone_higher"],
                              names["sum_semitone_lower"])
    text = expect(run("fit", "--key-names", UNFITTED, "page.yaml",
                      folder=folder), 0).stdout
    assert "the names of its keys (26 notes) and to 4 readings" in flat(text)
    assert len(re.findall(r"\d +name ", text)) == 26


def a_name_that_tells_nothing_or_fits_nothing_is_named(folder):
    own = UNFITTED.read_text()
    idle = own.replace("key: 5, called: E,", "key: 5, called: F#,")
    (folder / "idle.yaml").write_text(idle)
    told = expect(run("fit", "--key-names", "idle.yaml", folder=folder), 0)
    assert "the name of key 5 tells nothing" in told.stderr
    assert "[H365]" in told.stderr and "is it called so" not in told.stdout
    swapped = own.replace("key: 4, called: Eb,", "key: 4, called: E,").replace(
        "key: 5, called: E,", "key: 5, called: Eb,")
    assert swapped != own != idle
    (folder / "swapped.yaml").write_text(swapped)
    told = expect(run("fit", "--key-names", "swapped.yaml", folder=folder), 0)
    assert "But most notes of keys 4, 5 and 6" in flat(told.stdout)
    assert "are they all called so?" in flat(told.stdout)
    assert "called so" not in expect(
        run("fit", "--key-names", UNFITTED), 0).stdout


def a_slip_of_the_page_is_told_as_one(folder):
    (folder / "page.yaml").write_text(
        "hornbook_readings: 1\nset: {crank: 3}\nreadings:\n"
        "  - {note: C5, fingering: 0, cents: 4}\n")
    told = expect(run("fit", "--key-names", UNFITTED, "page.yaml",
                      folder=folder), 3).stderr
    assert "no slide 'crank'" in told and "H366" not in told


def without_names_there_is_nothing(folder):
    for horn in ["cornet-b-flat-bore", "cornet-b-flat",
                 "keyed-bugle-b-flat-7-saxon"]:
        told = expect(run("fit", "--key-names", horn, "-o", "x.yaml",
                          folder=folder), 1).stderr
        assert "[H365]" in told, told
    wrong = UNFITTED.read_text()
    for old, new in [("F", "F#"), ("E", "F"), ("Eb", "E"), ("D", "Eb"),
                     ("C#", "D")]:
        wrong = wrong.replace(f"called: {old},", f"called: {new},")
    (folder / "wrong.yaml").write_text(wrong)
    told = expect(run("fit", "--key-names", "wrong.yaml", "-o", "x.yaml",
                      folder=folder), 1).stderr
    assert "[H366]" in told and "semitone lower" in told, told
    assert not (folder / "x.yaml").exists()
    expect(run("fit", UNFITTED), 2)


sys.exit(main(globals()))
