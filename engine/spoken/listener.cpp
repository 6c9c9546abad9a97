#include "spoken/listener.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/inch_units.hpp"
#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "project/nominal_size.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostUnknown = 5;  // more unknown words than that say only that this is no sentence of ours

// True if an amount is nothing but digits, a point, and the unit behind it.
bool is_plain_decimal(const std::string& text) {
    const std::size_t rest = text.find_first_not_of("0123456789.");
    return rest == std::string::npos ||
           std::all_of(text.begin() + static_cast<std::ptrdiff_t>(rest), text.end(),
                       [](char c) { return c == ' ' || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '"'; });
}

std::string escaped(const std::string& text) {
    std::string json = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') json.push_back('\\');
        json.push_back(c);
    }
    return json + '"';
}

}  // namespace

Listener::Listener(std::string_view text, std::vector<SpokenToken> tokens) : text_(text), tokens_(std::move(tokens)) {
    for (const SpokenToken& t : tokens_) words_.push_back(t.kind == Kind::word ? t.text : "");
}

PhrasesHeard Listener::hear() {
    choose_unit();
    while (token(at_).kind != Kind::end) {
        const std::size_t before = at_;
        hear_one();
        // A word that begins a phrase which does not follow says nothing here.
        if (at_ <= before) hear_unknown(at_ = before), ++at_;
    }
    settle_pairs();
    return std::move(heard_);
}

// Plain numbers are mm, unless inches or feet are the only units named. Where both are named, or boards are called by their sawn
// names and nothing else tells, a plain number is not guessed.
void Listener::choose_unit() {
    std::string metric, imperial, small_imperial, nominal;
    std::optional<Unit> stated;
    for (std::size_t k = 0; k < tokens_.size(); ++k) {
        const SpokenToken& t = tokens_[k];
        if (t.unit) {
            // A saw cut or a margin is said on another rule than the job's: it tells nothing of the sizes.
            const Sense before = k > 0 ? noun_before(k) : Sense::filler, behind = noun_behind(k);
            const auto small = [](Sense s) { return s == Sense::kerf || s == Sense::gap || s == Sense::margin; };
            const bool of_tools = small(before) || small(behind);
            (in_inches(*t.unit) ? (of_tools ? small_imperial : imperial) : metric) = t.text;
        }
        if (is_sense(k, Sense::called)) {
            k = title_end(k + word_at(k).count).token - 1;
        } else if (is_sense(k, Sense::unit) && t.text != "in" && t.text != "m") {
            stated = static_cast<Unit>(word_at(k).row->value);
        }
        const bool bare_pair = is_amount(k) && !t.unit && token(k + 1).kind == Kind::times && is_amount(k + 2) && !token(k + 2).unit;
        if (bare_pair && nominal_size(t.text + "x" + token(k + 2).text)) nominal = said(k, k + 3);
    }
    if (stated) {
        draft_.unit = *stated;
        return;
    }
    if (!imperial.empty() && metric.empty()) draft_.unit = Unit::inch;
    if (!imperial.empty() && !metric.empty()) bare_is_unclear_ = fmt::format("you also say {} and {}", in_quotes(metric), in_quotes(imperial));
    const bool small_alone = !small_imperial.empty() && imperial.empty() && metric.empty();
    if (small_alone) bare_is_unclear_ = fmt::format("only {} has a unit", in_quotes(small_imperial));
    if (imperial.empty() && metric.empty() && !small_alone && !nominal.empty()) bare_is_unclear_ = fmt::format("{} is an inch name, and nothing else tells", in_quotes(nominal));
}

void Listener::hear_one() {
    const SpokenToken& t = token(at_);
    const std::size_t before = at_;
    if (t.kind == Kind::comma) {
        shape_wants_pair_ = false;
        ++at_;
    } else if (t.kind == Kind::amount) {
        hear_amount();
    } else if (const WordFound found = word_at(at_); found.row != nullptr) {
        hear_word(*found.row, found.count);
    } else {
        hear_unknown(at_++);
    }
    if (at_ == before) hear_unknown(at_++);  // no phrase took it
}

void Listener::hear_word(const SpokenWord& row, std::size_t count) {
    const std::size_t first = at_;
    at_ += count;
    if (row.sense == Sense::filler) return;
    if (row.sense == Sense::unit) {
        if (row.word != "in" || words_[first] != "in") note_phrase(first, fmt::format("plain numbers are {}", unit_name(draft_.unit)));
        return;
    }
    if (row.sense <= Sense::thing) return hear_shape(row, first);
    if (hear_outline_word(row, first) || hear_board_word(row, first) || hear_other_word(row, first)) return;
    hear_unknown(first);
}

void Listener::hear_unknown(std::size_t index) {
    if (++unknown_ > kMostUnknown) return;
    const SpokenToken& t = token(index);
    const std::string name = in_quotes(t.kind == Kind::word ? text_.substr(t.begin, t.end - t.begin) : t.text);
    const std::string nearest = t.kind == Kind::word ? nearest_word(t.text, known_words()) : "";
    if (t.kind == Kind::amount) {
        tell("sentence.unknown-word", fmt::format("{} says nothing here.", name), "Leave it out, or say what it is: thick, wide, courses, margin ...");
    } else if (const WordFound alone = word_at(index); alone.row != nullptr) {
        tell("sentence.unknown-word", fmt::format("{} says nothing here.", name),
             alone.row->example.empty() ? "Leave it out." : fmt::format("It is read in phrases like: {}.", alone.row->example));
    } else if (nearest == t.text) {
        tell("sentence.unknown-word", fmt::format("{} alone says nothing.", name), "It is half of something: all words: boardring plan --words.");
    } else if (!nearest.empty()) {
        tell("sentence.unknown-word", fmt::format("{} is no word I know.", name), fmt::format("Did you mean {}?", in_quotes(nearest)));
    } else {
        tell("sentence.unknown-word", fmt::format("{} is no {} I know.", name, t.kind == Kind::word ? "word" : "mark"),
             "I know shapes like hexagon and rectangle, sizes, boards, joints and saws. All words: boardring plan --words.");
    }
}

bool Listener::is_sense(std::size_t at, Sense sense) const {
    if (at >= tokens_.size()) return false;
    const WordFound found = word_at(at);
    return found.row != nullptr && found.row->sense == sense;
}

bool Listener::is_unknown(std::size_t at) const {
    return token(at).kind == Kind::word && word_at(at).row == nullptr;
}

bool Listener::is_link(std::size_t at) const {
    if (at >= words_.size()) return false;
    const std::string& word = words_[at];
    return word == "of" || word == "is" || word == "are" || word == "to" || word == "the" || word == "a" || word == "all" || word == "from" ||
           word == "which" || word == "only" || word == "just" || word == "them";
}

bool Listener::follows_unknown(std::size_t at) const {
    while (at > 0 && is_link(at - 1)) --at;
    return at > 0 && is_unknown(at - 1);
}

std::size_t Listener::past_links(std::size_t at) const {
    while (is_link(at) && word_at(at).count == 1) ++at;
    return at;
}

bool Listener::take(Sense sense) {
    if (!is_sense(at_, sense)) return false;
    at_ += word_at(at_).count;
    return true;
}

std::string Listener::said(std::size_t first, std::size_t end) const {
    while (end > first + 1 && token(end - 1).kind == Kind::comma) --end;
    return std::string(text_.substr(token(first).begin, token(end - 1).end - token(first).begin));
}

std::size_t Listener::note_phrase(std::size_t first, std::string means) {
    heard_.phrases.push_back({said(first, at_), std::move(means)});
    return heard_.phrases.size() - 1;
}

void Listener::tell(std::string code, std::string message, std::string fix) {
    heard_.findings.push_back({Severity::error, std::move(code), "", std::move(message), std::move(fix)});
}

void Listener::tell_twice(const std::string& what, const std::string& first, const std::string& second) {
    tell("sentence.said-twice", fmt::format("You say two different things of {}: {} and {}.", what, first, second),
         "Leave one of them out.");
}

std::optional<SaidLength> Listener::length_of(const SpokenToken& amount, bool zero_allowed) {
    if (!amount.unit && !bare_is_unclear_.empty()) {
        if (!std::exchange(told_unclear_, true)) {
            tell("sentence.ambiguous", fmt::format("{} can mean {} mm or {} in: {}.", in_quotes(amount.text), amount.text, amount.text, bare_is_unclear_),
                 "Write the unit behind each size, or say what plain numbers are: in mm, or in inches.");
        }
        return std::nullopt;
    }
    const std::string text = amount.spelled ? fmt::format("{:.0f}", amount.value) : amount.text;
    const Result<LengthRead> read = parse_length(text, draft_.unit);
    if (!read.ok()) {
        append(heard_.findings, read.findings());
        return std::nullopt;
    }
    const double mm = read.value().mm;
    if (mm < 0.0 || (mm == 0.0 && !zero_allowed)) {
        tell("sentence.number", fmt::format("{} is no size.", in_quotes(amount.text)), "Write a size above 0.");
        return std::nullopt;
    }
    const bool as_number = is_plain_decimal(text) && (!amount.unit || *amount.unit == draft_.unit);
    return SaidLength{mm, as_number ? fmt::format("{}", amount.value) : escaped(text)};
}

std::optional<double> Listener::angle_of(const SpokenToken& amount, double most_deg) {
    const Result<AngleRead> read = parse_angle(amount.text);
    if (!read.ok()) {
        append(heard_.findings, read.findings());
        return std::nullopt;
    }
    const double deg = read.value().deg;
    if (deg < 0.0 || deg > most_deg) {
        tell("sentence.number", fmt::format("{} is no angle for this; it is 0 to {} degrees.", in_quotes(amount.text), show_angle(most_deg)),
             fmt::format("Write an angle up to {}.", show_angle(most_deg)));
        return std::nullopt;
    }
    return deg;
}

std::optional<std::size_t> Listener::count_of(const SpokenToken& amount, std::size_t most, std::string_view what) {
    const bool good = amount.whole && amount.value >= 1.0 && amount.value <= static_cast<double>(most);
    if (good) return static_cast<std::size_t>(amount.value);
    tell("sentence.number", fmt::format("{} is no number of {}; it is a whole number from 1 to {}.", in_quotes(amount.text), what, most),
         fmt::format("Write a whole number of {}.", what));
    return std::nullopt;
}

void Listener::set(std::optional<SaidLength>& to, const std::optional<SaidLength>& value, const std::string& what) {
    if (!value) return;
    if (to && to->mm != value->mm) return tell_twice(what, show(*to), show(*value));
    to = value;
}

void Listener::set(std::optional<double>& to, const std::optional<double>& value, const std::string& what) {
    if (!value) return;
    if (to && *to != *value) return tell_twice(what, show_angle(*to, 2), show_angle(*value, 2));
    to = value;
}

void Listener::set(std::size_t& to, const std::optional<std::size_t>& value, const std::string& what) {
    if (!value) return;
    if (to != 0 && to != *value) return tell_twice(what, fmt::format("{}", to), fmt::format("{}", *value));
    to = *value;
}

}  // namespace boardring
