#!/usr/bin/env python3
"""What --json writes is what charts/json/*.schema.json describe.

Each function runs one command over many horns and settings. Every answer must
satisfy its schema, and together they must show all that the schema describes:
each name, each name left out that may be, each kind of value and each word of
a list. So a new field fails until it is described, and a description fails
when its field is gone.
"""
import json
import pathlib
import re
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).parent))

from tap import ROOT, expect, main, run

MISSING = []
try:
    import jsonschema
except ImportError:
    MISSING.append("python3-jsonschema")

FOLDER = ROOT / "charts/json"
GOOD = ROOT / "tests/data/good"
BY_PLAYER = GOOD / "keyed-bugle-by-length.yaml"
GALOP = ROOT / "charts/attic-galop.abc"
JSON_KINDS = {dict: "object", list: "array", str: "string", bool: "boolean",
              int: "number", float: "number", type(None): "null"}
# How a description names the unit that the end of a name stands for.
UNITS = {"_hz": "Hz", "_cents": "cents", "_mm": "mm", "_s": "seconds",
         "_db": "dB", "_c": "degrees Celsius"}


def _listed(value):
    return value if isinstance(value, list) else [value]


class _Described:
    """A schema, and which of it answers have shown."""

    def __init__(self, command):
        path = FOLDER / f"{command}.schema.json"
        self.schema = json.loads(path.read_text(encoding="utf-8"))
        jsonschema.Draft7Validator.check_schema(self.schema)
        self.validator = jsonschema.Draft7Validator(self.schema)
        self.unseen = {}
        self._expect(self.schema, "")

    def _part(self, part):
        name = part.get("$ref", "").removeprefix("#/definitions/")
        return self.schema["definitions"][name] if name else part

    def _expect(self, part, path):
        """All that answers must show of a part and what is in it."""
        part = self._part(part)
        at = id(part)
        if at in self.unseen:
            return
        wanted = {f"{path}: {word!r}" for word in part.get("enum", [])}
        if len(_listed(part.get("type"))) > 1:
            wanted |= {f"{path}: a {kind}" for kind in part["type"]}
        for name in part.get("properties", {}):
            wanted.add(f"{path}/{name}")
            if name not in part["required"]:
                wanted.add(f"{path} without {name}")
        self.unseen[at] = (path, wanted)
        for name, inner in part.get("properties", {}).items():
            self._expect(inner, f"{path}/{name}")
        if "items" in part:
            self._expect(part["items"], f"{path}[]")

    def _see(self, part, value):
        part = self._part(part)
        path, wanted = self.unseen[id(part)]
        kind = JSON_KINDS[type(value)]
        if kind == "number" and value == int(value):
            value = int(value)  # 1.0 is 1
        wanted -= {f"{path}: a {kind}", f"{path}: {value!r}"}
        if kind == "number":
            wanted.discard(f"{path}: a integer")
        if kind == "object":
            for name, inner in part.get("properties", {}).items():
                if name in value:
                    wanted.discard(f"{path}/{name}")
                    self._see(inner, value[name])
                else:
                    wanted.discard(f"{path} without {name}")
        if kind == "array":
            for item in value:
                self._see(part["items"], item)

    def answer(self, *args):
        """Asks, and takes a no (exit 1) for an answer as well."""
        result = run(*args, "--json", "-q")
        assert result.returncode in (0, 1), (args, result.stderr)
        answer = json.loads(result.stdout)
        for error in self.validator.iter_errors(answer):
            where = "/".join(map(str, error.absolute_path))
            raise AssertionError(f"{args}: {where}: "
                                 f"{error.message[:300]}")
        self._see(self.schema, answer)
        return answer

    def all_is_shown(self):
        unseen = sorted(word for _, wanted in self.unseen.values()
                        for word in wanted)
        assert not unseen, "no answer shows:\n" + "\n".join(unseen)


def _horns():
    return expect(run("horns", "--brief"), 0).stdout.split()


def _schemas():
    return {path.name.removesuffix(".schema.json"): json.loads(
        path.read_text(encoding="utf-8"))
        for path in sorted(FOLDER.glob("*.schema.json"))}


def _parts(part, path=""):
    """Every object schema, and every named part with its name."""
    if isinstance(part, dict):
        yield path, part
        for name, inner in part.items():
            yield from _parts(inner, f"{path}/{name}")
    elif isinstance(part, list):
        for i, inner in enumerate(part):
            yield from _parts(inner, f"{path}/{i}")


def every_format_that_is_written_has_its_schema(folder):
    written = set()
    for path in (ROOT / "src").rglob("*.c"):
        written |= set(re.findall(r'json_begin\(\s*"(hornbook-[a-z]+/[0-9]+)"',
                                  path.read_text(encoding="utf-8")))
    described = {name: schema["properties"]["format"]["const"]
                 for name, schema in _schemas().items()}
    assert set(described.values()) == written and len(written) >= 9
    for name, word in described.items():
        assert word.startswith(f"hornbook-{name}/")


def every_field_says_its_meaning_and_its_unit(folder):
    for name, schema in _schemas().items():
        for path, part in _parts(schema):
            if "properties" in part and isinstance(part["properties"], dict):
                assert part["additionalProperties"] is False, (name, path)
                assert set(part["required"]) <= set(part["properties"])
            if path.split("/")[-2:-1] not in (["properties"], ["definitions"]):
                continue
            if "$ref" in part:
                part = schema["definitions"][part["$ref"].split("/")[-1]]
            words = part.get("description") or (
                # An array of objects may leave the words to its items.
                part.get("items", {}).get("description", ""))
            field = path.split("/")[-1]
            assert words, (name, path)
            for end, unit in UNITS.items():
                if field.endswith(end) and part.get("type") != "boolean":
                    assert unit in words, (name, path, words)
            if field in ("cost", "total_cost", "extra_cost"):
                assert "squared cents" in words, (name, path)


def what_schemas_share_they_say_alike(folder):
    said = {}
    for name, schema in _schemas().items():
        for word, part in schema.get("definitions", {}).items():
            first, where = said.setdefault(word, (part, name))
            assert first == part, f"{word} differs in {where} and {name}"


def a_field_that_is_not_described_is_noticed(folder):
    """The check itself: more, fewer and other fields are all refused."""
    schema = _Described("notes")
    answer = json.loads(expect(run("notes", "cornet-b-flat", "--json"),
                               0).stdout)
    assert schema.validator.is_valid(answer)
    first = answer["notes"][-1]["fingerings"][0]
    for change in [{"new": 1}, {"cents": None}, {"partial": "2"}]:
        changed = json.loads(json.dumps(answer))
        changed["notes"][-1]["fingerings"][0] = {**first, **change}
        assert not schema.validator.is_valid(changed), change
    del answer["notes"][-1]["fingerings"][0]["cents"]
    assert not schema.validator.is_valid(answer)
    try:
        schema.all_is_shown()
    except AssertionError as error:
        assert "no answer shows:" in str(error)
    else:
        raise AssertionError("nothing was shown, and nothing is missed")


# A cornet whose first valve has a slide at either end of its loop.
TWO_SLIDES = """\
hornbook: 1
based_on: cornet-b-flat
name: Cornet with two slides on its first valve
slides:
  - {slide: second of the first, valve: 1, travel: 12, legs: 1}
"""
# Trills, fingerings of every fate, repeats, ornaments and a run out of time.
OWN_TUNE = """\
X:1
T:With fingerings
M:4/4
L:1/4
K:C
|: "_0"c"_3"d"_9"e"_1-2"D | {d}!trill!c!trill!^f!trill!d!trill!e :|
!trill!C!trill!D!turn!C!trill!^C | !trill!g!trill!a!trill!b!trill!c' |
c'//b//a//g//^f//e//^d//e//c2 |
"""
# Readings of the keyed bugle in C; that of A4 is a slip, B4 no note near.
SLIPS = """\
hornbook_readings: 1
set: {shank: 3, stuck: none}
readings:
  - {note: C4, fingering: 0, cents: -28}
  - {note: G4, fingering: 0, cents: -27}
  - {note: C5, fingering: 0, cents: -28}
  - {note: E5, fingering: 0, cents: -44}
  - {note: B3, fingering: 1, cents: -52}
  - {note: F#4, fingering: 1, cents: -50}
  - {note: D4, fingering: 3, cents: -20}
  - {note: A4, fingering: 3, cents: 79}
  - {note: C#4, fingering: 2, cents: -12}
  - {note: Ab4, fingering: 2, cents: -10, a4: 442}
  - {note: Bb4, fingering: 2, cents: -10}
"""
# Written so high that its highest resonances have no name.
HIGH = """\
hornbook: 1
based_on: cornet-b-flat-bore
name: Cornet in B flat, named two octaves higher
written_c4_sounds: Bb1
tuning: {note: C7}
compass: [F#5, C8]
crooks: [{crook: A, adds: 88}]
"""
# The loops of two valves that were only read together.
TOGETHER = """\
hornbook_readings: 1
uncertainty: 0.5
readings:
""" + "".join(f"  - {{note: {note}, fingering: {press}, cents: 3}}\n"
              for press, notes in [("0", "C4 G4 C5 E5 G5 C6"),
                                   ("1-3", "G3 D4 G4 B4 D5")]
              for note in notes.split())


# Written at sounding pitch in the fourth clef.
TENOR = """\
hornbook: 1
based_on: ophicleide-c-9
name: Ophicleide that is written in the tenor clef
clef: tenor
"""
ALTO = """\
hornbook: 1
based_on: cornet-six-independent
name: Horn that is written in the alto clef
clef: alto
"""
READINGS = ("treble", "bass", "treble-bflat", "treble-eflat", "concert")


def _ask_as_read(schema, folder, command, *after):
    """The same asked by players who read and name the notes otherwise."""
    (folder / "tenor.yaml").write_text(TENOR)
    (folder / "alto.yaml").write_text(ALTO)
    for horn in ["bass-e-flat", folder / "alto.yaml", folder / "tenor.yaml"]:
        for reads in READINGS:
            answer = schema.answer(command, horn, *after, "--reads", reads)
            assert answer["reads"]["as"] == reads
        for names in ("german", "solfege"):
            answer = schema.answer(command, horn, *after, "--names", names)
            assert answer["names"] == names and "reads" not in answer


def _stuck_as_pressed(horn, press):
    """The control of that name stuck as it is when pressed."""
    for kind, how in [("valve", "down"), ("key", "open")]:
        word = f"{kind}:{press.strip('kv')}={how}"
        if press and run("notes", horn, "--stuck", word).returncode == 0:
            return ("--stuck", word)
    return ()


def notes_are_as_described(folder):
    schema = _Described("notes")

    def ask(*args):
        return schema.answer("notes", *args)

    for horn in _horns():
        notes = ask(horn)["notes"]
        alone = [f["press"][0] for note in notes for f in note["fingerings"]
                 if len(f["press"]) == 1]
        ask(horn, "--beside", "cornet-b-flat", "--room", "15",
            *_stuck_as_pressed(horn, alone[0] if alone else ""))
        ask(horn, "--a4", "500", "--raw")
    ask(GOOD / "not-to-learn.yaml", "--beside", GOOD / "not-to-learn.yaml")
    ask("cornet-b-flat-bore", "--mouthpiece", "deep", "--beside",
        "cornet-b-flat-bore")
    for chord in ["C5 E5 G5", "C5", "C5 D5", "C5 E5 G#5", "G4 B4 D5 F5 A5",
                  "C5 E5 G5 A5"]:
        ask("cornet-b-flat", "--hold", chord)
    ask("cornet-b-flat", "--hold", "E5 G5", "--root", "C5")
    ask("cornopean-b-flat", "--crook", "A", "--valve-slides", "best")
    ask("cornet-b-flat", "--beside", GOOD / "triggers.yaml",
        "--valve-slides", "in")
    ask("keyed-bugle-b-flat-6", "--beside", "keyed-bugle-e-flat-9")
    ask("keyed-bugle-b-flat-6", "--beside", "keyed-bugle-c-6-munich")
    for path in sorted(GOOD.glob("*.yaml")):
        ask(path)
    ask(BY_PLAYER, "--player")
    _ask_as_read(schema, folder, "notes")
    ask("bass-e-flat", "--beside", "cornet-b-flat", "--reads", "concert",
        "--names", "german")
    for clef in ("alto", "tenor"):
        (folder / "known.yaml").write_text(TENOR.replace("tenor", clef))
        for reads in READINGS:
            ask("cornet-b-flat", "--beside", folder / "known.yaml", "--reads",
                reads, "--names", "solfege")
    schema.all_is_shown()


def slides_are_as_described(folder):
    schema = _Described("slides")
    (folder / "two.yaml").write_text(TWO_SLIDES)

    def ask(*args):
        schema.answer("slides", *args)

    for horn in [*_horns(), *sorted(GOOD.glob("*.yaml"))]:
        ask(horn, "--a4", "415", "--room", "30")
    for how in ("best", "in"):
        ask("cornopean-b-flat", "--crook", "A", "--valve-slides", how)
    ask(folder / "two.yaml", "--a4", "438")
    ask("cornet-b-flat-bore", "--mouthpiece", "deep")
    ask(BY_PLAYER, "--player")
    _ask_as_read(schema, folder, "slides")
    schema.all_is_shown()


def lessons_are_as_described(folder):
    schema = _Described("lessons")
    for horn in _horns():
        schema.answer("lessons", horn)
    for how in ("best", "in"):
        schema.answer("lessons", "cornopean-b-flat", "--crook", "A", "--room",
                      "15", "--valve-slides", how)
    schema.answer("lessons", "cornet-b-flat-bore", "--mouthpiece", "deep")
    schema.answer("lessons", BY_PLAYER, "--player")
    _ask_as_read(schema, folder, "lessons")
    for here, known in (("cornet-b-flat-semitone-first", "cornet-b-flat"),
                        ("horn-f-ascending-third", "cornet-b-flat"),
                        ("ophicleide-c-11", "ophicleide-c-9"),
                        ("cornet-b-flat", "bugle-b-flat")):
        schema.answer("lessons", here, "--knows", known)
    schema.all_is_shown()


def scales_are_as_described(folder):
    schema = _Described("scales")
    for horn in _horns():
        schema.answer("scales", horn)
    for how in ("best", "in"):
        schema.answer("scales", "cornopean-b-flat", "--crook", "A", "--room",
                      "15", "--valve-slides", how)
    schema.answer("scales", "cornet-b-flat-bore", "--mouthpiece", "deep")
    schema.answer("scales", BY_PLAYER, "--player")
    _ask_as_read(schema, folder, "scales")
    schema.all_is_shown()


def trills_are_as_described(folder):
    schema = _Described("trills")

    def ask(*args):
        return schema.answer("notes", *args, "--trills")

    for horn in _horns():
        for trill in ask(horn)["trills"]:
            if trill["kind"] == "none":
                continue
            # What stays and what moves make up both fingerings.
            for at, moves in [("lower", "begins_down"), ("upper", "begins_up")]:
                assert sorted(trill[at]["press"]) == sorted(
                    trill["held"] + trill[moves]), trill
            assert (trill["kind"] == "by lip") == (
                not trill["begins_up"] and not trill["begins_down"]), trill
    ask("cornopean-b-flat", "--crook", "A", "--room", "15",
        "--valve-slides", "best")
    ask("cornet-b-flat", "--raw")
    ask("cornet-b-flat-bore", "--mouthpiece", "deep")
    ask("cornet-b-flat", "--valve-slides", "in")
    ask(BY_PLAYER, "--player")
    for path in sorted(GOOD.glob("*.yaml")):
        ask(path)
    schema.all_is_shown()


def passages_are_as_described(folder):
    schema = _Described("passage")
    (folder / "own.abc").write_text(OWN_TUNE)

    def ask(*args):
        schema.answer("passage", *args)

    for horn in _horns():
        ask(horn, GALOP, "--choices", "3")
        ask(horn, folder / "own.abc", "--keep")
    ask("cornopean-b-flat", GALOP, "--tempo", "30", "--room", "15",
        "--valve-slides", "best")
    ask("cornopean-b-flat", GALOP, "--crook", "A", "--valve-slides", "in",
        "--bars", "3-4", "--from-sounding")
    ask("cornet-b-flat", ROOT / "tests/data/march.musicxml")
    for name, music in (("jumps", "K:C\n|:C|1D:|2E O|F\"D.C. al Coda\"|O G|"),
                        ("parts", "P:AB\nK:C\nP:A\nC|\nP:B\nD|\nP:C\nE|")):
        (folder / f"{name}.abc").write_text(f"X:1\nL:1/1\n{music}\n")
        ask("cornet-b-flat", folder / f"{name}.abc")
    ask("cornet-b-flat", GALOP, "--to-key", "auto", "--octave", "auto")
    ask("cornet-b-flat", GALOP, "--to-key", "Bb")
    ask("cornet-b-flat", ROOT / "tests/data/scores/chords.musicxml", "--line",
        "bottom")
    ask(GOOD / "triggers.yaml", folder / "own.abc", "--choices", "3")
    ask(GOOD / "bugle-holes-in-a-row.yaml", GALOP, "--choices", "3")
    ask("cornet-b-flat-bore", GALOP, "--mouthpiece", "deep")
    ask(BY_PLAYER, GALOP, "--player")
    _ask_as_read(schema, folder, "passage", GALOP)
    schema.all_is_shown()


def choices_are_as_described(folder):
    schema = _Described("choose")
    (folder / "own.abc").write_text(OWN_TUNE)
    schema.answer("choose", GALOP, *_horns(), "--tempo", "240", "--a4", "470")
    schema.answer("choose", folder / "own.abc", "cornet-b-flat",
                  "bugle-b-flat", "--tempo", "40")
    schema.answer("choose", GALOP, "cornet-b-flat", "--from-sounding")
    schema.answer("choose", GALOP, "cornet-b-flat", BY_PLAYER, "--player")
    schema.answer("choose", ROOT / "tests/data/march.musicxml",
                  "bass-e-flat", "--transpose", "2")
    schema.all_is_shown()


def pitches_are_as_described(folder):
    schema = _Described("pitch")

    def ask(*args):
        schema.answer("pitch", *args)

    ask(*_horns())
    ask("cornet-b-flat", "alto-e-flat", "--room", "18")
    ask("cornet-b-flat", "--valve-slides", "in")
    ask("cornet-b-flat", "--valve-slides", "best")
    ask("cornet-b-flat", "--a4", "430", "--stuck",
        "valve:1=down,slide:main=in")
    ask(GOOD / "keyed-bugle-by-length.yaml", "--a4", "420")
    ask(BY_PLAYER, "cornet-b-flat", "--player")
    schema.all_is_shown()


def resonances_are_as_described(folder):
    schema = _Described("resonances")

    def ask(*args):
        schema.answer("resonances", *args, "--points", "50")

    for horn in _horns():
        # Others are described by their length only.
        if run("resonances", horn, "--json", "-q").returncode == 0:
            ask(horn)
            ask(horn, "--raw", "--room", "15", "--to", "3000", "--fingering",
                "1", "--fingering", "0")
    for how in ("best", "in"):
        ask("cornet-b-flat-bore", "--valve-slides", how)
    ask("cornet-b-flat-bore", "--mouthpiece", "deep")
    (folder / "high.yaml").write_text(HIGH)
    ask(folder / "high.yaml", "--crook", "A", "--to", "4000")
    schema.all_is_shown()


def _page(horn, change=lambda keys: keys, first="", last=None, **args):
    """First choices of a horn as a page, put off by a cent or two."""
    data = json.loads(expect(run("notes", horn, "--json"), 0).stdout)
    lines = ["hornbook_readings: 1", first, "readings:"]
    for i, note in enumerate(n for n in data["notes"][:last]
                             if n["fingerings"]):
        best = note["fingerings"][0]
        label = "-".join(change(best["press"])) or "0"
        name = note[args.get("name", "written")]
        lines.append(f"  - {{note: {name}, fingering: {label}, "
                     f"cents: {best['cents'] + i % 3 - 1:.1f}}}")
    return "\n".join(lines) + "\n"


def identifications_are_as_described(folder):
    schema = _Described("identify")
    page = folder / "r.yaml"

    def ask(text, *horns):
        page.write_text(text)
        schema.answer("identify", page, *horns)

    bugles = [horn for horn in _horns() if "bugle" in horn]
    for horn in bugles:
        ask(_page(horn), *bugles)
    ask(_page(bugles[2], last=9), *bugles, "cornet-b-flat")
    turned = _page("keyed-bugle-c-6",
                   lambda keys: [str(7 - int(key)) for key in keys])
    ask(turned, "keyed-bugle-c-6", "cornet-b-flat")
    ask(_page("bass-e-flat", name="sounding"), "bass-e-flat")
    ask(_page("bass-e-flat", first="written_c4_sounds: C4"), "bass-e-flat")
    schema.all_is_shown()


def faults_are_as_described(folder):
    schema = _Described("faults")
    page = folder / "r.yaml"

    def ask(horn, off, first="", every=2, **args):
        text = _page(horn, first=first, **args).splitlines()
        rows = [row for row in text if "fingering" in row][::every]
        head = text[:len(text) - sum("fingering" in row for row in text)]
        for i, row in enumerate(rows):
            label = re.search(r"fingering: ([^,]*),", row)[1].split("-")
            rows[i] = re.sub(r"cents: (\S+)\}",
                             lambda m: f"cents: {float(m[1]) + off(i, label):.1f}}}",
                             row)
        page.write_text("\n".join(head + rows) + "\n")
        return schema.answer("identify", "--faults", horn, page)

    fit = folder / "fitted.yaml"
    page.write_text(_page("cornet-b-flat"))
    expect(run("fit", "cornet-b-flat", page, "-o", fit), 0)
    sound = ask(fit, lambda i, label: 0)
    assert sound["verdict"] == "sound" and sound["fitted"]
    out = ask(fit, lambda i, label: -40 if "3" in label else 0)
    assert out["verdict"] == "found" and not out["next"]
    assert out["faults"][0]["kind"] == "slide"
    assert out["faults"][0]["of"] == "valve 3"
    assert 10 < out["faults"][0]["amount_mm"] < 30
    spoiled = ask(fit, lambda i, label: 55 if i == 4 else 0)
    assert spoiled["verdict"] == "sound" and len(spoiled["read_again"]) == 1
    mixed = ask("cornet-b-flat", lambda i, label: (i * 37 % 11 - 5) * 12)
    assert mixed["verdict"] == "mixed" and not mixed["fitted"]
    verdicts = set()
    for off in range(12, 40, 2):
        verdicts.add(ask(
            "keyed-bugle-c-6-munich",
            lambda i, label: off if label in (["0"], ["1"]) else 0)["verdict"])
    assert "unclear" in verdicts, verdicts
    schema.all_is_shown()


def checks_are_as_described(folder):
    schema = _Described("check")
    doubtful = sorted((ROOT / "tests/doubtful").glob("*.yaml"))
    bad = sorted((ROOT / "tests/bad").glob("*.yaml"))
    schema.answer("check", *doubtful, *bad)
    answer = schema.answer("check", *_horns())
    assert {horn["verdict"] for horn in answer["horns"]} == {"good"}
    # An octave below its own fundamental a natural horn has nothing.
    (folder / "low.yaml").write_text(
        "hornbook: 1\nname: Natural\nwritten_c4_sounds: C4\n"
        "fundamental: C3\ncompass: [C2, C5]\n")
    schema.answer("check", folder / "low.yaml")
    schema.all_is_shown()


def lists_of_horns_are_as_described(_):
    schema = _Described("horns")
    answer = schema.answer("horns")
    assert [horn["horn"] for horn in answer["horns"]] == _horns()
    cornopean = next(horn for horn in answer["horns"]
                     if horn["horn"] == "cornopean-b-flat")
    assert "A" in cornopean["crooks"] and cornopean["valves"] == 3
    schema.all_is_shown()


def fits_are_as_described(folder):
    schema = _Described("fit")
    readings = ROOT / "tests/data/readings"
    (folder / "slips.yaml").write_text(SLIPS)
    (folder / "together.yaml").write_text(TOGETHER)
    for horn, page in [("keyed-bugle-c-6", folder / "slips.yaml"),
                       ("cornet-b-flat", folder / "together.yaml"),
                       ("cornopean-b-flat", readings / "mixed.yaml"),
                       ("cornet-b-flat", readings / "stuck.yaml"),
                       ("cornet-b-flat-bore", readings / "mouthpiece.yaml"),
                       (ROOT / "tests/data/good/ophicleide-read.yaml",
                        readings / "ophicleide.yaml")]:
        schema.answer("fit", horn, page)
    schema.answer("fit", "--key-names",
                  ROOT / "tests/data/unfitted/keyed-bugle-c-6-munich.yaml")
    schema.all_is_shown()


sys.exit(main(globals(), MISSING))
