#include <cstddef>
#include <nlohmann/json.hpp>
#include <string>

#include "base/names.hpp"
#include "io/plan_json.hpp"

namespace boardring {
namespace {

Json reading_of(const Observation& o, const Judged& judged) {
    Json j;
    j["reading"] = o.line + 1;
    j["sigma"] = number(o.sigma);
    j["residual"] = number(judged.residual);
    j["fitted_sd"] = number(judged.fitted_sd);
    j["redundancy"] = number(judged.redundancy);
    j["standardised"] = number(judged.standardised);
    j["findable"] = number(judged.findable);
    j["tellable"] = number(judged.tellable);
    return j;
}

Json numbers(const std::vector<double>& values) {
    Json list = Json::array();
    for (const double value : values) list.push_back(number(value));
    return list;
}

Json suspects_of(const Fitted& fitted) {
    Json list = Json::array();
    for (const ReadingSuspect& s : fitted.judgement.suspects) {
        Json j;
        j["reading"] = fitted.network.observations[s.observation].line + 1;
        j["would_be"] = number(s.would_be);
        j["would_be_sd"] = number(s.would_be_sd);
        j["chi_square"] = number(s.chi_square);
        j["slip_means"] = s.slips.empty() ? Json(nullptr) : number(s.slips.front().meant);
        list.push_back(std::move(j));
    }
    return list;
}

Json next_of(const Fitted& fitted) {
    if (!fitted.next) return nullptr;
    Json j;
    j["between"] = {corner_letter(fitted.network.letters[fitted.next->first]),
                    corner_letter(fitted.network.letters[fitted.next->second])};
    j["expected_mm"] = number(fitted.next->expected_mm);
    return j;
}

}  // namespace

Json fit_of(const Outline& outline) {
    if (!outline.fitted) return nullptr;
    const Fitted& fitted = *outline.fitted;
    const Judgement& judged = fitted.judgement;
    Json j;
    j["steps"] = fitted.fit.steps;
    j["stopped"] = fitted.fit.stop == FitStop::settled ? "settled" : "stalled";
    j["more_than_needed"] = judged.freedoms;
    j["chi_square"] = number(fitted.fit.chi_square);
    j["global_chance"] = number(judged.global_chance);
    j["residual_limit"] = number(judged.limit);
    j["readings"] = Json::array();
    for (std::size_t i = 0; i < judged.readings.size(); ++i) {
        j["readings"].push_back(reading_of(fitted.network.observations[i], judged.readings[i]));
    }
    j["corner_sd_mm"] = numbers(fitted.corner_sd_mm);
    j["side_sd_mm"] = numbers(fitted.side_sd_mm);
    j["angle_sd_deg"] = numbers(fitted.angle_sd_deg);
    j["suspects"] = suspects_of(fitted);
    j["tied"] = judged.tied;
    j["next_reading"] = next_of(fitted);
    return j;
}

}  // namespace boardring
