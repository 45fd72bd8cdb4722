#!/usr/bin/python3
"""The live feed against a real broker. Usage: live_feed.py PITWRIGHT SCENARIO [ROUNDS]

Scenarios: versions, tls, password, restart, kill, locked, garbage, clock, file, sensors, hand, rehearsal.
"""
import json
import pathlib
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time

from broker import Broker, Feeder, wait_for

T0 = 1777741200  # 2026-05-02T17:00:00Z


def document(broker, topics, version="5", extra="", scheme="mqtt"):
    return f"""unit = "C"
[[mqtt]]
name = "yard"
broker = "{scheme}://localhost:{broker.port}"
version = "{version}"
client = "pitwright-test"
{extra}
""" + "".join(f"[[mqtt.topic]]\n{topic}\n" for topic in topics)


STAMPED = 'topic = "pit/json"\ntime = "/t"\nchannels = { A1 = "/a1", A2 = "/probes/1" }'
NUMBERS = 'topic = "pit/+/temp"\nchannel = "{2}"'


def stamped(second, a1=110.5, a2=121.0):
    return json.dumps({"t": T0 + second, "a1": a1, "probes": [0, a2]})


def equal(got, wanted, what):
    if got != wanted:
        raise AssertionError(f"{what}: {got!r}, not {wanted!r}")


def said(feeder, words, seconds=10):
    wait_for(lambda: words in feeder.said(), seconds, lambda: f"'{words}' was never said: {feeder.said()}")


class Scene:
    """A folder and what runs in it; all is ended at the end."""

    def __init__(self, pitwright):
        self.pitwright = pitwright
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="feed-"))
        self.running = []

    def __enter__(self):
        return self

    def __exit__(self, *problem):
        for one in reversed(self.running):
            if isinstance(one, Feeder):
                if one.process and one.process.poll() is None:
                    one.kill()
            else:
                one.stop()
        shutil.rmtree(self.folder, ignore_errors=True)

    def broker(self, lines=(), client_options=()):
        self.running.append(Broker(self.folder, lines, client_options))
        return self.running[-1]

    def feeder(self, text):
        self.running.append(Feeder(self.pitwright, self.folder, text))
        return self.running[-1]


def versions(pitwright, _):
    """Both versions; every payload shape; duplicates and disorder stored once."""
    for version in ("3.1.1", "5"):
        with Scene(pitwright) as scene:
            broker = scene.broker()
            feeder = scene.feeder(document(broker, [
                STAMPED, NUMBERS,
                'topic = "pit/list"\neach = "$.readings[*]"\nname = "/probe"\nvalue = "$.temp"\nunit = "F"',
                'topic = "pit/lines"\nunit = "C"',
                'topic = "pit/cells"\ncolumns = ["time", "C1", "-", "C2"]\npayload = "csv"'], version)).start()
            order = list(range(200))
            random.Random(1).shuffle(order)
            broker.publish("pit/json", [stamped(s, 100 + s / 10, 120 - s / 10) for s in order + order[:50]])
            broker.publish("pit/P7/temp", ["225.5", "107 F", "---"])
            broker.publish("pit/list", [json.dumps({"time": "2026-05-02T12:00:00-05:00", "readings": [
                {"probe": "L1", "temp": 212}, {"probe": "L2", "temp": "32"}]})])
            broker.publish_bytes("pit/lines", b'{"ts": 1777741200123, "D1": 88.5}\n{"ts": 1777741201123, "D1": null}\n')
            broker.publish("pit/cells", ["2026-05-02 17:00:00,90.5,x,91.5"])
            feeder.wait_count(400 + 3 + 2 + 2 + 2)
            got = feeder.samples()
            equal(len(got), 409, f"MQTT {version}: readings")
            for s in order:
                equal(got["A1", (T0 + s) * 10**6], 100 + s / 10, "A1")
                equal(got["A2", (T0 + s) * 10**6], 120 - s / 10, "A2")
            equal(got["L1", T0 * 10**6], 100.0, "212 F")
            equal(got["L2", T0 * 10**6], 0.0, "32 F in a text")
            equal(got["D1", T0 * 10**6 + 123000], 88.5, "milliseconds")
            equal(got["D1", T0 * 10**6 + 1123000], None, "null is missing")
            equal((got["C1", T0 * 10**6], got["C2", T0 * 10**6]), (90.5, 91.5), "cells")
            plain = sorted(value for (name, _), value in got.items() if name == "P7" and value is not None)
            equal([round(value, 6) for value in plain], [41.666667, 225.5], "plain numbers, one with its unit")
            equal(feeder.stop(), 0, "exit status after SIGTERM")
            said(feeder, "ended: 409 stored, 100 there already")


def certificates(folder):
    """A certificate authority and a broker's certificate for localhost."""
    def openssl(*words):
        subprocess.run(["openssl", *words], cwd=folder, check=True, capture_output=True)
    openssl("req", "-x509", "-newkey", "rsa:2048", "-nodes", "-keyout", "ca.key", "-out", "ca.pem", "-days", "2",
            "-subj", "/CN=test authority")
    openssl("req", "-newkey", "rsa:2048", "-nodes", "-keyout", "broker.key", "-out", "broker.csr", "-subj",
            "/CN=localhost")
    (folder / "names").write_text("subjectAltName=DNS:localhost\n", encoding="utf-8")
    openssl("x509", "-req", "-in", "broker.csr", "-CA", "ca.pem", "-CAkey", "ca.key", "-CAcreateserial", "-days", "2",
            "-out", "broker.pem", "-extfile", "names")


def tls(pitwright, _):
    """Encrypted; a broker whose certificate another authority signed is not spoken to."""
    with Scene(pitwright) as scene:
        certificates(scene.folder)
        other = scene.folder / "other"
        other.mkdir()
        certificates(other)
        broker = scene.broker([f"certfile {scene.folder}/broker.pem", f"keyfile {scene.folder}/broker.key"],
                              ["--cafile", str(scene.folder / "ca.pem")])
        for version in ("3.1.1", "5"):
            feeder = scene.feeder(document(broker, [STAMPED], version, 'ca = "ca.pem"', "mqtts")).start()
            count = feeder.count()
            first = 1000 if version == "5" else 0
            broker.publish("pit/json", [stamped(first + s) for s in range(300)])
            feeder.wait_count(count + 600)
            equal(feeder.stop(), 0, "exit status")
        feeder = scene.feeder(document(broker, [STAMPED], "5", 'ca = "other/ca.pem"', "mqtts")).start("TLS failed")
        if "listening" in feeder.said().rsplit("TLS failed", 1)[1]:
            raise AssertionError("spoke with a broker it must not trust")
        equal(feeder.stop(), 0, "exit status")


def password(pitwright, _):
    """User and password from a file or the environment; refused without; told of a file that others can read."""
    with Scene(pitwright) as scene:
        subprocess.run(["mosquitto_passwd", "-b", "-c", str(scene.folder / "users"), "pit", "open sesame"], check=True,
                       capture_output=True)
        broker = scene.broker(["allow_anonymous false", f"password_file {scene.folder}/users"],
                              ["-u", "pit", "-P", "open sesame"])
        secret = scene.folder / "secret"
        secret.write_text("open sesame\n", encoding="utf-8")
        secret.chmod(0o644)
        feeder = scene.feeder(document(broker, [STAMPED], "5", 'user = "pit"\npassword_file = "secret"')).start()
        said(feeder, "others can read")
        broker.publish("pit/json", [stamped(0)])
        feeder.wait_count(2)
        feeder.stop()
        feeder = scene.feeder(document(broker, [STAMPED], "3.1.1", 'user = "pit"\npassword_env = "PIT_SECRET"'))
        feeder.start(env={"PIT_SECRET": "open sesame"})
        broker.publish("pit/json", [stamped(1)])
        feeder.wait_count(4)
        feeder.stop()
        for version in ("3.1.1", "5"):
            feeder = scene.feeder(document(broker, [STAMPED], version)).start("see 'user' and 'password_file'")
            feeder.stop()
        done = subprocess.run([pitwright, "feed", str(feeder.file), "--burn", "b", "--database", str(feeder.database)],
                              env={}, capture_output=True, text=True, check=False, timeout=20) \
            if feeder.file.write_text(document(broker, [STAMPED], "5", 'user = "pit"\npassword_env = "NOT_THERE"')) \
            else None
        equal(done.returncode, 2, "exit status without the variable")
        if "NOT_THERE" not in done.stdout + done.stderr:
            raise AssertionError(done.stdout + done.stderr)


def restart(pitwright, _):
    """The broker goes away and comes back; a full stop of the feeder in between loses nothing."""
    with Scene(pitwright) as scene:
        broker = scene.broker()
        feeder = scene.feeder(document(broker, [STAMPED, NUMBERS])).start()
        broker.publish("pit/json", [stamped(s) for s in range(100)])
        feeder.wait_count(200)
        broker.stop()
        said(feeder, "trying again")
        broker.start()
        wait_for(lambda: feeder.said().count("listening") == 2, 20, feeder.said)
        broker.publish("pit/json", [stamped(s) for s in range(100, 200)])
        feeder.wait_count(400)
        equal(feeder.stop(), 0, "exit status")
        broker.publish("pit/json", [stamped(s) for s in range(200, 300)])  # kept by the broker's session
        broker.publish("pit/P/temp", ["100"] * 50)
        broker.stop()
        broker.start()
        feeder.start()
        feeder.wait_count(650)
        time.sleep(0.3)
        equal(feeder.count(), 650, "readings over it all")


def kill(pitwright, rounds):
    """kill -9 in the middle, again and again: what the broker was told is stored is stored, and once."""
    with Scene(pitwright) as scene:
        broker = scene.broker()
        luck = random.Random(7)
        feeder = scene.feeder(document(broker, [STAMPED, NUMBERS]))
        sent_stamped = sent_numbers = 0
        interrupted = 0
        feeder.start()
        for number in range(rounds):
            each = 4000
            with_stamps, without = broker.publisher("pit/json"), broker.publisher("pit/P/temp")
            lines = "".join(stamped(sent_stamped + s, 100 + s % 7) + "\n" for s in range(each)).encode()
            plain = "".join(f"{100 + s % 3}\n" for s in range(each)).encode()
            before = feeder.count()
            with_stamps.stdin.write(lines)
            with_stamps.stdin.close()
            without.stdin.write(plain)
            without.stdin.close()
            sent_stamped += each
            sent_numbers += each
            share = luck.uniform(0.02, 0.5)
            until = time.monotonic() + 20
            while feeder.count() < before + share * 3 * each and time.monotonic() < until:
                time.sleep(0.0005)
            time.sleep(luck.uniform(0, 0.03))  # anywhere between reading, storing and acknowledging
            feeder.kill()
            interrupted += feeder.count() < before + 3 * each
            equal((with_stamps.wait(60), without.wait(60)), (0, 0), "publishers")
            feeder.start()
            if number % 10 == 9:
                feeder.wait_count(2 * sent_stamped + sent_numbers, 60)
        wanted = 2 * sent_stamped + sent_numbers
        feeder.wait_count(wanted, 60)
        time.sleep(0.5)
        equal(feeder.stop(), 0, "exit status")
        got = feeder.samples()
        equal(sum(name == "P" for name, _ in got), sent_numbers, "readings without a stamp")
        equal(sum(name in ("A1", "A2") for name, _ in got), 2 * sent_stamped, "readings with stamps")
        equal(len(got), wanted, "readings")
        for s in range(sent_stamped):
            equal(got["A1", (T0 + s) * 10**6], 100 + s % 4000 % 7, "value")
        if interrupted < rounds / 2:
            raise AssertionError(f"only {interrupted} of {rounds} kills came in the middle: the test shows nothing")
        print(f"{rounds} kills, {interrupted} in the middle; {wanted} readings, none lost, none twice")


def locked(pitwright, _):
    """Another process holds the database: the feed waits, acknowledges nothing, and goes on where it was."""
    with Scene(pitwright) as scene:
        broker = scene.broker()
        feeder = scene.feeder(document(broker, [STAMPED], "3.1.1")).start()
        broker.publish("pit/json", [stamped(s) for s in range(10)])
        feeder.wait_count(20)
        holder = sqlite3.connect(feeder.database, isolation_level=None)
        holder.execute("BEGIN IMMEDIATE")
        before = rss(feeder)
        broker.publish("pit/json", [stamped(s) for s in range(10, 20_000)])
        said(feeder, "the store does not take readings", 20)
        equal(feeder.count(), 20, "readings while it is locked")
        if rss(feeder) - before > 10_000:
            raise AssertionError(f"memory grew from {before} to {rss(feeder)} kB")
        holder.execute("ROLLBACK")
        holder.close()
        said(feeder, "the store takes readings again", 20)
        feeder.wait_count(40_000)
        equal(feeder.count(), 40_000, "readings")
        equal(feeder.stop(), 0, "exit status")


def garbage(pitwright, _):
    """Whatever comes costs that message, is said once, and memory stays as it is."""
    with Scene(pitwright) as scene:
        broker = scene.broker()
        feeder = scene.feeder(document(broker, [STAMPED, NUMBERS, 'topic = "any/#"'])).start()
        luck = random.Random(3)
        for size in (1, 10, 1000, 100_000):
            broker.publish_bytes("any/bytes", bytes(luck.randrange(256) for _ in range(size)))
        broker.publish_bytes("any/deep", b"[" * 500_000)
        broker.publish_bytes("any/deep", b"[" * 400_000 + b"]" * 400_000)
        broker.publish_bytes("any/deep", b'{"a":' * 100_000 + b"1" + b"}" * 100_000)
        broker.publish_bytes("any/long", b'{"A9": 1' + b" " * 3_000_000 + b"}")
        broker.publish("pit/json", ["{}", "[]", "null", "true", '"x"', '{"t": "never", "a1": 5, "probes": []}',
                                    '{"t": 99999999999999999999, "a1": 1e999, "probes": [0, 1e308]}',
                                    '{"t": 7000000000000, "a1": "", "probes": {"1": {}}}'])
        broker.publish("any/x", ["1e400", "-400", "NaN", "inf", "4000", '{"' + "n" * 1000 + '": 1}'])
        broker.publish_bytes("any/retained", b"99", options=["-r"])
        before = rss(feeder)
        for _ in range(20):
            broker.publish("any/x", [f'{{"bad{luck.random()}": "x"}}' for _ in range(200)])
        broker.publish("pit/json", [stamped(s) for s in range(100)])
        wait_for(lambda: ("A2", (T0 + 99) * 10**6) in feeder.samples(), 20, feeder.said)
        if feeder.process.poll() is not None:
            raise AssertionError("it died: " + feeder.said())
        said(feeder, "longer than")
        said(feeder, "could not be read")
        if rss(feeder) - before > 30_000:
            raise AssertionError(f"memory grew from {before} to {rss(feeder)} kB")
        good = {s for (name, s) in feeder.samples() if name == "A1" and s >= T0 * 10**6}
        if len([s for s in good if s < (T0 + 100) * 10**6]) != 100:
            raise AssertionError("the good readings are not all there")
        equal(feeder.stop(), 0, "exit status")
        feeder.start()  # a new subscription in 3.1.1, an old one in 5: retained messages have no time
        equal(feeder.stop(), 0, "exit status")


def rss(feeder):
    for line in open(f"/proc/{feeder.process.pid}/status", encoding="utf-8"):
        if line.startswith("VmRSS"):
            return int(line.split()[1])
    return 0


def clock(pitwright, _):
    """A source's clock goes back an hour: told, noted in the burn, everything kept, nothing overwritten."""
    with Scene(pitwright) as scene:
        broker = scene.broker()
        feeder = scene.feeder(document(broker, [STAMPED])).start()
        now = int(time.time()) - T0
        broker.publish("pit/json", [stamped(now - 7200 + 10 * s) for s in range(720)])
        broker.publish("pit/json", [stamped(now - 3600 + 10 * s + 1) for s in range(20)])
        feeder.wait_count(2 * 740)
        said(feeder, "stamps went back 0:59:")
        wait_for(feeder.notes, 5, lambda: "no note in the burn")
        equal(len([note for note in feeder.notes() if "went back" in note]), 1, "notes")
        # The same stamps with other values: the first stays, and it is said.
        broker.publish("pit/json", [stamped(now - 3600 + 10 * s + 1, a1=99) for s in range(5)])
        said(feeder, "another value has already; the first one stays")
        broker.publish("pit/json", [stamped(int(time.time()) - T0 + 3600)])
        said(feeder, "ahead of this computer's clock")
        equal(feeder.samples()["A1", (T0 + now - 3600 + 1) * 10**6], 110.5, "the first value")
        feeder.stop()


def file(pitwright, _):
    """A growing log: partial lines, rotation, kill -9 and a restart; every row once."""
    with Scene(pitwright) as scene:
        log = scene.folder / "pit.csv"
        feeder = scene.feeder('unit = "F"\n[[file]]\nname = "log"\nfile = "pit.csv"\n')

        def rows(first, last):
            return "".join(f"{time.strftime('%Y-%m-%dT%H:%M:%SZ', time.gmtime(T0 + s))},{212 + 18 * (s % 5)},32\n"
                           for s in range(first, last))
        log.write_text("time,A,B\n" + rows(0, 50), encoding="utf-8")
        feeder.start(ready="a new burn")
        feeder.wait_count(100)
        text = rows(50, 100)
        for at in range(0, len(text), 701):  # in pieces that end anywhere
            with open(log, "a", encoding="utf-8") as out:
                out.write(text[at:at + 701])
            time.sleep(0.03)
        feeder.wait_count(200)
        feeder.kill()
        with open(log, "a", encoding="utf-8") as out:
            out.write(rows(100, 150))
        log.rename(scene.folder / "pit.csv.1")
        log.write_text("time,A,B,C\n" + rows(150, 200).replace(",32\n", ",32,50\n"), encoding="utf-8")
        feeder.start(ready=None)
        feeder.wait_count(450)
        time.sleep(0.6)
        got = feeder.samples()
        equal(len(got), 450, "readings")
        equal(round(got["A", (T0 + 101) * 10**6], 9), 110.0, "230 F")
        equal(got["C", (T0 + 150) * 10**6], 10.0, "an appended column")
        equal(feeder.stop(), 0, "exit status")


def sensors(pitwright, _):
    """Thermometers of a made-up sysfs tree; one fails and comes back, the others go on."""
    with Scene(pitwright) as scene:
        for device, text in (("28-01", "107500\n"), ("28-02", "broken\n")):
            folder = scene.folder / "sys/bus/w1/devices" / device
            folder.mkdir(parents=True)
            (folder / "temperature").write_text(text, encoding="utf-8")
        feeder = scene.feeder('[[sensors]]\nroot = "sys"\nevery = "0.1 s"\n[[channel]]\nfrom = "28-01"\nname = "A1"\n')
        feeder.start(ready="shows no number")
        feeder.wait_count(5)
        equal({name for name, _ in feeder.samples()}, {"A1"}, "channels")
        (scene.folder / "sys/bus/w1/devices/28-02/temperature").write_text("20000\n", encoding="utf-8")
        said(feeder, "no [[channel]] names '28-02'; stored under this name")
        wait_for(lambda: "28-02" in {name for name, _ in feeder.samples()}, 10, feeder.said)
        equal(feeder.said().count("shows no number"), 1, "troubles said")
        equal(feeder.stop(), 0, "exit status")


def hand(pitwright, _):
    """Readings typed at the terminal; the end of the input ends the command."""
    with Scene(pitwright) as scene:
        feeder = scene.feeder('unit = "F"\n[[hand]]\n').start(ready=None, stdin=subprocess.PIPE)
        feeder.process.stdin.write(b"left front 212\nnonsense\nleft front 100 C at 2026-05-02T17:00:00Z\n")
        feeder.process.stdin.close()
        equal(feeder.process.wait(20), 0, "exit status")
        got = feeder.samples()
        equal(len(got), 2, "readings")
        equal(got["left front", T0 * 10**6], 100.0, "the one with a time")
        said(feeder, "nonsense")


def rehearsal(pitwright, _):
    """A made-up burn, played to a broker, arrives whole; memory and queue stay small."""
    with Scene(pitwright) as scene:
        broker = scene.broker()
        feeder = scene.feeder(document(broker, ['topic = "burn"\neach = "/readings"\nname = "/channel"\nvalue = "/value"']))
        feeder.start()
        done = subprocess.run([pitwright, "rehearse", "long-barrel", "--plan", "A B", "--dwell", "20min", "--lead", "5min",
                               "--live", "--speed", "2000", "--mqtt", f"mqtt://127.0.0.1:{broker.port}/burn"],
                              capture_output=True, text=True, check=False, timeout=60)
        equal(done.returncode, 0, done.stdout + done.stderr)
        directory = scene.folder / "made"
        subprocess.run([pitwright, "rehearse", "long-barrel", "--plan", "A B", "--dwell", "20min", "--lead", "5min", "-o",
                        str(directory)], check=True, capture_output=True, timeout=60)
        wanted = 0
        for log in directory.glob("*.csv"):
            rows = log.read_text(encoding="utf-8").splitlines()
            wanted += (len(rows) - 1) * (len(rows[0].split(",")) - 1)
        feeder.wait_count(wanted)
        time.sleep(0.3)
        equal(feeder.count(), wanted, "readings")
        if "ahead" in feeder.said() or "went back" in feeder.said():
            raise AssertionError(feeder.said())
        equal(feeder.stop(), 0, "exit status")
        for wrong, words in ((["--speed", "0"], "--speed"), (["--mqtt", "http://x/y"], "--mqtt"), ([], "--live needs")):
            given = wrong if "--mqtt" in wrong or not wrong else [*wrong, "--mqtt", f"mqtt://127.0.0.1:{broker.port}/b"]
            done = subprocess.run([pitwright, "rehearse", "long-barrel", "--dwell", "2min", "--live", *given],
                                  capture_output=True, text=True, check=False, timeout=60)
            equal((done.returncode, words in done.stderr), (2, True), done.stderr)


SCENARIOS = {one.__name__: one for one in (versions, tls, password, restart, kill, locked, garbage, clock, file, sensors, hand,
                                           rehearsal)}

if __name__ == "__main__":
    SCENARIOS[sys.argv[2]](sys.argv[1], int(sys.argv[3]) if len(sys.argv) > 3 else 3)
    print(sys.argv[2], "in order")
