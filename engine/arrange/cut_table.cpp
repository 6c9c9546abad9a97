#include "arrange/cut_table.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "cutlist/cut_list.hpp"
#include "cutlist/ranks.hpp"
#include "cutlist/settings.hpp"
#include "frame/joint_of_kind.hpp"

namespace boardring {
namespace {

Result<JointCuts> cuts_of(JointKind kind, double turn_deg, const BoardSize& before, const BoardSize& after) {
    return joint_of_kind(kind, turn_deg, {0.0, before.width_mm}, {0.0, after.width_mm}, true);  // a butt's slopes are the same whichever runs through
}

bool is_beyond(const Project& project, const BoardSize& size, double saw_deg) {
    Board board;
    board.width_mm = size.width_mm;
    board.height_mm = size.height_mm;
    const std::vector<SawWay> ways = ways_to_saw(project, board, saw_deg);
    return std::none_of(ways.begin(), ways.end(), [](const SawWay& way) { return way.within_saw; });
}

// Groups are runs of settings, so the last setting that groups with the first of a run says where it ends.
std::vector<std::uint32_t> reach_of(const Tools& tools, const std::vector<double>& ascending) {
    std::vector<std::uint32_t> reach;
    for (std::size_t r = 0; r < ascending.size(); ++r) {
        std::size_t last = r;
        while (last + 1 < ascending.size() && groups_of_settings(tools, {ascending[r], ascending[last + 1]}).back() == 0) ++last;
        reach.push_back(static_cast<std::uint32_t>(last));
    }
    return reach;
}

void insert_once(std::vector<std::uint32_t>& ascending, std::uint32_t rank) {
    const auto at = std::lower_bound(ascending.begin(), ascending.end(), rank);
    if (at == ascending.end() || *at != rank) ascending.insert(at, rank);
}

}  // namespace

CutTable::CutTable(const Project& project, const Outline& outline, const std::vector<BoardSize>& sizes)
    : sizes_(sizes.size()) {
    std::vector<double> settings;  // before, after of every entry; ranks take their place below
    const auto add = [&](const BoardSize& before, double before_deg, const BoardSize& after, double after_deg) {
        settings.insert(settings.end(), {std::abs(before_deg), std::abs(after_deg)});
        CornerCuts cuts;
        cuts.beyond_saw = static_cast<std::uint8_t>((is_beyond(project, before, before_deg) ? 1 : 0) + (is_beyond(project, after, after_deg) ? 1 : 0));
        return cuts;
    };
    std::map<std::pair<JointKind, double>, std::size_t> classes;
    class_of_corner_.resize(outline.corners_mm.size(), 0);
    for (std::size_t c = 0; c < outline.corners_mm.size(); ++c) {
        if (!outline.is_joint(c)) continue;
        const auto [place, is_new] = classes.try_emplace({project.joints[c].kind, outline.turn_deg[c]}, classes.size());
        class_of_corner_[c] = place->second;
        if (!is_new) continue;
        for (const BoardSize& before : sizes) {
            for (const BoardSize& after : sizes) {
                const Result<JointCuts> made = cuts_of(project.joints[c].kind, outline.turn_deg[c], before, after);
                const bool ok = made.ok();
                cuts_.push_back(add(before, ok ? made.value().before.saw_deg : 0.0, after, ok ? made.value().after.saw_deg : 0.0));
                cuts_.back().can_be_made = ok;
            }
        }
    }
    if (!outline.closed) {
        for (const BoardSize& size : sizes) {
            const auto end = [&](double saw_deg) {
                CornerCuts cuts = add(size, saw_deg, size, saw_deg);
                cuts.beyond_saw /= 2;
                return cuts;
            };
            first_end_.push_back(end(project.first_end.saw_deg));
            last_end_.push_back(end(project.last_end.saw_deg));
        }
    }
    std::vector<double> all = settings;
    for (const PieceAsked& piece : project.pieces) all.insert(all.end(), {std::abs(piece.left_saw_deg), std::abs(piece.right_saw_deg)});
    const Ranks ranks(std::move(all), kSquareCutDeg);
    setting_deg_ = ranks.lowest();
    reach_ = reach_of(project.tools, setting_deg_);
    const auto rank_of = [&](double setting_deg) { return static_cast<std::uint32_t>(ranks.of(setting_deg)); };
    std::size_t next = 0;
    const auto rank = [&](CornerCuts& cuts) {
        cuts.before = rank_of(settings[next]);
        cuts.after = rank_of(settings[next + 1]);
        next += 2;
    };
    for (CornerCuts& cuts : cuts_) rank(cuts);
    for (std::size_t s = 0; s < first_end_.size(); ++s) {
        rank(first_end_[s]);
        rank(last_end_[s]);
    }
    for (const PieceAsked& piece : project.pieces) {
        insert_once(of_pieces_, rank_of(std::abs(piece.left_saw_deg)));
        insert_once(of_pieces_, rank_of(std::abs(piece.right_saw_deg)));
    }
}

std::size_t CutTable::settings(const std::vector<std::uint32_t>& ascending) const {
    std::size_t groups = 0;
    for (std::size_t i = 0; i < ascending.size(); ++groups) {
        const std::uint32_t last = reach_[ascending[i]];
        while (i < ascending.size() && ascending[i] <= last) ++i;
    }
    return groups;
}

std::optional<PlaceScore> score_of(const CutTable& table, const Outline& outline, const std::vector<std::size_t>& order) {
    PlaceScore score;
    std::vector<std::uint32_t> ranks;
    for (std::size_t c = 0; c < outline.corners_mm.size(); ++c) {
        if (!outline.is_joint(c)) continue;
        const CornerCuts& cuts = table.at(c, order[outline.board_before(c)], order[outline.board_after(c)]);
        if (!cuts.can_be_made) return std::nullopt;
        score.beyond_saw += cuts.beyond_saw;
        ranks.insert(ranks.end(), {cuts.before, cuts.after});
    }
    if (!outline.closed) {
        for (const CornerCuts& end : {table.first_end(order.front()), table.last_end(order.back())}) {
            score.beyond_saw += end.beyond_saw;
            ranks.push_back(end.before);
        }
    }
    const std::uint32_t steepest = *std::max_element(ranks.begin(), ranks.end());
    score.steepest_deg = table.setting_deg(steepest);
    ranks.insert(ranks.end(), table.of_pieces().begin(), table.of_pieces().end());
    std::sort(ranks.begin(), ranks.end());
    ranks.erase(std::unique(ranks.begin(), ranks.end()), ranks.end());
    score.settings = table.settings(ranks);
    return score;
}

}  // namespace boardring
