#!/usr/bin/env python3
"""Mouthpieces that a horn lists: taken by name, alone or by an order, and
what each does to pitch and octaves."""
import json
import math
import sys

sys.dont_write_bytecode = True

from tap import ROOT, expect, flat, main, run

CORNET = "cornet-b-flat-bore"
BUGLE = ROOT / "tests/data/good/mouthpieces.yaml"
DEEP = "volume: 1.7, throat: [3, 4.4], backbore: [[0, 4.4], [54, 8.3]]"


def _notes(horn, *args, folder=None):
    return json.loads(expect(run("notes", horn, "--json", *args,
                                 folder=folder), 0).stdout)


def _open_hz(horn, *args):
    """The resonances of the open horn by their partials."""
    data = json.loads(expect(run("resonances", horn, "--json", *args),
                             0).stdout)
    return {m["partial"]: m["played_hz"] for m in data["fingerings"][0]["maxima"]
            if m["partial"]}, data


def _cents(above, below):
    return 1200 * math.log2(above / below)


def one_that_is_put_in_is_as_if_it_were_the_horns_own(folder):
    (folder / "deep.yaml").write_text(
        f"hornbook: 1\nbased_on: {CORNET}\nmouthpiece: {{{DEEP}}}\n")
    # Valve slides stand by what the horn's own mouthpiece makes of it.
    home = ("--valve-slides", "in")
    put_in = _notes(CORNET, "--mouthpiece", "deep", *home)
    its_own = _notes("deep.yaml", *home, folder=folder)
    assert put_in["notes"] == its_own["notes"]
    assert put_in["mouthpiece"]["name"] == "deep"
    assert "mouthpiece" not in its_own
    assert put_in["notes"] != _notes(CORNET, *home)["notes"]
    assert _notes(CORNET, "--mouthpiece", "own") == _notes(CORNET)


def what_it_does_is_told_in_cents(_):
    own, _ = _open_hz(CORNET, "--raw")
    for name in ("deep", "shallow"):
        other, data = _open_hz(CORNET, "--raw", "--mouthpiece", name)
        told = data["mouthpiece"]
        assert abs(told["pitch_cents"] - _cents(other[4], own[4])) < 0.02
        assert [(o["from"], o["to"]) for o in told["octaves"]] == [
            (2, 4), (4, 8)]
        for octave in told["octaves"]:
            low, high = octave["from"], octave["to"]
            wider = (_cents(other[high], other[low]) -
                     _cents(own[high], own[low]))
            assert abs(octave["cents"] - wider) < 0.02
        assert _notes(CORNET, "--raw", "--mouthpiece",
                      name)["mouthpiece"] == told
    # A larger cup holds more air: lower, the high octave most of all.
    deep = _notes(CORNET, "--mouthpiece", "deep")["mouthpiece"]
    shallow = _notes(CORNET, "--mouthpiece", "shallow")["mouthpiece"]
    assert deep["pitch_cents"] < 0 < shallow["pitch_cents"]
    text = flat(run("notes", CORNET, "--mouthpiece", "deep").stdout)
    flatter = round(-deep["pitch_cents"])
    narrow = round(-deep["octaves"][0]["cents"])
    assert "With the mouthpiece deep." in text
    assert (f"the mouthpiece deep makes the horn {flatter} cents flatter before "
            f"it is tuned. The octave from partial 2 to 4 is {narrow} cents "
            "narrower, that") in text


def the_first_is_the_horns_own_where_none_is(_):
    first = _notes(BUGLE, "--mouthpiece", "short")
    assert first["notes"] == _notes(BUGLE)["notes"]
    assert first["mouthpiece"]["pitch_cents"] == 0
    text = flat(run("notes", BUGLE, "--mouthpiece", "short").stdout)
    assert "leaves the pitch as it is." in text


def it_goes_with_a_crook(_):
    data = _notes(BUGLE, "--crook", "Bb", "--mouthpiece", "long")
    assert data["crook"] == "Bb" and data["mouthpiece"]["name"] == "long"
    assert data["notes"] != _notes(BUGLE, "--crook", "Bb")["notes"]
    text = flat(run("notes", BUGLE, "--crook", "Bb", "--mouthpiece",
                    "long").stdout)
    assert "With the Bb crook. With the mouthpiece long." in text


def what_a_horn_has_not_is_told(_):
    for args, words in [
            ([CORNET, "--mouthpiece", "wide"],
             "there is no mouthpiece 'wide'; this horn has: own, deep, "
             "shallow"),
            (["keyed-bugle-c-6-munich", "--mouthpiece", "wide"],
             "this horn lists no other mouthpieces"),
            (["cornet-b-flat", "--mouthpiece", "wide"],
             "this horn is described by its length, to which a mouthpiece "
             "makes no difference")]:
        assert words in expect(run("notes", *args), 2).stderr
    tune = ROOT / "charts/attic-galop.abc"
    refused = expect(run("choose", tune, CORNET, "cornet-b-flat",
                         "--mouthpiece", "deep"), 2)
    assert "--mouthpiece say how one horn is" in refused.stderr


def a_horn_beside_takes_the_one_of_that_name(_):
    data = _notes("cornet-b-flat", "--beside", CORNET)
    assert "mouthpiece" not in data["beside"]
    data = _notes(CORNET, "--mouthpiece", "deep", "--beside", CORNET)
    assert data["beside"]["mouthpiece"]["name"] == "deep"
    data = _notes(CORNET, "--mouthpiece", "deep", "--beside", BUGLE)
    assert "mouthpiece" not in data["beside"]


def one_horn_may_change_what_another_lists(folder):
    (folder / "mine.yaml").write_text(
        f"hornbook: 1\nbased_on: {CORNET}\nmouthpieces:\n"
        "  - {mouthpiece: deep, volume: 2.1}\n"
        "  - {mouthpiece: shallow, remove: true}\n"
        f"  - {{mouthpiece: mine, {DEEP}}}\n")
    mine = _notes("mine.yaml", "--mouthpiece", "mine", folder=folder)
    assert mine["notes"] == _notes(CORNET, "--mouthpiece", "deep")["notes"]
    deeper = _notes("mine.yaml", "--mouthpiece", "deep", folder=folder)
    assert (deeper["mouthpiece"]["pitch_cents"] <
            mine["mouthpiece"]["pitch_cents"])
    refused = expect(run("notes", "mine.yaml", "--mouthpiece", "shallow",
                         folder=folder), 2)
    assert "this horn has: own, deep, mine" in refused.stderr


def an_order_says_whose_mouthpiece_is_in(folder):
    (folder / "order.yaml").write_text(
        "hornbook_order: 1\nband: Larkmoor Town Band\nsheets: [card]\n"
        "players:\n"
        f"  - {{name: Ada, horn: {CORNET}, mouthpiece: deep}}\n"
        f"  - {{name: Cy, horn: {BUGLE}, crook: Bb, mouthpiece: long}}\n"
        f"  - {{name: Di, horn: {CORNET}, mouthpiece: wide}}\n")
    result = run("print", "order.yaml", "-o", "out", folder=folder)
    assert result.returncode != 0
    assert ("7:" in result.stderr and
            "Di: mouthpiece: there is no mouthpiece 'wide'" in result.stderr)
    names = sorted(p.name for p in (folder / "out").iterdir())
    assert any(name.startswith(f"ada_{CORNET}-deep_card") for name in names)
    assert any("mouthpieces-bb-long_card" in name for name in names)
    assert not any(name.startswith("di_") for name in names)


def a_table_of_the_air_has_the_change_in_every_row(_):
    args = ("resonances", CORNET, "--fingering", "0", "--fingering", "2",
            "--points", "50")
    own = expect(run(*args, "--format", "csv"), 0).stdout.splitlines()
    _, data = _open_hz(CORNET, "--mouthpiece", "deep")
    told = data["mouthpiece"]
    lines = expect(run(*args, "--format", "csv", "--mouthpiece", "deep"),
                   0).stdout.splitlines()
    assert lines[0] == own[0] + (",mouthpiece,pitch_cents,octave_2_4_cents,"
                                 "octave_4_8_cents")
    assert len(lines) == len(own) == 51
    for line in lines[1:]:
        name, *cents = line.split(",")[-4:]
        assert name == "deep"
        assert list(map(float, cents)) == [
            told["pitch_cents"], *[o["cents"] for o in told["octaves"]]]


def readings_say_which_was_in(folder):
    """What the horn gives with one mouthpiece, read back, fits it as it is;
    taken for the horn's own, the horn would have to change."""
    notes = _notes(CORNET, "--raw", "--mouthpiece", "deep")["notes"]
    page = "".join(
        f"  - {{note: '{n['written']}', fingering: {f['label']}, "
        f"partial: {f['partial']}, cents: {f['cents']}}}\n"
        for n in notes for f in n["fingerings"][:1])
    fitted = {}
    for name, head in (("set", "set: {mouthpiece: deep}"),
                       ("remark", "mouthpiece: deep"),
                       ("own", "set: {mouthpiece: own}"),
                       ("wide", "set: {mouthpiece: wide}")):
        (folder / f"{name}.yaml").write_text(
            f"hornbook_readings: 1\n{head}\nreadings:\n{page}")
        fitted[name] = run("fit", CORNET, f"{name}.yaml", "-o", "f.yaml",
                           "--report", f"{name}.json", folder=folder)
    reports = {name: json.loads((folder / f"{name}.json").read_text())
               for name in ("set", "remark", "own")}

    def worst(name):
        return max(abs(r["before_cents"] - r["reading_cents"])
                   for r in reports[name]["readings"])

    assert worst("set") < 0.1 and worst("own") > 15
    assert {r["mouthpiece"] for r in reports["set"]["readings"]} == {"deep"}
    assert {r["mouthpiece"] for r in reports["own"]["readings"]} == {None}
    assert reports["remark"]["readings"] == reports["own"]["readings"]
    # What looks as if it were reckoned with is asked about.
    assert "write 'set: {mouthpiece: deep}'" in fitted["remark"].stderr
    assert "warning" not in fitted["set"].stderr + fitted["own"].stderr
    assert ("2:19: error: set: this horn has no mouthpiece 'wide'; it has deep, "
            "shallow") in expect(fitted["wide"], 3).stderr
    # Where one reading differs it says so alone.
    (folder / "one.yaml").write_text(
        "hornbook_readings: 1\nset: {mouthpiece: deep}\nreadings:\n" + page
        + "  - {note: C5, fingering: 0, cents: 7, set: {mouthpiece: own}}\n")
    expect(run("fit", CORNET, "one.yaml", "-o", "f.yaml", "--report",
               "one.json", folder=folder), 0)
    last = json.loads((folder / "one.json").read_text())["readings"][-1]
    assert last["mouthpiece"] is None
    text = flat(expect(run("fit", CORNET, "one.yaml", "-o", "f.yaml",
                           "--report", "-", folder=folder), 0).stdout)
    assert "mouthpiece deep" in text


def a_remark_that_is_a_listed_name_is_asked_about(folder):
    page = "hornbook_readings: 1\nreadings:\n" + "".join(
        f"  - {{note: {note}, fingering: {press}, cents: 4}}\n"
        for note, press in (("G4", 0), ("C5", 0), ("D5", 1)))
    for i, (words, asked) in enumerate((
            ("mouthpiece: Deep\n", True),
            ("mouthpiece: deep cup\n", False),
            ("mouthpiece: deep\nset: {mouthpiece: deep}\n", False),
            ("set: {mouthpiece: deep}\n", False))):
        (folder / "page.yaml").write_text(page + words)
        said = expect(run("fit", CORNET, "page.yaml", "-o", f"{i}.yaml",
                          folder=folder), 0).stderr
        assert ("is a remark here" in said) == asked, said
        assert not asked or ("page.yaml: warning: mouthpiece: 'Deep' is a "
                             "remark here, and the horn's file lists one of "
                             "that name; if it was in, write 'set: "
                             "{mouthpiece: deep}' [H361]") in said


sys.exit(main(globals()))
