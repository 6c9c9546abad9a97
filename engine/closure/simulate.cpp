#include "closure/simulate.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "closure/closure.hpp"
#include "closure/contact.hpp"

namespace boardring {
namespace {

constexpr int kMostRounds = 10;
constexpr std::size_t kPerBoard = 7;
constexpr std::size_t kWidth = 6;

std::size_t slot_of(const ErrorEffect& effect) {
    const std::size_t of_board = kPerBoard * effect.board;
    switch (effect.on) {
        case ErrorEffect::On::shift: return of_board + 3 * effect.end;
        case ErrorEffect::On::run: return of_board + 3 * effect.end + 1;
        case ErrorEffect::On::slope: return of_board + 3 * effect.end + 2;
        case ErrorEffect::On::width: return of_board + kWidth;
    }
    ENSURE(false);
    return 0;
}

LanesVec spread_out(Vec2 v) { return {v.x, v.y}; }

// Boards as poses: where the own x axis begins and points.
struct LanesPose {
    LanesVec origin, along;
    [[nodiscard]] LanesVec place(const LanesVec& own) const { return origin + turned(own, along); }
};

}  // namespace

RingPack::RingPack(const Frame& frame, const RingErrors& errors, std::size_t last_corner)
    : frame_(frame), errors_(errors), last_(last_corner) {
    const std::size_t n = frame.boards.size();
    ENSURE(frame.closed && n == errors.model.base.size() && last_corner < n);
    ends_.resize(n);
    least_face_mm_ = HUGE_VAL;
    for (std::size_t k = 0; k < n; ++k) {
        perimeter_mm_ += frame.boards[k].side_mm;
        const MadeBoard& board = errors.model.base[k];
        for (std::size_t e = 0; e < 2; ++e) {
            const MadeEnd& end = board.ends[e];
            EndPlan& plan = ends_[k][e];
            plan.run_mm = end.shoulder ? end.shoulder->run_mm : end.run_mm;
            plan.outside = plan.run_mm >= 0.0;
            const double inside_mm = end.shoulder ? end.shoulder->inside_mm : end.inside_mm;
            const double outside_mm = end.shoulder ? end.shoulder->outside_mm : end.outside_mm;
            plan.long_mm = plan.outside ? outside_mm : inside_mm;
            plan.width_mm = board.width_at(e);
            plan.inside_y = -board.offset_at(e);
            plan.outside_y = -board.offset_at(e) - board.width_at(e);
            plan.towards = e == 0 ? -1.0 : 1.0;
            const double across_mm = std::hypot(plan.width_mm, plan.run_mm);
            plan.cosine = plan.width_mm / across_mm;
            plan.sine = plan.run_mm / across_mm;
        }
    }
    faces_.resize(n);
    for (const Joint& joint : frame.joints) {
        const JointContact contact = joint_contact(joint, errors.model.base[joint.before], errors.model.base[joint.after]);
        faces_[joint.corner].held_outside = contact.held_outside;
        least_face_mm_ = std::min({least_face_mm_, contact.own.face_mm, contact.other.face_mm});
        ends_[joint.after][0].lap_e = {std::cos(contact.own.theta_rad), std::sin(contact.own.theta_rad)};
        ends_[joint.before][1].lap_e = {std::cos(contact.other.theta_rad), std::sin(contact.other.theta_rad)};
    }
    for (std::size_t j = 0; j < errors.model.inputs.size(); ++j) {
        for (const ErrorEffect& effect : errors.model.inputs[j].effects) steps_.push_back({j, slot_of(effect), effect.per_sd});
    }
    moved_.resize(kPerBoard * n);
    opened_.resize(n);
}

void RingPack::gather(const Lanes* inputs) {
    std::fill(moved_.begin(), moved_.end(), Lanes(0.0));
    for (const Step& step : steps_) {
        Lanes& to = moved_[step.to];
        const Lanes& from = inputs[step.input];
        for (std::size_t i = 0; i < kLanes; ++i) to.v[i] += step.per_sd * from.v[i];
    }
}

void RingPack::slope_of(std::size_t board, std::size_t end, Lanes& cosine, Lanes& sine) const {
    const EndPlan& plan = ends_[board][end];
    const Lanes* moved = &moved_[kPerBoard * board];
    if (errors_.model.way == SlopeBy::marks) {
        const Lanes width = plan.width_mm + moved[kWidth];
        const Lanes run = plan.run_mm + moved[3 * end + 1];
        const Lanes per = 1.0 / root(width * width + run * run);
        cosine = width * per;
        sine = run * per;
    } else {
        const LanesVec by = small_unit(moved[3 * end + 2]);
        cosine = plan.cosine * by.x - plan.sine * by.y;
        sine = plan.sine * by.x + plan.cosine * by.y;
    }
    cosine = larger(cosine, kLeastCosine);
}

RingPack::Face RingPack::sawn(std::size_t board, std::size_t end) const {
    const EndPlan& plan = ends_[board][end];
    const Lanes* moved = &moved_[kPerBoard * board];
    Lanes cosine, sine;
    slope_of(board, end, cosine, sine);
    Face face;
    face.face = (plan.width_mm + moved[kWidth]) / cosine;
    face.e = {plan.towards * sine, -cosine};
    const Lanes held = plan.long_mm + moved[3 * end];
    const Lanes outside_y = plan.outside_y - moved[kWidth];
    if (plan.outside) {
        face.outer = {held, outside_y};
        face.inner = {held - face.face * face.e.x, plan.inside_y};
    } else {
        face.inner = {held, plan.inside_y};
        face.outer = {held + face.face * face.e.x, outside_y};
    }
    return face;
}

RingPack::Face RingPack::edge(const Face& end, bool convex, std::size_t e, const Lanes& face) const {
    const double along = (e == 1) == convex ? 1.0 : -1.0;
    Face edge;
    edge.face = face;
    edge.e = {along, 0.0};
    if (convex) {
        edge.outer = end.inner;
        edge.inner = {end.inner.x - along * face, end.inner.y};
    } else {
        edge.inner = end.outer;
        edge.outer = {end.outer.x + along * face, end.outer.y};
    }
    return edge;
}

RingPack::Face RingPack::lapped(std::size_t board, std::size_t end, const Joint& joint) const {
    const EndPlan& plan = ends_[board][end];
    const Face shoulder = sawn(board, end);
    Lanes cosine, sine;
    slope_of(board, end, cosine, sine);
    // The direction lies half way between shoulder and edge, so it turns by half of what the shoulder turns.
    const Lanes cos_turn = cosine * plan.cosine + sine * plan.sine;
    const Lanes sin_turn = sine * plan.cosine - cosine * plan.sine;
    const Lanes cos_half = root(0.5 + 0.5 * cos_turn);
    const Lanes sin_half = plan.towards * (0.5 * sin_turn / cos_half);
    Face face;
    face.e = turned(spread_out(plan.lap_e), {cos_half, sin_half});
    const Lanes widths = errors_.model.base[joint.before].width_at(1) + errors_.model.base[joint.after].width_at(0) +
                         moved_[kPerBoard * joint.before + kWidth] + moved_[kPerBoard * joint.after + kWidth];
    face.face = (0.5 / cos_deg(0.5 * turn_of(joint.interior_deg))) * widths;
    if (joint.interior_deg < 180.0) {
        face.inner = shoulder.inner;
        face.outer = face.inner + face.face * face.e;
    } else {
        face.outer = shoulder.outer;
        face.inner = face.outer - face.face * face.e;
    }
    return face;
}

void RingPack::make_faces() {
    for (const Joint& joint : frame_.joints) {
        JointFaces& faces = faces_[joint.corner];
        const bool convex = joint.interior_deg < 180.0;
        switch (joint.kind) {
            case JointKind::mitre:
                faces.own = sawn(joint.after, 0);
                faces.other = sawn(joint.before, 1);
                break;
            case JointKind::butt:
                faces.own = sawn(joint.after, 0);
                faces.other = sawn(joint.before, 1);
                if (joint.through == joint.after) {
                    faces.own = edge(faces.own, convex, 0, faces.other.face);
                } else {
                    faces.other = edge(faces.other, convex, 1, faces.own.face);
                }
                break;
            case JointKind::half_lap:
                faces.own = lapped(joint.after, 0, joint);
                faces.other = lapped(joint.before, 1, joint);
                break;
        }
    }
}

Lanes RingPack::stiff(const Lanes* inputs) {
    gather(inputs);
    make_faces();
    const std::size_t n = faces_.size();
    // From the board that starts at the last joint once round to the board that ends there.
    LanesPose pose{{0.0, 0.0}, {1.0, 0.0}};
    for (std::size_t step = 1; step < n; ++step) {
        const std::size_t c = (last_ + step) % n;
        const JointFaces& joint = faces_[c];
        const LanesVec held = pose.place(joint.held_outside ? joint.other.outer : joint.other.inner);
        pose.along = turned_back(turned(joint.other.e, pose.along), joint.own.e);
        pose.origin = held - turned(joint.held_outside ? joint.own.outer : joint.own.inner, pose.along);
    }
    const JointFaces& joint = faces_[last_];
    const LanesVec m = right_of(joint.own.e);
    const Lanes gap_in = dot(pose.place(joint.other.inner) - joint.own.inner, m);
    const Lanes gap_out = dot(pose.place(joint.other.outer) - joint.own.outer, m);
    return larger(size(gap_in), size(gap_out));
}

Lanes RingPack::widest(const Lanes* inputs) {
    const std::size_t n = faces_.size();
    const std::vector<OpeningColumns>& columns = errors_.openings.columns();
    const auto add_columns = [&columns](TwistLanes& to, std::size_t c, const OpeningLanes::Opened& x) {
        for (std::size_t i = 0; i < 3; ++i)
            to[i] = to[i] + columns[c].gap_in[i] * x.gap_in + columns[c].gap_out[i] * x.gap_out + columns[c].lip_in[i] * x.lip_in;
    };
    // Boards where the plan has them: what shows at each joint then.
    TwistLanes wanted;
    for (std::size_t c = 0; c < n; ++c) {
        const Board& after = frame_.boards[frame_.joints[c].after];
        const Board& before = frame_.boards[frame_.joints[c].before];
        const LanesPose own{spread_out(after.corner_mm), spread_out(after.along)};
        const LanesPose other{spread_out(before.corner_mm), spread_out(before.along)};
        const LanesVec e = turned(faces_[c].own.e, own.along);
        const LanesVec inner = other.place(faces_[c].other.inner) - own.place(faces_[c].own.inner);
        OpeningLanes::Opened x;
        x.gap_in = dot(inner, right_of(e));
        x.lip_in = dot(inner, e);
        x.gap_out = x.gap_in + faces_[c].other.face * cross(turned(faces_[c].other.e, other.along), e);
        add_columns(wanted, c, x);
    }
    TwistLanes guess;
    errors_.openings.solve(wanted, guess, opened_);

    const Board& first = frame_.boards.front();
    const LanesPose start{spread_out(first.corner_mm), spread_out(first.along)};
    const LanesVec middle = spread_out(errors_.ring.middle_mm);
    const LanesVec middle_own = turned_back(middle - start.origin, start.along);
    const double enough_mm = kPackCloses * perimeter_mm_;
    const double radius_mm = perimeter_mm_ / (2.0 * kPi);
    Lanes off;
    for (int round = 0; round < kMostRounds; ++round) {
        LanesPose pose = start;
        TwistLanes next;
        for (std::size_t k = 1; k <= n; ++k) {
            const std::size_t c = k % n;
            const JointFaces& joint = faces_[c];
            const OpeningLanes::Opened& x = opened_[c];
            const Lanes sine = larger(smaller((x.gap_out - x.gap_in) / joint.other.face, 1.0), -1.0);
            const LanesVec by{root(1.0 - sine * sine), sine};
            const LanesVec e = turned(turned(joint.other.e, pose.along), by);
            const LanesVec inner = pose.place(joint.other.inner) - x.gap_in * right_of(e) - x.lip_in * e;
            pose.along = turned_back(e, joint.own.e);
            pose.origin = inner - turned(joint.own.inner, pose.along);
            add_columns(next, c, x);
        }
        const LanesVec shift = middle - pose.place(middle_own);
        const Lanes turn = cross(pose.along, start.along);
        off = size(shift.x) + size(shift.y) + radius_mm * size(turn) - enough_mm;
        if (std::all_of(off.v.begin(), off.v.end(), [](double x) { return x <= 0.0; })) break;
        next[0] = next[0] + shift.x;
        next[1] = next[1] + shift.y;
        next[2] = next[2] + turn;
        errors_.openings.solve(next, guess, opened_);
    }
    Lanes most(0.0);
    for (const OpeningLanes::Opened& x : opened_) most = larger(most, larger(x.gap_in, x.gap_out));
    for (std::size_t i = 0; i < kLanes; ++i) {
        if (off[i] > 0.0 || !(most[i] <= kPackOpens * least_face_mm_)) most[i] = one_by_one(inputs, i);
    }
    return most;
}

double RingPack::one_by_one(const Lanes* inputs, std::size_t lane) const {
    std::vector<double> errors;
    for (std::size_t j = 0; j < errors_.model.inputs.size(); ++j) errors.push_back(inputs[j][lane]);
    return close_made(frame_, boards_with(errors_.model, errors)).spread->widest_mm;
}

Simulation simulate(const Frame& frame, const RingErrors& errors, std::size_t last_corner, double wanted_mm,
                    const TrialOptions& options) {
    const std::vector<Scatter> scatter(errors.model.inputs.size(), Scatter::normal);
    const TrialMaker maker = [&] {
        return [pack = RingPack(frame, errors, last_corner)](const Lanes* inputs, Lanes* results) mutable {
            results[1] = pack.stiff(inputs);
            results[0] = pack.widest(inputs);
        };
    };
    Trials trials = run_trials(scatter, 2, maker, options);
    Simulation simulation;
    simulation.runs = trials.runs;
    simulation.still = trials.still;
    simulation.seed = options.seed;
    simulation.widest = std::move(trials.results[0]);
    simulation.stiff = std::move(trials.results[1]);
    simulation.within = simulation.widest.share_within(wanted_mm);
    simulation.within_error = share_error(simulation.within, simulation.runs);
    return simulation;
}

}  // namespace boardring
