#include "closure/as_cut.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/angle.hpp"

namespace boardring {
namespace {

double slope_deg(double run_mm, double width_mm) { return degrees(std::atan2(run_mm, width_mm)); }

double square(double x) { return x * x; }

// One number an adjustment may change.
struct Parameter {
    std::size_t board = 0;   // a length of this board, or the joint at its second corner
    bool is_joint = false;
    double variance = 0.0;   // mm^2, or rad^2 of the whole joint
    Vec2 moves;              // the far end of the chain, per mm or rad
};

using Shapes = std::vector<std::optional<BoardShape>>;

// From corner `first` to corner `second` along boards that are all cut; nothing if one is not.
std::optional<std::vector<std::size_t>> cut_row(const Shapes& shapes, std::size_t first, std::size_t second) {
    std::vector<std::size_t> row;
    for (std::size_t k = first; k != second; k = k + 1 == shapes.size() ? 0 : k + 1) {
        if (!shapes[k]) return std::nullopt;
        row.push_back(k);
    }
    return row;
}

struct Across {
    Vec2 chord;                      // from the first corner to the second
    std::vector<Parameter> parameters;
};

Across walk_row(const Frame& frame, const Shapes& shapes, const std::vector<std::size_t>& row, const MeasuredTo& to) {
    Across across;
    double heading = 0.0;
    std::vector<Vec2> at, along;
    for (std::size_t i = 0; i < row.size(); ++i) {
        const std::size_t k = row[i];
        if (i > 0) {
            const std::size_t p = row[i - 1];
            heading += turn_face_to_face(shapes[p]->run_mm[1], frame.boards[p].width_at(1), shapes[k]->run_mm[0], frame.boards[k].width_at(0));
        }
        at.push_back(across.chord);
        along.push_back(unit_deg(heading));
        across.chord = across.chord + shapes[k]->inside_mm * along.back();
    }
    for (std::size_t i = 0; i < row.size(); ++i) {
        across.parameters.push_back({row[i], false, square(to.length_mm), along[i]});
        if (i + 1 < row.size())
            across.parameters.push_back({row[i], true, 2.0 * square(radians(to.angle_deg)), left_of(across.chord - at[i + 1])});
    }
    return across;
}

void turn_joint(const Frame& frame, Shapes& shapes, std::size_t before, double by_rad) {
    const std::size_t after = before + 1 == shapes.size() ? 0 : before + 1;
    for (const auto& [board, end] : {std::pair(before, std::size_t{1}), std::pair(after, std::size_t{0})}) {
        const double width = frame.boards[board].width_at(end);
        double& run = shapes[board]->run_mm[end];
        run = width * std::tan(std::atan2(run, width) + 0.5 * by_rad);
    }
}

// x of a x = b for a symmetric positive definite a; small.
std::vector<double> solve(std::vector<std::vector<double>> a, std::vector<double> b) {
    const std::size_t m = b.size();
    for (std::size_t i = 0; i < m; ++i) {
        for (std::size_t j = i + 1; j < m; ++j) {
            const double factor = a[j][i] / a[i][i];
            for (std::size_t k = i; k < m; ++k) a[j][k] -= factor * a[i][k];
            b[j] -= factor * b[i];
        }
    }
    for (std::size_t i = m; i-- > 0;) {
        for (std::size_t j = i + 1; j < m; ++j) b[i] -= a[i][j] * b[j];
        b[i] /= a[i][i];
    }
    return b;
}

}  // namespace

double BoardShape::long_mm() const { return inside_mm + std::max(run_mm[0], 0.0) + std::max(run_mm[1], 0.0); }

double BoardShape::short_mm() const { return inside_mm + std::min(run_mm[0], 0.0) + std::min(run_mm[1], 0.0); }

double turn_face_to_face(double run_before_mm, double width_before_mm, double run_after_mm, double width_after_mm) {
    return slope_deg(run_before_mm, width_before_mm) + slope_deg(run_after_mm, width_after_mm);
}

BoardShape shape_as_cut(const Board& planned, const AsCutBoard& measured, const MeasuredTo& to) {
    BoardShape shape = BoardShape::of(planned);
    std::array<double, 2> lean{}, sign{}, variance{};
    std::size_t open_ends = 0;
    for (std::size_t e = 0; e < 2; ++e) {
        sign[e] = shape.run_mm[e] < 0.0 ? -1.0 : 1.0;
        lean[e] = std::abs(shape.run_mm[e]);
        if (measured.saw_deg[e]) {
            const double width = planned.width_at(e);
            lean[e] = width * tan_deg(*measured.saw_deg[e]);
            const double cosine = width / std::hypot(width, lean[e]);
            variance[e] = square(width * radians(to.angle_deg) / square(cosine));
        } else {
            ++open_ends;
        }
    }
    std::optional<double> longest = measured.long_mm;
    if (measured.long_mm && measured.short_mm) {
        // What is left for the slopes: to the ends nobody measured, or shared out.
        const double left = *measured.long_mm - *measured.short_mm - lean[0] - lean[1];
        const double all = 2.0 * square(to.length_mm) + variance[0] + variance[1];
        for (std::size_t e = 0; e < 2; ++e) {
            if (open_ends == 0) {
                lean[e] += left * variance[e] / all;
            } else if (!measured.saw_deg[e]) {
                lean[e] += left / static_cast<double>(open_ends);
            }
        }
        if (open_ends == 0) longest = *measured.long_mm - left * square(to.length_mm) / all;
    }
    for (std::size_t e = 0; e < 2; ++e) shape.run_mm[e] = sign[e] * lean[e];
    const double beyond = std::max(shape.run_mm[0], 0.0) + std::max(shape.run_mm[1], 0.0);
    const double short_of = std::min(shape.run_mm[0], 0.0) + std::min(shape.run_mm[1], 0.0);
    if (longest) {
        shape.inside_mm = *longest - beyond;
    } else if (measured.short_mm) {
        shape.inside_mm = *measured.short_mm - short_of;
    }
    return shape;
}

std::vector<std::size_t> settle_diagonals(const Frame& frame, Shapes& shapes, const std::vector<AsCutDiagonal>& diagonals,
                                          const MeasuredTo& to) {
    std::vector<std::size_t> left_out;
    std::vector<std::pair<std::size_t, std::vector<std::size_t>>> rows;
    for (std::size_t d = 0; d < diagonals.size(); ++d) {
        std::optional<std::vector<std::size_t>> row = cut_row(shapes, diagonals[d].first, diagonals[d].second);
        if (!row) row = cut_row(shapes, diagonals[d].second, diagonals[d].first);
        if (row) {
            rows.emplace_back(d, std::move(*row));
        } else {
            left_out.push_back(d);
        }
    }
    if (rows.empty()) return left_out;
    const Shapes measured = shapes;
    const std::size_t n = shapes.size(), m = rows.size();
    std::vector<double> length_change(n, 0.0), joint_change(n, 0.0);
    for (int step = 0; step < 8; ++step) {
        // Per diagonal what each parameter does to it; then the multipliers of the least change.
        std::vector<std::vector<double>> by_length(m, std::vector<double>(n, 0.0)), by_joint = by_length;
        std::vector<double> wanted(m);
        const double length_variance = square(to.length_mm), joint_variance = 2.0 * square(radians(to.angle_deg));
        for (std::size_t i = 0; i < m; ++i) {
            const Across across = walk_row(frame, shapes, rows[i].second, to);
            const double is_mm = length(across.chord);
            const Vec2 e = (1.0 / is_mm) * across.chord;
            wanted[i] = diagonals[rows[i].first].mm - is_mm;
            for (const Parameter& p : across.parameters) (p.is_joint ? by_joint : by_length)[i][p.board] = dot(e, p.moves);
            for (std::size_t k = 0; k < n; ++k) wanted[i] += by_length[i][k] * length_change[k] + by_joint[i][k] * joint_change[k];
        }
        std::vector<std::vector<double>> normal(m, std::vector<double>(m, 0.0));
        for (std::size_t i = 0; i < m; ++i) {
            normal[i][i] = length_variance;  // the diagonal's own
            for (std::size_t j = 0; j < m; ++j) {
                for (std::size_t k = 0; k < n; ++k)
                    normal[i][j] += length_variance * by_length[i][k] * by_length[j][k] + joint_variance * by_joint[i][k] * by_joint[j][k];
            }
        }
        const std::vector<double> multiplier = solve(normal, wanted);
        shapes = measured;
        for (std::size_t k = 0; k < n; ++k) {
            length_change[k] = joint_change[k] = 0.0;
            for (std::size_t i = 0; i < m; ++i) {
                length_change[k] += length_variance * by_length[i][k] * multiplier[i];
                joint_change[k] += joint_variance * by_joint[i][k] * multiplier[i];
            }
            if (length_change[k] != 0.0) shapes[k]->inside_mm += length_change[k];
            if (joint_change[k] != 0.0) turn_joint(frame, shapes, k, joint_change[k]);
        }
    }
    return left_out;
}

}  // namespace boardring
