#!/usr/bin/env python3
"""Chords that are held: what the program understands, and what it says."""
import csv
import io
import json
import re
import sys

sys.dont_write_bytecode = True

from tap import expect, flat, main, run


def _held(horn, notes, *args):
    return json.loads(expect(run("notes", horn, "--hold", notes, "--json",
                                 *args), 0).stdout)


def a_held_chord_is_pure(_):
    """Open C, E and G are partials 4, 5 and 6: the chord 4:5:6 itself."""
    data = _held("cornet-b-flat", "C5 E5 G5")
    chord = data["chord"]
    assert (chord["kind"], chord["root"]) == ("major", "C5"), chord
    assert chord["temperament"] == "just" and not chord["other_roots"]
    for note, degree, cents in zip(data["notes"], ["root", "third", "fifth"],
                                   [0, -13.69, 1.96]):
        assert note["degree"] == degree
        assert abs(note["just_target_cents"] - cents) < 0.01
        first = note["fingerings"][0]
        assert first["label"] == "0" and abs(first["just_cents"]) < 0.01
        assert abs(first["cents"] - cents) < 0.01
    text = expect(run("notes", "cornet-b-flat", "--hold", "C5 E5 G5"),
                  0).stdout
    assert ("Held as C major, root C5: the third 14 cents low, the fifth 2 "
            "cents high.") in flat(text)
    assert re.search(r"^E5 +third -14 +0 +5 +-14 +\+0 ", text, re.M), text
    rows = list(csv.DictReader(io.StringIO(
        expect(run("notes", "cornet-b-flat", "--hold", "C5 E5 G5",
                   "--format", "csv"), 0).stdout)))
    e5 = next(r for r in rows if r["written"] == "E5" and r["rank"] == "1")
    assert e5["just_target_cents"] == "-13.69" and e5["just_cents"] in (
        "0.00", "-0.00")


def a_held_chord_says_what_was_understood(_):
    for notes, args, words in [
        ("E5", [], "equal temperament: one note alone"),
        ("E5 E4", [], "equal temperament: one note alone"),
        ("E5 G5", [], "equal temperament: two notes do not tell"),
        ("C5 D5 E5", [], "equal temperament: no chord known"),
        ("E5 G5", ["--root", "C"], "C major, root C: the third 14 cents low"),
        ("E5 G5", ["--root", "E4"], "E minor, root E4: the third 16 cents high"),
        ("E5 G5", ["--root", "Eb"], "no chord known here has these notes on E♭"),
        ("E5 G5 C6", ["--root", "E5"], "equal temperament: no chord known "
         "here has these notes on E5; the root C would make C major."),
        ("A4 C5 E5 G5", ["--root", "D"], "no chord known here has these notes on "
         "D; the root A would make A minor seventh, the root C would make C "
         "major sixth."),
        ("C5 E5 G#5", [], "can also be E5 or G♯5; the lowest is taken, and --r"),
        ("C5 E5 G#5", ["--root", "G#"], "G♯ augmented, root G♯"),
        ("A4 C5 E5 G5", [], "can also be C5 (C major sixth)"),
        ("F#3 C4 D#4 A4", [], "F♯ diminished seventh, root F♯3"),
    ]:
        text = expect(run("notes", "cornet-b-flat", "--hold", notes, *args),
                      0).stdout
        plain = words.replace("♭", "b").replace("♯", "#")
        assert plain in flat(text), (notes, args, text)
        data = _held("cornet-b-flat", notes, *args)
        just = data["chord"]["temperament"] == "just"
        assert just == ("equal" not in words and "no chord" not in words)
        for note in data["notes"]:
            assert ("just_target_cents" in note) == just
            for fingering in note["fingerings"]:
                assert ("just_cents" in fingering) == just
    # Alone it is held as it is played: open, not 1-2 that lies nearer.
    assert _held("cornet-b-flat", "E5")["notes"][0]["fingerings"][0][
        "label"] == "0"
    data = _held("cornet-b-flat", "C5 E5 G#5")
    assert data["chord"]["other_roots"] == ["E5", "G#5"]
    # What the horn has not is told as for any note.
    data = _held("cornet-b-flat-two-valve", "D4 F4 A4")
    assert data["not_available"] == ["D4"], data["not_available"]
    text = expect(run("notes", "cornet-b-flat-two-valve", "--hold",
                      "D4 F4 A4"), 0).stdout
    assert re.search(r"^D4 +root \+0 +not available$", text, re.M), text


sys.exit(main(globals()))
