#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace boardring {

/// What kind of value stands there.
enum class Kind { length, angle, number, count, word, text, flag };

/// One thing of a project that a phrase can speak of: how people call it and where it stands in the file.
struct Subject {
    std::vector<std::string_view> names;  ///< lower case; the first is what we call it
    std::string_view pointer;
    Kind kind = Kind::length;
    std::vector<std::string_view> words = {};  ///< of Kind::word: those allowed
};

/// All of them, in the order of the project file.
const std::vector<Subject>& subjects();

}  // namespace boardring
