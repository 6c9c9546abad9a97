#include "io/place.hpp"

#include <algorithm>

#include "io/text_bytes.hpp"

namespace boardring {

PlaceFinder::PlaceFinder(std::string_view text) : text_(text), offset_(byte_order_mark_length(text)), place_{1, 1} {}

Place PlaceFinder::at(std::size_t offset) {
    if (offset < offset_) *this = PlaceFinder(text_);
    const std::size_t end = std::min(offset, text_.size());
    for (; offset_ < end; ++offset_) {
        if (text_[offset_] == '\n') {
            ++place_.line;
            place_.column = 1;
        } else if (offset_ + 1 >= text_.size() || !is_utf8_continuation(text_[offset_ + 1])) {
            ++place_.column;  // counted at the last byte of each character
        }
    }
    return place_;
}

}  // namespace boardring
