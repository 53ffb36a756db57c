#!/usr/bin/env bash
# The plan of 60 beds and 25 materials in whole bags, ours and HiGHS through scipy, in one run. Fails where the gap
# is wider than 1 % or the plan takes more than 5 s.
set -euo pipefail
cd "$(dirname "$0")/.."
source scripts/tools
need_python_reference
cargo build --quiet --release --locked -p spadework
"$PYTHON_REFERENCE" checks/reference/blend.py "${CARGO_TARGET_DIR:-target}/release/spadework" --bench
