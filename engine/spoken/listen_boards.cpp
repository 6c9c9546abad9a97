#include <algorithm>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/inch_units.hpp"
#include "base/quoted.hpp"
#include "project/nominal_size.hpp"
#include "spoken/listener.hpp"

// Boards: their size, which of them differ, how they lie, what is on sale.

namespace boardring {

// The larger number is the width, whichever is said first. A name such as 2x6 is what a dressed board is sold as; in a job with
// metric sizes only the thin ones are, since 12x8 may well be millimetres there.
std::optional<SaidSection> Listener::section_of(const Pair& pair) {
    SaidSection section;
    if (!pair.by_word && !pair.first.unit && !pair.second.unit) {
        if (const auto nominal = nominal_size(pair.first.text + "x" + pair.second.text)) {
            constexpr double kThinName = 4.0;
            if (!in_inches(draft_.unit) && std::min(pair.first.value, pair.second.value) > kThinName) {
                tell("sentence.ambiguous", fmt::format("{} can mean {} or a size in {}.", in_quotes(pair.said), nominal->name + " as sold by its inch name", unit_name(draft_.unit)),
                     fmt::format("Write the unit: {} {}.", pair.said, unit_name(draft_.unit)));
                return std::nullopt;
            }
            section.nominal = nominal->name;
            return section;
        }
    }
    std::optional<SaidLength> width = length_of(pair.first), thickness = length_of(pair.second);
    if (!width || !thickness) return std::nullopt;
    if (thickness->mm > width->mm) std::swap(width, thickness);
    section.width = width;
    section.thickness = thickness;
    return section;
}

std::string Listener::section_words(const SaidSection& section) const {
    if (!section.nominal.empty()) return fmt::format("boards sold as {}: {}", section.nominal, nominal_size(section.nominal)->note);
    if (section.width && section.thickness) return fmt::format("boards {} wide, {} thick", show(*section.width), show(*section.thickness));
    return section.width ? fmt::format("{} wide", show(*section.width)) : fmt::format("{} thick", show(*section.thickness));
}

void Listener::hear_section(const SaidSection& section, std::size_t first) {
    SaidSection& all = draft_.section;
    const bool twice = (all.width && section.width) || (!all.nominal.empty() && !section.nominal.empty() && all.nominal != section.nominal);
    if (twice && !(all.width && section.width && all.width->mm == section.width->mm && all.thickness && all.thickness->mm == section.thickness->mm)) {
        tell("sentence.said-twice", fmt::format("You say two sizes for all boards: {} and {}.", section_words(all), section_words(section)),
             "Say which boards differ: one 145x28, or board 4 is 145x28.");
        return;
    }
    if (!section.nominal.empty()) all.nominal = section.nominal;
    if (section.width) all.width = section.width;
    if (section.thickness) set(all.thickness, section.thickness, "the boards' thickness");
    offers_ = &draft_.offers;
    offers_of_.clear();
    note_phrase(first, section_words(section));
}

// A pair, or a thickness alone: `145x28`, `28`, `28 thick`.
std::optional<SaidSection> Listener::take_section() {
    if (starts_pair(at_)) return section_of(take_pair());
    SaidSection section;
    const Sense noun = noun_behind(at_);
    const auto value = length_of(token(at_++));
    if (!value) return std::nullopt;
    if (noun == Sense::wide || noun == Sense::thick) {
        at_ = past_links(at_);
        at_ += word_at(at_).count;
    }
    (noun == Sense::wide ? section.width : section.thickness) = value;
    return section;
}

void Listener::hear_exception(std::size_t first) {
    const auto count = count_of(token(at_++), 1000, "boards");
    take(Sense::board);
    take_links();
    const bool alone = !starts_pair(at_);
    const auto section = take_section();
    take(Sense::board);
    if (!count || !section) return;
    constexpr double kThickest_mm = 300.0;
    if (alone && section->thickness && section->thickness->mm > kThickest_mm) {
        return tell("sentence.number", fmt::format("{}: {} is no thickness of a board.", in_quotes(said(first, at_)), show(*section->thickness)),
                    fmt::format("If they are so long, write it like: have {} of {}.", *count, show(*section->thickness)));
    }
    draft_.exceptions.push_back({*count, *section, {}, said(first, at_)});
    offers_ = &draft_.exceptions.back().offers;
    const std::string means = section_words(*section);
    const std::string size = means.starts_with("boards ") ? means.substr(7) : means;
    offers_of_ = size;
    note_phrase(first, *count == 1 ? "one board " + size : fmt::format("{} boards {}", *count, size));
}

// `4`, `2 and 5`, `1, 3 and 5`; nothing is taken unless board numbers stand there.
std::vector<std::size_t> Listener::take_numbers() {
    std::vector<std::size_t> numbers;
    while (is_amount(at_) && token(at_).whole && !starts_pair(at_) && (noun_behind(at_) == Sense::filler || is_link(at_ + 1))) {
        const auto number = count_of(token(at_), 1000, "a board");
        if (!number) return {};
        numbers.push_back(*number);
        ++at_;
        const bool listed = (at_ < words_.size() && words_[at_] == "and") || token(at_).kind == Kind::comma;
        const bool goes_on = listed && is_amount(at_ + 1) && token(at_ + 1).whole && !starts_pair(at_ + 1);
        // `board 4 is 30, 6 sides`: behind a comma a number belongs to the list only if the list goes on to its verb.
        if (!goes_on || (token(at_).kind == Kind::comma && noun_behind(at_ + 1) != Sense::filler && !is_link(at_ + 2))) break;
        ++at_;
    }
    return numbers;
}

// `board 4 is 30`, `boards 2 and 5 are 145x28`, `boards 1 and 3 through`, `board 6 last`, `2 through`, `boards 145x38`.
void Listener::hear_boards(std::size_t first) {
    if (starts_pair(at_)) {
        if (const auto section = section_of(take_pair())) hear_section(*section, first);
        return;
    }
    if (is_amount(at_) && noun_behind(at_) == Sense::length) return hear_offers(false, first);  // boards 2.4 m long
    const std::vector<std::size_t> numbers = take_numbers();
    if (numbers.empty()) return;  // "boards" alone says nothing
    std::string list;
    for (const std::size_t number : numbers) list += fmt::format("{}{}", list.empty() ? "" : ", ", number);
    const std::string who = fmt::format("{} {}", numbers.size() == 1 ? "board" : "boards", list);
    if (take(Sense::through)) {
        for (SaidJoint* joint : joints_) {
            joint->through.insert(joint->through.end(), numbers.begin(), numbers.end());
            joint->shared = joints_.size() > 1;
            if (!joint->kind) joint->kind = JointKind::butt;
        }
        note_phrase(first, fmt::format("{} {} on at the butt joints", who, numbers.size() == 1 ? "runs" : "run"));
        return;
    }
    if (take(Sense::last)) {
        set(draft_.last, numbers.front(), "the board fitted last");
        note_phrase(first, fmt::format("{} is fitted last", who));
        return;
    }
    take_links();
    if (!is_amount(at_)) {
        return tell("sentence.number", fmt::format("{}: I can't see what you say of {}.", in_quotes(said(first, at_)), who),
                    fmt::format("Write it like: {} {} 30, {} {} 145x28, {} through, {} last.", who, numbers.size() == 1 ? "is" : "are", who, numbers.size() == 1 ? "is" : "are", who, who));
    }
    const auto section = take_section();
    if (!section) return;
    for (const std::size_t number : numbers) {
        SaidSection& own = draft_.boards[number];
        set(own.width, section->width, who);
        set(own.thickness, section->thickness, who);
        if (!section->nominal.empty()) own.nominal = section->nominal;
    }
    draft_.numbered.push_back({numbers.size(), *section, {}, said(first, at_)});
    offers_ = &draft_.numbered.back().offers;
    offers_of_ = who;
    note_phrase(first, fmt::format("{}: {}", who, section_words(*section)));
}

// `at 2.4 m for 9.60 and 3.6 m`, `have two of 2.4 m`, `own 1200`.
void Listener::hear_offers(bool own, std::size_t first) {
    std::string means;
    while (true) {
        take_links();
        SaidOffer offer;
        offer.own = own;
        if (own) offer.count = 1;
        if (own && is_amount(at_) && token(at_).whole) {
            std::size_t next = at_ + 1;
            if (is_sense(next, Sense::board)) next += word_at(next).count;
            if (is_sense(next, Sense::on_sale)) ++next;
            if (token(next).kind == Kind::times) ++next;
            next = past_links(next);
            if (is_amount(next) && (next > at_ + 1 || token(at_).spelled)) {
                if (starts_pair(next)) return hear_exception(at_);  // have six of 145x38: a pile, its lengths not said
                const auto count = count_of(token(at_), 100000, "boards");
                if (!count) return;
                offer.count = *count;
                at_ = next;
            }
        }
        if (!is_amount(at_)) {
            return tell("sentence.number", fmt::format("{} wants a length.", in_quotes(said(first, at_))),
                        own ? "Write it like: have two of 2.4 m." : "Write it like: at 2.4 m for 9.60.");
        }
        const auto length = length_of(token(at_++));
        if (!length) return;
        offer.length = *length;
        if (take(Sense::length)) take_links();
        if (is_sense(at_, Sense::price) && is_amount(at_ + 1)) {
            ++at_;
            const SpokenToken& price = token(at_++);
            if (price.unit || price.value < 0.0 || price.text.find_first_not_of("0123456789.") != std::string::npos) {
                return tell("sentence.number", fmt::format("{} is no price.", in_quotes(price.text)), "Write a plain number, like 14.20.");
            }
            offer.price = price.text.front() == '.' ? "0" + price.text : price.text.back() == '.' ? price.text + "0" : price.text;
            while (offer.price.size() > 1 && offer.price[0] == '0' && offer.price[1] != '.') offer.price.erase(0, 1);
        }
        means += means.empty() ? (own ? "you have " : "on sale: ") : ", ";
        means += own ? fmt::format("{} of {}", offer.count, show(*length)) : show(*length);
        if (!offer.price.empty()) means += fmt::format(" for {}", offer.price);
        offers_->push_back(offer);
        if (!(at_ < words_.size() && words_[at_] == "and" && is_amount(at_ + 1) && !starts_pair(at_ + 1))) break;
        ++at_;
    }
    if (!offers_of_.empty()) means += fmt::format(" ({})", offers_of_);
    note_phrase(first, means);
}

bool Listener::hear_board_word(const SpokenWord& row, std::size_t first) {
    const Sense sense = row.sense;
    if (sense == Sense::board) {
        hear_boards(first);
    } else if (sense == Sense::on_edge || sense == Sense::flat) {
        const Lie lie = sense == Sense::flat ? Lie::flat : Lie::on_edge;
        if (draft_.lie && *draft_.lie != lie) {
            tell_twice("how the boards lie", "on edge", "flat");
            return true;
        }
        draft_.lie = lie;
        note_phrase(first, lie == Lie::flat ? "their width lies in the plan" : "their thickness lies in the plan, their width is the height");
    } else if (sense == Sense::species) {
        if (!draft_.species.empty() && draft_.species != row.word) tell_twice("the wood", draft_.species, std::string(row.word));
        draft_.species = row.word;
        note_phrase(first, "the wood");
    } else if (sense == Sense::surface) {
        draft_.surface = row.value == 1 ? Surface::show_face : Surface::moulded;
        note_phrase(first, row.value == 1 ? "one face shows: pieces are not turned over" : "pieces are never turned");
    } else if (sense == Sense::on_sale || sense == Sense::own) {
        hear_offers(sense == Sense::own, first);
    } else {
        return sense == Sense::price && !is_amount(at_);  // "for a window"
    }
    return true;
}

}  // namespace boardring
