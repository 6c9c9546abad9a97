#include <nlohmann/json.hpp>

#include "base/ensure.hpp"
#include "base/names.hpp"
#include "io/plan_json.hpp"

namespace boardring {
namespace {

const char* name_of(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::mark: return "mark";
        case ErrorKind::cut: return "cut";
        case ErrorKind::setting: return "bevel setting";
        case ErrorKind::scale: return "saw scale";
        case ErrorKind::stop: return "length stop";
        case ErrorKind::length: return "length";
        case ErrorKind::rule: return "rule";
        case ErrorKind::thickness: return "width in the joint";
    }
    ENSURE(false);
    return "";
}

const char* unit_of(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::cut:
        case ErrorKind::scale: return "deg";
        case ErrorKind::rule: return "mm per m";
        case ErrorKind::mark:
        case ErrorKind::setting:
        case ErrorKind::stop:
        case ErrorKind::length:
        case ErrorKind::thickness: return "mm";
    }
    ENSURE(false);
    return "";
}

const char* name_of(SlopeBy way) {
    switch (way) {
        case SlopeBy::bevel: return "bevel";
        case SlopeBy::marks: return "marks";
        case SlopeBy::saw: return "saw";
    }
    ENSURE(false);
    return "";
}

}  // namespace

Json last_joint_of(const Plan& plan) {
    if (!plan.budget) return nullptr;
    const Budget& budget = *plan.budget;
    Json j;
    j["way"] = name_of(budget.way);
    j["corner"] = corner_letter(budget.corner);
    j["sources"] = Json::array();
    for (const BudgetLine& line : budget.lines) {
        Json source;
        source["source"] = name_of(line.source.kind);
        source["sd"] = number(line.source.sd);
        source["unit"] = unit_of(line.source.kind);
        source["times"] = line.source.inputs;
        source["spread_share"] = number(line.spread_share);
        source["stiff_share"] = number(line.stiff_share);
        j["sources"].push_back(std::move(source));
    }
    Json stiff;
    stiff["gap_in_sd_mm"] = number(budget.gap_in_sd_mm);
    stiff["gap_out_sd_mm"] = number(budget.gap_out_sd_mm);
    stiff["lip_in_sd_mm"] = number(budget.lip_in_sd_mm);
    stiff["angle_left_sd_deg"] = number(budget.angle_left_sd_deg);
    stiff["covariance"] = Json::array();
    for (const auto& row : budget.covariance) stiff["covariance"].push_back({number(row[0]), number(row[1]), number(row[2])});
    j["stiff"] = std::move(stiff);
    Json spread;
    spread["within"] = number(budget.spread.within);
    spread["typical_mm"] = number(budget.spread.typical_mm);
    spread["most_mm"] = number(budget.spread.most_mm);
    spread["mean_mm"] = number(budget.spread.mean_mm);
    spread["sd_mm"] = number(budget.spread.sd_mm);
    spread["as_meant"] = nullptr;
    if (const std::optional<OpeningAsMeant>& meant = budget.as_meant) {
        Json as_meant;
        as_meant["corner"] = corner_letter(meant->corner);
        as_meant["at"] = meant->inside ? "inside" : "outside";
        as_meant["meant_mm"] = number(meant->meant_mm);
        as_meant["sd_mm"] = number(meant->sd_mm);
        as_meant["same_shut"] = number(meant->same_shut);
        spread["as_meant"] = std::move(as_meant);
    }
    j["spread"] = std::move(spread);
    Json leave;
    leave["board"] = board_name(budget.leave_long.board);
    leave["long_mm"] = number(budget.leave_long.long_mm);
    leave["trimmed_mm"] = number(budget.leave_long.trimmed_mm);
    leave["told_mm"] = number(budget.leave_long.told_mm);
    leave["too_short"] = number(budget.leave_long.too_short);
    leave["lip_mm"] = number(budget.leave_long.lip_mm);
    j["fit_last"] = std::move(leave);
    return j;
}

}  // namespace boardring
