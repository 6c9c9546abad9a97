#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "project/nominal_size.hpp"
#include "spoken/listener.hpp"

// What a number of a sentence is: the words round it tell. A number no other phrase takes is the size of the ring.

namespace boardring {
namespace {

// Words that go with one number, which may stand before or behind them.
constexpr std::array<Sense, 18> kNouns{Sense::radius, Sense::diameter, Sense::span,   Sense::rise,  Sense::wide,  Sense::high,
                                       Sense::length, Sense::pieces,   Sense::sides,  Sense::thick, Sense::margin, Sense::kerf,
                                       Sense::gap,    Sense::course,   Sense::spare,  Sense::litres, Sense::from_left, Sense::step};

struct LengthNoun {
    Sense noun;
    std::optional<SaidLength> Draft::*to;
    std::string_view name, means;
    bool zero_allowed = false;
};
constexpr std::array<LengthNoun, 10> kLengthNouns{{
    {Sense::radius, &Draft::radius, "the radius", "a circle of radius {}"},
    {Sense::diameter, &Draft::diameter, "the diameter", "a circle {} across"},
    {Sense::rise, &Draft::rise, "the rise", "it rises {} over its ends"},
    {Sense::wide, &Draft::wide, "the width", "{} wide"},
    {Sense::high, &Draft::high, "the height", "{} high"},
    {Sense::length, &Draft::length, "the length", "{} long"},
    {Sense::margin, &Draft::margin, "the margin", "boards keep {} clear of the line", true},
    {Sense::kerf, &Draft::kerf, "the saw cut", "the saw cuts {} wide", true},
    {Sense::gap, &Draft::gap, "the gap", "joints may stand open by {}", true},
    {Sense::from_left, &Draft::notch_from, "where the notch starts", "the notch starts {} from the left", true},
}};

struct CountNoun {
    Sense noun;
    std::size_t Draft::*to;
    std::size_t most;
    std::string_view one, of, means;
};
constexpr std::array<CountNoun, 3> kCountNouns{{
    {Sense::pieces, &Draft::pieces, 1000, "board", "boards", ""},
    {Sense::course, &Draft::courses, 100, "course", "courses", " of boards"},
    {Sense::spare, &Draft::spares, 100, "spare", "spares", " of each board"},
}};

struct LineWord {
    Sense sense;
    OutlineLine line;
};
constexpr std::array<LineWord, 4> kLineWords{{{Sense::inside, OutlineLine::inside},
                                              {Sense::outside, OutlineLine::outside},
                                              {Sense::over_all, OutlineLine::outside},
                                              {Sense::middle, OutlineLine::middle}}};

constexpr std::array<std::string_view, 3> kLineNames{"inside", "outside", "middle"};
constexpr std::array<std::string_view, 5> kOfNames{"side", "flats", "points", "inscribed", "circumscribed"};

struct OfWord {
    Sense sense;
    RegularOutline::Of of;
};
constexpr std::array<OfWord, 5> kOfWords{{{Sense::flats, RegularOutline::Of::over_flats},
                                          {Sense::points, RegularOutline::Of::over_points},
                                          {Sense::side, RegularOutline::Of::side},
                                          {Sense::inscribed, RegularOutline::Of::inscribed},
                                          {Sense::circumscribed, RegularOutline::Of::circumscribed}}};

bool is_size_word(Sense sense) {
    return sense >= Sense::inside && sense <= Sense::circumscribed && sense != Sense::sides;
}

bool has_two_sizes(SpokenShape shape) {
    return shape == SpokenShape::rectangle || shape == SpokenShape::ell || shape == SpokenShape::u_shape || shape == SpokenShape::tee ||
           shape == SpokenShape::window || shape == SpokenShape::door;
}

}  // namespace

bool is_number_noun(Sense sense) {
    return std::find(kNouns.begin(), kNouns.end(), sense) != kNouns.end();
}

bool Listener::starts_pair(std::size_t at) const {
    const bool between = token(at + 1).kind == Kind::times || is_sense(at + 1, Sense::by);
    return is_amount(at) && between && is_amount(at + 2);
}

// "one 28", "two of 28", "3 boards of 145x28": a count, then the size of so many boards. A count in digits needs a word between.
bool Listener::starts_exception(std::size_t at) const {
    if (!is_amount(at) || !token(at).whole) return false;
    std::size_t next = at + 1;
    if (is_sense(next, Sense::board)) next += word_at(next).count;
    next = past_links(next);
    return is_amount(next) && (token(at).spelled || next > at + 1);
}

Sense Listener::noun_behind(std::size_t at) const {
    const std::size_t next = past_links(at + 1);
    const WordFound found = next < tokens_.size() ? word_at(next) : WordFound{};
    return found.row != nullptr && is_number_noun(found.row->sense) ? found.row->sense : Sense::filler;
}

// "kerf 1/8 in", "margin of 6".
Sense Listener::noun_before(std::size_t at) const {
    while (at > 0 && is_link(at - 1)) --at;
    for (std::size_t count = 2; count >= 1; --count) {
        if (at < count) continue;
        const WordFound found = word_at(at - count);
        if (found.row != nullptr && found.count == count) return found.row->sense;
    }
    return Sense::filler;
}

bool Listener::is_plain(std::size_t at) const {
    const bool names_boards = is_sense(at + 1, Sense::board) || is_sense(at + 1, Sense::through) || is_sense(at + 1, Sense::last);
    return is_amount(at) && !starts_pair(at) && !starts_exception(at) && !names_boards && noun_behind(at) == Sense::filler;
}

// "1100 wide 400 rise" goes in pairs; in "640 margin 6" the margin may be either number.
bool Listener::noun_is_clear(std::size_t at) const {
    std::size_t k = at;
    while (is_amount(k)) {
        const std::size_t noun = past_links(k + 1);
        const WordFound found = noun < tokens_.size() ? word_at(noun) : WordFound{};
        if (found.row == nullptr || !is_number_noun(found.row->sense)) return k == at || starts_pair(k) || starts_exception(k) || !is_plain(k);
        constexpr double kMostCounted = 100.0;
        const bool counted = found.row->sense == Sense::pieces || found.row->sense == Sense::course || found.row->sense == Sense::spare;
        // Sides, and a few pieces or courses, are counted, never measured, behind a number.
        if (found.row->sense == Sense::sides || (counted && token(k).whole && token(k).value <= kMostCounted)) return true;
        k = past_links(noun + found.count);
    }
    return true;
}

// "two high", "2 boards high": courses, where the shape has no height of its own and the number can be none.
bool Listener::counts_courses(std::size_t noun) const {
    constexpr double kMostHigh = 20.0;
    const SpokenToken& number = token(at_);
    if (!is_sense(noun, Sense::high) || !number.whole || number.value > kMostHigh) return false;
    const bool has_height = draft_.shape == SpokenShape::window || draft_.shape == SpokenShape::door || draft_.shape == SpokenShape::arch;
    return number.spelled || noun > at_ + 1 || (draft_.shape != SpokenShape::none && !has_height);
}

void Listener::hear_amount() {
    const std::size_t first = at_;
    if (starts_pair(at_)) return hear_pair(first);
    if (starts_exception(at_)) return hear_exception(first);
    const std::size_t behind_boards = at_ + 1 + (is_sense(at_ + 1, Sense::board) ? word_at(at_ + 1).count : 0);
    if (counts_courses(behind_boards)) {
        at_ = behind_boards + word_at(behind_boards).count;
        return hear_noun(Sense::course, first, first);
    }
    if (is_sense(at_ + 1, Sense::through) || is_sense(at_ + 1, Sense::last) || is_sense(at_ + 1, Sense::board)) {
        if (is_sense(at_ + 1, Sense::board)) {
            at_ += 1 + word_at(at_ + 1).count;
            if (token(first).unit) {
                return tell("sentence.number", fmt::format("{}: a length of boards, or their size?", in_quotes(said(first, at_))),
                            fmt::format("Write at {0} if they are sold so long, have two of {0} if you have them, or {0} thick.", token(first).text));
            }
            return hear_noun(Sense::pieces, first, first);
        }
        return hear_boards(first);
    }
    const bool listed = at_ + 1 < words_.size() && words_[at_ + 1] == "and" && is_amount(at_ + 2);  // "1 and 3 through"
    if (listed && (is_sense(at_ + 3, Sense::through) || is_sense(at_ + 3, Sense::last))) return hear_boards(first);
    const Sense noun = noun_behind(at_);
    if (noun == Sense::filler) return hear_size(first);
    const std::size_t word = past_links(at_ + 1);
    if (!noun_is_clear(at_)) {
        const std::size_t other = past_links(word + word_at(word).count);
        const std::string name(word_at(word).row->word);
        tell("sentence.ambiguous",
             fmt::format("{} can mean {} {} or {} {}.", in_quotes(said(first, other + 1)), token(at_).text, name, name, token(other).text),
             "Put a comma between the two things you say.");
        at_ = other + 1;
        return;
    }
    at_ = word + word_at(word).count;
    if (noun == Sense::course) take(Sense::high);
    hear_noun(noun, first, first);
}

// A noun and its number; the place is already behind both.
void Listener::hear_noun(Sense noun, std::size_t amount, std::size_t first) {
    const SpokenToken& number = token(amount);
    for (const LengthNoun& known : kLengthNouns) {
        const bool chord = noun == Sense::span && known.noun == Sense::wide && number.unit.has_value();  // "spans 1100 mm"
        if (known.noun == noun || chord) return hear_length_noun(known.name, known.means, known.zero_allowed, draft_.*known.to, number, first);
    }
    if (noun == Sense::thick) return hear_length_noun("the thickness", "boards {} thick", false, draft_.section.thickness, number, first);
    for (const CountNoun& known : kCountNouns) {
        if (known.noun != noun) continue;
        const auto count = count_of(number, known.most, known.of);
        set(draft_.*known.to, count, std::string("the number of ") + std::string(known.of));
        if (count) note_phrase(first, fmt::format("{} {}{}", *count, *count == 1 ? known.one : known.of, known.means));
        return;
    }
    if (noun == Sense::sides) return hear_sides(number, first);
    if (noun == Sense::litres) return hear_litres(number, first);
    const bool span = noun == Sense::span;
    const auto deg = angle_of(number, span ? 359.9 : 15.0);
    set(span ? draft_.span_deg : draft_.step_deg, deg, span ? "the span" : "the saw's step");
    if (deg) note_phrase(first, fmt::format(fmt::runtime(span ? "{} degrees of the circle" : "the saw can be set to {} degrees"), show_number(*deg, 3)));
}

void Listener::hear_length_noun(std::string_view name, std::string_view means, bool zero_allowed, std::optional<SaidLength>& to,
                                const SpokenToken& number, std::size_t first) {
    const std::optional<SaidLength> value = length_of(number, zero_allowed);
    set(to, value, std::string(name));
    if (value) note_phrase(first, fmt::format(fmt::runtime(means), show(*value)));
}

void Listener::hear_sides(const SpokenToken& number, std::size_t first) {
    const auto count = count_of(number, 1000, "sides");
    if (!count) return;
    if (*count < 3) return tell("sentence.number", fmt::format("A ring of {} sides does not close.", *count), "Write 3 or more.");
    if (draft_.corners == 0 && draft_.shape != SpokenShape::none && !draft_.circle) {
        return tell_twice("the shape", draft_.shape_word, fmt::format("{} sides", *count));
    }
    set(draft_.corners, count, "the number of sides");
    draft_.shape = SpokenShape::regular;
    if (draft_.shape_word.empty()) draft_.shape_word = regular_name(*count);
    note_phrase(first, fmt::format("a regular ring of {} boards", *count));
}

void Listener::hear_litres(const SpokenToken& number, std::size_t first) {
    if (number.unit || !(number.value > 0.0)) {
        return tell("sentence.number", fmt::format("{} is no number of litres.", in_quotes(number.text)), "Write a plain number, like 90 litres.");
    }
    if (draft_.wish.kind != Wish::Kind::none && !(draft_.wish.kind == Wish::Kind::litres && draft_.wish.litres == number.value)) {
        return tell("sentence.said-twice", "You say two wishes for the size.", "Leave one of them out.");
    }
    draft_.wish.kind = Wish::Kind::litres;
    draft_.wish.litres = number.value;
    note_phrase(first, fmt::format("as large as holds about {} litres", show_number(number.value, 2)));
}

// A run of one plain number and words that say how it is measured: `640 over flats inside`.
void Listener::hear_size(std::size_t first) {
    const auto set_of = [this](RegularOutline::Of of, const std::string& word) {
        if (draft_.of && *draft_.of != of) return tell_twice("how the ring is measured", std::string(kOfNames[static_cast<std::size_t>(*draft_.of)]), word);
        draft_.of = of;
    };
    const auto set_line = [this](OutlineLine line, const std::string& word) {
        if (draft_.line && *draft_.line != line) return tell_twice("where the size is taken", std::string(kLineNames[static_cast<std::size_t>(*draft_.line)]), word);
        draft_.line = line;
    };
    at_ = first;
    std::size_t amounts = 0;
    while (true) {
        const WordFound found = word_at(at_);
        if (is_plain(at_) && amounts == 0) {
            if (is_unknown(at_ + 1) || follows_unknown(at_)) {  // it belongs to a word I don't know
                ++at_;
                if (at_ == first + 1) return;
                continue;
            }
            ++amounts;
            const std::optional<SaidLength> size = length_of(token(at_));
            if (size && draft_.size && draft_.size->mm != size->mm) {
                tell("sentence.ambiguous", fmt::format("{} and {} can each be the size.", show(*draft_.size), show(*size)),
                     "Say one size, and what the other number is: thick, wide, courses, margin ...");
            } else if (size) {
                draft_.size = size;
            }
            ++at_;
            continue;
        }
        if (found.row == nullptr || !(is_size_word(found.row->sense) || is_link(at_))) break;
        if (is_link(at_) && found.count == 1) {
            const std::size_t next = past_links(at_);
            const WordFound behind = word_at(next);
            if (!(is_plain(next) && amounts == 0) && !(behind.row != nullptr && is_size_word(behind.row->sense))) break;
        }
        const std::string word = said(at_, at_ + found.count);
        for (const LineWord& known : kLineWords) {
            if (known.sense == found.row->sense) set_line(known.line, word);
        }
        for (const OfWord& known : kOfWords) {
            if (known.sense == found.row->sense) set_of(known.of, word);
        }
        at_ += found.count;
    }
    const std::size_t phrase = note_phrase(first, "");
    if (amounts > 0) size_phrase_ = phrase;
    std::string means;
    if (amounts > 0 && draft_.size) means = show(*draft_.size);
    if (draft_.of) {
        static constexpr std::array<std::string_view, 5> kOf{"along each side", "over the flats", "over the points", "the circle touching the sides", "the circle through the corners"};
        means += (means.empty() ? "" : " ") + std::string(kOf[static_cast<std::size_t>(*draft_.of)]);
    }
    if (draft_.line) {
        static constexpr std::array<std::string_view, 3> kLine{"measured inside", "measured outside", "measured along the middle of the boards"};
        means += (means.empty() ? "" : ", ") + std::string(kLine[static_cast<std::size_t>(*draft_.line)]);
    }
    heard_.phrases[phrase].means = means;
}

Listener::Pair Listener::take_pair() {
    Pair pair;
    pair.first = token(at_);
    pair.by_word = token(at_ + 1).kind != Kind::times;
    pair.second = token(at_ + 2);
    pair.said = said(at_, at_ + 3);
    at_ += 3;
    // `5 1/2 x 3/4 in`: the unit is said once for both.
    if (!pair.first.unit && pair.second.unit) {
        pair.first.unit = pair.second.unit;
        pair.first.text += fmt::format(" {}", unit_name(*pair.second.unit));
    }
    if (token(at_).kind == Kind::word && token(at_).text == "s" && token(at_).begin == token(at_ - 1).end) ++at_;  // 2x6s
    if ((token(at_).kind == Kind::times || is_sense(at_, Sense::by)) && is_amount(at_ + 1)) {
        tell("sentence.number", fmt::format("{} has three sizes.", in_quotes(said(at_ - 3, at_ + 2))),
             pair.by_word ? "Write length by width, and how high: 1200 by 600, 400 high." : "Write width x thickness, and the length on its own: 145x38 at 2.4 m.");
        at_ += 2;
    }
    return pair;
}

void Listener::hear_pair(std::size_t first) {
    const bool after_shape = shape_wants_pair_;
    Pair pair = take_pair();
    const std::size_t next = past_links(at_);
    const WordFound found = next < tokens_.size() ? word_at(next) : WordFound{};
    const Sense behind = found.row != nullptr ? found.row->sense : Sense::filler;
    // L 1800 by 1200 notch 600 by 500: what stands right behind the shape is its size, if the notch has a size of its own.
    if (behind == Sense::notch && !(after_shape && !draft_.first && starts_pair(past_links(next + found.count)))) {
        at_ = next + found.count;
        pair.phrase = note_phrase(first, "");
        return take_as_notch(pair);
    }
    const bool names_boards = behind == Sense::on_edge || behind == Sense::flat || behind == Sense::board || behind == Sense::species ||
                              behind == Sense::surface;
    const bool nominal = !pair.by_word && !pair.first.unit && !pair.second.unit &&
                         nominal_size(pair.first.text + "x" + pair.second.text).has_value();
    const bool one_size = draft_.shape == SpokenShape::regular || draft_.shape == SpokenShape::part_ring || draft_.shape == SpokenShape::arch;
    if (draft_.shape == SpokenShape::arch && pair.by_word && !names_boards) {  // an arch 1100 by 400
        const auto wide = length_of(pair.first), rise = length_of(pair.second);
        set(draft_.wide, wide, "the width");
        set(draft_.rise, rise, "the rise");
        if (wide && rise) note_phrase(first, fmt::format("{} wide, rising {}", show(*wide), show(*rise)));
        return;
    }
    if (names_boards || (nominal && !after_shape) || one_size) {
        if (const auto section = section_of(pair)) hear_section(*section, first);
        return;
    }
    pair.phrase = note_phrase(first, "");
    const bool measured = is_size_word(behind);
    if (has_two_sizes(draft_.shape) && (after_shape || measured || pair.by_word)) return take_as_size(pair);
    pair.measured = measured;
    pairs_.push_back(std::move(pair));
}

void Listener::take_as_size(const Pair& pair) {
    const auto first = length_of(pair.first), second = length_of(pair.second);
    if (!first || !second) return;
    if (draft_.first) {
        return tell("sentence.ambiguous", fmt::format("{} by {} and {} by {} can each be the size.", show(*draft_.first), show(*draft_.second), show(*first), show(*second)),
                    "Say which pair is the boards: 145x38 on edge, or boards 145x38.");
    }
    draft_.first = first;
    draft_.second = second;
    heard_.phrases[pair.phrase].means = fmt::format("{} by {}", show(*first), show(*second));
}

void Listener::take_as_notch(const Pair& pair) {
    const auto along = length_of(pair.first), across = length_of(pair.second);
    set(draft_.notch_along, along, "the notch");
    set(draft_.notch_across, across, "the notch");
    if (along && across) heard_.phrases[pair.phrase].means = fmt::format("a notch {} long and {} deep is missing", show(*along), show(*across));
}

// Pairs that no word claimed: one is the size and one the boards, and only where one of them is already known the other can be told.
void Listener::settle_pairs() {
    const auto of_frame = std::find_if(pairs_.begin(), pairs_.end(), [](const Pair& pair) { return pair.by_word || pair.measured; });
    if (draft_.shape == SpokenShape::none && draft_.corners == 0 && of_frame != pairs_.end()) {
        draft_.shape = SpokenShape::rectangle;
        draft_.shape_word = "rectangle";
        draft_.assumed.emplace_back("a rectangle: four boards, square corners");
        take_as_size(*of_frame);
        pairs_.erase(of_frame);
    }
    // Where a size was said in another way, be it half of it, a pair is the boards.
    const bool sized = draft_.first || draft_.wide || draft_.high || draft_.length || draft_.head || !draft_.legs.empty() || (draft_.size && draft_.shape_word != "square");
    const bool wants_size = has_two_sizes(draft_.shape) && !sized && draft_.wish.kind == Wish::Kind::none;
    const bool has_boards = draft_.section.width || !draft_.section.nominal.empty();
    if (pairs_.size() == 1 && wants_size && has_boards) return take_as_size(pairs_.front());
    if (pairs_.size() == 2 && wants_size && !has_boards && pairs_[0].by_word != pairs_[1].by_word) {
        take_as_size(pairs_[pairs_[0].by_word ? 0 : 1]);
        pairs_.erase(pairs_.begin() + (pairs_[0].by_word ? 0 : 1));
    } else if (!pairs_.empty() && wants_size) {
        tell("sentence.ambiguous",
             pairs_.size() == 1 ? fmt::format("{} can mean the size of the frame or the size of its boards.", in_quotes(pairs_[0].said))
                                : fmt::format("{} and {}: either can be the size of the frame, and the other its boards.", in_quotes(pairs_[0].said), in_quotes(pairs_[1].said)),
             "Write the size with \"by\", 1200 by 600, and the boards with x and how they lie, 145x38 on edge.");
        return;
    }
    for (const Pair& pair : pairs_) {
        const auto section = section_of(pair);
        if (!section) continue;
        set(draft_.section.width, section->width, "the boards' width");
        set(draft_.section.thickness, section->thickness, "the boards' thickness");
        heard_.phrases[pair.phrase].means = section_words(*section);
    }
}

}  // namespace boardring
