#!/usr/bin/env bash
# Runs boardring from this source tree: installs what is missing, builds Release, then runs it with the arguments given.
#   cli/run.sh plan projects/courtyard-planter
# Works from any folder; file names are taken from where you stand.
set -euo pipefail
. "$(dirname -- "${BASH_SOURCE[0]}")/setup.sh"

need "${boardring_build_packages[@]}"
build "$boardring_root/build/release" boardring -- -DCMAKE_BUILD_TYPE=Release -DBOARDRING_TESTS=OFF
exec "$boardring_root/build/release/cli/boardring" "$@"
