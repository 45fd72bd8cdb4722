"""A private mosquitto for tests: a free port, a temporary folder, ended by its process id."""
import os
import pathlib
import shutil
import signal
import socket
import sqlite3
import subprocess
import time

MOSQUITTO = shutil.which("mosquitto") or "/usr/sbin/mosquitto"


def free_port():
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


def listens(port):
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=1):
            return True
    except OSError:
        return False


class Broker:
    """Keeps sessions and their messages in its folder, so that it can be stopped and started again."""

    def __init__(self, folder, lines=(), client_options=()):
        self.folder = pathlib.Path(folder) / "broker"
        self.folder.mkdir(parents=True)
        self.lines = lines
        self.client_options = list(client_options)
        self.process = None
        self.port = None
        for _ in range(5):
            self.port = free_port()
            if self.start():
                return
        raise RuntimeError("mosquitto does not start: " + self.log())

    def start(self):
        user = subprocess.run(["id", "-un"], capture_output=True, text=True, check=True).stdout.strip()
        lines = [f"listener {self.port} 127.0.0.1", "persistence true", f"persistence_location {self.folder}/",
                 "autosave_interval 1800", "max_queued_messages 0", f"user {user}", *self.lines]
        if not any(line.startswith("allow_anonymous") for line in self.lines):
            lines.append("allow_anonymous true")
        (self.folder / "mosquitto.conf").write_text("\n".join(lines) + "\n", encoding="utf-8")
        with open(self.folder / "log", "ab") as log:
            self.process = subprocess.Popen([MOSQUITTO, "-c", str(self.folder / "mosquitto.conf")],
                                            stdout=log, stderr=log)
        for _ in range(250):
            if self.process.poll() is not None:
                return False
            if listens(self.port):
                return True
            time.sleep(0.02)
        return False

    def stop(self):
        """SIGTERM: mosquitto writes its sessions down before it ends."""
        if self.process and self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
            self.process.wait(timeout=20)

    def log(self):
        path = self.folder / "log"
        return path.read_text(encoding="utf-8", errors="replace")[-2000:] if path.exists() else ""

    def publish(self, topic, payloads, qos=1, options=()):
        """One message a payload; returns once the broker has acknowledged them all."""
        text = "".join(payload + "\n" for payload in payloads)
        return self.run_publisher(["-t", topic, "-q", str(qos), "-l", *options], text.encode())

    def publish_bytes(self, topic, payload, qos=1, options=()):
        """One message that may hold anything."""
        return self.run_publisher(["-t", topic, "-q", str(qos), "-s", *options], payload)

    def run_publisher(self, options, given):
        done = subprocess.run(["mosquitto_pub", "-h", "localhost", "-p", str(self.port), *self.client_options, *options],
                              input=given, capture_output=True, timeout=120, check=False)
        if done.returncode != 0:
            raise RuntimeError(f"mosquitto_pub: {done.stderr.decode()} {self.log()}")

    def publisher(self, topic):
        """A publisher that takes lines on its standard input."""
        return subprocess.Popen(["mosquitto_pub", "-h", "localhost", "-p", str(self.port), *self.client_options,
                                 "-t", topic, "-q", "1", "-l"], stdin=subprocess.PIPE)


class Feeder:
    """`pitwright feed` at work, and a look into its database."""

    def __init__(self, pitwright, folder, document, burn="b"):
        self.pitwright, self.burn = pitwright, burn
        self.folder = pathlib.Path(folder)
        self.file = self.folder / "feed.toml"
        self.file.write_text(document, encoding="utf-8")
        self.database = self.folder / "store.db"
        self.process = None
        self.out = self.folder / "feed.out"

    def start(self, ready="listening", stdin=subprocess.DEVNULL, env=None):
        offset = self.out.stat().st_size if self.out.exists() else 0
        with open(self.out, "ab") as out:
            self.process = subprocess.Popen(
                [self.pitwright, "feed", str(self.file), "--burn", self.burn, "--database", str(self.database)],
                stdout=out, stderr=out, stdin=stdin, env={**os.environ, **(env or {})})
        if ready:
            wait_for(lambda: ready in self.said()[offset:] or self.process.poll() is not None, 15,
                     lambda: f"'{ready}' was never said: {self.said()}")
        return self

    def said(self):
        return self.out.read_text(encoding="utf-8", errors="replace") if self.out.exists() else ""

    def stop(self):
        """Ends it as a person does; gives its exit status."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(timeout=20)

    def kill(self):
        self.process.send_signal(signal.SIGKILL)
        self.process.wait(timeout=20)

    def ask(self, query, *values):

        if not self.database.exists():
            return []
        base = sqlite3.connect(f"file:{self.database}?mode=ro", uri=True, timeout=20)
        try:
            return base.execute(query, values).fetchall()
        except sqlite3.OperationalError as error:
            if "no such table" in str(error):
                return []
            raise
        finally:
            base.close()

    def count(self):
        rows = self.ask("SELECT count(*) FROM sample")
        return rows[0][0] if rows else 0

    def samples(self):
        """{(channel, microseconds): value}"""
        return {(name, at): value for name, at, value in self.ask(
            "SELECT c.name, s.at_us, s.value FROM sample s JOIN channel c ON c.burn = s.burn AND c.number = s.channel")}

    def notes(self):
        return [body for (body,) in self.ask("SELECT body FROM record WHERE kind = 'mark' OR kind = 'Mark'")] or \
               [body for (body,) in self.ask("SELECT body FROM record")]

    def wait_count(self, count, seconds=30):
        wait_for(lambda: self.count() >= count, seconds, lambda: f"{self.count()} of {count} readings: {self.said()}")


def wait_for(holds, seconds, else_say):
    until = time.monotonic() + seconds
    while not holds():
        if time.monotonic() > until:
            raise AssertionError(else_say())
        time.sleep(0.02)
