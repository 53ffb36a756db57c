"""Spatial coverage of the same polygon by plain k-means in numpy: as many starts on the same coarse grid, the best three
worked out on the fine one."""

import json
import time

import numpy as np

CORNERS = np.array([[0, 0], [150, -20], [190, 40], [150, 60], [170, 110], [80, 150], [10, 140], [-15, 70]], float)
POINTS, STARTS, REFINED = 20, 24, 3


def area():
    x, y = CORNERS.T
    return abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2


def cells(count):
    size = (area() / count) ** 0.5
    low, high = CORNERS.min(0), CORNERS.max(0)
    x = np.arange(low[0] + size / 2, high[0], size)
    y = np.arange(low[1] + size / 2, high[1], size)
    grid = np.stack(np.meshgrid(x, y), -1).reshape(-1, 2)
    inside = np.zeros(len(grid), bool)
    for a, b in zip(CORNERS, np.roll(CORNERS, -1, 0)):
        if a[1] != b[1]:
            crosses = (a[1] > grid[:, 1]) != (b[1] > grid[:, 1])
            inside ^= crosses & (grid[:, 0] < a[0] + (b[0] - a[0]) * (grid[:, 1] - a[1]) / (b[1] - a[1]))
    return grid[inside]


def start(grid, chance):
    centres = [grid[chance.integers(len(grid))]]
    nearest = ((grid - centres[0]) ** 2).sum(1)
    while len(centres) < POINTS:
        centres.append(grid[chance.choice(len(grid), p=nearest / nearest.sum())])
        nearest = np.minimum(nearest, ((grid - centres[-1]) ** 2).sum(1))
    return np.array(centres)


def settle(grid, centres, rounds):
    before = np.inf
    for turn in range(rounds):
        squared = ((grid[:, None, :] - centres[None]) ** 2).sum(2)
        owner = squared.argmin(1)
        mean = squared[np.arange(len(grid)), owner].mean()
        if mean > before * (1 - 1e-7) or turn + 1 == rounds:
            break
        before = mean
        count = np.bincount(owner, minlength=POINTS)
        sums = np.stack([np.bincount(owner, grid[:, axis], POINTS) for axis in (0, 1)], 1)
        centres = np.where(count[:, None] > 0, sums / np.maximum(count, 1)[:, None], centres)
    return mean, centres


def spread(seed):
    chance = np.random.default_rng(seed)
    fine, coarse = cells(2400), cells(600)
    tried = sorted((settle(coarse, start(coarse, chance), 60) for _ in range(STARTS)), key=lambda one: one[0])
    return min(settle(fine, centres, 200)[0] for _, centres in tried[:REFINED])


times, mean = [], None
for _ in range(5):
    begun = time.perf_counter()
    mean = spread(5)
    times.append(1000 * (time.perf_counter() - begun))
print(json.dumps({"fastest_ms": min(times), "mean_squared_m2": mean}))
