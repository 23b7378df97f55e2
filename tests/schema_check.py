"""What the checks of the JSON Schemas share.

Exit code 77 (skipped) where python3-yaml or python3-jsonschema is missing.
"""

import glob
import json
import os
import re
import sys

try:
    import jsonschema
    import yaml
except ImportError as missing:
    print("skipped: %s; install python3-yaml and python3-jsonschema" % missing)
    sys.exit(77)


class Loader(yaml.SafeLoader):
    """Scalars as the core schema of YAML 1.2 reads them, for editors do."""


Loader.yaml_implicit_resolvers = {}
for tag, pattern, first in [
    ("null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("bool", r"true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", list("-+0123456789")),
    (
        "float",
        r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?"
        r"|[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)",
        list("-+.0123456789"),
    ),
]:
    Loader.add_implicit_resolver(
        "tag:yaml.org,2002:" + tag, re.compile("^(?:%s)$" % pattern), first
    )


def whole(loader, node):
    text = node.value
    base = {"0o": 8, "0x": 16}.get(text[:2], 10)
    return int(text[2:] if base != 10 else text, base)


def mapping(loader, node):
    """JSON names are strings, so the name 3 is "3"."""
    for name, _ in node.value:
        if not isinstance(name, yaml.ScalarNode):
            raise yaml.YAMLError("a name that JSON cannot have")
    return {
        name.value: loader.construct_object(value, deep=True)
        for name, value in node.value
    }


Loader.add_constructor("tag:yaml.org,2002:int", whole)
Loader.add_constructor("tag:yaml.org,2002:map", mapping)


def load(path):
    with open(path, "rb") as stream:
        return yaml.load(stream.read(), Loader)


def undescribed(schema, path="#"):
    """Properties without a description or an example."""
    found = []
    for key, value in schema.items() if isinstance(schema, dict) else []:
        here = path + "/" + key
        if key == "properties" and "additionalProperties" in schema:
            for name, part in value.items():
                if not (part.get("description") and part.get("examples")):
                    found.append(here + "/" + name)
                found += undescribed(part, here + "/" + name)
        else:
            for part in value if isinstance(value, list) else [value]:
                found += undescribed(part, here)
    return found


def resolved(schema, part):
    """A property without the reference its examples are to satisfy."""
    return {**part, "definitions": schema["definitions"]}


def bad_examples(schema, part, path="#"):
    """Examples that their own property refuses."""
    found = []
    if isinstance(part, dict):
        for example in part.get("examples", []) if "description" in part else []:
            check = jsonschema.Draft7Validator(resolved(schema, part))
            if not check.is_valid(example):
                found.append("%s: %r" % (path, example))
        for key, value in part.items():
            if key != "examples":
                found += bad_examples(schema, value, path + "/" + key)
    elif isinstance(part, list):
        for i, value in enumerate(part):
            found += bad_examples(schema, value, "%s/%d" % (path, i))
    return found


def agree(schema_path, good, bad_folder, beyond):
    """Whether a schema accepts the good files and refuses the bad ones.

    What no JSON Schema can say is listed in `beyond`, by file and reason; such
    a file must be accepted, so that the list cannot hide anything else.
    Returns the exit code.
    """
    with open(schema_path, encoding="utf-8") as stream:
        schema = json.load(stream)
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)
    wrong = ["no description or example: " + p for p in undescribed(schema)]
    wrong += ["refused example: " + p for p in bad_examples(schema, schema)]

    good = sorted(path for pattern in good for path in glob.glob(pattern))
    for path in good:
        for error in validator.iter_errors(load(path)):
            where = "/".join(str(p) for p in error.absolute_path)
            wrong.append("%s: %s: %s" % (path, where, error.message[:200]))

    bad = sorted(glob.glob(bad_folder + "/*.yaml"))
    for path in bad:
        name = os.path.basename(path)[: -len(".yaml")]
        try:
            accepted = validator.is_valid(load(path))
        except (yaml.YAMLError, UnicodeDecodeError):
            accepted = False  # not YAML: no schema is asked
        if accepted and name not in beyond:
            wrong.append("%s: accepted, and not in BEYOND" % path)
        if not accepted and name in beyond:
            wrong.append("%s: refused, so it does not belong in BEYOND" % path)
    for name in beyond:
        if not os.path.exists("%s/%s.yaml" % (bad_folder, name)):
            wrong.append("BEYOND names %s, which is not there" % name)

    print("%d good and %d bad files" % (len(good), len(bad)))
    for line in wrong:
        print(line)
    return 1 if wrong or not good or not bad else 0
