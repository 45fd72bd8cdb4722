#!/usr/bin/python3
"""One whole cook by SciPy: a drying, juice-losing brick with another air below and above.

The equations of docs/methods/food.md written anew for temperatures (ours keeps heat), arrays in place of
links, and solve_ivp (BDF) in place of our time steps. Makes expected.csv: core, loss and mean surface.
bench/food/scipy_case.py times the same text.
"""
import pathlib
import sys

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import lil_matrix

# Choi & Okos (1986): a, b, c of conductivity, density, heat capacity [kJ].
PROTEIN = ((0.17881, 1.1958e-3, -2.7178e-6), (1329.9, -0.51840, 0), (2.0082, 1.2089e-3, -1.3129e-6))
FAT = ((0.18071, -2.7604e-4, -1.7749e-7), (925.59, -0.41757, 0), (1.9842, 1.4733e-3, -4.8008e-6))
ASH = ((0.32962, 1.4011e-3, -2.9069e-6), (2423.8, -0.28063, 0), (1.0926, 1.8896e-3, -3.6817e-6))
WATER = ((0.57109, 1.7625e-3, -6.7036e-6), (997.18, 3.1439e-3, -3.7574e-3), (4.1762, -9.0864e-5, 5.4731e-6))
# USDA SR26, NDB 10020: pork loin, raw, per 100 g.
LOIN = {"water": 66.92, "protein": 19.74, "fat": 12.58, "ash": 0.96}
PARTS = {"water": WATER, "protein": PROTEIN, "fat": FAT, "ash": ASH}


def curve(p, t):
    return p[0] + p[1] * t + p[2] * t * t


class Meat:
    """Conductivity by Levy's rule, fat in the rest; parabolas through 0, 60, 120 degC."""

    def __init__(self):
        total = sum(LOIN.values())
        self.x = {name: value / total for name, value in LOIN.items()}
        at = np.array([0.0, 60.0, 120.0])
        self.k = np.polyfit(at, [self.conductivity(t) for t in at], 2)[::-1]
        self.dry = np.polyfit(at, [sum(self.x[n] * 1e3 * curve(PARTS[n][2], t) for n in self.x if n != "water")
                                   for t in at], 2)[::-1]
        self.wet = 1e3 * np.array(WATER[2])
        self.density = 1 / sum(self.x[n] / curve(PARTS[n][1], 5.0) for n in self.x)

    def conductivity(self, t):
        rest = [n for n in self.x if n != "fat"]
        volume = {n: self.x[n] / curve(PARTS[n][1], t) for n in self.x}
        rest_volume, rest_mass = sum(volume[n] for n in rest), sum(self.x[n] for n in rest)
        k1 = sum(volume[n] * curve(PARTS[n][0], t) for n in rest) / rest_volume
        k2, rho1, rho2 = curve(FAT[0], t), rest_mass / rest_volume, curve(FAT[1], t)
        r = k1 / k2
        sigma = (r - 1) ** 2 / ((r + 1) ** 2 + r / 2)
        share = 1 / (1 + (1 / rest_mass - 1) * rho1 / rho2)
        a = 2 / sigma - 1 + 2 * share
        f = 0.5 * (a - np.sqrt(a * a - 8 * share / sigma))
        return k2 * ((2 + r) + 2 * (r - 1) * f) / ((2 + r) - (r - 1) * f)


def saturated_density(t):
    """IAPWS-IF97, region 4, over an ideal gas."""
    n = (0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
         0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3)
    kelvin = t + 273.15
    th = kelvin + n[8] / (kelvin - n[9])
    a, b, c = th * th + n[0] * th + n[1], (n[2] * th + n[3]) * th + n[4], (n[5] * th + n[6]) * th + n[7]
    return 1e6 * (2 * c / (-b + np.sqrt(b * b - 4 * a * c))) ** 4 / (461.52 * kelvin)


class Brick:
    """x, y, z in array order [x, y, z]; six sides in the order left, right, front, back, bottom, top."""

    def __init__(self, cells=(6, 5, 6), size=(0.20, 0.10, 0.07)):
        self.cells, self.size = cells, size
        self.d = np.array(size) / np.array(cells)
        self.meat = Meat()
        self.mass = self.meat.density * self.d.prod()
        air = np.array([110.0, 110, 110, 110, 95, 120])
        seen = air.copy()
        seen[4] = 150
        h = np.array([10.0, 10, 10, 10, 10, 16])
        pv = 101325 * 0.012 / (0.621945 + 0.012)
        self.air, self.seen4, self.h, self.glow = air, (seen + 273.15) ** 4, h, 0.9 * 5.670374e-8
        self.vapor = pv / (461.52 * (air + 273.15))
        self.open = 1007.0 * 0.85 ** (2 / 3) / h
        x = self.meat.x["water"]
        self.dried = self.meat.density * x * self.held(80.0) / 1.0
        self.lag, self.film, self.drip_lag, self.diffusivity, self.activity = 3600.0, 0.1, 60.0, 5e-7, 0.98
        self.index = np.arange(np.prod(cells)).reshape(cells)
        take = [(0, 0), (0, -1), (1, 0), (1, -1), (2, 0), (2, -1)]
        self.sides = [np.take(self.index, where, axis=axis).ravel() for axis, where in take]
        self.face_cell = np.concatenate(self.sides)
        self.face_side = np.repeat(np.arange(6), [len(s) for s in self.sides])
        axis = self.face_side // 2
        self.depth, self.area = self.d[axis] / 2, (self.d.prod() / self.d)[axis]
        self.route = self.routes()
        self.surface = np.full(len(self.face_cell), 5.0)

    @staticmethod
    def held(t):
        return (0.745 - 0.345 / (1 + 30 * np.exp(-0.25 * (t - 52)))) / 0.745

    def routes(self):
        """The nearest face along an axis; of equals the first side."""
        place = np.indices(self.cells).reshape(3, -1)
        low = (place + 0.5) * self.d[:, None]
        far = np.stack([v for a in range(3) for v in (low[a], self.size[a] - low[a])])
        side = np.round(far, 12).argmin(axis=0)
        start = np.concatenate([[0], np.cumsum([len(s) for s in self.sides])])
        route = np.empty(place.shape[1], int)
        for cell in range(place.shape[1]):
            i = [place[a, cell] for a in range(3)]
            i[side[cell] // 2] = 0 if side[cell] % 2 == 0 else self.cells[side[cell] // 2] - 1
            outer = self.index[tuple(i)]
            route[cell] = start[side[cell]] + np.flatnonzero(self.sides[side[cell]] == outer)[0]
        return route

    def k_sum(self, t):
        k = self.meat.k
        return t * (k[0] + t * (k[1] / 2 + t * k[2] / 3))

    def water_heat(self, t):
        s = self.meat.wet
        return t * (s[0] + t * (s[1] / 2 + t * s[2] / 3))

    def balance(self, inner, deficit):
        """Surface temperatures by Newton's method with a numerical slope, and the vapor's flow."""
        s, r = self.face_side, self.open[self.face_side] + np.maximum(deficit, 0) / (self.dried * self.diffusivity)

        def excess(t):
            m = (self.activity * saturated_density(t) - self.vapor[s]) / r
            heat = self.h[s] * (self.air[s] - t) + self.glow * (self.seen4[s] - (t + 273.15) ** 4)
            return heat - m * (2.501e6 - 2361 * t) - (self.k_sum(t) - inner) / self.depth, m

        t = self.surface
        for _ in range(30):
            f, _ = excess(t)
            step = f / ((excess(t - 1e-4)[0] - f) / 1e-4)
            t = t + np.clip(step, -20, 20)
            if np.abs(step).max() < 1e-10:
                break
        self.surface = t
        return t, excess(t)[1]

    def rate(self, _, y):
        n, meat = self.index.size, self.meat
        t, w, deficit = y[:n], y[n:2 * n], y[2 * n:-1]
        inner = self.k_sum(t).reshape(self.cells)
        heat = np.zeros(self.cells)
        for a in range(3):
            flow = np.diff(inner, axis=a) * self.d.prod() / self.d[a] ** 2
            low, high = [slice(None)] * 3, [slice(None)] * 3
            low[a], high[a] = slice(None, -1), slice(1, None)
            heat[tuple(low)] += flow
            heat[tuple(high)] -= flow
        heat = heat.ravel()
        surface, m = self.balance(inner.ravel()[self.face_cell], deficit)
        np.add.at(heat, self.face_cell, self.area * (self.k_sum(surface) - inner.ravel()[self.face_cell]) / self.depth)
        out = np.maximum(w - meat.x["water"] * self.held(t), 0) / self.lag
        supply = np.zeros(len(self.area))
        np.add.at(supply, self.route, self.mass * out / self.area[self.route])
        # Water comes with the heat of its cell and leaves with that of the outer one.
        outer = self.face_cell[self.route]
        np.add.at(heat, outer, self.mass * out * (self.water_heat(t) - self.water_heat(t[outer])))
        drip = np.maximum(-(deficit + self.film), 0) / self.drip_lag
        capacity = self.mass * (curve(meat.dry, t) + w * curve(meat.wet, t))
        return np.concatenate([heat / capacity, -out, m - supply + drip, [np.sum(self.area * (m + drip))]])

    def sparsity(self):
        """Which rates feel which states."""
        n, f = self.index.size, len(self.face_cell)
        s = lil_matrix((2 * n + f + 1, 2 * n + f + 1))
        s.setdiag(1)
        for a in range(3):
            one = np.moveaxis(self.index, a, 0)
            for i, j in zip(one[:-1].ravel(), one[1:].ravel()):
                s[i, j] = s[j, i] = 1
        for cell in range(n):
            s[cell, n + cell] = s[n + cell, cell] = 1
            face = self.route[cell]
            s[self.face_cell[face], cell] = s[self.face_cell[face], n + cell] = 1
            s[2 * n + face, cell] = s[2 * n + face, n + cell] = 1
        for face in range(f):
            s[self.face_cell[face], 2 * n + face] = s[2 * n + face, self.face_cell[face]] = 1
        return s.tocsr()  # the books' last row decides nothing and is left out

    def cook(self, hours, rtol, atol):
        n = self.index.size
        start = np.concatenate([np.full(n, 5.0), np.full(n, self.meat.x["water"]), np.zeros(len(self.area) + 1)])
        return solve_ivp(self.rate, (0, 3600 * hours[-1]), start, method="BDF", t_eval=3600 * np.array(hours),
                         rtol=rtol, atol=atol, jac_sparsity=self.sparsity())


def lagrange(n):
    """Weights of the middle of n cells: the polynomial through the four nearest."""
    at, low = 0.5 * n - 0.5, min(max(int(0.5 * n - 0.5) - 1, 0), n - 4)
    weights = np.zeros(n)
    for a in range(low, low + 4):
        weights[a] = np.prod([(at - b) / (a - b) for b in range(low, low + 4) if b != a])
    return weights


def main(folder):
    brick = Brick()
    hours = [0.5, 1, 2, 3, 4, 6, 8]
    run = brick.cook(hours, 1e-8, 1e-9)
    n = brick.index.size
    weights = np.einsum("i,j,k->ijk", *[lagrange(c) for c in brick.cells]).ravel()
    with open(pathlib.Path(folder) / "expected.csv", "w", encoding="utf-8") as out:
        out.write("hours,core_c,mean_surface_c,lost_share\n")
        for i, hour in enumerate(hours):
            y = run.y[:, i]
            surface, _ = brick.balance(brick.k_sum(y[:n])[brick.face_cell], y[2 * n:-1])
            mean = np.sum(brick.area * surface) / np.sum(brick.area)
            out.write(f"{hour},{weights @ y[:n]:.6f},{mean:.6f},{y[-1] / (brick.mass * n):.8f}\n")


if __name__ == "__main__":
    main(sys.argv[1])
