#pragma once
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

/// What every driver gives: any bytes in; comes back with 0, or ends the program where a law is broken. Under libFuzzer bytes are made
/// up (tests/fuzz/run.sh); in the normal run replay.cpp feeds the files of corpus and found.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace boardring_test {

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
    return {reinterpret_cast<const char*>(data), size};
}

/// Ends the program, saying which law is broken.
inline void must(bool holds, const std::string& law) {
    if (holds) return;
    std::fprintf(stderr, "broken: %s\n", law.c_str());
    std::abort();
}

}  // namespace boardring_test
