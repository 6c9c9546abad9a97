#!/usr/bin/env bash
# Runs every test: installs what is missing, builds Release, runs ctest. Arguments go to ctest, as in: tests/run.sh -R unit
#   BOARDRING_FULL=1 tests/run.sh    the long statistical runs at their full size (docs/accuracy.md)
# Works from any folder.
set -euo pipefail
. "$(dirname -- "${BASH_SOURCE[0]}")/../cli/setup.sh"

need "${boardring_build_packages[@]}" catch2 libgeos-dev python3 python3-jsonschema poppler-utils python3-ezdxf
build "$boardring_root/build/tests" all -- -DCMAKE_BUILD_TYPE=Release -DBOARDRING_TESTS=ON -DBOARDRING_WERROR=${BOARDRING_WERROR:-OFF}
say "running the tests"
exec ctest --test-dir "$boardring_root/build/tests" --output-on-failure -j "$(nproc)" "$@"
