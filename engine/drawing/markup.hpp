#pragma once
#include <string>
#include <string_view>

namespace boardring {

/// A text as it may stand in XML or HTML, between tags or inside a double-quoted attribute: cleaned (plain_line), then & < > and "
/// written as references. No text of a project reaches a file of markup any other way.
std::string escaped_markup(std::string_view text);

}  // namespace boardring
