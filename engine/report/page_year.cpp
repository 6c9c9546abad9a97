#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/names.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"
#include "season/species.hpp"

namespace boardring {
namespace {

std::string percent(double pct) { return show_number(pct, 1); }

// The joint that opens most when dry (or wet).
const JointMovement& widest_when(const Season& season, bool dry) {
    return *std::max_element(season.joints.begin(), season.joints.end(), [dry](const JointMovement& a, const JointMovement& b) {
        return std::abs(dry ? a.dry_mm : a.wet_mm) < std::abs(dry ? b.dry_mm : b.wet_mm) * (1.0 - 1e-9);
    });
}

std::string opening_words(double opening_mm, const Project& project) {
    return fmt::format("{} {}", show_small(std::abs(opening_mm), project.style()), opening_mm > 0.0 ? "inside" : "outside");
}

// "12 % opens A 0.5 mm outside"
std::string month_words(const Plan& plan, bool dry) {
    const Season& season = *plan.season;
    const JointMovement& widest = widest_when(season, dry);
    const double opening_mm = dry ? widest.dry_mm : widest.wet_mm;
    const std::string state = fmt::format("{}, at {} %,", dry ? "dry" : "wet", percent(dry ? season.year.dry_pct : season.year.wet_pct));
    if (std::abs(opening_mm) < 0.005) return fmt::format("{} no joint opens", state);
    return fmt::format("{} {} opens {}", state, corner_letter(widest.corner), opening_words(opening_mm, plan.project));
}

}  // namespace

Lines year_lines(const Plan& plan) {
    if (!plan.season || !plan.season->year.asked || plan.season->joints.empty()) return {};
    const Season& season = *plan.season;
    std::string text = fmt::format("made at {} % moisture: {}; {}.", percent(season.year.made_pct), month_words(plan, true), month_words(plan, false));
    if (plan.project.lie == Lie::on_edge)
        text += fmt::format(" A course is {} higher wet than dry.", show_small(season.height_mm, plan.project.style()));
    return labelled("THE YEAR", text);
}

Lines year_more_lines(const Plan& plan) {
    if (!plan.season || plan.season->joints.empty()) return {};
    const Season& season = *plan.season;
    const Project& project = plan.project;
    Lines lines{fmt::format("THE YEAR  made at {} % moisture, {} % dry, {} % wet{}. How far each joint opens:",
                            percent(season.year.made_pct), percent(season.year.dry_pct), percent(season.year.wet_pct),
                            season.year.asked ? "" : " (assumed)")};
    const auto cell = [&](double mm) { return std::abs(mm) < 0.005 ? std::string("0") : opening_words(mm, project); };
    std::size_t widest = 0;
    for (const JointMovement& moved : season.joints) widest = std::max(widest, columns_of(cell(moved.dry_mm)));
    for (const JointMovement& moved : season.joints) {
        lines.push_back(fmt::format("  {}  dry {}   wet {}", padded(corner_letter(moved.corner), 3), padded(cell(moved.dry_mm), widest),
                                    cell(moved.wet_mm)));
    }
    std::vector<std::string> woods;
    for (const BoardMovement& moved : season.boards) {
        const std::string said = fmt::format("{} {}", spoken_name(moved.wood), show_number(moved.coefficient, 5));
        if (std::find(woods.begin(), woods.end(), said) == woods.end()) woods.push_back(said);
    }
    append_lines(lines, labelled("", fmt::format("For each 1 % of moisture and 1 of width in the joint: {}{}. Lengths are taken as still.{}{}",
                                                 and_list(woods), season.from_memory ? " (some from memory)" : "",
                                                 season.beyond_coefficients ? " Outside 6 to 14 % by the shrinkage from green to dry." : " They hold from 6 to 14 %.",
                                                 project.lie == Lie::on_edge ? fmt::format(" A course is {} higher wet than dry.",
                                                                                           show_small(season.height_mm, project.style()))
                                                                             : ""),
                                 2));
    return lines;
}

}  // namespace boardring
