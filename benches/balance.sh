#!/usr/bin/env bash
# A year of the daily balance for a hundred beds of 500 draws, ours and numpy, in one run: times, their
# ratio on one core, and both answers, which must agree. Fails beyond one second on two cores.
set -euo pipefail
cd "$(dirname "$0")"
venv=reference/.venv
if [ ! -x "$venv/bin/python" ]; then
  python3 -m venv "$venv"
fi
"$venv/bin/pip" install --quiet --disable-pip-version-check -r reference/requirements.txt
cargo build --quiet --release --locked -p benches --bin time_balance
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 MKL_NUM_THREADS=1
ours=$("${CARGO_TARGET_DIR:-../target}/release/time_balance")
theirs=$("$venv/bin/python" reference/balance.py)
"$venv/bin/python" - "$ours" "$theirs" <<'PY'
import json, sys

ours, theirs = (json.loads(text) for text in sys.argv[1:])
print(f"{'':14}{'ours':>14}{'numpy':>14}")
for key in theirs:
    print(f"{key:14}{ours[key]:14.6f}{theirs[key]:14.6f}")
print(f"two cores: {ours['two_cores_ms']:.0f} ms")
print(f"ratio on one core: {theirs['one_core_ms'] / ours['one_core_ms']:.1f} times as fast")
# Rounding of sums taken in another order; a draw on the edge of stress may fall to either side.
apart = [key for key in theirs if key != "one_core_ms" and abs(ours[key] - theirs[key]) > 1e-4]
if apart:
    sys.exit(f"the answers differ: {', '.join(apart)}")
if ours["two_cores_ms"] > 1000:
    sys.exit("a year of a hundred beds takes more than a second")
PY
