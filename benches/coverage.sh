#!/usr/bin/env bash
# Spatial coverage of a five-acre polygon with 20 points, ours and numpy, in one run on one core: times, their ratio, and
# how well each covers, which must agree within 2 %. Fails beyond 100 ms.
set -euo pipefail
cd "$(dirname "$0")"
venv=reference/.venv
if [ ! -x "$venv/bin/python" ]; then
  python3 -m venv "$venv"
fi
"$venv/bin/pip" install --quiet --disable-pip-version-check -r reference/requirements.txt
cargo build --quiet --release --locked -p benches --bin time_coverage
ours_bin=${CARGO_TARGET_DIR:-../target}/release/time_coverage
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 MKL_NUM_THREADS=1
ours=$("$ours_bin")
theirs=$("$venv/bin/python" reference/coverage.py)
"$venv/bin/python" - "$ours" "$theirs" <<'PY'
import json, sys

ours, theirs = (json.loads(text) for text in sys.argv[1:])
print(f"{'':22}{'ours':>12}{'numpy':>12}")
for key in theirs:
    print(f"{key:22}{ours[key]:12.3f}{theirs[key]:12.3f}")
print(f"equal areas: {ours['equal_area_ms']:.1f} ms, {ours['equal_mean_squared_m2']:.1f} m²; no design below {ours['bound_m2']:.1f} m²")
print(f"ratio on one core: {theirs['fastest_ms'] / ours['fastest_ms']:.1f} times as fast")
if abs(ours["mean_squared_m2"] / theirs["mean_squared_m2"] - 1) > 0.02:
    sys.exit("the two do not cover alike")
if max(ours["fastest_ms"], ours["equal_area_ms"]) > 100:
    sys.exit("covering five acres with 20 points takes more than 100 ms")
PY
