#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"
#include "io/edit_json.hpp"
#include "io/located_json.hpp"

namespace boardring {

/// One step on the text of a project file.
struct Edit {
    enum class Kind { set, take_out, rename };
    Kind kind = Kind::set;
    JsonPath path;
    std::string json;  ///< set: the value as JSON text; rename: the new key
};

/// What a phrase asks for, or why it cannot be done.
struct ChangeRead {
    std::vector<Edit> edits;  ///< in the order in which they are to be made
    Findings findings;
};

/// Reads one phrase of `boardring change`: "C is 97", "board 4 is 30", "joint B butt, 2 through", "leave out margin" (all forms:
/// docs/changing.md). `root` is the project file as it stands.
/// \param listed  stock that boards may be of besides what stands in the file: that of its price list
/// Problems  change.not-understood (a word is not known; names the nearest), change.no-such (there is no such corner, board,
///           stock or size in this project), change.units; and what the readers of lengths and angles find
ChangeRead read_change(std::string_view phrase, const JsonValue& root, const std::vector<std::string>& listed = {});

/// The name a phrase would use for what stands at `path`: "kerf", "board 4", "AB"; the pointer where there is no better one.
std::string subject_name(const JsonPath& path, const JsonValue& root);

/// A phrase that sets `path` to the value it has under `root`.
std::string phrase_for(const JsonPath& path, const JsonValue& root);

}  // namespace boardring
