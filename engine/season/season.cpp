#include "season/season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "base/pointer.hpp"
#include "base/quoted.hpp"
#include "season/moisture.hpp"
#include "season/species.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostNames = 4;
constexpr double kWider = 1e-9;  // of equals the first

// Slope of an end after its board has become narrower by dW.
double slope_rad(const Board& board, std::size_t e, double narrower_mm) {
    return std::atan2(board.ends[e].run_mm, board.width_at(e) - narrower_mm);
}

// The movement of one joint for given changes of width.
class JointChange {
public:
    JointChange(const Frame& frame, const Joint& joint) : joint_(joint), before_(frame.boards[joint.before]), after_(frame.boards[joint.after]) {}

    [[nodiscard]] double opening_mm(double before_mm, double after_mm) const {
        const End p = end(before_, 1, before_mm), o = end(after_, 0, after_mm);
        switch (joint_.kind) {
            case JointKind::mitre: return std::min(p.face_mm, o.face_mm) * std::sin(p.turned_rad + o.turned_rad);
            case JointKind::butt: {
                const End& stopped = joint_.through == joint_.after ? p : o;
                return stopped.face_mm * std::sin(stopped.turned_rad);
            }
            case JointKind::half_lap: return std::min(p.face_mm, o.face_mm) * std::sin(0.5 * (p.turned_rad + o.turned_rad));
        }
        ENSURE(false);
        return 0.0;
    }

    [[nodiscard]] double first_order_mm(double before_mm, double after_mm) const {
        const double p = before_mm * sin_deg(before_.ends[1].saw_deg), o = after_mm * sin_deg(after_.ends[0].saw_deg);
        switch (joint_.kind) {
            case JointKind::mitre: return p + o;
            case JointKind::butt: return joint_.through == joint_.after ? p : o;
            case JointKind::half_lap: return 0.5 * (p + o);
        }
        ENSURE(false);
        return 0.0;
    }

private:
    struct End {
        double face_mm = 0.0;
        double turned_rad = 0.0;  // how much steeper it got, with the sign of the saw setting
    };

    static End end(const Board& board, std::size_t e, double narrower_mm) {
        return {std::hypot(board.ends[e].run_mm, board.width_at(e) - narrower_mm), slope_rad(board, e, narrower_mm) - slope_rad(board, e, 0.0)};
    }

    const Joint& joint_;
    const Board& before_;
    const Board& after_;
};

Finding unknown_species(const Project& project, std::size_t k) {
    const BoardAsked& asked = project.boards[k];
    const std::string species = asked.stock ? project.stock[*asked.stock].species : "";
    if (species.empty()) {
        return {Severity::error, "season.unknown-species", asked.stock ? "/stock" + pointer_step(project.stock[*asked.stock].name) : asked.pointer,
                fmt::format("what the year does to board {} cannot be told: its wood is not named", board_number(k)),
                "give its stock a \"species\", such as \"white oak\" or \"Douglas-fir\", or leave out \"year\""};
    }
    const std::vector<std::string> like = woods_like(species, kMostNames);
    std::string names;
    for (std::size_t i = 0; i < like.size(); ++i) names += fmt::format("{}\"{}\"", i == 0 ? "" : ", ", like[i]);
    return {Severity::error, "season.unknown-species", "/stock" + pointer_step(project.stock[*asked.stock].name) + "/species",
            fmt::format("what the year does to {} cannot be told: I have no figures for it", in_quotes(species)),
            like.empty() ? std::string("name a wood of like growth for which there are figures (docs/seasons.md lists them), or leave out \"year\"")
                         : fmt::format("write {}{}, or leave out \"year\"", like.size() > 1 ? "the one you mean of " : "", names)};
}

BoardMovement board_movement(const Project& project, const Board& board, const Stock& stock, const WoodMovement& wood) {
    const Year& year = *project.year;
    const bool rings_along_width = stock.grain == Grain::flat_sawn;
    // Flat, the board's width lies in the joint; on edge its thickness does.
    const bool width_in_joint = project.lie == Lie::flat;
    BoardMovement moved;
    moved.wood = wood.name;
    moved.coefficient = rings_along_width == width_in_joint ? wood.tangential : wood.radial;
    moved.height_coefficient = rings_along_width == width_in_joint ? wood.radial : wood.tangential;
    const auto narrower = [&](double size_mm, double coefficient, double to_pct) {
        return -movement_mm(size_mm, coefficient, year.made_pct, to_pct);
    };
    moved.width_dry_mm = narrower(board.width_mm, moved.coefficient, year.dry_pct);
    moved.width_wet_mm = narrower(board.width_mm, moved.coefficient, year.wet_pct);
    moved.height_dry_mm = narrower(board.height_mm, moved.height_coefficient, year.dry_pct);
    moved.height_wet_mm = narrower(board.height_mm, moved.height_coefficient, year.wet_pct);
    return moved;
}

Finding over_gap(const Project& project, const Season& season) {
    const LengthStyle style = project.style();
    const double part = project.wanted.gap_mm / season.widest_mm;
    return {Severity::warning, "season.over-gap", "/year",
            fmt::format("when {} the joint at {} opens {} {}; you want no more than {}", season.when_dry ? "dry" : "wet",
                        corner_letter(season.corner), show_small(season.widest_mm, style), season.inside ? "inside" : "outside",
                        show_small(project.wanted.gap_mm, style)),
            fmt::format("make it nearer to the middle of the wood's year, take boards {} times as {} or {}", show_number(std::max(part, 0.01), 2),
                        project.lie == Lie::flat ? "wide" : "thick", project.lie == Lie::flat ? "quarter-sawn ones" : "a steadier wood")};
}

}  // namespace

SeasonResult move_with_the_year(const Project& project, const Frame& frame) {
    SeasonResult result;
    if (!project.year) return result;
    const Year& year = *project.year;
    Season season;
    season.year = year;
    const auto beyond = [](double pct) { return pct < kCoefficientLowPct || pct > kCoefficientHighPct; };
    season.beyond_coefficients = beyond(year.dry_pct) || beyond(year.wet_pct) || beyond(year.made_pct);
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const std::optional<std::size_t>& stock = project.boards[k].stock;
        const std::optional<WoodMovement> wood = stock ? find_wood(project.stock[*stock].species) : std::nullopt;
        if (!wood) {
            if (year.asked) result.findings.push_back(unknown_species(project, k));
            return result;  // one such board and no joint can be told from another
        }
        season.boards.push_back(board_movement(project, frame.boards[k], project.stock[*stock], *wood));
        season.from_memory = season.from_memory || wood->from_memory;
        const BoardMovement& moved = season.boards.back();
        season.height_mm = std::max(season.height_mm, moved.height_dry_mm - moved.height_wet_mm);
    }
    for (const Joint& joint : frame.joints) {
        const BoardMovement &p = season.boards[joint.before], &o = season.boards[joint.after];
        const JointChange change(frame, joint);
        const Board& before = frame.boards[joint.before];
        const double taper = before.width_at(1) / before.width_mm;  // movements are those of first ends; the joint is at its second
        const JointMovement moved{joint.corner, change.opening_mm(taper * p.width_dry_mm, o.width_dry_mm),
                                  change.opening_mm(taper * p.width_wet_mm, o.width_wet_mm),
                                  change.first_order_mm(taper * p.width_dry_mm, o.width_dry_mm)};
        for (const bool dry : {true, false}) {
            const double opening_mm = dry ? moved.dry_mm : moved.wet_mm;
            if (std::abs(opening_mm) <= season.widest_mm * (1.0 + kWider)) continue;
            season.widest_mm = std::abs(opening_mm);
            season.corner = joint.corner;
            season.when_dry = dry;
            season.inside = opening_mm > 0.0;
        }
        season.joints.push_back(moved);
    }
    if (year.asked && season.widest_mm > project.wanted.gap_mm) result.findings.push_back(over_gap(project, season));
    result.season = std::move(season);
    return result;
}

}  // namespace boardring
