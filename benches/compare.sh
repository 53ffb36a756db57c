#!/usr/bin/env bash
# Evidence to odds for one plot, ours and numpy/scipy, in one run on one core: times, their ratio, and
# both answers, which must agree within the noise of 4,000 draws.
set -euo pipefail
cd "$(dirname "$0")"
venv=reference/.venv
if [ ! -x "$venv/bin/python" ]; then
  python3 -m venv "$venv"
fi
"$venv/bin/pip" install --quiet --disable-pip-version-check -r reference/requirements.txt
cargo build --quiet --release --locked -p benches --bin time_ensemble
ours_bin=${CARGO_TARGET_DIR:-../target}/release/time_ensemble
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 MKL_NUM_THREADS=1
ours=$("$ours_bin")
theirs=$("$venv/bin/python" reference/ensemble.py "$("$ours_bin" feel)")
"$venv/bin/python" - "$ours" "$theirs" <<'PY'
import json, sys

ours, theirs = (json.loads(text) for text in sys.argv[1:])
# Four standard errors of one run of 4,000 draws worth about 2,500, against a mean of twenty runs.
within = {"loam": 0.02, "clay_low": 0.5, "clay_median": 0.3, "clay_high": 0.6, "holds_well": 0.05, "takes_in": 0.05}
print(f"{'':14}{'ours':>12}{'numpy/scipy':>14}")
for key in theirs:
    print(f"{key:14}{ours[key]:12.4f}{theirs[key]:14.4f}")
print(f"ratio of the fastest runs: {theirs['fastest_ms'] / ours['fastest_ms']:.1f} times as fast")
apart = [key for key, limit in within.items() if abs(ours[key] - theirs[key]) > limit]
if apart:
    sys.exit(f"the answers differ: {', '.join(apart)}")
PY
