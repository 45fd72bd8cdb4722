#!/usr/bin/python3
"""Writes examples/house-fire*/: three real burns from data/fsri_residential_gasburner_2016.

A burn directory holds burn.toml, the log and the events of one run, the license and how to cite.
With --check nothing is written: exits 1 and names what differs from what would be written.
Source of the house's sizes and of the sensors' type: the data set's own 02_Info/README.md.
"""
import csv
import pathlib
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
DATA = ROOT / "data" / "fsri_residential_gasburner_2016"
CEILING_M = 2.4
FIRST_SAMPLE_S = -300  # every log begins 300 s before ignition

RUNS = {  # directory: run, its door, what to call the burn
    "house-fire": ("1", "front door", "House with a gas burner: front door, then window E"),
    "house-fire-again": ("1R3", "front door", "House with a gas burner: the same once more"),
    "house-fire-back-door": ("3", "back door", "House with a gas burner: back door, then window E"),
}

HEAD = """\
# Made by tools/make_house_fire.py; do not edit by hand.
# A real burn: a gas burner of constant 250 kW in a single-story house whose door and window were
# opened at logged times. README.md says where it comes from.
title   = "{title}"
unit    = "C"
logs    = ["temps.csv"]
matters = "5 K"    # the least a person in the room would notice here; our choice

# Times below are from the first sample, {lead} s before ignition.

[pit]
name   = "single-story house"
width  = "13.9 m"
depth  = "7.7 m"
height = "{ceiling} m"
"""

README = """\
# {title}

Run {run} of "2016 Residential Gas Burner Experimental Data" (`CITATION.cff`, MIT `LICENSE`; DOI
10.5281/zenodo.5703080). A gas burner of constant 250 kW burns in a closed house for {shut} s; then the
{door} is opened, then window E (a window of bedroom 1), then the burner is turned off. `temps.csv`
holds every fifth second of the 64 thermocouples (type K) in eight rooms at eight heights,
`events.csv` the logged events, both in seconds from ignition.

The house plays the pit, its openings are the adjustments, each height is a grate (named, like the
spots, by the depth below the ceiling). Nothing was tidied: where a thermocouple is broken it stays
in, and the tool must find it. The rooms were still warming when the first door was opened: expect
"muddled".

    ./run call examples/{folder}
"""


def read(path):
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def clock(seconds_from_ignition):
    whole = seconds_from_ignition - FIRST_SAMPLE_S
    return f"{whole // 60} min {whole % 60} s"


def depth_of(channel):
    """"1.2 m" of "Bedroom 1 Temperature 1.2 m Below Ceiling"."""
    return channel.split(" Temperature ")[1].removesuffix(" Below Ceiling")


def events_of(run):
    return {row["event"]: int(row["time_s"]) for row in read(DATA / f"derived/Gas_Burner_{run}_events_s.csv")}


def grates(positions):
    heights = {depth_of(row["channel"]): row["z_m_above_floor"] for row in positions}
    for depth, height in heights.items():
        yield f'\n[[pit.grate]]\nname   = "{depth} down"\nheight = "{height} m"\n'


def probes(positions):
    for row in positions:
        room, depth = row["channel"].split(" Temperature ")[0], depth_of(row["channel"])
        yield (f'\n[[probe]]\nchannel = "{row["channel"]}"\nspot    = "{room.lower()} {depth}"\n'
               f'grate   = "{depth} down"\nx = "{row["x_m"]} m"\ny = "{row["y_m"]} m"\n')


def stints(door, events):
    opened = events[f"{door.title()} Open"]
    moments = [events["Ignition"], opened, events["Window E Open"], events["Burner Off"]]
    states = [("shut", "shut"), ("open", "shut"), ("open", "open")]
    for (door_is, window_is), begin, end in zip(states, moments, moments[1:]):
        yield (f'\n[[stint]]\nsetting = {{ "{door}" = "{door_is}", "window E" = "{window_is}" }}\n'
               f'from = "{clock(begin)}"\nto   = "{clock(end)}"\n')


def notes(events):
    for name, at in events.items():
        yield f'\n[[event]]\nat   = "{clock(at)}"\nwhat = "note"\ntext = "{name}"\n'


def burn_toml(title, run, door):
    positions, events = read(DATA / "derived/positions_single_story.csv"), events_of(run)
    adjustments = "".join(f'\n[[pit.adjustment]]\nname = "{name}"\npositions = ["shut", "open"]\n'
                          for name in (door, "window E"))
    head = HEAD.format(title=title, lead=-FIRST_SAMPLE_S, ceiling=CEILING_M)
    return head + "".join([*grates(positions), adjustments, *stints(door, events), *notes(events),
                           *probes(positions)])


def files_of(folder):
    run, door, title = RUNS[folder]
    shut = events_of(run)[f"{door.title()} Open"]
    yield "burn.toml", burn_toml(title, run, door).encode()
    yield "README.md", README.format(title=title, run=run, door=door, shut=shut, folder=folder).encode()
    for name, source in {"temps.csv": f"derived/Gas_Burner_{run}_temps_5s.csv",
                         "events.csv": f"derived/Gas_Burner_{run}_events_s.csv",
                         "LICENSE": "LICENSE", "CITATION.cff": "CITATION.cff"}.items():
        yield name, (DATA / source).read_bytes()


def main(arguments):
    if arguments not in ([], ["--check"]):
        sys.exit(__doc__)
    stale = []
    for folder in RUNS:
        for name, content in files_of(folder):
            path = ROOT / "examples" / folder / name
            if arguments:
                if not path.is_file() or path.read_bytes() != content:
                    stale.append(path)
            else:
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_bytes(content)
    for path in stale:
        print(f"{path.relative_to(ROOT)} is not what tools/make_house_fire.py makes", file=sys.stderr)
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
