#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <compare>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/angle_text.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "base/quoted.hpp"
#include "cutlist/cut_list.hpp"
#include "cutlist/grouping.hpp"
#include "cutlist/ranks.hpp"
#include "cutlist/settings.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

constexpr double kNearLimitDeg = 1.0;    // saw scales are read to a quarter of a degree and stops are seldom exact: common practice
constexpr double kFragileEdgeDeg = 30.0; // sharper tips break off: common practice
constexpr std::size_t kMostNamed = 8;    // names in one message; the rest is a number

enum class Trouble { beyond, tall, near };

struct Judged {
    Trouble trouble = Trouble::beyond;
    SawWay::Motion motion = SawWay::Motion::swing;  // near: the motion that comes to its stop
};

double limit_of(const Tools& tools, SawWay::Motion motion) {
    return motion == SawWay::Motion::swing ? tools.swing_limit_deg : tools.tilt_limit_deg;
}

bool some_way_within(const std::vector<SawWay>& ways) {
    return std::any_of(ways.begin(), ways.end(), [](const SawWay& way) { return way.within_saw; });
}

std::optional<Judged> judge(const Project& project, const Board& board, double saw_deg) {
    const Tools& tools = project.tools;
    const double setting_deg = std::abs(saw_deg);
    const std::vector<SawWay> ways = ways_to_saw(project, board, saw_deg);
    if (!some_way_within(ways)) {
        const bool fence_too_low = board.height_mm > tools.fence_height_mm + kSamePieceMm;
        const bool would_swing = setting_deg <= tools.swing_limit_deg + kStopPlayDeg;
        const bool tall = project.lie == Lie::on_edge && fence_too_low && would_swing;
        return Judged{tall ? Trouble::tall : Trouble::beyond, SawWay::Motion::swing};
    }
    // The way that leaves most room before its stop; the one lying flat of equals.
    double limit_deg = -1.0;
    Judged near{Trouble::near, SawWay::Motion::swing};
    for (const SawWay& way : ways) {
        if (!way.within_saw || limit_of(tools, way.motion) <= limit_deg) continue;
        limit_deg = limit_of(tools, way.motion);
        near.motion = way.motion;
    }
    if (limit_deg - setting_deg >= kNearLimitDeg) return std::nullopt;
    return near;
}

// What is cut: either ends of the ring's boards, or an extra piece.
struct Situation {
    Judged judged;
    double setting_deg = 0.0;
    Board board;                         // the first of them: section and widths
    std::vector<CutRef> cuts;            // in order; empty for an extra piece
    const PieceAsked* piece = nullptr;
    const Joint* joint = nullptr;        // the first end's joint; none at a free end and for an extra piece
    std::vector<std::size_t> corners;    // of the joints
    bool butt_helps = false;             // a mitre that would be within the saw as a butt
    bool like_boards_help = false;       // a mitre that would be within the saw between boards of one width
    std::string pointer;
};

std::string list_of(const std::vector<std::string>& names) {
    std::string text;
    const std::size_t shown = names.size() > kMostNamed + 1 ? kMostNamed : names.size();
    for (std::size_t i = 0; i < shown; ++i) {
        if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
        text += names[i];
    }
    if (shown < names.size()) text += fmt::format(" and {} more", names.size() - shown);
    return text;
}

std::string corners_text(const std::vector<std::size_t>& corners) {
    std::vector<std::string> names;
    for (const std::size_t corner : corners) names.push_back(corner_letter(corner));
    return list_of(names);
}

// "End 4D needs", "Ends 4D and 4E need", "The piece "foot" needs"
std::string who_needs(const Frame& frame, const Situation& at, std::string_view one, std::string_view many) {
    if (at.piece != nullptr) return fmt::format("The piece {} {}", in_quotes(at.piece->name), one);
    std::vector<std::string> names;
    for (const CutRef& cut : at.cuts) names.push_back(board_number(cut.board) + corner_letter(frame.boards[cut.board].ends[cut.end].corner));
    return fmt::format("{} {} {}", names.size() == 1 ? "End" : "Ends", list_of(names), names.size() == 1 ? one : many);
}

// A setting and a limit it is compared with: as many decimals as it takes to tell them apart.
std::string beside(double deg, double other_deg) {
    for (int decimals = 1; decimals < 6; ++decimals) {
        if (show_angle(deg, decimals) != show_angle(other_deg, decimals)) return show_angle(deg, decimals);
    }
    return show_angle(deg, 1);
}

// An angle from square as this maker's saw shows it.
double on_scale(double deg, const Tools& tools) { return tools.scale_at_square_deg != 0.0 ? tools.scale_at_square_deg - deg : deg; }

// "49.7 from square", or "40.3 on your saw's scale" where that counts from 90, told apart from a limit.
std::string setting_words(double deg, double limit_deg, const Tools& tools) {
    return fmt::format("{} {}", beside(on_scale(deg, tools), on_scale(limit_deg, tools)),
                       tools.scale_at_square_deg != 0.0 ? "on your saw's scale" : "from square");
}

// Steepest cut a butt joint at this corner needs: both boards end square to the other.
double butt_setting_deg(const Joint& joint) { return std::abs((joint.interior_deg < 180.0 ? 90.0 : 270.0) - joint.interior_deg); }

// What a mitre needs where both boards have one width.
double like_setting_deg(const Joint& joint) { return 0.5 * std::abs(180.0 - joint.interior_deg); }

bool can_saw(const Project& project, const Frame& frame, const Joint& joint, double setting_deg) {
    return some_way_within(ways_to_saw(project, frame.boards[joint.before], setting_deg)) &&
           some_way_within(ways_to_saw(project, frame.boards[joint.after], setting_deg));
}

std::string remedies(const Project& project, const Situation& at) {
    std::vector<std::string> ways;
    const Tools& tools = project.tools;
    const double jig_deg = 90.0 - at.setting_deg;
    if (jig_deg <= std::max(tools.swing_limit_deg, tools.tilt_limit_deg)) {
        ways.push_back(fmt::format("a jig that holds the board at 90 to the fence, with the saw set to {}", show_angle(on_scale(jig_deg, tools), 1)));
    }
    if (at.judged.trouble == Trouble::tall) {
        ways.push_back(fmt::format("a fence {} high", show_length_unit(at.board.height_mm, project.style())));
    }
    const std::string where = corners_text(at.corners);
    if (at.butt_helps) {
        ways.push_back(fmt::format("a butt joint at {}, which needs {}", where, show_angle(on_scale(butt_setting_deg(*at.joint), tools), 1)));
    }
    if (at.like_boards_help) {
        ways.push_back(fmt::format("boards of like {} side by side at {}, which need {}",
                                   project.lie == Lie::flat ? "width" : "thickness", where, show_angle(on_scale(like_setting_deg(*at.joint), tools), 1)));
    }
    std::string text = "Use ";
    for (const std::string& way : ways) text += way + "; or ";
    return text + "a hand saw, and a plane to the line.";
}

Finding beyond_saw(const Project& project, const Frame& frame, const Situation& at) {
    const Tools& tools = project.tools;
    const double nearest = std::max(tools.swing_limit_deg, tools.tilt_limit_deg);
    return {Severity::warning, "cut.beyond-saw", at.pointer,
            fmt::format("{} {}; your saw swings to {} and tilts to {}.", who_needs(frame, at, "needs", "need"),
                        setting_words(at.setting_deg, nearest, tools), show_angle(on_scale(tools.swing_limit_deg, tools), 2),
                        show_angle(on_scale(tools.tilt_limit_deg, tools), 2)),
            remedies(project, at)};
}

Finding tall_board(const Project& project, const Frame& frame, const Situation& at) {
    const Tools& tools = project.tools;
    return {Severity::warning, "cut.tall-board", at.pointer,
            fmt::format("{} {}, more than your saw tilts ({}); it swings that far, but {} of board stands higher than the "
                        "fence ({}).",
                        who_needs(frame, at, "needs", "need"), setting_words(at.setting_deg, tools.tilt_limit_deg, tools),
                        show_angle(on_scale(tools.tilt_limit_deg, tools), 2), show_length_unit(at.board.height_mm, project.style()),
                        show_length_unit(tools.fence_height_mm, project.style())),
            remedies(project, at)};
}

Finding near_limit(const Project& project, const Frame& frame, const Situation& at) {
    const bool swing = at.judged.motion == SawWay::Motion::swing;
    const double limit = limit_of(project.tools, at.judged.motion);
    constexpr double kShimAt = 200.0;  // 0.2 deg over 200 mm is 0.7 mm
    constexpr double kShim = 0.7;
    return {Severity::warning, "cut.near-limit", at.pointer,
            fmt::format("{} {}, and your saw's {} stops at {}.", who_needs(frame, at, "needs", "need"),
                        setting_words(at.setting_deg, limit, project.tools), swing ? "swing" : "tilt",
                        show_angle(on_scale(limit, project.tools), 2)),
            fmt::format("Set the saw there before you buy. If it stops 0.2 short, a shim of {} {}, {} from the blade, makes it up.",
                        show_small(kShim, project.style()), swing ? "between board and fence" : "under the board",
                        show_length_unit(kShimAt, project.style()))};
}

Finding trouble_finding(const Project& project, const Frame& frame, const Situation& at) {
    switch (at.judged.trouble) {
        case Trouble::beyond: return beyond_saw(project, frame, at);
        case Trouble::tall: return tall_board(project, frame, at);
        case Trouble::near: break;
    }
    return near_limit(project, frame, at);
}

Finding fragile_tip(const Frame& frame, const Situation& at) {
    return {Severity::caution, "cut.fragile-tip", at.pointer,
            fmt::format("{} a tip of {}, which breaks easily.", who_needs(frame, at, "has", "have"),
                        beside(90.0 - at.setting_deg, kFragileEdgeDeg)),
            fmt::format("Back the tip with scrap and let the blade stop before you lift it.{}",
                        at.joint != nullptr ? " A short board across the corner would make it blunt." : "")};
}

std::string or_else(const std::string& pointer, std::string_view otherwise) { return pointer.empty() ? std::string(otherwise) : pointer; }

std::string too_short_fix() {
    return "Hold it with a clamp or in a jig, cut it from a longer board, or saw it by hand. Your saw's own book comes first.";
}

std::string too_short_text(const Project& project, std::string_view who, std::string_view lengths) {
    return fmt::format("{} {} long; under {} a piece cannot be held by hand beside a blade.", who, lengths,
                       show_length_unit(project.tools.hold_length_mm, project.style()));
}

// "Board 3", "Boards 1 to 12", "Boards 1, 3 and 5"
std::string boards_text(const std::vector<std::size_t>& boards) {
    if (boards.size() == 1) return "Board " + board_number(boards.front());
    if (boards.size() > 2 && boards.back() - boards.front() + 1 == boards.size()) {
        return fmt::format("Boards {} to {}", board_number(boards.front()), board_number(boards.back()));
    }
    std::vector<std::string> names;
    for (const std::size_t board : boards) names.push_back(board_number(board));
    return "Boards " + list_of(names);
}

void check_lengths(const Project& project, const Frame& frame, Findings& findings) {
    std::vector<std::size_t> boards;
    double shortest = 0.0, longest = 0.0;
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const double length_mm = long_point_mm(frame.boards[k]);
        if (length_mm >= project.tools.hold_length_mm - kSamePieceMm) continue;
        shortest = boards.empty() ? length_mm : std::min(shortest, length_mm);
        longest = std::max(longest, length_mm);
        boards.push_back(k);
    }
    if (boards.empty()) return;
    const std::string low = show_length(shortest, project.style());
    const std::string high = show_length_unit(longest, project.style());
    const bool alike = low == show_length(longest, project.style());
    const std::string lengths = fmt::format("{} {}", boards.size() == 1 ? "is" : "are", alike ? high : low + " to " + high);
    findings.push_back({Severity::caution, "piece.too-short", or_else(project.boards[boards.front()].pointer, "/boards"),
                        too_short_text(project, boards_text(boards), lengths), too_short_fix()});
}

// Situations round the ring, each found once, in the order of their first ends.
class Situations {
public:
    Situations(const Project& project, const Frame& frame)
        : project_(project), frame_(frame), settings_(settings_of(frame), kSquareCutDeg), corners_(corners_of(frame), kSquareCutDeg) {
        joint_at_.resize(frame.inside_mm.size(), nullptr);
        for (const Joint& joint : frame.joints) joint_at_[joint.corner] = &joint;
    }

    void add(const CutRef& cut, std::optional<Judged> judged) {
        const Board& board = frame_.boards[cut.board];
        const BoardEnd& end = board.ends[cut.end];
        const Joint* joint = end.mate ? joint_at_[end.corner] : nullptr;
        const bool mitre = joint != nullptr && is_mitred(joint->kind);
        Key key;
        key.setting = settings_.of(std::abs(end.saw_deg));
        if (judged) {
            key.trouble = judged->trouble;
            key.motion = judged->motion;
            if (judged->trouble == Trouble::tall) key.height_mm = board.height_mm;
            if (judged->trouble != Trouble::near && joint != nullptr) {
                key.corner = corners_.of(joint->interior_deg);
                key.butt_helps = mitre && can_saw(project_, frame_, *joint, butt_setting_deg(*joint));
                key.like_boards_help = mitre && can_saw(project_, frame_, *joint, like_setting_deg(*joint));
            }
        }
        const auto [place, is_new] = known_.try_emplace(key, all_.size());
        if (is_new) {
            Situation at;
            at.judged = judged.value_or(Judged{});
            at.setting_deg = std::abs(end.saw_deg);
            at.board = board;
            at.joint = joint;
            at.butt_helps = key.butt_helps;
            at.like_boards_help = key.like_boards_help;
            at.pointer = pointer_of(cut);
            all_.push_back(std::move(at));
        }
        Situation& at = all_[place->second];
        at.cuts.push_back(cut);
        // Round the ring a corner's two ends follow each other; only the first corner comes back at the end.
        const bool named = !at.corners.empty() && (at.corners.back() == end.corner || at.corners.front() == end.corner);
        if (joint != nullptr && !named) at.corners.push_back(end.corner);
    }

    [[nodiscard]] const std::vector<Situation>& all() const { return all_; }

private:
    // Whatever the text depends on.
    struct Key {
        std::optional<Trouble> trouble;
        SawWay::Motion motion = SawWay::Motion::swing;
        std::size_t setting = 0;             // rank
        std::optional<std::size_t> corner;   // rank of the interior angle; none at a free end
        bool butt_helps = false;
        bool like_boards_help = false;
        double height_mm = 0.0;
        auto operator<=>(const Key&) const = default;
    };

    static std::vector<double> settings_of(const Frame& frame) {
        std::vector<double> values;
        for (const Board& board : frame.boards) {
            for (const BoardEnd& end : board.ends) values.push_back(std::abs(end.saw_deg));
        }
        return values;
    }

    static std::vector<double> corners_of(const Frame& frame) {
        std::vector<double> values;
        for (const Joint& joint : frame.joints) values.push_back(joint.interior_deg);
        return values;
    }

    [[nodiscard]] std::string pointer_of(const CutRef& cut) const {
        const BoardEnd& end = frame_.boards[cut.board].ends[cut.end];
        if (end.mate) return or_else(project_.joints[end.corner].pointer, "/joints");
        return or_else(cut.end == 0 ? project_.first_end.pointer : project_.last_end.pointer, "/ends");
    }

    const Project& project_;
    const Frame& frame_;
    Ranks settings_;
    Ranks corners_;
    std::vector<const Joint*> joint_at_;
    std::map<Key, std::size_t> known_;  // only looked up
    std::vector<Situation> all_;
};

void check_ring(const Project& project, const Frame& frame, Findings& findings) {
    Situations troubled(project, frame);
    Situations fragile(project, frame);
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        for (std::size_t e = 0; e < 2; ++e) {
            const double saw_deg = frame.boards[k].ends[e].saw_deg;
            if (const std::optional<Judged> judged = judge(project, frame.boards[k], saw_deg)) troubled.add({k, e}, judged);
            if (has_fragile_tip(saw_deg)) fragile.add({k, e}, std::nullopt);
        }
    }
    for (const Situation& at : troubled.all()) findings.push_back(trouble_finding(project, frame, at));
    for (const Situation& at : fragile.all()) findings.push_back(fragile_tip(frame, at));
}

void check_piece(const Project& project, const Frame& frame, const PieceAsked& piece, Findings& findings) {
    Situation at;
    at.piece = &piece;
    at.board = section_of(project, piece);
    at.pointer = piece.pointer;
    std::vector<double> settings{std::abs(piece.left_saw_deg)};
    if (std::abs(std::abs(piece.right_saw_deg) - settings.front()) > kSquareCutDeg) settings.push_back(std::abs(piece.right_saw_deg));
    for (const double setting_deg : settings) {
        at.setting_deg = setting_deg;
        if (const std::optional<Judged> judged = judge(project, at.board, setting_deg)) {
            at.judged = *judged;
            findings.push_back(trouble_finding(project, frame, at));
        }
        if (has_fragile_tip(setting_deg)) findings.push_back(fragile_tip(frame, at));
    }
    if (piece.length_mm < project.tools.hold_length_mm - kSamePieceMm) {
        findings.push_back({Severity::caution, "piece.too-short", piece.pointer,
                            too_short_text(project, "The piece " + in_quotes(piece.name), "is " + show_length_unit(piece.length_mm, project.style())),
                            too_short_fix()});
    }
}

}  // namespace

bool has_fragile_tip(double saw_deg) { return 90.0 - std::abs(saw_deg) < kFragileEdgeDeg - kSquareCutDeg; }

Findings check_cuts(const Project& project, const Frame& frame) {
    Findings findings;
    check_ring(project, frame, findings);
    check_lengths(project, frame, findings);
    for (const PieceAsked& piece : project.pieces) check_piece(project, frame, piece, findings);
    return findings;
}

}  // namespace boardring
