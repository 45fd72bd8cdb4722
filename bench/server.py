#!/usr/bin/python3
"""What the server stands: readings to viewers, many viewers, a large store at start.

    bench/server.py [PITWRIGHT]     (default: build/bench/app/cli/pitwright)

Prints, from a server of its own on a free port:
  1. acknowledged to visible: 1,000 readings a second posted in batches of 50, the time from the answer to
     the event that carries them, one viewer (goal: p99 under 250 ms);
  2. 200 viewers of that burn: events that arrive, memory of the server at the start and at the end;
  3. readings a second over HTTP from one client, batches of 1,000;
  4. a store of a million readings: from the start of the program to the first answer (goal: under 1 s);
  5. what looking into the store twenty times a second costs while nothing comes: share of one core with nobody
     and with one viewer there.
"""

import json
import os
import pathlib
import selectors
import socket
import sys
import threading
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests" / "http"))
from running import Running  # noqa: E402  (shared with the tests)

PITWRIGHT = sys.argv[1] if len(sys.argv) > 1 else str(ROOT / "build/bench/app/cli/pitwright")
CHANNELS = 8
ZERO = 1_800_000_000


def stamp(seconds):
    return time.strftime("%Y-%m-%dT%H:%M:%S", time.gmtime(ZERO + int(seconds))) + f".{int(seconds % 1 * 1e6):06}Z"


def light(server, name):
    spots = [{"name": f"T{c}", "channel": f"T{c}", "role": "air", "grate": "main", "x_m": 0.1 * c, "y_m": 0.2, "z_m": 0.2} for c in range(CHANNELS)]
    status, _, answer = server.ask("POST", "/api/burns", {"id": name, "title": name, "unit": "C", "matters": "5 C", "pit": None,
                                                          "spots": spots, "setting": "A", "begun": stamp(0)})
    assert status in (200, 201), answer


class Poster:
    """One connection that posts batch after batch."""

    def __init__(self, server, name):
        self.line, self.path, self.n = server.connect(), f"/api/burns/{name}/readings", 0

    def post(self, count):
        """Posts `count` readings; their last value, and when the answer came."""
        readings = []
        for _ in range(count):
            self.n += 1
            readings.append({"channel": f"T{self.n % CHANNELS}", "at": stamp(self.n // CHANNELS * 0.1), "value": 100 + self.n % 1000 / 10})
        body = json.dumps({"readings": readings, "unit": "C"})
        self.line.request("POST", self.path, body, {"Content-Type": "application/json"})
        answer = self.line.getresponse()
        text = answer.read()
        assert answer.status == 200, text
        return readings[-1]["value"], time.perf_counter()


class Viewers:
    """Streams that are read as fast as they come; counts events, and hands each to `seen`."""

    def __init__(self, server, name, count, seen=None):
        self.selector, self.events, self.seen, self.going = selectors.DefaultSelector(), 0, seen, True
        for _ in range(count):
            line = socket.create_connection(("127.0.0.1", server.port))
            line.sendall(f"GET /api/burns/{name}/live?unit=C HTTP/1.1\r\nHost: localhost\r\n\r\n".encode())
            self.selector.register(line, selectors.EVENT_READ, bytearray())
        self.thread = threading.Thread(target=self.read, daemon=True)
        self.thread.start()

    def read(self):
        while self.going:
            for key, _ in self.selector.select(timeout=0.2):
                key.data.extend(key.fileobj.recv(1 << 20))
                while (end := key.data.find(b"\n\n")) >= 0:
                    frame = bytes(key.data[:end])
                    del key.data[:end + 2]
                    if b"event: " in frame:
                        self.events += 1
                        if self.seen:
                            self.seen(frame, time.perf_counter())

    def close(self):
        self.going = False
        self.thread.join()
        for key in list(self.selector.get_map().values()):
            key.fileobj.close()


def visible(server, seconds=20):
    light(server, "visible")
    acknowledged, delays = {}, []

    def seen(frame, at):
        if b"event: latest" not in frame:
            return
        values = {one["value"] for one in json.loads(frame.split(b"data: ", 1)[1])}
        for value in list(acknowledged):
            if value in values:
                delays.append((at - acknowledged.pop(value)) * 1000)

    viewers, poster = Viewers(server, "visible", 1, seen), Poster(server, "visible")
    start = time.perf_counter()
    for batch in range(seconds * 20):
        value, at = poster.post(50)
        acknowledged[round(value, 1)] = at
        time.sleep(max(0.0, start + (batch + 1) / 20 - time.perf_counter()))
    time.sleep(0.5)
    viewers.close()
    delays.sort()
    rate = seconds * 1000 / (time.perf_counter() - start - 0.5)
    print(f"1. {rate:.0f} readings/s: acknowledged to visible p50 {delays[len(delays) // 2]:.0f} ms, p99 {delays[int(len(delays) * 0.99)]:.0f} ms, "
          f"highest {delays[-1]:.0f} ms ({len(delays)} of {seconds * 20} batches seen by their last value)")


def many_viewers(server, count=200, seconds=20):
    light(server, "many")
    before = server.resident_mb()
    viewers, poster = Viewers(server, "many", count), Poster(server, "many")
    time.sleep(1.0)
    first = server.resident_mb()
    for _ in range(seconds):
        poster.post(CHANNELS)
        time.sleep(1.0)
    last = server.resident_mb()
    viewers.close()
    print(f"2. {count} viewers, {seconds} s at 8 readings/s: {viewers.events} events arrived; server memory {before:.1f} MB before, "
          f"{first:.1f} MB with all viewers, {last:.1f} MB at the end")


def ingest(server, batches=100):
    light(server, "ingest")
    poster = Poster(server, "ingest")
    start = time.perf_counter()
    for _ in range(batches):
        poster.post(1000)
    spent = time.perf_counter() - start
    print(f"3. one client over HTTP, batches of 1,000: {batches * 1000 / spent:.0f} readings/s (with the client's own making of JSON)")
    return batches * 1000


def restart(folder, have):
    with Running(PITWRIGHT, folder=folder) as server:
        poster = Poster(server, "ingest")
        poster.n = have
        for _ in range((1_000_000 - have) // 10_000):
            poster.post(10_000)
    start = time.perf_counter()
    with Running(PITWRIGHT, folder=folder) as server:
        status, _, burns = server.ask("GET", "/api/burns")
        listed = time.perf_counter() - start
        assert status == 200
        fire_start = time.perf_counter()
        server.ask("GET", "/api/burns/ingest/fire")
        fire = time.perf_counter() - fire_start
    print(f"4. a million readings in one burn: {listed * 1000:.0f} ms from the start of the program to its list of {len(burns)} burns; "
          f"its first call {fire * 1000:.0f} ms")


def processor_s(server):
    fields = pathlib.Path(f"/proc/{server.process.pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def at_rest(server, seconds=10):
    light(server, "rest")
    shares = []
    for count in (0, 1):
        viewers = Viewers(server, "rest", count)
        time.sleep(1.0)
        before = processor_s(server)
        time.sleep(seconds)
        shares.append((processor_s(server) - before) / seconds * 100)
        viewers.close()
    print(f"5. at rest: {shares[0]:.1f} % of one core with nobody there, {shares[1]:.1f} % with one viewer")


def main():
    import tempfile
    with tempfile.TemporaryDirectory() as folder:
        with Running(PITWRIGHT, folder=folder) as server:
            visible(server)
            many_viewers(server)
            have = ingest(server)
            at_rest(server)
        restart(folder, have)


if __name__ == "__main__":
    main()
