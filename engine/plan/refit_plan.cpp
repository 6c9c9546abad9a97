#include "plan/refit_plan.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "base/ensure.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "outline/check.hpp"
#include "plan/show.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

constexpr double kFarOffMm = 20.0;   // common practice: nobody saws this far off; it is a slip of the tape or of the board's number
constexpr double kFarOffPart = 0.05;
constexpr double kReadsAlikeDeg = 0.05;  // pages show tenths
constexpr double kFarFromPlanMm = 10.0;  // a ring put together by trimming may not be told as the plan beyond this

Finding finding(Severity severity, const char* code, std::string message, std::string fix) {
    return {severity, code, "", std::move(message), std::move(fix)};
}

// What refit cannot do at all.
Findings refusals(const Project& project, const AsCut& as_cut, std::size_t boards) {
    Findings findings;
    if (project.outline.open) {
        findings.push_back(finding(Severity::error, "refit.open-chain", "this is an open chain: nothing has to close, so no board hangs on the others",
                                   "cut the rest as planned; trim a free end to its wall"));
        return findings;
    }
    std::string others;
    for (std::size_t c = 0; c < project.joints.size(); ++c) {
        if (!is_mitred(project.joints[c].kind)) others += (others.empty() ? "" : ", ") + corner_letter(c);
    }
    if (!others.empty()) {
        findings.push_back(finding(Severity::error, "refit.other-joints",
                                   fmt::format("I can only work boards out anew where all joints are mitres; {} {} not", others, others.size() == 1 ? "is" : "are"),
                                   "at a butt joint cut the board that stops last, to the gap you find"));
    }
    if (as_cut.gap && as_cut.boards.size() < boards) {
        findings.push_back(finding(Severity::error, "refit.gap-too-early",
                                   fmt::format("a gap at {} says something of the ring when all {} boards are cut and put together; {} are", corner_letter(as_cut.gap->corner),
                                               boards, as_cut.boards.size()),
                                   "give the lengths of the boards that are cut, and leave the gap out"));
    }
    return findings;
}

Findings far_off(const Plan& before, const AsCut& as_cut) {
    Findings findings;
    const LengthStyle style = before.project.style();
    for (const AsCutBoard& board : as_cut.boards) {
        const BoardShape planned = BoardShape::of(before.frame->boards[board.board]);
        for (const auto& [measured, is_mm, name] :
             {std::tuple(board.long_mm, planned.long_mm(), "long"), std::tuple(board.short_mm, planned.short_mm(), "short")}) {
            if (!measured || std::abs(*measured - is_mm) < std::max(kFarOffMm, kFarOffPart * is_mm)) continue;
            findings.push_back({Severity::warning, "refit.far-off", board.pointer,
                                fmt::format("board {} is planned {} from {} point to {} point; you measured {}", board_number(board.board),
                                            show_length_unit(is_mm, style), name, name, show_length_unit(*measured, style)),
                                "measure it again, and look whether it is this board"});
        }
    }
    return findings;
}

// Findings of the new frame that the plan did not have.
void append_new(Findings& to, const Findings& now, const Findings& before) {
    for (const Finding& f : now) {
        // A cut that was near the saw's stop still is, a tenth of a degree on.
        const bool known = std::any_of(before.begin(), before.end(), [&](const Finding& b) {
            return b.code == f.code && (b.message == f.message || f.code == "cut.near-limit" || f.code == "cut.fragile-tip");
        });
        if (!known) to.push_back(f);
    }
}

// What reads on the maker's rule and scale as it was planned was cut as planned.
AsCutBoard as_read(AsCutBoard measured, const Board& planned, const Tools& tools) {
    const BoardShape shape = BoardShape::of(planned);
    const double within_mm = 0.5 * tools.rule_step_mm * (1.0 + 1e-9);
    const auto settle = [](std::optional<double>& value, double planned_value, double within) {
        if (value && std::abs(*value - planned_value) <= within) value = planned_value;
    };
    settle(measured.long_mm, shape.long_mm(), within_mm);
    settle(measured.short_mm, shape.short_mm(), within_mm);
    for (std::size_t e = 0; e < 2; ++e) settle(measured.saw_deg[e], std::abs(planned.ends[e].saw_deg), kReadsAlikeDeg);
    return measured;
}

void warn_of_rough_lengths(RefitPlan& refit, const CutList& cuts) {
    const LengthStyle style = refit.before.project.style();
    for (std::size_t k = 0; k < refit.cut.size(); ++k) {
        const double had = refit.before.cut_list->rough_length_mm[k], needs = cuts.rough_length_mm[k];
        if (refit.cut[k] || needs <= had + refit.before.project.tools.rule_step_mm) continue;
        refit.findings.push_back(finding(Severity::warning, "refit.rough-length",
                                         fmt::format("board {} now needs {} before its ends are cut; the plan said {}, {} less", board_number(k),
                                                     show_length_unit(needs, style), show_length_unit(had, style), show_length_unit(needs - had, style)),
                                         fmt::format("if it is sawn to rough length already, cut {} from a longer piece", board_number(k))));
    }
}

void work_out_rest(RefitPlan& refit) {
    const Plan& before = refit.before;
    std::optional<Outline> outline = refit_outline(*before.frame, refit.cut, refit.keep);
    if (!outline) {
        refit.findings.push_back(finding(Severity::error, "refit.cannot-close", "with the boards as measured no ring closes", "measure them again, or cut one anew"));
        return;
    }
    // The inside corners as an outline of their own: its boards lie on the outside of it, without a margin.
    Project inside = before.project;
    inside.outline.line = OutlineLine::inside;
    inside.outline.margin_mm.assign(inside.boards.size(), 0.0);
    Findings shape = check_shape(*outline, inside);
    Result<Frame> built = has_error(shape) ? Result<Frame>(shape) : build_frame(inside, *outline);
    append_new(refit.findings, built.findings(), before.findings);
    std::optional<Frame> made;
    if (built.ok()) made = std::move(built).value();
    if (!made || !put_cut_boards(*made, refit.cut)) {
        refit.findings.insert(refit.findings.begin(), finding(Severity::error, "refit.cannot-close", "with the boards as measured the rest cannot be cut so that the ring closes",
                                                              "measure them again, or cut one of them anew as planned"));
        return;
    }
    Frame frame = *std::move(made);
    const CutList cuts = list_cuts(inside, frame);
    append_new(refit.findings, check_cuts(inside, frame), before.findings);
    warn_of_rough_lengths(refit, cuts);
    refit.moved_mm = corners_moved_mm(*before.frame, *outline);
    refit.shown = show_boards(inside, *outline, frame, cuts);
    refit.assembly = plan_assembly(inside, frame);
    refit.outline = std::move(outline);
    refit.frame = std::move(frame);
}

void look_at_last_joint(RefitPlan& refit, const std::optional<DryFitGap>& gap) {
    const Plan& before = refit.before;
    Frame frame = *before.frame;
    ENSURE(put_cut_boards(frame, refit.cut));  // all are cut: no end has to fit another
    const std::size_t n = refit.cut.size();
    const std::size_t corner = gap ? gap->corner : 0;
    const std::size_t before_it = corner == 0 ? n - 1 : corner - 1;
    const std::size_t fit = before.assembly->fit_last == corner ? corner : before_it;
    refit.last = last_joint(frame, corner, fit, gap);
    const double least_mm = std::min(refit.last->before.widest_mm, refit.last->after.widest_mm);
    if (least_mm > before.project.wanted.gap_mm && !gap) refit.recut = best_recut(*before.frame, refit.cut);
    if (refit.recut && refit.recut->trim && refit.recut->moved_mm > kFarFromPlanMm) {
        // A slope cut far off is met by trimming another board to it only where all corners move.
        std::optional<Recut> nearest = nearest_recut(*before.frame, refit.cut);
        if (nearest->moved_mm < 0.25 * refit.recut->moved_mm) refit.anew = std::move(nearest);
    }
    refit.frame = std::move(frame);
}

}  // namespace

bool can_be_refitted(const Project& project) {
    return !project.outline.open && std::all_of(project.joints.begin(), project.joints.end(), [](const JointAsked& j) { return is_mitred(j.kind); });
}

RefitPlan make_refit(const Project& project, const AsCut& as_cut, Keep keep) {
    RefitPlan refit;
    refit.keep = keep;
    refit.before = make_plan(project);
    if (!refit.before.complete() || has_error(refit.before.findings)) {
        refit.findings = refit.before.findings;
        return refit;
    }
    const Frame& planned = *refit.before.frame;
    refit.findings = refusals(project, as_cut, planned.boards.size());
    if (has_error(refit.findings)) return refit;

    append(refit.findings, far_off(refit.before, as_cut));
    const MeasuredTo to{as_cut.length_accuracy_mm.value_or(project.accuracy.mark_mm), as_cut.angle_accuracy_deg.value_or(project.accuracy.cut_angle_deg)};
    refit.cut.resize(planned.boards.size());
    for (const AsCutBoard& board : as_cut.boards) refit.cut[board.board] = shape_as_cut(planned.boards[board.board], as_read(board, planned.boards[board.board], project.tools), to);
    for (std::size_t k = 0; k < refit.cut.size(); ++k) {
        if (!refit.cut[k] || (refit.cut[k]->inside_mm > 0.0 && refit.cut[k]->outside_mm() > 0.0)) continue;
        refit.findings.push_back(finding(Severity::error, "refit.cannot-close", fmt::format("board {} as measured has no {} edge left", board_number(k), refit.cut[k]->inside_mm > 0.0 ? "outside" : "inside"),
                                         "measure it again, from long point to long point"));
    }
    if (has_error(refit.findings)) return refit;
    for (const std::size_t d : settle_diagonals(planned, refit.cut, as_cut.diagonals, to)) {
        const AsCutDiagonal& diagonal = as_cut.diagonals[d];
        refit.findings.push_back({Severity::warning, "refit.diagonal-uncut", diagonal.pointer,
                                  fmt::format("no row of cut boards joins {} and {}, so their distance says nothing yet", corner_letter(diagonal.first),
                                              corner_letter(diagonal.second)),
                                  "measure it again when the boards between are cut"});
    }
    const bool all_cut = std::all_of(refit.cut.begin(), refit.cut.end(), [](const auto& shape) { return shape.has_value(); });
    if (all_cut) {
        look_at_last_joint(refit, as_cut.gap);
    } else {
        work_out_rest(refit);
    }
    return refit;
}

}  // namespace boardring
