#!/usr/bin/env bash
# Every cover of the table ranked for fifty plots of 500 draws, ours and numpy/scipy, in one run on one core: times,
# their ratio, and both answers, which must agree. Fails beyond 200 ms.
set -euo pipefail
cd "$(dirname "$0")"
venv=reference/.venv
if [ ! -x "$venv/bin/python" ]; then
  python3 -m venv "$venv"
fi
"$venv/bin/pip" install --quiet --disable-pip-version-check -r reference/requirements.txt
cargo build --quiet --release --locked -p benches --bin time_covers
ours_bin=${CARGO_TARGET_DIR:-../target}/release/time_covers
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 MKL_NUM_THREADS=1
ours=$("$ours_bin")
theirs=$("$venv/bin/python" reference/covers.py "$("$ours_bin" facts)")
"$venv/bin/python" - "$ours" "$theirs" <<'PY'
import json, sys

ours, theirs = (json.loads(text) for text in sys.argv[1:])
print(f"{'':14}{'ours':>14}{'numpy/scipy':>14}")
for key in theirs:
    print(f"{key:14}{ours[key]:14.6f}{theirs[key]:14.6f}")
print(f"ratio on one core: {theirs['one_core_ms'] / ours['one_core_ms']:.1f} times as fast")
apart = [key for key in theirs if key != "one_core_ms" and abs(ours[key] - theirs[key]) > 1e-6]
if apart:
    sys.exit(f"the answers differ: {', '.join(apart)}")
if ours["one_core_ms"] > 200:
    sys.exit("ranking the covers of fifty plots takes more than 200 ms")
PY
