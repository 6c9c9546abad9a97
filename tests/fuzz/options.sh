# Sourced by tests/fuzz/run.sh and .ci/run: how the build with made-up input and sanitizers is configured (build/fuzz).
boardring_fuzz_options=(-DCMAKE_BUILD_TYPE=Debug '-DCMAKE_CXX_FLAGS_DEBUG=-O2 -g1' -DCMAKE_CXX_COMPILER=clang++
  -DBOARDRING_FUZZ=ON -DBOARDRING_SANITIZE=fuzzer-no-link,address,undefined)
