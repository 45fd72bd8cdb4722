#!/usr/bin/python3
"""Prints width_ranges.h from the Unicode tables of this Python: ./width_ranges.py > width_ranges.h

Merged ranges; unassigned code points between two ranges of a kind join them.
Source: Unicode Character Database (EastAsianWidth.txt, UnicodeData.txt), as shipped in Python.
"""
import unicodedata

NO_WIDTH = ("Mn", "Me", "Cf")


def ranges(belongs):
    found, start, last = [], None, None
    for code in range(0x110000):
        char = chr(code)
        if belongs(char):
            start, last = (code if start is None else start), code
        elif start is not None and unicodedata.category(char) != "Cn":
            found.append((start, last))
            start = None
    return found if start is None else found + [(start, last)]


def is_wide(char):
    return (unicodedata.east_asian_width(char) in "WF"
            and unicodedata.category(char) not in NO_WIDTH + ("Cn",))


def is_nothing(char):
    return unicodedata.category(char) in NO_WIDTH and char != "\u00ad"


def table(name, rows):
    cells = ", ".join("{0x%X, 0x%X}" % row for row in rows)
    return "inline constexpr CodeRange %s[] = {%s};\n" % (name, cells)


print("#pragma once\n")
print("// Made by width_ranges.py from Unicode %s; do not edit.\n" % unicodedata.unidata_version)
print("namespace pitwright::report {\n")
print("struct CodeRange {\n  char32_t first, last;\n};\n")
print(table("wide_ranges", ranges(is_wide)))
print(table("zero_ranges", ranges(is_nothing)))
print("}  // namespace pitwright::report")
