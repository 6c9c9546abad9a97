#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/vec2.hpp"
#include "outline/fitted.hpp"
#include "outline/hang.hpp"
#include "project/project.hpp"

namespace boardring {

/// How far the chain of sides and angles as given misses its own start. Angle sum first; then angles balanced by
/// equal shares, side 1 along +x from the origin; the miss is walked end - start. Zero for exact forms.
struct Misclosure {
    double angle_sum_deg = 0.0;           ///< of the angles as given
    double angle_sum_expected_deg = 0.0;  ///< (n - 2) * 180
    double angle_deg = 0.0;               ///< sum - expected
    double dx_mm = 0.0, dy_mm = 0.0;
    double length_mm = 0.0;
    double direction_deg = 0.0;  ///< of (dx, dy), counted from side 1, + to the left
    double one_in = 0.0;         ///< sum of sides / length; 0 when the miss is zero
};

/// One reading beside what was made of it.
struct ReadingUsed {
    std::string text;
    Reading::Kind kind = Reading::Kind::side;
    std::optional<double> given;  ///< mm or deg (interior angle, `inward` resolved); empty for `?`
    double used = 0.0;
};

/// An outline that closes (or an open chain): corners in counter-clockwise order, side k from corner k to corner k+1.
/// n sides; n corners when closed, n+1 when open. Side 0 of forms without coordinates lies along +x from the origin;
/// points keep their places. When the letters run clockwise this is the mirror image (y negated) of what is seen.
struct Outline {
    bool closed = true;
    /// How the letters really run, for whoever draws. `points` decide it by their own order, whatever the project says;
    /// every other form, and points on one line, follow the project; an open chain of points is closed by a straight line for this.
    bool letters_clockwise = false;
    std::vector<Vec2> corners_mm;
    std::vector<double> sides_mm;       ///< n
    std::vector<double> interior_deg;   ///< one per corner, (0, 360); at the free ends of an open chain 180 (unused)
    std::vector<double> turn_deg;       ///< T = 180 - I, formed before rounding where the form gives it exactly; 0 at free ends
    std::vector<double> direction_deg;  ///< of each side, from +x, in (-180, 180]
    Misclosure misclosure;
    std::vector<ReadingUsed> readings;  ///< for a readings outline, in file order
    std::optional<Fitted> fitted;       ///< for a found outline
    std::optional<Hang> hang;           ///< for a found outline whose margin has a least and a most

    [[nodiscard]] std::size_t boards() const { return sides_mm.size(); }
    /// True if corner c joins two boards (not a free end).
    [[nodiscard]] bool is_joint(std::size_t c) const { return closed || (c > 0 && c + 1 < corners_mm.size()); }
    /// Board that ends at corner c; only where one does.
    [[nodiscard]] std::size_t board_before(std::size_t c) const { return c == 0 ? boards() - 1 : c - 1; }
    /// Board that starts at corner c; only where one does.
    [[nodiscard]] std::size_t board_after(std::size_t c) const { return c; }
    /// Corner where board k ends.
    [[nodiscard]] std::size_t corner_after(std::size_t k) const { return closed && k + 1 == boards() ? 0 : k + 1; }
};

/// From what was asked to an outline that closes: build, check, adjust. Findings (all of the stage, file order): angle sum,
/// misclosure with suspects, spread misfit (a note), crossing sides, repeated corners, zero sides. No value if any is an error.
Result<Outline> locate_outline(const Project& project);

}  // namespace boardring
