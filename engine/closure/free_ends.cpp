#include "closure/free_ends.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace boardring {
namespace {

// What of a laid chain is told: the span, and one edge of each face against the other.
struct Shown {
    double longer_mm = 0.0;
    std::array<double, 2> face_mm{};
};

// To first order both ends are brought to the line by a turn of what lies across over the span.
Shown shown_by(const ChainErrors& errors, const SpanMiss& miss) {
    const double swing_rad = errors.chain.span_mm > 0.0 ? miss.across_mm / errors.chain.span_mm : 0.0;
    return {miss.off_mm, {-swing_rad * errors.face_mm[0], (miss.angle_rad - swing_rad) * errors.face_mm[1]}};
}

double square(double x) { return x * x; }

}  // namespace

ChainErrors::ChainErrors(const Project& project, const Frame& f, SlopeBy way, std::vector<MadeBoard> base)
    : frame(f), model(error_model(project, f, way, std::move(base))), exact_(exact_boards(f)), places_(joint_places(f)) {
    chain = open_chain(f, exact_);
    face_mm = {places_.front().face_mm, places_.back().face_mm};
}

SpanMiss ChainErrors::first_order(const ErrorInput& input) const {
    const Vec2 finish = places_.back().held_mm;
    Vec2 moved;
    double turn_rad = 0.0;
    for (const FaceChange& change : face_changes(frame, model, input)) {
        // The face of the board that ends there carries what follows along; that of the other carries it the opposite way.
        const double way = change.end == 1 ? 1.0 : -1.0;
        moved = moved + way * (change.held_mm + change.turn_rad * left_of(finish - places_[change.corner].held_mm));
        turn_rad += way * change.turn_rad;
    }
    const Vec2 along = frame.boards.front().along;
    const Vec2 own = turned(moved, along.x, -along.y);
    return {dot(own, chain.along), dot(own, left_of(chain.along)), turn_rad};
}

SpanMiss ChainErrors::walked(const std::vector<double>& errors) const {
    return walk_open(frame, chain, exact_, boards_with(model, errors));
}

FreeEndsBudget budget_of_free_ends(const ChainErrors& errors) {
    FreeEndsBudget budget;
    budget.way = errors.model.way;
    for (const ErrorSource& source : errors.model.sources) budget.lines.push_back({source, 0.0, 0.0});
    double span = 0.0, first = 0.0, last = 0.0;
    for (const ErrorInput& input : errors.model.inputs) {
        const Shown shown = shown_by(errors, errors.first_order(input));
        const double of_span = square(shown.longer_mm), of_first = square(shown.face_mm[0]), of_last = square(shown.face_mm[1]);
        budget.lines[input.source].span_share += of_span;
        budget.lines[input.source].face_share += of_first + of_last;
        span += of_span, first += of_first, last += of_last;
    }
    for (FreeEndsLine& line : budget.lines) {
        line.span_share /= span > 0.0 ? span : 1.0;
        line.face_share /= first + last > 0.0 ? first + last : 1.0;
    }
    std::stable_sort(budget.lines.begin(), budget.lines.end(), [](const FreeEndsLine& a, const FreeEndsLine& b) { return a.span_share > b.span_share; });
    budget.span_sd_mm = std::sqrt(span);
    budget.face_sd_mm = {std::sqrt(first), std::sqrt(last)};
    return budget;
}

FreeEndsTrials try_free_ends(const ChainErrors& errors, double wanted_mm, const TrialOptions& options) {
    const std::vector<Scatter> scatter(errors.model.inputs.size(), Scatter::normal);
    const TrialMaker maker = [&errors] {
        return [&errors](const Lanes* inputs, Lanes* results) {
            std::vector<double> one(errors.model.inputs.size());
            for (std::size_t i = 0; i < kLanes; ++i) {
                for (std::size_t j = 0; j < one.size(); ++j) one[j] = inputs[j][i];
                const SpanMiss miss = errors.walked(one);
                const LaidChain laid = laid_on_line(errors.chain, miss);
                results[0].v[i] = laid.longer_mm;
                results[1].v[i] = std::abs(laid.longer_mm);
                results[2].v[i] = std::hypot(miss.off_mm, miss.across_mm);
                for (std::size_t e = 0; e < 2; ++e) results[3 + e].v[i] = errors.face_mm[e] * std::abs(std::sin(laid.turned_rad[e]));
                results[5].v[i] = std::max(results[3].v[i], results[4].v[i]);
            }
        };
    };
    Trials trials = run_trials(scatter, 6, maker, options);
    FreeEndsTrials tried;
    tried.runs = trials.runs;
    tried.still = trials.still;
    tried.seed = options.seed;
    tried.longer = std::move(trials.results[0]);
    tried.off = std::move(trials.results[1]);
    tried.held = std::move(trials.results[2]);
    tried.faces = {std::move(trials.results[3]), std::move(trials.results[4])};
    tried.face = std::move(trials.results[5]);
    tried.within = tried.face.share_within(wanted_mm);
    tried.within_error = share_error(tried.within, tried.runs);
    return tried;
}

}  // namespace boardring
