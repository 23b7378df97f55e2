"""What a JSON schema says of a file, as a part of a page for scdoc.

Every map of the file becomes a list of its names, each with its kind of value,
its text and an example; what a text of a number leaves out is an error.
"""
import json
import re

from scdoc import escape, joined

# How a text names the unit of a number.
UNIT = re.compile(r"\b(mm|ml|Hz|cents|semitones|degrees Celsius|"
                  r"quarter notes|dots an inch)\b", re.I)
# Text that YAML reads as such without quotation marks.
BARE = re.compile(r"(?!(?:true|false|yes|no|on|off|null)\Z)[A-Za-z][\w .#/-]*\Z",
                  re.I)

KINDS = """\
# KINDS OF VALUES

*list*
	Several values, one a line after a dash, or in brackets with commas between.

*map*
	Names with their values, one a line, or in braces with commas between.
"""


def _flow(value):
    """A value as one writes it in YAML, on one line."""
    if isinstance(value, dict):
        inner = ", ".join(f"{name}: {_flow(item)}"
                          for name, item in value.items())
        return "{" + inner + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_flow, value)) + "]"
    if isinstance(value, str) and BARE.match(value) and " #" not in value:
        return value
    return json.dumps(value, ensure_ascii=False)


def _range(part):
    low, high = part.get("minimum"), part.get("maximum")
    above, below = part.get("exclusiveMinimum"), part.get("exclusiveMaximum")
    first = (f"{low:.9g}" if low is not None else
             f"over {above:.9g}" if above is not None else "")
    last = (f"{high:.9g}" if high is not None else
            f"under {below:.9g}" if below is not None else "")
    if first and last:
        return f", {first} to {last}"
    if first:
        return f", {first} or more" if above is None else f", {first}"
    return f", {last} or less" if last else ""


def _said(text):
    """A text of the schema; what it has in backquotes is in bold."""
    return re.sub(r"\\`(.*?)\\`", r"*\1*", escape(text))


class _Pages:
    """The maps and the kinds of values that are met on the way."""

    def __init__(self, kind, schema):
        self.kind, self.schema = kind, schema
        self.maps = []  # title and part, in the order of the page
        self.values = {}  # kinds of values that have a name

    def _wrong(self, where, what):
        raise SystemExit(f"{self.kind}.schema.json: {where}: {what}")

    def _named(self, part):
        """The name and the part behind a $ref, alone or within allOf."""
        for inner in [part, *part.get("allOf", [])]:
            if "$ref" in inner:
                name = inner["$ref"].removeprefix("#/definitions/")
                return name, self.schema["definitions"][name]
        return None, None

    def type_of(self, title, part):
        """What kind of value it is, in words; maps within are noted."""
        name, named = self._named(part)
        if named is not None:
            words = self.type_of(name, named)
            if "properties" in named:
                return words
            self.values.setdefault(name, (named, words))
            is_short = "enum" in named or named.get("type") == "number"
            return words if is_short else name.replace("_", " ")
        if "const" in part:
            return _flow(part["const"])
        if "enum" in part:
            return joined([_flow(word) for word in part["enum"]])
        either = [inner for inner in part.get("anyOf", part.get("oneOf", []))
                  if not inner.get("deprecated")]
        if "type" not in part and either:
            words = [self.type_of(title, inner) for inner in either]
            if any("enum" in inner for inner in either) and "text" in words:
                words.remove("text")  # the same words, in capitals or not
            return joined(words)
        types = part.get("type", [])
        types = types if isinstance(types, list) else [types]
        return joined([self._plain(title, kind, part) for kind in types])

    def _plain(self, title, kind, part):
        if kind in ("number", "integer"):
            word = "number" if kind == "number" else "whole number"
            return word + _range(part)
        if kind == "array":
            return self._list(title, part)
        if kind == "object" and "properties" in part:
            self._note(title, part)
            return f"map, see {title}"
        return {"boolean": "true or false", "string": "text",
                "object": "map"}[kind]

    def _list(self, title, part):
        items = part.get("items", {})
        if isinstance(items, list):
            if "additionalItems" not in part:
                inner = "; ".join(self.type_of(title, item)
                                  for item in items)
                return f"list: {inner}"
            items = part["additionalItems"]
        return f"list of: {self.type_of(title, items)}"

    def _note(self, title, part):
        if all(part is not known for _, known in self.maps):
            self.maps.append((title, part))
            for name, inner in part["properties"].items():
                self.type_of(name, inner)

    def _text(self, where, part):
        text = part.get("description", "")
        if not text:
            self._wrong(where, "has no description")
        return text + "." if text[-1].isalnum() else text

    @staticmethod
    def _needs_unit(words, owner):
        """Numbers do that have a range, unless their unit stands beside them."""
        return (re.search(r"(?<!whole )\bnumber, ", words) and
                "unit" not in owner["properties"])

    def _field(self, where, name, part, owner):
        words = self.type_of(name, part)
        text = self._text(f"{where}: {name}", part)
        if not UNIT.search(text) and self._needs_unit(words, owner):
            _, named = self._named(part)
            text += " " + (named or {}).get("description", "")
            if not UNIT.search(text):
                self._wrong(f"{where}: {name}", "a number without its unit")
        if name in owner.get("required", []):
            text += " Required."
        example = ""
        if part.get("examples"):
            example = f" For example: *{escape(_flow(part['examples'][0]))}*"
        return (f"*{escape(name)}* ({escape(words)})\n"
                f"\t{_said(text)}{example}\n")

    def _section(self, title, part):
        out = [] if part is self.schema else [f"## {escape(title)}\n"]
        if "description" in part:
            out.append(_said(self._text(title, part)) + "\n")
        out += [self._field(title, name, inner, part)
                for name, inner in part["properties"].items()]
        others = part.get("additionalProperties")
        if isinstance(others, dict):
            words = self.type_of(title, others)
            out.append(f"any other name ({escape(words)})\n"
                       f"\t{_said(self._text(title, others))}\n")
        return "\n".join(out)

    def described(self):
        self._note(self.kind, self.schema)
        sections = [self._section(*noted) for noted in self.maps]
        kinds = [self._kind(name, part, words)
                 for name, (part, words) in sorted(self.values.items())]
        return "\n".join([*sections, KINDS, *kinds])

    def _kind(self, name, part, words):
        told = "" if words == "text" else f" ({escape(words)})"
        return (f"*{escape(name.replace('_', ' '))}*{told}\n"
                f"\t{_said(self._text(name, part))}\n")


def described(kind, schema):
    """The names a file of that kind may have, as a part of a page."""
    return _Pages(kind, schema).described()
