#pragma once
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"
#include "io/place.hpp"

namespace boardring {

/// A JSON value that knows where it stands in the text. Objects keep their members in file order, duplicate keys included.
struct JsonValue {
    enum class Type { null, boolean, number, text, list, object };

    Type type = Type::null;
    bool flag = false;                ///< boolean
    double number = 0.0;              ///< number; finite
    std::string text;                 ///< text: its characters (UTF-8); number: as written
    std::vector<JsonValue> children;  ///< list: items; object: members
    std::string name;                 ///< key, when this is a member of an object
    Place place;                      ///< first character of the value
    Place name_place;                 ///< of the key's opening quote; members only
    std::size_t begin = 0;            ///< the value's bytes in the text: [begin, end)
    std::size_t end = 0;
    std::size_t name_begin = 0;       ///< byte of the key's opening quote; members only

    /// The first member called `key`; null when there is none or this is no object.
    [[nodiscard]] const JsonValue* member(std::string_view key) const;
};

/// What a text said, as a tree.
struct LocatedJson {
    std::optional<JsonValue> root;  ///< absent when the text is no JSON
    Findings findings;              ///< in file order
};

inline constexpr std::size_t kMostBytes = 4'000'000;
inline constexpr std::size_t kMostLevels = 32;
inline constexpr std::size_t kMostValues = 200'000;

/// Reads JSON (RFC 8259) with // and /* */ comments and an optional byte order mark; strict otherwise. Never throws on any bytes.
/// Codes: file.too-large, file.encoding, file.too-deep, file.not-json, value.out-of-range (a number beyond 1.8e308) stop the
/// reading; key.duplicate does not (the first of two equal keys is the one `member` finds). Every finding has line and column.
LocatedJson read_located_json(std::string_view text);

/// Every pointer of the tree (RFC 6901) with the place of its value; of duplicate keys the first.
std::map<std::string, Place> places_of(const JsonValue& root);

}  // namespace boardring
