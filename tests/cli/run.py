#!/usr/bin/env python3
"""Runs the program as a user would: arguments, exit code, both streams.

Each case is a function whose name is a sentence; it gets a fresh folder.
"""
import json
import os
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


sys.exit(main(globals()))
