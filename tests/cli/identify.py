#!/usr/bin/env python3
"""What identify says of a page: yes, no, otherwise named, and what to look at.

The numbers of the pages are the program's own, so that these tests are about
what is said and not about the model.
"""
import json
import math
import pathlib
import re
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).parent))

from tap import expect, flat, main, run

SIX = "keyed-bugle-c-6"
SIX_B_FLAT = "keyed-bugle-b-flat-6"
SEVEN = "keyed-bugle-b-flat-7-f-sharp"
NINE = "keyed-bugle-e-flat-9"
# The museum's seven, with the slide that the page speaks of.
MUSEUM = """\
hornbook: 1
based_on: keyed-bugle-b-flat-7-saxon
slides:
  - {slide: main, remove: true}
  - {slide: shank, travel: 25, legs: 1}
"""
NAMES = ["C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"]
STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


def _number(name):
    step = STEPS[name[0]] + name.count("#") - name[1:].count("b")
    return step + 12 * (int(name[-1]) + 1)


def _name(number):
    return f"{NAMES[number % 12]}{number // 12 - 1}"


def _page(folder, horn, n_keys=0, concert=False, slip=None, last=None,
          top=""):
    """First choices of a horn; with n_keys counted from the other end."""
    data = json.loads(expect(run("notes", horn, "--json"), 0).stdout)
    rows = [n for n in data["notes"] if n["fingerings"]][:last]
    drawn = ", ".join(f"{s['slide']}: {s['pulled_mm']}"
                      for s in data["tuning"]["slides"])
    lines = ["hornbook_readings: 1", top, f"set: {{{drawn}}}", "readings:"]
    for i, note in enumerate(rows):
        first = note["fingerings"][0]
        keys = [int(key) for key in first["press"]]
        if n_keys:
            keys = [n_keys + 1 - key for key in keys]
        label = "-".join(map(str, sorted(keys))) or "0"
        cents = first["cents"] + (250 if i == slip else i % 3 - 1)
        written = note["sounding"] if concert else note["written"]
        lines.append(f"  - {{note: {_name(_number(written))}, "
                     f"fingering: {label}, cents: {cents:.1f}}}")
    (folder / "r.yaml").write_text("\n".join(lines) + "\n")


def _ask(folder, *horns, code=0):
    text = expect(run("identify", "r.yaml", *horns, folder=folder), code)
    data = expect(run("identify", "r.yaml", *horns, "--json", folder=folder),
                  code)
    return text.stdout, json.loads(data.stdout)


def a_page_of_the_horn_is_explained(folder):
    _page(folder, SEVEN)
    (folder / "museum.yaml").write_text(MUSEUM)
    text, data = _ask(folder, SEVEN, "museum.yaml")
    assert data["format"] == "hornbook-identify/1" and data["explained"]
    assert data["otherwise"] is None
    best, other = data["layouts"]
    assert best["id"] == SEVEN and best["explains"]
    assert best["chi_square"] < best["chi_square_limit"]
    assert best["has"] == "7 keys" and best["written_c4_sounds"] == "Bb3"
    # Its keys lie elsewhere: the layout is refused, and not unlikely.
    assert not other["explains"] and other["probability"] == 0
    assert "      no  Keyed bugle in B flat, seven keys, Saxony" in text
    assert "\n 100.0 %" in text


def keys_from_the_other_end_are_noticed(folder):
    _page(folder, SEVEN, n_keys=7)
    text, data = _ask(folder, SEVEN, NINE, code=1)
    assert not data["explained"]
    assert [e["probability"] for e in data["layouts"]] == [0, 0]
    assert data["otherwise"]["from_other_end"]
    assert data["otherwise"]["notes"] is None
    assert data["otherwise"]["layouts"][0]["id"] == SEVEN
    text = flat(text)
    assert "None of these" in text and "%" in text.split("But")[1]
    assert "%" not in text.split("But")[0]
    assert "if the keys are counted from the other end" in text
    assert "key 1 is the one nearest to the bell" in text
    _page(folder, "cornet-b-flat", n_keys=3)
    text, _ = _ask(folder, "cornet-b-flat", code=1)
    assert "Not this one" in text and "valve 1 is the first finger" in text


def names_of_the_tuner_are_noticed(folder):
    """B flat is 200 cents below C: the page lies that far off as it stands."""
    _page(folder, SEVEN, concert=True)
    text, data = _ask(folder, SEVEN)
    assert abs(data["layouts"][0]["pitch_cents"] + 200) < 8
    assert data["otherwise"]["notes"] == "concert"
    assert not data["otherwise"]["from_other_end"]
    assert abs(data["otherwise"]["layouts"][0]["pitch_cents"]) < 3
    assert "names the tuner shows (concert names)" in flat(text)
    assert "'written_c4_sounds: C4' at the top" in flat(text)
    # What it says to do does it.
    _page(folder, SEVEN, concert=True, top="written_c4_sounds: C4")
    text, data = _ask(folder, SEVEN)
    assert data["explained"] and data["otherwise"] is None
    # A bass sounds an octave and more lower: nothing fits as it stands.
    _page(folder, "bass-e-flat", concert=True)
    text, data = _ask(folder, "bass-e-flat", code=1)
    assert data["otherwise"]["notes"] == "concert"
    # And the other way round.
    _page(folder, "bass-e-flat", top="written_c4_sounds: C4")
    text, data = _ask(folder, "bass-e-flat", code=1)
    assert data["otherwise"]["notes"] == "written"
    assert "leave 'written_c4_sounds' out" in flat(text)
    _page(folder, NINE, n_keys=9, concert=True)
    text, data = _ask(folder, NINE, code=1)
    assert data["otherwise"]["notes"] == "concert"
    assert data["otherwise"]["from_other_end"]


def the_next_notes_tell_the_layouts_apart(folder):
    """One open note leaves both as likely; the fifth key does not do the same
    on both, and what is expected of it is what each chart says."""
    names = [SEVEN, "keyed-bugle-b-flat-7-second-e-flat"]
    (folder / "r.yaml").write_text(
        "hornbook_readings: 1\nreadings:\n"
        "  - {note: C4, fingering: 0, cents: 35}\n")
    text, data = _ask(folder, *names)
    assert [round(e["probability"], 2) for e in data["layouts"]] == [0.5] * 2
    assert data["next"] and "Try next" in text
    bits = [step["bits"] for step in data["next"]]
    # The most telling first; between two layouts there is one bit to learn.
    assert bits == sorted(bits, reverse=True) and 0 < bits[-1]
    assert bits[0] <= 1
    for step in data["next"]:
        assert f"  {step['label']}, partial {step['partial']} (" in text
        assert {e["id"] for e in step["expected"]} <= set(names)
    # Where the Saxon seventh key doubles E flat, the others move up by one.
    fifth = next(step for step in data["next"] if step["label"] == "5")
    assert fifth["partial"] == 2
    assert [(e["id"], e["written"]) for e in fifth["expected"]] == [
        (names[0], "E4"), (names[1], "Eb4")]
    for entry in fifth["expected"]:
        notes = json.loads(expect(run("notes", entry["id"], "--json"),
                                  0).stdout)["notes"]
        note = next(n for n in notes
                    if _number(n["written"]) == _number(entry["written"]))
        chart = next(f["cents"] for f in note["fingerings"]
                     if f["label"] == "5" and f["partial"] == 2)
        # The one note read lay 35 cents high: so will this one.
        assert abs(entry["cents"] - chart - 35) < 1, (entry, chart)


def eyes_tell_what_notes_do_not(folder):
    """Six keys and the same six of seven sound alike; to count is easy."""
    _page(folder, SIX, last=12)
    text, data = _ask(folder, SIX, SIX_B_FLAT, SEVEN)
    assert [round(e["probability"], 2) for e in data["layouts"]] == [0.33] * 3
    assert data["next"] == []
    assert "What to look for on the horn:" in flat(text)
    assert f"  {SIX}: 6 keys, its written C4 sounds C4\n" in text
    assert f"  {SEVEN}: 7 keys, its written C4 sounds Bb3\n" in text
    text, _ = _ask(folder, SIX_B_FLAT, SEVEN)
    assert f"  {SEVEN}: 7 keys\n" in text
    # Twice the same horn: nothing tells, and that is said.
    text, _ = _ask(folder, SIX, SIX)
    assert "No other note would help much more.\n" in text
    assert "look" not in text
    _page(folder, "cornet-b-flat")
    text, _ = _ask(folder, "cornet-b-flat", "cornet-b-flat-rotary")
    assert "  cornet-b-flat: piston valves\n" in text
    assert "  cornet-b-flat-rotary: rotary valves\n" in text


def a_refusal_is_told_in_cents(folder):
    """The readings of another way to count its keys."""
    _page(folder, SEVEN, n_keys=7)
    for horns in ((SEVEN, NINE), (SEVEN,)):
        text, data = _ask(folder, *horns, code=1)
        best = data["layouts"][0]
        assert best["chi_square"] > best["chi_square_limit"]
        assert "chi" not in text
        assert (f": the readings miss it by {best['rms_cents']:.0f} cents on "
                "average, where 5 would be the tuner's own error.") in flat(
                    text)
        assert best["rms_cents"] > 10
    _page(folder, SEVEN, n_keys=7, top="uncertainty: 2")
    text, _ = _ask(folder, SEVEN, code=1)
    assert "where 2 would be the tuner's own error." in flat(text)


def horns_of_one_name_are_told_apart(folder):
    for name in ("a/one", "a/two", "b/one"):
        path = folder / f"{name}.yaml"
        path.parent.mkdir(exist_ok=True)
        path.write_text(f"hornbook: 1\nbased_on: {SIX}\nname: Attic\n")
    _page(folder, SIX)
    text, _ = _ask(folder, "a/one.yaml", "a/two.yaml", NINE)
    assert "  Attic (one): " in text and "  Attic (two): " in text
    assert "  Keyed bugle in E flat, nine keys: " in text
    text, _ = _ask(folder, "a/one.yaml", "b/one.yaml")
    assert "  Attic (a/one.yaml): " in text
    assert "  Attic (b/one.yaml): " in text


def one_slip_is_set_aside_and_told(folder):
    _page(folder, SIX, slip=3)
    text, data = _ask(folder, SIX)
    assert data["layouts"][0]["set_aside"] == 1
    assert "1 reading not used" in flat(text)


def _notes(folder, horn, off, every=2):
    data = json.loads(expect(run("notes", horn, "--raw", "--json",
                                 folder=folder), 0).stdout)
    lines = ["hornbook_readings: 1", "readings:"]
    rows = [note for note in data["notes"] if note["fingerings"]]
    for i, note in enumerate(rows[::every]):
        first = note["fingerings"][0]
        cents = first["cents"] + off(i, first["press"])
        lines.append(f"  - {{note: {note['written']}, fingering: "
                     f"{'-'.join(first['press']) or '0'}, cents: {cents:.1f}}}")
    (folder / "r.yaml").write_text("\n".join(lines) + "\n")


def a_slide_left_out_is_named_with_cautions(folder):
    _notes(folder, "cornet-b-flat",
           lambda i, press: (-35 if "3" in press else 0) + i % 3)
    text = flat(expect(run("identify", "--faults", "cornet-b-flat", "r.yaml",
                           folder=folder), 0).stdout)
    assert "The slide of valve 3 is 1" in text and "further out than" in text
    assert "almost certain" in text
    assert "do not force what sticks" in text.lower()
    assert "never fitted" in text
    expect(run("fit", "cornet-b-flat", "r.yaml", "-o", "f.yaml",
               folder=folder), 0)
    text = flat(expect(run("identify", "--faults", "f.yaml", "r.yaml",
                           folder=folder), 0).stdout)
    assert "Nothing seems to be wrong" in text
    assert "never fitted" not in text and "force" not in text


def a_valve_that_sticks_is_named(folder):
    _notes(folder, "cornet-b-flat",
           lambda i, press: -101 if "2" not in press else 0)
    text = expect(run("identify", "--faults", "cornet-b-flat", "r.yaml",
                      folder=folder), 0).stdout
    assert "Valve 2 sticks down: " in text


def what_no_note_read_shows_is_said_to_be_that(folder):
    """Whether valve 3 goes down no note tells that is played without it."""
    (folder / "r.yaml").write_text(
        "hornbook_readings: 1\nreadings:\n"
        "  - {note: C4, fingering: 0, cents: -18}\n"
        "  - {note: G4, fingering: 0, cents: -20}\n"
        "  - {note: F4, fingering: 1, cents: -45}\n")
    text = flat(expect(run("identify", "--faults", "cornet-b-flat", "r.yaml",
                           folder=folder), 0).stdout)
    assert "% valve 3 does not go down: no note read would show it, " in text
    assert " 0 cents sharp" not in text and " 0 cents flat" not in text, text


def nothing_single_explains_it_is_an_answer(folder):
    _notes(folder, "cornet-b-flat", lambda i, press: (i * 37 % 11 - 5) * 12)
    text = flat(expect(run("identify", "--faults", "cornet-b-flat", "r.yaml",
                           folder=folder), 1).stdout)
    assert "No single thing explains these notes" in text
    assert "play next" not in text


def the_next_note_is_named_and_what_would_come_out(folder):
    """Three open notes do not tell whether a valve goes down; one with it does."""
    (folder / "r.yaml").write_text(
        "hornbook_readings: 1\nreadings:\n"
        "  - {note: C4, fingering: 0, cents: -3}\n"
        "  - {note: G4, fingering: 0, cents: -1}\n"
        "  - {note: C5, fingering: 0, cents: -3}\n")
    ask = ["identify", "--faults", "cornet-b-flat", "r.yaml"]
    text = flat(expect(run(*ask, folder=folder), 0).stdout)
    assert "nothing is wrong (A) or valve 1 does not go down (B), play next:" \
        in text, text
    assert re.search(r"Bb4 with 1: A [-+]\d+ cents; B about a whole tone "
                     r"sharp, as C5", text), text
    assert "No other note" not in text
    data = json.loads(expect(run(*ask, "--json", folder=folder), 0).stdout)
    heard = [[e["heard"] for e in note["expected"]] for note in data["next"]
             if note["note"] == "Bb4"]
    assert heard == [["Bb4", "C5"]], data["next"]


def notes_that_do_not_fit_are_named(folder):
    """One of a file that was never fitted, three of one that was."""
    _notes(folder, "cornet-b-flat", lambda i, press: i % 3)
    expect(run("fit", "cornet-b-flat", "r.yaml", "-o", "f.yaml",
               folder=folder), 0)
    ask = ["identify", "--faults", "cornet-b-flat", "r.yaml"]
    assert "not fit" not in expect(run(*ask, folder=folder), 0).stdout
    _notes(folder, "cornet-b-flat", lambda i, press: -40 if i == 6 else i % 3)
    text = flat(expect(run(*ask, folder=folder), 0).stdout)
    assert re.search(r"Nothing seems to be wrong .* One note does not fit the "
                     r"others: F#4 with 2, 4\d cents flat. Read it again.",
                     text), text
    # Two semitones off, half way to the next partial: no slide explains it.
    _notes(folder, "cornet-b-flat", lambda i, press: 200 if i == 6 else i % 3)
    text = flat(expect(run(*ask, folder=folder), 0).stdout)
    assert re.search(r"Nothing seems to be wrong .* F#4 with 2, \+20\d cents on "
                     r"the page. Read it again.", text), text
    spoiled = {3: 55, 6: -52, 9: 60}
    _notes(folder, "cornet-b-flat",
           lambda i, press: spoiled.get(i, 0) + i % 3)
    ask = ["identify", "--faults", "f.yaml", "r.yaml"]
    text = flat(expect(run(*ask, folder=folder), 0).stdout)
    assert "These notes do not fit the others: C4 with 0, " in text, text
    assert "Read them again." in text and "but for 3 notes" in text, text
    data = json.loads(expect(run(*ask, "--json", folder=folder), 0).stdout)
    assert [note["note"] for note in data["read_again"]] == [
        "C4", "F#4", "C5"]
    rows = (folder / "r.yaml").read_text().splitlines()
    for note, off in zip(data["read_again"], spoiled.values()):
        assert f"note: {note['note']}," in rows[note["line"] - 1]
        assert abs(note["cents"] - off) < 8


def a_habit_is_no_fault(folder):
    """A player flatter or sharper with every octave, cornet and bugle."""
    for horn in ("cornet-b-flat", "keyed-bugle-c-6-munich"):
        data = json.loads(expect(run("notes", horn, "--raw", "--json",
                                     folder=folder), 0).stdout)
        hz = [row["target_hz"] for row in data["notes"] if row["fingerings"]]
        octaves = [math.log2(each / hz[0]) - 1 for each in hz[::2]]
        for slope in (-15, -10, 10, 15):
            _notes(folder, horn, lambda i, press: slope * octaves[i])
            out = json.loads(expect(run("identify", "--faults", horn, "r.yaml",
                                        "--json", folder=folder), 0).stdout)
            assert out["verdict"] == "sound", (horn, slope, out["verdict"])
            assert abs(out["faults"][0]["slope_cents"] - slope) < 5
            text = flat(expect(run("identify", "--faults", horn, "r.yaml",
                                   folder=folder), 0).stdout)
            way = "flatter" if slope < 0 else "sharper"
            assert re.search(rf"The player is taken to sound \d+ cents {way} "
                             "with every octave, which", text), text


def slips_of_faults_are_named(folder):
    _notes(folder, "cornet-b-flat", lambda i, press: 0)
    for words, said in [
            (["r.yaml", "cornet-b-flat"], "a file of readings"),
            (["cornet-b-flat"], "name one horn, then a file of readings"),
            (["cornet-b-flat", "r.yaml", "r.yaml"], "name one horn")]:
        result = expect(run("identify", "--faults", *words, folder=folder), 2)
        assert said in flat(result.stderr), result.stderr
    result = expect(run("identify", "--faults", "keyed-bugle-c-6", "r.yaml",
                        "--json", folder=folder), 0)
    (folder / "r.yaml").write_text(
        "hornbook_readings: 1\nreadings:\n"
        "  - {note: C4, fingering: 9, cents: 0}\n")
    result = expect(run("identify", "--faults", "cornet-b-flat", "r.yaml",
                        folder=folder), 3)
    assert "'9' names what this horn has not" in flat(result.stderr)


sys.exit(main(globals()))
