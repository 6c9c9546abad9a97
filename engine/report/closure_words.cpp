#include "report/closure_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/angle_text.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

// How the test pieces are made and what they show together.
std::string test_pieces_words(const TestRing& test, const Project& project) {
    if (test.saw_deg <= 0.0)
        return "saw a wide piece of scrap through square, turn one half over and hold both with one edge against a straight edge: where they "
               "meet they part by twice the error.";
    const std::string pieces = test.pieces == 1 ? "one piece of scrap" : fmt::format("{} pieces of scrap", count_word(test.pieces));
    const std::string ends = test.saw_deg - test.other_deg < 1e-6
                                 ? fmt::format("at {} on both ends, join them", show_setting(test.saw_deg, project))
                                 : fmt::format("at {} on one end and {} on the other, join unlike ends", show_setting(test.saw_deg, project),
                                               show_setting(test.other_deg, project));
    return fmt::format("cut {} {} and lay the half-ring on a straight edge: it shows {} times the error of one cut.", pieces, ends, 2 * test.pieces);
}

std::string padded_row(const SourceRow& cells, const std::array<std::size_t, 5>& widths) {
    std::string line = "  " + padded(cells[0], widths[0]);
    for (std::size_t c = 1; c < cells.size(); ++c) line += "   " + padded_before(cells[c], widths[c]);
    return line;
}

}  // namespace

std::string way_words(SlopeBy way) {
    switch (way) {
        case SlopeBy::bevel: return "slopes by bevel";
        case SlopeBy::marks: return "slopes by two marks";
        case SlopeBy::saw: return "by the saw's scale and a length stop";
    }
    return "";
}

std::string small(double mm, const Project& project) { return show_small(mm, project.style()); }

std::string preset_words(Preset preset) {
    switch (preset) {
        case Preset::garden: return "garden work";
        case Preset::joinery: return "joinery";
        case Preset::fine: return "fine work";
    }
    return "";
}

std::string trials_words(std::size_t runs, const char* what, std::uint64_t seed, double within_error, bool still) {
    return fmt::format("({} {} tried, seed {}, share good to {:.1f} of 100{})", runs, what, seed,
                       std::max(0.1, 200.0 * within_error), still ? "" : "; the numbers still move a little");
}

std::string sd_words(ErrorKind kind, double sd, const Project& project) {
    switch (kind) {
        case ErrorKind::cut:
        case ErrorKind::scale: return show_angle(sd, 2) + " deg";
        case ErrorKind::rule: return fmt::format("{:.2g} in 1000", sd);
        case ErrorKind::setting: return small(sd, project) + " of rise";
        case ErrorKind::mark:
        case ErrorKind::stop:
        case ErrorKind::length:
        case ErrorKind::thickness: return small(sd, project);
    }
    return "";
}

std::string of_hundred(double share) {
    if (share < 0.01) return "fewer than 1 of 100";
    if (share > 0.99) return "more than 99 of 100";
    return fmt::format("{} of 100", static_cast<int>(std::floor(100.0 * share + 0.5)));
}

std::string share_words(double share) { return share > 0.0 && share < 0.005 ? "< 1 %" : fmt::format("{:.0f} %", 100.0 * share); }

std::vector<std::string> sources_table(const std::vector<SourceRow>& rows) {
    std::array<std::size_t, 5> widths{};
    for (const SourceRow& row : rows) {
        for (std::size_t c = 0; c < widths.size(); ++c) widths[c] = std::max(widths[c], columns_of(row[c]));
    }
    std::vector<std::string> lines;
    for (const SourceRow& row : rows) lines.push_back(padded_row(row, widths));
    return lines;
}

Lines test_cut_lines(const std::vector<TestRing>& tests, const Project& project) {
    if (tests.empty()) {
        return labelled("TEST CUTS", "no number of pieces at these settings makes a half-ring: try each corner with two test cuts against the bevel.");
    }
    const TestRing& test = tests.front();
    const double unit_mm = in_inches(project) ? 25.4 / 16.0 : 1.0;
    const std::string unit = in_inches(project) ? "1/16" : "1 mm";
    const char* turn = project.lie == Lie::on_edge ? "tilt" : "swing";
    std::string text = test_pieces_words(test, project);
    text += test.saw_deg > 0.0
                ? fmt::format(" With one end flat on it, the other end's face ({} wide) stands off more at one edge than at the other: for each {} of "
                              "that each cut is out by {}. Open at the outside: {} more; at the inside: {} less.",
                              shown(test.face_mm, project), unit, show_angle(test.deg_per_mm * unit_mm, 2), turn, turn)
                : fmt::format(" For each {} across {} the cut is out by {}.", unit, shown(test.face_mm, project),
                              show_angle(test.deg_per_mm * unit_mm, 2));
    const double shim_at_mm = in_inches(project) ? 12.0 * 25.4 : kShimAtMm;
    text += fmt::format(" At {} from the pivot that is a shim of {} for each {}.", shown(shim_at_mm, project),
                        small(test.shim_per_mm * shim_at_mm / kShimAtMm * unit_mm, project), unit);
    return labelled("TEST CUTS", text);
}

Lines closing_words(const Project& project, const PageOptions& options) {
    Lines lines;
    append_lines(lines, labelled("I ASSUMED", fmt::format("how far each thing is out: common practice for {}, unless \"accuracy\" in {} says otherwise.",
                                                          preset_words(project.accuracy.preset),
                                                          clean_text(options.file_name.empty() ? options.project_name : options.file_name, 60))));
    append_lines(lines, labelled("TAKE CARE", "Test cuts are cuts: clamp, hands clear of the blade, your saw's own book first."));
    return lines;
}

}  // namespace boardring
