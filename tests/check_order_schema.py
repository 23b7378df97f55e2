#!/usr/bin/python3
"""The JSON Schema of orders, checked by a general-purpose validator.

It must accept each order that the C reader accepts and refuse each bad one;
the unit tests check the reader itself on the same files. The names and the
kinds of sheets that it knows must be those of the reader.
"""

import json
import re
import sys

import schema_check

SCHEMA = "charts/order.schema.json"
READERS = ["src/reader/%s.c" % name for name in ("order", "order_file", "order_sheets")]


def names_of(part):
    """Every name the schema knows."""
    found = set()
    if isinstance(part, dict):
        found |= set(part.get("properties", {}))
        for inner in part.values():
            found |= names_of(inner)
    elif isinstance(part, list):
        for inner in part:
            found |= names_of(inner)
    return found


def differences():
    """What only one of schema and reader knows."""
    with open(SCHEMA, encoding="utf-8") as stream:
        schema = json.load(stream)
    text = ""
    for reader in READERS:
        with open(reader, encoding="utf-8") as stream:
            text += stream.read()
    lists = re.findall(r"known\[\] = \{(.*?)\}", text, re.S)
    names = set(re.findall(r'"(\w+)"', " ".join(lists)))
    table = text[text.index("kinds[HBK_ORDER_KIND_COUNT]"):].split("};")[0]
    kinds = re.findall(r'\[HBK_ORDER_\w+\] = "(\w+)"', table)
    found = sorted(names ^ names_of(schema))
    if not kinds or kinds != schema["definitions"]["kind"]["enum"]:
        found.append("the kinds of sheets: %s" % kinds)
    return found


FOUND = differences()
for name in FOUND:
    print("only in one of schema and reader: " + name)
sys.exit(
    schema_check.agree(
        SCHEMA,
        ["charts/*.yaml", "tests/data/orders/*.yaml"],
        "tests/bad_orders",
        {},
    )
    or bool(FOUND)
)
