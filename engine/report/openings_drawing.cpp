#include "report/openings_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "base/length_text.hpp"
#include "report/closure_page.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kColumnMm = 12.0;
constexpr double kTallestMm = 70.0;
constexpr double kLetterMm = 2.5;
constexpr double kMarginMm = 12.0;

}  // namespace

OpeningBins bin_openings(const TrialResult& widest) {
    OpeningBins bins;
    const double top = widest.quantile(0.995);
    if (!(top > 0.0)) return bins;
    bins.step_mm = top / static_cast<double>(bins.counts.size());
    for (const double x : widest.sorted) ++bins.counts[std::min(bins.counts.size() - 1, static_cast<std::size_t>(x / bins.step_mm))];
    bins.most = *std::max_element(bins.counts.begin(), bins.counts.end());
    return bins;
}

Drawing draw_openings(const Plan& plan, const LastJointStudy& study) {
    const Project& project = plan.project;
    const Simulation& trials = study.simulation;
    const OpeningBins bins = bin_openings(trials.widest);
    const double width = kColumnMm * static_cast<double>(bins.counts.size());
    Drawing drawing;
    drawing.title = clean_text(project.title.empty() ? "Last joint" : project.title);
    drawing.describes = fmt::format("How wide the widest joint opens, drawn in, in {} rings tried: {} open {} or less.", trials.runs,
                                    of_hundred(trials.within), show_small(project.wanted.gap_mm, project.style()));
    for (std::size_t b = 0; b < bins.counts.size() && bins.most > 0; ++b) {
        const double left = kColumnMm * static_cast<double>(b);
        const double tall = kTallestMm * static_cast<double>(bins.counts[b]) / static_cast<double>(bins.most);
        const std::vector<Vec2> box{{left, 0.0}, {left + kColumnMm, 0.0}, {left + kColumnMm, tall}, {left, tall}};
        drawing.regions.push_back({Fill::wood, box});
        drawing.strokes.push_back({Pen::outline, box, true});
        const double share = static_cast<double>(bins.counts[b]) / static_cast<double>(trials.runs);
        drawing.labels.push_back({{left + 0.5 * kColumnMm, tall + 3.0}, fmt::format("{:.1f} %", 100.0 * share), kLetterMm, 0.0, Align::centre, false});
        const std::string to = b + 1 < bins.counts.size() ? show_small(bins.step_mm * static_cast<double>(b + 1), project.style()) : "over";
        drawing.labels.push_back({{left + (b + 1 < bins.counts.size() ? 1.0 : 0.5) * kColumnMm, -4.0}, to, 0.8 * kLetterMm, 0.0, Align::centre, false});
    }
    const double wanted = bins.step_mm > 0.0 ? kColumnMm * project.wanted.gap_mm / bins.step_mm : width + 1.0;
    if (wanted < width) {
        drawing.strokes.push_back({Pen::hidden, {{wanted, -1.0}, {wanted, kTallestMm + 9.0}}, false});
        drawing.labels.push_back({{wanted + 1.5, kTallestMm + 8.0}, "wanted", kLetterMm, 0.0, Align::left, false});
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
