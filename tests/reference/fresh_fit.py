"""Fits freshly drawn readings with two general-purpose libraries and compares with the program.

    fresh_fit.py GAPWRIGHT [SEED]

Seventeen stations with their own level, growth and scatter are felt with leaves 0.05 mm apart. The
program takes them in as a table and tells its trends as JSON. For each station the rate, its
standard error, the level, the scatter and the log-likelihood must be those of:

- scipy: the likelihood written down here once more, climbed by BFGS, standard errors from the
  differences of its gradient. It also takes open ends, which five of the stations have.
- lifelines: LogNormalAFTFitter.fit_interval_censoring on exp(gap), which is a normal regression of
  the gap. Of the libraries for censored data it is the one that fits brackets with a covariate;
  statsmodels has none. It does not take readings without a floor or a ceiling in one set.

The program is timed from outside, for all stations and for one, and the difference is what sixteen
more stations cost: all models, intervals by the likelihood, breaks, charts and JSON. Starting it and
opening the yard is not fitting. Of lifelines only its one fit is timed. So all that the program does
stands against one fit of theirs: about 100 times, more or less with what else the computer does, and
a run fails below 30. One fit against one fit is some thousand times: `cargo bench --bench trend` has
the program's.
"""

import csv
import json
import subprocess
import sys
import tempfile
import time
import warnings
from datetime import datetime, timedelta, timezone
from pathlib import Path

import numpy as np
import pandas as pd
from lifelines import LogNormalAFTFitter
from scipy.optimize import minimize
from scipy.special import log_ndtr

STATIONS = [f"{line}{n}" for line, count in
            [("P", 4), ("S", 4), ("T", 2), ("F", 2), ("G", 3), ("J", 2)]
            for n in range(1, count + 1)]
OPEN = set(STATIONS[-5:])
LOOKS = 120
LEAF = 0.05
TIMES_FASTER = 30


def draw(rng, station, hours):
    """Hours, floors and ceilings of one station; a ceiling is infinite where the end is open."""
    rate = rng.uniform(0.001, 0.004)
    sigma = rng.uniform(0.02, 0.06)
    level = rng.uniform(0.3, 0.6)
    gap = level + rate * hours + rng.normal(0.0, sigma, LOOKS)
    step = np.floor(gap / LEAF).clip(0)
    low, high = step * LEAF, (step + 1) * LEAF
    if station in OPEN:
        short = rng.random(LOOKS) < 0.15
        high[short] = np.inf
    return hours, low, high


def log_likelihood(numbers, x, low, high):
    """Sum and gradient of ln[Phi((high - mu)/s) - Phi((low - mu)/s)] in (level, rate, ln s)."""
    level, rate, log_s = numbers
    s = np.exp(log_s)
    mean = level + rate * x
    u, v = (low - mean) / s, (high - mean) / s
    # In the lower tail differences keep their digits.
    flip = u + v > 0
    u, v = np.where(flip, -v, u), np.where(flip, -u, v)
    top = log_ndtr(v)
    inside = top + np.log1p(-np.exp(log_ndtr(u) - top))
    density = lambda z: np.where(np.isinf(z), 0.0, np.exp(-0.5 * z * z - inside)) / np.sqrt(2 * np.pi)
    at = lambda z: np.where(np.isinf(z), 0.0, z)
    by_mean = (density(u) - density(v)) * np.where(flip, -1.0, 1.0) / s
    by_scale = density(u) * at(u) - density(v) * at(v)
    return inside.sum(), np.array([by_mean.sum(), (by_mean * x).sum(), by_scale.sum()])


def by_scipy(hours, low, high):
    """Rate, its standard error, level, scatter and log-likelihood."""
    x = hours / 100.0
    mid = np.where(np.isinf(high), low + LEAF / 2, (low + high) / 2)
    rate, level = np.polyfit(x, mid, 1)
    start = np.array([level, rate, np.log(np.std(mid - level - rate * x))])
    cost = lambda it: tuple(-part for part in log_likelihood(it, x, low, high))
    best = minimize(cost, start, jac=True, method="BFGS", options={"gtol": 1e-9}).x
    step = 1e-5
    rows = [(cost(best + step * e)[1] - cost(best - step * e)[1]) / (2 * step) for e in np.eye(3)]
    for _ in range(3):  # the last digits by Newton
        best = best - np.linalg.solve(np.array(rows), cost(best)[1])
    covariance = np.linalg.inv(np.array(rows))
    return {
        "rate": best[1] / 100.0,
        "rate_se": np.sqrt(covariance[1, 1]) / 100.0,
        "level": best[0],
        "sigma": np.exp(best[2]),
        "log_likelihood": log_likelihood(best, x, low, high)[0],
    }


def by_lifelines(hours, low, high):
    """The same, and the seconds it took."""
    frame = pd.DataFrame({"low": np.exp(low), "high": np.exp(high), "x": hours / 1000.0})
    begun = time.perf_counter()
    fitter = LogNormalAFTFitter().fit_interval_censoring(frame, "low", "high")
    took = time.perf_counter() - begun
    mu, errors = fitter.params_["mu_"], fitter.standard_errors_["mu_"]
    return {
        "rate": mu["x"] / 1000.0,
        "rate_se": errors["x"] / 1000.0,
        "level": mu["Intercept"],
        "sigma": np.exp(fitter.params_["sigma_"]["Intercept"]),
        "log_likelihood": fitter.log_likelihood_,
    }, took


def by_the_program(gapwright, folder, drawn):
    """What the program tells of each station, its seconds in all, and those of one more station."""
    told = b""
    table = folder / "readings.csv"
    begin = datetime(2026, 1, 1, tzinfo=timezone.utc)
    with open(table, "w", newline="") as out:
        rows = csv.writer(out)
        rows.writerow(["shear", "station", "taken", "meter_h", "go_mm", "no_go_mm", "blade_temp_c"])
        for station, (hours, low, high) in drawn.items():
            for at, go, no_go in zip(hours, low, high):
                taken = (begin + timedelta(hours=float(at))).isoformat()
                no_go = "" if np.isinf(no_go) else f"{no_go:.2f}"
                rows.writerow(["fresh", station, taken, f"{at:.1f}", f"{go:.2f}", no_go, ""])
    yard = folder / "yard"
    subprocess.run([gapwright, "import", yard, table, "--create"], check=True,
                   stdout=subprocess.DEVNULL)
    ask = [gapwright, "trend", yard, "--shear", "fresh", "--json"]
    of_all, of_one = [], []
    for _ in range(9):
        for took, more in [(of_all, []), (of_one, ["--station", STATIONS[0]])]:
            begun = time.perf_counter()
            said = subprocess.run(ask + more, check=True, capture_output=True).stdout
            took.append(time.perf_counter() - begun)
            told = told if more else said
    answers = {}
    for it in json.loads(told):
        if it["observations"]:
            newest = it["segments"][-1]
            answers[it["station"]] = {
                "rate": it["rate_mm_per_h"],
                "rate_se": it["rate_se_mm_per_h"],
                "level": newest["intercept_mm"],
                "sigma": it["sigma_mm"],
                "log_likelihood": it["log_likelihood"],
            }
    return answers, min(of_all), (min(of_all) - min(of_one)) / (len(STATIONS) - 1)


def compare(name, station, ours, theirs, estimates, errors):
    """Relative differences; true if all are small enough."""
    good = True
    for key, theirs_is in theirs.items():
        most = errors if key == "rate_se" else estimates
        off = abs(ours[key] / theirs_is - 1.0)
        if not off <= most:
            print(f"{station}: {key} is {ours[key]!r}, {name} says {theirs_is!r}")
            good = False
    return good


def main():
    gapwright = Path(sys.argv[1]).resolve()
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else time.time_ns() % 1_000_000
    print(f"seed {seed}")
    rng = np.random.default_rng(seed)
    # All stations are felt on the same visits.
    hours = np.round(np.cumsum(rng.uniform(4.0, 12.0, LOOKS)), 1)
    drawn = {station: draw(rng, station, hours) for station in STATIONS}
    with tempfile.TemporaryDirectory() as folder:
        ours, program_s, station_s = by_the_program(gapwright, Path(folder), drawn)
    good = set(ours) == set(STATIONS)
    seconds = []
    for station, readings in drawn.items():
        good &= compare("scipy", station, ours[station], by_scipy(*readings), 1e-6, 1e-5)
        if station not in OPEN:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                theirs, took = by_lifelines(*readings)
            seconds.append(took)
            good &= compare("lifelines", station, ours[station], theirs, 1e-4, 1e-3)
    per_fit = float(np.median(seconds))
    faster = per_fit / station_s
    print(f"{len(STATIONS)} stations with {LOOKS} readings each: the program takes "
          f"{program_s * 1e3:.1f} ms in all and {station_s * 1e3:.2f} ms for each station more, "
          f"lifelines {per_fit * 1e3:.0f} ms for each fit: {faster:.0f} times as long")
    if faster < TIMES_FASTER:
        print(f"less than {TIMES_FASTER} times")
        good = False
    print("they agree" if good else "THEY DO NOT AGREE")
    sys.exit(0 if good else 1)


main()
