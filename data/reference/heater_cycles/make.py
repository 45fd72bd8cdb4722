"""Cycles of the on/off heater logs, counted at the relay and at the thermometer with SciPy.

Relay: the times at which the heater comes on (OFF to ON), which are what a period is.
Thermometer: peaks and troughs of the temperature by scipy.signal.find_peaks with a prominence of
0.3 degC (three steps of the log), in the stretch from the second relay edge on.
"""
import csv
import pathlib
import sys

import numpy as np
from scipy.signal import find_peaks

RAW = pathlib.Path(__file__).resolve().parents[2] / "mycoreactor_onoff_heater" / "raw"
LOGS = ["202602111639", "202603031557", "202603031656", "202603031806"]


def read(name):
    """Seconds, degC, 1 where the heater is on; rows without all three are left out."""
    rows = []
    for line in (RAW / f"{name}.csv").read_text(encoding="latin-1").splitlines()[1:]:
        cells = line.split(",")
        if len(cells) != 5 or cells[4] not in ("ON", "OFF") or not float(cells[2]) > -40.0:
            continue
        hours, minutes, seconds = (int(part) for part in cells[0].split(":"))
        rows.append((3600 * hours + 60 * minutes + seconds, float(cells[2]), float(cells[4] == "ON")))
    return np.array(rows).T


def row_of(name):
    seconds, celsius, is_on = read(name)
    edges = seconds[1:][(np.diff(is_on) > 0)]
    periods = np.diff(edges)
    steady = seconds >= edges[1]
    high, _ = find_peaks(celsius[steady], prominence=0.3)
    low, _ = find_peaks(-celsius[steady], prominence=0.3)
    swing = celsius[steady][high].mean() - celsius[steady][low].mean()
    return [name, len(seconds), len(edges), np.median(periods), periods.mean(), periods.std(ddof=1),
            periods.min(), periods.max(), is_on[steady].mean(), celsius[steady].mean(), len(high), swing]


def main(out):
    with open(out / "expected.csv", "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["log", "rows", "relay_edges", "median_period_s", "mean_period_s", "sd_period_s",
                        "shortest_s", "longest_s", "share_on", "mean_c", "peaks", "peak_to_trough_k"])
        for name in LOGS:
            head, *numbers = row_of(name)
            table.writerow([f"log {head}", *(f"{value:.10g}" for value in numbers)])


main(pathlib.Path(sys.argv[1]))
