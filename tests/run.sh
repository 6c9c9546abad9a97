#!/usr/bin/env bash
# Runs every test: installs what is missing, builds Release, runs ctest. Arguments go to ctest, as in: tests/run.sh -R unit
#   tests/run.sh --quick             what takes long is left out (under two minutes when built): for between two changes, not for before a landing
#   BOARDRING_FULL=1 tests/run.sh    the long statistical runs at their full size (docs/accuracy.md)
# Works from any folder.
set -euo pipefail
. "$(dirname -- "${BASH_SOURCE[0]}")/../cli/setup.sh"

need "${boardring_build_packages[@]}" catch2 libgeos-dev python3 python3-jsonschema poppler-utils python3-ezdxf python3-numpy python3-scipy glpk-utils libxml2-utils w3c-sgml-lib dpkg-dev lintian strace
# The browser that opens the papers, and what it needs from npm (tests/looked_at/package-lock.json).
for command in chromium node npm; do
  command -v "$command" >/dev/null || need "${command/#node/nodejs}"
done
looked_at=$boardring_root/build/looked_at
if ! cmp -s "$boardring_root/tests/looked_at/package-lock.json" "$looked_at/package-lock.json"; then
  mkdir -p "$looked_at"
  cp "$boardring_root"/tests/looked_at/package.json "$looked_at/"
  say "installing axe-core and playwright-core from npm into build/looked_at"
  cp "$boardring_root"/tests/looked_at/package-lock.json "$looked_at/package-lock.json"
  if ! (cd "$looked_at" && npm ci --silent --no-audit --no-fund >&2); then
    rm -f "$looked_at/package-lock.json"
    say "npm failed: the test that opens the papers in a browser will say that it cannot"
  fi
fi
build "$boardring_root/build/tests" all -- -DCMAKE_BUILD_TYPE=Release -DBOARDRING_TESTS=ON -DBOARDRING_WERROR=${BOARDRING_WERROR:-OFF}
if [ "${1:-}" = --quick ]; then
  shift
  set -- -LE "looked_at|consumer" -E "property_pages_test|fit_by_scipy|package_test|mends_test" "$@"
  unset BOARDRING_REFERENCES
  export BOARDRING_FRAMES=5000
  say "without the slow ones, and random frames in a small number"
fi
say "running the tests"
exec ctest --test-dir "$boardring_root/build/tests" --output-on-failure -j "$(nproc)" "$@"
