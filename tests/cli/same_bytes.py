#!/usr/bin/env python3
"""Fingerings go into a file of music and out of it, and no byte else."""
import io
import re
import subprocess
import sys
import zipfile

sys.dont_write_bytecode = True

from tap import ROOT, expect, main, run

HORN = "cornet-b-flat"
DATA = ROOT / "tests" / "data"
QUICKSTEP = (DATA / "quickstep.musicxml").read_bytes()
CONTAINER = ('<?xml version="1.0"?><container><rootfiles><rootfile '
             'full-path="music/Step &amp; Trio.xml"/></rootfiles></container>')
MARK = b"<?hornbook "
MARKS = ("dynamics", "wedge", "rehearsal", "words", "lyric", "multiple-rest",
         "fermata", "up-bow", "work-number", "rights", "mute")


class _Pipe(io.RawIOBase):
    """A file that cannot seek, so that sizes follow what they are of."""

    def __init__(self):
        super().__init__()
        self.all = b""

    def writable(self):
        return True

    def write(self, data):
        self.all += bytes(data)
        return len(data)


def _container(level, is_piped=False):
    """A container as another program may write it: the score in the middle,
    pictures, dates, a comment, no mimetype at its beginning."""
    target = _Pipe() if is_piped else io.BytesIO()
    kind = zipfile.ZIP_DEFLATED if level else zipfile.ZIP_STORED
    with zipfile.ZipFile(target, "w", kind, compresslevel=level) as out:
        for name, text in [("cover.png", bytes(range(256)) * 9),
                           ("music/Step & Trio.xml", QUICKSTEP),
                           ("META-INF/container.xml", CONTAINER),
                           ("mimetype", "application/vnd.recordare.musicxml"),
                           ("notes/b\u00e9mol.txt", "mine\n" * 40)]:
            info = zipfile.ZipInfo(name, (2003, 4, 5, 6, 7, 8))
            info.compress_type = kind
            info.external_attr = 0o640 << 16
            info.comment = b"a comment"
            out.writestr(info, text, compresslevel=level)
        out.comment = b"the end"
    return target.all if is_piped else target.getvalue()


def _members(path):
    """All that is said of each member but the score's bytes, in order."""
    with zipfile.ZipFile(path) as file:
        assert file.testzip() is None
        return file.comment, [
            (i.filename, i.date_time, i.external_attr, i.comment,
             i.compress_type, i.flag_bits, i.extra,
             "" if i.filename.startswith("music") else file.read(i.filename))
            for i in file.infolist()]


def _score(path):
    with zipfile.ZipFile(path) as file:
        return file.read([n for n in file.namelist()
                          if n.endswith(("Trio.xml", ".musicxml"))][0])


def _marks(xml):
    text = re.sub(r"<!--.*?-->", "", xml.decode())
    return {mark: len(re.findall(f"<{mark}[ />]", text)) for mark in MARKS}


def every_file_comes_back(folder):
    files = sorted([*DATA.glob("*.musicxml"), *DATA.glob("*.abc")])
    n = 0
    for path in files:
        before = path.read_bytes()
        name = "t" + path.suffix
        for tune in ([], ["--tune", "3"]):
            (folder / name).write_bytes(before)
            first = run("passage", HORN, name, *tune, "--from-sounding", "-o",
                        name, "-q", folder=folder)
            if first.returncode > 1:
                continue
            assert (folder / name).read_bytes() != before, path
            expect(run("passage", HORN, name, *tune, "--bare", "-o", name,
                       folder=folder), 0)
            assert (folder / name).read_bytes() == before, path
            bare = run("passage", HORN, path, *tune, "--bare", out=subprocess.PIPE)
            assert bare.stdout == before, path
            n += 1
    assert n >= 5, n


def a_container_keeps_all_that_is_not_the_score(folder):
    path = folder / "t.mxl"
    for level, is_piped in [(0, False), (1, False), (6, False), (9, False),
                            (6, True), (4, True)]:
        before = _container(level, is_piped)
        path.write_bytes(before)
        members = _members(path)
        expect(run("passage", HORN, "t.mxl", "--bare", "-o", "u.mxl",
                   folder=folder), 0)
        assert (folder / "u.mxl").read_bytes() == before
        expect(run("passage", HORN, "t.mxl", "-o", "t.mxl", folder=folder), 0)
        assert _members(path) == members
        assert _score(path).count(MARK) > QUICKSTEP.count(MARK)
        expect(run("passage", HORN, "t.mxl", "--bare", "-o", "t.mxl",
                   folder=folder), 0)
        assert path.read_bytes() == before, (level, is_piped)


def a_score_keeps_its_marks_in_a_container_and_out_of_it(folder):
    (folder / "a.musicxml").write_bytes(QUICKSTEP)
    before = _marks(QUICKSTEP)
    assert min(before.values()) > 0, before
    expect(run("passage", HORN, "a.musicxml", "-o", "b.mxl", folder=folder), 0)
    assert _marks(_score(folder / "b.mxl")) == before
    with zipfile.ZipFile(folder / "b.mxl") as file:
        assert file.namelist()[0] == "mimetype"
    expect(run("passage", HORN, "b.mxl", "-o", "c.musicxml", folder=folder), 0)
    expect(run("passage", HORN, "a.musicxml", "-o", "d.musicxml",
               folder=folder), 0)
    fingered = (folder / "c.musicxml").read_bytes()
    assert fingered == (folder / "d.musicxml").read_bytes() != QUICKSTEP
    assert _marks(fingered) == before
    expect(run("passage", HORN, "b.mxl", "--bare", "-o", "e.xml",
               folder=folder), 0)
    assert (folder / "e.xml").read_bytes() == QUICKSTEP
    # Into a container that is there, and out of another's.
    (folder / "f.mxl").write_bytes(_container(6))
    expect(run("passage", HORN, "f.mxl", "--bare", "-o", "g.musicxml",
               folder=folder), 0)
    assert (folder / "g.musicxml").read_bytes() == QUICKSTEP


def another_format_says_what_it_does_not_hold(folder):
    (folder / "a.musicxml").write_bytes(QUICKSTEP)
    result = expect(run("passage", HORN, "a.musicxml", "-o", "b.abc",
                        folder=folder), 0)
    assert result.stderr.splitlines()[-1] == (
        "a.musicxml: warning: 1 line about the tune, 1 bow mark and 2 comments "
        "do not go into the new file [H282]"), result.stderr
    abc = (folder / "b.abc").read_text()
    for mark in ("T:Quickstep", "T:Nr. 2", "[P:A]", "!mf!", "!<(!", "!ff!",
                 "w: *", "!fine!", "Z2 |", "con brio"):
        assert mark in abc, (mark, abc)
    quiet = expect(run("passage", HORN, "a.musicxml", "-q", "-o", "c.abc",
                       folder=folder), 0)
    assert quiet.stderr == ""
    for ending in ("mxl", "musicxml"):
        result = expect(run("passage", HORN, "a.musicxml", "-o",
                            "d." + ending, folder=folder), 0)
        assert "H282" not in result.stderr


sys.exit(main(globals()))
