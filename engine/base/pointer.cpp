#include "base/pointer.hpp"

namespace boardring {

std::string pointer_step(std::string_view key) {
    std::string step = "/";
    for (const char c : key) {
        if (c == '~') {
            step += "~0";
        } else if (c == '/') {
            step += "~1";
        } else {
            step += c;
        }
    }
    return step;
}

std::string pointer_step(std::size_t index) { return "/" + std::to_string(index); }

}  // namespace boardring
