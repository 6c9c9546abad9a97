#include "closure/nudges.hpp"

#include <array>
#include <cmath>
#include <utility>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "closure/rule.hpp"

namespace boardring {
namespace {

using What = RoundedNumber::What;

// Marks of an end in the order inside, outside, then of the shoulder.
constexpr std::array kMarks{What::inside, What::outside, What::inside_shoulder, What::outside_shoulder};

int& nudge_of(EndNudges& nudges, What what) {
    switch (what) {
        case What::inside: return nudges.inside;
        case What::outside: return nudges.outside;
        case What::inside_shoulder: return nudges.inside_shoulder;
        case What::outside_shoulder: return nudges.outside_shoulder;
        case What::slope: return nudges.slope;
        case What::shoulder: return nudges.shoulder;
        case What::length: break;
    }
    ENSURE(false);
    return nudges.slope;
}

double mark_mm(const BoardEnd& end, What what) {
    switch (what) {
        case What::inside: return end.inside_mm;
        case What::outside: return end.outside_mm;
        case What::inside_shoulder: return end.lap->shoulder_inside_mm;
        case What::outside_shoulder: return end.lap->shoulder_outside_mm;
        case What::shoulder: return outside_longer(end) ? end.lap->shoulder_outside_mm : end.lap->shoulder_inside_mm;
        case What::length: return long_mark_mm(end);
        case What::slope: break;
    }
    ENSURE(false);
    return 0.0;
}

// A mark that went down goes up the other way.
int other_step(double moved) { return moved > 0.0 ? -1 : 1; }

void add_mark(const Board& board, const Bench& bench, std::size_t end, What what, std::vector<RoundedNumber>& numbers) {
    const Rule rule(board, bench);
    const double x_mm = mark_mm(board.ends[end], what);
    const double moved_mm = rule.moved_mm(x_mm, 0);
    if (std::abs(moved_mm) < kMoves) return;
    const int other = other_step(moved_mm);
    numbers.push_back({what, end, other, moved_mm, rule.moved_mm(x_mm, other)});
}

void add_slope(const Board& board, const Bench& bench, std::size_t e, std::vector<RoundedNumber>& numbers) {
    const BoardEnd& end = board.ends[e];
    const double exact_run_mm = std::abs(end.run_mm);
    if (bench.slope_by == SlopeBy::saw) {
        const double exact_deg = std::abs(end.saw_deg), nearest_deg = std::abs(set_saw_deg(end.saw_deg, bench));
        if (std::abs(nearest_deg - exact_deg) < kMoves) return;
        const int other = other_step(nearest_deg - exact_deg);
        const double other_deg = nearest_deg + other * bench.saw_step_deg;
        if (other_deg < 0.0 || other_deg >= 90.0) return;
        const auto moved_mm = [&](double deg) { return board.width_at(e) * tan_deg(deg) - exact_run_mm; };
        numbers.push_back({What::slope, e, other, moved_mm(nearest_deg), moved_mm(other_deg)});
        return;
    }
    const double per_rise = board.width_at(e) / bench.bevel_base_mm;
    const double exact_mm = exact_run_mm / per_rise;
    const double nearest_mm = rounded_to_step(exact_mm, bench.rule_step_mm);
    if (std::abs(nearest_mm - exact_mm) < kMoves) return;
    const int other = other_step(nearest_mm - exact_mm);
    const double other_mm = nearest_mm + other * bench.rule_step_mm;
    if (other_mm < 0.0) return;
    numbers.push_back({What::slope, e, other, per_rise * (nearest_mm - exact_mm), per_rise * (other_mm - exact_mm)});
}

}  // namespace

int& nudge_of(BoardNudges& nudges, const RoundedNumber& number) {
    return number.what == What::length ? nudges.length : nudge_of(nudges.ends[number.end], number.what);
}

std::vector<RoundedNumber> rounded_numbers(const Board& board, const Bench& bench) {
    std::vector<RoundedNumber> numbers;
    for (std::size_t e = 0; e < 2; ++e) {
        const bool lapped = board.ends[e].lap.has_value();
        if (bench.slope_by == SlopeBy::marks) {
            add_mark(board, bench, e, lapped ? What::inside_shoulder : What::inside, numbers);
            add_mark(board, bench, e, lapped ? What::outside_shoulder : What::outside, numbers);
            continue;
        }
        add_slope(board, bench, e, numbers);
        if (lapped) add_mark(board, bench, e, What::shoulder, numbers);
        if (e != left_end(bench) && !lapped) add_mark(board, bench, e, What::length, numbers);
    }
    return numbers;
}

BoardNudges nudges_like(const Board& first, const BoardNudges& nudges, const Board& board, const PieceTurn& turn, const Bench& bench) {
    const Rule first_rule(first, bench), rule(board, bench);
    const std::size_t right = 1 - left_end(bench);
    BoardNudges from = nudges;
    const auto first_steps = [&](std::size_t e, What what) {
        return first_rule.steps(mark_mm(first.ends[e], what), nudge_of(from.ends[e], what));
    };
    const bool by_marks = bench.slope_by == SlopeBy::marks;
    const What long_one = outside_longer(first.ends[right]) ? What::outside : What::inside;
    const long over_all =
        by_marks ? first_steps(right, long_one) : first_rule.steps(long_mark_mm(first.ends[right]), from.length);

    BoardNudges like;
    for (std::size_t e = 0; e < 2; ++e) {
        const std::size_t there = turn.ends_swapped ? 1 - e : e;
        const auto take = [&](What what, What what_there) {
            const long steps = first_steps(there, what_there);
            const long here = turn.ends_swapped ? over_all - steps : steps;
            nudge_of(like.ends[e], what) = static_cast<int>(here - rule.steps(mark_mm(board.ends[e], what), 0));
        };
        like.ends[e].slope = from.ends[there].slope;
        for (std::size_t i = 0; i < kMarks.size() && by_marks; ++i) {
            if (i >= 2 && !board.ends[e].lap) break;
            take(kMarks[i], kMarks[turn.edges_swapped ? i ^ 1U : i]);
        }
        if (!by_marks && board.ends[e].lap) take(What::shoulder, What::shoulder);
    }
    if (!by_marks) like.length = static_cast<int>(over_all - rule.steps(long_mark_mm(board.ends[right]), 0));
    return like;
}

}  // namespace boardring
