#!/usr/bin/env python3
"""What users read has one word for one thing, and that is the trade's.

The words below were stumbled over by players who read the sheets and screens
of this program; each stands with what is said in its place. They may stand in
no answer, sheet, help, message or document, and in no name of JSON.
"""
import json
import os
import pathlib
import pty
import re
import shutil
import subprocess
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).parent))

from tap import PROGRAM, ROOT, expect, flat, main, run

INSTEAD = {
    r"draw(s|n|ing)? (the |a |every |each )*slides?|slides? (are |is )?drawn":
        "pull",
    r"as the hand draws": "as the hand pulls",
    r"slides? home|home slide|=home|from home": "slides in",
    r"\bstands? open\b|\bstanding open\b": "open at rest",
    r"rest: shut|\bshut\b|\bshuts\b": "closed, closes",
    r"\bshak(e|es|ing)\b": "trill",
    r"\btruer\b": "better in tune",
    r"\bdearer\b|\bprice\b": "extra cost, cost",
    r"\bl(ie|ies|ay) (well|badly|\d|%|above|below|beyond|outside|within)":
        "is",
    r"\bnotes? lies?\b": "is",
    r"\bbadly\b": "hard, out of tune",
    r"\bdoubtful\b": "unreliable",
    r"\breckon": "calculated",
    r"\bother ways\b": "alternate fingerings",
    r"\bout of reach\b|\bin reach\b|\bunreachable\b": "(not) available",
    r"\bheard\b": "tuner reading",
    r"\bmost telling\b": "most useful",
    r"\b[Nn]ot told\b": "not determined",
    r"\bfor granted\b": "assumes",
    r"\btangled\b": "complex",
    r"\bas usual\b|\bnot as usual\b": "alternate",
    r"\bhands? cannot\b|\bfingers cannot\b": "not playable",
    r"\b[Ss]pare (your|the)\b": "protect",
    r"\bunrolled\b": "drawn straight",
    r"\b[Dd]iscs?\b": "dot",
    r"\bwho knows that\b": "a player of that",
    r"\b[Hh]alf[- ]tones?\b|\bwhole steps?\b|\bhalf steps?\b":
        "semitone, whole tone",
    r"\bquavers?\b|\bcrotchets?\b|(?-i:\bminims?\b)": "eighth note, ...",
    r"\btouches\b|\btouch\b": "key, touchpiece",
    r"\bcomfort\b": "extreme notes",
    r"goes over from|\bleaves (key|valve)\b": "key 3 up as key 1 goes down",
    r"in proportion\b": "keeps the valve's own interval",
    r"\bcolour|\bneighbour|\bhonour|\bcentre\b|metres?\b|\blicence\b|\bfavour|\bgrey\b"
    r"|\boptimis|\brecognis|\bprogramme\b": "the American spelling",
    r"\bwash it\b": "have it cleaned",
    r"\bwedge\b": "dot",
    r"\bscene\b|\bthree-quarters of a\b(?= column)": "plain words",
}
HORNS = ["keyed-bugle-c-6", "keyed-bugle-b-flat-7-saxon",
         "keyed-bugle-c-6-munich", "ophicleide-c-11", "cornet-b-flat",
         "cornet-b-flat-bore", "cornopean-b-flat",
         "euphonium-b-flat-compensating-4", "horn-f-ascending-third",
         "bugle-b-flat"]
GALOP = "charts/attic-galop.abc"
LAYOUTS = ["plate", "wall", "stand", "card", "large", "trills"]
COMMANDS = re.findall(r"^  (\w+) ", run("help").stdout, re.M)
MISSING = [] if shutil.which("pdftotext") else ["pdftotext"]


def _look(where, text):
    text = flat(text)
    for word, instead in INSTEAD.items():
        found = re.search(word, text, re.I)
        assert found is None, (
            f"{where}: say '{instead}': ..."
            f"{text[max(0, found.start() - 60):found.end() + 40]}...")


def _names(value):
    if isinstance(value, dict):
        for name, inner in value.items():
            yield name
            yield from _names(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _names(inner)


def _texts(value):
    """The sentences of an answer and its names, blanks for underscores."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield name.replace("_", " ")
            yield from _texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _texts(inner)


def _pdf(path):
    return subprocess.run(["pdftotext", path, "-"], check=True, text=True,
                          stdout=subprocess.PIPE).stdout


def _asked(horn):
    yield "notes", horn
    yield "notes", horn, "--trills"
    yield "notes", horn, "--beside", "cornet-b-flat-two-valve"
    yield "notes", horn, "--stuck", "slide:none=in"  # a message
    yield "scales", horn
    yield "lessons", horn
    yield "slides", horn
    yield "passage", horn, GALOP, "--choices", "2"
    yield "choose", GALOP, horn, "cornet-b-flat"
    yield "pitch", horn, "cornet-b-flat", "--a4", "452.5"
    yield "check", horn


def answers_use_the_words_of_the_trade(_):
    for horn in HORNS:
        for asked in _asked(horn):
            result = run(*asked)
            _look(asked, result.stdout + result.stderr)
            answer = run(*asked, "--json")
            if answer.stdout:
                _look((*asked, "--json"),
                      " ".join(_texts(json.loads(answer.stdout))))
    for asked in (
            ["horns"],
            ["fit", "cornet-b-flat", "tests/data/readings/minimal.yaml"],
            ["identify", "tests/data/readings/minimal.yaml", *HORNS],
            ["identify", "--faults", "cornet-b-flat",
             "tests/data/readings/minimal.yaml"]):
        result = run(*asked)
        _look(asked, result.stdout + result.stderr)


def sheets_use_the_words_of_the_trade(folder):
    path = folder / "x.pdf"
    for horn in HORNS:
        for layout in LAYOUTS:
            if run("chart", horn, "--layout", layout, "-o", path,
                   "-q").returncode == 0:
                _look((horn, layout), _pdf(path))
        for asked in (["chart", horn, "--beside", "cornet-b-flat-two-valve"],
                      ["slides", horn], ["scales", horn],
                      ["passage", horn, GALOP, "--circles"]):
            # A note that the horn has not is an answer, too: exit 1.
            assert run(*asked, "-q", "-o", path).returncode < 2, asked
            _look(asked, _pdf(path))
    expect(run("fit", "cornet-b-flat", "tests/data/readings/minimal.yaml",
               "-q", "--report", path), 0)
    _look("fit", _pdf(path))
    expect(run("resonances", "cornet-b-flat-bore", "-q", "-o", path), 0)
    _look("resonances", _pdf(path))


def _asked_on_a_terminal(kind):
    """Every question that `new` asks of such a horn, and a hint."""
    own, other = pty.openpty()
    process = subprocess.Popen([str(PROGRAM), "new", "-o", "-"], stdin=other,
                               stderr=other, stdout=subprocess.PIPE)
    os.close(other)
    os.write(own, f"flute\n{kind}\n".encode() + b"\n" * 12)
    process.communicate(timeout=60)
    said = b""
    try:
        while some := os.read(own, 65536):
            said += some
    except OSError:  # the other end is closed
        pass
    os.close(own)
    assert b"charts call it" in said, said
    return said.decode()


def what_new_says_and_writes_uses_the_words_of_the_trade(folder):
    for words in (["keyed bugle", "--keys", "7"], ["ophicleide", "--keys", "11"],
                  ["cornopean", "--valves", "3"], ["horn", "--valves", "4"],
                  ["euphonium", "--valves", "4"], ["bugle"]):
        result = expect(run("new", "--key", "F", "--kind", *words), 0)
        _look(words, result.stdout + result.stderr)
    for kind in ("keyed bugle", "cornet"):
        _look(("asked", kind), _asked_on_a_terminal(kind))
    expect(run("new", "--form", "-q", "-o", folder / "f.pdf"), 0)
    _look("form", _pdf(folder / "f.pdf"))


def help_uses_the_words_of_the_trade(_):
    assert len(COMMANDS) >= 13
    _look("help", run("help").stdout)
    for command in COMMANDS:
        _look(command, expect(run("help", command), 0).stdout)


def documents_use_the_words_of_the_trade(_):
    for path in (PROGRAM.parent / "src/manual").glob("*.scd"):
        said = re.sub(r"[*\\]", "", path.read_text(encoding="utf-8"))
        _look(path.name, said)
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    # What the version before this one was called by stays its name.
    _look("README.md", text[:text.index("* 0.1.0:")])
    for path in [*(ROOT / "charts/json").glob("*.json"),
                 ROOT / "charts/order.schema.json",
                 ROOT / "instruments/horn.schema.json",
                 ROOT / "instruments/readings.schema.json"]:
        said = " ".join(_descriptions(json.loads(path.read_text())))
        _look(path.name, said)


def _descriptions(schema):
    if isinstance(schema, dict):
        for name, inner in schema.items():
            if name in ("description", "title") and isinstance(inner, str):
                yield inner
            else:
                yield from _descriptions(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from _descriptions(inner)


def messages_use_the_words_of_the_trade(_):
    """The examples of every message, which the files in bad prove."""
    text = (ROOT / "src/base/messages.def").read_text(encoding="utf-8")
    for said in re.findall(r"HBK_MESSAGE\((.*?)\)\n", text, re.S):
        _look("messages.def", " ".join(
            re.findall(r'"((?:\\.|[^"\\])*)"', said)))
    for folder in ("bad", "bad_orders", "bad_readings", "doubtful"):
        for path in (ROOT / "tests" / folder).glob("*.err"):
            _look(path.name, re.sub(r"tests/\S*", "",
                                    path.read_text(encoding="utf-8")))


sys.exit(main(globals(), MISSING))
