#include "report/free_ends_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/names.hpp"
#include "report/closure_words.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kOf95 = 1.96;  // standard deviations that hold 95 of 100 of a normal number

std::string last_letter(const Plan& plan) { return corner_letter(plan.frame->boards.size()); }

std::string both_ends(const Plan& plan) { return "A and " + last_letter(plan); }

Lines as_a_whole(const Plan& plan, const FreeEndsStudy& study) {
    const Project& project = plan.project;
    const FreeEndsTrials& t = study.trials;
    const Vec2 first = plan.frame->boards.front().plan_mm()[0], last = plan.frame->boards.back().plan_mm()[3];
    return labelled("AS A WHOLE", fmt::format("an open chain has no last joint: its joints are held tight, and what is left shows at {}, {} apart inside. Half of "
                                              "the chains come out within {} of that, 95 of 100 within {}.",
                                              both_ends(plan), shown(length(last - first), project), small(t.off.quantile(0.5), project),
                                              small(t.off.quantile(0.95), project)));
}

Lines end_faces(const Plan& plan, const FreeEndsStudy& study) {
    const Project& project = plan.project;
    const FreeEndsTrials& t = study.trials;
    return labelled("END FACES", fmt::format("laid with {} on their line, {} stand off it by {} or less at one edge of either face, as you want gaps; half of them "
                                             "by up to {}, 95 of 100 by up to {}. {}",
                                             both_ends(plan), of_hundred(t.within), small(project.wanted.gap_mm, project),
                                             small(t.face.quantile(0.5), project), small(t.face.quantile(0.95), project),
                                             trials_words(t.runs, "chains", t.seed, t.within_error, t.still)));
}

Lines one_by_one(const Plan& plan, const FreeEndsStudy& study) {
    const std::string end = last_letter(plan);
    return labelled("ONE BY ONE", fmt::format("with A fixed first and board after board joined to it, {} misses its place by up to {} in 95 of 100. So fix neither end "
                                              "before all boards are joined.",
                                              end, small(study.trials.held.quantile(0.95), plan.project)));
}

std::vector<std::string> table(const FreeEndsBudget& budget, const Project& project) {
    std::vector<SourceRow> rows{{"source", "out by", "times", "apart", "end faces"}};
    for (const FreeEndsLine& line : budget.lines)
        rows.push_back({source_words(line.source.kind), sd_words(line.source.kind, line.source.sd, project), std::to_string(line.source.inputs),
                        share_words(line.span_share), share_words(line.face_share)});
    return sources_table(rows);
}

// What is left of a standard deviation when a source of this share is halved.
double halved(double share) { return std::sqrt(1.0 - 0.75 * share); }

double larger_face_mm(const FreeEndsBudget& budget) { return std::max(budget.face_sd_mm[0], budget.face_sd_mm[1]); }

Lines helps(const FreeEndsStudy& study, const Project& project) {
    const std::vector<FreeEndsLine>& lines = study.budget.lines;
    const auto face = std::max_element(lines.begin(), lines.end(), [](const FreeEndsLine& a, const FreeEndsLine& b) { return a.face_share < b.face_share; });
    const FreeEndsLine& span = lines.front();
    const double apart_mm = kOf95 * study.budget.span_sd_mm, off_mm = kOf95 * larger_face_mm(study.budget);
    std::string text = fmt::format("{}: twice as good, 95 of 100 come out within {} instead of {}", capital(source_words(span.source.kind)),
                                   small(halved(span.span_share) * apart_mm, project), small(apart_mm, project));
    text += face->source.kind == span.source.kind ? ", and" : fmt::format(". For the faces, {}:", source_words(face->source.kind));
    return labelled("HELPS MOST", text + fmt::format(" the worse end face stands off by up to {} instead of {}.", small(halved(face->face_share) * off_mm, project),
                                                     small(off_mm, project)));
}

Lines ways(const FreeEndsStudy& study, const Project& project) {
    std::vector<std::string> parts;
    for (const FreeEndsBudget& way : study.ways)
        parts.push_back(fmt::format("{}: 95 of 100 within {}, faces {}", way_words(way.way), small(kOf95 * way.span_sd_mm, project),
                                    small(kOf95 * larger_face_mm(way), project)));
    return labelled("WAYS", joined(parts, "; ") + ".");
}

// How long the end boards are left, with the wood that is trimmed off.
Lines leave_long(const Plan& plan, const FreeEndsStudy& study) {
    const Project& project = plan.project;
    const std::size_t n = plan.frame->boards.size();
    const double most_mm = std::max(study.leave_long_mm[0], study.leave_long_mm[1]);
    const std::string boards = n == 1 ? std::string("board 1 at both ends") : fmt::format("boards 1 and {} at {}", board_number(n - 1), both_ends(plan));
    return labelled("LEAVE LONG", fmt::format("leave {} {} long. When all is joined, lay the chain with both ends on their line, draw the line across them and trim: too "
                                              "short in fewer than 1 of 100. How far apart they stand no trimming mends; measure that before glue or screws.",
                                              boards, shown(stepped_up_mm(most_mm, project), project)));
}

}  // namespace

std::string free_ends_page(const Plan& plan, const FreeEndsStudy& study, const PageOptions& options) {
    const Project& project = plan.project;
    const std::string title = clean_text(project.title, 60);
    Lines lines = labelled("FREE ENDS", fmt::format("{}; {}, {}. Lengths in {}.", title.empty() ? capital(shape_in_words(plan)) : title, way_words(study.budget.way),
                                                    preset_words(project.accuracy.preset), unit_words(project.unit)));
    lines.emplace_back();
    append_lines(lines, as_a_whole(plan, study));
    append_lines(lines, end_faces(plan, study));
    append_lines(lines, one_by_one(plan, study));
    lines.emplace_back();
    append_lines(lines, labelled("WHY", "what goes wrong, how far as a rule (two of three times less), how often in this chain, and its share of how far apart the ends come "
                                        "and of how their faces stand:"));
    append_lines(lines, table(study.budget, project));
    append_lines(lines, helps(study, project));
    append_lines(lines, ways(study, project));
    lines.emplace_back();
    append_lines(lines, leave_long(plan, study));
    append_lines(lines, test_cut_lines(study.tests, project));
    append_lines(lines, closing_words(project, options));
    return text_of(lines);
}

}  // namespace boardring
