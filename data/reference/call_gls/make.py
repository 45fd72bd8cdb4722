"""Generalised least squares of blocks.csv at the scales of scales.csv, by SciPy.

    y = X beta + u[stretch] + w + e
    cov(y) = g^2 diag(noise) + s^2 Z Z' + q^2 C W C,   W[i,j] = min(t_i, t_j) - t_0

with q = drift, g = noise, s = resetting; C takes off the mean over the blocks. expected.csv: estimates
and standard errors of the settings and of the last less the first, and the restricted log likelihood

    -1/2 (ln|V| + ln|X' V^-1 X| + r' V^-1 r)

without its constant. Usage: make.py OUTDIR
"""
import csv
import math
import pathlib
import sys

import numpy as np
from scipy.linalg import cho_factor, cho_solve

HERE = pathlib.Path(__file__).resolve().parent


def read(name):
    with open(HERE / name, encoding="utf-8") as file:
        return list(csv.DictReader(file))


def fit(blocks, q, g, s):
    t = np.array([float(b["hours"]) for b in blocks])
    stretch = np.array([int(b["stretch"]) for b in blocks])
    noise = np.array([float(b["noise"]) for b in blocks])
    X = np.array([[float(b[f"share_{k}"]) for k in "abc"] for b in blocks])
    X = X[:, X.sum(axis=0) > 0]
    y = np.array([float(b["y"]) for b in blocks])
    m = len(y)
    W = np.minimum.outer(t, t) - t.min()
    C = np.eye(m) - np.full((m, m), 1.0 / m)
    V = g * g * np.diag(noise) + s * s * (stretch[:, None] == stretch) + q * q * C @ W @ C
    factor = cho_factor(V, lower=True)
    XtVi = cho_solve(factor, X).T
    information = XtVi @ X
    covariance = np.linalg.inv(information)
    beta = covariance @ (XtVi @ y)
    r = y - X @ beta
    log_det = 2.0 * np.log(np.diag(factor[0])).sum()
    reml = -0.5 * (log_det + np.linalg.slogdet(information)[1] + r @ cho_solve(factor, r))
    return beta, covariance, reml


def lines(case, blocks, index, scale):
    q, g, s = (float(scale[k]) for k in ("drift", "noise", "resetting"))
    beta, covariance, reml = fit(blocks, q, g, s)
    for k, value in enumerate(beta):
        yield [case, index, "abc"[k], value, math.sqrt(covariance[k, k])]
    c = np.zeros(len(beta))
    c[0], c[-1] = -1.0, 1.0
    yield [case, index, "change", c @ beta, math.sqrt(c @ covariance @ c)]
    yield [case, index, "reml", reml, 0.0]


def main(folder):
    blocks, scales = read("blocks.csv"), read("scales.csv")
    with open(folder / "expected.csv", "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["case", "scale", "what", "value", "sd"])
        for case in dict.fromkeys(b["case"] for b in blocks):
            mine = [b for b in blocks if b["case"] == case]
            for index, scale in enumerate(scales):
                for case_, i, what, value, sd in lines(case, mine, index, scale):
                    table.writerow([case_, i, what, f"{value:.12g}", f"{sd:.12g}"])


main(pathlib.Path(sys.argv[1]))
