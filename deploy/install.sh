#!/usr/bin/env bash
# Installs what is missing of the package groups named, from deploy/packages: deploy/install.sh [--replace] GROUP...
# Does nothing, within a second, when all is there. Takes root, or a user with sudo. Never removes a package unless
# --replace is given or CI=true is set; it says first which would go.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
list=$here/packages
least_node=18
replace=no
[[ ${CI:-} == true ]] && replace=yes

say() { printf '%s\n' "$*" >&2; }
die() {
  say "$*"
  exit 1
}

groups=()
for argument in "$@"; do
  case $argument in
    --replace) replace=yes ;;
    -*) die "install.sh: unknown option $argument; use: install.sh [--replace] GROUP..." ;;
    *) groups+=("$argument") ;;
  esac
done
((${#groups[@]})) || die "install.sh: name at least one group of $list, such as: build node run"

# The lines of one group, without comments.
lines_of() {
  awk -v want="[$1]" '/^[[:space:]]*(#|$)/ { next } /^\[/ { inside = ($0 == want); found = found || inside; next }
    inside { print } END { exit !found }' "$list"
}

# Is the Node on the PATH new enough, with its npm beside it?
node_will_do() {
  command -v node >/dev/null && command -v npm >/dev/null || return 1
  local major
  major=$(node --version 2>/dev/null | sed -n 's/^v\([0-9]*\)\..*/\1/p')
  [[ -n $major ]] && ((major >= least_node))
}

# A Node from elsewhere stands in the way of Debian's npm; then only its owner can put it right.
check_foreign_node() {
  command -v node >/dev/null || return 0
  local found
  found=$(node --version 2>/dev/null || echo "no version")
  dpkg-query -S "$(readlink -f "$(command -v node)")" 2>/dev/null | grep -q '^nodejs:' || die \
    "The Node on the PATH ($(command -v node), $found) is older than $least_node or has no npm beside it: update it, or take it off the PATH so that Debian's is used."
}

needs=()
for group in "${groups[@]}"; do
  if [[ $group == node ]]; then
    node_will_do && continue
    check_foreign_node
  fi
  mapfile -t lines < <(lines_of "$group" || true)
  ((${#lines[@]})) || die "install.sh: $list has no group [$group]."
  needs+=("${lines[@]}")
done
((${#needs[@]})) || exit 0

command -v apt-get >/dev/null || die \
  "This system has no apt-get: Rindwatch installs its packages on Debian 12 or newer; elsewhere install by hand what $list names."

# "name (>= version)" -> name and least version, in two variables.
split_alternative() {
  local text=$1
  name=$(sed 's/ *(.*//; s/^ *//; s/ *$//' <<<"$text")
  least=$(sed -n 's/.*(>= *\([^)]*\)).*/\1/p' <<<"$text")
}

declare -A installed candidate
read_installed() {
  installed=()
  local status package version
  while IFS=$'\t' read -r status package version; do
    [[ $status == "installed" ]] && installed[$package]=$version
  done < <(dpkg-query -W -f='${db:Status-Status}\t${Package}\t${Version}\n' "$@" 2>/dev/null || true)
}
read_candidates() {
  candidate=()
  local package="" word value
  while read -r word value; do
    case $word in
      *:) [[ $word == Candidate: ]] && [[ $value != "(none)" ]] && candidate[$package]=$value
          [[ -z $value ]] && package=${word%:} ;;
    esac
  done < <(LC_ALL=C apt-cache policy "$@" 2>/dev/null || true)
}
new_enough() { [[ -z $2 ]] || dpkg --compare-versions "$1" ge "$2"; }

names_of_all() {
  local need alternative
  for need in "${needs[@]}"; do
    IFS='|' read -ra alternatives <<<"$need"
    for alternative in "${alternatives[@]}"; do
      split_alternative "$alternative"
      printf '%s\n' "$name"
    done
  done
}

# Sorts the needs into `missing` (to be installed) and `unknown` (no alternative exists here). The first alternative
# decides without asking apt; a later one counts only when apt has none of those before it.
missing=() unknown=()
sort_needs() {
  missing=() unknown=()
  local need alternative choice asked=no
  read_installed "${names[@]}"
  for need in "${needs[@]}"; do
    IFS='|' read -ra alternatives <<<"$need"
    split_alternative "${alternatives[0]}"
    if [[ -n ${installed[$name]:-} ]] && new_enough "${installed[$name]}" "$least"; then continue; fi
    if [[ $asked == no ]]; then
      read_candidates "${names[@]}"
      asked=yes
    fi
    choice=""
    for alternative in "${alternatives[@]}"; do
      split_alternative "$alternative"
      if [[ -n ${candidate[$name]:-} ]] && new_enough "${candidate[$name]}" "$least"; then
        choice=$name
        break
      fi
    done
    if [[ -z $choice ]]; then
      unknown+=("$need")
    elif [[ -z ${installed[$choice]:-} ]] || ! new_enough "${installed[$choice]}" "$least"; then
      missing+=("$choice")
    fi
  done
}

mapfile -t names < <(names_of_all)
sort_needs
((${#missing[@]} + ${#unknown[@]})) || exit 0

# What to install by hand: names alone.
by_hand() {
  local need names=("${missing[@]}")
  for need in "${unknown[@]}"; do
    split_alternative "${need%%|*}"
    names+=("$name")
  done
  printf '%s' "${names[*]}"
}
as_root=()
if ((EUID != 0)); then
  command -v sudo >/dev/null || die \
    "Some Debian packages are missing and there is no sudo here: as root, run: apt-get install --no-install-recommends $(by_hand)"
  as_root=(sudo)
fi
apt() {
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -o DPkg::Lock::Timeout=120 "$@"
}
update() {
  say "Reading Debian's package lists ..."
  apt update -q >&2 || die "Debian's package lists could not be read: see the lines above (is the network there, and may this user use sudo?)."
}

if ((${#unknown[@]})); then
  update
  sort_needs
  ((${#unknown[@]} == 0)) || die "This Debian release has no package for: $(printf '%s; ' "${unknown[@]}" | sed 's/; $//'). Rindwatch needs Debian 12 or newer."
fi
((${#missing[@]})) || exit 0

# What would be removed to make room, one name a line.
would_go() { LC_ALL=C apt-get -s install --no-install-recommends "${missing[@]}" 2>/dev/null | awk '$1 == "Remv" { print $2 }'; }
install_missing() {
  local keep=(--no-remove)
  mapfile -t going < <(would_go)
  if ((${#going[@]})); then
    [[ $replace == yes ]] || die \
      "Installing ${missing[*]} would remove: ${going[*]}. Nothing was changed; run again with --replace to let these go."
    say "Replacing: ${going[*]} will be removed."
    keep=()
  fi
  apt install -y --no-install-recommends "${keep[@]}" "${missing[@]}" >&2
}

say "Installing from Debian: ${missing[*]}"
# Old lists name files that the archive no longer has: read them again once before giving up.
(install_missing) && exit 0
mapfile -t going < <(would_go)
((${#going[@]})) && [[ $replace == no ]] && exit 1
update
(install_missing) || die "Debian's packages could not be installed: see the lines above."
