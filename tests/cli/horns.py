#!/usr/bin/env python3
"""Several horns at once: folders, choices, what a part needs."""
import csv
import io
import json
import math
import os
import pathlib
import pty
import shutil
import subprocess
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] /
                       "support"))

import collection
from tap import HIGH_PITCH, PROGRAM, ROOT, expect, flat, main, run

TUNES = ROOT / "tests/data/tunes.abc"
FAULTY = "hornbook: 1\nname: Broken\nlenght: 1400\n"


def _ask(*args, code=0, folder=None):
    return json.loads(expect(run(*args, "--json", folder=folder), code).stdout)


def folders_stand_for_their_horns(folder):
    horns = folder / "horns"
    horns.mkdir()
    (horns / "b.yaml").write_text(HIGH_PITCH % ("main", 2))
    (horns / "a.yaml").write_text(HIGH_PITCH % ("main", 1))
    (horns / "notes.txt").write_text("not a horn")
    (horns / ".hidden.yaml").write_text(FAULTY)
    (horns / "attic").mkdir()
    (horns / "attic" / "c.yaml").write_text(FAULTY)
    lines = expect(run("check", "horns", folder=folder), 0).stdout.split("\n")
    assert [line.split(":")[0] for line in lines if "good" in line] == [
        "horns/a.yaml", "horns/b.yaml"]
    data = _ask("pitch", "horns/", folder=folder)
    assert [h["horn"] for h in data["horns"]] == ["horns/a.yaml",
                                                  "horns/b.yaml"]
    (folder / "cornet-b-flat").mkdir()
    text = expect(run("check", "cornet-b-flat", folder=folder), 0).stdout
    assert "three pistons" in text, "a shipped name goes first"


def an_unsigned_horn_may_be_one_of_a_folder(folder):
    horns = folder / "horns"
    horns.mkdir()
    patterns = ROOT / "instruments/patterns"
    for name in ("keyed-bugle-c-6", "keyed-bugle-b-flat-6"):
        shutil.copy(patterns / f"{name}.yaml", horns)
    (folder / "r.yaml").write_text(
        "hornbook_readings: 1\nreadings:\n"
        "  - {note: C4, fingering: 0, cents: 0}\n"
        "  - {note: D4, fingering: 3, cents: 2}\n")
    named = expect(run("identify", "r.yaml", "horns/keyed-bugle-b-flat-6.yaml",
                       "horns/keyed-bugle-c-6.yaml", folder=folder), 0)
    at_once = expect(run("identify", "r.yaml", "horns", folder=folder), 0)
    assert at_once.stdout == named.stdout
    (folder / "empty").mkdir()
    expect(run("identify", "r.yaml", "empty", folder=folder), 3)
    expect(run("identify", "r.yaml", "empty", "horns", folder=folder), 1)


def a_folder_without_horns_is_named(folder):
    (folder / "empty").mkdir()
    for command in ("check", "pitch"):
        result = run(command, "empty", folder=folder)
        expect(result, 1 if command == "check" else 3)
        assert "empty: error: there is no horn file in this folder" in (
            result.stderr)
        result = run(command, "empty", "cornet-b-flat", folder=folder)
        expect(result, 1)
        assert "cornet" in result.stdout.lower()
    expect(run("choose", TUNES, "empty", "--tune", "3", folder=folder), 3)
    result = expect(run("choose", TUNES, "empty", "cornet-b-flat", "--tune",
                        "3", folder=folder), 1)
    assert "Cornet in B flat" in result.stdout
    if os.geteuid() != 0:
        (folder / "empty").chmod(0)
        result = expect(run("check", "empty", folder=folder), 1)
        (folder / "empty").chmod(0o700)
        assert "[H401]" in result.stderr


def a_faulty_horn_is_passed_over(folder):
    (folder / "bad.yaml").write_text(FAULTY)
    for args in (["pitch"], ["choose", TUNES, "--tune", "3"]):
        result = expect(run(*args, "bad.yaml", "cornet-b-flat",
                            folder=folder), 1)
        assert "bad.yaml:3:1: error:" in result.stderr
        assert "Cornet in B flat" in result.stdout
        result = expect(run(*args, "bad.yaml", folder=folder), 3)
        assert result.stdout == ""


def horns_are_ranked_and_the_reasons_told(_):
    data = _ask("choose", TUNES, "--tune", "7", "bass-e-flat", "cornet-b-flat",
               "keyed-bugle-c-6", "cornet-b-flat-two-valve", "--from-sounding",
               "--octave", "0")
    scores = [h["score"] for h in data["horns"]]
    assert scores == sorted(scores, reverse=True)
    assert [h["rank"] for h in data["horns"]] == [1, 2, 3, 4]
    for h in data["horns"]:
        lost = h["lost"]
        total = sum(lost.values())
        assert abs(h["score"] - max(0, 100 - total)) < 0.03
        # Whoever plays all stands above whoever does not.
        assert (h["not_available"] == []) == (h["score"] >= 20)
        assert h["reasons"].endswith(".")
    bass = next(h for h in data["horns"] if h["horn"] == "bass-e-flat")
    # Written an octave and a major sixth higher: treble clef, common practice.
    assert bass["shift"] == 21 and len(bass["not_available"]) == bass["notes"]
    # Two octaves lower, it plays all of it.
    best = _ask("choose", TUNES, "--tune", "7", "bass-e-flat",
                "--from-sounding")["horns"][0]
    assert best["octaves"] == -2 and best["shift"] == -3
    assert best["not_available"] == [] and best["lost"]["octave"] == 10
    slow = _ask("choose", TUNES, "--tune", "7", "keyed-bugle-c-6")
    fast = _ask("choose", TUNES, "--tune", "7", "keyed-bugle-c-6", "--tempo",
               "400")
    assert slow["horns"][0]["hard"] == 0 and fast["horns"][0]["hard"] > 0
    assert fast["horns"][0]["playable_quarters"] < 400
    assert (fast["horns"][0]["lost"]["difficulty"] >
            slow["horns"][0]["lost"]["difficulty"])
    text = expect(run("choose", TUNES, "--tune", "2", "cornet-b-flat",
                      "cornet-b-flat-two-valve", "--from-sounding", "--octave",
                      "0"), 0).stdout
    assert "plays every note" in text and "not available (bar " in text
    assert "Out of 100 points:" in text
    rows = list(csv.reader(io.StringIO(expect(
        run("choose", TUNES, "--tune", "7", "cornet-b-flat", "--format",
            "csv"), 0).stdout)))
    assert [len(row) for row in rows] == [18, 18]


def a_horn_that_is_flat_of_the_band_is_charged_once(folder):
    """What its slides do not reach costs half a point a cent, our price."""
    (folder / "high.yaml").write_text(
        "hornbook: 1\nbased_on: cornet-b-flat\nname: High pitch cornet\n"
        "tuning: {a4: 452.5}\n")
    names = ["cornet-b-flat", "high.yaml"]
    data = _ask("choose", TUNES, "--tune", "7", *names, "--a4", "452.5",
                folder=folder)
    assert data["format"] == "hornbook-choose/2"
    cornet, high = (
        next(h for h in data["horns"] if h["horn"] == name) for name in names)
    flat = 1200 * math.log2(452.5 / cornet["pitch_hz"])
    assert flat > 20 and abs(cornet["left_cents"] + flat) < 0.05
    assert abs(cornet["lost"]["pitch"] - 0.5 * flat) < 0.02
    assert abs(high["left_cents"]) < 0.01 and high["lost"]["pitch"] == 0
    assert data["horns"][0] is high
    assert abs(high["rms_cents"] - cornet["rms_cents"]) < 2
    home = _ask("choose", TUNES, "--tune", "7", "cornet-b-flat")["horns"][0]
    # The notes are no worse in tune than at home.
    assert abs(home["rms_cents"] - cornet["rms_cents"]) < 2
    assert home["lost"]["pitch"] == 0 and home["a4_hz"] == 440
    text = expect(run("choose", TUNES, "--tune", "7", *names, "--a4",
                      "452.5", folder=folder), 0).stdout
    told = f"all {flat:.0f} cents flat of A = 452.5 Hz, plays at A = 446"
    text = " ".join(text.split())
    assert text.count("flat of A =") == 1 and told in text
    assert f"pitch {0.5 * flat:.1f}" in text
    assert "a pitch that the horn does not reach up to 20" in text
    raw = _ask("choose", TUNES, "--tune", "7", "cornet-b-flat", "--a4",
               "452.5", "--raw")["horns"][0]
    assert raw["left_cents"] == 0 and raw["lost"]["pitch"] == 0
    assert raw["rms_cents"] > cornet["rms_cents"] + 5
    # With a minor third of crook, valve slides that stay in are far too short.
    own, pushed = (
        _ask("choose", TUNES, "--tune", "7", "cornopean-b-flat", "--crook",
             "G", "--valve-slides", how)["horns"][0]
        for how in ("own", "in"))
    assert own["rms_cents"] + 10 < pushed["rms_cents"]


def tuning_counts_by_the_length_of_the_notes(folder):
    """Two notes, one long; the mean is worked out here from the table."""
    (folder / "t.abc").write_text("X:1\nT:Two\nM:4/4\nL:1/4\nK:C\nd3 c |]\n")
    notes = {n["written"]: n["fingerings"][0]["cents"]
             for n in _ask("notes", "keyed-bugle-c-6")["notes"]
             if n["fingerings"]}
    data = _ask("choose", "t.abc", "keyed-bugle-c-6", folder=folder)
    want = math.sqrt((3 * notes["D5"] ** 2 + notes["C5"] ** 2) / 4)
    assert abs(data["horns"][0]["rms_cents"] - want) < 0.02


def a_part_that_nobody_covers_is_answered_no(folder):
    (folder / "low.abc").write_text(
        "X:1\nT:Low\nM:4/4\nL:1/4\nK:C\nC,,D,, E,,2 |]\n")
    result = expect(run("choose", "low.abc", "cornet-b-flat", "--octave", "0",
                        "keyed-bugle-c-6", folder=folder), 1)
    assert "3 of 3 notes not available (bar 1:" in result.stdout
    # Five octaves are on no horn, wherever they are put.
    (folder / "wide.abc").write_text(
        "X:1\nT:Wide\nM:4/4\nL:1/4\nK:C\nC,,2 c''2 |]\n")
    result = expect(run("choose", "wide.abc", "cornet-b-flat",
                        "keyed-bugle-c-6", folder=folder), 1)
    assert "1 of 2 notes not available (bar 1:" in result.stdout
    (folder / "edge.abc").write_text("X:1\nT:Edge\nK:C\nC,,,,C,,,, |]\n")
    result = run("choose", "edge.abc", "cornet-e-flat-rotary", "--octave", "-4",
                 "--from-sounding", folder=folder)
    assert result.returncode in (1, 3) and result.stderr.count("\n") < 5


def slips_are_named_before_anything_is_done(folder):
    (folder / "endless.abc").write_text(
        "X:1\nT:t\nM:none\nL:1/16\nK:C\n|:" + "CDEFGABc|\n" * 1000 +
        "|1-60 c:|61 c|]\n")
    (folder / "bad.abc").write_text("X:1\nT:Length\nK:C\nC2/0 D |]\n")
    for args, code, word in [
        (["slides"], 2, "name one horn"),
        (["slides", "cornet-b-flat", "--raw"], 2, "does not belong"),
        (["slides", "cornet-b-flat", "--crook", "A"], 2, "no crooks"),
        (["slides", "cornet-b-flat", "--format", "pdf"], 2, "-o slides.pdf"),
        (["slides", "cornet-b-flat", "-o", "x.doc"], 2, "pdf, svg or png"),
        (["slides", "no-such-horn"], 3, "no horn called"),
        (["pitch"], 2, "name the horns"),
        (["pitch", "cornet-b-flat", "--a4", "900"], 2, "300 to 600"),
        (["pitch", "cornet-b-flat", "--jobs", "0"], 2, "1 to 64"),
        (["pitch", "cornet-b-flat", "--format", "pdf"], 2, "csv or json"),
        (["pitch", "no-such-horn"], 3, "no horn called"),
        (["choose", TUNES], 2, "name a tune, then the horns"),
        (["choose", TUNES, "cornet-b-flat"], 3, "[H212]"),
        (["choose", TUNES, "cornet-b-flat", "--tune", "99"], 3, "[H213]"),
        (["choose", "bad.abc", "cornet-b-flat"], 3, "[H201]"),
        (["choose", "endless.abc", "cornet-b-flat"], 3, "[H402]"),
        (["choose", "gone.abc", "cornet-b-flat"], 3, "gone.abc"),
        (["choose", TUNES, "cornet-b-flat", "--tune", "3", "--tempo", "0"], 2,
         "--tempo"),
        (["choose", TUNES, "cornet-b-flat", "keyed-bugle-c-6", "--tune", "3",
          "--stuck", "valve:2=down"], 2, "name that horn alone"),
        (["notes", "cornet-b-flat", "--jobs", "2"], 2, "does not belong"),
    ]:
        result = expect(run(*args, folder=folder), code)
        assert result.stdout == "", args
        assert word in result.stderr, (args, result.stderr)


def three_hundred_invented_horns_are_read_and_ranked(folder):
    """Chains of based_on among them; the order of threads changes nothing."""
    horns = folder / "horns"
    horns.mkdir()
    names = collection.make(horns, 300, collection.LENGTHS +
                            ["cornet-b-flat-bore"])
    checked = expect(run("check", "horns", folder=folder), 0)
    lines = [line for line in checked.stdout.splitlines() if line[0] != " "]
    assert len(lines) == 300
    for name, line in zip(names, lines):
        is_doubted = f"horns/{name}: warning: " in checked.stderr
        found = "can be read, but look at the warnings" if is_doubted else "the file is good"
        assert line.startswith(f"horns/{name}: {found}: Invented horn"), line
    args = ["choose", TUNES, "horns", "--tune", "7", "--json"]
    one = expect(run(*args, "--jobs", "1", folder=folder), 0)
    many = expect(run(*args, "--jobs", "5", folder=folder), 0)
    assert one.stdout == many.stdout and one.stderr == many.stderr
    assert one.stderr.count("[") == one.stderr.count("[H312]") == 1
    ranked = json.loads(one.stdout)["horns"]
    assert sorted(h["horn"] for h in ranked) == [
        f"horns/{name}" for name in names]
    assert len({h["score"] for h in ranked}) > 100, "they differ"
    # What a variant says of itself it says alone; the rest is its base's.
    (horns / "h300.yaml").write_text(
        "hornbook: 1\nbased_on: h001.yaml\nname: Twin\n")
    twin = _ask("notes", "horns/h300.yaml", folder=folder)
    base = _ask("notes", "horns/h001.yaml", folder=folder)
    assert {**twin, "horn": ""} == {**base, "horn": ""}
    pitch = _ask("pitch", "horns", folder=folder)
    assert len(pitch["horns"]) == 301


def a_circle_among_many_is_named_and_passed_over(folder):
    horns = folder / "horns"
    horns.mkdir()
    collection.make(horns, 4, collection.LENGTHS)
    (horns / "x.yaml").write_text(
        "hornbook: 1\nbased_on: y.yaml\nname: X\n")
    (horns / "y.yaml").write_text(
        "hornbook: 1\nbased_on: x.yaml\nname: Y\n")
    result = expect(run("choose", TUNES, "horns", "--tune", "7",
                        folder=folder), 1)
    assert result.stderr.count("[H121]") == 2
    assert result.stdout.count("Invented horn") == 4


def progress_is_shown_on_a_terminal_only(folder):
    collection.make(folder, 3, collection.LENGTHS)
    args = [str(PROGRAM), "choose", str(TUNES), "--tune", "7", str(folder)]

    def on_terminal(*more):
        ours, theirs = pty.openpty()
        done = subprocess.run([*args, *more], stdout=subprocess.PIPE,
                              stderr=theirs, timeout=60, check=True)
        os.close(theirs)
        seen = b""
        try:
            while chunk := os.read(ours, 4096):
                seen += chunk
        except OSError:  # the terminal is gone once it is read to its end
            pass
        os.close(ours)
        return done.stdout, seen

    shown, seen = on_terminal()
    assert b"2 of 3 horns" in seen
    assert on_terminal("--quiet")[1] == b""
    quiet = subprocess.run(args, capture_output=True, timeout=60, check=True)
    assert b" of 3 horns" not in quiet.stderr and quiet.stdout == shown
    assert quiet.stderr.count(b"\n") == 1 and b"[H312]" in quiet.stderr


def an_output_that_cannot_be_written_is_told(folder):
    for args in (["slides", "cornet-b-flat", "-o", "no/s.pdf"],
                 ["pitch", "cornet-b-flat", "-o", "no/l.csv"],
                 ["choose", TUNES, "--tune", "3", "cornet-b-flat", "-o",
                  "no/c.json"]):
        expect(run(*args, folder=folder), 4)
    assert list(folder.iterdir()) == []
    shutil.rmtree(folder / "no", ignore_errors=True)


sys.exit(main(globals()))
