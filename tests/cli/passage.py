#!/usr/bin/env python3
"""What passage tells: counts, beats, costs, tempos, the user's spelling."""
import json
import re
import sys

sys.dont_write_bytecode = True

from tap import expect, flat, main, run


def bars_count_and_answer_for_themselves(folder):
    (folder / "d.abc").write_text(
        "X:1\nM:2/4\nL:1/4\nK:C\nD G|C C|D D|D E|\n")
    horn = "cornet-b-flat-two-valve"
    result = expect(run("passage", horn, "d.abc", folder=folder), 1)
    assert result.stderr.count("not available") == 1
    assert "bars 1, 3 and 4: D4 is not available" in result.stderr
    assert "an octave higher, this horn has every note" in result.stderr
    assert "[H305]" in result.stderr
    result = expect(run("passage", horn, "d.abc", "--bars", "2",
                        folder=folder), 0)
    assert result.stderr.count("[") == 1 and "[H312]" in result.stderr
    assert "not available" not in result.stdout
    assert "2 written notes in the bars shown" in result.stdout
    result = expect(run("passage", horn, "d.abc", "--bars", "4", "--json",
                        folder=folder), 1)
    assert "bar 4, beat 1: D4 is not available" in result.stderr
    assert [note["bar"] for note in json.loads(result.stdout)[
        "not_available"]] == ["4"]
    part = json.loads(expect(
        run("passage", "cornet-b-flat", "charts/attic-galop.abc", "--bars",
            "9", "--json", "--choices", "8"), 0).stdout)
    ways = [tuple(way["labels"]) for way in part["ways"]]
    assert len(set(ways)) == len(ways) < 9 and len(ways[0]) == 3
    assert part["alternates"] == 0


def the_order_played_is_told(folder):
    (folder / "p.abc").write_text(
        "X:1\nM:2/4\nL:1/2\nK:C\n|:C|E|1G:|2c|]!segno!d|e!dacoda!|"
        "f!D.S.alcoda!|!coda!g|a\"D.C. al Fine\"|]\n")
    args = ("passage", "cornet-b-flat", "p.abc")
    result = expect(run(*args, folder=folder), 0)
    assert ("Played: bars 1-3, 1-2, 4-7, then 5-6 (D.S. al Coda), then 8-9 "
            "(the coda), then 1-2 (D.C. al Fine), 4-9; after D.C. and D.S. "
            "without repeats.") in flat(result.stdout), result.stdout
    assert "no Fine is met" in result.stderr
    result = expect(run(*args, "--json", folder=folder), 0)
    data = json.loads(result.stdout)
    played = data["played"]
    assert played["bars"] == "1 2 3 1 2 4 5 6 7 5 6 8 9 1 2 4 5 6 7 8 9".split()
    assert played["repeats_left_out"] is True
    flatly = [bar for stretch in played["stretches"]
              for bar in range(stretch["from"], stretch["to"] + 1)]
    assert [str(bar) for bar in flatly] == played["bars"]
    assert [stretch["way"] for stretch in played["stretches"]] == [
        "beginning", "repeat", "ending", "jump", "coda", "jump", "ending"]
    assert played["stretches"][3]["sign"] == "D.S. al Coda"
    for note in data["notes"]:
        assert note["times"] == played["bars"].count(note["bar"]), note
    (folder / "r.abc").write_text(
        "X:1\nL:1/1\nK:C\nC\"Fine\"|D\"D.C.\"|E|F|\n")
    result = expect(run("passage", "cornet-b-flat", "r.abc", "--json",
                        folder=folder), 0)
    assert "bars 3-4 are never played" in result.stderr
    assert [note["times"] for note in json.loads(result.stdout)["notes"]] == [
        2, 1, 0, 0]
    plain = expect(run("passage", "cornet-b-flat", "--run", "C5 D5"), 0)
    assert "Played" not in plain.stdout
    (folder / "q.abc").write_text(
        "X:1\nM:2/4\nL:1/2\nP:A99B\nK:C\nP:A\nC|\nP:B\nD|E|\n")
    result = expect(run("passage", "cornet-b-flat", "q.abc", folder=folder), 0)
    assert "Played: bars 1 99 times, 2-3." in flat(result.stdout), (
        result.stdout)
    result = expect(run("passage", "cornet-b-flat", "q.abc", "--json",
                        folder=folder), 0)
    assert json.loads(result.stdout)["played"]["stretches"][-1] == {
        "from": 2, "to": 3, "way": "part", "part": "B"}


def beats_are_exact(folder):
    (folder / "b.abc").write_text(
        "X:1\nM:2/4\nL:1/8\nK:C\n(3cde f/4g/4f/4g/4 c|\n")
    text = expect(run("passage", "cornet-b-flat", "b.abc", folder=folder),
                  0).stdout
    beats = [line.split("  ")[1] for line in text.split("bar 1\n")[
        1].split("\n\n")[0].splitlines() if line.startswith("  ")]
    assert beats == ["1", "1 1/3", "1 2/3", "2", "2.125", "2.25", "2.375",
                     "2.5"], beats


def costs_are_told_as_cents(_):
    args = ("passage", "cornet-b-flat", "charts/attic-galop.abc")
    text = expect(run(*args), 0).stdout
    data = json.loads(expect(run(*args, "--json"), 0).stdout)
    told = [float(cost) for cost in re.findall(r"\) \+(\d+)", text)]
    meant = [other["extra_cost"] for note in data["notes"]
             for other in note["others"]]
    assert len(told) == len(meant) > 40
    assert all(abs(a - b ** 0.5) <= 0.51 for a, b in zip(told, meant))


def tempos_are_told_in_the_beat_of_the_tune(folder):
    (folder / "j.abc").write_text(
        "X:1\nM:6/8\nL:1/16\nQ:3/8=150\nK:C\nDEDEFE^FGAGFE|\n")
    text = expect(run("passage", "cornet-b-flat", "j.abc", folder=folder),
                  0).stdout
    assert "Tempo: dotted quarter = 150, at the tempo written." in text
    hard = [float(beats) for beats in re.findall(
        r"playable from about dotted quarter = (\d+) down", flat(text))]
    assert hard == sorted(hard) and len(hard) > 1
    assert f"All of it from about dotted quarter = {hard[0]:.0f} down" in flat(text)
    # At that tempo nothing is hard any more.
    slow = expect(run("passage", "cornet-b-flat", "j.abc", "--tempo",
                      str(hard[0] * 1.5), folder=folder), 0).stdout
    assert "Hard" not in slow and "as asked" in slow


def ornaments_without_fingers_are_named(folder):
    (folder / "o.abc").write_text(
        "X:1\nM:2/4\nL:1/4\nK:C\n~c d|!turn!e f|Tg g|Pe !mordent!d|\n")
    result = expect(run("passage", "cornet-b-flat", "o.abc", folder=folder), 0)
    assert "o.abc:5:2: warning: bars 1, 2 and 4: turns" in result.stderr, (
        result.stderr)
    assert result.stderr.count("warning") == 2 and "[H306]" in result.stderr
    assert "[H312]" in result.stderr, "it states no transposition"
    result = expect(run("passage", "cornet-b-flat", "o.abc", "--bars", "3",
                        folder=folder), 0)
    assert result.stderr.count("[") == 1 and "[H312]" in result.stderr
    note = ("<note><pitch><step>E</step><octave>4</octave></pitch><duration>4"
            "</duration><type>whole</type><notations><ornaments>%s</ornaments>"
            "</notations></note>")
    score = ('<score-partwise version="4.0"><part-list><score-part id="P">'
             "<part-name>P</part-name></score-part></part-list><part id='P'>"
             "<measure number='1'><attributes><divisions>1</divisions>"
             "</attributes>%s</measure></part></score-partwise>")
    for ornaments, number in [
        ("<trill-mark/><accidental-mark>flat</accidental-mark>", "H307"),
        ("<inverted-turn/>", "H306"), ("<mordent/>", "H306")]:
        (folder / "o.musicxml").write_text(score % (note % ornaments))
        result = expect(run("passage", "cornet-b-flat", "o.musicxml",
                            folder=folder), 0)
        assert f"[{number}]" in result.stderr, (ornaments, result.stderr)
        assert "bar 1: " in result.stderr
    # A trill to the note that its accidental says, moved with its note.
    trill = "<trill-mark/><accidental-mark>%s</accidental-mark>"
    for sign, interval in [("natural", 1), ("sharp", 2)]:
        (folder / "o.musicxml").write_text(score % (note % (trill % sign)))
        result = expect(run("passage", "cornet-b-flat", "o.musicxml", "--json",
                            folder=folder), 0)
        assert "H307" not in result.stderr, result.stderr
        trills = json.loads(result.stdout)["notes"][0]["trill"]
        assert trills["semitones"] == interval, trills
    expect(run("passage", "cornet-b-flat", "o.musicxml", "--transpose", "M2",
               "-o", "p.musicxml", folder=folder), 0)
    moved = (folder / "p.musicxml").read_text()
    assert trill % "sharp" in moved, moved

def hard_places_are_practiced_alone(folder):
    (folder / "p.abc").write_text(
        "X:1\nT:Air\nM:4/4\nL:1/16\nQ:1/4=200\nK:C\n"
        "c16|^DE^DE E12|c16|c16|[P:B]c8 ^DE^DE^DE^DE|E16|c16|\n")
    args = ("passage", "cornet-b-flat", "p.abc", "--practice")
    text = expect(run(*args, folder=folder), 0).stdout
    assert re.findall(r"^bar (\d)$", text, re.M) == ["1", "2", "5", "6"], text
    data = json.loads(expect(run(*args, "--json", folder=folder), 0).stdout)
    assert sorted({note["bar"] for note in data["notes"]}) == [
        "1", "2", "5", "6"]
    assert any("playable_at" in note for note in data["notes"])
    brief = expect(run(*args, "--brief", folder=folder), 0).stdout
    assert brief.count("bar ") == 4, brief
    expect(run(*args, "-o", "p.svg", folder=folder), 0)
    sheet = (folder / "p.svg").read_text()
    assert "Bars 5 and 6, letter B: playable from about quarter" in sheet
    # What is easy needs none, and that is an answer.
    text = expect(run(*args, "--tempo", "60", folder=folder), 0).stdout
    assert "play it through and enjoy it." in flat(text), text
    assert "partial" not in text
    brief = expect(run(*args, "--tempo", "60", "--brief", folder=folder),
                   0).stdout
    assert flat(brief).endswith("play it through and enjoy it."), brief
    expect(run(*args, "--tempo", "60", "-o", "e.svg", folder=folder), 0)
    assert "and enjoy it" in (folder / "e.svg").read_text()


def choices_stand_on_a_part_where_they_are_asked_for(folder):
    (folder / "c.abc").write_text("X:1\nL:1/4\nK:C\nTE2 A2|\n")
    args = ("passage", "cornet-b-flat", "c.abc", "-o")
    expect(run(*args, "plain.svg", folder=folder), 0)
    expect(run(*args, "two.svg", "--choices", "2", folder=folder), 0)
    plain, two = ((folder / name).read_text()
                  for name in ("plain.svg", "two.svg"))
    assert "parentheses" not in plain and "parentheses" in two
    assert "or 3" in two and "or 3" not in plain
    # How the trill goes is no choice, and always there.
    assert "trill to " in plain and "After tr" in plain


def a_fingering_spelled_otherwise_is_not_doubled(folder):
    own = ("X:1\nM:4/4\nL:1/4\nK:C\n"
           '"_12"e"_open"c"_13"G"_1+2"A|\n')
    (folder / "own.abc").write_text(own)
    expect(run("passage", "cornet-b-flat", "own.abc", "--keep", "-o",
               "out.abc", folder=folder), 0)
    assert (folder / "out.abc").read_text() == own
    # In a new file they stand as this horn's labels.
    expect(run("passage", "cornet-b-flat", "own.abc", "--keep", "-o",
               "out.musicxml", folder=folder), 0)
    text = (folder / "out.musicxml").read_text()
    assert re.findall("<fingering[^>]*>([^<]*)<", text) == ["1-2", "0", "1-3",
                                                       "1-2"]


sys.exit(main(globals()))
