#pragma once
#include <cstddef>
#include <cstdlib>
#include <string_view>

namespace boardring_test {

/// How many cases a statistical test runs: `usual`, or `full` where the environment says BOARDRING_FULL=1.
inline std::size_t cases(std::size_t usual, std::size_t full) {
    const char* asked = std::getenv("BOARDRING_FULL");
    return asked != nullptr && std::string_view(asked) == "1" ? full : usual;
}

}  // namespace boardring_test
