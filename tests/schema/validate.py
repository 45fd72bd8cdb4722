#!/usr/bin/python3
"""validate.py SCHEMA PROGRAM: every JSON document PROGRAM prints keeps to SCHEMA.

PROGRAM ends each document with a NUL byte. To show that the schema can refuse, every document is
also broken in every sort of place where a key stands (the key left out) and must then be refused,
as must an unknown unit.
"""
import copy
import json
import subprocess
import sys

from jsonschema import Draft202012Validator

FREE_KEYED = ("by_setting", "by_channel")  # their keys are names a person chose


def places(node, path=()):
    """Every path to a key of a document that the contract fixes."""
    if isinstance(node, dict):
        for key, value in node.items():
            if not path or path[-1] not in FREE_KEYED:
                yield path + (key,)
            yield from places(value, path + (key,))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from places(value, path + (index,))


def left_out(document, seen):
    """The document without one key, for each sort of place not seen before."""
    for path in places(document):
        sort = tuple("*" if isinstance(step, int) else step for step in path)
        if sort in seen:
            continue
        seen.add(sort)
        broken = copy.deepcopy(document)
        node = broken
        for step in path[:-1]:
            node = node[step]
        del node[path[-1]]
        yield "/".join(map(str, path)), broken


def with_unknown_units(node):
    """Sets every 'unit' to K; how many there were."""
    if isinstance(node, list):
        return sum(map(with_unknown_units, node))
    if not isinstance(node, dict):
        return 0
    count = sum(with_unknown_units(value) for value in node.values())
    if "unit" in node:
        node["unit"] = "K"
        count += 1
    return count


def name_of(document):
    return document.get("burn") or document.get("pit") or "?"


def problems_of(validator, document, name):
    for error in validator.iter_errors(document):
        yield "%s: at /%s: %s" % (name, "/".join(map(str, error.absolute_path)), error.message)


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        schema = json.load(file)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    printed = subprocess.run(sys.argv[2:], check=True, stdout=subprocess.PIPE).stdout
    documents = [json.loads(text) for text in printed.split(b"\0") if text.strip()]
    problems = [] if documents else ["no document was printed"]
    refused = 0
    seen = set()
    for document in documents:
        problems += problems_of(validator, document, name_of(document))
    for document in documents:
        for key, broken in left_out(document, seen):
            refused += 1
            if validator.is_valid(broken):
                problems.append("%s: a missing '%s' was accepted" % (name_of(document), key))
        wrong = copy.deepcopy(document)
        if with_unknown_units(wrong) and validator.is_valid(wrong):
            problems.append("a unit of 'K' was accepted")
    print("%d documents keep to the schema, %d broken ones were refused" % (len(documents), refused))
    for problem in problems[:40]:
        print(problem)
    return 1 if problems else 0


sys.exit(main())
