"""A year of a hundred beds with numpy: the same soils, weather, crop and daily balance as
`benches/src/season.rs`, all beds and draws as one array, written as a numpy user would.

Prints time and answer as JSON; `balance.sh` sets them beside ours.
"""

import json
import time

import numpy as np

BEDS, DAYS, DRAWS = 100, 365, 500
PLACE = np.arange(BEDS * DRAWS, dtype=float)
U = (PLACE * 0.6180339887498949 + 0.5) % 1
V = (PLACE * 0.7548776662466927 + 0.5) % 1
AVAILABLE = 0.10 + 0.08 * U
TEW, REW = 16 + 6 * V, 7 + 2 * U
FACTOR = 0.9 + 0.2 * V
BOTTOM, LEAST, BELOW_COVER = 0.9, 0.15, 0.5


def year():
    depth = 0.2
    taw = 1000 * AVAILABLE * depth
    below_taw = 1000 * AVAILABLE * BOTTOM - taw
    dr, ds, de = np.zeros_like(U), np.zeros_like(U), np.zeros_like(U)
    fw = 1.0
    et, lost, stressed = np.zeros_like(U), np.zeros_like(U), np.zeros_like(U)
    for day in range(DAYS):
        planted = 100 <= day < 250
        grown = min((day - 100) / 60, 1.0) if planted else 0.0
        rain = float(day * 31 % 23) if day * 7919 % 10 < 3 else 0.0
        et0 = 6 - 5 * abs(day / 182.5 - 1)
        kc, kcb = 0.3 + 0.8 * grown, (0.15 if planted else 0.0) + 0.9 * grown
        cover, height, p = 0.9 * grown, 0.8 * grown, 0.4
        net = 12 * 0.9 if planted and day % 4 == 0 else 0.0

        new_depth = min(max(0.2 + 0.4 * grown, LEAST), BOTTOM)
        if new_depth != depth:
            depth = new_depth
            new = 1000 * AVAILABLE * depth
            if new[0] >= taw[0]:
                moved = ds * np.minimum((new - taw) / below_taw, 1)
            else:
                moved = -dr * (taw - new) / taw
            below_taw = below_taw + taw - new
            dr, ds, taw = dr + moved, np.maximum(ds - moved, 0), new

        if rain < 0.2 * et0:
            rain = 0.0
        fw = 0.5 if net > 0 else 1.0 if rain > 3 else fw
        water, local = rain + net, rain + net / fw
        few = min(max(min(1 - cover, fw), 0.01), 1)
        de = np.maximum(de - local, 0)
        basal = kcb * FACTOR
        top = np.maximum(1.2, basal + 0.05)
        kr = np.where(de <= REW, 1, np.maximum((TEW - de) / (TEW - REW), 0))
        ke = np.maximum(np.minimum(kr * (top - basal), few * top), 0)
        e = np.maximum(np.minimum(ke * et0, few * (TEW - de)), 0)

        dr = dr - water
        drained = np.maximum(-dr, 0)
        dr = np.maximum(dr, 0)
        dual = cover < BELOW_COVER
        plants, bare = (basal * et0, e) if dual else (kc * FACTOR * et0, np.zeros_like(e))
        raw = np.clip(p + 0.04 * (5 - (plants + bare)), 0.1, 0.8) * taw
        ks = np.where(dr <= raw, 1, np.maximum((taw - dr) / (taw - raw), 0))
        wanted = ks * plants + bare
        got = np.maximum(np.minimum(wanted, taw - dr), 0)
        dr = np.minimum(dr + got, taw)
        if dual:
            e = e * np.divide(got, wanted, out=np.ones_like(got), where=wanted > 0)
        de = np.minimum(de + e / few, TEW)
        kept = np.minimum(drained, ds)
        ds = ds - kept
        et += got
        lost += drained - kept
        stressed += ks < 1
    return {
        "depletion_mm": float(dr.mean()),
        "et_mm": float(et.mean()),
        "lost_below_mm": float(lost.mean()),
        "stressed_d": float(stressed.mean()),
    }


def main():
    times = []
    for _ in range(3):
        started = time.perf_counter()
        answer = year()
        times.append(1000 * (time.perf_counter() - started))
    print(json.dumps({"one_core_ms": round(min(times), 1), **answer}))


main()
