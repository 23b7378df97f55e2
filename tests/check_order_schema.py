#!/usr/bin/python3
"""The JSON Schema of orders, checked by a general-purpose validator.

It must accept each order that the C reader accepts (charts and the good ones
of tests/orders) and refuse each bad one; the unit tests check the reader
itself on the same files. Its words for sheets must be those of the reader.

Exit code 77 (skipped) where python3-yaml or python3-jsonschema is missing.
"""

import glob
import json
import re
import sys

try:
    import jsonschema
except ImportError as missing:
    print("skipped: %s; install python3-yaml and python3-jsonschema" % missing)
    sys.exit(77)

from check_horn_schema import bad_examples, load, undescribed

SCHEMA = "charts/order.schema.json"
READER = "src/reader/order_file.c"


def names_of(schema):
    """Every name the schema knows."""
    found = set()
    if isinstance(schema, dict):
        found |= set(schema.get("properties", {}))
        for part in schema.values():
            found |= names_of(part)
    elif isinstance(schema, list):
        for part in schema:
            found |= names_of(part)
    return found


def names_read():
    """Every name the reader knows, from its lists."""
    with open(READER, encoding="utf-8") as stream:
        text = stream.read()
    lists = re.findall(r"known\[\] = \{(.*?)\}", text, re.S)
    kinds = re.findall(r'\[HBK_ORDER_\w+\] = "(\w+)"', text)
    return set(re.findall(r'"(\w+)"', " ".join(lists))), kinds


def main():
    with open(SCHEMA, encoding="utf-8") as stream:
        schema = json.load(stream)
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)
    wrong = ["no description or example: " + p for p in undescribed(schema)]
    wrong += ["refused example: " + p for p in bad_examples(schema, schema)]
    names, kinds = names_read()
    if names != names_of(schema):
        wrong.append("only in one of both: %s" % (names ^ names_of(schema)))
    if kinds != schema["definitions"]["kind"]["enum"]:
        wrong.append("the kinds of sheets differ: %s" % kinds)

    good = sorted(glob.glob("charts/*.yaml") + glob.glob("tests/orders/good*.yaml"))
    for path in good:
        for error in validator.iter_errors(load(path)):
            where = "/".join(str(p) for p in error.absolute_path)
            wrong.append("%s: %s: %s" % (path, where, error.message[:200]))
    bad = sorted(glob.glob("tests/orders/bad*.yaml"))
    for path in bad:
        if validator.is_valid(load(path)):
            wrong.append("%s: accepted" % path)

    print("%d good and %d bad orders" % (len(good), len(bad)))
    for line in wrong:
        print(line)
    return 1 if wrong or not good or not bad or not kinds else 0


sys.exit(main())
