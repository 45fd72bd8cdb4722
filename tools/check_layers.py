#!/usr/bin/python3
"""Names every #include that points up or sideways, and every library used outside its door.

Modules and what they may see come from the `pitwright_module(NAME ... USES ... TEST_USES ...)` and
`add_executable(NAME ...)` + `target_link_libraries(NAME ...)` lines of engine/, store/ and app/. A file
may include its own module's headers and those of the modules its own line uses, directly or through them;
a *_test.cpp also those of TEST_USES. The doors of third-party libraries are in DOORS. --self-test tries the rules on a made-up tree.
"""
import pathlib
import re
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent
LAYERS = ("engine", "store", "feed", "app")
KEYWORDS = {"SOURCES", "USES", "LINKS", "TEST_USES"}

# First header words of a library -> paths where it may be included (regular expressions on the path).
# .cpp in a pattern keeps the library out of headers, where it would spread.
DOORS = {
    r"toml\+\+|toml\.hpp|toml/": r"store/documents/.*\.cpp",
    r"nlohmann/(?!json_fwd\.hpp)": r"(store|app|feed)/.*\.cpp",
    r"CLI/": r"app/cli/.*",
    r"Eigen/": r"engine/.*",
    r"boost/(?!beast|asio)": r"engine/.*",
    r"tbb/|oneapi/tbb": r"engine/numeric/parallel[^/]*",
    r"date/": r"(store|app)/.*",
    r"sqlite3\.h|pqxx": r"store/db/.*\.cpp",
    r"zlib\.h": r"store/db/.*\.cpp",
    r"boost/(beast|asio)": r"app/wire/(server|session)\.(cpp|h)",
    r"mosquitto": r"feed/mqtt/.*\.cpp",
    r"librsvg/|cairo|glib": r"app/picture/(render\.cpp|[a-z_]*test[a-z_]*\.(cpp|h))",
    r"opencv2/|jpeglib\.h|png\.h": r"store/photo/.*",
    r"gtest/|gmock/": r".*(_test\.(cpp|h)|/[a-z_]*test[a-z_]*\.(cpp|h))",
    r"benchmark/": r".*_bench\.cpp",
}


class Module:
    """One room: its folder and the names on its CMake lines."""

    def __init__(self, name, folder, uses, test_uses=()):
        self.name, self.folder, self.uses, self.test_uses = name, folder, uses, list(test_uses)


def words_after(keyword, words):
    """The words between a keyword and the next one."""
    if keyword not in words:
        return []
    found = []
    for word in words[words.index(keyword) + 1:]:
        if word in KEYWORDS:
            break
        found.append(word)
    return found


def commands(text, name):
    """The words of every call of a CMake command, remarks left out."""
    bare = re.sub(r"#.*", "", text)
    return [found.split() for found in re.findall(rf"\b{name}\s*\(([^)]*)\)", bare)]


def modules_of(root):
    """Every module by name. Executables see what they link; variables are taken as they stand in `set`."""
    modules = {}
    for layer in LAYERS:
        for cmake in sorted((root / layer).glob("**/CMakeLists.txt")):
            text = cmake.read_text(encoding="utf-8")
            values = {words[0]: words[1:] for words in commands(text, "set") if words}
            def expanded(words, values=values):
                return [one for word in words
                        for one in (values.get(word[2:-1], []) if word.startswith("${") else [word])]
            for words in commands(text, "pitwright_module"):
                words = expanded(words)
                modules[words[0]] = Module(words[0], cmake.parent, words_after("USES", words),
                                           words_after("TEST_USES", words))
            links = {}
            for words in commands(text, "target_link_libraries"):
                links.setdefault(words[0], []).extend(words[1:])
            for words in commands(text, "add_executable") + commands(text, "add_library"):
                if words[0] not in modules and words[1:2] != ["INTERFACE"]:
                    modules[words[0]] = Module(words[0], cmake.parent, links.get(words[0], []))
    return modules


def below(name, modules, seen=frozenset()):
    """The module and all it sees."""
    if name in seen or name not in modules:
        return seen
    seen = seen | {name}
    for lower in modules[name].uses:
        seen = below(lower, modules, seen)
    return seen


def includes_of(path):
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        found = re.match(r'\s*#\s*include\s*([<"])([^>"]+)[>"]', line)
        if found:
            yield number, found.group(2)


def owner_of(path, modules):
    """The modules of a file's own folder, else of the nearest folder above."""
    for folder in path.parents:
        here = [module for module in modules.values() if module.folder == folder]
        if here:
            return here
    return []


def wrong_layers(root, modules):
    rooms = {}
    for module in modules.values():
        rooms.setdefault(module.folder.name, set()).add(module.name)
    for path in files_of(root, LAYERS):
        owners = owner_of(path, modules)
        if not owners:
            continue
        seen = set()
        for owner in owners:
            seen |= below(owner.name, modules)
            if re.search(r"test", path.stem):
                for lower in owner.test_uses:
                    seen |= below(lower, modules)
        for number, header in includes_of(path):
            room = header.split("/")[0]
            if "/" in header and room in rooms and not rooms[room] & seen:
                yield f"{path.relative_to(root)}:{number}: {owners[0].name} may not see {room} ({header})"


def wrong_order(modules, root):
    """A lower layer that uses a higher one."""
    rank = {layer: index for index, layer in enumerate(LAYERS)}
    for module in modules.values():
        for lower in module.uses:
            if lower not in modules:
                continue
            mine, its = (rank[one.folder.relative_to(root).parts[0]] for one in (module, modules[lower]))
            if its > mine:
                yield f"{module.name} ({LAYERS[mine]}) uses {lower} ({LAYERS[its]}), a higher layer"


def wrong_doors(root):
    for path in files_of(root, (*LAYERS, "tests", "bench")):
        place = path.relative_to(root).as_posix()
        if place.startswith(("tests/", "bench/")):
            continue
        for number, header in includes_of(path):
            for library, door in DOORS.items():
                if re.match(library, header) and not re.fullmatch(door, place):
                    yield f"{place}:{number}: <{header}> has its door elsewhere ({door})"


def files_of(root, folders):
    for folder in folders:
        yield from sorted(path for path in (root / folder).rglob("*") if path.suffix in (".h", ".cpp"))


def check(root):
    modules = modules_of(root)
    return modules, [*wrong_order(modules, root), *wrong_layers(root, modules), *wrong_doors(root)]


GOOD = {
    "engine/low/CMakeLists.txt": "pitwright_module(low SOURCES low.cpp)",
    "engine/low/low.h": "#pragma once\n#include <Eigen/Core>\n",
    "engine/high/CMakeLists.txt": "pitwright_module(high\n  SOURCES high.cpp\n  USES low  # remark\n  TEST_USES extra)",
    "engine/extra/CMakeLists.txt": "pitwright_module(extra SOURCES e.cpp)",
    "engine/extra/extra.h": "#pragma once\n",
    "engine/high/high.cpp": '#include "low/low.h"\n',
    "engine/high/high_test.cpp": '#include "extra/extra.h"\n#include <gtest/gtest.h>\n',
    "store/documents/CMakeLists.txt": "pitwright_module(documents SOURCES d.cpp USES high)",
    "store/documents/d.cpp": '#include <toml++/toml.h>\n#include "low/low.h"\n',
    "app/cli/CMakeLists.txt": "add_executable(tool main.cpp)\ntarget_link_libraries(tool PRIVATE documents)",
    "app/cli/main.cpp": '#include <CLI/CLI.hpp>\n#include "high/high.h"\n',
}
BAD = {  # one change to the good tree -> a word of the complaint it must cause
    "a module that is not used": ({"engine/high/high.cpp": '#include "extra/extra.h"\n'}, "may not see extra"),
    "an include that points up": ({"engine/low/low.h": '#include "high/high.h"\n'}, "may not see high"),
    "TEST_USES outside a test": ({"engine/high/high.h": '#include "extra/extra.h"\n'}, "may not see extra"),
    "a layer upside down": (
        {"engine/extra/CMakeLists.txt": "pitwright_module(extra USES documents)"}, "a higher layer"),
    "toml++ in a header": ({"store/documents/d.h": "#include <toml++/toml.h>\n"}, "door"),
    "JSON in the engine": ({"engine/low/low.cpp": "#include <nlohmann/json.hpp>\n"}, "door"),
    "CLI11 outside app/cli": ({"store/documents/d.cpp": "#include <CLI/CLI.hpp>\n"}, "door"),
    "Eigen outside the engine": ({"app/cli/main.cpp": "#include <Eigen/Core>\n"}, "door"),
    "cairo beside its door": ({"store/documents/d.cpp": "#include <cairo.h>\n"}, "door"),
    "time zones in the engine": ({"engine/low/low.cpp": "#include <date/tz.h>\n"}, "door"),
    "MQTT outside its room": ({"store/documents/d.cpp": "#include <mosquitto.h>\n"}, "door"),
    "threads outside parallel": ({"engine/low/low.cpp": "#include <tbb/parallel_for.h>\n"}, "door"),
}


def complaints(files):
    with tempfile.TemporaryDirectory() as scratch:
        root = pathlib.Path(scratch)
        for name, text in files.items():
            path = root / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return check(root)[1]


def self_test():
    wrong = [f"the good tree: {text}" for text in complaints(GOOD)]
    for name, (change, word) in BAD.items():
        found = complaints({**GOOD, **change})
        if not any(word in text for text in found):
            wrong.append(f"{name}: passed unnoticed; said {found}")
    print("\n".join(wrong) or f"self-test: {len(BAD)} planted faults found, the good tree passes")
    return 1 if wrong else 0


def main(arguments):
    if arguments == ["--self-test"]:
        return self_test()
    modules, wrong = check(ROOT)
    print("\n".join(wrong) or f"{len(modules)} modules, every include points down and through its door")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
