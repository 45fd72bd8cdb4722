#!/usr/bin/python3
"""Every picture of the samples is XML for a second parser, and fits on a web page beside the others.

    tests/schema/picture_documents.py PROGRAM    (PROGRAM FOLDER writes the SVG files)
"""

import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

SVG = "{http://www.w3.org/2000/svg}"
DRAWN = {"svg", "title", "desc", "defs", "pattern", "g", "rect", "path", "line", "circle", "text"}


def faults_of(path):
    tree = xml.etree.ElementTree.parse(path)
    for element in tree.iter():
        name = element.tag.removeprefix(SVG)
        if name not in DRAWN or not element.tag.startswith(SVG):
            yield f"{path.name}: <{name}> is none of ours"
        for key in element.attrib:
            if key.startswith("on") or key in ("href", "style", "class", "transform"):
                yield f"{path.name}: {name} has {key}"
    if not any(key.startswith("data-") for element in tree.iter() for key in element.attrib):
        if path.name.startswith("lay"):
            yield f"{path.name}: nothing to hang behavior on"


def main():
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.argv[1], folder], check=True)
        files = sorted(pathlib.Path(folder).glob("*.svg"))
        faults = [fault for path in files for fault in faults_of(path)]
    if len(files) < 30:
        faults.append(f"only {len(files)} pictures were written")
    print("\n".join(faults) or f"{len(files)} pictures are sound")
    sys.exit(bool(faults))


main()
