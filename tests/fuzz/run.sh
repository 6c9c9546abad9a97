#!/usr/bin/env bash
# Makes up input for the readers and the planner (libFuzzer, address and undefined-behaviour sanitizers), and stops at the first find.
#   tests/fuzz/run.sh SECONDS [driver...]     each driver that long; without names all of them
# A find is written to build/fuzz/finds: mend it, then keep the input in tests/fuzz/found/<driver>/ so that every run looks at it.
set -euo pipefail
. "$(dirname -- "${BASH_SOURCE[0]}")/../../cli/setup.sh"
seconds=${1:?how many seconds for each driver}
shift
here=$boardring_root/tests/fuzz
need "${boardring_build_packages[@]}" clang catch2 libgeos-dev python3
drivers=("$@")
if [ ${#drivers[@]} -eq 0 ]; then
  for source in "$here"/*_fuzz.cpp; do name=$(basename "$source" _fuzz.cpp); drivers+=("$name"); done
fi
targets=("${drivers[@]/#/fuzz_}")
build "$boardring_root/build/fuzz" "${targets[@]}" -- -DCMAKE_BUILD_TYPE=Debug '-DCMAKE_CXX_FLAGS_DEBUG=-O1 -g1' -DCMAKE_CXX_COMPILER=clang++ \
  -DBOARDRING_FUZZ=ON -DBOARDRING_SANITIZE=fuzzer-no-link,address,undefined
mkdir -p "$boardring_root/build/fuzz/finds"
for driver in "${drivers[@]}"; do
  grown=$boardring_root/build/fuzz/corpus/$driver
  mkdir -p "$grown"
  more=()
  if [ "$driver" = project ]; then more=("$boardring_root/projects" "$boardring_root"/tests/golden/{projects_good,projects_bad,findings}); fi
  say "$driver for $seconds s"
  "$boardring_root/build/fuzz/tests/fuzz/fuzz_$driver" -max_total_time="$seconds" -timeout=20 -rss_limit_mb=4096 -max_len=4096 \
    -dict="$here/words.dict" -artifact_prefix="$boardring_root/build/fuzz/finds/$driver-" -print_final_stats=1 -verbosity=0 \
    "$grown" $(for d in "$here/corpus/$driver" "$here/found/$driver" "${more[@]}"; do [ -d "$d" ] && echo "$d"; done) 2>&1 |
    grep -E "stat::number_of_executed_units|broken|ERROR|runtime error|SUMMARY|finds/" || true
  if ls "$boardring_root/build/fuzz/finds/$driver-"* >/dev/null 2>&1; then say "$driver found something"; exit 1; fi
done
