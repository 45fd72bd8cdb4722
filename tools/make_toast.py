#!/usr/bin/python3
"""Renders photographs of toast on a grate whose heat is known: for the example, the tests and the bench.

    tools/make_toast.py             writes examples/kitchen-box and data/toast
    tools/make_toast.py --check     compares with what would be written; exits 1 and names what differs
    tools/make_toast.py --bench DIR --seeds 40     many photographs into DIR

Nothing here comes from a real photograph. Heat is a smooth field in air-equivalent degrees F; one edge
gets radiant heat that the air probes do not see. Browning follows one of three curves, none of them the
program's own. Then: bread that differs from slice to slice, crumb, crust, shadows, a lamp that falls off,
a color cast, lens shading, a camera's tone curve, glare, noise, perspective, JPEG.
"""
import argparse
import io
import json
import pathlib
import sys
import tempfile

import numpy as np
from PIL import Image

ROOT = pathlib.Path(__file__).resolve().parent.parent
INCH = 0.0254
WIDTH, DEPTH = 0.66, 0.44  # of the grate [m]
MORE_SEATS = [(0, 2), (4, 3)]  # of the burn's thermometers, beside PROBE_SEATS
LEFT, FRONT = 0.04, 0.03  # from the oven's left wall and door to the grate [m]
MARGIN = 0.12  # of the table around it that the photograph shows [m]
DENSITY = 1500  # of the rendered table [pixels per m]
COLUMNS, ROWS = 6, 4
# Lab colors of bread as it browns: L*, a*, b* (invented, in the order of published toast colors).
BROWNING = np.array([[8, 0.5, 1], [16, 2, 3], [25, 6, 9], [45, 13, 26], [65, 8, 30], [78, 2, 22], [88, 0, 15]], float)
PROBE_SEATS = [(0, 0), (1, 3), (2, 1), (3, 2), (4, 0), (5, 1)]  # column, row from the front; the last at the radiant edge


def linear_of_lab(lab):
    """CIELAB (D65, 2 degrees) to linear sRGB."""
    fy = (lab[..., 0] + 16) / 116
    f = np.stack([fy + lab[..., 1] / 500, fy, fy - lab[..., 2] / 200], -1)
    xyz = np.where(f > 6 / 29, f ** 3, 3 * (6 / 29) ** 2 * (f - 4 / 29)) * [0.95047, 1.0, 1.08883]
    matrix = np.array([[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]])
    return np.clip(xyz @ matrix.T, 0, None)


def encoded(linear):
    linear = np.clip(linear, 0, 1)
    return np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)


def smooth_noise(rng, shape, cell):
    """Noise of sd about 1 whose grains are `cell` pixels wide."""
    rows, columns = shape[0] // cell + 3, shape[1] // cell + 3
    grid = rng.normal(size=(rows, columns))
    y, x = np.arange(shape[0]) / cell, np.arange(shape[1]) / cell
    i, j = y.astype(int), x.astype(int)
    v, u = (y - i)[:, None], (x - j)[None, :]
    v, u = v * v * (3 - 2 * v), u * u * (3 - 2 * u)
    corner = lambda a, b: grid[i + a][:, j + b]
    field = (1 - v) * ((1 - u) * corner(0, 0) + u * corner(0, 1)) + v * ((1 - u) * corner(1, 0) + u * corner(1, 1))
    return field / 0.72


class Day:
    """One toasting: the heat, the curve of browning, the slices and the probes."""

    def __init__(self, seed, plan):
        self.rng = rng = np.random.default_rng(seed)
        self.plan = plan
        self.level = rng.uniform(335, 385)
        self.tilt = rng.normal(0, 12, 2)
        self.bumps = [(rng.uniform(0, WIDTH), rng.uniform(0, DEPTH), rng.normal(0, 14), rng.uniform(0.1, 0.2))
                      for _ in range(3)]
        self.radiant_size = rng.uniform(16, 28) if plan.get("radiant", True) else 0.0
        self.kind = seed % 3
        self.raw, self.floor = rng.uniform(80, 86), rng.uniform(12, 22)
        self.middle, self.width = self.level + rng.uniform(-10, 10), rng.uniform(16, 24)
        self.bread_sd = 1.2
        self.slices = [self.slice_at(c, r) for r in range(ROWS) for c in range(COLUMNS)]
        for index, heat in plan.get("extreme", {}).items():
            self.slices[int(index)]["heat"] = self.level + heat
            self.slices[int(index)]["air"] = self.level + heat
        for one in self.slices:
            one["lightness"] = self.browned(one["heat"]) + rng.normal(0, self.bread_sd)
        self.untoasted = {"x": -0.055, "y": 0.30, "turn": 0.05, "half": (0.0435, 0.0435), "lightness": self.raw + rng.normal(0, 0.6)}
        self.probes = [self.probe_at(c, r) for c, r in PROBE_SEATS]

    def air(self, x, y):
        heat = self.level + self.tilt[0] * (2 * x / WIDTH - 1) + self.tilt[1] * (2 * y / DEPTH - 1)
        return heat + sum(h * np.exp(-((x - a) ** 2 + (y - b) ** 2) / (2 * s * s)) for a, b, h, s in self.bumps)

    def radiant(self, x):
        return self.radiant_size * np.exp(-((WIDTH - x) / 0.07) ** 2)

    def browned(self, heat):
        """Lightness L* of bread after its time at this heat."""
        t = (heat - self.middle) / self.width
        share = (1 / (1 + np.exp(1.15 * t)), np.exp(-0.7 * np.exp(0.75 * t)), 0.5 - np.arctan(1.1 * t) / np.pi)[self.kind]
        return self.floor + (self.raw - self.floor) * share

    def slice_at(self, column, row):
        rng = self.rng
        x = WIDTH * (column + 0.5) / COLUMNS + rng.normal(0, 0.002)
        y = DEPTH * (row + 0.5) / ROWS + rng.normal(0, 0.002)
        air = self.air(x, y)
        return {"x": x, "y": y, "turn": rng.normal(0, 0.05), "half": (0.0435 + rng.normal(0, 0.001), 0.0435 + rng.normal(0, 0.001)),
                "air": air, "heat": air + self.radiant(x)}

    def probe_at(self, column, row):
        one = self.slices[row * COLUMNS + column]
        return {"spot": f"{'front' if row < 2 else 'back'} {column + 1}", "x": one["x"] + self.rng.normal(0, 0.004),
                "y": one["y"] + self.rng.normal(0, 0.004), "reading": one["air"] + self.rng.normal(0, 1.5)}


def table_of(day, cards):
    """The table and the grate seen from above, linear reflectances. Row 0 is the back."""
    rng = day.rng
    wide, deep = int((WIDTH + 2 * MARGIN) * DENSITY), int((DEPTH + 2 * MARGIN) * DENSITY)
    x = (np.arange(wide) + 0.5)[None, :] / DENSITY - MARGIN
    y = DEPTH + MARGIN - (np.arange(deep) + 0.5)[:, None] / DENSITY
    tint = np.array(day.plan.get("table", [0.47, 0.46, 0.44]))
    picture = tint * (1 + 0.02 * smooth_noise(rng, (deep, wide), 60) + 0.015 * smooth_noise(rng, (deep, wide), 5))[..., None]
    inside = (x > -0.005) & (x < WIDTH + 0.005) & (y > -0.005) & (y < DEPTH + 0.005)
    pitch, thick = 0.019, 0.0035
    bars = ((np.abs((x + 0.004) % pitch - pitch / 2) < thick / 2) | (np.abs((y - DEPTH / 2 + 0.11) % 0.22 - 0.11) < 0.003)
            | (np.abs(x - WIDTH / 2) > WIDTH / 2 - 0.003) | (np.abs(y - DEPTH / 2) > DEPTH / 2 - 0.003)) & inside
    picture[bars] = 0.10 * np.array([1, 0.99, 0.97])
    crumb = 2.2 * smooth_noise(rng, (deep, wide), 4) + 1.4 * smooth_noise(rng, (deep, wide), 14)
    for one in day.slices:
        draw_slice(picture, x, y, one, crumb)
    draw_slice(picture, x, y, day.untoasted, crumb)
    for box, value in cards:
        sheet = (x > box[0]) & (x < box[0] + box[2]) & (y > box[1]) & (y < box[1] + box[3])
        picture[sheet] = value
    return picture, x, y


def draw_slice(picture, x, y, one, crumb):
    c, s = np.cos(one["turn"]), np.sin(one["turn"])
    u, v = c * (x - one["x"]) + s * (y - one["y"]), -s * (x - one["x"]) + c * (y - one["y"])
    a, b = one["half"]
    near = (np.abs(u) < a + 0.02) & (np.abs(v) < b + 0.02)
    rows, columns = np.where(near.any(1))[0], np.where(near.any(0))[0]
    window = np.s_[rows[0]:rows[-1] + 1, columns[0]:columns[-1] + 1]
    u, v = u[window], v[window]
    corner = 0.018
    outside = np.hypot(np.clip(np.abs(u) - a + corner, 0, None), np.clip(np.abs(v) - b + corner, 0, None)) - corner
    depth = -np.maximum(outside, np.maximum(np.abs(u) - a, np.abs(v) - b))
    shade = np.clip(1 - 0.35 * np.exp(-np.clip(-depth, 0, None) / 0.004), 0, 1)
    part = picture[window]
    part[depth < 0] *= shade[depth < 0][:, None]
    lightness = one["lightness"] + crumb[window] - 3.0 * np.exp(-np.clip(depth, 0, None) / 0.006)
    lightness = np.where(depth < 0.003, np.minimum(lightness - 8, 42), lightness)  # the crust
    lightness = np.clip(lightness, 7, 90)
    lab = np.stack([lightness] + [np.interp(lightness, BROWNING[:, 0], BROWNING[:, k]) for k in (1, 2)], -1)
    part[depth > 0] = linear_of_lab(lab[depth > 0])


def lit(day, picture, x, y):
    """Under a lamp that falls off, of a color that is not white; the factor at a point is light / its mean."""
    rng = day.rng
    lamp = np.array([rng.uniform(-0.5, WIDTH + 0.5), rng.uniform(-0.2, DEPTH + 0.6), rng.uniform(0.6, 1.1)])
    away = (x - lamp[0]) ** 2 + (y - lamp[1]) ** 2 + lamp[2] ** 2
    light = away ** -1.5  # inverse square times the cosine of the angle
    light /= light.mean()
    cast = np.array([rng.uniform(1.0, 1.25), 1.0, rng.uniform(0.72, 1.0)])
    return picture * light[..., None] * cast


def camera(day, size):
    """Homography from table meters (x, y) to pixels."""
    rng = day.rng
    eye = np.array([WIDTH / 2 + rng.uniform(-0.18, 0.18), -rng.uniform(0.15, 0.45), rng.uniform(0.85, 1.0)])
    aim = np.array([WIDTH / 2, DEPTH / 2 - 0.02, 0.0])
    ahead = (aim - eye) / np.linalg.norm(aim - eye)
    right = np.cross(ahead, [0, 0, 1])
    right /= np.linalg.norm(right)
    roll = rng.normal(0, 0.03)
    down = np.cross(ahead, right)
    right, down = np.cos(roll) * right + np.sin(roll) * down, np.cos(roll) * down - np.sin(roll) * right
    turn = np.stack([right, down, ahead])
    outer = np.column_stack([turn[:, 0], turn[:, 1], -turn @ eye])
    shown = [(0, 0), (WIDTH, 0), (WIDTH, DEPTH), (0, DEPTH), (-0.105, 0.04), (-0.105, 0.36), (WIDTH + 0.09, DEPTH - 0.16)]
    focal = 1.2 * size[0]
    while True:  # steps back until everything is in the picture
        homography = np.array([[focal, 0, size[0] / 2], [0, focal, size[1] / 2], [0, 0, 1]]) @ outer
        pixels = [pixel_of(homography, *place) for place in shown]
        if all(12 < px < size[0] - 12 and 12 < py < size[1] - 12 for px, py in pixels):
            return homography
        focal *= 0.98


def pixel_of(homography, x, y):
    p = homography @ np.array([x, y, 1.0])
    return p[0] / p[2], p[1] / p[2]


def photograph(day, picture, homography, size, exposure):
    """What the camera makes of the table: [rows, columns, 3] of 0..255."""
    rng = day.rng
    back = np.linalg.inv(homography)
    total = np.zeros((size[1], size[0], 3))
    for oy in (0.25, 0.75):
        for ox in (0.25, 0.75):
            px, py = np.meshgrid(np.arange(size[0]) + ox, np.arange(size[1]) + oy)
            q = np.stack([px, py, np.ones_like(px)], -1) @ back.T
            column = (q[..., 0] / q[..., 2] + MARGIN) * DENSITY - 0.5
            row = (DEPTH + MARGIN - q[..., 1] / q[..., 2]) * DENSITY - 0.5
            column = np.clip(column, 0, picture.shape[1] - 1.001)
            row = np.clip(row, 0, picture.shape[0] - 1.001)
            i, j = row.astype(int), column.astype(int)
            v, u = (row - i)[..., None], (column - j)[..., None]
            total += ((1 - v) * ((1 - u) * picture[i, j] + u * picture[i, j + 1])
                      + v * ((1 - u) * picture[i + 1, j] + u * picture[i + 1, j + 1])) / 4
    px, py = np.meshgrid(np.arange(size[0]) + 0.5, np.arange(size[1]) + 0.5)
    radius = ((px - size[0] / 2) ** 2 + (py - size[1] / 2) ** 2) / (size[0] / 2) ** 2
    total *= (1 - day.plan.get("shading", 0.12) * radius)[..., None]
    total *= exposure / np.percentile(total, 99.8)  # a careful photographer keeps bread below the camera's end
    for index in day.plan.get("glare", []):
        add_glare(day, total, homography, day.slices[index], px, py)
    tone = day.plan.get("tone", rng.uniform(0.92, 1.08))
    total = np.clip(total, 0, 1) ** tone
    total = total + rng.normal(size=total.shape) * np.sqrt(2e-5 + 2e-4 * total)
    return np.round(255 * encoded(total)).astype(np.uint8)


def add_glare(day, total, homography, one, px, py):
    cx, cy = pixel_of(homography, one["x"] + 0.006, one["y"] + 0.004)
    ex, ey = pixel_of(homography, one["x"] + 0.03, one["y"])
    reach = np.hypot(ex - cx, ey - cy)
    shine = np.exp(-(((px - cx) / (1.1 * reach)) ** 2 + ((py - cy) / (0.8 * reach)) ** 2))
    total += 1.3 * shine[..., None]


def cards_of(day):
    """Gray cards beside the grate: corner x, y, width, depth [m]; reflectance."""
    first = ((-0.085, 0.05, 0.06, 0.09), 0.18)
    second = ((WIDTH + 0.025, DEPTH - 0.16, 0.06, 0.09), 0.18)
    return [first, second] if day.plan.get("cards", 1) > 1 else [first]


def render(seed, plan):
    """(JPEG bytes, toast.toml, truth) of one day."""
    size = plan.get("size", (1280, 960))
    day = Day(seed, plan)
    cards = cards_of(day)
    picture, x, y = table_of(day, cards)
    picture = lit(day, picture, x, y)
    homography = camera(day, size)
    pixels = photograph(day, picture, homography, size, plan.get("exposure", day.rng.uniform(0.7, 0.88)))
    held = io.BytesIO()
    Image.fromarray(pixels).save(held, "JPEG", quality=plan.get("quality", 82))
    truth = {"seed": seed, "unit": "F", "slices": [
        {"x": round(one["x"], 4), "y": round(one["y"], 4), "heat": round(one["heat"], 2), "air": round(one["air"], 2),
         "lightness": round(float(one["lightness"]), 2), "glare": index in plan.get("glare", [])}
        for index, one in enumerate(day.slices)]}
    return held.getvalue(), toml_of(day, plan, cards, homography), truth


def toml_of(day, plan, cards, homography):
    spot = lambda px: f"[{px[0]:.1f}, {px[1]:.1f}]"
    at = lambda x, y: spot(pixel_of(homography, x, y))
    lines = [f'# Made by tools/make_toast.py; do not edit by hand. A made-up oven: the photograph is computed.',
             f'title  = "{plan["title"]}"', 'unit   = "F"', f'photo  = "{plan["name"]}.jpg"',
             f'slices = {ROWS * COLUMNS}                # laid out; it says when it finds another number', "", "[grate]",
             f'width = "{WIDTH * 100:.0f} cm"        # left to right, seen from the door',
             f'depth = "{DEPTH * 100:.0f} cm"        # door to back',
             "# Its corners in the photograph: pixels from the left and from the top.",
             f"left_back   = {at(0, DEPTH)}", f"right_back  = {at(WIDTH, DEPTH)}",
             f"right_front = {at(WIDTH, 0)}", f"left_front  = {at(0, 0)}"]
    for (left, front, wide, deep), value in cards:
        inset = 0.006
        corners = [(left + inset, front + deep - inset), (left + wide - inset, front + deep - inset),
                   (left + wide - inset, front + inset), (left + inset, front + inset)]
        lines += ["", "[[card]]                   # a gray card, a little inside its edges",
                  f"corners = [{', '.join(at(*corner) for corner in corners)}]", f"reflectance = {value}"]
    middle, h = day.untoasted, 0.025
    corners = [(middle["x"] - h, middle["y"] + h), (middle["x"] + h, middle["y"] + h),
               (middle["x"] + h, middle["y"] - h), (middle["x"] - h, middle["y"] - h)]
    lines += ["", "[untoasted]                # a slice that saw no heat, the middle of it",
              f"corners = [{', '.join(at(*corner) for corner in corners)}]"]
    if "burn" in plan:
        lines += ["", "[burn]                     # its thermometers sat at slices; see oven.toml", f'from = "{plan["burn"]}"',
                  'setting = "off"', f'left = "{LEFT * 100:.0f} cm"            # from the left wall to the grate', f'front = "{FRONT * 100:.0f} cm"           # from the door side to it']
    for probe in [] if "burn" in plan else day.probes:
        lines += ["", "[[probe]]", f'spot = "{probe["spot"]}"', f'x = "{probe["x"] * 100:.1f} cm"', f'y = "{probe["y"] * 100:.1f} cm"',
                  f'reading = "{probe["reading"]:.1f} F"', 'uncertainty = "3 F"']
    return "\n".join(lines) + "\n"


def named_seat(day, column, row):
    one = day.slices[row * COLUMNS + column]
    return {"spot": f"{'front' if row < 2 else 'back'} {column + 1}", "x": one["x"], "y": one["y"]}


def oven_of(day):
    """The pit of examples/kitchen-box/burn for `pitwright rehearse`: air as on the photographed day, fan off; with it on, less than half."""
    seats = day.probes + [named_seat(day, *seat) for seat in MORE_SEATS]
    runs = [(day.air(probe["x"], probe["y"]) - day.level) / 1.8 for probe in seats]
    mean = sum(runs) / len(runs)
    leans = [round(run - mean, 3) for run in runs]
    lines = ["# Made by tools/make_toast.py; do not edit by hand. A kitchen oven with a fan. Invented; no such pit.",
             'name = "Kitchen box"', f'width = "{(WIDTH + 2 * LEFT) * 100:.0f} cm"', f'depth = "{(DEPTH + 2 * FRONT) * 100:.0f} cm"',
             'height = "40 cm"', f'set_point = "{day.level + 1.8 * mean:.1f} F"', "", "[[grate]]", 'name = "rack"', 'height = "20 cm"', "",
             "[[adjustment]]", 'name = "fan"', 'positions = ["off", "on"]', "", "[rehearse]", "plate_excess_k = 160",
             'plan = "off on on off"', "dwell_s = 3000", "", "[rehearse.fire]", 'kind = "relay"', "high_w = 3600", "low_w = 900",
             "dead_time_s = 9", "bed_lag_s = 22", "half_band_k = 0.5", "", "[rehearse.body]", "", "[rehearse.disturbance]",
             "gust_m_s = 0.3", "drift_level_k = 0.5", "drift_lay_k = 0.3", "resetting_level_k = 0.3", "resetting_lay_k = 0.3",
             "", "[rehearse.weather]"]
    for probe in seats:
        lines += ["", "[[rehearse.spot]]", f'name = "{probe["spot"]}"', 'grate = "rack"', f'x_m = {probe["x"] + LEFT:.3f}',
                  f'y_m = {probe["y"] + FRONT:.3f}', "z_m = 0.2"]
    lines += ["", "[rehearse.sensor]"]
    for name, share in (("off", 1.0), ("on", 0.4)):
        lines += ["", "[[rehearse.setting]]", f'name = "{name}"', f'adjustments = {{ fan = "{name}" }}',
                  f"lean_k = [{', '.join(f'{share * lean:.3f}' for lean in leans)}]", "sensor_lean_k = 0"]
    lines += ["", "[[rehearse.logger]]", 'name = "rack"', "interval_s = 20"]
    for probe in seats:
        lines += ["", "[[rehearse.logger.thermometer]]", f'channel = "{probe["spot"]}"', f'spot = "{probe["spot"]}"']
    return "\n".join(lines) + "\n"


SMALL = {"size": (960, 720), "quality": 78}
SHIPPED = {  # path without ending: seed, plan
    "examples/kitchen-box/toast": (11, {**SMALL, "title": "Kitchen box, fan off", "glare": [9], "cards": 2, "burn": "burn"}),
    "data/toast/left-lamp": (21, {**SMALL, "title": "Two slices shine", "glare": [3, 16]}),
    "data/toast/black-and-raw": (32, {**SMALL, "title": "Black and raw slices", "extreme": {"14": 130, "9": -150}}),
}


def named(path):
    return {"name": pathlib.PurePosixPath(path).name}


def shipped_files():
    for path, (seed, plan) in SHIPPED.items():
        photo, document, truth = render(seed, {**plan, **named(path)})
        ending = pathlib.PurePosixPath(path)
        yield f"{path}.jpg", photo
        yield str(ending.parent / (ending.name + ".toml")), document.encode()
        if "burn" in plan:
            yield str(ending.parent / "oven.toml"), oven_of(Day(seed, {**plan, **named(path)})).encode()
        yield f"{path}.truth.json", (json.dumps(truth, indent=0) + "\n").encode()


def same_picture(a, b):
    """Another JPEG library or another machine's last digit may turn a pixel, not a picture."""
    a, b = (np.asarray(Image.open(io.BytesIO(data)), int) for data in (a, b))
    return a.shape == b.shape and np.abs(a - b).mean() < 0.05


def check():
    wrong = []
    for path, data in shipped_files():
        held = ROOT / path
        if not held.is_file():
            wrong.append(f"{path} is missing")
        elif not (same_picture(held.read_bytes(), data) if path.endswith(".jpg") else held.read_bytes() == data):
            wrong.append(f"{path} differs from what tools/make_toast.py makes")
    print("\n".join(wrong) or "the photographs of toast are what the script makes")
    return 1 if wrong else 0


def bench(folder, seeds):
    folder.mkdir(parents=True, exist_ok=True)
    for seed in range(100, 100 + seeds):
        name = f"day-{seed}"
        plan = {"title": f"Day {seed}", "name": name, "glare": [seed % 24] if seed % 2 else [], "cards": 1 + seed % 3 // 2,
                "radiant": seed % 4 != 0}
        photo, document, truth = render(seed, plan)
        (folder / f"{name}.jpg").write_bytes(photo)
        (folder / f"{name}.toml").write_text(document, encoding="utf-8")
        (folder / f"{name}.truth.json").write_text(json.dumps(truth) + "\n", encoding="utf-8")
    print(f"{seeds} photographs in {folder}")


def main():
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--check", action="store_true")
    options.add_argument("--bench", type=pathlib.Path)
    options.add_argument("--seeds", type=int, default=40)
    said = options.parse_args()
    if said.check:
        return check()
    if said.bench:
        bench(said.bench, said.seeds)
        return 0
    for path, data in shipped_files():
        held = ROOT / path
        held.parent.mkdir(parents=True, exist_ok=True)
        held.write_bytes(data)
    return 0


if __name__ == "__main__":
    sys.exit(main())
