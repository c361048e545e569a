#!/bin/sh
# The rules of the alarms on simulated fridges: prints the targets beside what is reached on the seeds that they were tuned
# on and on fresh ones. The first run simulates for a quarter of an hour on one core and keeps its courses; later ones
# take a minute or two. Arguments are handed on: first and last seed of each set, --details for every ring.
set -eu
here=$(cd "$(dirname "$0")/../../.." && pwd)
build=$here/build/bench
cmake -S "$here" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_CXX_FLAGS_RELWITHDEBINFO=-O2 >/dev/null
nice ninja -C "$build" alarm-bench >/dev/null
exec nice "$build/bin/alarm-bench" "$build/courses" "$@"
