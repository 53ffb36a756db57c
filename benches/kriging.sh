#!/usr/bin/env bash
# Ordinary kriging of 500 readings to a grid of 200 × 200 with its variance, ours beside PyKrige and beside numpy and
# scipy, in one run on one core. The answers must agree to 1e-8; with the spherical model, which ends at its range, ours
# must be at least 5 times as fast as both. The exponential model, which has no end, is timed too.
set -euo pipefail
cd "$(dirname "$0")"
venv=reference/.venv
if [ ! -x "$venv/bin/python" ]; then
  python3 -m venv "$venv"
fi
"$venv/bin/pip" install --quiet --disable-pip-version-check -r reference/requirements.txt
cargo build --quiet --release --locked -p benches --bin time_kriging
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 MKL_NUM_THREADS=1
"$venv/bin/python" reference/kriging.py "$work/readings.csv" write
"${CARGO_TARGET_DIR:-../target}/release/time_kriging" "$work/readings.csv" > "$work/ours.json"
"$venv/bin/python" reference/kriging.py "$work/readings.csv" "$work/ours.json"
