#include "report/openings_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "base/length_text.hpp"
#include "report/closure_words.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kColumnMm = 12.0;
constexpr double kTallestMm = 70.0;
constexpr double kLetterMm = 2.5;
constexpr double kMarginMm = 12.0;
constexpr std::size_t kLeastColumns = 8;  // of room, so that the words below have lines of some length

// Round to read, and near enough to each other that no histogram loses more than a third of its columns.
constexpr std::array kRound{1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0};

double round_step(double least) {
    const double decade = std::pow(10.0, std::floor(std::log10(least)));
    for (const double round : kRound) {
        if (round * decade >= least) return round * decade;
    }
    return 10.0 * decade;
}

double halved_step(double least) { return std::exp2(std::ceil(std::log2(least) - 1e-12)); }

std::vector<Vec2> box_of(double left, double right, double tall) { return {{left, 0.0}, {right, 0.0}, {right, tall}, {left, tall}}; }

}  // namespace

std::size_t OpeningBins::bin_of(double mm) const {
    constexpr double kOnTheEdge = 1e-9;  // of a step: what ends a step belongs to it, whatever its last digits
    const double at = std::max(0.0, std::ceil(mm / step_mm - kOnTheEdge) - 1.0);
    return at < static_cast<double>(counts.size()) ? static_cast<std::size_t>(at) : counts.size() - 1;
}

std::string OpeningBins::end_words(std::size_t bin) const {
    return inches ? show_length(end_mm(bin), {Unit::inch, step_mm}) : show_number(end_mm(bin), 6);
}

OpeningBins bin_openings(const TrialResult& widest, bool inches) {
    OpeningBins bins;
    bins.inches = inches;
    const double top = widest.quantile(0.995);
    if (!(top > 0.0)) return bins;
    const double least = top / static_cast<double>(kMostBins - 1), inch_mm = unit_in_mm(Unit::inch);
    bins.step_mm = inches ? inch_mm * halved_step(least / inch_mm) : round_step(least);
    bins.counts.resize(static_cast<std::size_t>(std::ceil(top / bins.step_mm)) + 1);
    for (const double x : widest.sorted) ++bins.counts[bins.bin_of(x)];
    bins.most = *std::max_element(bins.counts.begin(), bins.counts.end());
    return bins;
}

Drawing draw_openings(const Plan& plan, const LastJointStudy& study) {
    const Project& project = plan.project;
    const Simulation& trials = study.simulation;
    const OpeningBins bins = bin_openings(trials.widest, in_inches(project));
    const double width = kColumnMm * static_cast<double>(std::max(bins.counts.size(), kLeastColumns));
    const double wanted = bins.step_mm > 0.0 ? kColumnMm * project.wanted.gap_mm / bins.step_mm : HUGE_VAL;
    Drawing drawing;
    drawing.title = clean_text(project.title.empty() ? "Last joint" : project.title);
    drawing.describes = fmt::format("How wide the widest joint opens, drawn in, in {} rings tried: {} open {} or less.", trials.runs,
                                    of_hundred(trials.within), show_small(project.wanted.gap_mm, project.style()));
    const auto label = [&](double x, double y, std::string text, Align align) {
        drawing.labels.push_back({{x, y}, std::move(text), kLetterMm, 0.0, align, false});
    };
    double wanted_top = 0.0;  // the dashed line keeps clear of the number over its column
    for (std::size_t b = 0; b < bins.counts.size(); ++b) {
        const double left = kColumnMm * static_cast<double>(b), right = left + kColumnMm;
        const double tall = kTallestMm * static_cast<double>(bins.counts[b]) / static_cast<double>(bins.most);
        const double kept = std::clamp(wanted, left, right);
        if (kept > left) drawing.regions.push_back({Fill::wood, box_of(left, kept, tall)});
        if (kept < right) drawing.regions.push_back({Fill::blank, box_of(kept, right, tall)});
        drawing.strokes.push_back({Pen::outline, box_of(left, right, tall), true});
        if (std::abs(wanted - 0.5 * (left + right)) <= kColumnMm) wanted_top = std::max(wanted_top, tall);
        label(0.5 * (left + right), tall + 3.0, share_words(static_cast<double>(bins.counts[b]) / static_cast<double>(trials.runs)), Align::centre);
        if (bins.is_last(b)) {
            label(left + 5.5, -4.0, "over", Align::left);
        } else {
            label(right, -4.0, bins.end_words(b), Align::centre);
        }
    }
    label(0.0, -4.0, in_inches(project) ? "0 in" : "0 mm", Align::centre);
    if (wanted < width) {
        const double clear = wanted_top + 6.0;
        drawing.strokes.push_back({Pen::hidden, {{wanted, 0.0}, {wanted, wanted_top}}, false});
        drawing.strokes.push_back({Pen::hidden, {{wanted, clear}, {wanted, kTallestMm + 9.0}}, false});
        label(wanted + 1.5, kTallestMm + 8.0, fmt::format("wanted: {}", show_small(project.wanted.gap_mm, project.style())), Align::left);
    }
    drawing.labels.push_back({{0.0, kTallestMm + 16.0}, drawing.title, 1.4 * kLetterMm, 0.0, Align::left, true});
    double line = -11.0;
    for (const std::string& text : wrapped_text(drawing.describes, width, kLetterMm, false)) {
        drawing.labels.push_back({{0.0, line}, text, kLetterMm, 0.0, Align::left, false});
        line -= 5.0;
    }
    drawing.page_low = {-kMarginMm, line - 4.0};
    drawing.page_high = {width + kMarginMm, kTallestMm + 24.0};
    return drawing;
}

}  // namespace boardring
