"""Sheets as somebody has them read out: every kind of PDF read back as text in
the order of its structure, and held to what PDF/UA-1 (ISO 14289-1:2014) asks
of such documents. Debian 12 has no checker of PDF/UA, so this looks itself,
with poppler and qpdf, for all conditions of that standard that a program can
see and that these files can touch; each names its clause. TAP on standard
output.

Usage: read_aloud.py PROGRAM
"""

import base64
import functools
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

sys.dont_write_bytecode = True

from tap import PROGRAM, ROOT, main

HORNS = ["keyed-bugle-c-6", "keyed-bugle-b-flat-7-f-sharp",
         "keyed-bugle-c-6-munich", "ophicleide-c-11", "keyed-trumpet-e-flat-5",
         "cornet-b-flat", "cornet-b-flat-bore", "bass-e-flat-4",
         "trombone-six-independent", "bugle-b-flat"]
LAYOUTS = ["plate", "wall", "stand", "card", "large"]
TOOLS = ["qpdf", "pdfinfo", "pdftotext"]
SHARED = tempfile.TemporaryDirectory()

SHARP, FLAT = "CCDDEFFGGAAB", "CDDEEFGGAABB"
BLACK = {1, 3, 6, 8, 10}


def _tool(*args):
    result = subprocess.run([str(a) for a in args], stdout=subprocess.PIPE,
                            stderr=subprocess.PIPE, timeout=120, check=False)
    assert result.returncode == 0, (args, result.stderr.decode())
    return result.stdout.decode()


def _made(name, *command):
    """A PDF, made once for all cases."""
    path = pathlib.Path(SHARED.name) / f"{name}.pdf"
    if not path.exists():
        output = "--report" if command[0] == "fit" else "-o"
        more = ["-o", path.with_suffix(".yaml")] if command[0] == "fit" else []
        _tool(PROGRAM, *command, output, path, "--quiet", *more)
    return path


def _chart(horn, layout):
    return _made(f"{horn}-{layout}", "chart", horn, "--layout", layout)


def _of_every_kind():
    galop = ROOT / "charts" / "attic-galop.abc"
    readings = ROOT / "tests" / "data" / "readings" / "ophicleide.yaml"
    bugle = "keyed-bugle-c-6"
    for layout in [*LAYOUTS, "trills"]:
        yield _chart(bugle, layout)
    yield _made("scales", "scales", bugle)
    yield _made("slides", "slides", "bass-e-flat-4", "--valve-slides", "in")
    yield _made("beside", "chart", bugle, "--beside", "cornet-b-flat")
    yield _made("part", "passage", "cornet-b-flat", galop)
    yield _made("circles", "passage", "cornet-b-flat", galop, "--circles")
    yield _made("practice", "passage", bugle, galop, "--practice", "--tempo",
                "200")
    yield _made("curve", "resonances", "cornet-b-flat-bore")
    yield _made("curves", "resonances", "cornet-b-flat-bore", "--fingering",
                "0", "--fingering", "1-3")
    yield _made("form", "new", "--form")
    yield _made("fit", "fit", ROOT / "tests/data/good/ophicleide-read.yaml",
                readings)


class Element:
    """A part of the structure as `pdfinfo -struct-text` shows it."""

    def __init__(self, role):
        self.role = role
        self.kids = []
        self.text = ""

    def words(self):
        own = " ".join(self.text.split())
        return " ".join(w for w in [own, *(k.words() for k in self.kids)] if w)

    def find(self, role):
        for kid in self.kids:
            if kid.role == role:
                yield kid
            yield from kid.find(role)


@functools.lru_cache(maxsize=None)
def _structure(path):
    root = Element("")
    stack = [(-1, root)]
    for line in _tool("pdfinfo", "-struct-text", path).splitlines():
        indent = len(line) - len(line.lstrip(" "))
        word = line.strip()
        while stack[-1][0] >= indent:
            stack.pop()
        if word.startswith('"'):
            stack[-1][1].text += word.strip('"')
        elif word and not word.startswith("/"):
            element = Element(re.match(r"\w+", word).group())
            stack[-1][1].kids.append(element)
            stack.append((indent, element))
    return root


@functools.lru_cache(maxsize=None)
def _rows(path):
    """Rows of tables of notes, by what they are read as."""
    rows = {}
    for table in _structure(path).find("Table"):
        for row in table.find("TR"):
            cells = [cell.words() for cell in row.kids]
            rows.setdefault(cells[0], cells[1:])
    return rows


def _note_number(name):
    letter, sign, octave = re.fullmatch(r"([A-G])([#b]?)(-?\d)", name).groups()
    return (12 * (int(octave) + 1) + "C D EF G A B".index(letter) +
            {"#": 1, "b": -1, "": 0}[sign])


def _said(name):
    """"F sharp 4 or G flat 4" of F#4."""
    number = _note_number(name)
    step, octave = number % 12, number // 12 - 1
    if step not in BLACK:
        return f"{SHARP[step]}{octave}"
    return f"{SHARP[step]} sharp {octave} or {FLAT[step]} flat {octave}"


def _said_cents(cents):
    # Halves may go either way: the file has two decimals.
    return [f"{n} cent{'' if n == 1 else 's'} {'flat' if cents < 0 else 'sharp'}"
            if n else "in tune"
            for n in {int(abs(cents) + 0.494), int(abs(cents) + 0.506)}]


def every_note_has_its_fingering_in_reading_order(_):
    for horn in HORNS:
        data = json.loads(_tool(PROGRAM, "notes", horn, "--json"))
        controls = any(f["label"] != "0" for n in data["notes"]
                       for f in n["fingerings"])
        # The whole row of layouts for one; the unit test has them all.
        k = HORNS.index(horn)
        for layout in LAYOUTS if k == 0 else {"plate", LAYOUTS[k % 5]}:
            rows = _rows(_chart(horn, layout))
            assert rows["Note"] == ["Fingering", "Tuning", "Alternates"], (
                horn, layout, rows)
            found = 0
            for note in data["notes"]:
                if not note["fingerings"]:
                    continue
                first, *others = note["fingerings"]
                fingering, tuning, alternates = rows[_said(note["written"])]
                label = (f"partial {first['partial']}" if not controls else
                         "open" if first["label"] == "0" else first["label"])
                assert re.match(rf"{label}($|[ ,])", fingering), (
                    horn, layout, note["written"], fingering)
                assert any(tuning.startswith(said)
                           for said in _said_cents(first["cents"])), (
                    horn, layout, note["written"], tuning, first["cents"])
                shown = others if layout == "wall" else others[:3]
                said = alternates.split("; ") if shown else []
                assert len(said) == len(shown), (horn, layout, alternates)
                for words, other in zip(said, shown):
                    label = ("open" if other["label"] == "0"
                             else other["label"])
                    assert not controls or words.startswith(label + ","), (
                        horn, layout, note["written"], words, label)
                assert shown or alternates == "none", (horn, alternates)
                found += 1
            assert found > 5, (horn, layout, found)


def plain_text_has_the_fingering_after_the_note(_):
    """For programs that know of no structure."""
    path = _chart("keyed-bugle-c-6", "large")
    words = " ".join(_tool("pdftotext", "-raw", path, "-").split())
    for wanted in [r"B3 .{0,20}1 right little finger on key 1",
                   r"C4 .{0,20}open .{0,5}nothing pressed"]:
        assert re.search(wanted, words), (wanted, words[:600])


def trills_scales_and_slides_are_sentences(_):
    words = _structure(_chart("keyed-bugle-c-6", "trills")).words()
    assert "B3 to C4: 1 to open, easy" in words, words
    scales = _structure(_made("scales", "scales", "keyed-bugle-c-6")).words()
    assert "C4: open, in tune D4: 3, in tune" in scales, scales
    slides = _rows(_made("slides", "slides", "bass-e-flat-4", "--valve-slides",
                         "in"))
    assert slides["Note"] == ["Fingering", "Tuning"], slides
    assert any("cents sharp" in row[1] for row in slides.values()
               if len(row) == 2), slides


def a_part_names_each_note_and_then_its_fingering(_):
    path = _made("part", "passage", "cornet-b-flat",
                 ROOT / "charts" / "attic-galop.abc")
    data = json.loads(_tool(PROGRAM, "passage", "cornet-b-flat",
                            ROOT / "charts" / "attic-galop.abc", "--json"))
    words = _structure(path).words()
    at = 0
    notes = [n for n in data["notes"] if n.get("label") is not None]
    assert len(notes) > 20, data.keys()
    for note in notes:
        wanted = re.compile(
            re.escape(note["written"].replace("#", "\u266f").replace("b", "\u266d"))
            + r"\W+(" + re.escape(note["label"]) + r"\b)?")
        found = wanted.search(words, at)
        assert found, (note, words[at:at + 80])
        at = found.end()


def only_one_of_several_copies_is_read(_):
    structure = _structure(_chart("keyed-bugle-c-6", "card"))
    assert len(list(structure.find("H1"))) == 1
    assert len([r for t in structure.find("Table") for r in t.find("TR")
                if r.words().startswith("C5 ")]) == 1


class Document:
    """What qpdf says of a file."""

    def __init__(self, path):
        # Exit 3 stands for warnings, of which there must be none.
        data = json.loads(_tool("qpdf", "--json=2",
                                "--json-stream-data=inline",
                                "--decode-level=generalized", path))
        self.objects = data["qpdf"][1]
        self.trailer = self.objects["trailer"]["value"]
        self.catalog = self.get(self.trailer["/Root"])

    def get(self, value):
        while isinstance(value, str) and re.fullmatch(r"\d+ \d+ R", value):
            found = self.objects[f"obj:{value}"]
            value = found["stream"] if "stream" in found else found["value"]
        return value

    def pages(self, node=None):
        node = self.get(self.catalog["/Pages"]) if node is None else node
        for kid in node["/Kids"]:
            page = self.get(kid)
            if page["/Type"] == "/Pages":
                yield from self.pages(page)
            else:
                yield kid, page

    def elements(self, ref=None, above=()):
        """Every element with those above it."""
        tree = self.get(self.catalog["/StructTreeRoot"])
        element = self.get(tree["/K"] if ref is None else ref)
        yield element, above
        for kid in self.kids(element):
            if isinstance(self.get(kid), dict) and "/S" in self.get(kid):
                yield from self.elements(kid, (*above, element))

    def kids(self, element):
        kids = self.get(element.get("/K", []))
        return kids if isinstance(kids, list) else [kids]

    def content(self, page):
        stream = self.get(page["/Contents"])
        return base64.b64decode(stream["data"]).decode("latin-1")


def _text(value):
    return value.removeprefix("u:") if isinstance(value, str) else None


TOKEN = re.compile(r"\((?:\\.|[^\\()])*\)|<[0-9A-Fa-f\s]*>|<<|>>|[\[\]]"
                   r"|/[^\s()<>\[\]/]+|[^\s()<>\[\]/]+")
PAINTS = {"f", "F", "f*", "S", "s", "B", "B*", "b", "b*", "Tj", "TJ", "'", '"',
          "sh", "Do", "EI"}


def _marked(content):
    """For each operator that paints: what it stands in, outermost first."""
    stack, operands = [], []
    for token in TOKEN.findall(content):
        if token in ("BDC", "BMC"):
            tag = operands[0]
            number = (int(operands[operands.index("/MCID") + 1])
                      if "/MCID" in operands else None)
            stack.append((tag, number))
        elif token == "EMC":
            stack.pop()
        elif token in PAINTS:
            yield tuple(stack)
        if re.fullmatch(r"[A-Za-z'\"*]+", token):
            operands = []
        else:
            operands.append(token)
    assert not stack, stack


def what_is_drawn_is_read_or_an_artifact(_):
    """ISO 14289-1, 7.1; ISO 32000-1, 14.7.4 and 14.8.2.2."""
    for path in _of_every_kind():
        document = _document(path)
        tree = document.get(document.catalog["/StructTreeRoot"])
        numbers = document.get(tree["/ParentTree"])["/Nums"]
        parents = {numbers[i]: document.get(numbers[i + 1])
                   for i in range(0, len(numbers), 2)}
        claimed = {}
        for element, _above in document.elements():
            for kid in document.kids(element):
                kid = document.get(kid)
                if isinstance(kid, int):
                    key = (element["/Pg"], kid)
                elif "/MCID" in kid:
                    key = (kid["/Pg"], kid["/MCID"])
                else:
                    continue
                assert key not in claimed, (path, key)
                claimed[key] = element
        seen = set()
        for ref, page in document.pages():
            of_page = parents[page["/StructParents"]]
            for stack in _marked(document.content(page)):
                read = [n for _, n in stack if n is not None]
                artifact = any(tag == "/Artifact" for tag, _ in stack)
                assert len(read) + artifact == 1, (path, stack)
                for number in read:
                    key = (ref, number)
                    assert key in claimed, (path, key)
                    assert document.get(of_page[number]) is claimed[key], key
                    seen.add(key)
        assert seen == set(claimed), (path, set(claimed) - seen)


def the_document_says_what_it_is(_):
    """ISO 14289-1, 5 (identifier), 7.1 (marked, title), 7.2 (language)."""
    for path in _of_every_kind():
        document = _document(path)
        catalog = document.catalog
        marks = document.get(catalog["/MarkInfo"])
        assert marks["/Marked"] is True and not marks.get("/Suspects"), path
        assert _text(catalog["/Lang"]) == "en-US", path
        wishes = document.get(catalog["/ViewerPreferences"])
        assert wishes["/DisplayDocTitle"] is True, path
        xmp = xml.etree.ElementTree.fromstring(base64.b64decode(
            document.get(catalog["/Metadata"])["data"]))
        pdfua = "{http://www.aiim.org/pdfua/ns/id/}part"
        assert [e.text for e in xmp.iter(pdfua)] == ["1"], path
        title = [li.text for e in
                 xmp.iter("{http://purl.org/dc/elements/1.1/}title")
                 for li in e.iter(
                     "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}li")]
        info = document.get(document.trailer["/Info"])
        assert title == [_text(info["/Title"])] and title[0], (path, title)
        for _ref, page in document.pages():
            assert page["/Tabs"] == "/S", path


@functools.lru_cache(maxsize=None)
def _document(path):
    return Document(path)


STANDARD = {"/Document", "/Sect", "/P", "/H1", "/H2", "/Table", "/THead",
            "/TBody", "/TR", "/TH", "/TD", "/Figure"}
HOLDERS = {"/THead": {"/Table"}, "/TBody": {"/Table"},
           "/TR": {"/Table", "/THead", "/TBody"}, "/TH": {"/TR"},
           "/TD": {"/TR"}}


def pictures_and_headings_are_as_they_must(_):
    """ISO 14289-1, 7.1 (standard types), 7.3 (figures), 7.4 (headings)."""
    for path in _of_every_kind():
        document = _document(path)
        heading = 0
        roots = 0
        for element, above in document.elements():
            role = element["/S"]
            assert role in STANDARD, (path, role)
            assert role not in HOLDERS or above[-1]["/S"] in HOLDERS[role], (
                path, role, above[-1]["/S"])
            roots += not above
            if role == "/Figure":
                assert len(_text(element["/Alt"]).split()) > 2, path
                box = document.get(element["/A"])["/BBox"]
                assert box[0] < box[2] and box[1] < box[3], (path, box)
                media = document.get(element["/Pg"])["/MediaBox"]
                assert (box[0] >= media[0] and box[1] >= media[1] and
                        box[2] <= media[2] and box[3] <= media[3]), (path, box)
            if re.fullmatch("/H[1-6]", role):
                level = int(role[2])
                assert level <= heading + 1, (path, level)
                heading = level
        assert roots == 1 and heading > 0, path


def tables_have_heads(_):
    """ISO 14289-1, 7.5."""
    for path in _of_every_kind():
        document = _document(path)
        tables = {}
        for element, above in document.elements():
            if element["/S"] == "/TR":
                table = [a for a in above if a["/S"] == "/Table"][-1]
                tables.setdefault(id(table), []).append(element)
        for rows in tables.values():
            heads, widths = 0, set()
            for row in rows:
                cells = [document.get(kid) for kid in document.kids(row)]
                widths.add(len(cells))
                for cell in cells:
                    if cell["/S"] == "/TH":
                        heads += 1
                        scope = document.get(cell["/A"])["/Scope"]
                        assert scope in ("/Row", "/Column"), (path, scope)
            over = [document.get(kid)["/S"] for kid in document.kids(rows[0])]
            # Each column has its head, or each row.
            assert set(over) == {"/TH"} or heads >= len(rows), (path, over)
            assert len(widths) == 1 or path.stem in ("scales",
                                                     "keyed-bugle-c-6-trills"
                                                     ), (path, widths)


def fonts_are_there_and_tell_their_letters(_):
    """ISO 14289-1, 7.21.4.1 (embedded), 7.21.7 (Unicode)."""
    for path in _of_every_kind():
        document = _document(path)
        fonts = [o["value"] for o in document.objects.values()
                 if isinstance(o.get("value"), dict)
                 and o["value"].get("/Type") == "/Font"]
        whole = [f for f in fonts if "/FontDescriptor" not in f]
        assert fonts, path
        for font in fonts:
            if font in whole:
                assert "/ToUnicode" in font, (path, font)
            else:
                descriptor = document.get(font["/FontDescriptor"])
                assert any(k.startswith("/FontFile") for k in descriptor), path


def qpdf_finds_no_fault(_):
    for path in _of_every_kind():
        told = _tool("qpdf", "--check", path)
        assert "No syntax or stream encoding errors" in told, (path, told)


def _plain(*args):
    """The sentences, without the ends of lines that the screen makes."""
    text = _tool(PROGRAM, "notes", *args, "--plain")
    assert all(len(line) <= 80 for line in text.splitlines()), text
    return " ".join(text.split())


def _pressed(kind, label):
    """"valves 1, 2 and 3" of 1-2-3, for a horn with keys or valves alone."""
    if label == "0":
        return "open"
    noun = kind
    numbers = label.split("-")
    if len(numbers) == 1:
        return f"{noun} {label}"
    return f"{noun}s {', '.join(numbers[:-1])} and {numbers[-1]}"


def notes_in_plain_words_are_a_sentence_each(_):
    for horn, kind in [("keyed-bugle-c-6", "key"), ("ophicleide-c-11", "key"),
                       ("cornet-b-flat", "valve"), ("bass-e-flat-4", "valve"),
                       ("keyed-bugle-c-6-munich", "key"),
                       ("trombone-six-independent", "valve")]:
        data = json.loads(_tool(PROGRAM, "notes", horn, "--json"))
        text = _plain(horn)
        assert re.fullmatch(r"[A-Za-z0-9 ,.;:()\u2019-]+", text), (
            horn, set(re.findall(r"[^A-Za-z0-9 ,.;:()\u2019-]", text)))
        everything = _plain(horn, "--all")
        for note in data["notes"]:
            name = _said(note["written"])
            if not note["fingerings"]:
                assert f" {name}: not available." in text, (horn, name)
                continue
            first, *others = note["fingerings"]
            tuning = "|".join(said[0].upper() + said[1:] for said in
                              _said_cents(first["cents"]))
            found = re.search(
                rf" {name}: {_pressed(kind, first['label'])}(, [^.]*)?\. "
                rf"({tuning})[^.]*\.( Also ([^.]*)\.)?", text)
            assert found, (horn, name, first)
            also = (found.group(4) or "").split("; ")
            if len(others) > 3:
                assert also.pop() == f"and {len(others) - 3} more", also
            assert len([a for a in also if a]) == min(3, len(others)), also
            for words, other in zip(also, others):
                assert words.startswith(_pressed(kind, other["label"])), (
                    horn, name, words)
            whole = re.search(rf" {name}: [^.]*\. [^.]*\.( Also ([^.]*)\.)?",
                              everything)
            assert len((whole.group(2) or "").split("; ")) == max(
                1, len(others)), (horn, name, whole.group())


def plain_words_go_with_names_and_trills(_):
    assert " Fis4 or Ges4: valve 2." in _plain("cornet-b-flat", "--names",
                                               "german")
    assert " do sharp 4 or r\u00e9 flat 4: " in _plain(
        "cornet-b-flat", "--names", "solfege")
    assert " C4, sounding B flat 3: open. In tune." in _plain(
        "cornet-b-flat", "--sounding")
    assert " C4: valve 1. In tune." in _plain(
        "keyed-bugle-c-tone-valve", "--reads", "treble-bflat")
    assert " key 2 with valve 1, " in _plain("keyed-bugle-c-tone-valve")
    assert " G4: partial 3." in _plain("bugle-b-flat")
    assert "Valve 2 is stuck down." in _plain("cornet-b-flat", "--stuck",
                                              "valve:2=down")
    trills = _plain("keyed-bugle-c-6", "--trills")
    assert ("Trills to the semitone above. B3 to C4: key 1, then open. Easy. "
            "C4 to D flat 4: open, then key 2. Easy.") in trills, trills
    assert "E4 to F sharp 4: keys 1 and 5, then key 1. Awkward." in trills
    assert ": not playable." in _plain("bugle-b-flat", "--trills")


def plain_words_are_no_table(_):
    for more, told in [(["--json"], "--json"), (["--format", "csv"], "csv"),
                       (["-o", "x.json"], "json"), (["--brief"], "--brief"),
                       (["--hold", "C5 E5"], "--hold"),
                       (["--why", "C5"], "--why"),
                       (["--beside", "bugle-b-flat"], "--beside")]:
        result = subprocess.run(
            [str(PROGRAM), "notes", "cornet-b-flat", "--plain", *more],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
            timeout=60, check=False)
        assert result.returncode == 2, (more, result)
        assert "--plain" in result.stderr and told in result.stderr, result
        assert result.stdout == "", more


SVG = "{http://www.w3.org/2000/svg}"


def _svgs(folder):
    for horn in ["keyed-bugle-c-6", "cornet-b-flat"]:
        for layout in [*LAYOUTS, "trills"]:
            _tool(PROGRAM, "chart", horn, "--layout", layout, "-q", "-o",
                  folder / f"{horn}-{layout}.svg")
    _tool(PROGRAM, "passage", "cornet-b-flat",
          ROOT / "charts" / "attic-galop.abc", "-q", "-o", folder / "part.svg")
    return sorted(folder.glob("*.svg"))


def an_svg_is_found_and_read(folder):
    if shutil.which("xmllint"):
        for path in _svgs(folder):
            _tool("xmllint", "--noout", path)
    for path in _svgs(folder):
        root = xml.etree.ElementTree.parse(path).getroot()
        assert root.get("lang") == "en-US" and root.get("role") == "document"
        title = root.find(f"{SVG}title")
        desc = root.find(f"{SVG}desc")
        assert root.get("aria-labelledby") == title.get("id"), path
        assert root.get("aria-describedby") == desc.get("id"), path
        texts = list(root.iter(f"{SVG}text"))
        assert len(texts) > 20, path
        # Outlines are what is seen; the same letters as text are not.
        assert all(t.get("fill-opacity") == "0" for t in texts), path
        for group in root.iter(f"{SVG}g"):
            if group.get("role") == "img":
                assert len(group.get("aria-label").split()) > 2, path


def an_svg_lists_its_notes_and_fingerings(folder):
    bugle = json.loads(_tool(PROGRAM, "notes", "keyed-bugle-c-6", "--json"))
    for path in _svgs(folder):
        root = xml.etree.ElementTree.parse(path).getroot()
        desc = root.find(f"{SVG}desc").text
        if path.name == "part.svg":
            assert re.search(r"C5 +0 +E5 +0 ", desc), desc
        if path.name not in ("keyed-bugle-c-6-plate.svg",
                             "keyed-bugle-c-6-wall.svg"):
            continue
        for note in bugle["notes"]:
            if note["fingerings"]:
                label = note["fingerings"][0]["label"].replace("0", "open")
                said = f"{_said(note['written'])}: {label}, "
                assert said in desc, (path, said, desc)
        words = {t.text for t in root.iter(f"{SVG}text")}
        assert {"B3", "E♭"} <= words, words


os.environ.pop("SOURCE_DATE_EPOCH", None)
sys.exit(main(globals(), [t for t in TOOLS if shutil.which(t) is None]))
