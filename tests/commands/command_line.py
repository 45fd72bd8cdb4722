#!/usr/bin/python3
"""What a person meets on the command line: exit status, where words go, and the README's own page.

    tests/commands/command_line.py PITWRIGHT
"""

import json
import pathlib
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
PITWRIGHT = sys.argv[1]
failures = []


def run(*words):
    return subprocess.run([PITWRIGHT, *map(str, words)], capture_output=True, text=True, check=False)


def expect(holds, what):
    if not holds:
        failures.append(what)


def expect_status(status, words, said=""):
    """Errors go to standard error, name the trouble, and leave standard output empty."""
    done = run(*words)
    expect(done.returncode == status, f"{words}: status {done.returncode}, not {status}: {done.stderr}")
    expect(said in done.stderr, f"{words}: '{said}' not in '{done.stderr}'")
    expect(status == 0 or done.stdout == "", f"{words}: an error printed on standard output")


def check_statuses():
    expect_status(0, ["--help"])
    expect_status(2, [])
    expect_status(2, ["smoke"])
    expect_status(1, ["call", ROOT / "examples" / "nowhere"], "nowhere")
    expect_status(2, ["call", ROOT / "examples" / "hopper-tray", "--unit", "K"])
    expect_status(2, ["call", ROOT / "examples" / "hopper-tray", "--live", "soon"])
    expect_status(1, ["logs", ROOT / "examples" / "nowhere.csv"], "nowhere.csv")
    expect_status(2, ["rehearse", ROOT / "README.md", "-o", "/nonexistent/x"])
    expect_status(2, ["begin", ROOT / "README.md", "-o", "/nonexistent/x"])


def check_mistakes_name_their_place():
    with tempfile.TemporaryDirectory() as folder:
        burn = pathlib.Path(folder) / "burn.toml"
        burn.write_text('logs = ["a.csv"]\n[[probe]]\nchannel = "T1"\nsport = "left"\n', encoding="ascii")
        expect_status(2, ["call", folder], "burn.toml:4:1")
        expect_status(2, ["call", folder], "spot")


def check_every_example():
    """Exit status is 0 whatever the words, and JSON is one document."""
    for document in sorted((ROOT / "examples").glob("*/burn.toml")):
        expect_status(0, ["logs", document.parent])
        expect_status(0, ["call", document.parent, "--explain"])
        done = run("call", document.parent, "--json")
        expect(done.returncode == 0 and "sentence" in json.loads(done.stdout), f"{document}: no JSON")


def check_the_first_page_of_the_readme():
    """The page that the README shows is the page that `./run` prints."""
    shown = (ROOT / "README.md").read_text(encoding="utf-8").split("    $ ./run\n")[1].split("\nThe sentence first")[0]
    expected = [line[4:] for line in shown.rstrip().splitlines()]
    printed = run("call", ROOT / "examples" / "hopper-tray").stdout.splitlines()
    for want, got in zip(expected, printed):
        expect(want.strip() == got.strip(), f"README shows '{want}', the program prints '{got}'")
    expect(len(expected) > 20, "the README's page is cut short")


def main():
    check_statuses()
    check_mistakes_name_their_place()
    check_every_example()
    check_the_first_page_of_the_readme()
    print("\n".join(failures) or "the command line answers as it says")
    sys.exit(bool(failures))


main()
