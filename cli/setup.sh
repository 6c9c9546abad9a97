# Sourced by cli/run.sh and tests/run.sh: installs what is missing, builds. Says what it does on standard error.
# Debian 12 or later; nothing is fetched except Debian's own packages.

boardring_root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd)

# What the program itself needs to be built.
boardring_build_packages=(g++ cmake ninja-build libboost-dev nlohmann-json3-dev libfmt-dev libcli11-dev coinor-libclp-dev libeigen3-dev zlib1g-dev libcairo2-dev fonts-dejavu-core)

say() { printf 'boardring: %s\n' "$*" >&2; }

# need PACKAGE...: installs those that are not there. Uses sudo only when it must and can.
need() {
  local missing=() package
  for package in "$@"; do
    [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || missing+=("$package")
  done
  [ ${#missing[@]} -gt 0 ] || return 0
  if ! command -v apt-get >/dev/null; then
    say "this is not a Debian system; please install what these packages hold: ${missing[*]}"
    return 1
  fi
  local as_root=()
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      say "missing packages, and neither root nor sudo here. Ask for: apt-get install ${missing[*]}"
      return 1
    fi
    as_root=(sudo)
  fi
  say "installing ${missing[*]}${as_root:+ (with sudo)}"
  local log
  log=$(mktemp)
  if ! { "${as_root[@]}" apt-get update -qq &&
         "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}"; } \
         >"$log" 2>&1 </dev/null; then
    cat "$log" >&2
    say "apt-get failed; its words stand above"
    rm -f "$log"
    return 1
  fi
  rm -f "$log"
}

# build FOLDER TARGETS... -- CMAKE OPTIONS...: configures once, builds what has changed, quiet unless it fails or takes long.
build() {
  local folder=$1 targets=() log
  shift
  while [ $# -gt 0 ] && [ "$1" != -- ]; do targets+=("$1"); shift; done
  shift
  log=$(mktemp)
  if [ ! -f "$folder/build.ninja" ]; then
    say "first build in ${folder#"$boardring_root"/} (a few minutes; later runs take seconds)"
    if ! cmake -S "$boardring_root" -B "$folder" -G Ninja "$@" >"$log" 2>&1; then
      cat "$log" >&2
      rm -f "$log"
      return 1
    fi
  fi
  if ! ninja -C "$folder" "${targets[@]}" >"$log" 2>&1; then
    cat "$log" >&2
    say "the build failed; its words stand above"
    rm -f "$log"
    return 1
  fi
  rm -f "$log"
}
