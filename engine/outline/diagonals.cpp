#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/names.hpp"
#include "outline/misfit.hpp"
#include "outline/speaker.hpp"

namespace boardring {
namespace {

constexpr double kSilentMm = 1e-6;

}  // namespace

Findings diagonal_findings(const Notebook& book, const Project& project, const Outline& outline) {
    const Speaker say(book, project);
    const Chain& chain = book.chain;
    const std::size_t n = chain.sides();
    Findings findings;
    for (const std::size_t line : book.diagonal_lines) {
        const Reading& r = say.readings()[line];
        const Vec2 from = outline.corners_mm[r.first];
        const Vec2 to = outline.corners_mm[r.second];
        const double is_mm = length(to - from);
        const double off_mm = *r.value - is_mm;
        const double own = r.accuracy.value_or(r.half_step);
        if (std::abs(off_mm) <= own + kSilentMm) continue;

        // What the digits of one way round allow, to first order: sides stretch it along, corners swing it.
        const Vec2 e = is_mm > 0.0 ? (1.0 / is_mm) * (to - from) : Vec2{1.0, 0.0};
        const auto allowed_over = [&](std::size_t start, std::size_t stop) {
            double allowed = own;
            for (std::size_t k = start; k != stop; k = k + 1 == n && chain.closed ? 0 : k + 1) {
                const std::size_t next = k + 1 == outline.corners_mm.size() ? 0 : k + 1;
                const Vec2 side = outline.corners_mm[next] - outline.corners_mm[k];
                allowed += chain.side_within_mm[k] * std::abs(dot(e, side)) / outline.sides_mm[k];
                if (k != start) allowed += radians(chain.angle_within_deg[k]) * std::abs(cross(e, outline.corners_mm[k] - from));
            }
            return allowed;
        };
        double allowed = allowed_over(r.first, r.second);
        if (chain.closed) allowed = std::min(allowed, allowed_over(r.second, r.first));

        const std::string name = pair_name(r.first, r.second);
        const bool explained = std::abs(off_mm) <= allowed;
        Finding finding{explained ? Severity::note : Severity::error, "outline.diagonal", r.pointer, "", ""};
        finding.message =
            fmt::format("{} is given as {}; sides and corners make it {}, so it is {} {}{}.", name, say.mm(*r.value),
                        say.mm(is_mm), say.small_mm(std::abs(off_mm)), off_mm > 0.0 ? "too long" : "too short",
                        explained ? "; the digits of the sides and corners leave room for that" : "");
        if (explained) {
            finding.fix =
                fmt::format("Nothing to do for a check. To have {} exactly, give the corners between with one digit more.", name);
        } else {
            finding.fix = fmt::format("Measure {} again; if {} is right, one of the sides or corners between is not.", name,
                                      say.mm(*r.value));
            const bool one_corner_between = r.second == r.first + 2;
            const std::size_t corner = r.first + 1;
            if (one_corner_between) {
                const double a = outline.sides_mm[r.first], b = outline.sides_mm[r.first + 1];
                const double cosine = (a * a + b * b - *r.value * *r.value) / (2.0 * a * b);
                if (std::abs(cosine) < 1.0) {
                    const double inner = degrees(std::acos(cosine));
                    const double corner_deg = outline.interior_deg[corner] > 180.0 ? 360.0 - inner : inner;
                    finding.fix = fmt::format(
                        "Measure {0} again; if {1} is right, {2} is {3} instead of {4}, or a side beside it is wrong.", name,
                        say.mm(*r.value), corner_letter(corner), Speaker::small_deg(corner_deg),
                        say.deg(outline.interior_deg[corner]));
                }
            }
        }
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace boardring
