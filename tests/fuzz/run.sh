#!/usr/bin/env bash
# Makes up input for the readers and the planner (libFuzzer, address and undefined-behaviour sanitizers), as many drivers at once as there are cores.
#   tests/fuzz/run.sh SECONDS [driver...]     each driver that long; without names all of them
# A find is written to build/fuzz/finds: mend it, then keep the input in tests/fuzz/found/<driver>/ so that every run looks at it.
set -euo pipefail
. "$(dirname -- "${BASH_SOURCE[0]}")/../../cli/setup.sh"
seconds=${1:?how many seconds for each driver}
shift
here=$boardring_root/tests/fuzz
need "${boardring_build_packages[@]}" clang libclang-rt-dev catch2 libgeos-dev python3
drivers=("$@")
if [ ${#drivers[@]} -eq 0 ]; then
  for source in "$here"/*_fuzz.cpp; do name=$(basename "$source" _fuzz.cpp); drivers+=("$name"); done
fi
targets=("${drivers[@]/#/fuzz_}")
. "$here/options.sh"
build "$boardring_root/build/fuzz" "${targets[@]}" -- "${boardring_fuzz_options[@]}"
finds=$boardring_root/build/fuzz/finds
mkdir -p "$finds"

# One driver: its own corpus, what was found once, and what earlier runs grew. What it says goes to build/fuzz/<driver>.log.
run_driver() {
  local driver=$1 folder folders=()
  local grown=$boardring_root/build/fuzz/corpus/$driver
  mkdir -p "$grown"
  for folder in "$here/corpus/$driver" "$here/found/$driver"; do [ -d "$folder" ] && folders+=("$folder"); done
  if [ "$driver" = project ]; then folders+=("$boardring_root/projects" "$boardring_root"/tests/golden/{projects_good,projects_bad,findings}); fi
  "$boardring_root/build/fuzz/tests/fuzz/fuzz_$driver" -max_total_time="$seconds" -timeout=60 -rss_limit_mb=4096 -max_len=4096 \
    -dict="$here/words.dict" -artifact_prefix="$finds/$driver-" -print_final_stats=1 -verbosity=0 \
    "$grown" "${folders[@]}" >"$boardring_root/build/fuzz/$driver.log" 2>&1
}

# As many at once as there are cores; stops when all have ended, so that one find does not hide another.
failed=0
for driver in "${drivers[@]}"; do
  while [ "$(jobs -rp | wc -l)" -ge "$(nproc)" ]; do sleep 1; done
  say "$driver for $seconds s"
  run_driver "$driver" &
done
wait || true
for driver in "${drivers[@]}"; do
  log=$boardring_root/build/fuzz/$driver.log
  say "$driver: $(grep -E "stat::number_of_executed_units" "$log" || echo "did not end well")"
  if ! grep -q "stat::number_of_executed_units" "$log" || compgen -G "$finds/$driver-*" >/dev/null; then
    grep -E "broken|ERROR|runtime error|SUMMARY|finds/" "$log" >&2 || tail -20 "$log" >&2
    failed=1
  fi
done
exit "$failed"
