# Sourced by the scripts that build: configures a preset where that is due and builds targets of it.
# shellcheck shell=bash

# One compiler a core, but no more than the memory bears: the largest units take most of a gigabyte.
build_jobs() {
  local cores memory
  cores=$(nproc)
  memory=$(awk '/^MemAvailable:/ { print int($2 / 1000000) }' /proc/meminfo)
  ((memory < 1)) && memory=1
  echo $((cores < memory ? cores : memory))
}

# configure ROOT PRESET: only when there is nothing to build from yet, or when the checkout was moved since; ninja
# itself configures again when a CMake file changed.
configure() {
  local root=$1 preset=$2 folder=$1/build/$2 fresh=()
  if [[ -f $folder/CMakeCache.txt ]]; then
    grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$folder/CMakeCache.txt" || fresh=(--fresh)
    [[ -f $folder/build.ninja && ${#fresh[@]} -eq 0 ]] && return 0
  fi
  (cd "$root" && cmake --preset "$preset" "${fresh[@]}" --log-level=WARNING)
}

# build ROOT PRESET [TARGET...]
build() {
  local root=$1 preset=$2
  shift 2
  configure "$root" "$preset" && ninja -C "$root/build/$preset" -j "$(build_jobs)" "$@"
}
