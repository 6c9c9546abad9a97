#include "closure/sources.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {
namespace {

using On = ErrorEffect::On;

constexpr double kSameSettingDeg = 1e-6;
constexpr double kSameLengthMm = 1e-6;

double towards(std::size_t end) { return end == 0 ? -1.0 : 1.0; }

// The line of an end that meets its mate: the shoulder of a half-lap, else the end itself.
struct MatedLine {
    double inside_mm, outside_mm, run_mm;
};
MatedLine mated_line(const MadeEnd& end) {
    if (end.shoulder) return {end.shoulder->inside_mm, end.shoulder->outside_mm, end.shoulder->run_mm};
    return {end.inside_mm, end.outside_mm, end.run_mm};
}

// Builds a model source by source; a source of no size adds nothing.
class Maker {
public:
    Maker(const Frame& frame, ErrorModel& model) : frame_(frame), model_(model) {}

    /// `add` is called with a function that takes the effects of one independent error.
    void source(ErrorKind kind, double sd, const std::function<void()>& add) {
        if (!(sd > 0.0)) return;
        model_.sources.push_back({kind, sd, 0});
        const std::size_t before = model_.inputs.size();
        add();
        model_.sources.back().inputs = model_.inputs.size() - before;
        if (model_.inputs.size() == before) model_.sources.pop_back();
    }
    void error(std::vector<ErrorEffect> effects) { model_.inputs.push_back({model_.sources.size() - 1, std::move(effects)}); }

    /// Free ends too: they meet a wall or a floor.
    void each_end(const std::function<void(std::size_t board, std::size_t end)>& visit) const {
        for (std::size_t k = 0; k < frame_.boards.size(); ++k) {
            for (std::size_t e = 0; e < 2; ++e) visit(k, e);
        }
    }
    [[nodiscard]] const BoardEnd& at(std::size_t board, std::size_t end) const { return frame_.boards[board].ends[end]; }

    /// Groups of ends or boards whose key is the same within `within`, by ascending key, members in order.
    template <typename Member>
    static std::vector<std::vector<Member>> alike(std::vector<std::pair<double, Member>> keyed, double within) {
        std::stable_sort(keyed.begin(), keyed.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
        std::vector<std::vector<Member>> groups;
        for (std::size_t i = 0; i < keyed.size(); ++i) {
            if (i == 0 || keyed[i].first - keyed[i - 1].first > within) groups.emplace_back();
            groups.back().push_back(keyed[i].second);
        }
        return groups;
    }

private:
    const Frame& frame_;
    ErrorModel& model_;
};

double sign_of(double saw_deg) { return saw_deg < 0.0 ? -1.0 : 1.0; }
bool is_square(const BoardEnd& end) { return std::abs(end.saw_deg) < kSameSettingDeg; }

std::size_t left_end(const Frame& frame) { return frame.letters_clockwise ? 1 : 0; }

double long_mark_mm(const MadeEnd& end) {
    const MatedLine line = mated_line(end);
    return line.run_mm >= 0.0 ? line.outside_mm : line.inside_mm;
}

double between_long_points_mm(const MadeBoard& board) { return long_mark_mm(board.ends[1]) - long_mark_mm(board.ends[0]); }

void add_marks(Maker& maker, double sd) {
    maker.source(ErrorKind::mark, sd, [&] {
        maker.each_end([&](std::size_t k, std::size_t e) {
            const bool outside_longer = maker.at(k, e).run_mm >= 0.0;
            // A mark further along x by sd: the outside one makes the run longer at the second end, shorter at the first.
            maker.error({{k, e, On::run, towards(e) * sd}, {k, e, On::shift, outside_longer ? sd : 0.0}});
            maker.error({{k, e, On::run, -towards(e) * sd}, {k, e, On::shift, outside_longer ? 0.0 : sd}});
        });
    });
}

void add_long_marks(Maker& maker, double sd) {
    maker.source(ErrorKind::mark, sd, [&] {
        maker.each_end([&](std::size_t k, std::size_t e) { maker.error({{k, e, On::shift, sd}}); });
    });
}

void add_cuts(Maker& maker, double sd_deg) {
    maker.source(ErrorKind::cut, sd_deg, [&] {
        maker.each_end([&](std::size_t k, std::size_t e) { maker.error({{k, e, On::slope, radians(sd_deg)}}); });
    });
}

struct EndRef {
    std::size_t board, end;
};

// Two marks a base apart: the rise between them is out by the root of two, and so is the angle, e cos^2 S / base.
void add_bevel_settings(Maker& maker, double mark_mm, double base_mm) {
    const double rise_mm = std::sqrt(2.0) * mark_mm;
    maker.source(ErrorKind::setting, rise_mm, [&] {
        std::vector<std::pair<double, EndRef>> ends;
        maker.each_end([&](std::size_t k, std::size_t e) {
            if (!is_square(maker.at(k, e))) ends.push_back({std::abs(maker.at(k, e).saw_deg), {k, e}});
        });
        for (const auto& group : Maker::alike(std::move(ends), kSameSettingDeg)) {
            std::vector<ErrorEffect> effects;
            for (const EndRef& ref : group) {
                const double saw_deg = maker.at(ref.board, ref.end).saw_deg;
                const double cosine = cos_deg(saw_deg);
                effects.push_back({ref.board, ref.end, On::slope, sign_of(saw_deg) * rise_mm * cosine * cosine / base_mm});
            }
            maker.error(std::move(effects));
        }
    });
}

void add_saw_scale(Maker& maker, double sd_deg) {
    maker.source(ErrorKind::scale, sd_deg, [&] {
        std::vector<ErrorEffect> effects;
        maker.each_end([&](std::size_t k, std::size_t e) {
            effects.push_back({k, e, On::slope, sign_of(maker.at(k, e).saw_deg) * radians(sd_deg)});
        });
        if (!effects.empty()) maker.error(std::move(effects));
    });
}

// The right end lies at the stop.
void add_stop(Maker& maker, const Frame& frame, const ErrorModel& model, double set_mm, double repeat_mm) {
    const std::size_t right = 1 - left_end(frame);
    const double sign = towards(right);
    maker.source(ErrorKind::stop, set_mm, [&] {
        std::vector<std::pair<double, std::size_t>> boards;
        for (std::size_t k = 0; k < model.base.size(); ++k) boards.push_back({between_long_points_mm(model.base[k]), k});
        for (const auto& group : Maker::alike(std::move(boards), kSameLengthMm)) {
            std::vector<ErrorEffect> effects;
            for (const std::size_t k : group) effects.push_back({k, right, On::shift, sign * set_mm});
            maker.error(std::move(effects));
        }
    });
    maker.source(ErrorKind::length, repeat_mm, [&] {
        for (std::size_t k = 0; k < model.base.size(); ++k) maker.error({{k, right, On::shift, sign * repeat_mm}});
    });
}

void add_rule(Maker& maker, const Frame& frame, const ErrorModel& model, double mm_per_m) {
    const double part = 1e-3 * mm_per_m;
    const std::size_t right = 1 - left_end(frame);
    maker.source(ErrorKind::rule, mm_per_m, [&] {
        std::vector<ErrorEffect> effects;
        for (std::size_t k = 0; k < model.base.size(); ++k) {
            const MadeBoard& board = model.base[k];
            effects.push_back({k, right, On::shift, towards(right) * part * between_long_points_mm(board)});
            if (model.way != SlopeBy::marks) continue;  // rise and base are read off the same rule: their ratio is right
            for (std::size_t e = 0; e < 2; ++e) effects.push_back({k, e, On::run, part * mated_line(board.ends[e]).run_mm});
        }
        maker.error(std::move(effects));
    });
}

void add_thickness(Maker& maker, const ErrorModel& model, double sd) {
    maker.source(ErrorKind::thickness, sd, [&] {
        for (std::size_t k = 0; k < model.base.size(); ++k) maker.error({{k, 0, On::width, sd}});
    });
}

double steepest_rad() { return std::acos(kLeastCosine); }

}  // namespace

std::string source_words(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::mark: return "each pencil mark";
        case ErrorKind::cut: return "each cut's slope";
        case ErrorKind::setting: return "the bevel as set";
        case ErrorKind::scale: return "the saw's scale";
        case ErrorKind::stop: return "the length stop as set";
        case ErrorKind::length: return "each board at the stop";
        case ErrorKind::rule: return "the rule itself";
        case ErrorKind::thickness: return "each board's width in the joint";
    }
    return "";
}

std::vector<MadeBoard> boards_as_meant(const Project& project, const Frame& frame, SlopeBy way,
                                       const std::vector<BoardNudges>& nudges) {
    ENSURE(nudges.empty() || nudges.size() == frame.boards.size());
    Bench bench = Bench::of(project.tools, frame);
    bench.slope_by = way;
    std::vector<MadeBoard> made;
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const BoardNudges nudge = nudges.empty() ? BoardNudges{} : nudges[k];
        const Board& board = frame.boards[k];
        made.push_back(way == SlopeBy::marks ? marked_board(board, bench, nudge) : set_board(board, bench, nudge));
    }
    return made;
}

ErrorModel error_model(const Project& project, const Frame& frame, SlopeBy way, std::vector<MadeBoard> base) {
    ENSURE(base.size() == frame.boards.size());
    const Accuracy& accuracy = project.accuracy;
    ErrorModel model;
    model.way = way;
    model.base = std::move(base);
    Maker maker(frame, model);
    switch (way) {
        case SlopeBy::marks:
            add_marks(maker, accuracy.mark_mm);
            break;
        case SlopeBy::bevel:
            add_cuts(maker, accuracy.cut_angle_deg);
            add_bevel_settings(maker, accuracy.mark_mm, project.tools.bevel_base_mm);
            add_long_marks(maker, accuracy.mark_mm);
            break;
        case SlopeBy::saw:
            add_cuts(maker, accuracy.cut_angle_deg);
            add_saw_scale(maker, accuracy.common_angle_deg);
            add_stop(maker, frame, model, accuracy.mark_mm, accuracy.stop_mm);
            break;
    }
    add_rule(maker, frame, model, accuracy.rule_scale_mm_per_m);
    add_thickness(maker, model, accuracy.thickness_mm);
    return model;
}

MadeBoard deviated(const MadeBoard& base, const BoardDeviation& by, SlopeBy way) {
    MadeBoard made = base;
    made.width_mm += by.width_mm;
    for (std::size_t e = 0; e < 2; ++e) {
        MadeEnd& end = made.ends[e];
        const MatedLine line = mated_line(end);
        const double slope_rad = way == SlopeBy::marks ? std::atan2(line.run_mm + by.ends[e].run_mm, made.width_at(e))
                                                       : std::atan2(line.run_mm, base.width_at(e));
        const double limit = steepest_rad();
        const double run_mm = made.width_at(e) * std::tan(std::clamp(slope_rad + by.ends[e].slope_rad, -limit, limit));
        const double along_mm = towards(e) * run_mm;
        const bool by_outside = line.run_mm >= 0.0;
        const double held_mm = (by_outside ? line.outside_mm : line.inside_mm) + by.ends[e].shift_mm;
        const double inside_mm = by_outside ? held_mm - along_mm : held_mm;
        const double outside_mm = by_outside ? held_mm : held_mm + along_mm;
        if (end.shoulder) {
            end.shoulder = MadeEnd::Shoulder{inside_mm, outside_mm, run_mm};
        } else {
            end.inside_mm = inside_mm;
            end.outside_mm = outside_mm;
            end.run_mm = run_mm;
        }
    }
    return made;
}

std::vector<BoardDeviation> deviations_of(const ErrorModel& model, const std::vector<double>& errors) {
    ENSURE(errors.size() == model.inputs.size());
    std::vector<BoardDeviation> boards(model.base.size());
    for (std::size_t j = 0; j < errors.size(); ++j) {
        for (const ErrorEffect& effect : model.inputs[j].effects) {
            const double by = errors[j] * effect.per_sd;
            BoardDeviation& board = boards[effect.board];
            switch (effect.on) {
                case On::shift: board.ends[effect.end].shift_mm += by; break;
                case On::run: board.ends[effect.end].run_mm += by; break;
                case On::slope: board.ends[effect.end].slope_rad += by; break;
                case On::width: board.width_mm += by; break;
            }
        }
    }
    return boards;
}

std::vector<MadeBoard> boards_with(const ErrorModel& model, const std::vector<double>& errors) {
    const std::vector<BoardDeviation> by = deviations_of(model, errors);
    std::vector<MadeBoard> made;
    made.reserve(by.size());
    for (std::size_t k = 0; k < by.size(); ++k) made.push_back(deviated(model.base[k], by[k], model.way));
    return made;
}

}  // namespace boardring
