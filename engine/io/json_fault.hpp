#pragma once
#include <cstddef>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "base/finding.hpp"

namespace boardring {

/// What a JSON reader waits for after the last thing it understood.
enum class JsonWait {
    first_value,   ///< nothing read yet
    first_key,     ///< just behind {
    colon,         ///< just behind a key
    after_member,  ///< behind a value in an object
    first_item,    ///< just behind [
    after_item,    ///< behind a value in a list
    end,           ///< behind the whole
};

/// Where a reader of JSON stopped.
struct JsonStop {
    JsonWait wait = JsonWait::first_value;
    std::size_t offset = 0;         ///< first byte behind the last thing understood
    std::vector<std::size_t> open;  ///< offsets of the brackets still open, outermost first
    std::size_t key_offset = 0;     ///< of the last key's opening quote
    std::size_t value_offset = 0;   ///< of the last value's first byte
    /// First pair of brackets (opening, closing) of which the closing one starts a line, indented otherwise than the line of the
    /// opening one: people indent brackets in pairs, so one is likely missing or too many in between.
    std::optional<std::pair<std::size_t, std::size_t>> odd_pair;
};

/// Says in a maker's words why the text is no JSON and what would mend it (`file.not-json`), or that a number is too large for
/// any use (`value.out-of-range`). `text` is well-formed UTF-8. Pointer is empty; line and column are set.
Finding explain_json_fault(std::string_view text, const JsonStop& stop);

/// Length of the number RFC 8259 allows at the start of `text`, or 0.
std::size_t json_number_length(std::string_view text);

/// Offset of the first byte at or after `offset` that is neither white space nor inside a finished comment.
std::size_t skip_blank_and_comments(std::string_view text, std::size_t offset);

}  // namespace boardring
