"""Holds ordinary kriging against PyKrige: points, nearest readings, both forms of variogram, at and off the readings.

Makes invented readings from fixed seeds, asks `spadework calc ordinary-kriging` for places among them, and compares
estimates and variances. Leave-one-out is held against PyKrige solved anew without each reading in turn.

    python kriging.py PATH_OF_SPADEWORK
"""

import json
import subprocess
import sys

import numpy as np
from pykrige.ok import OrdinaryKriging

TOLERANCE = 1e-8
MODELS = {
    "spherical": lambda sill, span, nugget: [sill, span, nugget],
    # PyKrige's exponential form reaches 95 % at its range, ours at three ranges.
    "exponential": lambda sill, span, nugget: [sill, 3 * span, nugget],
}


def readings(seed, count):
    rng = np.random.default_rng(20_260_501 + seed)
    east, north = rng.uniform(0, 90, count).round(2), rng.uniform(0, 60, count).round(2)
    value = (6 + 0.01 * east + 0.3 * np.sin(north / 12) + rng.normal(0, 0.1, count)).round(3)
    return east, north, value


def ask(program, method, question):
    done = subprocess.run(
        [program, "calc", method, "--in", "-"], input=json.dumps(question), capture_output=True, text=True, check=False
    )
    if done.returncode:
        sys.exit(f"{method}: {done.stderr or done.stdout}")
    return json.loads(done.stdout)


def theirs(east, north, value, shape, sill, span, nugget, places, nearest=None):
    fitted = OrdinaryKriging(
        east, north, value, variogram_model=shape, variogram_parameters=MODELS[shape](sill, span, nugget)
    )
    more = {"n_closest_points": nearest, "backend": "loop"} if nearest else {}
    estimate, variance = fitted.execute("points", places[:, 0], places[:, 1], **more)
    return np.asarray(estimate), np.asarray(variance)


def main():
    program = sys.argv[1]
    passed = 0
    worst = 0.0
    for seed, (count, nearest) in enumerate([(12, None), (40, None), (120, None), (120, 12), (60, 20)]):
        for shape in MODELS:
            east, north, value = readings(seed, count)
            rng = np.random.default_rng(seed)
            places = np.column_stack([rng.uniform(-5, 95, 30), rng.uniform(-5, 65, 30)]).round(2)
            if nearest is None:
                places[0] = east[3], north[3]
            sill, span, nugget = 0.09, 25.0, 0.02
            question = {
                "readings": [{"east_m": e, "north_m": n, "value": v} for e, n, v in zip(east, north, value)],
                "variogram": {
                    "shape": shape, "nugget": nugget, "partial_sill": sill - nugget, "range_m": span,
                },
                "nugget_is": "variation",
                "places": [{"east_m": e, "north_m": n} for e, n in places],
            }
            if nearest:
                question["nearest"] = nearest
            got = ask(program, "ordinary-kriging", question)["at"]
            estimate, variance = theirs(east, north, value, shape, sill, span, nugget, places, nearest)
            off = max(
                np.abs(estimate - [one["value"] for one in got]).max(),
                np.abs(variance - [one["variance"] for one in got]).max(),
            )
            worst = max(worst, off)
            if off > TOLERANCE:
                sys.exit(f"{shape}, {count} readings, nearest {nearest}: {off:.2e} from PyKrige")
            passed += 1
    east, north, value = readings(99, 30)
    left = []
    for out in range(len(east)):
        keep = np.arange(len(east)) != out
        estimate, variance = theirs(
            east[keep], north[keep], value[keep], "spherical", 0.09, 25.0, 0.02, np.array([[east[out], north[out]]])
        )
        left.append((value[out] - estimate[0], variance[0]))
    error, variance = np.array(left).T
    question = {
        "readings": [{"east_m": e, "north_m": n, "value": v} for e, n, v in zip(east, north, value)],
        "variogram": {"shape": "spherical", "nugget": 0.02, "partial_sill": 0.07, "range_m": 25.0},
    }
    got = ask(program, "leave-one-out", question)
    for name, wanted in [
        ("mean_error", error.mean()),
        ("rmse", np.sqrt((error**2).mean())),
        ("mean_squared_ratio", (error**2 / variance).mean()),
    ]:
        if abs(got[name] - wanted) > TOLERANCE:
            sys.exit(f"leave-one-out, {name}: {got[name]} and {wanted}")
        passed += 1
    print(f"kriging: furthest from PyKrige {worst:.1e}")
    print(f"reference: {passed} passed")


main()
