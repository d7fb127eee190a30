"""Shim problems against a general-purpose solver.

Draws 50 problems, larger than a person could try by hand, with full-length packs and packs that
differ from bolt to bolt on one shelf. Solves each as a mixed-integer program with HiGHS
(scipy.optimize.milp), and holds `gapwright pack --json` against it: whether there is an answer, how
far the worst station ends from its target, and for a single pack how many shims move.

    python3 packs_highs.py target/release/gapwright

Needs scipy 1.17.1 or newer. The last line says how many agree; any difference ends with 1.
"""

import json
import math
import random
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

CASES = 50
THICKNESSES_UM = [50, 100, 150, 200, 250, 300, 400, 500, 600, 750, 1000, 1500, 2000]
# Both round to whole nanometres, and HiGHS works to 1e-6 relative.
NEAR_MM = 5e-6


def draw(rng):
    scarce = rng.random() < 0.4
    shelf = [(t, rng.randint(0, 2) if scarce else 10) for t in THICKNESSES_UM]
    blades = []
    for number in range(rng.choice([1, 1, 2, 3, 4, 6])):
        if rng.random() < 0.3:
            blades += at_bolts(rng, f"blade {number + 1}")
            continue
        base = rng.randint(150, 2400)
        spread = rng.choice([40, 80, 110])
        blades.append(
            {
                "name": f"blade {number + 1}",
                "bolts": None,
                "step": None,
                "angle": rng.choice([0.0, 5.0, 10.0, 30.0]),
                "most": rng.randint(2, 6),
                "thickest": rng.choice([1500, 2000, 3000]),
                "pack": [rng.choice(THICKNESSES_UM[:8]) for _ in range(rng.randint(0, 3))],
                "gaps": [max(10, base + rng.randint(-spread, spread)) for _ in range(rng.randint(2, 4))],
            }
        )
    return shelf, blades


def at_bolts(rng, name):
    """A tapered blade with a pack at each pair of its bolts, neighbours within a step."""
    gap, step = rng.randint(400, 1500), rng.choice([100, 150, 250])
    angle, most = rng.choice([0.0, 5.0, 10.0]), rng.randint(2, 5)
    seats = []
    for place in range(rng.choice([2, 3, 4])):
        gap = max(10, gap + rng.randint(-step - 60, step + 60))
        seats.append(
            {
                "name": name,
                "bolts": (2 * place + 1, 2 * place + 2),
                "step": step,
                "angle": angle,
                "most": most,
                "thickest": 3000,
                "pack": [rng.choice(THICKNESSES_UM[:4])] if rng.random() < 0.3 else [],
                "gaps": [max(10, gap + rng.randint(-20, 20)) for _ in range(rng.randint(1, 2))],
            }
        )
    return seats


def as_ron(shelf, blades):
    mm = lambda um: f"{um / 1000:.3f}"
    items = ", ".join(f"(thickness_mm: {mm(t)}, count: {c})" for t, c in shelf)
    rows = []
    for b in blades:
        stations = ", ".join(
            f'(station: "{i + 1}", gap_mm: {mm(g)})' for i, g in enumerate(b["gaps"])
        )
        rows.append(
            f'(blade: "{b["name"]}", {where(b)}face_angle_deg: {b["angle"]}, most_shims: {b["most"]}, '
            f'thickest_mm: {mm(b["thickest"])}, pack_mm: [{", ".join(map(mm, b["pack"]))}], '
            f"set_min_mm: 0.3, set_max_mm: 0.5, stations: [{stations}])"
        )
    return f"(format: 1, shelf: [{items}], blades: [{', '.join(rows)}])\n"


def where(b):
    if b["bolts"] is None:
        return ""
    first, last = b["bolts"]
    return f'bolts: ({first}, {last}), step_mm: {b["step"] / 1000:.3f}, '


def solve(shelf, blades):
    """The smallest worst distance in mm, and for it the fewest shims; None without an answer."""
    columns = 1  # the worst distance
    places = []
    for b in blades:
        places.append((columns, columns + len(shelf)))
        columns += len(shelf) + len(b["pack"])
    rows, low, high = [], [], []

    def row(entries, least, most):
        line = np.zeros(columns)
        for place, value in entries:
            line[place] += value
        rows.append(line)
        low.append(least)
        high.append(most)

    before = None
    for b, (add, keep) in zip(blades, places):
        total = [(add + i, t / 1000) for i, (t, _) in enumerate(shelf)]
        total += [(keep + i, t / 1000) for i, t in enumerate(b["pack"])]
        if before and before[0] == b["name"]:
            apart = total + [(place, -value) for place, value in before[1]]
            row(apart, -b["step"] / 1000, b["step"] / 1000)
        before = (b["name"], total)
        now = sum(b["pack"]) / 1000
        cos = math.cos(math.radians(b["angle"]))
        row(total, 0, b["thickest"] / 1000)
        count = [(add + i, 1) for i in range(len(shelf))]
        count += [(keep + i, 1) for i in range(len(b["pack"]))]
        row(count, 0, b["most"])
        for gap in b["gaps"]:
            free = gap / 1000 + cos * now
            closed = [(place, cos * t) for place, t in total]
            row(closed, free - 0.5, free - 0.3)
            row(closed + [(0, 1)], free - 0.4, np.inf)
            row(closed + [(0, -1)], -np.inf, free - 0.4)
    for i, (_, stock) in enumerate(shelf):
        row([(add + i, 1) for add, _ in places], 0, stock)

    upper = np.ones(columns)
    upper[0] = np.inf
    for add, _ in places:
        upper[add : add + len(shelf)] = [stock for _, stock in shelf]
    integer = np.ones(columns)
    integer[0] = 0
    limits = LinearConstraint(np.array(rows), low, high)
    aim = np.zeros(columns)
    aim[0] = 1
    options = {"mip_rel_gap": 0, "time_limit": 120}
    found = milp(aim, integrality=integer, bounds=Bounds(0, upper), constraints=limits, options=options)
    if not found.success:
        assert found.status == 2, found.message
        return None
    worst = found.fun
    upper[0] = worst + 1e-6
    moved = np.zeros(columns)
    for b, (add, keep) in zip(blades, places):
        moved[add:keep] = 1
        moved[keep : keep + len(b["pack"])] = -1
    found = milp(moved, integrality=integer, bounds=Bounds(0, upper), constraints=limits, options=options)
    assert found.success, found.message
    return worst, round(found.fun) + sum(len(b["pack"]) for b in blades)


def main():
    program = sys.argv[1]
    differ = served = 0
    for seed in range(CASES):
        shelf, blades = draw(random.Random(seed))
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "problem.ron"
            file.write_text(as_ron(shelf, blades), encoding="utf-8")
            run = subprocess.run([program, "pack", str(file), "--json"], capture_output=True, text=True)
        assert run.returncode == 0, run.stderr
        ours = json.loads(run.stdout)
        theirs = solve(shelf, blades)
        same = ours["proven"]
        if theirs is None:
            same = same and ours["worst_mm"] is None
        else:
            served += 1
            same = same and ours["worst_mm"] is not None
            same = same and abs(ours["worst_mm"] - theirs[0]) <= NEAR_MM
            if len(blades) == 1:
                same = same and ours["shims"] == theirs[1]
        if not same:
            differ += 1
            print(f"seed {seed}: HiGHS {theirs}, ours {ours}")
    print(f"{CASES - differ} of {CASES} agree with HiGHS, {served} of them have an answer")
    sys.exit(1 if differ else 0)


if __name__ == "__main__":
    main()
