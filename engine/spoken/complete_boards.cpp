#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "project/nominal_size.hpp"
#include "spoken/completion.hpp"

// Which board is which: what all are, which of them differ and where they go, how many courses make the height.

namespace boardring {

// Counts of boards that differ, until one of them is what all the others are.
void Completion::settle_boards() {
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
void Completion::gather_pile(std::size_t boards) {
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
std::string Completion::pile_entry(std::size_t count, const SaidSection& section, const std::string& stock) const {
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
bool Completion::is_as_all(const SaidSection& own) const {
    const SaidSection& all = d_.section;
    const auto fits = [](const std::optional<SaidLength>& a, const std::optional<SaidLength>& b) { return !a || (b && a->mm == b->mm); };
    return own.nominal == all.nominal && fits(own.width, all.width) && fits(own.thickness, all.thickness);
}

void Completion::too_many(std::size_t told, std::size_t boards) {
    std::string words;
    for (std::size_t k = 0; k < d_.exceptions.size(); ++k) words += (k == 0 ? "" : k + 1 == d_.exceptions.size() ? " and " : ", ") + in_quotes(d_.exceptions[k].words);
    unfit(fmt::format("{} {} {} boards; {} takes {}.", words, d_.exceptions.size() == 1 ? "is" : "are", told, an(), boards), "Say of how many boards each size is.");
}

// How high a frame is to be follows from its courses, and only whole ones can be built.
void Completion::height_in_courses() {
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

void Completion::place_parts() {
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
void Completion::place_exceptions(std::size_t boards) {
    std::size_t next = boards;
    for (const SaidException& e : d_.exceptions) {
        for (std::size_t k = 0; k < e.count; ++k) {
            while (next > 0 && d_.boards.contains(next)) --next;
            if (next == 0) return unfit(fmt::format("There is no place left for {}: {} takes {} boards.", in_quotes(e.words), an(), boards), "Say of how many boards each size is.");
            d_.boards.emplace(next, e.section);
            const std::string words = fmt::format("{} is board {}{}", e.count == 1 ? "\"" + e.words + "\"" : fmt::format("one of \"{}\"", e.words), next,
                                                  d_.courses > 1 ? " in every course" : "");
            d_.notes["/boards/" + std::to_string(next)] = words + "; another number moves it";
            d_.assumed.push_back(words);
        }
    }
}

}  // namespace boardring
