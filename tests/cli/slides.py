#!/usr/bin/env python3
"""Slides, pitches and what is stuck: of one horn and of a band."""
import csv
import io
import json
import math
import re
import sys

sys.dont_write_bytecode = True

from tap import HIGH_PITCH, ROOT, expect, flat, main, run

TUNES = ROOT / "tests/data/tunes.abc"
GALOP = ROOT / "charts/attic-galop.abc"


def _ask(*args, code=0, folder=None):
    return json.loads(expect(run(*args, "--json", folder=folder), code).stdout)


def a_u_slide_takes_twenty_mm_from_high_pitch_to_low(folder):
    """Worked out from a half wave of 1472 mm; a shank takes 41 mm."""
    for name, legs, want in [("main", 2, 20), ("shank", 1, 41)]:
        (folder / "h.yaml").write_text(HIGH_PITCH % (name, legs))
        data = _ask("slides", "h.yaml", "--a4", "440", folder=folder)
        assert abs(data["slides"][0]["pulled_mm"] - want) < 0.6, data["slides"]
        assert abs(data["after_cents"]) < 0.01
        # 2.90 cents a degree at 20 degrees: speed of sound, Keefe 1984.
        assert abs(data["cents_per_degree"] - 2.90) < 0.02
        assert abs(data["highest_a4_hz"] - 452.5) < 0.01
        assert "not available" not in json.dumps(data)


def slides_of_a_crook_are_told_in_four_ways(folder):
    data = _ask("slides", "cornopean-b-flat", "--crook", "A")
    first = data["slides"][1]
    # 5.4 mm a leg for the A crook: loop times tube added over open length.
    assert abs(first["own_mm"] - first["stands_out_mm"] - 5.4) < 0.15 and first["legs"] == 2
    assert data["best_rms_cents"] < data["own_rms_cents"]
    assert data["own_rms_cents"] < data["slides_in_rms_cents"]
    assert data["valve_slides"] == "own"
    assert abs(first["pulled_mm"] - first["own_mm"]) < 0.01
    text = expect(run("slides", "cornopean-b-flat", "--crook", "A"), 0).stdout
    assert "own interval" in text and "With the A shank" in text
    rows = list(csv.reader(io.StringIO(
        expect(run("slides", "cornopean-b-flat", "--format", "csv"),
               0).stdout)))
    assert rows[0][0] == "slide" and rows[1][0] == "main"
    assert ["written", "label"] == rows[rows.index([]) + 1][:2]
    for name, start in [("c.pdf", b"%PDF-"), ("c.svg", b"<?xml"),
                        ("c.png", b"\x89PNG")]:
        expect(run("slides", "cornopean-b-flat", "--paper", "A6", "-o", name,
                   folder=folder), 0)
        assert (folder / name).read_bytes().startswith(start)


def a_slide_card_is_made_for_the_case(folder):
    """A6 is 105 x 148 mm; another paper where one is asked for."""
    for asked, size in (([], "105mm"), (["--paper", "A4"], "210mm")):
        expect(run("slides", "keyed-bugle-c-6", *asked, "-o", "s.svg",
                   folder=folder), 0)
        text = (folder / "s.svg").read_text(encoding="utf-8")
        assert f'width="{size}"' in text, text[:300]


def bored_horns_have_slides_too(_):
    data = _ask("slides", "cornet-b-flat-bore", "--a4", "430")
    assert data["slides"][0]["pulled_mm"] > 10
    assert abs(data["after_cents"]) < 0.01
    assert data["best_rms_cents"] <= data["slides_in_rms_cents"]


def slides_that_do_not_reach_are_told(_):
    text = expect(run("slides", "cornopean-b-flat", "--crook", "G"), 0).stdout
    assert "would need 19 mm to keep the valve’s own interval; it has 15." in text
    text = expect(run("slides", "cornet-b-flat", "--a4", "457"), 0).stdout
    assert "cents flat of A = 457 Hz: this horn plays at A = 44" in text


def every_command_has_the_valve_slides_where_it_is_told(folder):
    asked = ["cornopean-b-flat", "--crook", "Ab", "--valve-slides"]
    home, own, best = (_ask("notes", *asked, how)
                       for how in ("in", "own", "best"))
    for notes in (home, own, best):
        plan = _ask("slides", *asked, notes["valve_slides"])
        draws = [s["pulled_mm"] for s in notes["tuning"]["slides"]]
        assert draws == [s["pulled_mm"] for s in plan["slides"]]
        keys = _ask("scales", *asked, notes["valve_slides"])
        assert keys["valve_slides"] == notes["valve_slides"]
    assert own == _ask("notes", "cornopean-b-flat", "--crook", "Ab")
    assert all(s["pulled_mm"] == 0 for s in home["tuning"]["slides"][1:])

    def rms(data):
        cents = [n["fingerings"][0]["cents"] for n in data["notes"]
                 if n["fingerings"]]
        return math.sqrt(sum(c * c for c in cents) / len(cents))

    assert rms(best) < rms(own) < rms(home) - 5
    assert home["not_available"] and not own["not_available"]
    text = expect(run("notes", "cornopean-b-flat", "--crook", "Ab"), 0).stdout
    first, second, third = (round(s["pulled_mm"])
                            for s in own["tuning"]["slides"][1:])
    assert (f"valve slides: first {first}, second {second}, third {third} mm, "
            "keeping each valve’s own interval." in flat(text))
    expect(run("chart", *asked, "best", "-o", "c.svg", folder=folder), 0)
    expect(run("notes", *asked, "out"), 2)
    expect(run("notes", *asked, "own", "--raw"), 2)
    raw = expect(run("notes", "cornet-b-flat", "--raw", "--a4", "452.5"), 0)
    # 1200 log2(440 / 452.5) = -48.5.
    assert "Nothing is taken off: C5 is 48 cents flat" in flat(raw.stdout)
    ends = expect(run("notes", "cornopean-b-flat", "--crook", "G"), 0).stdout
    assert "first 15 (wants 19)" in flat(ends)


def a_part_and_the_tables_of_one_player_agree(_):
    """Head, notes and cents of passage, notes, slides and scales."""
    settings = [[], ["--a4", "452.5", "--room", "17"],
                ["--a4", "431", "--valve-slides", "best"],
                ["--temperature", "28", "--valve-slides", "in"]]
    names = sorted(p.stem for p in (ROOT / "instruments").glob("*/*.yaml"))
    assert len(names) > 30
    alike = ["a4_hz", "pitch_hz", "left_cents", "temperature_c", "room_c",
             "crook", "valve_slides"]
    for i, name in enumerate(names):
        asked = [name, *settings[i % len(settings)]]
        notes = _ask("notes", *asked)
        firsts = {n["written"]: n["fingerings"][0] for n in notes["notes"]
                  if n["fingerings"]}
        tune = ["--run", " ".join(list(firsts)[:12])]
        part = _ask("passage", *asked, *tune)
        slides = _ask("slides", *asked)
        scales = _ask("scales", *asked)
        for other in (part, slides, scales):
            assert [other[k] for k in alike] == [notes[k] for k in alike], name
        for note in part["notes"]:
            first = firsts[note["written"]]
            assert note["usual"] == (note["label"] == first["label"]) or (
                note["partial"] != first["partial"]), (name, note)
            if note["usual"]:
                assert note["cents"] == first["cents"], (name, note)
        for note in slides["notes"]:
            if note["label"] is not None:
                first = firsts[note["written"]]
                assert (note["label"], note["cents"]) == (
                    first["label"], first["cents"]), (name, note)
        # Two lines of the head, and what stays off, word for word.
        lines = expect(run("notes", *asked), 0).stdout.splitlines()
        head = lines[2:next(i for i, line in enumerate(lines)
                            if line.startswith("Fingers:") or not line)]
        for text in (run("passage", *asked, *tune), run("slides", *asked),
                     run("scales", *asked)):
            said = expect(text, 0).stdout.splitlines()
            assert all(line in said for line in head), (name, head)


def what_is_stuck_has_an_account(_):
    data = _ask("notes", "cornet-b-flat", "--stuck", "valve:3=up")
    stuck = data["stuck"]
    free = _ask("notes", "cornet-b-flat")
    assert "stuck" not in free
    # Without the third valve nothing lies five or six semitones below open.
    assert {"G3", "D4", "F#3", "C#4"} <= set(stuck["lost"])
    by = {c["written"]: c for c in stuck["changed"]}
    first = {n["written"]: n["fingerings"][0]["label"] for n in free["notes"]}
    now = {n["written"]: n["fingerings"] for n in data["notes"]}
    for name, change in by.items():
        assert change["was"]["label"] == first[name]
        assert change["now"]["label"] == now[name][0]["label"]
        assert "3" not in change["now"]["label"]
    assert (len(stuck["lost"]) + len(by) + stuck["unchanged"] +
            len(stuck["gained"])) == len(free["notes"])
    text = expect(run("notes", "keyed-bugle-c-6", "--stuck", "key:3=open"),
                  0).stdout
    assert "lost: " in text and "as before: " in text
    assert "in place of" in text
    # With 3 down the horn is in G: D5 and E5 are a partial higher on it.
    text = expect(run("notes", "cornet-b-flat", "--stuck", "valve:3=down"),
                  0).stdout
    assert "  D5   1 on partial 6 (+17 cents) in place of partial 5\n" in text
    assert "  E5   0 on partial 6 (-14 cents) in place of partial 5\n" in text
    assert re.search(r"^  C5   2 \(.*\) in place of 0$", text, re.M), text
    assert not re.search(r"^  \S+ +(\S+) \(.*\) in place of \1$", text, re.M)
    # A key that is open in any case takes nothing away from the open note.
    text = expect(run("notes", "keyed-bugle-c-6", "--stuck", "key:1=open"),
                  0).stdout
    assert "lost: B3" in text


def slides_and_choices_know_what_is_stuck(_):
    data = _ask("slides", "cornet-b-flat", "--stuck", "valve:3=up")
    assert all("3" not in (n["label"] or "") for n in data["notes"])
    free = _ask("choose", TUNES, "cornet-b-flat", "--tune", "7")
    stuck = _ask("choose", TUNES, "cornet-b-flat", "--tune", "7", "--stuck",
                "valve:2=down", code=1)
    assert free["horns"][0]["not_available"] == []
    lost = stuck["horns"][0]["not_available"]
    assert lost and {"bar", "written"} == set(lost[0])


def a_pitch_is_found_for_a_band(folder):
    (folder / "high.yaml").write_text(HIGH_PITCH % ("main", 2))
    data = _ask("pitch", "high.yaml", "cornet-b-flat", "bass-e-flat",
               folder=folder)
    assert data["total_cents"] == 0
    # 23 mm on two legs are 46 of the bass's 4412 mm: 18 cents above 440.
    assert abs(data["all_fit_to_hz"] - 444.6) < 0.1
    assert 440 <= data["a4_hz"] <= data["all_fit_to_hz"]
    high = data["horns"][0]
    # The low shank alone takes 41.8 of the 41.7 mm that are wanted.
    assert {s["crook"] for s in high["setups"]} == {None, "low"}
    assert abs(high["after_cents"]) < 0.01
    asked = _ask("pitch", "high.yaml", "cornet-b-flat", "--a4", "452.5",
                folder=folder)
    assert asked["a4_hz"] == 452.5
    # 48.5 cents from 440 to 452.5, less 23.7 for 20 mm of main slide.
    assert abs(asked["total_cents"] - 24.8) < 0.1
    assert asked["horns"][1]["after_cents"] < -24
    cold = _ask("pitch", "high.yaml", "--temperature", "10", folder=folder)
    assert cold["horns"][0]["setups"][0]["highest_a4_hz"] < 445
    text = expect(run("pitch", "high.yaml", "cornet-b-flat", folder=folder),
                  0).stdout
    for word in ("435.0 Hz", "440.0 Hz", "452.5 Hz", "457.2 Hz",
                 "diapason normal", "Britannica 1911", "ISO 16"):
        assert word in text, word
    rows = list(csv.reader(io.StringIO(expect(
        run("pitch", "high.yaml", "--format", "csv", folder=folder),
        0).stdout)))
    assert [len(row) for row in rows] == [7, 7]


def half_a_cent_is_in_tune_and_a_cent_is_not(folder):
    """A tube that nothing moves: 440.1 is 0.4 cents above its pitch, 440.25
    is 1.0."""
    (folder / "fixed.yaml").write_text(
        "hornbook: 1\nname: Post horn\nwritten_c4_sounds: C4\n"
        "fundamental: C3\ntuning: {note: C5, a4: 440}\n")
    for a4, words, out in [(440.1, "in tune", 0), (440.25, "1 cent flat", 1),
                           (439.9, "in tune", 0), (439.75, "1 cent sharp", 1)]:
        text = expect(run("pitch", "fixed.yaml", "--a4", a4, folder=folder),
                      0).stdout
        assert f": {words} " in flat(text), (a4, text)
        assert ("cannot be tuned to that" in flat(text)) == bool(out), (a4, text)
        both = expect(run("pitch", "fixed.yaml", "cornet-b-flat", "--a4", a4,
                          folder=folder), 0).stdout
        assert (f"{out} of 2 cannot be tuned to that" in flat(both)) == bool(out), (
            a4, both)


def pulls_are_told_with_what_is_left(folder):
    data = _ask("pitch", "cornet-b-flat", "keyed-bugle-c-6", folder=folder)
    # Both are made for 440, and their slides stand out there.
    assert data["named"] == "the modern standard" and data["a4_hz"] == 440
    for horn in data["horns"]:
        main = [s for s in horn["slides"] if s["main"]][0]
        assert not main["stuck"]
        assert abs(main["pulled_mm"] + main["left_mm"] - main["travel_mm"]) < 0.02
        assert min(main["pulled_mm"], main["left_mm"]) >= 3
    text = expect(run("pitch", "cornet-b-flat", "keyed-bugle-c-6"), 0).stdout
    # Lengths of patterns are assumed, so pulls are told in whole mm.
    assert "main 10 of 30 mm out (10 left to push in, 20 to pull)" in flat(text), text
    asked = _ask("pitch", "cornet-b-flat", "--a4", "446", folder=folder)
    assert asked["horns"][0]["after_cents"] == 0
    assert "hardly anything is left to push in" in flat(expect(
        run("pitch", "cornet-b-flat", "--a4", "446"), 0).stdout)
    text = expect(run("pitch", "cornet-b-flat", "--stuck", "slide:main=12"),
                  0).stdout
    assert "main 12 of 30 mm out (stuck)" in text and "    plays at" in text


def the_rule_of_the_valve_slides_is_told(_):
    """Pulls of all ways are those of notes in the same setting."""
    for how, words in (("own", "keeping each valve’s own interval: "), ("in", "in"),
                       ("best", "as the best compromise: ")):
        asked = ["cornet-b-flat", "--a4", "434", "--valve-slides", how]
        data = _ask("pitch", *asked)
        assert data["valve_slides"] == how
        drawn = {s["slide"]: s["pulled_mm"] for s in data["horns"][0]["slides"]}
        for slide in _ask("notes", *asked)["tuning"]["slides"]:
            assert abs(drawn[slide["slide"]] - slide["pulled_mm"]) < 0.06
        pulls = "" if how == "in" else ", ".join(
            f"{name} {drawn[name]:.0f} mm"
            for name in ("first", "second", "third"))
        text = expect(run("pitch", *asked), 0).stdout
        assert f", valve slides {words}{pulls}: in tune " in flat(text), text
    usual = _ask("pitch", "cornet-b-flat")
    assert usual["valve_slides"] == "own"
    text = expect(run("pitch", "cornet-b-flat", "--valve-slides", "in",
                      "--stuck", "slide:first=3"), 0).stdout
    assert ", valve slides in, but first 3 mm (stuck): in tune " in flat(text)
    text = expect(run("pitch", "keyed-bugle-c-6"), 0).stdout
    assert "valve slides" not in text


def one_player_is_told_one_pull(folder):
    """Sharp by 25 cents: the horn alone 10 mm out, for this player 11 more."""
    (folder / "own.yaml").write_text(
        "hornbook: 1\nbased_on: cornet-b-flat\nname: Sharp\n"
        "player: {offset: 25, slope: 8}\n")
    (folder / "order.yaml").write_text(
        "hornbook_order: 1\nband: B\nformat: svg\nas_played: true\n"
        "sheets: [plate, slides]\nplayers: [{name: Ada, horn: own.yaml}]\n")
    told = "As its player plays it: 25 cents sharper than the horn"
    for options, mm in (([], 10), (["--player"], 21)):
        answers = [_ask(*words, *options, folder=folder) for words in (
            ["notes", "own.yaml"], ["slides", "own.yaml"],
            ["scales", "own.yaml"], ["lessons", "own.yaml"],
            ["passage", "own.yaml", GALOP])]
        pulls = [answers[0]["tuning"]["slides"][0], answers[1]["slides"][0]]
        for words in (["choose", GALOP, "own.yaml"],
                      ["pitch", "own.yaml", "--a4", "440"]):
            answers += _ask(*words, *options, folder=folder)["horns"]
        pulls.append(answers[-1]["slides"][0])
        for pull in pulls:
            assert abs(pull["pulled_mm"] - pulls[0]["pulled_mm"]) < 0.06
            assert round(pull["pulled_mm"]) == mm, pull
        for answer in answers:
            assert answer.get("player") == (
                {"offset_cents": 25, "slope_cents": 8} if options else None)
        for command in ("notes", "slides", "pitch", "scales", "lessons"):
            text = flat(expect(run(command, "own.yaml", *options,
                                   folder=folder), 0).stdout)
            assert (told in text) == bool(options), text
            assert f"main slide {mm} mm out" in text or (
                f"main {mm} of 30 mm out" in text), text
    expect(run("print", "order.yaml", folder=folder), 0)
    for name in ("ada_own_plate.svg", "ada_own_slides.svg"):
        sheet = (folder / "order" / name).read_text()
        assert "21 mm" in sheet and "As its player plays it" in sheet


def a_room_is_told_as_a_room(_):
    """37 degrees of breath, a third of the way from 19: 25, our own rule."""
    data = _ask("pitch", "cornet-b-flat", "--room", "19")
    assert data["room_c"] == 19 and abs(data["temperature_c"] - 25) < 0.05
    text = expect(run("pitch", "cornet-b-flat", "--room", "19"), 0).stdout
    assert "in a room of 19 °C (25 °C in the horns)" in flat(text)
    assert _ask("pitch", "cornet-b-flat")["room_c"] is None


def what_stays_off_is_the_same_number_everywhere(_):
    """The sum is that of the cents told, and of what slides says."""
    names = ["cornet-b-flat", "keyed-bugle-c-6", "ophicleide-c-9"]
    text = expect(run("pitch", *names, "--a4", "452.5"), 0).stdout
    told = [int(cents) for cents in re.findall(r": (\d+) cents flat ",
                                               flat(text))]
    assert len(told) == 3
    assert f"together they are still {sum(told)} cents off" in flat(text)
    past = [line for line in text.splitlines()
            if line.startswith(" 452.5 Hz")][0]
    assert f"3 off by {sum(told)} cents" in past, past
    for name, cents in zip(names, told):
        slides = _ask("slides", name, "--a4", "452.5", "--temperature", "20")
        assert round(slides["after_cents"]) == -cents


sys.exit(main(globals()))
