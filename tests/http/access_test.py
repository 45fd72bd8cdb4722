#!/usr/bin/python3
"""Who may do what: beyond this machine a token is asked for, and roles hold.

    tests/http/access_test.py PITWRIGHT
"""

import pathlib
import subprocess
import sys
import tempfile
import unittest

from running import Running

PITWRIGHT = sys.argv.pop(1)


def invited(people, name, role):
    return subprocess.run([PITWRIGHT, "serve", "--people", people, "--invite", name, "--role", role],
                          capture_output=True, text=True, check=True).stdout.strip()


class Access(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        people = pathlib.Path(cls.folder.name) / "people.toml"
        cls.tokens = {role: invited(people, role.title(), role) for role in ("look", "tap", "own")}
        cls.server = Running(PITWRIGHT, "--people", people, "--name", "pit.example").__enter__()

    @classmethod
    def tearDownClass(cls):
        cls.server.__exit__()
        cls.folder.cleanup()

    def status(self, method, path, role=None, body=None, **headers):
        if role:
            headers["Authorization"] = "Bearer " + self.tokens[role]
        return self.server.ask(method, path, body, headers)[0]

    def test_roles_hold(self):
        burn = {"id": "b", "title": "", "unit": "F", "matters": "10 F", "begun": "2026-05-02T12:00:00Z"}
        tap = [{"id": "t", "what": "split", "at": "2026-05-02T12:00:00Z"}]
        self.assertEqual([self.status("GET", "/api/burns", role) for role in (None, "look", "tap", "own")], [401, 200, 200, 200])
        self.assertEqual([self.status("POST", "/api/burns", role, burn) for role in (None, "look", "tap", "own")], [401, 403, 403, 201])
        self.assertEqual([self.status("POST", "/api/burns/b/taps", role, tap) for role in (None, "look", "tap", "own")], [401, 403, 200, 200])
        entry = [{"id": "e", "what": "action", "by": "AB", "text": "probed"}]
        self.assertEqual([self.status("POST", "/api/burns/b/book/entries", role, entry) for role in (None, "look", "tap")], [401, 403, 404], "404: no piece")
        self.assertEqual(self.status("GET", "/metrics"), 401)
        self.assertEqual(self.status("GET", "/api/health"), 200, "health asks for nobody")
        self.assertEqual(self.status("GET", "/"), 200, "the page that asks for the token")

    def test_a_cookie_carries_the_token(self):
        status, headers, me = self.server.ask("POST", "/api/enter", {"token": self.tokens["tap"]})
        self.assertEqual((status, me), (200, {"name": "Tap", "role": "tap"}))
        cookie = headers["Set-Cookie"]
        for word in ("HttpOnly", "SameSite=Strict"):
            self.assertIn(word, cookie)
        self.assertEqual(self.status("GET", "/api/me", Cookie=cookie.split(";")[0]), 200)

    def test_host_and_origin(self):
        self.assertEqual(self.status("GET", "/api/burns", "own", Host="pit.example"), 200)
        self.assertEqual(self.status("GET", "/api/burns", "own", Host="evil.example"), 400)
        self.assertEqual(self.status("POST", "/api/leave", "own", Origin="http://evil.example"), 403)

    def test_guessing_is_barred(self):
        with Running(PITWRIGHT, "--people", pathlib.Path(self.folder.name) / "people.toml") as server:
            found = [server.ask("POST", "/api/enter", {"token": f"guess {n}"})[0] for n in range(12)]
            self.assertEqual(found, [401] * 10 + [429] * 2)

    def test_headers_guard_the_browser(self):
        for path in ("/", "/api/health", "/api/burns"):
            headers = self.server.ask("GET", path)[1]
            self.assertIn("default-src 'none'", headers["Content-Security-Policy"], path)
            self.assertNotIn("unsafe", headers["Content-Security-Policy"], path)
            self.assertEqual(headers["X-Content-Type-Options"], "nosniff", path)

    def test_what_is_too_large_is_refused(self):
        line = self.server.connect()
        line.putrequest("POST", "/api/burns")
        line.putheader("Content-Length", str(5 << 20))
        line.endheaders()  # refused before a byte of it is sent
        self.assertEqual(line.getresponse().status, 413)
        line.close()

    def test_open_to_others_without_people_is_refused(self):
        done = subprocess.run([PITWRIGHT, "serve", "--host", "0.0.0.0", "--port", "0", "--database", f"{self.folder.name}/x.db"],
                              capture_output=True, text=True, check=False)
        self.assertEqual(done.returncode, 2)
        self.assertIn("--people", done.stderr)


if __name__ == "__main__":
    unittest.main()
