#!/usr/bin/env bash
# Installs what is missing, builds Rindwatch and starts a trial with a simulated fridge: deploy/try.sh [--replace] [...]
# Everything but --replace is handed to `rindwatch try`. Ctrl-C ends the trial.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
# shellcheck source=deploy/build.sh
source "$root/deploy/build.sh"

replace=()
rest=()
for argument in "$@"; do
  case $argument in
    --replace) replace=(--replace) ;;
    *) rest+=("$argument") ;;
  esac
done

"$root/deploy/install.sh" "${replace[@]}" build node run
build "$root" release rindwatch >&2 || {
  echo "Rindwatch could not be built: the first error above says why. Nothing was started." >&2
  exit 1
}
exec "$root/build/release/bin/rindwatch" try "${rest[@]}"
