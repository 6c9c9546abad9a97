#include "outline/check.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "outline/crossings.hpp"
#include "outline/notebook.hpp"

namespace boardring {
namespace {

constexpr double kSamePlaceMm = 1e-6;
constexpr double kFoldDeg = 1e-6;
constexpr std::size_t kWrittenOut = 5;
constexpr std::size_t kEveryPair = 1000;  // sides; beyond, the first crossing is enough

// Where in the file a corner or side stands, and what people call it.
class Place {
public:
    Place(const Outline& outline, const Project& project) : outline_(outline), asked_(project.outline), style_(project.style()) {}

    [[nodiscard]] std::string side(std::size_t k) const { return pair_name(k, outline_.corner_after(k)); }

    [[nodiscard]] std::string corner_pointer(std::size_t c) const {
        if (std::holds_alternative<PointsOutline>(asked_.form)) return fmt::format("{}/{}", asked_.form_pointer, c);
        return reading_pointer(Reading::Kind::angle, c);
    }
    [[nodiscard]] std::string side_pointer(std::size_t k) const {
        if (std::holds_alternative<PointsOutline>(asked_.form))
            return fmt::format("{}/{}", asked_.form_pointer, outline_.corner_after(k));
        return reading_pointer(Reading::Kind::side, k);
    }
    /// A place of the plan as the maker sees it: the mirror taken off again.
    [[nodiscard]] std::string at(Vec2 p) const {
        return fmt::format("({}, {})", show_length(p.x, style_),
                           show_length_unit(outline_.letters_clockwise ? 0.0 - p.y : p.y, style_));
    }
    [[nodiscard]] std::string mm(double value) const { return show_length_unit(value, style_); }
    /// Only the maker's own points speak of places; of other forms the letters are enough.
    [[nodiscard]] bool has_places() const { return std::holds_alternative<PointsOutline>(asked_.form); }

private:
    [[nodiscard]] std::string reading_pointer(Reading::Kind kind, std::size_t first) const {
        if (const auto* book = std::get_if<ReadingsOutline>(&asked_.form)) {
            for (const Reading& r : book->readings) {
                if (r.kind == kind && r.first == first) return r.pointer;
            }
        }
        return asked_.form_pointer;
    }

    const Outline& outline_;
    const OutlineAsked& asked_;
    LengthStyle style_;
};

Findings zero_sides(const Outline& outline, const Place& place) {
    Findings findings;
    for (std::size_t k = 0; k < outline.boards(); ++k) {
        if (outline.sides_mm[k] > kSamePlaceMm) continue;
        const std::size_t next = outline.corner_after(k);
        findings.push_back(
            {Severity::error, "outline.zero-side", place.side_pointer(k),
             fmt::format("{} and {} are in one place{}: side {} has no length.", corner_letter(k), corner_letter(next),
                         place.has_places() ? ", " + place.at(outline.corners_mm[k]) : "", place.side(k)),
             next == 0 ? "Take the last corner out: the ring closes by itself."
                       : fmt::format("Take corner {} out, or move it.", corner_letter(next))});
    }
    return findings;
}

Findings folds(const Outline& outline, const Place& place) {
    Findings findings;
    for (std::size_t c = 0; c < outline.corners_mm.size(); ++c) {
        if (!outline.is_joint(c) || std::abs(outline.turn_deg[c]) < 180.0 - kFoldDeg) continue;
        findings.push_back({Severity::error, "outline.spike", place.corner_pointer(c),
                            fmt::format("At {} side {} runs straight back along side {}: a corner of {}.", corner_letter(c),
                                        place.side(outline.board_after(c)), place.side(outline.board_before(c)),
                                        outline.turn_deg[c] > 0.0 ? "0" : "360"),
                            fmt::format("Take corner {} out, or move it.", corner_letter(c))});
    }
    return findings;
}

Findings repeats(const Outline& outline, const Place& place) {
    Findings findings;
    for (const RepeatedCorner& r : repeated_corners(outline.corners_mm, outline.closed, kSamePlaceMm)) {
        findings.push_back(
            {Severity::error, "outline.repeated-corner", place.corner_pointer(r.again),
             fmt::format("{} lies where {} already is{}; the outline may pass through a place only once.", corner_letter(r.again),
                         corner_letter(r.first), place.has_places() ? ", at " + place.at(outline.corners_mm[r.again]) : ""),
             fmt::format("Move {} or {}, or make two frames of it.", corner_letter(r.first), corner_letter(r.again))});
        if (findings.size() == kWrittenOut) break;
    }
    return findings;
}

Finding crossing(const Crossing& c, const Outline& outline, const Place& place) {
    const double along_mm = length(c.at_mm - outline.corners_mm[c.first]);
    std::string message = fmt::format("Side {} meets side {}, {} from {}", place.side(c.second), place.side(c.first),
                                      place.mm(along_mm), corner_letter(c.first));
    message +=
        place.has_places() ? fmt::format(", at {}. Only neighbours may meet.", place.at(c.at_mm)) : ". Only neighbours may meet.";
    return {Severity::error, "outline.crosses", place.side_pointer(c.second), message,
            fmt::format("Look at the order of corners {} to {}, and at the corners beside them.",
                        corner_letter(outline.corner_after(c.first)), corner_letter(c.second))};
}

Findings crossings(const Outline& outline, const Place& place) {
    const std::optional<Crossing> first = first_crossing(outline.corners_mm, outline.closed);
    if (!first) return {};
    if (outline.boards() > kEveryPair) return {crossing(*first, outline, place)};
    const std::vector<Crossing> all = all_crossings(outline.corners_mm, outline.closed, outline.boards() * outline.boards());
    Findings findings;
    for (std::size_t i = 0; i < std::min(kWrittenOut, all.size()); ++i) findings.push_back(crossing(all[i], outline, place));
    if (all.size() > kWrittenOut) findings.back().message += fmt::format(" {} more sides meet.", all.size() - kWrittenOut);
    return findings;
}

}  // namespace

Findings check_shape(const Outline& outline, const Project& project) {
    const Place place(outline, project);
    Findings findings = zero_sides(outline, place);
    if (has_error(findings)) return findings;  // without a length a side has no direction, and no corner an angle
    append(findings, folds(outline, place));
    append(findings, repeats(outline, place));
    // A fold or a repeated corner meets itself by its nature: saying so twice helps nobody.
    if (!has_error(findings)) append(findings, crossings(outline, place));
    return findings;
}

}  // namespace boardring
