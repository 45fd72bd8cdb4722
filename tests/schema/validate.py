#!/usr/bin/python3
"""validate.py SCHEMA PROGRAM: every JSON document PROGRAM prints keeps to SCHEMA.

PROGRAM ends each document with a NUL byte. To show that the schema can refuse, every document is
also broken in every place where a key stands (the key left out) and must then be refused, as must
an unknown word.
"""
import copy
import json
import subprocess
import sys

from jsonschema import Draft202012Validator

FREE_KEYED = ("by_setting", "by_channel")  # their keys are names a person chose


def places(node, parent_key=None):
    """Every (object, key) of a document whose key the contract fixes."""
    if isinstance(node, dict):
        for key, value in node.items():
            if parent_key not in FREE_KEYED:
                yield node, key
            yield from places(value, key)
    elif isinstance(node, list):
        for value in node:
            yield from places(value)


def left_out(document):
    for index in range(len(list(places(document)))):
        broken = copy.deepcopy(document)
        node, key = list(places(broken))[index]
        del node[key]
        yield key, broken


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
    for document in documents:
        problems += problems_of(validator, document, document.get("burn", "?"))
    for document in sorted(documents, key=lambda d: len(json.dumps(d)))[:-2]:  # not the huge ones
        for key, broken in left_out(document):
            refused += 1
            if validator.is_valid(broken):
                problems.append("%s: a missing '%s' was accepted" % (document["burn"], key))
        wrong = copy.deepcopy(document)
        wrong["unit"] = "K"
        if validator.is_valid(wrong):
            problems.append("a unit of 'K' was accepted")
    print("%d documents keep to the schema, %d broken ones were refused" % (len(documents), refused))
    for problem in problems[:40]:
        print(problem)
    return 1 if problems else 0


sys.exit(main())
