#include "drawing/line_styles.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "base/utf8.hpp"

namespace boardring {
namespace {

bool left_out(char32_t code) {
    if (code < 0x20U || (code >= 0x7FU && code <= 0x9FU)) return true;
    if (code == 0x200EU || code == 0x200FU || (code >= 0x202AU && code <= 0x202EU) || (code >= 0x2066U && code <= 0x2069U))
        return true;
    return (code & 0xFFFEU) == 0xFFFEU || (code >= 0xFDD0U && code <= 0xFDEFU);
}

}  // namespace

double pen_width_mm(Pen pen) {
    switch (pen) {
        case Pen::outline: return 0.5;
        case Pen::thin: return 0.25;
        case Pen::hidden: return 0.35;
        case Pen::given: return 0.6;
        case Pen::dimension: return 0.2;
        case Pen::cut: return 0.7;
    }
    return 0.25;
}

std::vector<double> dash_mm(Pen pen, double length_mm) {
    const bool given = pen == Pen::given;
    if (!given && pen != Pen::hidden) return {};
    constexpr double kLong = 6.0, kDot = 0.8, kGap = 1.3, kShort = 2.0;
    const double period = given ? kLong + kDot + 2.0 * kGap : kShort + kGap;
    const double last = given ? kLong : kShort;
    const double periods = std::max(1.0, std::round((length_mm - last) / period));
    const double by = length_mm / (periods * period + last);
    if (given) return {by * kLong, by * kGap, by * kDot, by * kGap};
    return {by * kShort, by * kGap};
}

double fill_grey(Fill fill) {
    switch (fill) {
        case Fill::none:
        case Fill::blank:
        case Fill::waste: return 1.0;
        case Fill::wood: return 236.0 / 255.0;
        case Fill::ink: return 0.0;
    }
    return 1.0;
}

double stroke_length(const Stroke& stroke) {
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < stroke.points.size(); ++i) sum += length(stroke.points[i + 1] - stroke.points[i]);
    if (stroke.closed && !stroke.points.empty()) sum += length(stroke.points.front() - stroke.points.back());
    return sum;
}

std::string plain_line(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const auto [code, bytes, valid] = decode_utf8(text, i);
        i += bytes;
        if (code == '\t' || code == '\n') {
            out += ' ';
        } else if (!left_out(code)) {
            append_utf8(out, code);
        }
    }
    return out;
}

}  // namespace boardring
