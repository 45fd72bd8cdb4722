#!/usr/bin/python3
"""Writes examples/overnight: an invented night with a power cut, for the book and for practice.

    tools/make_overnight.py            writes the directory
    tools/make_overnight.py --check    compares instead; exit status 1 where a file differs

A hopper-fed pit at 250 F, 34 F outside. The power is out from 01:12 to 05:02; the thermometers run on a battery, the
pit's own display does not. Two pieces of pork, their inside drawn as smooth curves through the moments below, so that
what a record must say of them is known: P falls from 163 F through 140 at 02:51 and 135 at 03:17 to 118, and is back
through 135 at 06:22 and 140 at 06:34; Q was at 128 when the power went, and takes 8 h 40 min from 40 to 140 F.
No such pit, no such night.
"""
import argparse
import datetime
import math
import pathlib
import random
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
PLACE = ROOT / "examples" / "overnight"
START = datetime.datetime(2026, 11, 14, 16, 30)
END = datetime.datetime(2026, 11, 15, 12, 30)
CUT, BACK = 8 * 60 + 42, 12 * 60 + 32  # 01:12 and 05:02, minutes after START

# Clock and degF at the coldest spot of each piece.
CURVES = {
    "P": [("17:00", 38), ("17:12", 40), ("17:55", 50), ("20:50", 120), ("21:20", 130), ("21:38", 135), ("21:58", 140),
          ("22:22", 145), ("22:55", 150), ("23:40", 156), ("01:12", 163), ("02:51", 140), ("03:17", 135),
          ("05:02", 118), ("06:22", 135), ("06:34", 140), ("07:20", 154), ("09:00", 168), ("10:30", 186),
          ("11:40", 198), ("11:50", 199), ("12:30", 191)],
    "Q": [("22:30", 38), ("22:40", 40), ("23:00", 56), ("00:10", 102), ("01:12", 128), ("01:30", 127), ("03:00", 112),
          ("05:02", 92), ("06:10", 116), ("07:20", 140), ("08:00", 153), ("09:30", 168), ("10:40", 187),
          ("11:20", 196), ("11:30", 197), ("12:30", 186)],
}


def minute_of(clock):
    hour, minute = map(int, clock.split(":"))
    minutes = hour * 60 + minute - (START.hour * 60 + START.minute)
    return minutes if minutes >= 0 else minutes + 24 * 60


def slopes(x, y):
    """Slopes of a piecewise cubic that neither over- nor undershoots its points.

    Source: Fritsch and Carlson, SIAM Journal on Numerical Analysis 17 (1980); harmonic means of the chords, from memory.
    """
    chord = [(b - a) / (q - p) for a, b, p, q in zip(y, y[1:], x, x[1:])]
    inner = [2 * a * b / (a + b) if a * b > 0 else 0.0 for a, b in zip(chord, chord[1:])]
    return [chord[0], *inner, chord[-1]]


def curve(points):
    x, y = [minute_of(clock) for clock, _ in points], [float(degrees) for _, degrees in points]
    slope = slopes(x, y)

    def at(minute):
        if minute < x[0] or minute > x[-1]:
            return None
        i = max(j for j in range(len(x) - 1) if x[j] <= minute)
        h, t = x[i + 1] - x[i], (minute - x[i]) / (x[i + 1] - x[i])
        return (y[i] * (1 + 2 * t) * (1 - t) ** 2 + slope[i] * h * t * (1 - t) ** 2
                + y[i + 1] * t * t * (3 - 2 * t) + slope[i + 1] * h * t * t * (t - 1))
    return at


def air(minute):
    """Chamber air [degF]: held by the controller, falling without power, coming back after it."""
    outside, held = 34.0, 250.0 + 9.0 * math.sin(2 * math.pi * minute / 9.0)
    if minute <= CUT:
        return held - 190.0 * math.exp(-minute / 12.0)
    fallen = outside + (250.0 - outside) * math.exp(-(min(minute, BACK) - CUT) / 40.0)
    if minute <= BACK:
        return fallen
    return held - (250.0 - fallen) * math.exp(-(minute - BACK) / 15.0)


def cell(value):
    return "" if value is None else f"{value:.1f}"


def log_text():
    noise = random.Random(20261114)
    pieces = {name: curve(points) for name, points in CURVES.items()}
    lines = ["time,left,right,pit,outside,auger,P,Q"]
    for minute in range(int((END - START).total_seconds()) // 60 + 1):
        stamp = START + datetime.timedelta(minutes=minute)
        level, powered = air(minute), not CUT < minute <= BACK
        auger = (22.0 + noise.uniform(-4, 4)) if powered else 0.0
        cells = [cell(level + 6.0 + noise.gauss(0, 0.4)), cell(level - 5.0 + noise.gauss(0, 0.4)),
                 cell(level + 2.0 if powered else None), cell(34.0 + noise.gauss(0, 0.3)), cell(auger),
                 cell(pieces["P"](minute)), cell(pieces["Q"](minute))]
        lines.append(f"{stamp:%Y-%m-%d %H:%M:%S}," + ",".join(cells))
    return "\n".join(lines) + "\n"


BURN = """# Invented: no such pit, no such night. Made by tools/make_overnight.py.
title = "Overnight, and the power went"
unit = "F"
logs = ["night.csv"]
timezone = "America/Chicago"

[pit]
name = "Tin hopper in the yard"
width = "75 cm"
depth = "45 cm"
height = "45 cm"
set_point = "250 F"
[[pit.grate]]
name = "main"
height = "20 cm"

[[probe]]
channel = "left"
spot = "left"
grate = "main"
x = "15 cm"
y = "22 cm"

[[probe]]
channel = "right"
spot = "right"
grate = "main"
x = "60 cm"
y = "22 cm"

[[probe]]
channel = "pit"
role = "dial"

[[probe]]
channel = "outside"
role = "outside"

[[probe]]
channel = "auger"
role = "drive"

[[probe]]
channel = "P"
role = "food"
piece = "P"
uncertainty = "1 F"
checked = 2026-11-08

[[probe]]
channel = "Q"
role = "food"
piece = "Q"
uncertainty = "1 F"
checked = 2026-11-08

[[stint]]
setting = "250"
from = 2026-11-14T17:30:00

[[event]]
at = 2026-11-14T16:30:00
what = "fuel"
text = "18 lb in the hopper; about 1.6 lb an hour"

[[event]]
at = 2026-11-15T01:12:00
until = 2026-11-15T05:02:00
what = "note"
text = "power cut"

[[event]]
at = 2026-11-15T05:06:00
what = "fuel"
text = "hopper filled up"

[[piece]]
name = "P"
cut = "pork shoulder"
weight = "8.6 lb"
intact = true
on = 2026-11-14T17:00:00
off = 2026-11-15T11:40:00
rule = "meat 6.5 log, come-up 6 h, hold 140 F"

[[piece]]
name = "Q"
cut = "pork shoulder, boned and rolled"
weight = "4.1 lb"
intact = false
on = 2026-11-14T22:30:00
off = 2026-11-15T11:20:00
rule = "meat 6.5 log, 4 h"
"""


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true")
    args = parser.parse_args()
    files = {"burn.toml": BURN, "night.csv": log_text()}
    if args.check:
        different = [name for name, text in files.items()
                     if not (PLACE / name).is_file() or (PLACE / name).read_text(encoding="utf-8") != text]
        for name in different:
            print(f"examples/overnight/{name} is not what the script makes", file=sys.stderr)
        return 1 if different else 0
    PLACE.mkdir(parents=True, exist_ok=True)
    for name, text in files.items():
        (PLACE / name).write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
