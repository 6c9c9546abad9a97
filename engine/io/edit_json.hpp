#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "io/located_json.hpp"

// Edits of a JSON text that leave every other byte as it is: comments, order, indentation, line ends.

namespace boardring {

/// Way to a value: keys of objects, indices of lists ("0"); as the last step of a list "-", the place behind its last item.
using JsonPath = std::vector<std::string>;

/// "/boards/4" <-> {"boards", "4"}. Nothing if the text is no RFC 6901 pointer.
std::optional<JsonPath> json_path(std::string_view pointer);
std::string json_pointer(const JsonPath& path);

/// The value at the end of the way; null when there is none.
const JsonValue* value_at(const JsonValue& root, const JsonPath& path);

/// `text` with `json` as the value at `path`. A new member or item stands last, as its neighbours stand: on a line of its own
/// behind the comments of the line before, or on theirs. Objects missing on the way are made. Nothing if the text is no JSON, or the way leads
/// through a value that holds no others.
/// Law  without_value undoes what with_value added: the same bytes [edit_json_test]
std::optional<std::string> with_value(std::string_view text, const JsonPath& path, std::string_view json);

/// `text` without the member or item at `path`, its comma and the blanks before it; comments stay. Nothing if it is not there.
std::optional<std::string> without_value(std::string_view text, const JsonPath& path);

/// `text` with the member at `path` called `key` instead.
std::optional<std::string> with_key(std::string_view text, const JsonPath& path, std::string_view key);

/// Characters as JSON text, in quotes; nothing is escaped that need not be.
std::string json_text(std::string_view characters);

}  // namespace boardring
