#include "arrange/symmetry.hpp"

#include <algorithm>
#include <cmath>

namespace boardring {
namespace {

class Images {
public:
    Images(const Project& project, const Outline& outline)
        : project_(project), outline_(outline), n_(outline.boards()),
          same_mm_(1e-9 * *std::max_element(outline.sides_mm.begin(), outline.sides_mm.end())) {}

    // The ring turned on by `by` boards, or turned over first.
    [[nodiscard]] bool is_same(bool over, std::size_t by) const {
        for (std::size_t k = 0; k < n_; ++k) {
            const std::size_t from = board_from(over, by, k);
            if (std::abs(outline_.sides_mm[k] - outline_.sides_mm[from]) > same_mm_ || std::abs(margin(k) - margin(from)) > same_mm_) return false;
        }
        for (std::size_t c = 0; c < outline_.corners_mm.size(); ++c) {
            if (!same_corner(over, by, c, corner_from(over, by, c))) return false;
        }
        return outline_.closed || !over || std::abs(project_.first_end.saw_deg - project_.last_end.saw_deg) <= kSameDeg;
    }

    [[nodiscard]] std::vector<std::size_t> image(bool over, std::size_t by) const {
        std::vector<std::size_t> from(n_);
        for (std::size_t k = 0; k < n_; ++k) from[k] = board_from(over, by, k);
        return from;
    }

private:
    static constexpr double kSameDeg = 1e-7;

    [[nodiscard]] std::size_t board_from(bool over, std::size_t by, std::size_t k) const {
        const std::size_t turned = (k + by) % n_;
        return over ? n_ - 1 - turned : turned;
    }

    // Board k runs from corner k to corner k + 1, so turned over it runs from the corner its image ended at.
    [[nodiscard]] std::size_t corner_from(bool over, std::size_t by, std::size_t c) const {
        if (!outline_.closed) return over ? n_ - c : c;
        const std::size_t turned = (c + by) % n_;
        return over ? (n_ - turned) % n_ : turned;
    }

    [[nodiscard]] double margin(std::size_t k) const {
        return project_.outline.margin_mm.empty() ? 0.0 : project_.outline.margin_mm[k];
    }

    [[nodiscard]] bool same_corner(bool over, std::size_t by, std::size_t c, std::size_t from) const {
        if (std::abs(outline_.turn_deg[c] - outline_.turn_deg[from]) > kSameDeg) return false;
        const JointAsked& here = project_.joints[c];
        const JointAsked& there = project_.joints[from];
        if (!outline_.is_joint(c)) return true;
        if (here.kind != there.kind || here.through.has_value() != there.through.has_value()) return false;
        return !here.through || (*here.through < n_ && board_from(over, by, *here.through) == *there.through);
    }

    const Project& project_;
    const Outline& outline_;
    std::size_t n_;
    double same_mm_;
};

}  // namespace

std::vector<std::vector<std::size_t>> symmetries(const Project& project, const Outline& outline) {
    const Images images(project, outline);
    std::vector<std::vector<std::size_t>> found;
    const std::size_t turns = outline.closed ? outline.boards() : 1;
    for (const bool over : {false, true}) {
        for (std::size_t by = 0; by < turns; ++by) {
            if (images.is_same(over, by)) found.push_back(images.image(over, by));
        }
    }
    return found;
}

}  // namespace boardring
