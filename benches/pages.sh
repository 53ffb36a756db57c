#!/usr/bin/env bash
# How fast the app starts and its pages come, on a farm of fifty plots: the release binary, asked over
# loopback by one reader after another. Prints the median and the 95th percentile of each kind of page,
# when nothing changed and right after the evidence of one plot changed. The number of requests is fixed.
set -euo pipefail
cd "$(dirname "$0")"
cargo build --quiet --release --locked -p benches --bin fifty_plots
cargo build --quiet --release --locked -p spadework
built=${CARGO_TARGET_DIR:-../target}/release
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
"$built/fifty_plots" "$folder/fifty.farmbook"
python3 reference/pages.py "$built/spadework" "$folder/fifty.farmbook"
