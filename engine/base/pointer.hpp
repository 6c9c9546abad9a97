#pragma once
#include <cstddef>
#include <string>
#include <string_view>

namespace boardring {

/// One step of a JSON pointer (RFC 6901): "/" and the key with `~` and `/` escaped.
std::string pointer_step(std::string_view key);
std::string pointer_step(std::size_t index);

}  // namespace boardring
