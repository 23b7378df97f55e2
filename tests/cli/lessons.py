#!/usr/bin/env python3
"""`lessons`: what is told and what is refused; its music is playable."""
import json
import sys

sys.dont_write_bytecode = True

from tap import expect, flat, main, run


def _ask(*words):
    return json.loads(expect(run("lessons", *words, "--json"), 0).stdout)


def _order(answer):
    return [note["name"] for lesson in answer["lessons"]
            for note in lesson["new"]]


def the_order_is_told_with_its_reasons(_):
    text = flat(expect(run("lessons", "keyed-bugle-c-6"), 0).stdout)
    assert "The first notes: C4 D4 E4 F4 G4." in text
    assert ("B4 is a semitone below C5: the right little finger alone, on key 1. "
            "It closes a key that is open at rest, so C5 had to be sure first."
            in text), text
    assert "With it the scale of C is whole." in text
    assert "A3 (not available)" in text
    text = flat(expect(run("lessons", "keyed-trumpet-e-flat-5"), 0).stdout)
    assert "All are well in tune but E4, " in text, text
    assert "E4 is a whole tone above D4: open, with nothing pressed." in text
    text = flat(expect(run("lessons", "cornet-b-flat", "--range", "G4-G5"),
                       0).stdout)
    assert "the range you asked for has others, from G4." in text, text
    text = flat(expect(run("lessons", "bugle-b-flat"), 0).stdout)
    assert "G4 comes first: a new lip is at ease there." in text, text
    assert "C5 is above G4: firmer lips, faster air." in text
    lines = expect(run("lessons", "cornet-b-flat"), 0).stdout.splitlines()
    assert max(map(len, lines)) <= 80


def every_study_is_playable_as_a_passage(_):
    for horn in ("keyed-bugle-c-6", "cornet-b-flat-semitone-first",
                 "ophicleide-c-9", "bass-e-flat"):
        for lesson in _ask(horn)["lessons"]:
            study = lesson["study"]
            assert study["run"].count("|") + 1 == study["bars"]
            part = json.loads(expect(
                run("passage", horn, "--run", study["run"], "--json"),
                0).stdout)
            assert part["not_available"] == [], (horn, lesson["number"])


def the_answer_is_the_same_each_time(_):
    first = expect(run("lessons", "ophicleide-c-9", "--json"), 0).stdout
    again = expect(run("lessons", "ophicleide-c-9", "--json"), 0).stdout
    assert first == again


def a_range_is_kept_to_as_it_is_read(_):
    whole, few = _ask("bass-e-flat"), _ask("bass-e-flat", "--range", "C4-C5")
    assert few["range"] == {"low": "C4", "high": "C5"}
    assert set(_order(few)) < set(_order(whole))
    read = _ask("bass-e-flat", "--range", "Eb2-Eb3", "--reads", "bass")
    assert read["range"] == {"low": "C4", "high": "C5"}
    assert _order(read) == _order(few)


def a_wrong_range_is_refused_with_what_would_be_right(_):
    for wrong, told in (("C4", "write them like C4-C5"),
                        ("H4-C5", "write them like C4-C5"),
                        ("C5-C4", "the lower note comes first"),
                        ("C4-C9", "outside the compass of this horn, F#3 to C6")
                        ):
        result = expect(run("lessons", "cornet-b-flat", "--range", wrong), 2)
        assert told in flat(result.stderr), result.stderr


def a_horn_without_a_scale_has_calls(_):
    answer = _ask("bugle-b-flat")
    assert sorted(_order(answer)) == ["C4", "C5", "E5", "G4", "G5"]
    assert "call" in [lesson["kind"] for lesson in answer["lessons"]]
    assert answer["left_out"] == []


def a_horn_without_two_notes_has_none(_):
    asked = ["lessons", "bugle-b-flat", "--range", "C4-F4"]
    result = expect(run(*asked), 1)
    assert "No lessons. The horn has no three notes by step" in flat(
        result.stdout)
    answer = json.loads(expect(run(*asked, "--json"), 1).stdout)
    assert answer["lessons"] == [] and answer["first"]["notes"] == []


def what_is_stuck_is_not_taught(_):
    order = _order(_ask("keyed-bugle-c-6", "--stuck", "key:5=closed"))
    assert "E4" not in order and "E5" in order and "F4" in order


def what_a_player_knows_stands_beside_it(_):
    asked = ["cornet-b-flat-semitone-first", "--knows", "cornet-b-flat"]
    text = expect(run("lessons", *asked), 0).stdout
    assert "REVERSED VALVES: valve 1 a semitone, valve 2 a whole tone" in text
    rows = [line.split() for line in text.splitlines()]
    assert any(row[:4] == ["F4", "2", "1", "*"] for row in rows), text
    assert max(map(len, text.splitlines())) <= 80
    # What no row has is not explained.
    assert "* a different fingering.\n" in text
    assert "o the same number" not in text
    answer = _ask(*asked)
    assert answer["knows"]["horn"] == "Cornet in B flat, three pistons"
    assert answer["knows"]["warning"].startswith("REVERSED VALVES")
    new = {note["name"]: (note["label"], note["known"], note["change"])
           for lesson in answer["lessons"] for note in lesson["new"]}
    assert new["F4"] == ("2", "1", "fingering")
    assert new["E4"] == ("1-2", "1-2", "none")
    plain = _ask(asked[0])
    assert "knows" not in plain
    assert "known" not in plain["lessons"][0]["new"][0]
    assert [lesson["study"] for lesson in plain["lessons"]] == [
        lesson["study"] for lesson in answer["lessons"]]
    result = expect(run("lessons", "bass-e-flat", "--knows", "no-such-horn"),
                    3)
    assert "no-such-horn" in result.stderr


def notes_are_named_as_the_player_names_them(_):
    text = expect(run("lessons", "cornet-b-flat", "--names", "german"),
                  0).stdout
    assert "H4" in text and "Fis4" in text
    text = expect(run("lessons", "bass-e-flat", "--reads", "concert"), 0).stdout
    assert "The first notes: Eb2 F2 G2 Ab2 Bb2." in text


sys.exit(main(globals()))
