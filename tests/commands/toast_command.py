#!/usr/bin/python3
"""toast_command.py PITWRIGHT SOURCE_DIR: what `pitwright toast` prints and refuses, from outside."""
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

PITWRIGHT = sys.argv[1]
SOURCE = pathlib.Path(sys.argv[2])
BOX = SOURCE / "examples" / "kitchen-box"


def toast(*args):
    return subprocess.run([PITWRIGHT, "toast", *map(str, args)], capture_output=True, text=True)


HAS_READER = "no photo reader" not in toast(BOX / "toast.toml").stderr


def corners(text, *keys):
    """"x,y x,y ..." of a toast.toml's keys."""
    return " ".join(re.sub(r"[\[\] ]", "", re.search(rf"^{key} *= (\[.*\])", text, re.M).group(1)) for key in keys)


class Toast(unittest.TestCase):
    def refused(self, status, why, *args):
        done = toast(*args)
        self.assertEqual((done.returncode, done.stdout), (status, ""), done)
        self.assertIn(why, done.stderr)

    def test_what_is_not_there_or_not_told_is_named(self):
        self.refused(1, "nowhere.toml", "nowhere.toml")
        self.refused(2, "needs --width", BOX / "toast.jpg")
        self.refused(2, "--grate", BOX / "toast.jpg", "--width", "26 in", "--depth", "17 in")
        self.refused(2, "--width: a grate is between", BOX / "toast.jpg", "--width", "26 m")
        self.refused(2, "four corners in pixels", BOX / "toast.jpg", "--width", "26 in", "--depth", "17 in", "--grate", "1,2")
        self.refused(2, "--unit takes F or C", BOX / "toast.toml", "--unit", "K")
        self.refused(2, "says them itself", BOX / "toast.toml", "--width", "26 in")
        with tempfile.TemporaryDirectory() as folder:
            document = pathlib.Path(folder) / "toast.toml"
            document.write_text('photo = "a.jpg"\n[grate]\nwidht = "1 m"\n', encoding="utf-8")
            self.refused(2, "toast.toml:3:1", document)

    @unittest.skipUnless(HAS_READER, "this build has no photo reader")
    def test_a_directory_stands_for_its_document(self):
        self.assertEqual(toast(BOX).stdout, toast(BOX / "toast.toml").stdout)

    @unittest.skipUnless(HAS_READER, "this build has no photo reader")
    def test_units_turn_readings_and_differences_apart(self):
        f = json.loads(toast(BOX, "--json").stdout)
        c = json.loads(toast(BOX, "--json", "--unit", "C").stdout)
        self.assertAlmostEqual(f["level"]["value"], c["level"]["value"] * 1.8 + 32, places=2)
        self.assertAlmostEqual(f["tilts"][0]["tilt"]["value"], c["tilts"][0]["tilt"]["value"] * 1.8, places=2)

    @unittest.skipUnless(HAS_READER, "this build has no photo reader")
    def test_a_photograph_alone_gives_browning_without_degrees(self):
        text = (BOX / "toast.toml").read_text(encoding="utf-8")
        card = re.sub(r"[\[\]]", "", re.search(r"^corners = (.*)", text, re.M).group(1))
        done = toast(BOX / "toast.jpg", "--width", "66 cm", "--depth", "44 cm", "--card", card, "--json",
                     "--grate", corners(text, "left_back", "right_back", "right_front", "left_front"))
        self.assertEqual(done.returncode, 0, done.stderr)
        told, whole = json.loads(done.stdout), json.loads(toast(BOX, "--json").stdout)
        self.assertIsNone(told["level"])
        self.assertIn("No thermometer", told["sentence"])
        for a, b in zip(told["slices"], whole["slices"]):
            self.assertAlmostEqual(a["lightness"], b["lightness"], delta=0.01)

    @unittest.skipUnless(HAS_READER, "this build has no photo reader")
    def test_toast_is_joined_with_the_thermometers_of_its_burn(self):
        f, c = (json.loads(toast(BOX, "--json", "--unit", unit).stdout) for unit in "FC")
        joined = f["joined"]
        self.assertEqual((joined["setting"], joined["grate"], f["not_joined"]), ("off", "rack", None))
        shape = [len(joined["x"])] * len(joined["y"])
        for grid in (joined["value"], joined["sd"], joined["sd_alone"], joined["disagreement"]["value"], joined["disagreement"]["sd"]):
            self.assertEqual([len(row) for row in grid], shape)
        self.assertEqual(max(max(row) for row in joined["value"]), joined["hottest"]["value"])
        self.assertLess(joined["median_sd"], joined["median_sd_alone"])
        self.assertAlmostEqual(joined["value"][3][5], 1.8 * c["joined"]["value"][3][5], places=2)
        self.assertAlmostEqual(joined["level"]["value"], 1.8 * c["joined"]["level"]["value"] + 32, places=2)
        text = toast(BOX).stdout
        for word in ("Joined with the thermometers", "Hottest", "Coolest", "Narrower", "Radiant"):
            self.assertIn(word, text)

    @unittest.skipUnless(HAS_READER, "this build has no photo reader")
    def test_the_joint_map_is_drawn_beside_what_toast_shows_beyond_the_air(self):
        with tempfile.TemporaryDirectory() as folder:
            svg, png = pathlib.Path(folder) / "map.svg", pathlib.Path(folder) / "map.png"
            self.assertEqual(toast(BOX, "--svg", svg, "--png", png).returncode, 0)
            drawn = svg.read_text(encoding="utf-8")
            self.assertIn("data-setting=\"off\"", drawn)
            self.assertIn("data-change=\"toast less air\"", drawn)
            self.assertEqual(drawn.count("data-spot="), 8)
            self.assertTrue(png.read_bytes().startswith(b"\x89PNG"))
            lamp = SOURCE / "data" / "toast" / "left-lamp.toml"
            self.refused(2, "name the burn", lamp, "--svg", svg)
            self.assertIsNone(json.loads(toast(lamp, "--json").stdout)["joined"])

    @unittest.skipUnless(HAS_READER, "this build has no photo reader")
    def test_the_slices_found_are_drawn(self):
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "found.png"
            self.assertEqual(toast(BOX, "--found", out).returncode, 0)
            self.assertTrue(out.read_bytes().startswith(b"\x89PNG"))
            self.refused(1, "cannot be written", BOX, "--found", pathlib.Path(folder) / "no" / "found.png")


unittest.main(argv=sys.argv[:1])
