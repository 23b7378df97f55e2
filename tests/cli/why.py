#!/usr/bin/env python3
"""Why a note is played as it is: what is said agrees with the table."""
import json
import math
import pathlib
import re
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).parent))

from tap import expect, flat, main, run


def _said(horn, note, *args):
    """The sentences about a note, without the head."""
    text = expect(run("notes", horn, "--why", note, *args), 0).stdout
    return flat(text.split("\n\n")[1])


def _first(horn, note):
    notes = json.loads(expect(run("notes", horn, "--json"), 0).stdout)["notes"]
    return next(n for n in notes if n["written"] == note)["fingerings"][0]


def a_natural_partial_is_blamed_for_itself(_):
    """1200 log2(5/4) is 386.3, so partial 5 is 13.7 cents under E."""
    assert round(1200 * math.log2(5 / 4)) == 386
    said = _said("cornet-b-flat", "E5")
    assert said.startswith("E5 is played open on partial 5 and is 14 cents "
                           "flat.")
    assert "as it is on every horn by nature" in said
    # What a valve adds of its own is told apart from it.
    said = _said("cornet-b-flat", "D5")
    assert "Partial 5 of the open horn, E5, is itself 14 cents flat" in said
    assert "wanted" not in said


def loops_are_too_short_together(_):
    """Each loop lengthens the tube by its own share, not by that of the tube
    with the others in (common practice, and arithmetic)."""
    first = _first("cornet-b-flat", "C#4")
    said = _said("cornet-b-flat", "C#4")
    lowers, wanted = map(int, re.search(
        r"lowers it by (\d+) cents where (\d+) are wanted", said).groups())
    assert wanted == 600 and "right one at a time" in said
    open_third = 1200 * math.log2(3) - 1900  # partial 3 over G
    assert abs(wanted - lowers + open_third - first["cents"]) < 1.01


def the_hole_that_sets_the_pitch_is_named(_):
    said = _said("keyed-bugle-c-6-munich", "F5")
    first = _first("keyed-bugle-c-6-munich", "F5")
    key = max(first["label"].split("-"), key=int)
    assert f"The hole of key {key} is the open one nearest the mouth" in said


def the_low_e_flat_is_known(_):
    """Makers gave some keyed bugles a second key for it: National Music
    Museum 7111 has two, the older six keys have one."""
    said = _said("keyed-bugle-c-6-munich", "Eb4")
    assert abs(_first("keyed-bugle-c-6-munich", "D#4")["cents"]) >= 30
    assert "a second key for it" in said
    assert "second key" not in _said("keyed-bugle-c-6", "Eb4")
    assert "second key" not in _said("cornet-b-flat", "Eb4")
    # Nor has it to do with an ophicleide, whatever its third semitone is.
    for horn in ("ophicleide-c-9-museum", "ophicleide-b-flat-11-museum"):
        assert "second key" not in _said(horn, "C#3")
        assert "second key" not in _said(horn, "Eb3")


def what_is_missing_is_explained(_):
    said = _said("bugle-b-flat", "D4")
    assert said.startswith("D4 is not available: the nearest fingering is ")
    said = _said("cornet-b-flat", "B3", "--stuck", "valve:2=up")
    assert said == "B3 is not available: because of what is stuck."


def every_note_of_every_horn_has_a_reason(_):
    for horn in expect(run("horns", "--brief"), 0).stdout.split():
        notes = json.loads(run("notes", horn, "--json").stdout)["notes"]
        text = expect(run("notes", horn, "--why",
                          " ".join(n["written"] for n in notes[:32])),
                      0).stdout
        paragraphs = text.split("\n\n")[1:]
        assert len(paragraphs) == min(len(notes), 32)
        for note, said in zip(notes, paragraphs):
            assert ("is not available" in said) == (not note["fingerings"])
            assert "nan" not in said and flat(said).count(". ") < 6, said


def _misleads(data):
    """First choices that are neither taught nor within 30 cents."""
    return [(note["written"], first["label"], first["cents"])
            for note in data["notes"] for first in note["fingerings"][:1]
            if not first["taught"] and abs(first["cents"]) > 30]


def a_horn_is_a_chart_to_learn_from_or_says_it_is_not(_):
    """With every crook a first choice of a bored horn, or of one with crooks,
    is what is taught, or within 30 cents and explained."""
    horns = json.loads(run("horns", "--json").stdout)["horns"]
    bored, crooked, says_not = [], [], []
    for horn in horns:
        if not (horn["has_bore"] or horn["crooks"]):
            continue
        for crook in ["none", *horn["crooks"]]:
            args = [horn["horn"], "--crook", crook]
            if crook == "none":
                args = args[:1]
                bored += args if horn["has_bore"] else []
            else:
                crooked.append(args)
            data = json.loads(run("notes", *args, "--json").stdout)
            if data.get("learn_from") is False:
                says_not.append(args)
                assert "NOT TO LEARN FROM" in flat(run("notes", *args).stdout)
                continue
            assert not _misleads(data), (args, _misleads(data))
            untaught = [note["written"] for note in data["notes"]
                        if note["fingerings"]
                        and not note["fingerings"][0]["taught"]]
            for note in untaught:
                assert "usual fingering" in _said(args[0], note, *args[1:])
    assert len(bored) >= 10 and len(crooked) >= 6
    horns_not = [args for args in says_not if len(args) == 1]
    assert 0 < len(horns_not) < len(bored)


def a_crook_is_no_chart_only_where_it_misleads(_):
    """What the file says of a crook holds for it alone, and is so."""
    n = 0
    for horn in json.loads(run("horns", "--json").stdout)["horns"]:
        own = json.loads(run("notes", horn["horn"], "--json").stdout)
        for crook in horn["crooks"] if "learn_from" not in own else []:
            args = [horn["horn"], "--crook", crook]
            data = json.loads(run("notes", *args, "--json").stdout)
            if "learn_from" in data:
                n += 1
                missing = [note["written"] for note in data["notes"]
                           if not note["fingerings"]]
                assert _misleads(data) or missing, args
                said = flat(run("notes", *args).stdout)
                assert "NOT TO LEARN FROM with the " in said, said
    assert n > 0
    # The remark is said with it, and not without the crook.
    horn = "cornet-b-flat-echo-bell-museum"
    remark = "octaves come out too wide."
    assert remark in flat(run("notes", horn, "--crook", "Ab").stdout)
    assert remark not in flat(run("notes", horn, "--crook", "A").stdout)
    assert "NOT TO LEARN" not in run("notes", horn).stdout
    for command in ("slides", "passage"):
        args = [command, horn, "--crook", "Ab"]
        args += ["--run", "C4:1/4 D4:1/4"] if command == "passage" else []
        out = flat(run(*args).stdout)
        assert "NOT TO LEARN FROM with the Ab crook" in out, out


def it_stands_alone_and_takes_notes_of_the_horn(_):
    for words in (["--why", "H4"], ["--why", "C9"], ["--why", " "],
                  ["--why", "C4", "--json"], ["--why", "C4", "--brief"],
                  ["--why", "C4", "--hold", "C4"]):
        expect(run("notes", "cornet-b-flat", *words), 2)


sys.exit(main(globals()))
