#include "closure/made_board.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "closure/rule.hpp"

namespace boardring {
namespace {

// Towards this end along x: -1 at the first end, +1 at the second.
double towards(std::size_t end) { return end == 0 ? -1.0 : 1.0; }

double run_of(std::size_t end, double inside_mm, double outside_mm) { return towards(end) * (outside_mm - inside_mm); }

MadeEnd exact_end(const BoardEnd& end) {
    MadeEnd made{end.inside_mm, end.outside_mm, end.run_mm, {}};
    // End and shoulder of a half-lap are parallel: both follow the other board.
    if (end.lap) made.shoulder = MadeEnd::Shoulder{end.lap->shoulder_inside_mm, end.lap->shoulder_outside_mm, end.run_mm};
    return made;
}

void refresh_runs(MadeEnd& made, std::size_t end) {
    made.run_mm = run_of(end, made.inside_mm, made.outside_mm);
    if (made.shoulder) made.shoulder->run_mm = run_of(end, made.shoulder->inside_mm, made.shoulder->outside_mm);
}

// The marks of an end whose long point stays and whose slope becomes run / width.
void set_run(MadeEnd& made, const BoardEnd& end, std::size_t e, double run_mm) {
    const double along_mm = towards(e) * run_mm;
    const bool by_outside = outside_longer(end);
    made.run_mm = run_mm;
    if (by_outside) {
        made.inside_mm = made.outside_mm - along_mm;
    } else {
        made.outside_mm = made.inside_mm + along_mm;
    }
    if (!made.shoulder) return;
    made.shoulder->run_mm = run_mm;
    if (by_outside) {
        made.shoulder->inside_mm = made.shoulder->outside_mm - along_mm;
    } else {
        made.shoulder->outside_mm = made.shoulder->inside_mm + along_mm;
    }
}

void shift_end(MadeEnd& made, double by_mm) {
    made.inside_mm += by_mm;
    made.outside_mm += by_mm;
}

void shift_shoulder(MadeEnd& made, double by_mm) {
    made.shoulder->inside_mm += by_mm;
    made.shoulder->outside_mm += by_mm;
}

double bevel_rise_mm(const Board& board, std::size_t e, const Bench& bench) {
    return bench.bevel_base_mm * std::abs(board.ends[e].run_mm) / board.width_at(e);
}

// The run of an end as it is set, and how far setting it was off in the unit of the setting.
struct RunSet {
    double run_mm = 0.0;
    double moved = 0.0;
};

RunSet run_as_set(const Board& board, std::size_t e, const Bench& bench, const EndNudges& nudges) {
    const BoardEnd& end = board.ends[e];
    switch (bench.slope_by) {
        case SlopeBy::saw: {
            const double saw_deg = set_saw_deg(end.saw_deg, bench, nudges.slope);
            const double moved = std::abs(saw_deg) - std::abs(end.saw_deg);
            // A setting that is exact keeps the run's own digits.
            return {moved == 0.0 ? end.run_mm : board.width_at(e) * tan_deg(saw_deg), moved};
        }
        case SlopeBy::bevel: {
            const double exact_mm = bevel_rise_mm(board, e, bench);
            const double rise_mm = rounded_to_step(exact_mm, bench.rule_step_mm) + nudges.slope * bench.rule_step_mm;
            return {std::copysign(board.width_at(e) * rise_mm / bench.bevel_base_mm, end.run_mm), rise_mm - exact_mm};
        }
        case SlopeBy::marks: {
            const Rule rule(board, bench);
            const double run_mm =
                run_of(e, rule.rounded_x_mm(end.inside_mm, nudges.inside), rule.rounded_x_mm(end.outside_mm, nudges.outside));
            return {run_mm, run_mm - end.run_mm};
        }
    }
    return {end.run_mm, 0.0};
}

// The nudge of the right end's long point: a mark of its own, or the length.
int length_nudge(const Board& board, const Bench& bench, const BoardNudges& nudges) {
    if (bench.slope_by != SlopeBy::marks) return nudges.length;
    const std::size_t right = 1 - left_end(bench);
    return outside_longer(board.ends[right]) ? nudges.ends[right].outside : nudges.ends[right].inside;
}

// Where the rounded long-point length moves the right end to, along x.
double length_shift_mm(const Board& board, const Bench& bench, const BoardNudges& nudges) {
    const double x_mm = long_mark_mm(board.ends[1 - left_end(bench)]);
    return Rule(board, bench).rounded_x_mm(x_mm, length_nudge(board, bench, nudges)) - x_mm;
}

double shoulder_long_mark_mm(const BoardEnd& end) {
    return outside_longer(end) ? end.lap->shoulder_outside_mm : end.lap->shoulder_inside_mm;
}

int shoulder_nudge(const BoardEnd& end, const Bench& bench, const EndNudges& nudges) {
    if (bench.slope_by != SlopeBy::marks) return nudges.shoulder;
    return outside_longer(end) ? nudges.outside_shoulder : nudges.inside_shoulder;
}

double shoulder_shift_mm(const Board& board, std::size_t e, const Bench& bench, const EndNudges& nudges) {
    const double x_mm = shoulder_long_mark_mm(board.ends[e]);
    return Rule(board, bench).rounded_x_mm(x_mm, shoulder_nudge(board.ends[e], bench, nudges)) - x_mm;
}

// One mark of an end, by name.
struct NamedMark {
    const char* what;
    double x_mm;
};

std::vector<NamedMark> marks_of(const BoardEnd& end) {
    std::vector<NamedMark> marks{{"inside mark", end.inside_mm}, {"outside mark", end.outside_mm}};
    if (end.lap) {
        marks.push_back({"inside shoulder", end.lap->shoulder_inside_mm});
        marks.push_back({"outside shoulder", end.lap->shoulder_outside_mm});
    }
    return marks;
}

int mark_nudge(const EndNudges& nudges, std::size_t which) {
    return std::array{nudges.inside, nudges.outside, nudges.inside_shoulder, nudges.outside_shoulder}[which];
}

// The same marks in what is made, in the same order.
double& mark_of(MadeEnd& made, std::size_t which) {
    switch (which) {
        case 0: return made.inside_mm;
        case 1: return made.outside_mm;
        case 2: return made.shoulder->inside_mm;
        default: return made.shoulder->outside_mm;
    }
}

}  // namespace

Bench Bench::of(const Tools& tools, const Frame& frame) {
    Bench bench;
    bench.rule_step_mm = tools.rule_step_mm;
    bench.saw_step_deg = tools.saw_step_deg;
    bench.scale_at_square_deg = tools.scale_at_square_deg;
    bench.slope_by = tools.slope_by;
    bench.bevel_base_mm = tools.bevel_base_mm;
    bench.second_end_left = frame.letters_clockwise;
    return bench;
}

MadeBoard exact_board(const Board& board) {
    return {board.offset_mm, board.width_mm, {exact_end(board.ends[0]), exact_end(board.ends[1])}, board.taper_mm, board.drift_mm};
}

std::vector<MadeBoard> exact_boards(const Frame& frame) {
    std::vector<MadeBoard> made;
    made.reserve(frame.boards.size());
    for (const Board& board : frame.boards) made.push_back(exact_board(board));
    return made;
}

MadeBoard marked_board(const Board& board, const Bench& bench, const BoardNudges& nudges) {
    const Rule rule(board, bench);
    MadeBoard made = exact_board(board);
    for (std::size_t e = 0; e < 2; ++e) {
        const std::vector<NamedMark> marks = marks_of(board.ends[e]);
        for (std::size_t i = 0; i < marks.size(); ++i)
            mark_of(made.ends[e], i) = rule.rounded_x_mm(marks[i].x_mm, mark_nudge(nudges.ends[e], i));
        refresh_runs(made.ends[e], e);
    }
    return made;
}

double set_saw_deg(double saw_deg, const Bench& bench, int nudge) {
    const bool counts_from_edge = bench.scale_at_square_deg != 0.0;
    const double exact_deg = std::abs(saw_deg);
    const double shown_deg = rounded_to_step(counts_from_edge ? 90.0 - exact_deg : exact_deg, bench.saw_step_deg);
    double set_deg = (counts_from_edge ? 90.0 - shown_deg : shown_deg) + nudge * bench.saw_step_deg;
    // Nobody sets a saw along the board: the steepest step short of that is meant.
    if (set_deg >= 90.0) set_deg = std::max(0.0, 90.0 - bench.saw_step_deg);
    if (std::abs(set_deg - exact_deg) < kMoves) return saw_deg;
    return std::copysign(set_deg, saw_deg);
}

MadeBoard set_board(const Board& board, const Bench& bench, const BoardNudges& nudges) {
    MadeBoard made = exact_board(board);
    for (std::size_t e = 0; e < 2; ++e) {
        MadeEnd& end = made.ends[e];
        if (end.shoulder) shift_shoulder(end, shoulder_shift_mm(board, e, bench, nudges.ends[e]));
        if (e != left_end(bench)) shift_end(end, length_shift_mm(board, bench, nudges));
        set_run(end, board.ends[e], e, run_as_set(board, e, bench, nudges.ends[e]).run_mm);
    }
    return made;
}

Board board_as_made(Board board, const MadeBoard& made) {
    for (std::size_t e = 0; e < 2; ++e) {
        BoardEnd& end = board.ends[e];
        end.inside_mm = made.ends[e].inside_mm;
        end.outside_mm = made.ends[e].outside_mm;
        end.run_mm = made.ends[e].run_mm;
        if (!end.lap) continue;
        end.lap->shoulder_inside_mm = made.ends[e].shoulder->inside_mm;
        end.lap->shoulder_outside_mm = made.ends[e].shoulder->outside_mm;
    }
    return board;
}

std::vector<Deviation> marked_deviations(const Board& board, const Bench& bench, const BoardNudges& nudges) {
    const Rule rule(board, bench);
    std::vector<Deviation> deviations;
    for (std::size_t e = 0; e < 2; ++e) {
        const std::vector<NamedMark> marks = marks_of(board.ends[e]);
        for (std::size_t i = 0; i < marks.size(); ++i) {
            const int nudge = mark_nudge(nudges.ends[e], i);
            const double moved_mm = rule.moved_mm(marks[i].x_mm, nudge);
            if (std::abs(moved_mm) < kMoves) continue;
            Deviation deviation{e, marks[i].what, moved_mm, exact_end(board.ends[e])};
            mark_of(deviation.made, i) = rule.rounded_x_mm(marks[i].x_mm, nudge);
            refresh_runs(deviation.made, e);
            deviations.push_back(deviation);
        }
    }
    return deviations;
}

std::vector<Deviation> set_deviations(const Board& board, const Bench& bench, const BoardNudges& nudges) {
    std::vector<Deviation> deviations;
    const std::size_t right = 1 - left_end(bench);
    for (std::size_t e = 0; e < 2; ++e) {
        const BoardEnd& end = board.ends[e];
        const RunSet run = run_as_set(board, e, bench, nudges.ends[e]);
        if (std::abs(run.moved) >= kMoves) {
            Deviation slope{e, "slope", run.moved, exact_end(end)};
            set_run(slope.made, end, e, run.run_mm);
            deviations.push_back(slope);
        }
        const Rule rule(board, bench);
        const double length_moved_mm = rule.moved_mm(long_mark_mm(end), length_nudge(board, bench, nudges));
        if (e == right && std::abs(length_moved_mm) >= kMoves) {
            Deviation longer{e, "length", length_moved_mm, exact_end(end)};
            shift_end(longer.made, length_shift_mm(board, bench, nudges));
            deviations.push_back(longer);
        }
        if (!end.lap) continue;
        const double shoulder_moved_mm = rule.moved_mm(shoulder_long_mark_mm(end), shoulder_nudge(end, bench, nudges.ends[e]));
        if (std::abs(shoulder_moved_mm) < kMoves) continue;
        Deviation shoulder{e, "shoulder", shoulder_moved_mm, exact_end(end)};
        shift_shoulder(shoulder.made, shoulder_shift_mm(board, e, bench, nudges.ends[e]));
        deviations.push_back(shoulder);
    }
    return deviations;
}

}  // namespace boardring
