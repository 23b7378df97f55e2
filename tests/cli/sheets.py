"""Charts of every layout as files, looked at by programs of other people:
qpdf for the structure of a PDF, poppler for its fonts and text, Python's XML
reader for SVG. TAP on standard output.

Usage: sheets.py PROGRAM
"""

import hashlib
import json
import os
import pathlib
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

sys.dont_write_bytecode = True

from tap import PROGRAM, ROOT, main

LAYOUTS = ["plate", "wall", "stand", "card", "large", "trills", "scales"]
KINDS = {"stand": "stand chart", "wall": "chart", "large": "large print"}
HORNS = ["keyed-bugle-c-6", "ophicleide-c-11"]
TOOLS = ["qpdf", "pdffonts", "pdfinfo", "pdftotext"]


def _tool(*args):
    result = subprocess.run([str(a) for a in args], stdout=subprocess.PIPE,
                            stderr=subprocess.PIPE, timeout=120, check=False)
    assert result.returncode == 0, (args, result.stderr.decode())
    return result.stdout.decode()


def _chart(horn, layout, path, *more):
    command = (["scales", horn] if layout == "scales"
               else ["chart", horn, "--layout", layout])
    _tool(PROGRAM, *command, "-o", path, *more)
    return path


SHARED = tempfile.TemporaryDirectory()


def _pdfs():
    """Made once for all cases."""
    for horn in HORNS:
        for layout in LAYOUTS:
            path = pathlib.Path(SHARED.name) / f"{horn}-{layout}.pdf"
            if not path.exists():
                _chart(horn, layout, path)
            yield path


def qpdf_finds_no_fault(_):
    for path in _pdfs():
        told = _tool("qpdf", "--check", path)
        assert "No syntax or stream encoding errors" in told, (path, told)


def fonts_are_embedded_subset_and_readable(_):
    faces = ("EBGaramond", "NotoSans", "OpenSans", "NotoMusic", "DejaVuSans")
    for path in _pdfs():
        lines = _tool("pdffonts", path).splitlines()[2:]
        assert len(lines) >= 3, path
        for line in lines:
            name = line.split()[0]
            assert name[6] == "+", line
            assert any(face in name for face in faces), line
            assert line.split()[-5:-2] == ["yes", "yes", "yes"], line


def _labelled(ranges, pages):
    """As ISO 32000-1, 12.4.2 has them: a prefix, then decimal numbers."""
    labels = []
    for k, part in enumerate(ranges):
        end = ranges[k + 1]["index"] if k + 1 < len(ranges) else pages
        label = part["label"]
        prefix = label.get("/P", "").removeprefix("u:")
        for n in range(end - part["index"]):
            number = label.get("/St", 1) + n if label.get("/S") == "/D" else ""
            labels.append(f"{prefix}{number}")
    return labels


def the_outline_has_one_entry_and_pages_are_numbered(_):
    for path in _pdfs():
        data = json.loads(_tool("qpdf", "--json=1", "--json-key=outlines",
                              "--json-key=pagelabels", "--json-key=pages",
                              path))
        assert len(data["outlines"]) == 1, path
        pages = len(data["pages"])
        below = data["outlines"][0]["kids"]
        assert len(below) == (pages if pages > 1 else 0), path
        info = _tool("pdfinfo", path)
        title = [line.split(":", 1)[1].strip() for line in info.splitlines()
                 if line.startswith("Title:")]
        assert title == [data["outlines"][0]["title"]], (title, path)
        layout = path.stem.rsplit("-", 1)[1]
        prefix = KINDS.get(layout, layout) + " "
        assert _labelled(data["pagelabels"], pages) == [
            f"{prefix}{k + 1}" for k in range(pages)], path
        assert all(f": {prefix}"[:-1] in entry["title"]
                   for entry in below[1:]), (path, below)


def a_form_to_measure_by_has_the_names_of_its_fields(folder):
    schemas = ["instruments/horn.schema.json",
               "instruments/readings.schema.json"]
    known = set()
    for schema in schemas:
        known |= set(re.findall(r'"(\w+)": \{', (ROOT / schema).read_text()))
    keyed = {"called", "rest", "raises", "from_bell", "diameter", "chimney",
             "pad_lift", "finger", "bore", "mouthpiece", "volume", "throat",
             "backbore", "stuck", "slide", "travel", "stands_out", "legs",
             "set", "crook", "adds", "a4", "temperature", "note", "fingering",
             "cents", "written_c4_sounds", "clef", "compass", "source"}
    valved = keyed - {"called", "raises", "from_bell", "chimney",
                      "pad_lift"} | {"loop", "lowers", "at", "action"}
    for kind, wanted in (("keyed", keyed), ("cornet", valved)):
        assert wanted <= known, wanted - known
        for paper in ("A4", "Letter", "A3"):
            path = folder / f"{kind}-{paper}.pdf"
            _tool(PROGRAM, "new", "--form", "--kind", kind, "--paper", paper,
                  "-o", path)
            assert "Pages:           2\n" in _tool("pdfinfo", path)
            text = _tool("pdftotext", "-layout", path, "-")
            words = set(re.findall(r"\w+", text))
            assert wanted <= words, (kind, wanted - words)
            # No other word looks like the name of a field.
            assert {w for w in words if "_" in w} <= known
            assert "Never force" in text and "verdigris" in text
    path = folder / "both.pdf"
    _tool(PROGRAM, "new", "--form", "-o", path)
    assert "Pages:           4\n" in _tool("pdfinfo", path)
    assert "No syntax or stream" in _tool("qpdf", "--check", path)
    assert "Tagged:          yes" in _tool("pdfinfo", path)


def the_pdf_is_tagged(_):
    for path in _pdfs():
        assert "Tagged:          yes" in _tool("pdfinfo", path), path
        parts = _tool("pdfinfo", "-struct", path).split()
        for name in ["Document", "Table", "TR", "TD", "P"]:
            assert name in parts, (path, name)


def note_heads_read_as_notes(_):
    """Both heads of a black note read as its two names; keys name one."""
    for path in _pdfs():
        if path.stem.endswith("scales"):
            continue
        words = _tool("pdftotext", path, "-").split()
        # Where there is little room the sharp alone stands on the staff.
        for name in ["C4", "F\u266f4", "G\u266d4", "B3"]:
            # Where only the sharp has a head, the flat is named without
            # its octave.
            assert name in words or name[:-1] in words, (path, name)
        for word in ["verdigris", "conservator", "hearing"]:
            assert any(word in w for w in words), (path, word)


def the_same_horn_gives_the_same_bytes(folder):
    for layout in LAYOUTS:
        for ending in ["pdf", "svg", "png"]:
            sums = []
            for k in range(2):
                place = folder / f"{layout}-{ending}-{k}"
                place.mkdir()
                more = ["--dpi", "50"] if ending == "png" else []
                _chart("keyed-bugle-c-6", layout, place / f"c.{ending}", *more)
                sums.append([hashlib.sha256(p.read_bytes()).hexdigest()
                             for p in sorted(place.iterdir())])
            assert sums[0] == sums[1], (layout, ending)


def an_svg_is_valid_and_small(folder):
    """Of one page; four cards share the shapes of their glyphs."""
    for layout in LAYOUTS:
        _chart("ophicleide-c-11", layout, folder / f"{layout}.svg")
        for path in folder.glob(f"{layout}*.svg"):
            root = xml.etree.ElementTree.parse(path).getroot()
            assert root.tag == "{http://www.w3.org/2000/svg}svg"
            assert root.get("width").endswith("mm")
            kinds = {e.tag.rsplit("}")[-1] for e in root.iter()}
            assert "path" in kinds and "image" not in kinds, kinds
            limit = 600_000 if layout == "card" else 250_000
            assert path.stat().st_size < limit, (path, path.stat().st_size)


def a_png_has_the_dots_asked_for(folder):
    """PNG, ISO/IEC 15948: IHDR, then pHYs in dots to the metre."""
    for layout in LAYOUTS:
        paper = "A4" if layout in ("plate", "wall") else "A5"
        path = _chart("keyed-bugle-c-6", layout, folder / f"{layout}.png",
                     "--paper", paper, "--dpi", "100")
        data = path.read_bytes()
        across, down = struct.unpack(">II", data[16:24])
        # A5 is 148 by 210 mm, A4 210 by 297, either way round.
        wanted = [827, 1169] if paper == "A4" else [583, 827]
        assert sorted([across, down]) == wanted, (layout, across, down)
        at = data.index(b"pHYs")
        assert struct.unpack(">II", data[at + 4:at + 12]) == (3937, 3937)


def _words(path):
    return _tool("pdftotext", "-layout", path, "-").split()


def every_sheet_of_an_order_says_for_whom_it_is(folder):
    kinds = ["plate", "wall", "stand", "card", "trills", "scales", "slides", "part",
             "practice"]
    tune = pathlib.Path("charts/attic-galop.abc").resolve()
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: Larkmoor\nplayers:\n"
        "  - name: Ada\n    horn: cornet-b-flat\n    sheets:\n" + "".join(
            f"      - {{sheet: {kind}}}\n" for kind in kinds[:-2])
        + "".join(f"      - {{sheet: {kind}, file: {tune}}}\n"
                  for kind in kinds[-2:]))
    _tool(PROGRAM, "print", folder / "o.yaml", "-o", folder / "o")
    files = sorted((folder / "o").iterdir())
    assert len(files) == len(kinds)
    for path in files:
        assert "For Ada, Larkmoor" in " ".join(_words(path)), path


def a_part_of_an_order_is_that_of_passage(folder):
    """Moved for the horn, and all its options heard: but for whom it is,
    what it says is what the command says."""
    tune = pathlib.Path("charts/attic-galop.abc").resolve()
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\na4: 452.5\nplayers:\n"
        "  - {name: Ada, horn: cornet-b-flat, sounding: true, sheets: [{sheet: "
        f"part, file: {tune}, tempo: 240, from_sounding: true, paper: A5, "
        "bars: 1-4, only_departures: true, title: The air}]}\n")
    _tool(PROGRAM, "print", folder / "o.yaml", "-o", folder / "o")
    _tool(PROGRAM, "passage", "cornet-b-flat", tune, "--a4", "452.5",
          "--sounding", "--tempo", "240", "--from-sounding", "--paper", "A5",
          "--bars", "1-4", "--only-departures", "--title", "The air",
          "-o", folder / "alone.pdf")
    words = _words(folder / "o" / "ada_cornet-b-flat_attic-galop_part.pdf")
    at = words.index("For")
    assert words[at:at + 3] == ["For", "Ada,", "B"]
    alone = _words(folder / "alone.pdf")
    assert "240," in alone and "air" in alone and len(alone) > 30
    assert words[:at] + words[at + 3:] == alone


def practice_of_an_order_is_that_of_passage(folder):
    """And what is heard of its options, the tempo that it is hard at."""
    tune = pathlib.Path("charts/attic-galop.abc").resolve()
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\nplayers:\n"
        "  - {name: Ada, horn: keyed-bugle-c-6, sheets: [{sheet: practice, "
        f"file: {tune}, tempo: 240, choices: 2}}]}}\n")
    _tool(PROGRAM, "print", folder / "o.yaml", "-o", folder / "o")
    _tool(PROGRAM, "passage", "keyed-bugle-c-6", tune, "--tempo", "240",
          "--practice", "--choices", "2", "-o", folder / "alone.pdf")
    words = _words(folder / "o" / "ada_keyed-bugle-c-6_attic-galop_practice.pdf")
    at = words.index("For")
    alone = _words(folder / "alone.pdf")
    assert words[:at] + words[at + 3:] == alone
    said = " ".join(alone)
    assert "playable from about quarter = " in said, said
    assert "the next choices, the best first" in said, said


def all_sheets_of_a_player_tell_of_one_setting(folder):
    """The draw of the main slide in every head is that of the slide card."""
    tune = pathlib.Path("charts/attic-galop.abc").resolve()
    plain = ["plate", "wall", "stand", "trills", "scales", "slides"]
    (folder / "o.yaml").write_text(
        "hornbook_order: 1\nband: B\na4: 437\nroom: 19\nplayers:\n"
        "  - name: Ada\n    horn: cornopean-b-flat\n    crook: A\n"
        f"    sheets: [{', '.join(plain)}, {{sheet: card, paper: A6}}, "
        f"{{sheet: part, file: {tune}}}]\n")
    _tool(PROGRAM, "print", folder / "o.yaml", "-o", folder / "o")
    files = sorted((folder / "o").iterdir())
    assert len(files) == len(plain) + 2
    told = {}
    for path in files:
        text = " ".join(_words(path))
        assert "437 Hz" in text, path
        told[path.stem.split("_")[-1]] = {float(mm) for mm in re.findall(
            r"main(?: slide|:)(?: out)? ([\d.]+) mm", text)}
    drawn = told["slides"]
    assert len(drawn) == 1 and 10 < min(drawn) < 30, told
    for kind in plain + ["card"]:
        assert told[kind] == drawn, told
    assert told["part"] <= drawn, told


os.environ.pop("SOURCE_DATE_EPOCH", None)
sys.exit(main(globals(), [t for t in TOOLS if shutil.which(t) is None]))
