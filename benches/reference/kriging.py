"""Ordinary kriging of 500 readings to a 200 x 200 grid, by PyKrige and by numpy and scipy, beside ours.

    python kriging.py READINGS write | python kriging.py READINGS OURS
"""

import json
import sys
import time

import numpy as np
from pykrige.ok import OrdinaryKriging
from scipy.linalg import cho_factor, cho_solve
from scipy.spatial.distance import cdist

SIDE, EXTENT, RUNS = 200, 1000.0, 5


def write(path):
    rng = np.random.default_rng(20_260_502)
    at = rng.uniform(0, EXTENT, (500, 2)).round(3)
    value = np.sin(at[:, 0] / 150) + np.cos(at[:, 1] / 200) + rng.normal(0, 0.3, 500)
    np.savetxt(path, np.column_stack([at, value]), fmt="%.17g", delimiter=",")


def covariance(model, h):
    if model == "spherical":
        share = np.minimum(h / 300.0, 1.0)
        return 0.9 * (1 - 1.5 * share + 0.5 * share**3)
    return 0.9 * np.exp(-h / 100.0)


def by_hand(rows, model, places):
    """Written as one would: a Cholesky factor, and all cells at once in slices."""
    at, value = rows[:, :2], rows[:, 2]
    own = covariance(model, cdist(at, at))
    own[np.diag_indices_from(own)] += 0.1
    factor = cho_factor(own, lower=True)
    ones = np.ones(len(at))
    reach = cho_solve(factor, ones)
    total = reach.sum()
    mean = reach @ value / total
    pull = cho_solve(factor, value - mean)
    estimate, variance = np.empty(len(places)), np.empty(len(places))
    for start in range(0, len(places), 4000):
        part = slice(start, start + 4000)
        other = covariance(model, cdist(at, places[part]))
        solved = cho_solve(factor, other)
        estimate[part] = mean + pull @ other
        short = 1 - ones @ solved
        variance[part] = 1.0 - (other * solved).sum(0) + short**2 / total
    return estimate, variance


def library(rows, model, axis):
    given = [1.0, 300.0, 0.1] if model == "spherical" else [1.0, 300.0, 0.1]
    fitted = OrdinaryKriging(*rows.T, variogram_model=model, variogram_parameters=given)
    estimate, variance = fitted.execute("grid", axis, axis)
    return np.asarray(estimate).ravel(), np.asarray(variance).ravel()


def fastest(run):
    times = []
    for _ in range(RUNS):
        began = time.perf_counter()
        told = run()
        times.append(time.perf_counter() - began)
    return min(times), told


def main():
    path, what = sys.argv[1:3]
    if what == "write":
        write(path)
        return
    rows = np.loadtxt(path, delimiter=",")
    axis = np.linspace(0, EXTENT, SIDE)
    east, north = np.meshgrid(axis, axis)
    places = np.column_stack([east.ravel(), north.ravel()])
    failed = False
    for ours in json.load(open(what)):
        model = ours["model"]
        for name, run in (
            ("PyKrige", lambda: library(rows, model, axis)),
            ("numpy and scipy", lambda: by_hand(rows, model, places)),
        ):
            taken, (estimate, variance) = fastest(run)
            off = max(np.abs(estimate - ours["value"]).max(), np.abs(variance - ours["variance"]).max())
            ratio = taken / ours["fastest_s"]
            print(f"{model:12} {name:16} {taken:7.3f} s, ours {ours['fastest_s']:.3f} s: {ratio:5.1f} times as fast; furthest apart {off:.1e}")
            if off > 1e-8:
                failed = True
                print("  the answers differ")
            if model == "spherical" and ratio < 5:
                failed = True
                print("  less than 5 times as fast")
    sys.exit(failed)


main()
