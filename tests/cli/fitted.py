#!/usr/bin/env python3
"""Horns fitted to what a tuner showed, and unsigned ones told by their keys."""
import json
import shutil
import sys

sys.dont_write_bytecode = True

from tap import BAD_HORN, expect, flat, main, run


READINGS = """\
hornbook_readings: 1
source: A. Player
set: {shank: 5}
readings:
  - {note: C4, fingering: 0, cents: -30}
  - {note: G4, fingering: 0, cents: -27}
  - {note: C5, fingering: 0, cents: -28}
  - {note: E5, fingering: 0, cents: -44}
  - {note: B3, fingering: 1, cents: -52}
  - {note: F#4, fingering: 1, cents: -50}
  - {note: D4, fingering: 3, cents: -20}
  - {note: A4, fingering: 3, cents: 79}
  - {note: C#4, fingering: 2, cents: -12}
  - {note: G#4, fingering: 2, cents: -10}
"""


def a_fitted_horn_is_a_horn_file_of_its_own(folder):
    (folder / "r.yaml").write_text(READINGS)
    result = expect(run("fit", "keyed-bugle-c-6", "r.yaml", "-o", "h.yaml",
                        folder=folder), 0)
    assert "fitted to 9 readings; 1 not used" in result.stdout
    assert "each reading left out in turn" in flat(result.stdout)
    assert "Read next" in result.stdout
    assert "r.yaml:12:5: warning: A4 with 3" in result.stderr
    assert "semitone higher" in result.stderr
    text = (folder / "h.yaml").read_text()
    assert "based_on" not in text and "10787" in text
    expect(run("check", "h.yaml", folder=folder), 0)
    expect(run("chart", "h.yaml", "-o", "h.pdf", folder=folder), 0)
    before = json.loads(expect(run("notes", "keyed-bugle-c-6", "--json"),
                               0).stdout)
    after = json.loads(expect(run("notes", "h.yaml", "--json", folder=folder),
                              0).stdout)

    def cents(data, written, label):
        note = next(n for n in data["notes"] if n["written"] == written)
        return next(f["cents"] for f in note["fingerings"]
                    if f["label"] == label)

    # Key 2 was read 17 cents above the open notes, key 1 23 below them.
    assert abs(cents(before, "C#4", "2")) < 0.01
    assert 10 < cents(after, "C#4", "2") - cents(after, "C4", "0") < 24
    assert -30 < cents(after, "B3", "1") - cents(after, "C4", "0") < -15
    # A fitted horn can be fitted again.
    expect(run("fit", "h.yaml", "r.yaml", "-o", "h2.yaml", "--quiet",
               folder=folder), 0)
    assert (folder / "h2.yaml").read_text().count("Fitted to 9") == 1


def a_fit_is_reported_in_every_format(folder):
    (folder / "r.yaml").write_text(READINGS)
    data = json.loads(expect(run("fit", "keyed-bugle-c-6", "r.yaml", "--json",
                                 folder=folder), 0).stdout)
    assert data["used"] == 9 and data["set_aside"] == 1
    assert data["readings"][7]["state"] == "slipped"
    assert data["readings"][7]["line"] == 12
    assert data["after_rms_cents"] < data["before_rms_cents"]
    for value in data["values"]:
        assert value["after_uncertainty"] <= value["before_uncertainty"] * 1.01
    key = next(v for v in data["values"] if v["what"] == "step of key 4")
    assert key["before"] == key["after"] == 3 and key["learned"] == 0
    for name, start in [("f.pdf", b"%PDF-"), ("f.svg", b"<?xml"),
                        ("f.png", b"\x89PNG"), ("f.json", b"{"),
                        ("f.txt", b"Keyed")]:
        result = run("fit", "keyed-bugle-c-6", "r.yaml", "--report", name,
                     "-q", folder=folder)
        assert "Nothing was written" in expect(result, 0).stdout
        assert (folder / name).read_bytes().startswith(start)
    told = expect(run("fit", "keyed-bugle-c-6", "r.yaml", "-q",
                      folder=folder), 0).stdout
    once = expect(run("fit", "keyed-bugle-c-6", "r.yaml", "--report", "-",
                      "-q", folder=folder), 0).stdout
    assert told.startswith(once) and once.count("Error to expect of") == 1
    once = expect(run("fit", "keyed-bugle-c-6", "r.yaml", "--report", "-",
                      "--json", "-q", folder=folder), 0).stdout
    assert json.loads(once) == data
    horn = expect(run("fit", "keyed-bugle-c-6", "r.yaml", "-o", "-", "-q",
                      folder=folder), 0).stdout
    assert horn.startswith("# Fitted") and "Leave-one-out" not in horn


def a_fit_tells_how_the_horn_was_set_up(folder):
    (folder / "r.yaml").write_text(
        "hornbook_readings: 1\nset: {main: 5}\nreadings:\n"
        "  - {note: C4, fingering: 0, cents: -3}\n"
        "  - {note: G4, fingering: open, cents: -2, set: {crook: A}}\n"
        "  - {note: D4, fingering: 1-3, cents: 22, a4: 442}\n")
    text = expect(run("fit", "cornopean-b-flat", "r.yaml", "-q",
                      folder=folder), 0).stdout
    # A slide that is not named was where it stands in the horn's file.
    slides = "main 5 mm, first 2 mm, second 1 mm, third 3 mm"
    assert (f"Set up: a) {slides}, A = 440 Hz at 20 \u00b0C; b) crook A, "
            f"{slides}, A = 440 Hz at 20 \u00b0C; c) {slides}, A = 442 Hz"
            ) in flat(text)
    assert "could contradict it: C4 with 0, D4 with 1-3. Read them" in flat(text)
    data = json.loads(expect(run("fit", "cornopean-b-flat", "r.yaml", "-q",
                                 "--json", folder=folder), 0).stdout)
    assert [r["crook"] for r in data["readings"]] == [None, "A", None]
    assert [r["a4_hz"] for r in data["readings"]] == [440, 440, 442]
    assert data["readings"][0]["pulled_mm"] == {"main": 5}
    assert [r["alone_on"] for r in data["readings"]] == [None, None, "1"]
    partials = [r["partial"] for r in data["readings"]]
    assert [r["alone_on_partial"] for r in data["readings"]] == [
        partials.count(partial) == 1 for partial in partials]


def one_horn_is_put_to_pitch_with_what_is_stuck(folder):
    free, stuck = (
        json.loads(expect(run("pitch", "cornet-b-flat", "--json", *more),
                          0).stdout)
        for more in ([], ["--stuck", "valve:2=down"]))
    # The slides stay where they were, and what C5 takes now is told: the fifth
    # partial with 2-3, of which 2 is down already, 14 cents low.
    for name in ("a4_hz", "named", "total_cents", "all_fit_to_hz"):
        assert stuck[name] == free[name]
    free, stuck = free["horns"][0], stuck["horns"][0]
    assert stuck["slides"] == free["slides"]
    assert free["stuck_gives"] == free["tuned_on"]
    assert stuck["tuned_on"]["label"] == "0"
    assert stuck["stuck_gives"]["label"] == "3"
    assert stuck["stuck_gives"]["partial"] == 5
    assert abs(stuck["stuck_gives"]["cents"] + 14) < 1
    text = expect(run("pitch", "cornet-b-flat", "--stuck", "valve:2=down"),
                  0).stdout
    assert "C5 cannot be made open: take 3 in its place, partial 5" in text
    for args, word in [
        (["cornet-b-flat", "alto-e-flat", "--stuck", "valve:2=down"],
         "write 'stuck:' into that horn's file"),
        (["cornet-b-flat", "--stuck", "valve:9=down"],
         "has no valve 9; it has 1, 2, 3"),
    ]:
        assert word in expect(run("pitch", *args), 2).stderr


def what_lies_among_horns_is_passed_over(folder):
    shutil.copy("instruments/patterns/cornet-b-flat.yaml", folder)
    (folder / "page.yaml").write_text("# tuner\n\n" + READINGS)
    (folder / "order.yaml").write_text("---\nhornbook_order: 1\n")
    result = expect(run("pitch", str(folder)), 0)
    assert "page.yaml: warning: this file holds readings" in result.stderr
    assert "order.yaml: warning: this file holds an order" in result.stderr
    assert len(result.stderr.splitlines()) == 2
    # Each source once, with every pitch that it stands for.
    assert "454.0 Encyclopaedia Britannica" in result.stdout
    assert result.stdout.count("Encyclopaedia Britannica") == 1
    for args, word in [
        (["fit", "page.yaml", "cornet-b-flat"], "name the horn first"),
        (["identify", "cornet-b-flat.yaml", "cornet-b-flat"],
         "name the readings first"),
    ]:
        assert word in expect(run(*args, folder=folder), 2).stderr


def slips_of_fit_and_identify_are_named(folder):
    (folder / "r.yaml").write_text(READINGS)
    for args, word in [
        (["fit", "cornet-b-flat"], "name a horn and a file of readings"),
        (["fit", "-", "r.yaml"], "must be a file"),
        (["fit", "cornet-b-flat", "r.yaml", "--report", "x.doc"], "a report"),
        (["fit", "cornet-b-flat", "r.yaml", "--format", "pdf"],
         "does not belong"),
        (["fit", "cornet-b-flat", "r.yaml", "-o", "x.pdf"],
         "the sheet goes to --report x.pdf"),
        (["fit", "cornet-b-flat", "r.yaml", "-o", "horn"], "is yaml"),
        (["fit", "cornet-b-flat", "r.yaml", "-o", "-", "--report", "-"],
         "cannot both be standard output"),
        (["identify", "r.yaml"], "then the horns"),
        (["identify", "r.yaml", "cornet-b-flat", "--a4", "440"],
         "does not belong"),
    ]:
        result = expect(run(*args, folder=folder), 2)
        assert word in result.stderr, (args, result.stderr)
    result = expect(run("fit", "bugle-b-flat", "r.yaml", "-o", "h.yaml",
                        folder=folder), 3)
    assert "r.yaml:3:7: error: set: this horn has no slide" in result.stderr
    assert not (folder / "h.yaml").exists()
    expect(run("fit", "keyed-bugle-c-6", "none.yaml", folder=folder), 3)


def an_unsigned_horn_is_told_by_its_keys(folder):
    (folder / "t.yaml").write_text(
        "hornbook_readings: 1\nreadings:\n"
        "  - {note: C4, fingering: 0, cents: 35}\n"
        "  - {note: E4, fingering: 5, cents: 24}\n")
    names = ["keyed-bugle-b-flat-7-f-sharp", "cornet-b-flat",
             "keyed-bugle-b-flat-7-second-e-flat"]
    text = expect(run("identify", "t.yaml", *names, folder=folder), 0).stdout
    assert text.index("with F sharp") < text.index("second E flat")
    assert "cannot be; line 4: '5' names what this horn has not" in flat(text)
    assert "No other note would help much more" in text
    (folder / "one.yaml").write_text(
        "hornbook_readings: 1\nreadings:\n"
        "  - {note: C4, fingering: 0, cents: 35}\n")
    text = expect(run("identify", "one.yaml", names[0], names[2],
                      folder=folder), 0).stdout
    assert "Try next" in text and "  5, partial" in text
    text = expect(run("identify", "t.yaml", names[0], folder=folder), 0).stdout
    assert "%" not in text and "Name some more" in text
    data = json.loads(expect(run("identify", "t.yaml", *names, "--json",
                                 folder=folder), 0).stdout)
    assert [e["id"] for e in data["layouts"]][0] == names[0]
    assert abs(sum(e["probability"] for e in data["layouts"]) - 1) < 1e-5
    assert data["layouts"][2]["impossible"]
    result = expect(run("identify", "t.yaml", "cornet-b-flat", folder=folder),
                    1)
    assert "This layout cannot be the horn's" in result.stdout
    (folder / "bad.yaml").write_text(BAD_HORN)
    result = expect(run("identify", "t.yaml", "bad.yaml", names[0],
                        folder=folder), 1)
    assert "bad.yaml:3:1: error:" in result.stderr
    assert "F sharp" in result.stdout
    expect(run("identify", "t.yaml", "bad.yaml", folder=folder), 3)


sys.exit(main(globals()))
