#!/usr/bin/env bash
# Which branches of engine/ no test takes: builds without optimisation in build/coverage, runs the tests, lists lines and branches by file.
#   tests/coverage.sh                 the unit, property, golden, end-to-end and reference tests that are quick
#   tests/coverage.sh -R unit         arguments go to ctest
# Branches that only an exception takes (the compiler makes one of every call) are left out. Pages to look at: build/coverage/pages/index.html.
set -euo pipefail
. "$(dirname -- "${BASH_SOURCE[0]}")/../cli/setup.sh"
need "${boardring_build_packages[@]}" catch2 libgeos-dev python3 python3-jsonschema python3-numpy python3-scipy gcovr
folder=$boardring_root/build/coverage
build "$folder" all -- -DCMAKE_BUILD_TYPE=Debug \
  '-DCMAKE_CXX_FLAGS_DEBUG=-O0 --coverage -fprofile-update=atomic -fprofile-filter-files=.*/engine/.*'
find "$folder" -name '*.gcda' -delete
say "running the tests"
BOARDRING_FRAMES=${BOARDRING_FRAMES:-5000} ctest --test-dir "$folder" -j "$(nproc)" -LE "looked_at|consumer|bench" -E "property_pages_test|fit_by_scipy|package_test|mends_test|files_test" "$@" ||
  say "some tests failed (what holds the program to seconds may, this slow): the table tells what ran"
mkdir -p "$folder/pages"
gcovr --root "$boardring_root" --filter "$boardring_root/engine/" --object-directory "$folder/engine" "$folder/engine" -j "$(nproc)" \
  --branches --exclude-throw-branches --exclude-unreachable-branches --sort-uncovered --txt "$folder/branches.txt" \
  --json "$folder/branches.json" --html-details "$folder/pages/index.html" --html-title "boardring: branches of engine/"
tail -5 "$folder/branches.txt"
say "by file: build/coverage/branches.txt; line by line: build/coverage/pages/index.html"
