#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace boardring {

/// The entry of docs/findings.md for a code (whole code, or its last part if only one has it), or nothing.
std::optional<std::string> explain(std::string_view code);

/// All codes, in the order of docs/findings.md.
std::vector<std::string_view> finding_codes();

}  // namespace boardring
