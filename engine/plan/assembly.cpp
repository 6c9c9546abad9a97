#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "plan/show.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

bool crosses(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
    const double abc = cross(b - a, c - a), abd = cross(b - a, d - a);
    const double cda = cross(d - c, a - c), cdb = cross(d - c, b - c);
    return abc * abd < 0.0 && cda * cdb < 0.0;
}

bool inside_polygon(Vec2 p, const std::vector<Vec2>& polygon) {
    bool in = false;
    for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
        const Vec2 a = polygon[i], b = polygon[j];
        if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y)) in = !in;
    }
    return in;
}

// A tape can be laid from corner i to corner j of the inner outline without meeting a board.
bool in_sight(const std::vector<Vec2>& inner, std::size_t i, std::size_t j) {
    const Vec2 a = inner[i], b = inner[j];
    for (std::size_t k = 0; k < inner.size(); ++k) {
        if (crosses(a, b, inner[k], inner[(k + 1) % inner.size()])) return false;
    }
    return inside_polygon(a + 0.5 * (b - a), inner);
}

// Far corners first; a ring that turns inward somewhere looks for the next best partner of each corner.
std::vector<std::pair<std::size_t, std::size_t>> diagonals_of_ring(const Frame& frame) {
    const std::size_t n = frame.inside_mm.size();
    constexpr std::size_t kMost = 6;  // more diagonals than this nobody measures
    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    const auto add = [&](std::size_t i, std::size_t j) {
        const std::pair<std::size_t, std::size_t> pair = std::minmax(i, j);
        if (std::find(pairs.begin(), pairs.end(), pair) == pairs.end()) pairs.push_back(pair);
    };
    const std::size_t half = n / 2;
    const std::size_t starts = n % 2 == 0 ? half : n;
    const std::size_t stride = std::max<std::size_t>(1, starts / kMost);
    for (std::size_t i = 0; i < starts && pairs.size() < kMost; i += stride) {
        for (std::size_t off = 0; off + 2 <= half; ++off) {  // opposite, then nearer and nearer partners
            if (in_sight(frame.inside_mm, i, (i + half - off) % n)) {
                add(i, (i + half - off) % n);
                break;
            }
        }
    }
    return pairs;
}

double off_line_deg(const Joint& joint, Vec2 line) {
    const double off = std::abs(wrapped_deg(direction_deg(joint.outer_mm - joint.inner_mm) - direction_deg(line)));
    return std::min(off, 180.0 - off);
}

std::optional<Halves> halves_of_ring(const Frame& frame) {
    const std::size_t n = frame.boards.size();
    if (n < 4 || n % 2 != 0 || frame.joints.size() != n) return std::nullopt;
    for (std::size_t i = 0; i < n / 2; ++i) {
        const Joint& a = frame.joints[i];
        const Joint& b = frame.joints[i + n / 2];
        if (!is_mitred(a.kind) || !is_mitred(b.kind)) continue;
        const Vec2 line = b.inner_mm - a.inner_mm;
        if (off_line_deg(a, line) > kTrueFaceDeg || off_line_deg(b, line) > kTrueFaceDeg) continue;
        if (!in_sight(frame.inside_mm, i, i + n / 2)) continue;
        return Halves{a.corner, b.corner, length(line), length(b.outer_mm - a.outer_mm)};
    }
    return std::nullopt;
}

}  // namespace

Assembly plan_assembly(const Project& project, const Frame& frame) {
    Assembly assembly;
    const std::size_t corners = frame.inside_mm.size();
    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    if (!frame.closed) {
        pairs.emplace_back(0, corners - 1);  // the span between the free ends
        if (corners > 3) {                   // and two braces, which tell a leaning chain from an upright one
            pairs.emplace_back(0, corners - 2);
            pairs.emplace_back(1, corners - 1);
        }
    } else if (corners > 3) {
        pairs = diagonals_of_ring(frame);
    }
    for (const auto& [i, j] : pairs) {
        assembly.diagonals.push_back({i, j, length(frame.inside_mm[j] - frame.inside_mm[i]), length(frame.outside_mm[j] - frame.outside_mm[i])});
    }
    // Symmetric rings give equal diagonals up to the last bits: a stable sort on rounded lengths keeps corner order.
    std::stable_sort(assembly.diagonals.begin(), assembly.diagonals.end(), [](const Diagonal& a, const Diagonal& b) {
        return rounded_to_step(a.inside_mm, 1e-6) > rounded_to_step(b.inside_mm, 1e-6);
    });
    if (frame.closed) assembly.halves = halves_of_ring(frame);
    assembly.fit_last = project.wanted.fit_last.value_or(frame.boards.size() - 1);
    assembly.leave_long_mm = project.wanted.leave_long_mm;
    return assembly;
}

}  // namespace boardring
