#!/usr/bin/env bash
# Installs what is missing, builds everything and runs every test; the last line counts: tests/run.sh [--long] [--replace]
# --long adds the sanitizers, clang-tidy, many seeds and many kills. The exit status is 1 if anything failed.
set -uo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$root" || exit 1
# shellcheck source=deploy/build.sh disable=SC2317
source deploy/build.sh

long=no
replace=()
for argument in "$@"; do
  case $argument in
    --long) long=yes ;;
    --replace) replace=(--replace) ;;
    *)
      echo "run.sh: unknown option $argument; use: tests/run.sh [--long] [--replace]" >&2
      exit 2
      ;;
  esac
done
# A hang is told as a failure, in time for whoever waits for the last line.
patience=2400
if [[ $long == yes ]]; then
  patience=14400
  export RINDWATCH_SEEDS=${RINDWATCH_SEEDS:-200} RINDWATCH_KILLS=${RINDWATCH_KILLS:-200} RINDWATCH_PATIENCE=${RINDWATCH_PATIENCE:-7200}
fi
# One seed for the order of this run; a failing order is repeated with RINDWATCH_SEED=N tests/run.sh.
seed=${RINDWATCH_SEED:-$((RANDOM * 32768 + RANDOM))}

passed=0 failed=0 skipped=0
count() {
  passed=$((passed + $1)) failed=$((failed + $2)) skipped=$((skipped + $3))
}
step() { printf '\n== %s (%d s)\n' "$1" "$SECONDS"; }
finish() {
  ((passed + failed == 0)) && failed=1
  printf '\n%d passed, %d failed, %d skipped\n' "$passed" "$failed" "$skipped"
  exit $((failed > 0))
}
# A step without which nothing else makes sense.
must() {
  "$@" && return
  echo "stopped: $* failed" >&2
  count 0 1 0
  finish
}
# A check that passes or fails as a whole: check NAME COMMAND...
check() {
  local name=$1
  shift
  step "$name"
  if "$@"; then count 1 0 0; else
    echo "FAILED: $name"
    count 0 1 0
  fi
}

# One Catch2 binary, counted by its XML report: catch_binary PRESET PART
catch_binary() {
  local preset=$1 part=$2 results=build/$1/results binary=build/$1/bin/tests-$2 totals
  mkdir -p "$results"
  step "$preset: $part, seed $seed"
  rm -f "$results/$part.xml"
  "$binary" --order rand --rng-seed "$seed" --warn NoAssertions -r xml -o "$results/$part.xml" >"$results/$part.log" 2>&1
  local status=$?
  # Version 2 has no skips, so the attribute may be absent.
  totals=$(sed -n 's/.*<OverallResultsCases successes="\([0-9]*\)" failures="\([0-9]*\)" expectedFailures="\([0-9]*\)"\( skips="\([0-9]*\)"\)\{0,1\}.*/\1 \2 \3 \5/p' \
    "$results/$part.xml" 2>/dev/null | tail -1)
  if [[ -z $totals ]]; then
    tail -n 60 "$results/$part.log"
    echo "FAILED: $binary ended with status $status before its report was complete"
    count 0 1 0
    return
  fi
  local good bad expected skips
  read -r good bad expected skips <<<"$totals"
  ((bad == 0 && status != 0)) && bad=1
  if ((bad > 0)); then
    awk -f tests/support/catch_failures.awk "$results/$part.xml"
    tail -n 40 "$results/$part.log"
  fi
  echo "$((good + expected)) cases passed, $bad failed, ${skips:-0} skipped"
  count $((good + expected)) "$bad" "${skips:-0}"
}
catch_binaries() {
  local part
  for part in rules sensors web daemon; do catch_binary "$1" "$part"; done
}

# npm's packages of a folder, fetched only when its lock file changed since.
fetch_packages() {
  local stamp=$1/node_modules/.lock-seen
  cmp -s "$1/package-lock.json" "$stamp" && return
  (cd "$1" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error) && cp "$1/package-lock.json" "$stamp"
}

# The TypeScript tests below a folder with its own npm packages, counted by their TAP report: node_tests NAME FOLDER
node_tests() {
  local report=$root/build/everyday/results/$1.tap files totals
  mapfile -t files < <(cd "$2" && find . \( -name node_modules -o -name dist \) -prune -o -name '*.test.ts' -print | sort)
  step "$1: ${#files[@]} files"
  rm -f "$report"
  (cd "$2" && RINDWATCH_BUILD=$root/build/everyday timeout --kill-after=10 "$patience" node --import tsx --test --test-concurrency=2 --test-reporter=spec \
    --test-reporter-destination=stdout --test-reporter=tap --test-reporter-destination="$report" "${files[@]}")
  totals=$(awk '/^# (pass|fail|cancelled|skipped|todo) [0-9]+$/ { n[$2] = $3 }
    END { if ("pass" in n) print n["pass"], n["fail"] + n["cancelled"], n["skipped"] + n["todo"] }' "$report" 2>/dev/null)
  if [[ -z $totals ]]; then
    echo "FAILED: node --test ended without a report, or did not end within $patience s"
    count 0 1 0
    return
  fi
  # shellcheck disable=SC2086 # three numbers
  count $totals
}

# Our own C++ of the folders named, one path a line.
sources() { find "$@" -name node_modules -prune -o -name '*.[ch]pp' -print | sort; }
formatted() { sources rules sensors web daemon tests | xargs clang-format-16 --dry-run -Werror; }
check_format() {
  # Another version of the tool formats otherwise, so only this one judges.
  if command -v clang-format-16 >/dev/null; then check "format" formatted; else
    step "format"
    echo "skipped: clang-format-16 is not in this Debian release"
    count 0 0 1
  fi
}
headers_alone() { ninja -C build/everyday -j "$(build_jobs)" headers | tail -n 40; }
types_hold() { (cd "$1" && node_modules/.bin/tsc --noEmit); }

# One unit, with a log of its own beside the others': several run at once.
tidy_unit() {
  local log=build/lint/tidy/${1//\//-}.log
  clang-tidy-16 -p build/lint --quiet --warnings-as-errors='*' "$1" >"$log" 2>&1 && return
  grep -q ' error: ' "$log" || echo "error: $1: see $log" >>"$log"
  return 1
}
export -f tidy_unit
# clang reads what gcc compiled, but not gcc's precompiled headers: a build folder of its own, without them. A finding in
# a header comes from each unit that opens it and is told once; the lines of code stand in the logs.
tidy() {
  configure "$root" lint || return 1
  rm -rf build/lint/tidy && mkdir build/lint/tidy || return 1
  # shellcheck disable=SC2016 # the inner shell's
  sources rules sensors web daemon | grep '\.cpp$' | xargs -P "$(build_jobs)" -n 1 bash -c 'tidy_unit "$0"' && return
  sed -n "s#^$root/##; /^[^ ]*: error: /p; /^error: /p" build/lint/tidy/*.log | sort -u
  return 1
}
check_tidy() {
  # Another version of the tool has other checks, so only this one judges.
  if command -v clang-tidy-16 >/dev/null; then check "clang-tidy" tidy; else
    step "clang-tidy"
    echo "skipped: clang-tidy-16 is not in this Debian release"
    count 0 0 1
  fi
}

step "packages"
must deploy/install.sh "${replace[@]}" build node run test lint
must fetch_packages tests
step "build"
must build "$root" everyday
mkdir -p build/everyday/results

check_format
check "headers stand alone" headers_alone
check "types of the tests" types_hold tests
check "types of the page" types_hold web/page
catch_binaries everyday
node_tests page web/page
node_tests program tests

if [[ $long == yes ]]; then
  for preset in sanitize threads; do
    step "build with sanitizers: $preset"
    must build "$root" "$preset"
    catch_binaries "$preset"
  done
  check_tidy
fi
finish
