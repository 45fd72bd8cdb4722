#!/usr/bin/python3
"""What a person meets who asks for a lay: pages, pictures, and what is said of a wish that cannot be met.

    tests/commands/lay_command.py PITWRIGHT
"""

import json
import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
PITWRIGHT = sys.argv[1]
HOPPER = ROOT / "examples" / "hopper-tray"
failures = []


def run(*words):
    return subprocess.run([PITWRIGHT, "lay", *map(str, words)], capture_output=True, text=True, check=False)


def expect(holds, what):
    if not holds:
        failures.append(what)


def expect_error(status, said, *words):
    done = run(*words)
    expect(done.returncode == status, f"{words}: status {done.returncode}, not {status}: {done.stderr}")
    expect(said in done.stderr, f"{words}: '{said}' not in '{done.stderr}'")
    expect(done.stdout == "", f"{words}: an error printed on standard output")


def check_the_page():
    page = run(HOPPER).stdout
    for line in page.splitlines():
        expect(len(line) <= 80, f"wider than 80 columns: {line}")
    measured = {}
    document = json.loads(run(HOPPER, "--json").stdout)
    for spot in document["spots"]:
        for setting, run_of in spot["by_setting"].items():
            measured.setdefault(setting, []).append(run_of["value"])
    for values in measured.values():
        for value in values:
            number = f"{abs(value):.0f}"
            sign = "" if number == "0" else ("+" if value > 0 else "−")
            expect(f"[{sign}{number}]" in page, f"measured {value} is not on the page")
    for words in ("level 240°", "within ±10° of", "usable", "hottest", "coolest", "A → B",
                  "one more thermometer", "IEC 60068-3-5", "no certificate"):
        expect(words in page, f"'{words}' is not on the page")


def check_the_document():
    """What stands in JSON is what the wish asked for, in the unit asked for."""
    words = ["--at", "15 cm,12 cm,main", "--wanted", "250 F", "--json"]
    fahrenheit = json.loads(run(HOPPER, *words).stdout)
    celsius = json.loads(run(HOPPER, *words, "--unit", "C").stdout)
    first, same = fahrenheit["at"][0], celsius["at"][0]
    expect(abs(first["value"] - 1.8 * same["value"]) < 0.01, "a run is not converted as a difference")
    expect(abs(first["air"]["value"] - 32 - 1.8 * same["air"]["value"]) < 0.01, "air is not converted as a reading")
    grate = fahrenheit["settings"][0]["grates"][0]
    expect(len(grate["value"]) == len(grate["y"]) and len(grate["value"][0]) == len(grate["x"]), "value is not [y][x]")
    dial = fahrenheit["settings"][0]["set_point_for"]["answers"][0]
    expect(dial["set"]["low"] < dial["set"]["value"] < dial["set"]["high"], "no range of what to dial")
    narrow = json.loads(run(HOPPER, "--within", "2 F", "--json").stdout)
    expect(narrow["settings"][0]["within"]["share"] < fahrenheit["settings"][0]["within"]["share"],
           "a narrower band holds no less of the grate")


def check_the_files():
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        done = run(HOPPER, "--svg", folder / "a.svg", "--png", folder / "a.png", "--pdf", folder / "a.pdf")
        expect(done.returncode == 0, f"files: {done.stderr}")
        svg = (folder / "a.svg").read_text(encoding="utf-8")
        xml.etree.ElementTree.fromstring(svg)
        expect(len(svg.encode()) < 200_000, f"the picture has {len(svg)} bytes")
        expect(len(re.findall(r'data-spot="', svg)) == 18, "not every spot of two settings and their change is drawn")
        expect((folder / "a.png").read_bytes().startswith(b"\x89PNG"), "no PNG")
        expect((folder / "a.pdf").read_bytes().startswith(b"%PDF"), "no PDF")
        again = run(HOPPER, "--svg", folder / "b.svg")
        expect(again.returncode == 0 and (folder / "b.svg").read_text(encoding="utf-8") == svg,
               "the same burn gives another picture")


def check_what_cannot_be():
    expect_error(1, "cannot write '/nonexistent/a.svg'", HOPPER, "--svg", "/nonexistent/a.svg")
    expect_error(2, "there is no grate 'attic'", HOPPER, "--at", "1 in,1 in,attic")
    expect_error(2, "needs a grate", HOPPER, "--at", "1 in,1 in")
    expect_error(2, "outside the main grate", HOPPER, "--at", "90 in,1 in,main")
    expect_error(2, "--at", HOPPER, "--at", "here")
    expect_error(2, "--at", HOPPER, "--at", "1,2,main")
    expect_error(2, "--within", HOPPER, "--within", "-3 F")
    expect_error(2, "--wanted", HOPPER, "--wanted", "hot")
    expect_error(2, "--unit", HOPPER, "--unit", "K")
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        text = (HOPPER / "burn.toml").read_text(encoding="utf-8")
        text = re.sub(r'^[xy] = .*\n', "", text, flags=re.M)
        (folder / "burn.toml").write_text(text, encoding="utf-8")
        for name in ("pit.toml", "grate.csv"):
            (folder / name).write_bytes((HOPPER / name).read_bytes())
        expect_error(2, "no air probe has a position", folder)
        expect_error(2, "burn.toml", folder)


def main():
    check_the_page()
    check_the_document()
    check_the_files()
    check_what_cannot_be()
    print("\n".join(failures) or "the lay command answers as it says")
    sys.exit(bool(failures))


main()
