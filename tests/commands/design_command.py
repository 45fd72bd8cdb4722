#!/usr/bin/python3
"""design_command.py PITWRIGHT SOURCE_DIR: what `pitwright design` prints and refuses, from outside."""
import json
import pathlib
import subprocess
import sys
import tempfile
import unittest

PITWRIGHT = sys.argv[1]
SOURCE = pathlib.Path(sys.argv[2])
PIT = """name = "Shed box"
width = "30 in"
depth = "20 in"
set_point = "250 F"
[[grate]]
name = "lower"
height = "6 in"
"""


class Design(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.pit = pathlib.Path(self.folder.name, "pit.toml")
        self.pit.write_text(PIT, encoding="utf-8")

    def run_design(self, *args):
        return subprocess.run([PITWRIGHT, "design", str(self.pit), *args], capture_output=True, text=True)

    def document(self, *args):
        done = self.run_design("--json", *args)
        self.assertEqual(done.returncode, 0, done.stderr)
        return json.loads(done.stdout)

    def test_bad_wishes_end_with_status_2_and_say_why(self):
        for args, why in (
                (["--probes", "0"], "0 probes measure nothing"),
                (["--probes", "1"], "one probe shows no lay"),
                (["--probes", "26"], "25 at most"),
                (["--settings", "1"], "two or more"),
                (["--settings", "A"], "two or more"),
                (["--settings", "A,,B"], "no name"),
                (["--settings", "A,A"], "stands twice"),
                (["--settings", "9"], "too many"),
                (["--settings", "2.5"], "--settings takes"),
                (["--question", "smoke"], "level, lay or tilt"),
                (["--fuel", "coal"], "pellet, charcoal, wood or gas"),
                (["--hours", "1"], "the shortest plan takes"),
                (["--hours", "soon"], "--hours"),
                (["--soak", "-1"], "soak"),
                (["--matters", "0"], "matters"),
                (["--matters", "much"], "--matters"),
                (["--unit", "K"], "--unit takes F or C")):
            done = self.run_design(*args)
            self.assertEqual((done.returncode, done.stdout), (2, ""), args)
            self.assertIn(why, done.stderr)

    def test_a_pit_or_burn_that_is_not_there_ends_with_status_1(self):
        self.assertEqual(self.run_design("--from", "nowhere").returncode, 1)
        self.pit.unlink()
        self.assertEqual(self.run_design().returncode, 1)

    def test_positions_lie_inside_the_pit_and_at_its_grate(self):
        for spot in self.document()["spots"]:
            if spot["beside_sensor"]:
                continue
            self.assertTrue(0 < spot["x_m"] < 30 * 0.0254)
            self.assertTrue(0 < spot["y_m"] < 20 * 0.0254)
            self.assertAlmostEqual(spot["z_m"], 6 * 0.0254, places=3)

    def test_a_pit_without_dimensions_gets_a_plan_and_is_told_what_it_lacks(self):
        self.pit.write_text('name = "Bare"\n', encoding="utf-8")
        done = self.run_design()
        self.assertEqual(done.returncode, 0)
        for word in ("its width", "its depth", "its grates", "A B B A"):
            self.assertIn(word, done.stdout)
        self.assertTrue(all(spot["x_m"] is None for spot in self.document()["spots"]))

    def test_hours_bound_the_plans(self):
        plans = self.document("--hours", "5")
        self.assertTrue(all(plan["hours"] <= 5.001 for plan in plans["plans"]))
        self.assertEqual(plans["left_out"] + len(plans["plans"]), 3)

    def test_units_turn_differences_without_an_offset(self):
        f = self.document("--matters", "9 F")
        c = self.document("--matters", "5 C", "--unit", "C")
        self.assertAlmostEqual(f["matters"], 9.0)
        self.assertAlmostEqual(c["matters"], 5.0)
        for a, b in zip(f["plans"], c["plans"]):
            self.assertAlmostEqual(a["level"]["half_width"], 1.8 * b["level"]["half_width"], delta=0.01)

    def test_a_learned_pit_takes_swing_lag_and_noise_from_the_burn(self):
        learned = self.document("--from", str(SOURCE / "examples" / "hopper-tray"))
        guessed = self.document()
        self.assertTrue(learned["habits"]["learned"])
        self.assertNotEqual(learned["habits"]["lag_s"], guessed["habits"]["lag_s"])
        self.assertNotEqual(learned["plans"][0]["run"], guessed["plans"][0]["run"])

    def test_the_same_wishes_get_the_same_page(self):
        self.assertEqual(self.run_design("--fuel", "gas").stdout, self.run_design("--fuel", "gas").stdout)


unittest.main(argv=sys.argv[:1])
