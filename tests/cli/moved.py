#!/usr/bin/env python3
"""Clef, octave and key of a part: for one player, for an order, in a choice;
and how a part is taken that states no transposition, by all three alike."""
import json
import sys

sys.dont_write_bytecode = True

from tap import ROOT, expect, flat, main, run

MARCH = ROOT / "tests/data/march.musicxml"  # for a horn in B flat
READINGS = ("treble", "bass", "treble-bflat", "treble-eflat", "concert")
EUPHONIUM = "euphonium-b-flat-compensating-4"
PLAIN = "X:1\nT:Plain\nM:4/4\nL:1/4\nQ:1/4=96\nK:%s\n%s\n"


def _tune(folder, name, key, music):
    path = folder / name
    path.write_text(PLAIN % (key, music))
    return path


def _passage(horn, tune, *args, code=0):
    return json.loads(expect(run("passage", horn, tune, "--json", "-q", *args),
                             code).stdout)


def _names(answer):
    return [note["written"] for note in answer["notes"]]


def a_part_comes_in_the_clef_of_the_chart(_):
    """As `notes` reads the horn, so does `passage`, whatever the file has."""
    for horn in (EUPHONIUM, "ophicleide-c-11", "cornet-b-flat"):
        for reads in READINGS:
            notes = json.loads(expect(
                run("notes", horn, "--json", "--reads", reads), 0).stdout)
            part = _passage(horn, MARCH, "--reads", reads, "--octave", "auto")
            assert part["clef"] == notes["reads"]["clef"], (horn, reads)
            assert part["reads"] == notes["reads"]
    assert _passage("ophicleide-c-11", MARCH, "--octave", "auto")["clef"] == (
        "bass")
    assert _passage("cornet-b-flat", MARCH)["clef"] == "treble"


def bass_clef_music_for_a_treble_horn_stays_on_the_staff(folder):
    tune = _tune(folder, "b.abc", "Bb clef=bass", "B,,2 D,F,|B,F,D,B,,|")
    answer = _passage(EUPHONIUM, tune)
    assert answer["taken_as"] == "sounding" and answer["clef"] == "treble"
    assert answer["key"] == {"note": "C", "mode": "major", "signature": 0}
    assert _names(answer) == ["C4", "E4", "G4", "C5", "G4", "E4", "C4"]
    assert answer["notes"][0]["sounding"] == "A#2"
    # The same from a horn that is read in the bass clef itself.
    answer = _passage("ophicleide-c-11", tune)
    assert answer["clef"] == "bass" and _names(answer)[0] == "A#2"
    assert answer["key"]["signature"] == -2
    text = expect(run("passage", EUPHONIUM, tune, "-q", "--reads", "bass",
                      "--brief"), 0).stdout
    assert text.startswith("bar 1:  Bb2 0  D3 1-2  F3 0\n"), text


def signatures_are_those_that_the_player_reads(folder):
    """Sounding C: what each reads who plays it, as bands have it."""
    tune = _tune(folder, "c.abc", "C", "C D E F|G A B c|")
    wanted = {"treble-bflat": 2, "treble-eflat": 3, "concert": 0, "bass": 0,
              "treble": 2}
    for reads, signature in wanted.items():
        answer = _passage("cornet-b-flat", tune, "--from-sounding", "--reads",
                          reads)
        assert answer["key"]["signature"] == signature, reads
        assert answer["notes"][0]["sounding"] == "C4"
        assert [note["read"][0] for note in answer["notes"]] == list(
            {2: "DEFGABCD", 3: "ABCDEFGA", 0: "CDEFGABC"}[signature]), reads


def an_octave_is_given_or_found(folder):
    tune = _tune(folder, "h.abc", "G", "g a b d'|g' d' b g|")
    result = expect(run("passage", "cornet-b-flat", tune, "--json"), 1)
    assert "an octave lower, this horn has every note of the part; " in (
        result.stderr)
    assert "--octave -1 moves it there" in result.stderr
    lower = _passage("cornet-b-flat", tune, "--octave", "-1")
    found = _passage("cornet-b-flat", tune, "--octave", "auto")
    assert lower["octaves"] == found["octaves"] == -1
    assert lower["moved_semitones"] == found["moved_semitones"] == -12
    assert lower["notes"] == found["notes"] and len(lower["notes"]) == 8
    assert "chosen" not in lower
    assert found["chosen"] == ("Of all octaves, the part lies best an octave "
                               "lower: every note is available there, and 3 are "
                               "not as written")
    for word in ("+1", "1"):
        high = _passage("cornet-b-flat", tune, "--octave", word, code=1)
        assert high["octaves"] == 1 and len(high["not_available"]) == 8
    text = flat(expect(run("passage", "cornet-b-flat", tune, "-q", "--octave",
                           "auto"), 0).stdout)
    assert "The part is an octave lower than written." in text
    assert found["chosen"] + "." in text
    expect(run("passage", "cornet-b-flat", tune, "-q", "--octave", "-1", "-o",
               folder / "h.svg"), 0)
    assert "The part is an octave lower than written" in (
        folder / "h.svg").read_text()


def intervals_and_keys_say_the_same(folder):
    tune = _tune(folder, "d.abc", "D", "D F A d|^d =c B A|")
    asked = [_passage("cornet-b-flat", tune, *words) for words in (
        ("--transpose", "-M2"), ("--transpose", "-2"), ("--to-key", "C"))]
    assert asked[0] == asked[1] == asked[2]
    answer = asked[0]
    assert answer["transposed_semitones"] == -2 and answer["octaves"] == 0
    assert answer["key_before"]["note"] == "D"
    assert answer["key"] == {"note": "C", "mode": "major", "signature": 0}
    assert [note["spelled"] for note in answer["notes"]] == [
        "C4", "E4", "G4", "C5", "C#5", "Bb4", "A4", "G4"]
    text = flat(expect(run("passage", "cornet-b-flat", tune, "-q", "--to-key",
                           "C"), 0).stdout)
    assert "moved from D to C, a whole tone lower than written." in text
    german = flat(expect(run("passage", "cornet-b-flat", tune, "-q", "--to-key",
                             "Bb", "--names", "german"), 0).stdout)
    assert "moved from D to B, two whole tones lower than written." in german
    # Six sharps or six flats: as it is asked for.
    for word, signature in (("F#", 6), ("Gb", -6)):
        answer = _passage("cornet-b-flat", tune, "--to-key", word)
        assert answer["key"]["signature"] == signature
        assert all("##" not in note["spelled"] and "bb" not in note["spelled"]
                   for note in answer["notes"])


def a_key_is_found_within_its_reach(folder):
    tune = _tune(folder, "s.abc", "F#", "F G A B|c d e f|")
    answer = _passage("cornet-b-flat", tune, "--to-key", "auto")
    assert abs(answer["key"]["signature"]) == 1
    assert abs(answer["transposed_semitones"]) == 1
    assert answer["chosen"].startswith("Of the keys within 3 semitones, ")
    assert "is the easiest to finger and to read: it costs" in answer["chosen"]
    assert ", F# (6 sharps) " in answer["chosen"].replace("\u266f", "#")
    # In an easy key already, it stays.
    easy = _tune(folder, "e.abc", "C", "G c e g|")
    answer = _passage("cornet-b-flat", easy, "--to-key", "auto:6")
    assert answer["transposed_semitones"] == 0 and "key_before" not in answer
    assert "within 6 semitones, C as it is" in answer["chosen"]
    # Where the octave is looked for too, it is told why it moves.
    for notes, said in (("C E G c|", "in that key no other octave is better"),
                        ("C, E, G, C,|", "in that key the part lies best an "
                                         "octave higher")):
        tune = _tune(folder, "o.abc", "C", notes)
        answer = _passage("cornet-b-flat", tune, "--to-key", "auto",
                          "--octave", "auto")
        assert answer["chosen"].endswith(said), answer["chosen"]


def what_cannot_be_asked_is_refused(folder):
    tune = _tune(folder, "d.abc", "D minor", "D F A d|")
    result = expect(run("passage", "cornet-b-flat", tune, "--part", "3"), 3)
    assert "no part \"3\": a tune in ABC has voices" in result.stderr
    for words, said in (
            (("--octave", "low"), "--octave takes auto or a number of octaves"),
            (("--transpose", "H2"), "--transpose takes an interval, as in M2"),
            (("--to-key", "Dm"), "the note of a key, as in Bb"),
            (("--to-key", "auto:9"), "--to-key takes auto"),
            (("--to-key", "C", "--transpose", "2"), "leave one out")):
        result = expect(run("passage", "cornet-b-flat", tune, *words), 2)
        assert said in result.stderr, (words, result.stderr)
    result = expect(run("passage", "cornet-b-flat", tune, "--to-key", "Gb"), 3)
    assert "in that key the part would have 9 flats" in result.stderr
    assert "[H314]" in result.stderr
    for words in (("--octave", "5"), ("--transpose", "M")):
        expect(run("choose", tune, "cornet-b-flat", *words), 2)
    assert "--to-key does not belong" in expect(
        run("choose", tune, "cornet-b-flat", "--to-key", "C"), 2).stderr


def moved_music_goes_into_a_file_of_its_own(folder):
    tune = _tune(folder, "h.abc", "G", "g a b d'|g' d' b g|")
    before = tune.read_bytes()
    ask = ("passage", "cornet-b-flat", tune, "--octave", "-1", "-o")
    assert "[H006]" in expect(run(*ask, tune), 4).stderr
    assert tune.read_bytes() == before
    result = expect(run(*ask, folder / "low.abc"), 0)
    assert "the music is moved, so it is written anew, and not" in result.stderr
    assert "[H315]" in result.stderr
    low = _passage("cornet-b-flat", folder / "low.abc")
    want = _passage("cornet-b-flat", tune, "--octave", "-1")
    assert _names(low) == _names(want) and low["octaves"] == 0
    # In another format, and for another reader, likewise.
    expect(run(*ask[:-1], "--transpose", "m3", "-o", folder / "low.musicxml"), 0)
    low = _passage("cornet-b-flat", folder / "low.musicxml")
    want = _passage("cornet-b-flat", tune, "--octave", "-1", "--transpose",
                    "m3")
    assert _names(low) == _names(want) and low["key"] == want["key"]
    # A part keeps the transposition that it states.
    expect(run("passage", "cornet-b-flat", MARCH, "--octave", "-1", "-o",
               folder / "m.musicxml"), 0)
    moved = _passage("cornet-b-flat", folder / "m.musicxml")
    assert moved["taken_as"] == "stated" and moved["moved_semitones"] == 0
    # Where nothing moves, the file is the user's own, byte for byte.
    expect(run("passage", "cornet-b-flat", tune, "--octave", "0", "-q", "-o",
               folder / "own.abc"), 1)
    expect(run("passage", "cornet-b-flat", folder / "own.abc", "--bare", "-o",
               folder / "bare.abc"), 0)
    assert (folder / "bare.abc").read_bytes() == before


def a_choice_says_in_which_octave(folder):
    """A euphonium plays a cornet part an octave lower."""
    def ask(*args):
        return json.loads(expect(run("choose", MARCH, EUPHONIUM, "--json",
                                     *args), 0).stdout)["horns"][0]

    horn = ask()
    assert horn["octaves"] == -1 and horn["shift"] == 0
    assert not horn["not_available"] and horn["lost"]["octave"] == 5
    assert horn["score"] > 70
    text = expect(run("choose", MARCH, EUPHONIUM, "cornet-b-flat"), 0).stdout
    assert "The part is played an octave lower, and as written." in text, text
    there = json.loads(expect(run("choose", MARCH, EUPHONIUM, "--octave", "0",
                                  "--json"), 1).stdout)["horns"][0]
    assert there["octaves"] == 0 and there["shift"] == 12
    assert there["not_available"] and there["lost"]["octave"] == 0
    assert there["score"] < horn["score"]
    rows = expect(run("choose", MARCH, EUPHONIUM, "--format", "csv"),
                  0).stdout.splitlines()
    assert rows[0].split(",")[4:6] == ["shift", "octaves"]
    text = expect(run("choose", MARCH, "cornet-b-flat", "--transpose", "-M2"),
                  0).stdout
    assert "It is played a whole tone lower, as asked.\n" in text


def a_part_without_a_transposition_is_taken_alike(folder):
    """By passage, choose and print, which all say how."""
    tune = _tune(folder, "p.abc", "C", "C E G c|e c G E|")
    hint = ("the part states no transposition; its notes are taken as written "
            "for %s. If they are those that sound, ")
    result = expect(run("passage", "alto-e-flat", tune, "--json"), 0)
    assert hint % "this horn in Eb" + "say --from-sounding [H312]" in (
        result.stderr)
    part = json.loads(result.stdout)
    result = expect(run("choose", tune, "alto-e-flat", "keyed-bugle-c-6",
                        "--json"), 0)
    assert hint % "each horn" + "say --from-sounding [H312]" in result.stderr
    assert result.stderr.count("[H312]") == 1
    for horn in json.loads(result.stdout)["horns"]:
        assert horn["taken_as"] == part["taken_as"] == "written"
        assert horn["shift"] == part["moved_semitones"] == 0
    assert "taken as written for each horn" in flat(expect(
        run("choose", tune, "alto-e-flat", "-q"), 0).stdout)
    # In the bass clef, by horns that read the treble clef as it sounds; what is
    # said and what is warned of is one.
    low = _tune(folder, "low.abc", "C clef=bass", "C E G C|E C G, E|")
    result = run("choose", low, "alto-e-flat", "cornet-b-flat")
    assert "taken as they sound, and moved to each" in flat(result.stdout)
    assert "[H313]" in result.stderr and "[H312]" not in result.stderr
    result = run("choose", low, "alto-e-flat", "ophicleide-c-11")
    assert "for the others they are taken as written" in flat(result.stdout)
    assert "for horns in the treble clef: the part" in result.stderr
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\nformat: svg\nplayers:\n"
        "  - {name: Ada, horn: alto-e-flat, sheets: [{sheet: part, file: "
        "p.abc}]}\n"
        "  - {name: Ben, horn: alto-e-flat, sheets: [{sheet: part, file: p.abc,"
        " from_sounding: false}]}\n"
        "  - {name: Cy, horn: keyed-bugle-c-6, sheets: [{sheet: part, file: "
        "p.abc}]}\n")
    said = expect(run("print", "o.yaml", folder=folder), 0).stderr
    assert "Ada: " + hint % "this horn in Eb" + "write 'from_sounding" in said
    assert said.count("[H312]") == 1, said
    # What states its transposition, or is said to sound, is moved by all.
    for words in ((tune, "--from-sounding"), (MARCH,)):
        result = run("passage", "alto-e-flat", *words, "--json")
        assert "[H312]" not in result.stderr
        other = run("choose", words[0], "alto-e-flat", *words[1:], "--octave",
                    "0", "--json")
        assert "[H312]" not in other.stderr
        assert (json.loads(other.stdout)["horns"][0]["shift"]
                == json.loads(result.stdout)["moved_semitones"] != 0)


def an_order_has_the_same_words(folder):
    _tune(folder, "h.abc", "G", "g a b d'|g' d' b g|")
    sheet = "{sheet: part, file: h.abc, from_sounding: false%s}"
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\nformat: svg\nplayers:\n"
        f"  - {{name: Ada, horn: cornet-b-flat, octave: -1, sheets: [{sheet % ''}]}}\n"
        "  - {name: Ben, horn: cornet-b-flat, octave: -1, transpose: 2, sheets: "
        f"[{sheet % ', octave: 0, to_key: D'}]}}\n"
        f"  - {{name: Cy, horn: cornet-b-flat, sheets: [{sheet % ', octave: auto, transpose: -M2'}]}}\n"
        f"  - {{name: Di, horn: bass-e-flat, reads: bass, sheets: [{sheet % ', to_key: auto:2, octave: auto'}]}}\n")
    expect(run("print", "o.yaml", "-q", folder=folder), 1)
    sheets = {path.name.split("_")[0]: path.read_text()
              for path in (folder / "o").glob("*.svg")}
    assert "The part is an octave lower than written" in sheets["ada"]
    assert "The part is moved from G to D, a fourth lower than" in sheets["ben"]
    assert "The part is moved from G to F, an octave and a whole" in sheets["cy"]
    assert "for the player who reads it" in sheets["di"]
    for words, said in (("octave: 9", "octave: takes auto or a number"),
                        ("octave: [1]", "octave: takes auto or a number"),
                        ("transpose: Q", "transpose: takes an interval"),
                        ("to_key: Hb", "to_key: takes auto, auto:3"),
                        ("to_key: C, transpose: 2",
                         "'transpose' says already where the part goes")):
        (folder / "bad.yaml").write_text(
            "hornbook_order: 1\nband: B\nsheets: [plate]\nplayers:\n"
            f"  - {{name: Ada, horn: cornet-b-flat, {words}}}\n")
        result = expect(run("print", "bad.yaml", folder=folder), 3)
        assert said in result.stderr and "[H337]" in result.stderr, (
            words, result.stderr)


def a_part_out_of_reach_says_where_it_fits(folder):
    _tune(folder, "h.abc", "G", "g a b d'|g' d' b g|")
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\nformat: svg\nplayers:\n"
        "  - {name: Ada, horn: cornet-b-flat, sheets: [{sheet: part, file: "
        "h.abc}]}\n")
    said = expect(run("print", "o.yaml", folder=folder), 1).stderr
    assert ("their fingerings; an octave lower the horn has every note: write "
            "'octave: -1'") in said, said


if __name__ == "__main__":
    sys.exit(main(globals()))
