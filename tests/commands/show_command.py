#!/usr/bin/python3
"""What a person meets who asks for a show sheet: one file that needs nothing else, tells no place and no name unless
asked, and lets a reader leave things out. With Chromium: the choice works, also sandboxed, and it prints on one page.

    tests/commands/show_command.py PITWRIGHT
"""

import functools
import html.parser
import http.server
import json
import pathlib
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import threading

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
PITWRIGHT = sys.argv[1]
HOPPER = ROOT / "examples" / "hopper-tray"
BARREL = ROOT / "examples" / "long-barrel"
VOID = {"meta", "input", "link", "br", "hr", "img"}
failures = []


def expect(holds, what):
    if not holds:
        failures.append(what)


def run(*words):
    return subprocess.run([PITWRIGHT, "show", *map(str, words)], capture_output=True, text=True, check=False)


class Strict(html.parser.HTMLParser):
    """Complains of what a browser would mend silently."""

    def __init__(self):
        super().__init__()
        self.open, self.ids, self.labels, self.found, self.wrong = [], set(), [], [], []
        self.data = {}

    def handle_starttag(self, tag, attrs):
        self.found.append(tag)
        attributes = dict(attrs)
        if len(attributes) != len(attrs):
            self.wrong.append(f"<{tag}> has an attribute twice")
        if "id" in attributes:
            if attributes["id"] in self.ids:
                self.wrong.append(f"id {attributes['id']} twice")
            self.ids.add(attributes["id"])
        self.labels += attributes.get("aria-labelledby", "").split()
        for name in ("src", "href", "xlink:href", "action", "srcset", "data"):
            value = attributes.get(name) or ""
            if value and not value.startswith("#"):
                self.wrong.append(f"<{tag} {name}={value[:40]}> is a resource")
        for name, value in attrs:
            if name.startswith("on"):
                self.wrong.append(f"<{tag}> has a handler {name}")
            if name != "xmlns" and re.search(r"https?:|//", value or ""):
                self.wrong.append(f"<{tag} {name}> points elsewhere")
        if tag not in VOID:
            self.open.append((tag, attributes.get("id")))

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        if not self.open or self.open[-1][0] != tag:
            self.wrong.append(f"</{tag}> closes {self.open[-1:]}")
        else:
            self.open.pop()

    def handle_data(self, data):
        if self.open and self.open[-1][1]:
            self.data[self.open[-1][1]] = self.data.get(self.open[-1][1], "") + data

    def check(self, text):
        self.feed(text)
        self.close()
        self.wrong += [f"<{tag}> was never closed" for tag, _ in self.open]
        self.wrong += [f"nothing has the id {label}" for label in self.labels if label not in self.ids]
        for tag in ("header", "main", "footer", "h1", "fieldset"):
            if self.found.count(tag) != 1:
                self.wrong.append(f"{self.found.count(tag)} <{tag}>")
        if re.search(r"url\((?!#)|@import|fetch\(|XMLHttpRequest|WebSocket|innerHTML", text):
            self.wrong.append("the page reaches for something, or writes markup")
        return self.wrong


def check_the_page(page, spots, stints):
    strict = Strict()
    failures.extend(strict.check(page))
    calls = json.loads(strict.data["calls"])
    names = [removal["name"] for removal in calls["removals"]]
    expect(names == spots + stints, f"removals {names}")
    for removal in calls["removals"]:
        expect(len(removal["cells"]) == len(calls["whole"]["cells"]), f"{removal['name']}: cells")
        expect(removal["sentence"], f"{removal['name']} says nothing")
        expect(removal["cells"] != calls["whole"]["cells"], f"leaving out {removal['name']} changes no number")
    rows = strict.data["readings"].strip().splitlines()
    expect(rows[0] == "time," + ",".join(f"{name} °F" for name in [*spots, "dial"]), f"readings begin {rows[0]}")
    return calls, rows


def check_readings(rows, log):
    """The file holds what the logger wrote."""
    ours = [row.split(",") for row in rows[1:]]
    theirs = [row.split(",") for row in log.read_text(encoding="utf-8").strip().splitlines()[1:]]
    expect(len(ours) == len(theirs), f"{len(ours)} rows of {len(theirs)}")
    for one, other in zip(ours, theirs):
        same = one[0] == other[0] and all(abs(float(a) - float(b)) < 0.006 for a, b in zip(one[1:], other[1:]))
        if not same:
            failures.append(f"row {one} is not {other}")
            return


def png_size(file):
    head = file.read_bytes()[:24]
    return struct.unpack(">II", head[16:24])


def check_privacy(folder):
    secrets = ["Tin hopper", "bakery", "Chicago"]
    for words, told in (([], []), (["--with-place"], secrets)):
        page = folder / "privacy.html"
        picture = folder / "privacy.svg"
        run(HOPPER, "-o", page, "--share", picture, *words)
        text = page.read_text(encoding="utf-8") + picture.read_text(encoding="utf-8")
        for secret in secrets:
            expect((secret in text) == (secret in told), f"{secret} with {words}")


def expect_error(said, *words):
    done = run(*words)
    expect(done.returncode == 2 or "cannot write" in said, f"{words}: status {done.returncode}")
    expect(said in done.stderr, f"{words}: '{said}' not in '{done.stderr}'")
    expect(done.stdout == "", f"{words}: an error printed on standard output")


class Sandboxed(http.server.SimpleHTTPRequestHandler):
    """Serves files as the server does that shows sheets to strangers."""

    def end_headers(self):
        self.send_header("Content-Security-Policy", "sandbox allow-scripts; script-src 'unsafe-inline'")
        super().end_headers()

    def log_message(self, *_):
        pass


def chromium(browser, profile, *words):
    return subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={profile}",
                           *words], capture_output=True, text=True, timeout=60, check=False)


def check_the_choice(dom, removal, where):
    shown = Strict()
    shown.feed(dom)
    expect(f'data-without="{removal["name"]}"' in dom, f"{where}: the script did not run")
    expect(removal["sentence"].split(".")[0] in dom, f"{where}: the sentence did not change")
    cells = re.findall(r'<td data-cell="\d+"[^>]*>\s*<span[^>]*>([^<]*)</span>\s*<span[^>]*>([^<]*)</span>', dom)
    flat = [text for cell in cells for text in cell]
    expect(flat == removal["cells"], f"{where}: numbers {flat[:6]} are not {removal['cells'][:6]}")


def check_in_browser(folder, calls):
    browser = shutil.which("chromium") or shutil.which("chromium-browser")
    if not browser:
        print("SKIPPED: no chromium, so neither the choice nor the printed page was tried")
        return
    index = next(k for k, removal in enumerate(calls["removals"]) if removal["moved"])
    removal = calls["removals"][index]
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Sandboxed, directory=folder))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{server.server_address[1]}/hopper.html#without-{index}"
    check_the_choice(chromium(browser, folder / "a", "--dump-dom", address).stdout, removal, "sandboxed")
    server.shutdown()
    for name in ("hopper", "barrel"):
        paper = folder / f"{name}.pdf"
        chromium(browser, folder / "b", "--no-pdf-header-footer", f"--print-to-pdf={paper}",
                 (folder / f"{name}.html").as_uri())
        pages = len(re.findall(rb"/Type\s*/Page\b", paper.read_bytes())) if paper.exists() else 0
        expect(pages == 1, f"{name} prints on {pages} pages of letter paper")


def main():
    with tempfile.TemporaryDirectory() as made:
        folder = pathlib.Path(made)
        square, wide = folder / "square.png", folder / "wide.png"
        done = run(HOPPER, "-o", folder / "hopper.html", "--share", square, "--share-wide", wide, "--cooker",
                   "pellet cooker")
        expect(done.returncode == 0, f"hopper: {done.stderr}")
        page = (folder / "hopper.html").read_text(encoding="utf-8")
        stints = ["stint 1 (A)", "stint 2 (B)", "stint 3 (B)", "stint 4 (A)"]
        calls, rows = check_the_page(page, ["L1", "L2", "R1", "R2", "UL", "UR"], stints)
        check_readings(rows, HOPPER / "grate.csv")
        expect("pellet cooker" in page, "the kind of cooker is not told")
        expect(len(page.encode()) < 1_500_000, f"{len(page.encode())} bytes")
        expect(png_size(square) == (1200, 1200), f"square {png_size(square)}")
        expect(png_size(wide) == (1600, 900), f"wide {png_size(wide)}")
        done = run(BARREL, "-o", folder / "barrel.html")
        expect(done.returncode == 0, f"barrel: {done.stderr}")
        failures.extend(Strict().check((folder / "barrel.html").read_text(encoding="utf-8")))
        check_privacy(folder)
        expect_error("say where the sheet goes", HOPPER)
        expect_error("--unit takes F or C", HOPPER, "-o", folder / "x.html", "--unit", "K")
        expect_error("must end in .svg, .png or .pdf", HOPPER, "--share", folder / "x.gif")
        expect_error("cannot write", HOPPER, "-o", folder / "missing" / "x.html")
        check_in_browser(folder, calls)
    print("\n".join(failures) or "show sheets hold together, tell what they may and print on one page")
    return 1 if failures else 0


sys.exit(main())
