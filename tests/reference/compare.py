"""Draws two comparisons, tests them for equal rates by scipy, and writes compare.csv.

    compare.py > compare.csv

Each set has its own level and scatter; all of one case are asked for one rate. A set's objection to a
rate is the drop D of its profile log-likelihood, as Student's t by 2·D = n·ln(1 + t²/ν) with
ν = n − 2, as the normal deviate of the same tail; the sum of squares at the rate with the least of
it is chi square with one degree less than there are sets. The first case has exact readings, where
t is that of least squares; the second has leaves 0.05 mm apart, a ceiling missing here and there.
"""

import numpy as np
from scipy.optimize import minimize, minimize_scalar
from scipy.special import log_ndtr
from scipy.stats import chi2, norm, t as student

LEAF = 0.05


def log_likelihood(numbers, rate, x, low, high):
    level, ln_sigma = numbers
    sigma = np.exp(ln_sigma)
    mean = level + rate * x
    if np.array_equal(low, high):
        return norm.logpdf(low, mean, sigma).sum()
    u, v = (low - mean) / sigma, (high - mean) / sigma
    # The mirrored tail keeps its digits.
    swap = 0 < u
    u, v = np.where(swap, -v, u), np.where(swap, -u, v)
    return (log_ndtr(v) + np.log1p(-np.exp(log_ndtr(u) - log_ndtr(v)))).sum()


def profile(rate, x, low, high):
    middle = np.where(np.isfinite(high), (low + high) / 2, low + LEAF / 2)
    rest = middle - rate * x
    start = [rest.mean(), np.log(rest.std() + 0.005)]
    fun = lambda it: -log_likelihood(it, rate, x, low, high)
    best = minimize(fun, start, method="Nelder-Mead",
                    options={"xatol": 1e-11, "fatol": 1e-13, "maxiter": 20000, "maxfev": 20000})
    return -best.fun


def best_rate(x, low, high):
    found = minimize_scalar(lambda rate: -profile(rate, x, low, high), bracket=(0.003, 0.006),
                            options={"xtol": 1e-11})
    return -found.fun


def objection(rate, top, x, low, high):
    n = len(x)
    drop = max(top - profile(rate, x, low, high), 0.0)
    t = np.sqrt((n - 2) * np.expm1(2 * drop / n))
    return norm.ppf(student.sf(t, n - 2)) ** 2


rng = np.random.default_rng(20260314)
rows, told = [], []
for case, rates in [("exact", [0.0050, 0.0052, 0.0058]), ("brackets", [0.0040, 0.0047])]:
    sets = []
    for number, rate in enumerate(rates):
        x = 8.0 * np.arange(16 + 2 * number)
        y = rng.uniform(0.4, 0.5) + rate * x + rng.normal(0.0, rng.uniform(0.025, 0.04), len(x))
        if case == "exact":
            low = high = y.round(6)
        else:
            step = np.floor(y / LEAF)
            low, high = (step * LEAF).round(2), ((step + 1) * LEAF).round(2)
            high[3 + number::7] = np.inf
        sets.append((x, low, high))
        rows += [(case, number, *it) for it in zip(x, low, high)]
    tops = [best_rate(*it) for it in sets]
    every = lambda rate: sum(objection(rate, top, *it) for top, it in zip(tops, sets))
    found = minimize_scalar(every, bracket=(min(rates), max(rates)), options={"xtol": 1e-11})
    told.append((case, found.x, found.fun, chi2.sf(found.fun, len(sets) - 1)))

print("# Made by compare.py with scipy: case, common rate in mm per hour, statistic, p.")
for case, rate, statistic, p in told:
    print(f"# {case},{rate:.9f},{statistic:.9f},{p:.9f}")
print("case,set,x_h,low_mm,high_mm")
for case, number, x, low, high in rows:
    print(f"{case},{number},{x:g},{low:.6f},{'' if np.isinf(high) else f'{high:.6f}'}")
