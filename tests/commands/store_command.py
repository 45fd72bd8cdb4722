#!/usr/bin/python3
"""keep, take and burns on the command line: exact round trips, what is said, where the store is.

    tests/commands/store_command.py PITWRIGHT SOURCE_DIRECTORY
"""
import filecmp
import json
import os
import pathlib
import subprocess
import sys
import tempfile

PITWRIGHT, ROOT = sys.argv[1], pathlib.Path(sys.argv[2])
EXAMPLE = ROOT / "examples" / "hopper-tray"
failures = []


def run(*words, **environment):
    clean = {key: value for key, value in os.environ.items() if key not in ("PITWRIGHT_DATABASE", "XDG_DATA_HOME")}
    return subprocess.run([PITWRIGHT, *map(str, words)], capture_output=True, text=True, check=False,
                          env={**clean, **environment})


def expect(holds, what):
    if not holds:
        failures.append(what)


def expect_said(done, status, said):
    stream = done.stdout if status == 0 else done.stderr
    expect(done.returncode == status and said in stream, f"'{said}' with {status} expected, got {done}")
    expect(status == 0 or done.stdout == "", f"an error printed on standard output: {done}")


def check_round_trip(folder):
    store = {"PITWRIGHT_DATABASE": str(folder / "deep" / "store.db")}
    expect_said(run("burns", **store), 0, "No burns in")
    expect(not (folder / "deep").exists(), "looking at a store that is not there made it")
    expect_said(run("keep", EXAMPLE, **store), 0, "Kept as 'hopper-tray' (number 1): 3 files")
    expect_said(run("keep", EXAMPLE / "burn.toml", "--name", "other", **store), 0, "Kept already as 'hopper-tray'")
    expect_said(run("take", "hopper-tray", "-o", folder / "out", **store), 0, str(folder / "out" / "burn.toml"))
    names = ["burn.toml", "pit.toml", "grate.csv"]
    same, _, _ = filecmp.cmpfiles(EXAMPLE, folder / "out", names, shallow=False)
    expect(same == names, f"not byte for byte: only {same}")
    expect_said(run("take", "1", "-o", folder / "out", **store), 1, "new or empty")
    expect_said(run("take", "hopper-trey", "-o", folder / "x", **store), 1, "did you mean 'hopper-tray'")
    from_store, from_files = run("call", "store:hopper-tray", **store), run("call", EXAMPLE)
    expect(from_store.stdout == from_files.stdout and from_files.stdout, "the call of the kept burn is another one")
    listed = json.loads(run("burns", "--json", **store).stdout)
    expect([burn["name"] for burn in listed["burns"]] == ["hopper-tray"], f"listed: {listed}")


def check_places(folder):
    """--database goes before the environment, that before the home of data."""
    home = {"HOME": str(folder / "home"), "XDG_DATA_HOME": str(folder / "data")}
    run("keep", EXAMPLE, **home)
    expect((folder / "data" / "pitwright" / "pitwright.db").is_file(), "not in XDG_DATA_HOME")
    run("keep", EXAMPLE, HOME=str(folder / "home"))
    expect((folder / "home" / ".local" / "share" / "pitwright" / "pitwright.db").is_file(), "not in the home")
    run("keep", EXAMPLE, "--database", folder / "given.db", PITWRIGHT_DATABASE=str(folder / "env.db"))
    expect((folder / "given.db").is_file() and not (folder / "env.db").exists(), "--database does not go first")


def check_mistakes(folder):
    database = ["--database", folder / "m.db"]
    expect_said(run("keep", ROOT / "examples" / "nowhere", *database), 1, "nowhere")
    expect_said(run("keep", EXAMPLE, "--name", "a/b", *database), 2, "cannot be a burn's name")
    expect_said(run("take", "x", "-o", folder / "y", "--database", folder / "none.db"), 1, "there is no store yet")
    expect_said(run("call", "store:x", "--database", folder / "none.db"), 1, "there is no store yet")
    (folder / "bad.db").write_text("this is no database at all, but a text\n" * 100, encoding="ascii")
    for words in (["burns"], ["keep", EXAMPLE], ["take", "x", "-o", folder / "y"]):
        expect_said(run(*words, "--database", folder / "bad.db"), 1, "bad.db: this file is no pitwright store")
    text = (folder / "bad.db").read_text(encoding="ascii")
    expect(text.startswith("this is no database"), "a file that is no store was written to")


def main():
    for check in (check_round_trip, check_places, check_mistakes):
        with tempfile.TemporaryDirectory() as folder:
            check(pathlib.Path(folder))
    print("\n".join(failures) or "keep, take and burns answer as they say")
    sys.exit(bool(failures))


main()
