#!/usr/bin/python3
"""Looks through the project's files for what must not be in them. Prints file:line: reason; exits 1 if any.

- pointers to places outside the project (a folder beside the clone, an absolute working directory);
- "safe" in a text the program shows: the tool shows rule and margin, it never judges food so; in documents, "safe
  to eat" and the like. A line that quotes an official title says so with the remark `official title`;
- notes to do later without an issue, left-over merge marks, tabs or blanks at the end of lines of code;
- source files longer than 500 lines (tables and data excepted), headers without `#pragma once`.

--self-test plants each fault and looks for its complaint.
"""
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
CODE = {".cpp", ".h", ".py", ".sh", ".ts", ".svelte", ".cmake", ".R"}
TEXT = CODE | {".md", ".txt", ".toml", ".json", ".yml", ".yaml", ""}
HELD = ("data/", "LICENSE", "examples/", "web/node_modules/")  # bytes as they came, or written by a script
LONGEST = 500
TABLES = ("app/report/width_ranges.h", "docs/reference/")

# Written in pieces so that this file does not find itself.
OUTSIDE = re.compile("|".join((r"\.\./" + r"shared\b", r"(?<![\w.])/" + r"work/", r"\bissues" + r" show\b")))
LATER = re.compile(r"\b(" + "TO" + r"DO|FIX" + r"ME|XX" + r"X)\b(?!\s*\(#\d+\))")
MERGE = re.compile(r"^(<{7} |>{7} |={7}$)")
JUDGED = re.compile(r"\b(un)?safe(ly|ty)?\b", re.IGNORECASE)
JUDGED_FOOD = re.compile(
    r"\bsafe(ly)? to (eat|serve|hold)\b|\b(food|meat|piece|chicken|it) (is|was|stays) (un)?safe\b", re.IGNORECASE)
NEVER = re.compile(r"\b(never|not|nor|no)\b", re.IGNORECASE)
LITERAL = re.compile(r'"((?:[^"\\]|\\.)*)"')


def tracked(root):
    listed = subprocess.run(["git", "-C", str(root), "ls-files", "-co", "--exclude-standard"], text=True,
                            capture_output=True, check=False)
    if listed.returncode == 0:
        return [root / name for name in sorted(set(listed.stdout.splitlines()))]
    return [path for path in root.rglob("*") if "build" not in path.relative_to(root).parts]


def is_shown(place):
    """Whether string literals of this file can reach a person."""
    is_program = place.endswith((".cpp", ".h", ".ts", ".svelte"))
    return is_program and not re.search(r"(_test|_bench)\.|^tests/|^bench/", place)


def line_faults(place, line):
    if OUTSIDE.search(line):
        yield "points outside the project"
    if LATER.search(line):
        yield "left for later without an issue"
    if MERGE.search(line):
        yield "a mark of a merge"
    suffix = pathlib.PurePosixPath(place).suffix
    if suffix in CODE and line != line.rstrip():
        yield "blanks at the end of the line"
    if "official title" in line:
        return
    if is_shown(place) and not line.lstrip().startswith("#include"):
        texts = [text.replace("'unsafe-inline'", "") for text in LITERAL.findall(line)]  # a keyword of CSP
        if any(JUDGED.search(text) and " " in text for text in texts):
            yield "a shown text judges safety"
    elif suffix == ".md" and JUDGED_FOOD.search(line) and not NEVER.search(line):
        yield "a document says of food that it is safe"


def faults_of(place, text):
    """Yields "place:line: reason" for one file; `place` is relative, with slashes."""
    lines = text.splitlines()
    for number, line in enumerate(lines, 1):
        for reason in line_faults(place, line):
            yield f"{place}:{number}: {reason}"
    suffix = pathlib.PurePosixPath(place).suffix
    if suffix in CODE and len(lines) > LONGEST and not place.startswith(TABLES):
        yield f"{place}:{len(lines)}: longer than {LONGEST} lines; ask what second subject moved in"
    if suffix == ".h" and "#pragma once" not in text:
        yield f"{place}:1: a header without #pragma once"


def check(root):
    wrong, count = [], 0
    for path in tracked(root):
        place = path.relative_to(root).as_posix()
        if path.suffix not in TEXT or not path.is_file():
            continue
        held = place.startswith(HELD) and not re.search(r"^data/reference/.*/make\.|^(data|examples)/.*\.md$", place)
        if held:
            continue
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # not a text
        count += 1
        wrong += faults_of(place, text)
    return count, wrong


def self_test():
    planted = {
        "a pointer outside": ("README.md", "see ../" + "shared/design", "points outside"),
        "a working directory": ("tools/x.py", "open('/" + "work/main')", "points outside"),
        "a judgment": ("app/report/x.cpp", 'say("this meat is ' + 'safe now");', "judges"),
        "a judgment in a document": ("docs/guide/a.md", "then the food is safe", "says of food"),
        "a note for later": ("engine/a.cpp", "// TO" + "DO mend", "left for later"),
        "a merge mark": ("engine/a.cpp", "<" * 7 + " HEAD", "merge"),
        "blanks": ("engine/a.cpp", "int a; ", "blanks"),
        "a long file": ("engine/a.cpp", "int a;\n" * 501, "longer than"),
        "a bare header": ("engine/a.h", "int a();", "pragma once"),
    }
    fine = {
        "app/report/y.cpp": 'say("the table\'s row is met by 3 min"); // safe to call twice',
        "app/http/y.cpp": 'policy = "style-src \'unsafe-inline\'; base-uri";',
        "docs/guide/b.md": "pitwright never says that food is safe",
        "engine/b.cpp": "// framework/working text\nint a;",
        "app/z.cpp": 'title("Safe Minimum Internal Temperatures"); // official title',
    }
    wrong = [f"{name}: passed unnoticed" for name, (place, text, word) in planted.items()
             if not any(word in fault for fault in faults_of(place, text))]
    wrong += [fault for place, text in fine.items() for fault in faults_of(place, text)]
    print("\n".join(wrong) or f"self-test: {len(planted)} planted faults found, {len(fine)} fine files pass")
    return 1 if wrong else 0


def main(arguments):
    if arguments == ["--self-test"]:
        return self_test()
    count, wrong = check(ROOT)
    print("\n".join(wrong) or f"{count} files, none with a forbidden word, pointer or length")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
