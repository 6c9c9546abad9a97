#include "report/csv.hpp"

#include "report/wording.hpp"

namespace boardring {
namespace {

// A text that a spreadsheet would take for a formula; the wide forms of the signs are read as the plain ones by some.
bool starts_formula(std::string_view text) {
    for (const std::string_view sign :
         {"=", "+", "-", "@", "\t", "\r", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"}) {
        if (text.substr(0, sign.size()) == sign) return true;
    }
    return false;
}

std::string quoted_cell(const std::string& cell) {
    if (cell.find_first_of(",\"") == std::string::npos) return cell;
    std::string quoted = "\"";
    for (const char c : cell) {
        if (c == '"') quoted += '"';
        quoted += c;
    }
    return quoted + '"';
}

}  // namespace

// Looked at before and after control characters are taken out.
std::string text_cell(std::string_view text) {
    const std::string clean = clean_text(text);
    return starts_formula(text) || starts_formula(clean) ? "'" + clean : clean;
}

void add_csv_row(std::string& text, const std::vector<std::string>& row) {
    for (std::size_t i = 0; i < row.size(); ++i) {
        if (i > 0) text += ',';
        text += quoted_cell(row[i]);
    }
    text += "\r\n";
}

}  // namespace boardring
