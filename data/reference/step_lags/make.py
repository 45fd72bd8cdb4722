"""First-order answers to known steps, one lag a log, fitted with scipy.optimize.least_squares.

    y(t) = a + sum over steps k of d_k s(t - t_k - dead),   s(u) = 1 - exp(-u / lag) for u > 0, else 0

a and every d_k by linear least squares inside, lag and dead time outside. `lag_s` is the fit with the
dead time held at 0 (what a model without one makes of the log; 3000 is the end of the search: no
answer), the columns "with_dead" are the full fit; `change_k` is the d_k of largest size, `rms_k` the root mean square residual. Units: s and K (degF are
brought to K). Steps: data/tclab_step_tests/PROVENANCE.md, data/uliege_pipe_steps/PROVENANCE.md.
"""
import csv
import pathlib
import sys

import numpy as np
from scipy.optimize import least_squares

DATA = pathlib.Path(__file__).resolve().parents[2]
TCLAB, PIPE = DATA / "tclab_step_tests", DATA / "uliege_pipe_steps" / "csv"

# log, folder, column of the temperature, K per unit, steps [s], first and last moment used [s]
LOGS = [
    ("siso_step_K_1s_noheader", TCLAB, 2, 1.0, [11.0, 201.8, 402.5], 0.0, 571.0),
    ("siso_voltage_degF_1s", TCLAB, 2, 5.0 / 9.0, [63.0, 168.0, 505.0], 0.0, 851.0),
    ("mimo_steps_setpoints_1s", TCLAB, 4, 1.0, [10.0, 100.0, 200.2, 300.3, 400.4, 500.7], 0.0, 600.0),
    *((f"PipeDataULg{name}", PIPE, column, 1.0, [0.0], 0.0, 400.0)
      for name in ("151204_1", "151204_2", "160118_1") for column in (2, 3)),
    *(("PipeDataULg151204_4", PIPE, column, 1.0, [667.6], 300.0, 1000.0) for column in (2, 3, 4, 5)),
]


def read(folder, name):
    rows = []
    for line in (folder / f"{name}.csv").read_text(encoding="utf-8").splitlines():
        try:
            rows.append([float(cell) for cell in line.split(",")])
        except ValueError:
            continue  # the header
    return np.array(rows)


def shapes(t, steps, lag, dead):
    late = np.maximum(t[:, None] - np.array(steps) - dead, 0.0)
    return np.column_stack([np.ones_like(t), 1.0 - np.exp(-late / lag)])


def fit(t, y, steps, has_dead):
    """(lag, dead, largest change, rms)"""
    def linear(p):
        x = shapes(t, steps, p[0], p[1] if has_dead else 0.0)
        beta = np.linalg.lstsq(x, y, rcond=None)[0]
        return beta, y - x @ beta
    n = 2 if has_dead else 1
    starts = [(lag, dead) for lag in (20.0, 80.0, 200.0) for dead in (2.0, 15.0, 60.0)]
    found = [least_squares(lambda p: linear(p)[1], start[:n], xtol=1e-13, ftol=1e-13, gtol=1e-13, x_scale=10.0,
                           bounds=([1.0, 0.0][:n], [3000.0, 200.0][:n])) for start in starts]
    best = min(found, key=lambda one: one.cost)
    beta, rest = linear(best.x)
    largest = max(beta[1:], key=abs)
    return best.x[0], best.x[1] if has_dead else 0.0, largest, np.sqrt(np.mean(rest**2))


def row_of(name, folder, column, kelvins, steps, begin, end):
    table = read(folder, name)
    used = (table[:, 0] >= begin) & (table[:, 0] < end)
    t, y = table[used, 0], kelvins * table[used, column]
    lag, _, change, rms = fit(t, y, steps, False)
    dead_lag, dead, dead_change, dead_rms = fit(t, y, steps, True)
    return [len(t), len(steps), lag, change, rms, dead_lag, dead, dead_change, dead_rms]


def main(out):
    with open(out / "expected.csv", "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["log", "column", "rows", "steps", "lag_s", "change_k", "rms_k", "lag_with_dead_s", "dead_s",
                        "change_with_dead_k", "rms_with_dead_k"])
        for log in LOGS:
            table.writerow([f"log {log[0]}", f"column {log[2]}", *(f"{value:.8g}" for value in row_of(*log))])


main(pathlib.Path(sys.argv[1]))
