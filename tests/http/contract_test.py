#!/usr/bin/python3
"""The server keeps to docs/reference/api.openapi.json: every operation is asked for, and every answer held
against its schema.

    tests/http/contract_test.py PITWRIGHT
"""

import json
import pathlib
import re
import subprocess
import sys
import unittest

from jsonschema import Draft202012Validator, RefResolver

from running import Events, Running

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
REFERENCE = ROOT / "docs" / "reference"
CONTRACT = json.loads((REFERENCE / "api.openapi.json").read_text(encoding="utf-8"))
PITWRIGHT = sys.argv.pop(1)
BEGUN = "2026-05-02T12:00:00-05:00"


def resolver():
    store = {(REFERENCE / file.name).as_uri(): json.loads(file.read_text(encoding="utf-8"))
             for file in REFERENCE.glob("*.json")}
    return RefResolver((REFERENCE / "api.openapi.json").as_uri(), CONTRACT, store=store)


def operation_of(method, path):
    """The contract's path and operation for a request."""
    bare = path.split("?")[0]
    for pattern, item in CONTRACT["paths"].items():
        if re.fullmatch(re.sub(r"\{[a-z]+\}", "[^/]+", pattern), bare) and method.lower() in item:
            return pattern, item[method.lower()]
    raise AssertionError(f"{method} {bare} is not in the contract")


def schema_of(operation, status):
    """The JSON schema of an answer; None where it is no JSON."""
    told = operation["responses"].get(str(status)) or operation["responses"]["default"]
    if "$ref" in told:
        told = CONTRACT["components"]["responses"][told["$ref"].rsplit("/", 1)[1]]
    return told.get("content", {}).get("application/json", {}).get("schema")


def printed_rules():
    """How many rules `pitwright book --rules` names: two blanks, a name, a colon."""
    text = subprocess.run([PITWRIGHT, "book", "--rules"], check=True, capture_output=True, text=True).stdout
    return len(re.findall(r"^  \S", text, re.M))


class Contract(unittest.TestCase):
    asked = set()

    @classmethod
    def setUpClass(cls):
        cls.server = Running(PITWRIGHT).__enter__()
        cls.resolver = resolver()
        cls.ask_well(cls, "POST", "/api/demo", {"live": False, "speed": 60})
        subprocess.run([PITWRIGHT, "keep", str(ROOT / "examples" / "overnight"), "--database", cls.server.database], check=True,
                       stdout=subprocess.DEVNULL)

    @classmethod
    def tearDownClass(cls):
        cls.server.__exit__()
        missed = {(method, path) for path, item in CONTRACT["paths"].items() for method in item
                  if method in ("get", "post", "put", "patch", "delete")} - cls.asked
        assert not missed, f"never asked for: {sorted(missed)}"

    def ask(self, method, path, body=None, headers=None):
        status, found, content = self.server.ask(method, path, body, headers)
        pattern, operation = operation_of(method, path)
        self.asked.add((method.lower(), pattern))
        schema = schema_of(operation, status)
        if schema is not None:
            mistakes = [f"/{'/'.join(map(str, one.absolute_path))}: {one.message}"
                        for one in Draft202012Validator(schema, resolver=self.resolver).iter_errors(content)]
            assert not mistakes, f"{method} {path} ({status}): {mistakes[:5]}"
        return status, found, content

    def ask_well(self, method, path, body=None, headers=None):
        status, _, content = self.ask(self, method, path, body, headers) if isinstance(self, type) else self.ask(method, path, body, headers)
        assert 200 <= status < 300, f"{method} {path}: {status} {content}"
        return content

    def light(self, name):
        spots = [{"name": spot, "channel": spot, "role": "air", "grate": "main", "x_m": x, "y_m": 0.2, "z_m": 0.2}
                 for spot, x in (("left", 0.1), ("right", 0.6))]
        return self.ask_well("POST", "/api/burns", {"id": name, "title": "A try", "unit": "F", "matters": "10 F", "pit": None,
                                                    "spots": spots, "setting": "A", "begun": BEGUN})

    def test_who_and_whether(self):
        self.assertEqual(self.ask_well("GET", "/api/me")["role"], "own")
        self.assertEqual(self.ask_well("GET", "/api/health")["status"], "ok")
        self.assertIn("# EOF", self.ask_well("GET", "/metrics").decode())
        self.ask_well("POST", "/api/enter", {"token": "any"})
        self.ask_well("POST", "/api/leave")

    def test_a_kept_burn_is_told_whole(self):
        burn = self.ask_well("GET", "/api/burns/practice?unit=C")
        self.assertEqual(burn["unit"], "C")
        self.assertEqual(len(burn["stints"]), 4)
        self.assertIn("practice", [one["id"] for one in self.ask_well("GET", "/api/burns")])
        self.ask_well("GET", "/api/burns/practice/fire")
        self.ask_well("GET", "/api/burns/practice/samples?buckets=50&unit=C")
        self.ask_well("GET", "/api/burns/practice/taps")
        for query in ("", "?unit=C", "?without_spot=L1", "?without_stint=1", "?at=2026-05-02T13:10:00-05:00"):
            self.ask_well("GET", "/api/burns/practice/call" + query)

    def test_differences_turn_as_differences(self):
        in_f = self.ask_well("GET", "/api/burns/practice/call?unit=F")
        in_c = self.ask_well("GET", "/api/burns/practice/call?unit=C")
        change = [doc["level"]["changes"][0]["value"] for doc in (in_f, in_c)]
        self.assertAlmostEqual(change[0], change[1] * 1.8, places=2)
        level = [doc["level"]["by_setting"]["A"]["value"] for doc in (in_f, in_c)]
        self.assertAlmostEqual(level[0], level[1] * 1.8 + 32, places=2)

    def test_lay_pictures_and_sheet(self):
        self.ask_well("GET", "/api/burns/practice/lay")
        at = self.ask_well("GET", "/api/burns/practice/lay?x=0.3&y=0.2&grate=main&unit=C&wanted=120%20C")
        self.assertTrue(at["at"])
        for picture in ("lay.svg", "call.svg", "strip.svg"):
            for width in ("narrow", "wide"):
                svg = self.ask_well("GET", f"/api/burns/practice/pictures/{picture}?width={width}&unit=C").decode()
                self.assertIn("<svg", svg)
                self.assertNotIn(" style=", svg, "the content security policy forbids it")
        self.assertEqual(self.ask_well("GET", "/api/burns/practice/pictures/share.png")[:4], b"\x89PNG")
        self.assertIn("<!doctype html>", self.ask_well("GET", "/api/burns/practice/sheet").decode().lower())

    def test_a_burn_from_the_first_reading(self):
        burn = self.light("first")
        self.assertEqual([spot["name"] for spot in burn["spots"]], ["left", "right"])
        waiting = self.ask_well("GET", "/api/burns/first/fire")
        self.assertEqual(waiting["state"], "waiting")
        readings = [{"channel": spot, "at": f"2026-05-02T12:{m:02}:{s:02}-05:00", "value": 250.0 + 5 * (spot == "left")}
                    for m in range(30) for s in (0, 20, 40) for spot in ("left", "right")]
        self.assertEqual(self.ask_well("POST", "/api/burns/first/readings", {"readings": readings, "unit": "F"}),
                         {"stored": 180, "repeated": 0, "late": 0})
        again = self.ask_well("POST", "/api/burns/first/readings", {"readings": readings[:50], "unit": "F"})
        self.assertEqual(again, {"stored": 0, "repeated": 50, "late": 0})
        lines = "\n".join(json.dumps({"time": f"2026-05-02T12:30:{s:02}-05:00", "left": 255.0, "right": 250.0}) for s in range(0, 60, 20))
        self.assertEqual(self.ask_well("POST", "/api/burns/first/readings?unit=F", lines, {"Content-Type": "application/x-ndjson"})["stored"], 6)
        cells = "".join(f"2026-05-02T12:31:{s:02}-05:00,255.0,250.0\n" for s in range(0, 60, 20))
        self.assertEqual(self.ask_well("POST", "/api/burns/first/readings?unit=F&columns=time,left,right", cells, {"Content-Type": "text/csv"})["stored"], 6)
        fire = self.ask_well("GET", "/api/burns/first/fire")
        self.assertNotEqual(fire["state"], "waiting")
        self.assertEqual({one["spot"]: one["value"] for one in fire["latest"]}, {"left": 255.0, "right": 250.0})
        self.assertEqual({one["spot"]: one["runs"] for one in fire["latest"]}, {"left": 2.5, "right": -2.5})
        closed = self.ask_well("PATCH", "/api/burns/first", {"title": "A better name", "matters": "5 C", "close": True})
        self.assertEqual((closed["state"], closed["title"], closed["matters"]), ("closed", "A better name", 9.0))
        self.ask_well("GET", "/api/burns/first/call")

    def test_lighting_again_changes_nothing(self):
        self.assertEqual(self.light("twice"), self.light("twice"))

    def test_taps_are_told_once_and_taken_back(self):
        self.light("taps")
        taps = [{"id": "t1", "what": "lid", "at": "2026-05-02T12:10:00-05:00"},
                {"id": "t2", "what": "changed", "at": "2026-05-02T12:20:00-05:00", "setting": "B"},
                {"id": "t3", "what": "lid closed", "at": "2026-05-02T12:11:00-05:00"},
                {"id": "t4", "what": "reading", "at": "2026-05-02T12:12:00-05:00", "spot": "left", "value": "263 F"}]
        once = self.ask_well("POST", "/api/burns/taps/taps", taps)
        self.assertEqual(self.ask_well("POST", "/api/burns/taps/taps", taps), once)
        lids = [tap for tap in once if tap["what"] == "lid"]
        self.assertEqual([(tap["at"], tap["until"]) for tap in lids], [("2026-05-02T17:10:00Z", "2026-05-02T17:11:00Z")])
        self.assertEqual([stint["setting"] for stint in self.ask_well("GET", "/api/burns/taps")["stints"]], ["A"], "B begins after the last reading")
        fire = self.ask_well("GET", "/api/burns/taps/fire")
        self.assertEqual([one["value"] for one in fire["latest"] if one["spot"] == "left"], [263.0])
        self.assertTrue(self.ask_well("POST", "/api/burns/taps/taps/t2/undo")["undone"])
        self.assertTrue(self.ask_well("POST", "/api/burns/taps/taps/t2/undo")["undone"], "twice is once")
        self.assertEqual(self.ask("POST", "/api/burns/taps/taps/none/undo")[0], 404)

    def test_the_book_shows_every_piece_and_takes_entries_once(self):
        in_f, in_c = (self.ask_well("GET", f"/api/burns/overnight/book?unit={unit}") for unit in "FC")
        self.assertEqual([piece["piece"] for piece in in_f["pieces"]], ["P", "Q"])
        self.assertEqual((in_f["pieces"][0]["cold"], in_c["pieces"][0]["cold"]), (38.0, 3.33))
        printed = subprocess.run([PITWRIGHT, "book", "store:overnight", "--json", "--unit", "C", "--database", self.server.database],
                                 check=True, capture_output=True, text=True).stdout
        self.assertEqual(in_c, json.loads(printed), "the command line says the same")
        rules = {rule["name"] for rule in self.ask_well("GET", "/api/rules")}
        self.assertIn("poultry 165 F", rules)
        self.assertEqual(len(rules), printed_rules(), "as many as the command line names")
        entries = [{"id": "b1", "what": "reading", "by": "AB", "piece": "P", "temperature": "38 F", "text": "received", "at": "2026-05-02T12:00:00-05:00"},
                   {"id": "b2", "what": "action", "by": "AB", "piece": "P", "text": "boned"},
                   {"id": "b3", "what": "rule", "by": "AB", "piece": "Q", "text": "meat 6.5 log"},
                   {"id": "b4", "what": "reading", "by": "CD", "piece": "P", "temperature": "36 F", "corrects": 1},
                   {"id": "b5", "what": "signature", "by": "CD", "text": "seen"},
                   {"id": "b6", "what": "take back", "by": "AB", "of": 2, "why": "the other piece"}]
        book = self.ask_well("POST", "/api/burns/overnight/book/entries?unit=F", entries)
        self.assertEqual(self.ask_well("POST", "/api/burns/overnight/book/entries?unit=F", entries), book, "twice is once")
        self.assertEqual(self.ask_well("POST", "/api/burns/overnight/book/entries?unit=F", entries[3:4]), book, "a correction too")
        self.assertEqual([(one["what"], one["replaced_by"], one["taken_back"]) for one in book["entries"]],
                         [("reading", "4", False), ("action", None, True), ("rule", None, False), ("reading", None, False), ("signature", None, False)])
        self.assertEqual((book["entries"][0]["temperature"], book["entries"][0]["at"]), (38.0, "2026-05-02T12:00:00-05:00"))
        self.assertEqual([(one["temperature"], one["by"]) for one in book["pieces"][0]["written"]], [(36.0, "CD (here)")])
        self.assertEqual((book["pieces"][0]["actions"], book["pieces"][1]["rule"]), ([], "meat 6.5 log"))
        self.assertEqual([one["by"] for one in book["pieces"][1]["signatures"]], ["CD (here)"])
        self.assertEqual(self.ask("GET", "/api/burns/practice/book")[0], 404, "there is no piece in it")
        good = {"id": "b7", "what": "action", "by": "AB", "text": "one more"}
        for bad, said in (({"what": "dance"}, "what"), ({"by": " "}, "by"), ({"text": None}, "text"), ({"corrects": 9}, "no entry 9"), ({"piece": "R"}, "'R'"),
                          ({"of": 1}, "take back"), ({"corrects": 1.5}, "corrects"), ({"id": "b/7"}, "id"), ({"what": "rule", "piece": "P", "text": "luck"}, "luck"),
                          ({"what": "reading", "piece": "P", "temperature": "cold"}, "temperature"), ({"what": "take back", "of": 2, "why": "again"}, "does not stand"),
                          ({"what": "reading", "piece": None, "temperature": "38 F"}, "piece"), ({"corrects": 4}, "reading")):
            with self.subTest(bad=bad):
                status, _, content = self.ask("POST", "/api/burns/overnight/book/entries", [good, {**good, "id": "b8", **bad}])
                self.assertEqual(status, 400, content)
                self.assertIn(said, content["error"]["text"])
        self.assertEqual(self.ask("POST", "/api/burns/overnight/book/entries", [{**good, "id": "b5"}])[0], 409, "another thing under the same id")
        self.assertEqual(self.ask_well("GET", "/api/burns/overnight/book?unit=F"), book, "nothing of a bad batch was kept")

    def test_pits_are_drawn_and_drawn_again(self):
        pit = {"id": "Shed box", "name": "Shed box", "width_m": 0.9, "depth_m": 0.45, "height_m": 0.5,
               "grates": [{"name": "main", "height_m": 0.2}], "adjustments": [{"name": "damper", "positions": ["shut", "open"]}],
               "set_point": "275 F", "spots": [{"name": "left", "channel": "left", "role": "air", "grate": "main", "x_m": 0.1, "y_m": 0.2, "z_m": 0.2}]}
        self.ask_well("PUT", "/api/pits/Shed%20box", pit)
        pit["depth_m"] = 0.5
        drawn = self.ask_well("PUT", "/api/pits/Shed%20box", pit)
        self.assertEqual(drawn, self.ask_well("GET", "/api/pits/Shed%20box"))
        self.assertEqual(drawn["depth_m"], 0.5)
        self.assertEqual([spot["name"] for spot in drawn["spots"]], ["left"])
        self.assertIn(drawn, self.ask_well("GET", "/api/pits"))

    def test_what_is_wrong_is_named_and_nothing_is_kept(self):
        self.light("wrong")
        reading = {"channel": "left", "at": BEGUN, "value": 1.0}
        for method, path, body, status, said in (
                ("GET", "/api/burns/practise", None, 404, "practice"),
                ("GET", "/api/burns/practice/call?unit=K", None, 400, "F or C"),
                ("GET", "/api/burns/practice/call?at=noon", None, 400, "offset"),
                ("GET", "/api/burns/practice/call?at=1999-01-01T00:00:00Z", None, 400, "before"),
                ("GET", "/api/burns/practice/call?without_spot=Z9", None, 400, "Z9"),
                ("GET", "/api/burns/practice/call?without_stint=9", None, 400, "0 to 3"),
                ("GET", "/api/burns/practice/samples?buckets=0", None, 400, "buckets"),
                ("POST", "/api/burns", {"id": "a/b", "title": "", "unit": "F", "matters": "10 F"}, 400, "id"),
                ("POST", "/api/burns", {"id": "x", "title": "", "unit": "F", "matters": "ten"}, 400, "matters"),
                ("POST", "/api/burns", {"id": "x", "title": "", "unit": "F", "matters": "10 F", "sport": 1}, 400, "sport"),
                ("POST", "/api/burns", {"id": "x", "title": "", "unit": "F", "matters": "10 F", "pit": "none"}, 404, "none"),
                ("POST", "/api/burns/wrong/readings", {"readings": [reading, {**reading, "at": "noon"}], "unit": "F"}, 400, "readings[1]"),
                ("POST", "/api/burns/wrong/readings", {"readings": [reading], "unit": "K"}, 400, "unit"),
                ("POST", "/api/burns/practice/readings", {"readings": [reading], "unit": "F"}, 409, "kept"),
                ("POST", "/api/burns/wrong/taps", [{"id": "q", "what": "dance", "at": BEGUN}], 400, "what"),
                ("POST", "/api/burns/wrong/taps", [{"id": "q", "what": "changed", "at": BEGUN}], 400, "setting"),
                ("POST", "/api/burns/wrong/taps", [{"id": "q", "what": "reading", "at": BEGUN, "spot": "attic", "value": "200 F"}], 400, "attic"),
                ("PUT", "/api/pits/x", {"id": "x", "name": "x", "width_m": -1}, 400, "width_m"),
                ("POST", "/api/demo", {"live": True, "speed": 0}, 400, "speed")):
            with self.subTest(path=path, body=body):
                found, _, content = self.ask(method, path, body)
                self.assertEqual(found, status, content)
                self.assertIn(said, content["error"]["text"])
        self.assertEqual(self.ask_well("POST", "/api/burns/wrong/readings", {"readings": [reading], "unit": "F"})["stored"], 1, "the good one of a bad batch was not kept")
        for type_, body in (("application/json", "{"), ("text/plain", "x"), ("application/x-ndjson", "nonsense"), ("text/csv", "1,2")):
            self.assertEqual(self.ask("POST", "/api/burns/wrong/readings", body, {"Content-Type": type_})[0], 400, type_)

    def test_streams_tell_what_arrives_and_resume(self):
        self.light("stream")
        self.asked.add(("get", "/api/burns/{burn}/live"))
        events = Events(self.server, "/api/burns/stream/live?unit=C")
        self.assertEqual(events.answer.getheader("Content-Type"), "text/event-stream")
        for s in range(3):
            self.ask_well("POST", "/api/burns/stream/readings", {"readings": [{"channel": "left", "at": f"2026-05-02T12:00:0{s}-05:00", "value": 212.0}], "unit": "F"})
        seen, _, latest = events.until("latest")
        self.assertEqual([one["value"] for one in latest if one["channel"] == "left"], [100.0])
        _, _, fire = events.until("fire")
        Draft202012Validator(CONTRACT["components"]["schemas"]["Fire"], resolver=self.resolver).validate(fire)
        events.close()
        back = Events(self.server, "/api/burns/stream/live?unit=C", {"Last-Event-ID": seen})
        self.assertNotEqual(back.next()[1], "lost", "what came since is still kept")
        back.close()
        lost = Events(self.server, "/api/burns/stream/live?unit=C", {"Last-Event-ID": "5"})
        self.assertEqual(lost.next()[1], "lost")
        lost.close()

    def test_paths_and_methods_that_are_none(self):
        self.assertEqual(self.server.ask("GET", "/api/nothing")[0], 404)
        status, headers, _ = self.server.ask("DELETE", "/api/burns")
        self.assertEqual((status, headers["Allow"]), (405, "GET, POST"))
        self.assertEqual(self.server.ask("GET", "/../../etc/passwd.txt")[0], 404)
        self.assertEqual(self.server.ask("GET", "/%2e%2e/%2e%2e/etc/passwd.txt")[0], 404)
        self.assertEqual(self.server.ask("POST", "/index.html")[0], 405)


if __name__ == "__main__":
    unittest.main()
