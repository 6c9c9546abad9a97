#include <array>
#include <cmath>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"
#include "io/wording.hpp"

// Tools, accuracy and what is good enough: the parts that are mostly defaults. All defaults are common practice; each is told.

namespace boardring {
namespace {

struct LengthDefault {
    double metric_mm;
    double inch_mm;
    [[nodiscard]] double of(const Job& job) const { return job.in_inches() ? inch_mm : metric_mm; }
};

constexpr double kInch = 25.4;
constexpr LengthDefault kRuleStep{0.5, kInch / 16};
constexpr LengthDefault kFenceHeight{90.0, 3.5 * kInch};
constexpr LengthDefault kKerf{3.0, kInch / 8};
constexpr LengthDefault kHoldLength{300.0, 12 * kInch};
constexpr LengthDefault kBevelBase{300.0, 12 * kInch};

// In the order of Preset. 0.012 in is the 0.3 mm of fitted architectural trim.
struct GapDefault {
    LengthDefault gap;
    std::string_view metric_words;
    std::string_view inch_words;
};
constexpr std::array<GapDefault, 3> kWantedGap{{
    {{3.0, kInch / 8}, "3 mm", "1/8 in"},
    {{1.0, kInch / 32}, "1 mm", "1/32 in"},
    {{0.3, 0.012 * kInch}, "0.3 mm", "0.012 in"},
}};
const std::vector<std::string_view> kPresetWords{"garden", "joinery", "fine"};
constexpr std::array<Accuracy, 3> kPresets{{
    {Preset::garden, 1.0, 0.5, 0.25, 0.3, 2.0, 1.0, 3.0, 0.3, 0.5},
    {Preset::joinery, 0.5, 0.2, 0.1, 0.2, 1.0, 0.5, 1.5, 0.15, 0.2},
    {Preset::fine, 0.15, 0.05, 0.05, 0.1, 0.3, 0.1, 0.5, 0.05, 0.1},
}};

constexpr LengthLimits kRuleStepLimits{0.0, 100.0, false};
constexpr LengthLimits kKerfLimits{0.0, 50.0};
constexpr LengthLimits kToolLength{0.0, 1e4};
constexpr LengthLimits kBaseLength{0.0, 1e4, false};
constexpr LengthLimits kErrorLength{0.0, 100.0};
constexpr NumberLimits kErrorAngle{0.0, 10.0};
constexpr NumberLimits kSawLimit{0.0, 90.0, true, false};
constexpr NumberLimits kSawStep{0.0, 15.0, false};

const Accuracy& preset_values(Preset preset) {
    return kPresets[static_cast<std::size_t>(preset)];
}

// What is read keeps its place; what is not there keeps the default already in `value` and is told in the words of `assumed`.
void length_or_default(Job& job, const Fields& fields, std::string_view key, const LengthLimits& limits, double& value,
                       const std::string& assumed) {
    if (const auto spot = fields.find(key)) {
        value = read_length(job, *spot, limits).value_or(value);
    } else {
        job.assume(fields.pointer(key), assumed);
    }
}

void angle_or_default(Job& job, const Fields& fields, std::string_view key, const NumberLimits& limits, double& value,
                      std::string_view assumed) {
    if (const auto spot = fields.find(key)) {
        value = read_angle(job, *spot, limits).value_or(value);
    } else {
        job.assume(fields.pointer(key), fmt::format(fmt::runtime(assumed), show_angle(value)));
    }
}

// Inches are shown in halves, quarters, eighths ...; a rule divided otherwise cannot be shown.
void read_rule_step(Job& job, const Fields& fields, double& step_mm) {
    const auto spot = fields.find("rule_step");
    if (!spot) {
        job.assume(fields.pointer("rule_step"), "rule read to " + show_length_unit(step_mm, {job.unit, step_mm}));
        return;
    }
    const auto read = read_length(job, *spot, kRuleStepLimits);
    if (!read) return;
    if (!job.in_inches()) {
        step_mm = *read;
        return;
    }
    for (double part = kInch; part >= kInch / 128; part /= 2) {
        if (std::abs(*read - part) < 1e-6 * part) {
            step_mm = part;
            return;
        }
    }
    job.tell(*spot, "value.not-allowed",
             fmt::format("\"rule_step\" is {}; inches are shown in halves, quarters and so on down to 1/128.", written(*spot)),
             "Write 1/16, 1/32 or another of these steps, as text in quotes: \"1/16\".");
}

void read_scale_at_square(Job& job, const Fields& fields, double& scale_deg) {
    const auto spot = fields.find("scale_at_square");
    if (!spot) {
        job.assume(fields.pointer("scale_at_square"), "the saw's scale reads 0 at a square cut");
        return;
    }
    const auto read = read_number(job, *spot, {0.0, 90.0});
    if (!read) return;
    if (*read == 0.0 || *read == 90.0) {
        scale_deg = *read;
        return;
    }
    job.tell(*spot, "value.not-allowed", fmt::format("\"scale_at_square\" is {}; it must be 0 or 90.", written(*spot)),
             "Set your saw for a plain square cut and write what its scale says: 0 or 90.");
}

}  // namespace

Tools read_tools(Job& job, const Fields& project) {
    Tools tools;
    tools.rule_step_mm = kRuleStep.of(job);
    tools.fence_height_mm = kFenceHeight.of(job);
    tools.kerf_mm = kKerf.of(job);
    tools.hold_length_mm = kHoldLength.of(job);
    tools.bevel_base_mm = kBevelBase.of(job);
    const auto fields = open_section(job, project, "tools",
                                     {"rule_step", "saw_step", "scale_at_square", "swing_limit", "tilt_limit", "fence_height",
                                      "kerf", "hold_length", "slope_by", "bevel_base", "rounding"});
    if (!fields) return tools;
    read_rule_step(job, *fields, tools.rule_step_mm);
    const LengthStyle style{job.unit, kRuleStep.of(job)};
    const auto shown = [&style](double mm) { return show_length_unit(mm, style); };
    angle_or_default(job, *fields, "saw_step", kSawStep, tools.saw_step_deg, "the saw can be set to {} degrees");
    read_scale_at_square(job, *fields, tools.scale_at_square_deg);
    const bool own_scale = tools.scale_at_square_deg != 0.0;
    angle_or_default(job, *fields, "swing_limit", kSawLimit, tools.swing_limit_deg, own_scale ? "the saw swings to {} degrees from square" : "the saw swings to {} degrees");
    angle_or_default(job, *fields, "tilt_limit", kSawLimit, tools.tilt_limit_deg, own_scale ? "the saw tilts to {} degrees from square" : "the saw tilts to {} degrees");
    length_or_default(job, *fields, "fence_height", kToolLength, tools.fence_height_mm,
                      "boards up to " + shown(tools.fence_height_mm) + " stand at the saw's fence");
    length_or_default(job, *fields, "kerf", kKerfLimits, tools.kerf_mm, "saw cut " + shown(tools.kerf_mm));
    length_or_default(job, *fields, "hold_length", kToolLength, tools.hold_length_mm,
                      "pieces under " + shown(tools.hold_length_mm) + " are too short to hold by hand");
    if (const auto spot = fields->find("slope_by")) {
        tools.slope_by = read_choice<SlopeBy>(job, *spot, {"bevel", "marks", "saw"}).value_or(tools.slope_by);
    } else {
        job.assume(fields->pointer("slope_by"), "slopes are set with a bevel");
    }
    if (const auto spot = fields->find("rounding")) {
        tools.rounding = read_choice<Rounding>(job, *spot, {"alike", "singly", "nearest"}).value_or(tools.rounding);
    }
    length_or_default(job, *fields, "bevel_base", kBaseLength, tools.bevel_base_mm,
                      "the bevel is set over " + shown(tools.bevel_base_mm));
    return tools;
}

Accuracy read_accuracy(Job& job, const Fields& project) {
    Accuracy accuracy = preset_values(Preset::joinery);
    const auto fields = open_section(job, project, "accuracy",
                                     {"preset", "mark", "cut_angle", "common_angle", "rule_scale", "side", "angle", "diagonal",
                                      "stop", "thickness"});
    if (!fields) return accuracy;
    if (const auto spot = fields->find("preset")) {
        if (const auto preset = read_choice<Preset>(job, *spot, kPresetWords)) accuracy = preset_values(*preset);
    } else {
        job.assume(fields->pointer("preset"), "joinery work");
    }
    const auto length = [&](std::string_view key, double& value) {
        if (const auto spot = fields->find(key)) value = read_length(job, *spot, kErrorLength).value_or(value);
    };
    const auto angle = [&](std::string_view key, double& value) {
        if (const auto spot = fields->find(key)) value = read_angle(job, *spot, kErrorAngle).value_or(value);
    };
    length("mark", accuracy.mark_mm);
    angle("cut_angle", accuracy.cut_angle_deg);
    angle("common_angle", accuracy.common_angle_deg);
    if (const auto spot = fields->find("rule_scale")) {
        accuracy.rule_scale_mm_per_m = read_number(job, *spot, {0.0, 10.0}).value_or(accuracy.rule_scale_mm_per_m);
    }
    length("side", accuracy.side_mm);
    angle("angle", accuracy.angle_deg);
    length("diagonal", accuracy.diagonal_mm);
    length("stop", accuracy.stop_mm);
    length("thickness", accuracy.thickness_mm);
    return accuracy;
}

Wanted read_wanted(Job& job, const Fields& project, Preset preset, std::optional<std::size_t> boards) {
    Wanted wanted;
    const GapDefault& gap = kWantedGap[static_cast<std::size_t>(preset)];
    wanted.gap_mm = gap.gap.of(job);
    const auto fields = open_section(job, project, "wanted", {"gap", "fit_last", "leave_long", "spares"});
    if (!fields) return wanted;
    length_or_default(job, *fields, "gap", kErrorLength, wanted.gap_mm,
                      fmt::format("a joint gap of {} is good enough", job.in_inches() ? gap.inch_words : gap.metric_words));
    if (const auto spot = fields->find("fit_last")) {
        if (const auto board = read_count(job, *spot, {1, boards.value_or(kMostCorners)})) wanted.fit_last = *board - 1;
    } else if (boards) {
        job.assume(fields->pointer("fit_last"), "board " + board_number(*boards - 1) + " is fitted last");
    }
    length_or_default(job, *fields, "leave_long", kToolLength, wanted.leave_long_mm, "no board is left long to be fitted");
    if (const auto spot = fields->find("spares")) {
        wanted.spares = read_count(job, *spot, {0, 100}).value_or(0);
    } else {
        job.assume(fields->pointer("spares"), "no spare pieces");
    }
    return wanted;
}

}  // namespace boardring
