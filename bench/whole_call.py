#!/usr/bin/python3
"""bench/whole_call.py: `pitwright call` as a whole process on made-up logs: wall seconds and peak memory.

    bench/whole_call.py [--pitwright build/release/app/cli/pitwright] [--runs 5]

Two burns, written to a temporary folder: 3 h at 1 Hz on 8 channels, and 24 h at 1 Hz on 64. The goals
of the project are 100 ms, and 2 s with 500 MB. Reading alone is measured by build/bench/bench/reading.
"""

import argparse
import math
import os
import pathlib
import random
import statistics
import subprocess
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent


def write_burn(folder, hours, channels):
    """A wide log with a swing, a slow wander and noise, and four stints A B B A."""
    folder.mkdir(parents=True)
    noise = random.Random(1)
    rows = hours * 3600
    with open(folder / "log.csv", "w", encoding="ascii") as log:
        log.write("time," + ",".join(f"T{i + 1}" for i in range(channels)) + "\n")
        for k in range(rows):
            moved = 10 if 4 * k // rows in (1, 2) else 0
            base = 250 + 9 * math.sin(2 * math.pi * k / 270) + 3 * math.sin(k / 9000)
            cells = (f"{base + i % 8 + moved * (i % 8 - 4) / 8 + noise.gauss(0, 0.5):.1f}"
                     for i in range(channels))
            clock = f"2026-05-{2 + k // 86400:02d}T{k // 3600 % 24:02d}:{k // 60 % 60:02d}:{k % 60:02d}"
            log.write(clock + "," + ",".join(cells) + "\n")
    lines = ['title = "speed"', 'unit = "F"', 'logs = ["log.csv"]', 'timezone = "UTC"']
    for i in range(channels):
        lines += ["[[probe]]", f'channel = "T{i + 1}"', f'spot = "s{i + 1}"',
                  f'x = "{i % 8 * 5} in"', f'y = "{i // 8 * 5} in"']
    for k, setting in enumerate("ABBA"):
        lines += ["[[stint]]", f'setting = "{setting}"', f'from = "{hours * 15 * k} min"']
    (folder / "burn.toml").write_text("\n".join(lines) + "\n", encoding="ascii")


def run_once(command):
    """Wall seconds and peak resident megabytes of one finished process."""
    start = time.monotonic()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    if status != 0:
        raise SystemExit(f"{command} ended with status {status}")
    return time.monotonic() - start, usage.ru_maxrss / 1024


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--pitwright", default=ROOT / "build/release/app/cli/pitwright")
    parser.add_argument("--runs", type=int, default=5)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        for hours, channels in ((3, 8), (24, 64)):
            burn = pathlib.Path(folder) / f"{hours}h-{channels}"
            write_burn(burn, hours, channels)
            command = [options.pitwright, "call", burn]
            run_once(command)
            runs = [run_once(command) for _ in range(options.runs)]
            wall = statistics.median(seconds for seconds, _ in runs)
            peak = max(megabytes for _, megabytes in runs)
            print(f"{hours:2d} h x 1 Hz x {channels:2d} channels: median {1000 * wall:5.0f} ms, peak {peak:4.0f} MB")


main()
