#!/usr/bin/env bash
# Measures and prints a table: tests/bench/run.sh [MESSAGES]. Nothing is asserted; the figures are this machine's.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
cd "$root"
# shellcheck source=deploy/build.sh
source deploy/build.sh
deploy/install.sh build node run test
cmp -s tests/package-lock.json tests/node_modules/.lock-seen || {
  (cd tests && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error >&2)
  cp tests/package-lock.json tests/node_modules/.lock-seen
}
build "$root" release rindwatch >&2
build "$root" bench round-bench engine-bench replay-bench >&2
build "$root" everyday mqtt-rate >&2
build/bench/bin/round-bench
build/bench/bin/engine-bench
build/bench/bin/replay-bench
cd tests
RINDWATCH_BUILD=$root/build/release exec node --import tsx bench/table.ts "${1:-100000}"
