#include "drawing/markup.hpp"

#include "drawing/line_styles.hpp"

namespace boardring {

std::string escaped_markup(std::string_view text) {
    std::string out;
    for (const char c : plain_line(text)) {
        switch (c) {
            case '&': out += "&amp;"; break;
            case '<': out += "&lt;"; break;
            case '>': out += "&gt;"; break;
            case '"': out += "&quot;"; break;
            default: out += c;
        }
    }
    return out;
}

}  // namespace boardring
