#!/usr/bin/env python3
"""Holds the working set of `checklist --format json` against an independent solution.

    compare_working.py FOLDER PROGRAM FILE...

FOLDER has working.py. Every figure of every position in which a set draws from the line agrees within 2 %
(and 1 mV or 1 uA); the last line counts what does not."""
import json
import os
import subprocess
import sys

sys.path.insert(0, sys.argv[1])
import working  # noqa: E402

KEYS = ("reference nodes line fuses resistors capacitors rectifiers heaters lamps motors windings coils tubes batteries cold").split()
ASIDE = ("ohms", "note")             # what the other solution tells of its own
SHARE, LEAST = 0.02, 1e-3
mismatches = []


def compare(where, got, want):
    if isinstance(want, dict) and isinstance(got, dict):
        for key in want.keys() - set(ASIDE) | got.keys():
            compare(f"{where}/{key}", got.get(key), want.get(key))
    elif isinstance(want, list) and isinstance(got, list) and len(got) == len(want):
        if where.endswith("cold"):
            got, want = sorted(got), sorted(want)
        for k, pair in enumerate(zip(got, want)):
            compare(f"{where}/{k}", *pair)
    elif isinstance(want, float) and isinstance(got, (int, float)):
        least = LEAST * (1000 if "milli" in where else 1)
        if abs(got - want) > SHARE * abs(want) + least:
            mismatches.append(f"{where}: {got}, not {want}")
    elif got != want:
        mismatches.append(f"{where}: {got}, not {want}")


def main(program, files):
    positions = 0
    for file in files:
        run = subprocess.run([program, "checklist", "--format", "json", file], capture_output=True, text=True, check=True)
        for one in json.loads(run.stdout)["working"]:
            words = [w for name, at in one["switches"].items() for w in ("--switch", f"{name}={at}")]
            want = working.rounded(working.work(file, working.parse([file, *words])))
            positions += 1
            compare(os.path.basename(file), {k: one[k] for k in KEYS}, {k: want[k] for k in KEYS})
    for line in mismatches[:20]:
        print(line)
    print(f"{positions} positions, {len(mismatches)} mismatches")
    return bool(mismatches) or not positions


sys.exit(main(sys.argv[2], sys.argv[3:]))
