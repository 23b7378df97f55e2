#!/usr/bin/env python3
"""Files that passage writes and reads again, and what it refuses to read."""
import os
import re
import resource
import sys
import zipfile

sys.dont_write_bytecode = True

from tap import PROGRAM, expect, flat, main, run

HORN = "cornet-b-flat"
TRIPLETS = "E5:1/12 F5:1/12 G5:1/12 E5:1/6 F5:1/12 D5"
# Sanitizers keep freed memory and shadow all of it.
IS_SANITIZED = b"__asan_init" in PROGRAM.read_bytes()


def _fingerings(text):
    return re.findall(r"<fingering[^>]*>([^<]*)<", text)


def a_typed_run_keeps_its_rhythm_and_tempo(folder):
    xml = expect(run("passage", HORN, "--run", TRIPLETS, "--tempo", "90",
                     "--format", "musicxml"), 0).stdout
    assert re.findall(r"<type>(\w+)</type>", xml) == [
        "eighth", "eighth", "eighth", "quarter", "eighth", "quarter"]
    assert xml.count("<actual-notes>3</actual-notes>") == 5
    assert '<sound tempo="90"/>' in xml
    assert "<part-name>Cornet in B flat, three pistons</part-name>" in xml
    abc = expect(run("passage", HORN, "--run", TRIPLETS, "--tempo", "90",
                     "--format", "abc"), 0).stdout
    assert "Q:1/4=90\n" in abc and abc.count("(3:2:") == 2
    (folder / "own.abc").write_text(abc)
    again = expect(run("passage", HORN, "own.abc", "--format", "musicxml",
                       folder=folder), 0).stdout
    assert again.count("<actual-notes>3</actual-notes>") == 5


def own_files_are_fingered_anew_for_another_horn(folder):
    for ending in ("musicxml", "abc"):
        first, second = f"a.{ending}", f"b.{ending}"
        expect(run("passage", HORN, "--run", "B4 C5 (D5 E5)", "-o", first,
                   folder=folder), 0)
        expect(run("passage", "keyed-bugle-c-6", first, "-o", second,
                   folder=folder), 0)
        expect(run("passage", "keyed-bugle-c-6", "--run", "B4 C5 (D5 E5)",
                   "-o", "c." + ending, folder=folder), 0)
        text = (folder / second).read_text()
        want = (folder / ("c." + ending)).read_text()
        if ending == "musicxml":
            assert _fingerings(text) == _fingerings(want) != []
        else:
            assert text == want


def fingerings_are_taken_out_again(folder):
    expect(run("passage", HORN, "--run", "B4 C5 (D5 E5:1/12 F5:1/12 E5:1/12)", "-o",
               "a.mxl", folder=folder), 0)
    expect(run("passage", HORN, "a.mxl", "--bare", "-o", "bare.mxl",
               folder=folder), 0)
    expect(run("passage", "keyed-bugle-c-6", "bare.mxl", "-o", "b.mxl",
               folder=folder), 0)
    expect(run("passage", HORN, "b.mxl", "--bare", "-o", "again.mxl",
               folder=folder), 0)
    scores = []
    for name in ("bare.mxl", "b.mxl", "again.mxl"):
        with zipfile.ZipFile(folder / name) as container:
            inside = [n for n in container.namelist()
                      if not n.startswith("META-INF") and n != "mimetype"]
            scores.append(container.read(inside[0]))
    assert scores[0] == scores[2] != scores[1]
    assert b"fingering" in scores[1] and b"fingering" not in scores[0]
    tune = "X:1\nT:t\nM:C\nL:1/4\nK:C\nC\"_x\"D \"^y\"E z|\n"
    (folder / "t.abc").write_text(tune)
    expect(run("passage", HORN, "t.abc", "-o", "u.abc", folder=folder), 0)
    result = expect(run("passage", HORN, "u.abc", "--bare", folder=folder), 0)
    assert result.stdout == tune != (folder / "u.abc").read_text()
    result = run("passage", HORN, "u.abc", "--bare", "-o", "u.pdf",
                 folder=folder)
    assert "--bare" in expect(result, 2).stderr
    assert not (folder / "u.pdf").exists()


def fingerings_of_a_moved_part_say_so_in_the_file(folder):
    (folder / "t.abc").write_text("X:1\nT:t\nL:1/4\nK:C\nC D E F|\n")
    result = expect(run("passage", HORN, "t.abc", "--from-sounding", "-o",
                        "u.abc", folder=folder), 0)
    said = "for a horn that reads these notes a whole tone higher"
    assert said in result.stderr and "[H290]" in result.stderr
    text = (folder / "u.abc").read_text()
    assert f"4 texts below the notes; {said}\n" in text
    expect(run("passage", HORN, "u.abc", "-o", "v.abc", folder=folder), 0)
    text = (folder / "v.abc").read_text()
    assert said not in text and text.count('"_') == 4
    expect(run("passage", HORN, "t.abc", "-o", "t.musicxml",
               folder=folder), 0)
    expect(run("passage", HORN, "t.musicxml", "--from-sounding", "-o",
               "u.musicxml", folder=folder), 0)
    assert f"<?hornbook {said}?>" in (folder / "u.musicxml").read_text()


def _limits():
    resource.setrlimit(resource.RLIMIT_CPU, (60, 60))


def _peak_of(args, folder):
    """Exit code and the most memory of one run, in KiB."""
    child = os.fork()
    if child == 0:
        try:
            _limits()
            os.chdir(folder)
            for number in (1, 2):
                os.dup2(os.open(os.devnull, os.O_WRONLY), number)
            os.execv(PROGRAM, [str(PROGRAM), *args])
        finally:
            os._exit(127)
    _, status, usage = os.wait4(child, 0)
    return os.waitstatus_to_exitcode(status), usage.ru_maxrss


def what_is_refused_costs_little_memory(folder):
    """No more than 200 MB, whatever stands in the file."""
    head = '<?xml version="1.0"?><score-partwise><part id="P1"><measure>'
    tail = "</measure></part></score-partwise>"
    hostile = {
        "elements.xml": head + "<z/> " * 2000000,
        "padded.xml": head + ("<z/>" + " " * 28) * 499000 + tail,
        "attributes.xml": head + '<z a="1" b="2" c="3" d="4"/>' * 99000 + tail,
        "deep.xml": "<a>" * 3000000,
        "entities.xml": "<!DOCTYPE a [" + "".join(
            f'<!ENTITY e{i} "{f"&e{i - 1};" * 20}">' for i in range(1, 20)) +
        "]><a>&e19;</a>",
        "lines.abc": "X:1\nT:t\nK:C\n" + "C D E F |\n" * 700000,
        "nothing.abc": "z" * (15 << 20),
    }
    for name, text in hostile.items():
        (folder / name).write_text(text)
    with zipfile.ZipFile(folder / "bomb.mxl", "w",
                         zipfile.ZIP_DEFLATED) as bomb:
        bomb.writestr("META-INF/container.xml",
                      '<container><rootfiles><rootfile full-path="a.xml"/>'
                      "</rootfiles></container>")
        bomb.writestr("a.xml", b" " * (300 << 20))
    for name in [*hostile, "bomb.mxl"]:
        code, peak = _peak_of(["passage", HORN, name], folder)
        assert code == 3, (name, code)
        assert IS_SANITIZED or peak < 200 * 1000, (name, peak)


def files_of_another_kind_are_named(folder):
    for name, text, said in (
            ("e.musicxml", b"", "the file is empty"),
            ("h.musicxml", b"<!DOCTYPE html><html>Hi</html>", "a web page"),
            ("w.abc", "X:1\nK:C\nC|\n".encode("utf-16"), "UTF-16"),
            ("t.xml", b"hello\n", "this is not MusicXML")):
        (folder / name).write_bytes(text)
        result = expect(run("passage", HORN, name, folder=folder), 3)
        assert said in result.stderr, result.stderr


sys.exit(main(globals()))
