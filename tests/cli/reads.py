#!/usr/bin/env python3
"""Who reads it: --reads and --names, alone and with crook, sounding, order."""
import csv
import io
import json
import sys

sys.dont_write_bytecode = True

from tap import ROOT, expect, main, run

GALOP = ROOT / "charts/attic-galop.abc"
MARCH = ROOT / "tests/data/march.musicxml"
READINGS = ("treble", "bass", "treble-bflat", "treble-eflat", "concert")
LETTERS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
# What lies how far above the note that sounds, octaves apart.
ABOVE = {"bass": 0, "concert": 0, "treble-bflat": 2, "treble-eflat": 9}


def _number(name):
    """Semitones from C0 of "F#3" or "Bb3"."""
    letter, rest = name[0], name[1:]
    signs = rest.count("#") - rest.count("b")
    return LETTERS[letter] + signs + 12 * int(rest.strip("#b"))


def _notes(horn, *args):
    result = expect(run("notes", horn, "--json", "-q", *args), 0)
    return json.loads(result.stdout)


def what_is_read_stands_beside_what_the_horn_has(folder):
    for crook in ("none", "A"):
        own = _notes("cornopean-b-flat", "--crook", crook)
        assert "reads" not in own and "read" not in own["notes"][0]
        for reads in READINGS:
            other = _notes("cornopean-b-flat", "--crook", crook, "--reads",
                           reads)
            shift = other["reads"]["semitones"]
            for was, now in zip(own["notes"], other["notes"], strict=True):
                read = now.pop("read")
                assert was == now, (crook, reads)
                assert _number(read) == _number(now["written"]) + shift
                if reads in ABOVE:
                    over = _number(read) - _number(now["sounding"])
                    assert over % 12 == ABOVE[reads], (crook, reads, over)
                if reads in ("bass", "concert"):
                    assert read == now["sounding"]


def text_shows_what_is_read_and_sounds(folder):
    text = expect(run("notes", "bass-e-flat", "--reads", "treble-bflat",
                      "--names", "german", "--sounding"), 0).stdout
    assert "Read in the treble clef. Written C sounds B, two oct" in text
    assert "Tuned on F5 (open)" in text
    lines = text.split("\n\n")[1].splitlines()
    assert lines[0].split()[:3] == ["read", "sounding", "fingering"]
    # Written C5 is read F5 and sounds E flat 3.
    open_f = [line for line in lines if line.startswith("F5 ")][0]
    assert open_f.split()[:4] == ["F5", "Dis3", "Es3", "0"], open_f
    assert any(line.startswith("Ais4 B4 ") for line in lines)
    assert any(line.startswith("H4 ") for line in lines)
    assert not any("\u266f" in line or "\u266d" in line for line in lines)


def syllables_keep_their_columns(folder):
    for command in ("notes", "scales"):
        text = expect(run(command, "cornet-b-flat", "--names", "solfege"),
                      0).stdout
        table = text.split("\n\n")[1].splitlines()
        column = table[0].index("fingering" if command == "notes" else "notes")
        for line in table[1:]:
            if line.startswith(" " * 12):
                continue  # what found no room on the line above
            assert line[column - 1] == " ", line
            assert line[column - 2:column + 3].strip(), line


def a_table_for_programs_gets_columns_at_its_end(folder):
    def rows(*args):
        text = expect(run("notes", "ophicleide-c-9", "--format", "csv", *args),
                      0).stdout
        return list(csv.reader(io.StringIO(text)))

    own = rows()
    for row, more in zip(own, rows("--reads", "treble", "--names", "solfege"),
                         strict=True):
        assert more[:-2] == row
        if row != own[0]:
            assert _number(more[-2]) == _number(row[0]) + 12
            assert more[-1][:2] in ("do", "r\u00e9", "mi", "fa", "so", "la",
                                    "si")
    assert rows("--reads", "treble")[0][-1] == "read"
    assert rows("--names", "german")[0][-1] == "called"


def a_chord_is_named_as_it_is_read(folder):
    text = expect(run("notes", "bass-e-flat", "--hold", "C5 E5 G5", "--reads",
                      "bass", "--names", "german"), 0).stdout
    assert "Held as Es major, root Es3: the third" in text
    own = _notes("bass-e-flat", "--hold", "C5 E5 G5")
    other = _notes("bass-e-flat", "--hold", "C5 E5 G5", "--reads", "bass")
    assert own["chord"]["root"] == other["chord"]["root"] == "C5"


def keys_are_those_that_are_read(folder):
    own = json.loads(expect(run("scales", "bass-e-flat", "--json"), 0).stdout)
    read = json.loads(expect(run("scales", "bass-e-flat", "--json", "--reads",
                                 "bass"), 0).stdout)
    for was, now in zip(own["keys"], read["keys"], strict=True):
        assert was["place"] == now["place"] and was["key"] == now["key"]
        for note in now["notes"]:
            assert _number(note["read"]) == _number(note["written"]) - 21
    named = {key["key"]: key["read"] for key in read["keys"]}
    assert named["C major"] == "Eb major" and named["A minor"] == "C minor"


def a_part_is_shown_as_it_is_read_with_the_same_fingerings(folder):
    def ask(*args):
        return json.loads(expect(run("passage", "cornet-b-flat", MARCH, "--json",
                                     "-q", *args), 0).stdout)

    own = ask()
    for reads in READINGS:
        other = ask("--reads", reads)
        shift = other["reads"]["semitones"]
        for was, now in zip(own["notes"], other["notes"], strict=True):
            assert was["label"] == now["label"] and was["cents"] == now["cents"]
            assert was["spelled"] == now["spelled"]
            assert was["sounding"] == now["sounding"]
            assert _number(now["read"]) == _number(now["written"]) + shift
    text = expect(run("passage", "cornet-b-flat", MARCH, "--reads", "bass",
                      "--names", "solfege"), 0).stdout
    assert "Read in the bass clef. Written do sounds do, as written.\n" in text
    assert "for the player who reads it.\n" in text


def music_written_anew_is_in_that_notation(folder):
    expect(run("passage", "cornet-b-flat", MARCH, "--reads", "bass", "-o",
               folder / "x.abc"), 0)
    text = (folder / "x.abc").read_text()
    assert "clef=bass" in text and "transpose" not in text
    again = _read_again(folder / "x.abc", "--reads", "bass")
    first = json.loads(expect(run("passage", "cornet-b-flat", MARCH, "--json"),
                              0).stdout)
    # It says nothing of a transposition, so that its notes are those sounding.
    assert ([n["sounding"] for n in again["notes"]]
            == [n["sounding"] for n in first["notes"]])
    assert ([n["label"] for n in again["notes"]]
            == [n["label"] for n in first["notes"]])


def _read_again(path, *args):
    return json.loads(expect(run("passage", "cornet-b-flat", path, "--json",
                                 "--from-sounding", *args), 0).stdout)


def what_cannot_be_done_is_said(folder):
    own = folder / "own.abc"
    own.write_bytes(GALOP.read_bytes())
    said = expect(run("passage", "cornet-b-flat", own, "--reads", "bass", "-o",
                      own), 4).stderr
    assert "is a file that this command reads" in said
    assert own.read_bytes() == GALOP.read_bytes()
    said = expect(run("passage", "cornet-b-flat", own, "--names", "german",
                      "-o", folder / "y.abc"), 2).stderr
    assert "--names are those of a text or a sheet" in said
    assert not (folder / "y.abc").exists()
    said = expect(run("notes", "cornet-b-flat", "--reads", "tenor"), 2).stderr
    assert "--reads: what is read is 'treble', 'bass'," in said
    said = expect(run("notes", "cornet-b-flat", "--names", "latin"), 2).stderr
    assert "--names: names of notes are 'english', 'german' or" in said
    said = expect(run("notes", "keyed-bugle-c-6", "--reads", "bass"), 0).stderr
    assert said.count("H138") == 1


def _order(folder, name, top, player):
    (folder / f"{name}.yaml").write_text(
        f"hornbook_order: 1\nband: B\nformat: svg\n{top}players:\n"
        "  - name: A\n    horn: cornopean-b-flat\n    crook: A\n"
        f"    sounding: true\n{player}"
        f"    sheets: [slides, {{sheet: part, file: {GALOP}}}]\n")
    expect(run("print", f"{name}.yaml", "-q", folder=folder), 0)
    return {path.name: path.read_bytes()
            for path in (folder / name).iterdir()}


def a_player_of_an_order_reads_as_the_order_or_as_they_say(folder):
    own = _order(folder, "own", "", "")
    band = _order(folder, "band", "reads: bass\nnames: german\n", "")
    ada = _order(folder, "ada", "reads: treble\nnames: solfege\n",
                 "    reads: bass\n    names: german\n")
    assert band == ada and len(own) >= 2
    assert own.keys() == band.keys()
    for name, sheet in own.items():
        assert sheet != band[name], name


def a_low_horn_at_concert_pitch_is_read_in_bass_clef(folder):
    """By a single command and by an order, with the notes that sound named."""
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\nformat: svg\nplayers:\n"
        "  - {name: A, horn: bass-e-flat, reads: concert, sounding: true,"
        f" sheets: [{{sheet: part, file: {GALOP}}}]}}\n"
        "  - {name: B, horn: bass-e-flat, reads: bass, sounding: true,"
        f" sheets: [{{sheet: part, file: {GALOP}}}]}}\n")
    expect(run("print", "o.yaml", "-q", folder=folder), 0)
    for reads in ("concert", "bass", "treble"):
        expect(run("passage", "bass-e-flat", GALOP, "--reads", reads,
                   "--sounding", "-o", folder / f"{reads}.svg"), 0)
    # A bass in E flat at concert pitch is read in bass clef.
    assert ((folder / "concert.svg").read_bytes()
            == (folder / "bass.svg").read_bytes())
    assert ((folder / "treble.svg").read_bytes()
            != (folder / "bass.svg").read_bytes())
    sheets = sorted((folder / "o").iterdir())
    assert len(sheets) == 2


if __name__ == "__main__":
    sys.exit(main(globals()))
