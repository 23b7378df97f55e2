#!/usr/bin/env python3
"""Runs the program as a user would: arguments, exit code, both streams.

Each case is a function whose name is a sentence; it gets a fresh folder.
"""
import json
import math
import os
import pathlib
import re
import shutil
import signal
import subprocess
import sys

sys.dont_write_bytecode = True

from tap import BAD_HORN, OWN_HORN, PROGRAM, ROOT, expect, flat, main, run


def nothing_asked_is_wrong_usage(_):
    result = expect(run(), 2)
    assert result.stdout == "" and "Usage" in result.stderr


def help_goes_to_standard_output(_):
    assert "Usage" in expect(run("--help"), 0).stdout
    assert "Usage" in expect(run("notes", "--help"), 0).stdout
    assert "hornbook" in expect(run("--version"), 0).stdout


def slips_of_usage_are_named(_):
    for args, word in [
        (["note"], "did you mean 'notes'"),
        (["notes"], "name one horn"),
        (["notes", "cornet-b-flat", "--a4"], "wants a value"),
        (["notes", "cornet-b-flat", "--a4", "4x0"], "300 to 600"),
        (["notes", "cornet-b-flat", "--pitch", "440"], "no option"),
        (["notes", "cornet-b-flat", "--paper", "A4"], "does not belong"),
        (["notes", "cornet-b-flat", "--crook", "A"], "no crooks"),
        (["notes", "cornopean-b-flat", "--crook", "H"], "A, Ab, G"),
        (["notes", "cornet-b-flat", "--stuck", "valve:9=up"], "--stuck"),
        (["notes", "cornet-b-flat", "--stuck", "valve:1=up,valve:1=down"],
         "both ways"),
        (["notes", "cornet-b-flat", "--hold", "H5"], "not a written note"),
        (["notes", "cornet-b-flat", "--hold", "C7"], "outside the compass"),
        (["notes", "cornet-b-flat", "--hold", " "], "names no note"),
        (["notes", "cornet-b-flat", "--root", "C5"], "belongs to --hold"),
        (["notes", "cornet-b-flat", "--hold", "E5", "--root", "H"],
         "not a written note"),
        (["notes", "cornet-b-flat", "--format", "pdf"], "csv"),
        (["chart", "cornet-b-flat"], "-o chart.pdf"),
        (["chart", "cornet-b-flat", "-o", "x.doc"], "pdf, svg or png"),
        (["chart", "cornet-b-flat", "-o", "x.pdf", "--paper", "B5"], "A4"),
        (["chart", "cornet-b-flat", "-o", "x.pdf", "--layout", "poster"],
         "plate, wall, stand, card, large or trills"),
        (["chart", "cornet-b-flat", "-o", "x.pdf", "--layout", "stand",
          "--paper", "A6"], "A5 or larger"),
        (["chart", "cornet-b-flat", "-o", "chart"], "end the file name so"),
        (["slides", "cornet-b-flat", "-o", "card"], "end the file name so"),
        (["notes", "cornet-b-flat", "--a4", "452,5"],
         "--a4: '452,5': write decimals with a point, as in 452.5"),
        (["notes", "cornet-b-flat", "--a4", "4,5,2"], "takes a number"),
        (["notes", "cornet-b-flat", "--a4", "1,200"], "takes a number"),
        (["notes", "cornet-b-flat", "--a4", "440,-5"], "takes a number"),
        (["help", "nots"], "did you mean 'notes'?"),
        (["help", "notes", "chart"], "name one command"),
    ]:
        result = expect(run(*args), 2)
        assert result.stdout == "", args
        assert word in result.stderr, (args, result.stderr)


def shipped_horns_are_listed(_):
    lines = expect(run("horns"), 0).stdout.splitlines()
    assert len(lines) >= 25
    assert any(line.startswith("keyed-bugle-c-6 ") for line in lines)


def shipped_horns_are_found_by_the_words_in_their_names(_):
    every = [f"{horn['horn']} {horn['name']}" for horn in json.loads(
        expect(run("horns", "--json"), 0).stdout)["horns"]]
    names = expect(run("horns", "--brief"), 0).stdout.splitlines()
    assert names == [line.split()[0] for line in every]
    bugles = expect(run("horns", "Keyed", "BUGLE", "--brief"), 0).stdout.splitlines()
    want = [line.split()[0] for line in every
            if "keyed" in line.lower() and "bugle" in line.lower()]
    assert bugles == want and 1 < len(bugles) < len(every)
    in_b = expect(run("horns", "b flat"), 0).stdout
    assert in_b == run("horns", "Bb").stdout == run("horns", "B♭").stdout
    assert flat(in_b).replace(" (measured)", "")\
        .replace(" (measured, not to learn from)", "") == flat("\n".join(
        line for line in every
        if re.search(r"\bb[ -]flat\b", line.lower())))
    assert "bass-e-flat" not in run("horns", "b", "flat").stdout
    none = expect(run("horns", "alp", "horn"), 1)
    assert none.stdout == "" and "is called 'alp horn'" in none.stderr


def no_shipped_horns_are_no_empty_list(folder):
    os.environ["HORNBOOK_INSTRUMENTS"] = str(folder)
    try:
        told = [expect(run(*words), 3)
                for words in (["horns"], ["notes", "cornet-b-flat"])]
        horns = folder / "patterns"
        horns.mkdir()
        (horns / "bad.yaml").write_text(BAD_HORN)
        shutil.copy(ROOT / "instruments/patterns/cornet-b-flat.yaml", horns)
        part = expect(run("horns", "cornet"), 3)
    finally:
        del os.environ["HORNBOOK_INSTRUMENTS"]
    for each in told:
        assert each.stdout == ""
        assert f"there are no horns in {folder};" in each.stderr
    assert part.stdout.startswith("cornet-b-flat ") and "bad" in part.stderr


def help_is_a_command_too(_):
    assert run("help").stdout == run("--help").stdout == run(
        "help", "--help").stdout
    assert run("help", "notes", "--help").stdout == run("help", "notes").stdout
    assert "did you mean 'help'?" in expect(run("hepl"), 2).stderr
    assert run("help", "notes").stdout == run("notes", "--help").stdout
    expect(run("help", "notes"), 0)


def what_was_written_is_said_but_not_to_the_quiet(folder):
    sheet = ["scales", "cornet-b-flat", "-o", "keys.svg"]
    said = expect(run(*sheet, folder=folder), 0)
    files = sorted(path.name for path in folder.iterdir())
    assert len(files) > 1, "the sheet has several pages"
    assert said.stdout == ""
    words = said.stderr.splitlines()[-1]
    assert words.startswith("wrote keys.svg, keys-2.svg")
    assert sorted(words.removeprefix("wrote ").split(", ")) == files
    pdf = sheet[:-1] + ["keys.pdf"]
    assert expect(run(*pdf, folder=folder), 0).stderr == "wrote keys.pdf\n"
    text = ["notes", "cornet-b-flat", "-o", "notes.csv"]
    assert expect(run(*text, folder=folder), 0).stderr == "wrote notes.csv\n"
    loud = ["chart", "cornet-b-flat", "-o", "LOUD.PDF"]
    assert expect(run(*loud, folder=folder), 0).stderr == "wrote LOUD.PDF\n"
    for words in (sheet, pdf, text):
        assert expect(run(*words, "-q", folder=folder), 0).stderr == ""


def a_command_that_is_not_there_is_no_other_one(_):
    """Commands of 0.1.0 that have another name now are unknown, too."""
    for name in ("which", "level", "column", "fumble"):
        result = expect(run(name, "cornet-b-flat"), 2)
        assert result.stdout == ""
        assert result.stderr.splitlines()[0] == (
            f"hornbook: there is no command '{name}'")


def an_unknown_horn_gets_the_nearest(_):
    result = expect(run("notes", "cornet-b-flatt"), 3)
    assert "cornet-b-flat" in result.stderr and result.stdout == ""


def check_tells_good_from_bad(folder):
    (folder / "bad.yaml").write_text(BAD_HORN)
    (folder / "own.yaml").write_text(OWN_HORN)
    result = expect(run("check", "own.yaml", folder=folder), 0)
    assert "My attic horn" in result.stdout
    result = expect(run("check", "bad.yaml", "own.yaml", folder=folder), 1)
    assert "My attic horn" in result.stdout
    assert "bad.yaml:3:1: error:" in result.stderr


def a_bad_horn_stops_with_three(folder):
    (folder / "bad.yaml").write_text(BAD_HORN)
    for args in (["notes", "bad.yaml"], ["chart", "bad.yaml", "-o", "x.pdf"]):
        result = expect(run(*args, folder=folder), 3)
        assert result.stdout == ""
        assert "bad.yaml:3:1: error:" in result.stderr
        assert "length" in result.stderr and "[H" in result.stderr
    assert sorted(p.name for p in folder.iterdir()) == ["bad.yaml"]


def a_horn_of_ones_own_gives_notes_and_chart(folder):
    (folder / "own.yaml").write_text(OWN_HORN)
    text = expect(run("notes", "own.yaml", folder=folder), 0).stdout
    assert "My attic horn" in text
    expect(run("chart", "own.yaml", "-o", "own.pdf", folder=folder), 0)
    assert (folder / "own.pdf").read_bytes().startswith(b"%PDF-")


def json_carries_the_public_fields(_):
    data = json.loads(expect(run("notes", "cornet-b-flat", "--json"), 0).stdout)
    assert data["not_available"] == []
    assert len(data["notes"]) == 31
    for note in data["notes"]:
        assert {"written", "sounding", "target_hz", "fingerings"} <= set(note)
        costs = [f["cost"] for f in note["fingerings"]]
        assert costs == sorted(costs)
        for f in note["fingerings"]:
            assert set(f) >= {"press", "label", "partial", "hz", "cents",
                              "response_db", "cost", "taught"}
            assert f["label"] == ("-".join(f["press"]) or "0")
            assert f["response_db"] == 0
    c5 = next(n for n in data["notes"] if n["written"] == "C5")
    assert c5["sounding"] == "A#4" and c5["fingerings"][0]["press"] == []
    e4 = next(n for n in data["notes"] if n["written"] == "E4")
    assert [(f["label"], f["taught"]) for f in e4["fingerings"]] == [
        ("1-2", True), ("3", False)]
    data = json.loads(
        expect(run("notes", "cornet-b-flat-two-valve", "--json"), 0).stdout)
    assert data["not_available"] == ["C#4", "D4", "D#4", "G#4"]
    g_sharp5 = next(n for n in data["notes"] if n["written"] == "G#5")
    assert [f["taught"] for f in g_sharp5["fingerings"]] == [None]


def written_c_sounds_what_the_trade_says(_):
    """Transposition in treble notation: common practice, no source."""
    for horn, sounding in [
        ("cornet-e-flat-rotary", "D#4"), ("keyed-bugle-c-6", "C4"),
        ("cornet-b-flat", "A#3"), ("alto-e-flat", "D#3"),
        ("baritone-b-flat", "A#2"), ("bass-e-flat", "D#2"),
    ]:
        data = json.loads(expect(run("notes", horn, "--json"), 0).stdout)
        c4 = next(n for n in data["notes"] if n["written"] == "C4")
        assert c4["sounding"] == sounding, horn


def csv_has_one_row_a_fingering(_):
    lines = expect(run("notes", "keyed-bugle-c-6", "--format", "csv"),
                   0).stdout.splitlines()
    width = len(lines[0].split(","))
    assert all(len(line.split(",")) == width for line in lines)
    assert len(lines) > 26


def options_change_the_answer(folder):
    def notes(*args):
        return json.loads(expect(run("notes", *args, "--json"), 0).stdout)

    flat = notes("cornet-b-flat", "--a4", "430")
    assert flat["tuning"]["slides"][0]["pulled_mm"] > 10
    assert abs(flat["tuning"]["after_cents"]) < 0.01
    high = notes("cornet-b-flat", "--a4", "452.5")
    # 48.5 cents, less 23.7 for a slide of two legs that goes in by 10 mm.
    assert abs(high["left_cents"] + 24.8) < 0.1
    assert abs(high["pitch_hz"] - 446.1) < 0.1
    warm = notes("cornet-b-flat", "--temperature", "27")
    # 20.2 cents from 20 to 27 degrees: speed of sound after Keefe 1984.
    assert abs(warm["tuning"]["before_cents"] - 20.2) < 0.1
    crook = notes("cornopean-b-flat", "--crook", "A")
    assert crook["written_c4_sounds"] == "A3"
    assert abs(crook["tuning"]["after_cents"]) < 1
    stuck = notes("cornet-b-flat", "--stuck", "valve:3=up")
    assert "D4" in stuck["not_available"]
    lipped = notes("cornet-b-flat-two-valve", "--lip", "20")
    assert "G#5" in lipped["not_available"]
    text = expect(run("notes", "cornet-b-flat", "--sounding"), 0).stdout
    assert "sounding" in text


def a_stuck_open_key_sets_the_pitch(_):
    """One open hole, nearest the mouthpiece, sets the pitch."""
    data = json.loads(expect(run("notes", "keyed-bugle-c-6", "--json",
                                 "--stuck", "key:3=open"), 0).stdout)
    d4 = next(n for n in data["notes"] if n["written"] == "D4")
    assert d4["fingerings"][0]["press"] == []
    assert "C4" in data["not_available"]
    lost = json.loads(expect(run("notes", "keyed-bugle-c-6", "--json",
                                 "--stuck", "key:1=open"), 0).stdout)
    assert "B3" in lost["not_available"]


def charts_come_in_three_formats(folder):
    for name, start in [("c.pdf", b"%PDF-"), ("c.svg", b"<?xml"),
                        ("c.png", b"\x89PNG")]:
        expect(run("chart", "keyed-bugle-c-6", "-o", name, folder=folder), 0)
        first = (folder / name).read_bytes()
        assert first.startswith(start)
        expect(run("chart", "keyed-bugle-c-6", "-o", name, folder=folder), 0)
        assert (folder / name).read_bytes() == first, "same input, same bytes"
    assert sorted(p.name for p in folder.iterdir()) == [
        "c.pdf", "c.png", "c.svg"]


def the_picture_in_charts_is_not_stale(folder):
    """Renew with: build/hornbook chart NAME -o charts/NAME.svg"""
    kept = sorted((ROOT / "charts").glob("*.svg"))
    assert kept, "README shows a picture"
    for picture in kept:
        expect(run("chart", picture.stem, "-o", picture.name, folder=folder), 0)
        assert picture.read_bytes() == (folder / picture.name).read_bytes(), (
            picture.name)


def an_output_that_cannot_be_written_leaves_nothing(folder):
    result = expect(run("chart", "cornet-b-flat", "-o", "no/where.pdf",
                        folder=folder), 4)
    assert "where.pdf" in result.stderr
    expect(run("notes", "cornet-b-flat", "-o", "no/where.csv",
               folder=folder), 4)
    assert list(folder.iterdir()) == []


def a_full_disk_is_told(folder):
    if not os.path.exists("/dev/full"):
        return
    with open("/dev/full", "wb") as full:
        result = run("notes", "cornet-b-flat", out=full)
    expect(result, 4)
    expect(run("chart", "cornet-b-flat", "--format", "pdf", "-o",
               "/dev/full"), 4)


def a_file_larger_than_allowed_leaves_no_half(folder):
    """A limit on the size of files stands in for a disk that fills up."""
    import resource

    before = (folder / "c.pdf")
    before.write_bytes(b"as it was")
    result = subprocess.run(
        [str(PROGRAM), "chart", "cornet-b-flat", "-o", "c.pdf"],
        cwd=folder, capture_output=True, text=True, timeout=60, check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE,
                                              (2048, 2048)))
    expect(result, 4)
    assert before.read_bytes() == b"as it was"
    assert [p.name for p in folder.iterdir()] == ["c.pdf"]


def pages_go_to_files_of_their_own_or_none(folder):
    expect(run("chart", "ophicleide-c-9", "--paper", "A6", "--format", "svg",
               "-o", "a.b", folder=folder), 0)
    names = sorted(p.name for p in folder.iterdir())
    assert names[0] == "a-2.b" and "a.b" in names, names
    for path in folder.iterdir():
        path.unlink()
    (folder / "p-2.svg").mkdir()
    expect(run("chart", "ophicleide-c-9", "--paper", "A6", "-o", "p.svg",
               folder=folder), 4)
    assert [p.name for p in folder.iterdir()] == ["p-2.svg"]


def a_pipe_does_not_hang(folder):
    os.mkfifo(folder / "pipe.yaml")
    result = expect(run("check", "pipe.yaml", folder=folder), 1)
    assert "is not a file" in result.stderr
    with subprocess.Popen([str(PROGRAM), "notes", "-"], stdin=subprocess.PIPE,
                          stdout=subprocess.PIPE, text=True) as process:
        out, _ = process.communicate(OWN_HORN, timeout=60)
    assert process.returncode == 0 and "My attic horn" in out


def a_title_has_bounds(_):
    for title in ["", "x" * 121, os.fsdecode(b"\xff")]:
        result = expect(run("chart", "cornet-b-flat", "-o", "x.pdf", "--title",
                            title), 2)
        assert "title" in result.stderr


def horns_by_bore_answer_in_time_and_in_words(_):
    data = json.loads(
        expect(run("notes", "keyed-bugle-c-6-munich", "--json"), 0).stdout)
    ways = [f for n in data["notes"] for f in n["fingerings"]]
    assert sum(f["response_db"] != 0 for f in ways) > 0.9 * len(ways)
    raw = json.loads(expect(run("notes", "keyed-bugle-c-6-munich", "--raw",
                                "--json"), 0).stdout)
    assert raw["tuning"]["slides"][0]["pulled_mm"] == 0
    assert raw["tuning"]["before_cents"] == raw["tuning"]["after_cents"]


def thirty_keys_are_solved_and_told(folder):
    fingers = [f"{hand} {finger}" for hand in ("left", "right") for finger in
               ("thumb", "index", "middle", "ring", "little")]
    keys = "".join(
        f"  - {{key: {i + 1}, rest: shut, raises: {0.4 * (i + 1):.1f}, "
        f"finger: {fingers[i % 10]}}}\n" for i in range(30))
    (folder / "h.yaml").write_text(
        "hornbook: 1\nname: Thirty keys\nwritten_c4_sounds: C4\n"
        "fundamental: C3\nkeys:\n" + keys)
    result = expect(run("notes", "h.yaml", folder=folder), 0)
    assert "up to 4 fingers" in result.stderr


def a_missing_font_is_told(folder):
    environment = dict(os.environ, HORNBOOK_FONTS=str(folder))
    result = subprocess.run(
        [str(PROGRAM), "chart", "cornet-b-flat", "-o", "c.pdf"], cwd=folder,
        capture_output=True, text=True, env=environment, timeout=60,
        check=False)
    expect(result, 4)
    assert "fonts-noto-core" in result.stderr
    assert list(folder.iterdir()) == []


def numbers_do_not_follow_the_locale(folder):
    """In a locale with a comma, made here so that it is really there."""
    subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8",
                    str(folder / "de_DE.UTF-8")], check=True,
                   capture_output=True)
    environment = dict(os.environ, LC_ALL="de_DE.UTF-8", LOCPATH=str(folder))
    comma = subprocess.run(["printf", "%.1f", "1,5"], env=environment,
                           capture_output=True, text=True, check=False)
    assert comma.stdout == "1,5", comma
    asked = ["notes", "cornet-b-flat", "--a4", "442.5", "--json"]
    other = subprocess.run([str(PROGRAM), *asked], cwd=ROOT,
                           capture_output=True, text=True, env=environment,
                           timeout=60, check=False)
    assert other.stdout == expect(run(*asked), 0).stdout


BORED = ROOT / "tests/data/good/cornet-by-bore.yaml"


def resonances_tables_every_fingering(folder):
    result = expect(run("resonances", BORED, "--fingering", "0", "--fingering",
                        "1-3", "--to", "900", "--points", "300"), 0)
    lines = result.stdout.splitlines()
    assert lines[0] == ("hz,level_db 0,level_db 1-3,maximum_hz 0,played_hz 0,"
                        "maximum_hz 1-3,played_hz 1-3")
    assert len(lines) == 301
    assert lines[-1].startswith("900.000,")
    assert all(len(line.split(",")) == 7 for line in lines)
    maxima = [line.split(",") for line in lines[1:] if line.split(",")[3]]
    assert len(maxima) > 5
    for hz, _, _, maximum, heard, *_ in maxima:
        assert abs(float(hz) - float(maximum)) <= 1.5
        assert 0.9 < float(heard) / float(maximum) < 1.1
    expect(run("resonances", BORED, "-o", "c.csv", folder=folder), 0)
    assert len((folder / "c.csv").read_text().splitlines()) == 1001


def resonances_names_the_maxima(_):
    answer = json.loads(expect(run("resonances", BORED, "--json"), 0).stdout)
    assert answer["format"] == "hornbook-resonances/1" and answer["tuned"]
    assert len(answer["hz"]) == 1000
    [open_horn] = answer["fingerings"]
    assert open_horn["label"] == "0" and open_horn["press"] == []
    assert len(open_horn["level_db"]) == 1000
    fourth = open_horn["maxima"][3]
    assert fourth["partial"] == 4 and fourth["note"] == "C5"
    # The tuning note is heard as B flat 4 (ISO 16: 466.164 Hz).
    assert abs(fourth["played_hz"] - 466.164) < 0.01
    assert fourth["played_note"] == "C5" and abs(fourth["played_cents"]) < 0.05
    assert abs(fourth["hz"] - 466.164) < 5 and abs(fourth["cents"]) < 20
    for m in open_horn["maxima"]:
        assert m["height"] > 0 and m["q"] > 1 and "response_db" in m
        k = min(range(1000), key=lambda i: abs(answer["hz"][i] - m["hz"]))
        assert open_horn["level_db"][k] <= m["level_db"] + 1e-3
    raw = json.loads(expect(run("resonances", BORED, "--raw", "--format",
                                "json"), 0).stdout)
    assert not raw["tuned"]
    assert raw["fingerings"][0]["maxima"][3]["hz"] > fourth["hz"]


def resonances_are_drawn(folder):
    for name, start in [("c.pdf", b"%PDF"), ("c.png", b"\x89PNG"),
                        ("c.svg", b"<?xml")]:
        expect(run("resonances", BORED, "-o", name, "--fingering", "0",
                   "--fingering", "2-3", folder=folder), 0)
        first = (folder / name).read_bytes()
        assert first.startswith(start)
        expect(run("resonances", BORED, "-o", name, "--fingering", "0",
                   "--fingering", "2-3", folder=folder), 0)
        assert (folder / name).read_bytes() == first
    assert "stroke-dasharray" in (folder / "c.svg").read_text()


def resonances_of_a_horn_without_a_bore_is_answered_no(_):
    result = expect(run("resonances", "cornet-b-flat"), 1)
    assert "described by its length only; a bore is needed" in result.stderr
    assert result.stdout == ""


def slips_with_resonances_are_named(_):
    seven = [word for i in range(7) for word in ("--fingering", str(i))]
    for args, word in [
        ([], "name one horn"),
        ([BORED, "--fingering", "4"], "keys and valves of this horn"),
        ([BORED, "--fingering", "1-3", "--fingering", "3-1"], "given twice"),
        ([BORED, *seven], "6 times at most"),
        ([BORED, "--fingering", "1", "--stuck", "valve:1=up"],
         "presses what is stuck"),
        ([BORED, "--to", "90"], "200 to 4000 Hz"),
        ([BORED, "--points", "1e9"], "50 to 20000"),
        ([BORED, "--points", "99.5"], "whole number"),
        ([BORED, "--format", "text"], "written as csv, json"),
        ([BORED, "--format", "pdf"], "-o resonances.pdf"),
        ([BORED, "--layout", "wall"], "does not belong"),
        ([BORED, "-o", "c.pdf", "--paper", "B4"], "A4, A5"),
    ]:
        result = expect(run("resonances", *args), 2)
        assert result.stdout == "", args
        assert word in result.stderr, (args, result.stderr)


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
    assert "could contradict it: D4 with 1-3. Read" in flat(text)
    data = json.loads(expect(run("fit", "cornopean-b-flat", "r.yaml", "-q",
                                 "--json", folder=folder), 0).stdout)
    assert [r["crook"] for r in data["readings"]] == [None, "A", None]
    assert [r["a4_hz"] for r in data["readings"]] == [440, 440, 442]
    assert data["readings"][0]["pulled_mm"] == {"main": 5}
    assert [r["alone_on"] for r in data["readings"]] == [None, None, "1"]


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


def a_slide_named_like_a_valve_is_asked_about(folder):
    text = ("hornbook: 1\nname: H\nwritten_c4_sounds: Bb3\n"
            "fundamental: Bb2\n"
            "valves: [{valve: 1, loop: 12 %, finger: right index}]\n"
            "slides: [{slide: main, travel: 30}, {slide: first, travel: 9XX}]"
            "\n")
    (folder / "h.yaml").write_text(text.replace("XX", ""))
    result = expect(run("check", "h.yaml", folder=folder), 0)
    assert "write 'valve: 1' if it is that valve's" in result.stderr
    (folder / "h.yaml").write_text(text.replace("XX", ", valve: 1"))
    result = expect(run("check", "h.yaml", folder=folder), 0)
    assert result.stderr == ""


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


FAST_RUN = "F#5:1/16 E5:1/16 F#5:1/16 E5:1/16 F#5 | D4:1/16 E4:1/16 D4:1/16 E4:1/16 D4"
OWN_TUNE = """\
X:1
T:Own tune
M:4/4
L:1/4
Q:1/4=100
K:C
C "_3"E G2 | % a remark
"_1-2"D "_7"C z2 |]
"""


def a_fast_run_gets_alternates_with_reasons(_):
    text = expect(
        run("passage", "cornet-b-flat", "--run", FAST_RUN, "--tempo", "126"),
        0).stdout
    assert "Tempo: quarter = 126, as asked" in text
    assert "with 0, after F#5: the partial changes from 6 to 5" in text
    assert "valve 3 up as valve 2 goes down (right ring" in text
    assert "* alternate fingering" in text
    slow = expect(
        run("passage", "cornet-b-flat", "--run", FAST_RUN, "--tempo", "40"),
        0).stdout
    assert "0 alternate fingerings" in slow and "*" not in slow


def a_tempo_nobody_gave_is_told(_):
    text = expect(
        run("passage", "cornet-b-flat", "--run", "C5 D5"), 0).stdout
    assert ("quarter = 100, for the tune gives none; say another with --tempo"
            in text)


def hard_places_name_their_tempo(_):
    text = expect(run("passage", "cornet-b-flat", "charts/attic-galop.abc",
                      "--tempo", "150"), 0).stdout
    assert "Hard places (!)" in text
    assert "playable from about quarter = 135 down" in text


def a_passage_as_json_carries_the_public_fields(_):
    data = json.loads(expect(
        run("passage", "keyed-bugle-c-6", "charts/attic-galop.abc", "--json",
            "--choices", "3"), 0).stdout)
    assert data["format"] == "hornbook-passage/2" and data["exact"]
    assert data["tempo"] == {"quarters": 126, "asked": False, "assumed": False}
    assert data["not_available"] == [] and data["moved_semitones"] == 0
    assert len(data["ways"]) == 4
    prices = [way["total_cost"] for way in data["ways"]]
    assert prices == sorted(prices)
    assert len(data["notes"]) == len(data["ways"][0]["labels"]) == 73
    for i, note in enumerate(data["notes"]):
        assert {"bar", "onset", "length", "written", "press", "label",
                "partial", "cents", "usual", "others"} <= set(note)
        assert note["label"] == data["ways"][0]["labels"][i]
        assert note["usual"] == ("why" not in note)
        dearer = [other["extra_cost"] for other in note["others"]]
        assert dearer == sorted(dearer) and len(dearer) <= 3
    assert sum(not note["usual"] for note in data["notes"]) == data[
        "alternates"] > 0
    assert any(note.get("trill", {}).get("kind") == "easy"
               for note in data["notes"])


def fingerings_go_into_ones_own_file_and_nowhere_else(folder):
    own = (ROOT / "charts" / "attic-galop.abc").read_text()
    (folder / "own.abc").write_text(own)
    expect(run("passage", "cornet-b-flat", "own.abc", "-o", "out.abc",
               "--only-departures", folder=folder), 0)
    out = (folder / "out.abc").read_text()
    assert (folder / "own.abc").read_text() == own
    assert '(D"_3"ED"_3"E)' in out and out.count('"_') == 9
    kept = [line for line in out.splitlines() if "fingerings by" not in line]
    plain = "\n".join(kept) + "\n"
    for label in ('"_3"', '"_1-2"'):
        plain = plain.replace(label, "")
    assert plain == own
    # Once more over the result: nothing doubled.
    expect(run("passage", "cornet-b-flat", "out.abc", "-o", "twice.abc",
               "--only-departures", folder=folder), 0)
    assert (folder / "twice.abc").read_text() == out


def a_score_comes_back_with_fingerings(folder):
    source = ROOT / "tests" / "data" / "march.musicxml"
    expect(run("passage", "keyed-bugle-c-6", source, "-o", "out.musicxml",
               "--choices", "2", folder=folder), 0)
    text = (folder / "out.musicxml").read_text()
    assert text.count("<fingering") > source.read_text().count("<fingering")
    assert 'alternate="yes"' in text
    for name, start in [("out.mxl", b"PK"), ("out.xml", b"<?xml"),
                        ("out.abc", b"%abc")]:
        expect(run("passage", "keyed-bugle-c-6", "--run", "C5 D5 E5", "-o",
                   name, folder=folder), 0)
        assert (folder / name).read_bytes().startswith(start), name


def a_part_is_engraved_with_its_fingerings(folder):
    tune = ROOT / "charts" / "attic-galop.abc"
    for name, start in [("p.pdf", b"%PDF"), ("p.png", b"\x89PNG"),
                        ("p.svg", b"<?xml")]:
        for extra in ([], ["--circles", "--paper", "A5", "--bars", "2-3"]):
            expect(run("passage", "cornet-b-flat", tune, "-o", name, *extra,
                       folder=folder), 0)
            first = (folder / name).read_bytes()
            assert first.startswith(start)
            expect(run("passage", "cornet-b-flat", tune, "-o", name, *extra,
                       folder=folder), 0)
            assert (folder / name).read_bytes() == first
    expect(run("passage", "cornet-b-flat", tune, "-o", "p.pdf", "--title",
               "Our galop", "--tempo", "150", folder=folder), 0)
    if shutil.which("pdftotext"):
        text = subprocess.run(["pdftotext", "-layout", "p.pdf", "-"],
                              cwd=folder, capture_output=True, text=True,
                              check=True).stdout
        text = " ".join(text.split())
        for word in ("Our galop", "Cornet in B flat", "Hard places",
                     "from about quarter = 135", "1-2", "1-3"):
            assert word in text, word
    # A note out of reach: the part is there, and the answer is no.
    expect(run("passage", "cornet-b-flat-two-valve", tune, "-o", "no.pdf",
               folder=folder), 1)
    assert (folder / "no.pdf").read_bytes().startswith(b"%PDF")


def bars_choose_what_is_shown_only(_):
    whole = json.loads(expect(
        run("passage", "cornet-b-flat", "charts/attic-galop.abc", "--json"),
        0).stdout)
    part = json.loads(expect(
        run("passage", "cornet-b-flat", "charts/attic-galop.abc", "--json",
            "--bars", "2-3"), 0).stdout)
    want = [note for note in whole["notes"] if note["bar"] in ("2", "3")]
    assert part["notes"] == want and len(want) == 12
    result = expect(
        run("passage", "cornet-b-flat", "charts/attic-galop.abc", "--bars",
            "9-99"), 2)
    assert "from bar 1 to bar" in result.stderr
    result = expect(
        run("passage", "cornet-b-flat", "charts/attic-galop.abc", "--bars",
            "3-2"), 2)
    assert "takes bars as 23-26 or 23, not '3-2'" in result.stderr
    assert result.stdout == ""


def help_of_help_is_help(_):
    for words in (["help", "help"], ["help", "-h"], ["help"], ["-h"]):
        assert expect(run(*words), 0).stdout == run("--help").stdout


def a_signal_that_the_caller_ignores_stays_ignored(_):
    def answer(ignored):
        waits = subprocess.Popen(
            [PROGRAM, "notes", "-"], stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
            preexec_fn=lambda: signal.signal(
                signal.SIGINT, signal.SIG_IGN if ignored else signal.SIG_DFL))
        # Once it has read the first line it has long set its signals up.
        waits.stdin.write("hornbook: 1\n" + "#" * 100000 + "\n")
        waits.stdin.flush()
        waits.send_signal(signal.SIGINT)
        try:
            waits.communicate(OWN_HORN.split("\n", 1)[1], timeout=30)
        except BrokenPipeError:
            waits.wait()
        return waits.returncode

    assert answer(True) == 0
    assert answer(False) == 128 + signal.SIGINT


def kept_fingerings_are_honoured_or_named(folder):
    (folder / "own.abc").write_text(OWN_TUNE)
    result = expect(run("passage", "cornet-b-flat", "own.abc", "--keep",
                        "--json", folder=folder), 0)
    notes = json.loads(result.stdout)["notes"]
    assert [note["file"] for note in notes] == [
        "free", "kept", "free", "unplayable", "unknown"]
    assert notes[1]["label"] == "3" and notes[3]["label"] == "1-3"
    assert "does not play D4 with '1-2'" in result.stderr
    assert "bar 2, beat 1" in result.stderr and "[H303]" in result.stderr
    assert "'7' is no fingering of this horn" in result.stderr
    result = expect(run("passage", "cornet-b-flat", "own.abc", folder=folder),
                    0)
    assert result.stderr.count("[") == 1 and "[H312]" in result.stderr
    assert "0 alternate fingerings" in result.stdout


def notes_out_of_reach_are_answered_no(folder):
    result = expect(
        run("passage", "cornet-b-flat-two-valve", "--run", "C4 D4 E4", "-o",
            "out.abc", folder=folder), 1)
    assert "bar 1, beat 2: D4 is not available on this horn [H301]" in (
        result.stderr)
    assert '"_0"C' in (folder / "out.abc").read_text()
    text = run("passage", "cornet-b-flat-two-valve", "--run", "C4 D4",
               "--sounding").stdout
    assert "1 not available" in text and "D4    C4      not available" in text


def a_part_for_another_horn_is_moved(folder):
    part = OWN_TUNE.replace("K:C", "K:C transpose=-9")  # for a horn in E flat
    (folder / "alto.abc").write_text(part)
    text = run("passage", "cornet-b-flat", "alto.abc", folder=folder).stdout
    assert "The part is moved down by a fifth for this horn" in text
    data = json.loads(expect(
        run("passage", "cornet-b-flat", "--from-sounding", "--run", "Bb3 C4",
            "--json"), 0).stdout)
    assert [note["written"] for note in data["notes"]] == ["C4", "D4"]
    assert data["moved_semitones"] == 2
    # What is written back is the user's own part, unmoved.
    run("passage", "cornet-b-flat", "alto.abc", "-o", "out.abc", folder=folder)
    assert "G2 | % a remark" in (folder / "out.abc").read_text()


def slips_with_passage_are_named(_):
    for args, word in [
        (["cornet-b-flat"], "one horn and one tune"),
        (["cornet-b-flat", "x.abc", "--run", "C4"], "one horn and one tune"),
        (["cornet-b-flat", "--run", "C4", "--part", "2"], "no tunes, parts"),
        (["cornet-b-flat", "--run", "C4", "--tempo", "0"], "5 to 1000"),
        (["cornet-b-flat", "--run", "C4", "--choices", "1.5"], "whole number"),
        (["cornet-b-flat", "--run", "C4", "--bars", "x"], "23-26 or 23"),
        (["cornet-b-flat", "--run", "C4", "--format", "csv"], "text, json"),
        (["cornet-b-flat", "--run", "C4", "--format", "pdf"],
         "-o passage.pdf"),
        (["cornet-b-flat", "--run", "C4", "-o", "x.pdf", "--paper", "B4"],
         "A4, A5"),
        (["cornet-b-flat", "--run", "C4", "--circles"], "-o part.pdf"),
        (["cornet-b-flat", "--run", "C4", "-o", "x.abc", "--practice"],
         "--practice is for a sheet, text or json"),
    ]:
        result = expect(run("passage", *args), 2)
        assert result.stdout == "", args
        assert word in result.stderr, (args, result.stderr)
    result = expect(run("passage", "cornet-b-flat", "--run", "H4"), 3)
    assert "--run:1:1: error" in result.stderr and "[H270]" in result.stderr
    assert result.stdout == ""
    result = expect(run("passage", "cornet-b-flat", "no-such.abc"), 3)
    assert "[H001]" in result.stderr


def endless_and_tangled_repeats_end(folder):
    head = "X:1\nT:t\nM:none\nL:1/16\nQ:1/4=131\nK:C\n"
    bar = "CDEFGABc"
    (folder / "endless.abc").write_text(
        head + "|:" + (bar + "|\n") * 1000 + "|1-60 c:|61 c|]\n")
    result = expect(run("passage", "cornet-b-flat", "endless.abc",
                        folder=folder), 3)
    assert "[H300]" in result.stderr and result.stdout == ""
    letters = "ABCDEFGHIJKLMNOP"
    order = "".join(a + b for a in letters for b in letters)
    (folder / "tangled.abc").write_text(
        head.replace("K:C", f"P:{order}\nK:C") +
        "".join(f"P:{part}\n{bar}|\n" for part in letters))
    result = expect(run("passage", "keyed-bugle-e-flat-bore", "tangled.abc",
                        folder=folder), 0)
    assert "too complex to optimize together" in flat(result.stdout)
    high = "g" + 3 * "'"
    (folder / "high.abc").write_text(
        head.replace("K:C", "K:C transpose=40") + high + "|]\n")
    result = expect(run("passage", "ophicleide-c-9", "high.abc",
                        folder=folder), 3)
    assert "[H304]" in result.stderr


sys.exit(main(globals()))
