"""Solves a small thermal network with scipy, as a reference for the program's own integrator.

Five parts, two contacts that share the tip, one break. Written from the equations, not from the
program: C dT/dt = friction and cutting heat - sum G (T - T_other) - hA (T - T_air), with the gap of
each contact moved by the growth of its parts. Run it with Python 3 and scipy; it writes
heat_solve_ivp.csv beside itself.
"""

import csv
from pathlib import Path

import numpy as np
import scipy
from scipy.integrate import solve_ivp

# tip, guide blade, tip cutting blade, upper jaw, lower jaw
CAPACITY = np.array([21.6e3, 16.8e3, 6.3e3, 432e3, 624e3])  # J/K
TO_AIR = np.array([1.2, 1.0, 0.7, 30.0, 40.0])  # W/K
JOINTS = [(0, 3, 7.0), (1, 4, 7.0), (2, 4, 6.0)]  # W/K
AIR = 20.0
START = np.full(5, 20.0)
CUTS_PER_S = 0.1
FRICTION = 0.2
BREAK = (4.0, 4.5)  # hours

# ASME II-D, Table TE-1, group 1, mean coefficient from 20 degC in 1e-6/K.
TE1 = np.array([
    (20, 11.5), (50, 11.8), (75, 11.9), (100, 12.1), (125, 12.3), (150, 12.4), (175, 12.6),
    (200, 12.7), (225, 12.9), (250, 13.0), (275, 13.2), (300, 13.3), (325, 13.4), (350, 13.6),
    (375, 13.7), (400, 13.8), (450, 14.1), (500, 14.4), (550, 14.6), (600, 14.8),
])


def constant(c):
    return 12e-6 * (c - 20.0)


def te1(c):
    return np.interp(c, TE1[:, 0], TE1[:, 1]) * 1e-6 * (c - 20.0)


# moving, fixed, cold gap mm, thrust N, stiffness N/mm, share to moving, slide m, cut heat J, chain
CONTACTS = [
    (0, 1, 0.15, 400e3, 570e3, 0.5, 0.3, 0.0, constant, [(0, -110.0), (1, -50.0), (4, 160.0)]),
    (0, 2, 0.10, 0.0, 570e3, 0.6, 0.3, 500.0, te1, [(0, -85.0), (2, -55.0), (4, 140.0)]),
]


def slope(hours, t, working):
    flow = -TO_AIR * (t - AIR)
    for one, other, conductance in JOINTS:
        watts = conductance * (t[one] - t[other])
        flow[one] -= watts
        flow[other] += watts
    if working:
        for moving, fixed, cold, thrust, stiffness, share, slide, cut, growth, chain in CONTACTS:
            gap = cold + sum(mm * growth(t[part]) for part, mm in chain)
            force = max(0.0, thrust - stiffness * gap)
            watts = CUTS_PER_S * (FRICTION * force * slide + cut)
            flow[moving] += watts * share
            flow[fixed] += watts * (1.0 - share)
    return 3600.0 * flow / CAPACITY  # per hour


def main():
    rows = []
    state = START
    pieces = [(0.0, BREAK[0], True), (BREAK[0], BREAK[1], False), (BREAK[1], 8.0, True)]
    for begin, end, working in pieces:
        at = [h for h in np.arange(0.5, 8.01, 0.5) if begin < h <= end]
        # Short steps, so that no change from open to loaded is jumped over.
        solved = solve_ivp(slope, (begin, end), state, method="DOP853", t_eval=at, rtol=1e-11,
                           atol=1e-9, max_step=0.01, args=(working,))
        rows += [[h, *values] for h, values in zip(solved.t, solved.y.T)]
        state = solved.y[:, -1]
    with Path(__file__).with_suffix(".csv").open("w", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["time_h", "tip_c", "guide_c", "tip_cutting_c", "upper_jaw_c", "lower_jaw_c"])
        out.writerows([f"{value:.9g}" for value in row] for row in rows)
    print("scipy", scipy.__version__)


if __name__ == "__main__":
    main()
