#include "drawing/drawing.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "base/angle.hpp"
#include "base/utf8.hpp"

namespace boardring {
namespace {

// Advance widths in em, rounded up from the widest of the common sans-serif faces (from memory of their tables, checked on one).
double glyph_em(unsigned char c) {
    constexpr std::string_view kThin = "IJijl'";
    constexpr std::string_view kNarrow = " .,-:;!()[]/\\|frt\"";
    constexpr std::string_view kWide = "MmWw%@";
    constexpr std::string_view kSymbols = "#+<=>^~&OQGDHNU";
    if (kThin.find(static_cast<char>(c)) != std::string_view::npos) return 0.30;
    if (kNarrow.find(static_cast<char>(c)) != std::string_view::npos) return 0.40;
    if (kWide.find(static_cast<char>(c)) != std::string_view::npos) return 1.00;
    if (kSymbols.find(static_cast<char>(c)) != std::string_view::npos) return 0.82;
    if (c >= 'A' && c <= 'Z') return 0.70;
    return 0.64;
}

constexpr double kStrongMoreEm = 0.09;

double character_em(Decoded character) {
    if (character.code < 0x80U) return glyph_em(static_cast<unsigned char>(character.code));
    if (character.code == U'\u00B0') return 0.52;  // the degree sign
    return character.code < 0x800U ? 0.85 : 1.05;  // accented letters, fractions; then everything wider
}

bool hangs_below(std::string_view text) {
    return text.find_first_of("gjpqyQ,;()[]{}|_@/") != std::string_view::npos;
}

// Cuts one over-long word into parts that fit.
void split_word(std::string_view word, double limit, bool strong, std::vector<std::string>& lines) {
    std::string part;
    for (std::size_t i = 0; i < word.size();) {
        const std::size_t bytes = decode_utf8(word, i).bytes;
        const std::string_view next = word.substr(i, bytes);
        if (!part.empty() && text_width(part + std::string(next), strong) > limit) {
            lines.push_back(part);
            part.clear();
        }
        part += next;
        i += bytes;
    }
    if (!part.empty()) lines.push_back(part);
}

}  // namespace

double text_width(std::string_view text, bool strong) {
    double em = 0.0;
    for (std::size_t i = 0; i < text.size();) {
        const Decoded character = decode_utf8(text, i);
        em += character_em(character) + (strong ? kStrongMoreEm : 0.0);
        i += character.bytes;
    }
    return em / kCapHeight;
}

std::vector<std::string> wrapped_text(std::string_view text, double width, double height, bool strong) {
    const double limit = width / height;
    std::vector<std::string> lines;
    std::string line;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t end = std::min(text.find(' ', i), text.size());
        const std::string word(text.substr(i, end - i));
        i = end + 1;
        if (word.empty()) continue;
        const std::string longer = line.empty() ? word : line + ' ' + word;
        if (text_width(longer, strong) <= limit) {
            line = longer;
            continue;
        }
        if (!line.empty()) lines.push_back(line);
        line.clear();
        split_word(word, limit, strong, lines);
        if (!lines.empty()) {
            line = lines.back();
            lines.pop_back();
        }
    }
    if (!line.empty()) lines.push_back(line);
    return lines;
}

std::array<Vec2, 4> label_box(const Label& label) {
    const double width = text_width(label.text, label.strong) * label.height;
    const double left = label.align == Align::left ? 0.0 : label.align == Align::centre ? -0.5 * width : -width;
    const double top = 0.55 * label.height;
    const double bottom = (hangs_below(label.text) ? -0.85 : -0.52) * label.height;
    const Vec2 along = unit_deg(label.turn_deg);
    const Vec2 up = left_of(along);
    return {label.at + left * along + bottom * up, label.at + (left + width) * along + bottom * up,
            label.at + (left + width) * along + top * up, label.at + left * along + top * up};
}

std::vector<std::array<Vec2, 2>> hatch_lines(const std::vector<Vec2>& polygon, double spacing) {
    // In turned axes u = (x + y)/sqrt2 along the lines, v = (y - x)/sqrt2 across them.
    constexpr double kHalf = 1.0 / std::numbers::sqrt2;
    std::vector<Vec2> uv;
    uv.reserve(polygon.size());
    for (const Vec2 p : polygon) uv.push_back({kHalf * (p.x + p.y), kHalf * (p.y - p.x)});
    if (uv.size() < 3) return {};
    const auto [low, high] = std::minmax_element(uv.begin(), uv.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
    std::vector<std::array<Vec2, 2>> lines;
    for (double row = std::ceil(low->y / spacing); row * spacing < high->y; row += 1.0) {
        const double v = row * spacing;
        std::vector<double> crossings;
        for (std::size_t i = 0; i < uv.size(); ++i) {
            const Vec2 a = uv[i];
            const Vec2 b = uv[(i + 1) % uv.size()];
            if ((a.y <= v) == (b.y <= v)) continue;
            crossings.push_back(a.x + (v - a.y) / (b.y - a.y) * (b.x - a.x));
        }
        std::sort(crossings.begin(), crossings.end());
        for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
            const auto back = [&](double u) { return Vec2{kHalf * (u - v), kHalf * (u + v)}; };
            lines.push_back({back(crossings[i]), back(crossings[i + 1])});
        }
    }
    return lines;
}

}  // namespace boardring
