"""Made-up block means in the shape the call uses, for make.R and make.py: blocks.csv and scales.csv.

Not part of the re-make: the two files are inputs. Settings follow one another as named; each row of the
design mixes in a rest of the setting before it, as a chamber does that answers with a lag. Numbers are
rounded on purpose, so that every program reads the same ones. Usage: blocks.py OUTDIR
"""
import csv
import math
import pathlib
import random
import sys

CASES = {"abba": ("ABBA", 4), "abccba": ("ABCCBA", 4), "uneven": ("ABACBC", 5), "once": ("ABC", 1)}
SCALES = [(0.0, 1.0, 0.0), (0.8, 0.5, 0.0), (0.0, 0.7, 1.3), (2.5, 0.1, 0.4), (0.05, 3.0, 6.0)]


def rows(case, order, per_stint, draw):
    out, previous, hour, stretch = [], None, 0.25, -1
    for setting in order:
        stretch += setting != previous
        for k in range(per_stint):
            hour += round(0.08 + 0.02 * draw.random(), 4)
            if case == "uneven" and draw.random() < 0.25:
                continue
            share = [0.0, 0.0, 0.0]
            rest = 0.0 if previous in (None, setting) else round(0.3 * math.exp(-k), 4)
            share["ABC".index(setting)] += round(1.0 - rest, 4)
            if rest:
                share["ABC".index(previous)] += rest
            noise = 1.0 if case != "uneven" else round(0.5 + 2.0 * draw.random(), 3)
            y = round(120.0 + 3.0 * "ABC".index(setting) + draw.gauss(0.0, 1.5), 3)
            out.append([case, f"{hour:.4f}", stretch, noise, *share, y])
        previous = setting
        hour += 0.2
    return out


def main(folder):
    draw = random.Random(20260502)
    with open(folder / "blocks.csv", "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["case", "hours", "stretch", "noise", "share_a", "share_b", "share_c", "y"])
        for case, (order, per_stint) in CASES.items():
            table.writerows(rows(case, order, per_stint, draw))
    with open(folder / "scales.csv", "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["drift", "noise", "resetting"])
        table.writerows(SCALES)


main(pathlib.Path(sys.argv[1]))
