"""A pitwright server for tests: on a free port, with a store of its own, gone with the test."""

import http.client
import json
import pathlib
import subprocess
import tempfile


class Running:
    """`with Running(pitwright) as server: server.ask("GET", "/api/me")`. `before`: words that start the program."""

    def __init__(self, pitwright, *options, folder=None, host="127.0.0.1", before=()):
        self.pitwright, self.options, self.host, self.before = pitwright, options, host, before
        self.made = tempfile.TemporaryDirectory() if folder is None else None
        self.folder = pathlib.Path(self.made.name if self.made else folder)
        self.database = self.folder / "pitwright.db"

    def __enter__(self):
        self.said, self.killed = tempfile.TemporaryFile("w+", encoding="utf-8"), False
        self.process = subprocess.Popen(
            [*self.before, self.pitwright, "serve", "--port", "0", "--host", self.host, "--database", self.database, *map(str, self.options)],
            stdout=subprocess.PIPE, stderr=self.said, text=True)
        line = self.process.stdout.readline()
        if "http://" not in line:
            self.process.wait()
            self.said.seek(0)
            raise RuntimeError(f"the server did not start: {self.said.read()}")
        self.port = int(line.split("http://")[1].split("/")[0].rsplit(":", 1)[1])
        return self

    def __exit__(self, *_):
        self.process.terminate()
        status = self.process.wait(timeout=60)
        self.process.stdout.close()
        self.said.seek(0)
        said = self.said.read()
        self.said.close()
        assert status == 0 or self.killed, f"the server ended with {status}: {said}"
        for word in ("Sanitizer", "runtime error", "made a mistake", "could not be made"):
            assert word not in said, said
        if self.made:
            self.made.cleanup()

    def kill(self):
        """As a power cut would end it: at once, nothing tidied."""
        self.killed = True
        self.process.kill()
        self.process.wait(timeout=30)

    def resident_mb(self):
        """Memory of the server, MB."""
        for line in pathlib.Path(f"/proc/{self.process.pid}/status").read_text().splitlines():
            if line.startswith("VmRSS"):
                return int(line.split()[1]) / 1024
        raise RuntimeError("the server is gone")

    def metric(self, name):
        """A number of /metrics."""
        text = self.ask("GET", "/metrics")[2].decode()
        return float(next(line.split()[1] for line in text.splitlines() if line.startswith(name + " ")))

    def connect(self, timeout=60):
        return http.client.HTTPConnection("127.0.0.1", self.port, timeout=timeout)

    def ask(self, method, path, body=None, headers=None):
        """Status, headers and body; a body that is no bytes goes as JSON, and JSON comes back as values."""
        headers = dict(headers or {})
        if body is not None and not isinstance(body, (bytes, str)):
            body = json.dumps(body)
            headers.setdefault("Content-Type", "application/json")
        line = self.connect()
        try:
            line.request(method, path, body=body, headers=headers)
            answer = line.getresponse()
            content = answer.read()
        finally:
            line.close()
        if (answer.getheader("Content-Type") or "").startswith("application/json"):
            content = json.loads(content)
        return answer.status, answer.headers, content


class Events:
    """Reads a stream of server-sent events one by one."""

    def __init__(self, server, path, headers=None):
        self.line = server.connect(timeout=20)
        self.line.request("GET", path, headers=headers or {})
        self.answer = self.line.getresponse()

    def next(self):
        """(id, name, data) of the next event; remarks are passed over."""
        found = {}
        while True:
            text = self.answer.readline().decode().rstrip("\n")
            if not text and "event" in found:
                return found.get("id"), found["event"], json.loads(found["data"])
            if text == "":
                found = {}
                if self.answer.isclosed():
                    raise EOFError
                continue
            key, _, value = text.partition(": ")
            if key:
                found[key] = value

    def until(self, name, most=200):
        for _ in range(most):
            event = self.next()
            if event[1] == name:
                return event
        raise AssertionError(f"no event '{name}' in {most}")

    def close(self):
        self.line.close()
