#!/usr/bin/python3
"""rollcall_command.py PITWRIGHT SOURCE_DIR: what `pitwright rollcall` prints and refuses, from outside.

The page of the example is tests/golden/rollcall/example_F.txt (and _C); remake it, after reading it, with
    UPDATE_GOLDEN=1 tests/commands/rollcall_command.py PITWRIGHT SOURCE_DIR
"""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import tomllib
import unittest

PITWRIGHT = sys.argv[1]
SOURCE = pathlib.Path(sys.argv[2])
EXAMPLE = SOURCE / "examples" / "rollcall" / "rollcall.toml"
GOLDEN = SOURCE / "tests" / "golden" / "rollcall"
BURN = SOURCE / "examples" / "hopper-tray"


def run(*args):
    return subprocess.run([PITWRIGHT, *map(str, args)], capture_output=True, text=True, check=False)


def document(*args):
    done = run(*args, "--json")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


class RollCall(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)

    def refused(self, text):
        path = self.folder / "rollcall.toml"
        path.write_text(text, encoding="utf-8")
        done = run("rollcall", path)
        self.assertEqual((done.returncode, done.stdout), (2, ""), text)
        return done.stderr

    def test_the_pages_of_the_example_are_as_they_were_read(self):
        for unit in "FC":
            page = run("rollcall", EXAMPLE, "--unit", unit).stdout
            kept = GOLDEN / f"example_{unit}.txt"
            if os.environ.get("UPDATE_GOLDEN"):
                kept.write_text(page, encoding="utf-8")
            self.assertEqual(page.splitlines(), kept.read_text(encoding="utf-8").splitlines())
            self.assertTrue(all(len(line) <= 80 for line in page.splitlines()))

    def test_the_verdicts_of_the_example_are_those_it_was_made_for(self):
        probes = {probe["name"]: probe for probe in document("rollcall", EXAMPLE)["probes"]}
        self.assertEqual(probes["G4"]["verdict"], "keep apart")
        self.assertEqual(probes["G5"]["verdict"], "bin it")
        for name in ("G1", "G2", "G3", "spare couple", "platinum"):
            self.assertTrue(probes[name]["comparable"], name)
        self.assertAlmostEqual(probes["platinum"]["add"], 0.0, delta=1.0)
        self.assertAlmostEqual(probes["G3"]["add"], -4.5, delta=1.5)

    def test_units_turn_differences_without_an_offset(self):
        f, c = document("rollcall", EXAMPLE), document("rollcall", EXAMPLE, "--unit", "C")
        self.assertAlmostEqual(f["used_at"], c["used_at"] * 1.8 + 32, delta=0.01)
        for a, b in zip(f["probes"], c["probes"]):
            if a["add"] is not None:
                self.assertAlmostEqual(a["add"], 1.8 * b["add"], delta=0.002)
                self.assertAlmostEqual(a["uncertainty"], 1.8 * b["uncertainty"], delta=0.002)

    def test_the_lines_to_paste_are_toml_that_a_burn_takes(self):
        burn = self.folder / "burn"
        shutil.copytree(BURN, burn)
        text = (burn / "burn.toml").read_text(encoding="utf-8")
        paste = document("rollcall", EXAMPLE)["probes"][0]["paste"]
        lines = "\n".join(line[4:] for line in run("rollcall", EXAMPLE).stdout.splitlines()
                          if line.startswith("    ")).split("# G1")[1].split("# G2")[0]
        self.assertEqual(sorted(tomllib.loads(lines)), sorted(["correction", "checked"]))
        self.assertIn("correction = [", paste)
        (burn / "burn.toml").write_text(text.replace("[[probe]]", "[[probe]]\n" + lines, 1), encoding="utf-8")
        done = run("call", burn, "--explain")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertIn("Added to the readings:", done.stdout)

    def test_a_burn_takes_its_corrections_from_a_roll_call(self):
        burn = self.folder / "burn"
        shutil.copytree(BURN, burn)
        text = (burn / "burn.toml").read_text(encoding="utf-8")
        channel = tomllib.loads(text)["probe"][0]["channel"]
        (burn / "rollcall.toml").write_text(
            f'unit = "F"\ndate = 2026-04-30\n[boil]\naltitude = "0 ft"\n[[probe]]\nname = "{channel}"\n'
            "ice = [35, 35, 35]\nboil = [215, 215]\n", encoding="utf-8")
        (burn / "burn.toml").write_text('rollcall = "rollcall.toml"\n' + text, encoding="utf-8")
        page = run("logs", burn).stdout
        self.assertIn("corrections taken from 'rollcall.toml' (checked", " ".join(page.split()))
        before, after = document("call", BURN), document("call", burn)
        spots = {spot["channel"]: spot for spot in before["spots"]}
        for spot in after["spots"]:
            was, now = spots[spot["channel"]]["by_setting"]["A"], spot["by_setting"]["A"]
            if spot["channel"] == channel:
                self.assertAlmostEqual(now["value"] - was["value"], -3.0 * 5 / 6, delta=0.5)
                self.assertLess(now["probe_uncertainty"], was["probe_uncertainty"])
        for one, two in zip(before["level"]["changes"], after["level"]["changes"]):
            self.assertAlmostEqual(one["value"], two["value"], delta=0.1)
            self.assertAlmostEqual(one["high"] - one["low"], two["high"] - two["low"], delta=0.1)
        explained = " ".join(run("call", burn, "--explain").stdout.split())
        self.assertIn("(rollcall.toml, 2026-04-30)", explained)

    def test_mistakes_name_file_line_and_column(self):
        self.assertIn("rollcall.toml:3:1: unknown key 'nam' in [[probe]]",
                      self.refused('unit = "F"\n[[probe]]\nnam = "A"\n'))
        self.assertIn("rollcall.toml:4:9", self.refused('unit = "F"\n[[probe]]\nname = "A"\nice  = ["cool"]\n'))
        self.assertIn("altitude", self.refused('unit = "F"\n[[probe]]\nname = "A"\nboil = [203]\n'))
        self.assertIn("--unit", run("rollcall", EXAMPLE, "--unit", "K").stderr)
        self.assertEqual(run("rollcall", self.folder / "nowhere.toml").returncode, 1)
        self.assertEqual(run("rollcall", EXAMPLE, "--unit", "K").returncode, 2)
        self.assertEqual(run("rollcall").returncode, 2)

    def test_a_burns_log_says_what_is_wrong_with_its_thermometers(self):
        seen = document("rollcall", SOURCE / "examples" / "house-fire")
        self.assertEqual(seen["kind"], "burn")
        texts = " ".join(one["text"] for one in seen["trouble"])
        self.assertIn("dead", texts)
        self.assertGreaterEqual(len(seen["clocks"]), 1)
        page = run("rollcall", SOURCE / "examples" / "house-fire")
        self.assertEqual(page.returncode, 0)
        self.assertIn("Nobody checked any of them", " ".join(page.stdout.split()))

    def test_metal_contact_frozen_and_swapped_probes_of_a_rehearsed_burn(self):
        burn = self.folder / "tray"
        done = run("rehearse", SOURCE / "examples" / "pits" / "gas-tray.toml", "-o", burn, "--seed", "1")
        self.assertEqual(done.returncode, 0, done.stderr)
        seen = document("rollcall", burn)
        touching = [one["where"] for one in seen["trouble"] if "touching" in one["text"]]
        self.assertEqual(len(touching), 1)
        probe = next(one for one in seen["probes"] if one["channel"] == touching[0])
        self.assertLess(probe["swing_share"], 0.65)
        self.assertGreater(probe["late_s"], 10)
        texts = " ".join(one["text"] for one in seen["trouble"])
        self.assertIn("froze", texts)


unittest.main(argv=sys.argv[:1])
