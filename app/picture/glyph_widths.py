#!/usr/bin/python3
"""Prints glyph_widths.h: advance widths of DejaVu Sans, regular and bold, in 1/1000 em.

    app/picture/glyph_widths.py [FOLDER OF THE FONTS] > app/picture/glyph_widths.h

Source: the `cmap`, `hmtx` and `head` tables of DejaVu Sans 2.37 (Debian package fonts-dejavu-core).
"""
import pathlib
import struct
import sys

OTHERS = "°±·×–—“”‘’…→←↑↓−≤≥½"


def tables(data):
    count = struct.unpack(">H", data[4:6])[0]
    for entry in range(count):
        tag, _, offset, length = struct.unpack(">4sLLL", data[12 + 16 * entry:28 + 16 * entry])
        yield tag.decode(), data[offset:offset + length]


def glyphs(cmap):
    """Code point to glyph, from the subtable of format 4."""
    for entry in range(struct.unpack(">H", cmap[2:4])[0]):
        _, _, offset = struct.unpack(">HHL", cmap[4 + 8 * entry:12 + 8 * entry])
        sub = cmap[offset:]
        if struct.unpack(">H", sub[:2])[0] != 4:
            continue
        half = struct.unpack(">H", sub[6:8])[0]
        def words(at, kind="H"):
            return struct.unpack(f">{half // 2}{kind}", sub[at:at + half])
        ends, starts = words(14), words(16 + half)
        deltas, ranges = words(16 + 2 * half, "h"), words(16 + 3 * half)
        found = {}
        for i, (first, last) in enumerate(zip(starts, ends)):
            for code in range(first, min(last, 0xFFFE) + 1):
                if ranges[i] == 0:
                    found[code] = (code + deltas[i]) & 0xFFFF
                    continue
                at = 16 + 3 * half + 2 * i + ranges[i] + 2 * (code - first)
                glyph = struct.unpack(">H", sub[at:at + 2])[0]
                found[code] = (glyph + deltas[i]) & 0xFFFF if glyph else 0
        return found
    raise SystemExit("no character map of format 4")


def widths(path):
    font = dict(tables(path.read_bytes()))
    em = struct.unpack(">H", font["head"][18:20])[0]
    metrics = struct.unpack(">H", font["hhea"][34:36])[0]
    def advance(glyph):
        at = 4 * min(glyph, metrics - 1)
        return round(1000 * struct.unpack(">H", font["hmtx"][at:at + 2])[0] / em)
    return {code: advance(glyph) for code, glyph in glyphs(font["cmap"]).items()}


def block(name, numbers):
    lines, line = [], "   "
    for number in numbers:
        if len(line) + len(f" {number},") > 99:
            lines.append(line)
            line = "   "
        line += f" {number},"
    return f"inline constexpr std::array<int, {len(numbers)}> {name} = {{\n" + "\n".join([*lines, line]) + "};\n"


def main():
    folder = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else "/usr/share/fonts/truetype/dejavu")
    regular, bold = widths(folder / "DejaVuSans.ttf"), widths(folder / "DejaVuSans-Bold.ttf")
    latin = [code for code in [*range(0x20, 0x7F), *range(0xA0, 0x180)]]
    print("#pragma once\n\n#include <array>\n\n// Made by glyph_widths.py from the tables of DejaVu Sans 2.37; not edited by hand.\n")
    print("// clang-format off\nnamespace pitwright::picture::glyphs {\n")
    print("/// Advance widths [1/1000 em] of U+0020..U+007E and U+00A0..U+017F.")
    print(block("regular", [regular[code] for code in latin]))
    print(block("bold", [bold[code] for code in latin]))
    others = sorted(ord(one) for one in OTHERS if ord(one) >= 0x180)
    print("/// Other signs that our own words use: code points, then their widths.")
    print(block("others", others))
    print(block("others_regular", [regular[code] for code in others]))
    print(block("others_bold", [bold[code] for code in others]))
    print("}  // namespace pitwright::picture::glyphs\n// clang-format on")


main()
