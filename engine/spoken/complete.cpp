#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "base/quoted.hpp"
#include "project/nominal_size.hpp"
#include "spoken/draft.hpp"
#include "spoken/wish.hpp"
#include "spoken/word_table.hpp"

// What a draft still lacks, and what may be assumed for it.

namespace boardring {
namespace {

class Completion {
public:
    explicit Completion(Draft& draft) : d_(draft) {}

    Findings run() {
        if (d_.shape == SpokenShape::none) {
            const std::string likely = d_.pieces >= 3 ? fmt::format("{} boards may be: {}. ", d_.pieces, regular_name(d_.pieces)) : "";
            missing("There is no shape here.", fmt::format("{}Name one: {}.", likely, known_shapes()));
            return std::move(findings_);
        }
        settle_shape();
        if (board_count(d_) == 0) return std::move(findings_);
        settle_boards();
        settle_place();
        if (d_.wish.kind != Wish::Kind::none) {
            if (findings_.empty()) append(findings_, grant_wish(d_));
            if (!findings_.empty()) return std::move(findings_);
        }
        settle_size();
        settle_joints();
        return std::move(findings_);
    }

private:
    Draft& d_;
    Findings findings_;
    std::size_t most_of_all_ = 0;  // how many boards were said to be as all the others

    void tell(std::string code, std::string message, std::string fix) {
        findings_.push_back({Severity::error, std::move(code), "", std::move(message), std::move(fix)});
    }
    void missing(std::string message, std::string fix) { tell("sentence.missing", std::move(message), std::move(fix)); }
    void unfit(std::string message, std::string fix) { tell("sentence.does-not-fit", std::move(message), std::move(fix)); }

    void assume(const std::string& pointer, const std::string& words) {
        d_.assumed.push_back(words);
        if (!pointer.empty()) d_.notes[pointer] = "assumed: " + words;
    }
    [[nodiscard]] std::string show(const SaidLength& length) const { return spoken_length(length, d_.unit); }
    // "a hexagon", "an L".
    [[nodiscard]] std::string an() const {
        const bool vowel = !d_.shape_word.empty() && std::string_view("aeioL8").find(d_.shape_word.front()) != std::string_view::npos;
        const bool eleven = d_.shape_word.starts_with("11-") || d_.shape_word.starts_with("18-");
        return fmt::format("{} {}", vowel || eleven ? "an" : "a", d_.shape_word);
    }
    [[nodiscard]] std::string an_upper() const {
        std::string text = an();
        text.front() = 'A';
        return text;
    }
    [[nodiscard]] bool is_opening() const { return d_.shape == SpokenShape::window || d_.shape == SpokenShape::door; }

    void settle_shape() {
        if (d_.shape == SpokenShape::window && !d_.sill) {
            d_.sill = true;
            assume("/outline/rectangle", "the opening has a sill: boards all round");
        }
        if (d_.shape == SpokenShape::door && d_.sill == true) unfit("A door has no sill here: its legs stand on the floor.", "Say window instead of door if there is one.");
        if (d_.half) return settle_half();
        if (d_.corners != 0) d_.circle = false;  // a hexagonal ring is a hexagon
        const bool from_pieces = d_.circle || d_.shape == SpokenShape::part_ring || d_.shape == SpokenShape::arch;
        if (from_pieces && d_.corners == 0 && d_.pieces == 0 && d_.exceptions.size() == 1 && d_.section.nominal.empty() && !d_.section.width) {
            d_.pieces = d_.exceptions.front().count;  // "7 boards of 120x30"
        }
        if (from_pieces && d_.pieces == 0 && d_.corners == 0) missing(fmt::format("Of how many pieces is the {}?", d_.shape_word), "Say it like: 7 pieces.");
        if (d_.circle && d_.corners == 0) d_.corners = d_.pieces;
        const std::size_t boards = board_count(d_);
        if (d_.pieces != 0 && boards != 0 && d_.pieces != boards) {
            unfit(fmt::format("{} takes {} boards; you say {}.", an_upper(), boards, d_.pieces), fmt::format("Say {} boards, or another shape.", boards));
        }
        if (is_opening()) d_.from_room = true;
        refuse_parts();
    }

    // Parts of other shapes.
    void refuse_parts() {
        if (d_.ends_square && !is_open(d_)) unfit(fmt::format("{} has no free ends.", an_upper()), "Leave out \"ends square\".");
        if (d_.notch_along && d_.shape != SpokenShape::ell && d_.shape != SpokenShape::u_shape && d_.shape != SpokenShape::tee) {
            unfit(fmt::format("{} has no notch.", an_upper()), "Say L, U or T.");
        }
        if (!is_opening() && (d_.head || d_.sill_length || !d_.legs.empty() || !d_.parts.empty() || d_.head_through)) {
            unfit(fmt::format("{} has no head, legs or sill.", an_upper()), "Say window or door, or name boards by their numbers.");
        }
    }

    // Cut from corner to corner a half has equal boards; from side to side its first and last are half a side long. Where half the sides
    // are an odd number, the first has a board in front, as people build it; else both are built.
    void settle_half() {
        const std::size_t equal = d_.corners / 2;
        const std::string halves = fmt::format("{}: {} whole ones and 2 halves, cut from side to side", equal + 1, equal - 1);
        if (d_.pieces == 0 && d_.exceptions.size() == 1 && d_.section.nominal.empty() && !d_.section.width) d_.pieces = d_.exceptions.front().count;
        if (d_.pieces == 0 && equal % 2 == 0) {
            tell("sentence.ambiguous", fmt::format("{} can be {} equal boards, cut from corner to corner, or {}.", an_upper(), equal, halves),
                 fmt::format("Say {} boards, or {} boards.", equal, equal + 1));
            return;
        }
        if (d_.pieces == 0) {
            d_.pieces = equal;
            d_.assumed.push_back(fmt::format("{} equal boards, cut from corner to corner; {} boards would be {} whole ones and 2 halves", equal, equal + 1, equal - 1));
        } else if (d_.pieces != equal && d_.pieces != equal + 1) {
            unfit(fmt::format("{} takes {} equal boards, or {}; you say {}.", an_upper(), equal, halves, d_.pieces), fmt::format("Say {} boards, or {} boards.", equal, equal + 1));
        }
        if (d_.wide && !d_.size) {
            d_.size = std::exchange(d_.wide, std::nullopt);
            const auto along_wall = has_half_sides(d_) ? RegularOutline::Of::over_flats : RegularOutline::Of::over_points;
            if (d_.of && *d_.of != along_wall) unfit(fmt::format("Cut like that it is {} wide over the {}.", show(*d_.size), has_half_sides(d_) ? "flats" : "points"), "Leave out the other word.");
            d_.of = along_wall;
        }
        refuse_parts();
    }

    // Counts of boards that differ, until one of them is what all the others are.
    void settle_boards() {
        SaidSection& all = d_.section;
        const std::size_t boards = board_count(d_);
        const bool own_width = d_.shape != SpokenShape::rectangle && d_.shape != SpokenShape::arch && !is_opening();
        if (own_width && d_.wide && !all.width) all.width = std::exchange(d_.wide, std::nullopt);
        const auto whole = [](const SaidSection& s) { return !s.nominal.empty() || (s.width && s.thickness); };
        if (!whole(all) && !d_.exceptions.empty()) {
            const auto most = std::max_element(d_.exceptions.begin(), d_.exceptions.end(), [](const auto& a, const auto& b) { return a.count < b.count; });
            if (!all.width) all.width = most->section.width;
            if (!all.thickness) all.thickness = most->section.thickness;
            if (all.nominal.empty()) all.nominal = most->section.nominal;
            std::size_t told = 0;
            for (const SaidException& e : d_.exceptions) told += e.count;
            if (told < boards) {
                unfit(fmt::format("The shape takes {} boards; you speak of {}.", boards, told), boards - told == 1 ? "Say what the other one is." : fmt::format("Say what the other {} are.", boards - told));
            }
            for (SaidOffer& offer : most->offers) d_.offers.push_back(std::move(offer));
            if (most->count > boards && d_.exceptions.size() == 1) unfit(fmt::format("The shape takes {} boards; you speak of {}.", boards, most->count), "Say as many as there are.");
            most_of_all_ = most->count;
            d_.exceptions.erase(most);
        }
        if (!whole(all)) {
            missing(all.width || all.thickness ? "Only one size of the boards is said." : "Nothing is said of the boards.",
                    d_.unit == Unit::inch ? "Say how wide and thick they are, as measured: 5 1/2 x 1 1/2 in on edge." : "Say how wide and thick they are, as measured: 145x38 on edge.");
        }
        if (!all.nominal.empty() && !(all.width && all.thickness)) assume("", fmt::format("{} is a name: {}", all.nominal, nominal_size(all.nominal)->note));
        place_parts();
        for (const auto& [number, section] : d_.boards) {
            if (number > boards) unfit(fmt::format("There is no board {}: {} takes {} boards.", number, an(), boards), fmt::format("Use 1 to {}.", boards));
        }
        if (d_.last > boards) unfit(fmt::format("There is no board {} to be fitted last: {} takes {} boards.", d_.last, an(), boards), fmt::format("Use 1 to {}.", boards));
        if (!d_.lie) {
            const bool flat = is_opening() || d_.shape == SpokenShape::arch || d_.thing.find("frame") != std::string::npos || d_.thing == "casing" || d_.thing == "surround";
            d_.lie = flat ? Lie::flat : Lie::on_edge;
            assume("/boards/lie", flat ? "boards lie flat" : "boards stand on edge");
        }
        if (d_.high && !is_opening() && d_.shape != SpokenShape::arch) height_in_courses();
        if (d_.exceptions.empty() || !findings_.empty()) return;
        if (d_.boards.empty()) {
            gather_pile(boards);
        } else {
            place_exceptions(boards);
        }
    }

    // Boards that differ and were given no place are a pile: the plan finds the best place of each.
    void gather_pile(std::size_t boards) {
        std::size_t told = 0;
        bool all_counted = most_of_all_ > 0;
        for (const SaidException& e : d_.exceptions) {
            told += e.count;
            all_counted = all_counted || is_as_all(e.section);
        }
        if (told > boards && !all_counted) return too_many(told, boards);
        const std::size_t rest = std::max(told < boards ? boards - told : 0, most_of_all_);
        if (rest > 0) d_.pile.push_back(pile_entry(rest, d_.section, ""));
        for (const SaidException& e : d_.exceptions) {
            d_.pile.push_back(pile_entry(e.count, e.section, e.offers.empty() ? "" : own_stock_name(d_, e.section)));
        }
        const std::size_t total = told + rest;
        assume("/boards/pile", total == boards ? "each board goes where it makes the least work; the page says where"
                                               : fmt::format("{} boards for {} places: those that make the least work, {} left over; the page says which and where", total, boards, total - boards));
    }

    // `"1 of 28"` where only the size in the joint is said, `{ "count": 1, "width": 120, "thickness": 28 }` where more is.
    [[nodiscard]] std::string pile_entry(std::size_t count, const SaidSection& section, const std::string& stock) const {
        const bool edge = *d_.lie == Lie::on_edge;
        const bool is_all = &section == &d_.section;
        const std::optional<SaidLength>& in_joint = edge ? section.thickness : section.width;
        const std::optional<SaidLength>& other = edge ? section.width : section.thickness;
        if (!stock.empty()) return fmt::format("{{ \"count\": {}, \"stock\": \"{}\" }}", count, stock);
        if (in_joint && (is_all || !other)) {
            const bool is_text = in_joint->json.front() == '"';
            return fmt::format("\"{} of {}\"", count, is_text ? in_joint->json.substr(1, in_joint->json.size() - 2) : in_joint->json);
        }
        std::string sizes;
        if (!is_all) {
            const SaidSection plain = section.nominal.empty() ? section : dressed_section(section.nominal, d_.unit);
            if (plain.width) sizes += ", \"width\": " + plain.width->json;
            if (plain.thickness) sizes += ", \"thickness\": " + plain.thickness->json;
        }
        return fmt::format("{{ \"count\": {}{} }}", count, sizes);
    }

    // True for boards that are as all the others are, counted for completeness: 5 of 38.
    [[nodiscard]] bool is_as_all(const SaidSection& own) const {
        const SaidSection& all = d_.section;
        const auto fits = [](const std::optional<SaidLength>& a, const std::optional<SaidLength>& b) { return !a || (b && a->mm == b->mm); };
        return own.nominal == all.nominal && fits(own.width, all.width) && fits(own.thickness, all.thickness);
    }

    void too_many(std::size_t told, std::size_t boards) {
        std::string words;
        for (std::size_t k = 0; k < d_.exceptions.size(); ++k) words += (k == 0 ? "" : k + 1 == d_.exceptions.size() ? " and " : ", ") + quoted(d_.exceptions[k].words);
        unfit(fmt::format("{} {} {} boards; {} takes {}.", words, d_.exceptions.size() == 1 ? "is" : "are", told, an(), boards), "Say of how many boards each size is.");
    }

    // How high a frame is to be follows from its courses, and only whole ones can be built.
    void height_in_courses() {
        if (!findings_.empty()) return;
        const SaidLength high = *std::exchange(d_.high, std::nullopt);
        const double course_mm = course_height_mm(d_);
        const double courses = std::round(high.mm / course_mm);
        constexpr double kSame_mm = 1.0;
        const std::size_t whole = courses < 1.0 ? 0 : static_cast<std::size_t>(courses);
        if (std::abs(high.mm - courses * course_mm) > kSame_mm || whole == 0) {
            const double below = std::floor(high.mm / course_mm);
            const auto made = [&](double n) { return fmt::format("{:.0f} {} {}", n, n == 1.0 ? "course makes" : "courses make", show(length_in_unit(n * course_mm, d_.unit))); };
            return unfit(fmt::format("{} high is no whole number of courses: {}{}.", show(high), below >= 1.0 ? made(below) + ", " : "", made(below + 1.0)), "Say how many courses, or boards that make that height.");
        }
        if (d_.courses != 0 && d_.courses != whole) return unfit(fmt::format("{} high is {} courses; you say {}.", show(high), whole, d_.courses), "Leave one of them out.");
        d_.courses = whole;
        assume("", fmt::format("{} high: {} of {}", show(high), whole == 1 ? "one course" : fmt::format("{} courses", whole), show(length_in_unit(course_mm, d_.unit))));
    }

    void place_parts() {
        const bool open = is_open(d_);
        for (const auto& [name, section] : d_.parts) {
            std::vector<std::size_t> numbers;
            if (name == "sill" && !open) numbers = {1};
            if (name == "legs") numbers = open ? std::vector<std::size_t>{1, 3} : std::vector<std::size_t>{2, 4};
            if (name == "head") numbers = {open ? std::size_t{2} : std::size_t{3}};
            if (numbers.empty()) unfit("There is no sill here.", "Say window, or leave the sill out.");
            for (const std::size_t number : numbers) {
                d_.boards.emplace(number, section);
                d_.notes["/boards/" + std::to_string(number)] = name == "legs" ? (number == 1 || number == 2 ? "right leg" : "left leg") : name;
            }
        }
    }

    // Where others are named by number, one that was given no place goes to the end of the ring, where the last one is fitted.
    void place_exceptions(std::size_t boards) {
        std::size_t next = boards;
        for (const SaidException& e : d_.exceptions) {
            for (std::size_t k = 0; k < e.count; ++k) {
                while (next > 0 && d_.boards.contains(next)) --next;
                if (next == 0) return unfit(fmt::format("There is no place left for {}: {} takes {} boards.", quoted(e.words), an(), boards), "Say of how many boards each size is.");
                d_.boards.emplace(next, e.section);
                const std::string words = fmt::format("{} is board {}{}", e.count == 1 ? "\"" + e.words + "\"" : fmt::format("one of \"{}\"", e.words), next,
                                                      d_.courses > 1 ? " in every course" : "");
                d_.notes["/boards/" + std::to_string(next)] = words + "; another number moves it";
                d_.assumed.push_back(words);
            }
        }
    }

    void settle_place() {
        const bool wish_knows = d_.wish.kind == Wish::Kind::fits_round || d_.wish.kind == Wish::Kind::stands_on || d_.wish.kind == Wish::Kind::litres;
        const bool outside = d_.wish.kind == Wish::Kind::stands_on;
        if (wish_knows) {
            const OutlineLine line = outside ? OutlineLine::outside : OutlineLine::inside;
            if (d_.line && *d_.line != line) {
                unfit(outside ? "What a frame stands on is measured outside." : "What a frame holds is measured inside.", fmt::format("Leave out the other word, or say {}.", outside ? "outside" : "inside"));
            }
            d_.line = line;
        }
        if (!d_.line && (is_opening() || d_.wish.kind == Wish::Kind::boards_give)) {
            d_.line = OutlineLine::inside;
            assume("/outline/line", is_opening() ? "the size is that of the opening, the inside of the boards" : "the size is counted inside");
        }
        if (!d_.line) missing("Is the size taken inside or outside the boards?", "Say inside, outside or middle, as in: 640 inside.");
    }

    void settle_size() {
        switch (d_.shape) {
            case SpokenShape::none: return;
            case SpokenShape::regular: return settle_regular();
            case SpokenShape::rectangle: case SpokenShape::ell: case SpokenShape::u_shape: case SpokenShape::tee: return settle_box();
            case SpokenShape::part_ring: case SpokenShape::arch: return settle_arc();
            case SpokenShape::window: case SpokenShape::door: return settle_opening();
        }
    }

    void unfit_size(const std::optional<SaidLength>& size, std::string_view name) {
        if (size) unfit(fmt::format("The {} of {}: {} has no {}.", name, show(*size), an(), name), "Leave it out, or say what it belongs to.");
    }

    void settle_regular() {
        if (!d_.size && d_.wide && !d_.circle) d_.size = std::exchange(d_.wide, std::nullopt);
        unfit_size(d_.length, "length"), unfit_size(d_.rise, "rise"), unfit_size(d_.wide, "width");
        if (d_.circle && (d_.radius || d_.diameter || !d_.size)) {
            if (d_.size) unfit(fmt::format("{} is a second size.", show(*d_.size)), "Leave it out, or say what it is: thick, wide, margin ...");
            if (d_.radius) d_.size = length_in_unit(2.0 * d_.radius->mm, d_.unit);
            if (d_.diameter && !d_.radius) d_.size = d_.diameter;
            if (!d_.size) return missing("There is no size here.", "Say it like: radius 400, or diameter 800.");
            if (!d_.fits) assume("/outline/regular", "the sides touch the circle");
            const bool corners = d_.fits == ArcOutline::Fits::corners;
            d_.of = corners ? RegularOutline::Of::circumscribed : RegularOutline::Of::inscribed;
            return;
        }
        if (d_.circle && !d_.of && d_.pieces != 0) {
            return tell("sentence.ambiguous", fmt::format("{} can mean the radius or the diameter.", show(*d_.size)),
                        fmt::format("Say radius {} or diameter {}.", show(*d_.size), show(*d_.size)));
        }
        if (d_.circle && d_.corners % 2 == 1 && d_.of == RegularOutline::Of::over_flats) d_.of = RegularOutline::Of::inscribed;  // straight across a circle
        if (d_.radius || d_.diameter) {
            const SaidLength& said = d_.radius ? *d_.radius : *d_.diameter;
            tell("sentence.ambiguous", fmt::format("{} can mean the circle that touches the sides or the one through the corners.", show(said)),
                 fmt::format(fmt::runtime(d_.corners % 2 == 0 ? "Say {0} flats, or {0} points." : "Say {0} inscribed, or {0} circumscribed."),
                             show(d_.radius ? length_in_unit(2.0 * said.mm, d_.unit) : said)));
            return;
        }
        if (!d_.size) return missing("There is no size here.", d_.corners % 2 == 0 ? "Say it like: 640 inside flats." : "Say it like: side 400 inside.");
        const std::string size = show(*d_.size);
        const bool flats = d_.of == RegularOutline::Of::over_flats, points = d_.of == RegularOutline::Of::over_points;
        if (d_.corners % 2 == 1 && (flats || points)) {
            return unfit(fmt::format("{} has no opposite {}, so nothing can be measured over them.", an_upper(), flats ? "flats" : "points"),
                         fmt::format("Say side {}, or {} {}.", size, size, flats ? "inscribed" : "circumscribed"));
        }
        if (d_.of) return;
        if (d_.corners % 2 == 0) {
            tell("sentence.ambiguous", fmt::format("{} can mean over the flats, over the points, or one side.", size),
                 fmt::format("Say {} flats, {} points, or side {}.", size, size, size));
        } else {
            tell("sentence.ambiguous", fmt::format("{} can mean one side, or the circle that touches the sides, or the one through the corners.", size),
                 fmt::format("Say side {}, {} inscribed, or {} circumscribed.", size, size, size));
        }
    }

    void settle_box() {
        if (!d_.first && d_.length) d_.first = d_.length;
        if (!d_.second && d_.wide) d_.second = d_.wide;
        if (d_.shape_word == "square" && d_.first && d_.first->mm != d_.second->mm) {
            return unfit(fmt::format("A square has one size; you say {} by {}.", show(*d_.first), show(*d_.second)), "Say rectangle, or one size.");
        }
        if (d_.shape_word == "square" && d_.size && d_.first && d_.size->mm != d_.first->mm) {
            return unfit(fmt::format("A square has one size; you say {} and {}.", show(*d_.size), show(*d_.first)), "Leave one of them out.");
        }
        if (!d_.first && d_.size && d_.shape_word == "square") d_.first = d_.second = d_.size;
        if (!d_.first || !d_.second) {
            if (d_.shape_word == "square") return missing("There is no size here.", "Say it like: square 600 inside.");
            return missing(fmt::format("{} needs a length and a width.", an_upper()), "Say it like: 1200 by 600 inside.");
        }
        if (d_.size && d_.shape_word != "square") unfit(fmt::format("{} is a third size.", show(*d_.size)), "Say what it is: thick, wide, margin ...");
        if (d_.shape == SpokenShape::rectangle) return;
        if (!d_.notch_along || !d_.notch_across) {
            return missing(fmt::format("The {} has no notch.", d_.shape_word), "Say how long and how deep it is: notch 700 by 500.");
        }
        const double room = d_.first->mm - d_.notch_along->mm * (d_.shape == SpokenShape::tee ? 2.0 : 1.0);
        if (room <= 0.0 || d_.notch_across->mm >= d_.second->mm) {
            return unfit(fmt::format("A notch of {} by {} takes all of {} by {}.", show(*d_.notch_along), show(*d_.notch_across), show(*d_.first), show(*d_.second)), "Say a smaller notch.");
        }
        if (d_.shape != SpokenShape::u_shape) {
            if (d_.notch_from) unfit("Only the notch of a U has a place.", "Leave out \"from the left\".");
            return;
        }
        if (!d_.notch_from) {
            d_.notch_from = length_in_unit(room / 2.0, d_.unit);
            assume("/outline/points", "the notch sits in the middle");
        } else if (d_.notch_from->mm <= 0.0 || d_.notch_from->mm >= room) {
            unfit(fmt::format("The notch would reach the end of the U: it may start above 0 and below {}.", show(length_in_unit(room, d_.unit))), "Say another place from the left, or L.");
        }
    }

    void settle_arc() {
        const bool part = d_.shape == SpokenShape::part_ring;
        if (!part && d_.high && !d_.rise) {
            d_.rise = std::exchange(d_.high, std::nullopt);
            assume("/outline/arc", fmt::format("{} high is how far the arch rises over its ends", show(*d_.rise)));
        }
        unfit_size(d_.high, "height"), unfit_size(d_.length, "length");
        if (!d_.radius && d_.diameter) d_.radius = length_in_unit(d_.diameter->mm / 2.0, d_.unit);
        if (part && !d_.radius && d_.size) {
            if (!d_.of) {
                return tell("sentence.ambiguous", fmt::format("{} can mean the radius or the diameter.", show(*d_.size)),
                            fmt::format("Say radius {} or diameter {}.", show(*d_.size), show(*d_.size)));
            }
            d_.radius = length_in_unit(d_.size->mm / 2.0, d_.unit);
        }
        if (!part && !d_.wide && d_.size) d_.wide = d_.size;
        if (part && !d_.radius) return missing("There is no size here.", "Say it like: radius 500.");
        if (!part && !(d_.wide && d_.rise) && !(d_.radius && d_.span_deg)) {
            return missing("An arch needs its width and its rise, or its radius and the degrees it spans.", "Say it like: 1100 wide, rise 400.");
        }
        if (!part && d_.wide && d_.rise && (d_.radius || d_.span_deg)) unfit("The arch is sized in two ways.", "Say width and rise, or radius and span.");
        if (!d_.fits) {
            d_.fits = ArcOutline::Fits::flats;
            assume("/outline/arc", sides_touch_words());
        }
    }

    // Where the sides touch the arc, its ends stand further apart than the arc is wide: by how much is said, since it is the width that is measured.
    [[nodiscard]] std::string sides_touch_words() const {
        const bool by_rise = !d_.radius;
        const double half_deg = by_rise ? 2.0 * degrees(std::atan2(d_.rise->mm, d_.wide->mm / 2.0)) : d_.span_deg.value_or(0.0) / 2.0;
        const double wide_mm = by_rise ? d_.wide->mm : 2.0 * d_.radius->mm * sin_deg(half_deg);
        const double apart_mm = wide_mm / cos_deg(half_deg / static_cast<double>(std::max<std::size_t>(d_.pieces, 1)));
        const LengthStyle style{d_.unit, d_.unit == Unit::inch || d_.unit == Unit::foot ? 25.4 / 16.0 : 0.5};
        return fmt::format("the sides of the pieces touch the arc: its ends stand {} apart; with corners touch it is {}", show_length_unit(apart_mm, style), show_length_unit(wide_mm, style));
    }

    void settle_opening() {
        const bool open = is_open(d_);
        if (!d_.first && d_.wide) d_.first = d_.wide;
        if (!d_.second && d_.high) d_.second = d_.high;
        if (!d_.first && d_.head) d_.first = d_.head;
        if (!d_.first && d_.sill_length) d_.first = d_.sill_length;
        if (d_.legs.size() == 2 && !open) {
            if (d_.legs[0].mm != d_.legs[1].mm) unfit("Legs of two lengths do not close with a sill at square corners.", "Write the four sides and corners into the project file as readings.");
        }
        if (!d_.second && !d_.legs.empty()) d_.second = d_.legs.front();
        if (!d_.first || !d_.second) return missing("An opening needs its width and its height.", "Say it like: 900 by 1200, or head 900, legs 2000.");
        if (d_.legs.empty()) d_.legs = {*d_.second};
        if (d_.legs.size() == 1) d_.legs.push_back(d_.legs.front());
        for (const auto& part : {d_.head, d_.sill_length}) {
            if (part && part->mm != d_.first->mm) unfit(fmt::format("Width {} and a head or sill of {} do not go together.", show(*d_.first), show(*part)), "Say one of them.");
        }
        if (d_.legs.front().mm != d_.second->mm) unfit(fmt::format("Height {} and a leg of {} do not go together.", show(*d_.second), show(d_.legs.front())), "Say one of them.");
    }

    void settle_joints() {
        const std::size_t head = is_open(d_) ? 2 : 3;
        if (d_.head_through) {
            d_.joints.through.push_back(head);
            if (!d_.joints.kind) d_.joints.kind = JointKind::butt;
        }
        if (d_.stop_deg) {
            std::optional<double>& limit = *d_.lie == Lie::on_edge ? d_.tilt_deg : d_.swing_deg;
            if (limit && *limit != *d_.stop_deg) {
                tell("sentence.said-twice", "You say two stops of the saw.", "Leave one of them out.");
            }
            limit = d_.stop_deg;
        }
        share_through();
    }

    // `butt at B and C, 2 through`: each corner takes the boards that come to it.
    void share_through() {
        const std::size_t boards = board_count(d_);
        std::map<std::size_t, bool> comes;
        for (auto& [letter, joint] : d_.corner_joints) {
            const std::optional<std::size_t> corner = corner_index(letter);
            if (!joint.shared || !corner) continue;
            const std::size_t before = *corner == 0 ? boards : *corner, behind = *corner + 1;
            std::vector<std::size_t> here;
            for (const std::size_t board : joint.through) {
                const bool meets = board == before || board == behind;
                comes[board] = comes[board] || meets;
                if (meets) here.push_back(board);
            }
            joint.through = std::move(here);
        }
        for (const auto& [board, meets] : comes) {
            if (!meets) unfit(fmt::format("Board {} comes to none of the corners you say it runs on at.", board), "Name boards that meet at these corners: 1 and 2 meet at B.");
        }
    }
};

}  // namespace

Findings complete(Draft& draft) {
    return Completion(draft).run();
}

}  // namespace boardring
