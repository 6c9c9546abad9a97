#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "base/quoted.hpp"
#include "io/wording.hpp"
#include "project/joint_kinds.hpp"
#include "spoken/listener.hpp"

// Joints, tools, the title and wishes.

namespace boardring {
namespace {

constexpr std::array<std::string_view, 3> kPresets{"garden", "joinery", "fine"};

std::string_view spoken_joint(JointKind kind) {
    switch (kind) {
        case JointKind::mitre: return "mitre";
        case JointKind::butt: return "butt joint";
        case JointKind::half_lap: return "half-lap";
    }
    return "";
}

}  // namespace

// The corner a token names, "" if it is none. What is a word or a mark of its own elsewhere (m, x, in, by) is a letter only as a capital.
std::string Listener::letter_at(std::size_t at) const {
    constexpr std::size_t kMostLetters = 2;
    const SpokenToken& t = token(at);
    const std::string_view written = text_.substr(t.begin, t.end - t.begin);
    const bool capitals = !written.empty() && std::all_of(written.begin(), written.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
    if (t.kind == Kind::times && !capitals) return "";
    if (t.kind != Kind::word && t.kind != Kind::times) return "";
    const bool says_else = is_sense(at, Sense::unit) || is_sense(at, Sense::by) || t.text == "is" || t.text == "of" || t.text == "no";
    if (written.size() > kMostLetters || (says_else && !(capitals && written.size() == 1))) return "";
    const std::optional<std::size_t> corner = corner_index(written);
    return corner ? corner_letter(*corner) : "";
}

// Corner letters with `and` or commas between them; nothing is taken if none stands there.
std::vector<std::string> Listener::take_letters() {
    std::vector<std::string> letters;
    for (std::string letter = letter_at(at_); !letter.empty(); letter = letter_at(at_)) {
        letters.push_back(std::move(letter));
        ++at_;
        const bool listed = (at_ < words_.size() && words_[at_] == "and") || token(at_).kind == Kind::comma;
        const SpokenToken& next = token(at_ + 1);
        const bool upper = next.end == next.begin + 1 && text_[next.begin] >= 'A' && text_[next.begin] <= 'Z';
        if (!listed || !upper) break;
        ++at_;
    }
    return letters;
}

void Listener::hear_joint_kind(JointKind kind, std::size_t first) {
    take(Sense::joint);
    take_all_corners();
    std::vector<std::string> letters;
    const bool ends = token(at_ + 1).kind == Kind::comma || token(at_ + 1).kind == Kind::end;
    if (is_sense(at_, Sense::on_sale) && words_[at_] == "at" && ends) {
        ++at_;
        return tell("sentence.unknown-word", fmt::format("{}: I can't see at which corners.", in_quotes(said(first, at_))), "Name corners by their letters: butt at B and C.");
    }
    if (is_sense(at_, Sense::on_sale) && (token(at_ + 1).kind == Kind::word || token(at_ + 1).kind == Kind::times)) {
        ++at_;
        if (words_[at_] == "the") ++at_;
        if (words_[at_] == "corners" || is_sense(at_, Sense::joint)) ++at_;
        letters = take_letters();
        if (letters.empty()) {
            return tell("sentence.unknown-word", fmt::format("{}: I can't see at which corners.", in_quotes(said(first, at_ + 1))),
                        "Name corners by their letters: butt at B and C.");
        }
    }
    if (letters.empty()) {
        if (draft_.joints.kind && *draft_.joints.kind != kind && draft_.joints.through.empty()) {
            return tell_twice("the joints", std::string(spoken_joint(*draft_.joints.kind)), std::string(spoken_joint(kind)));
        }
        draft_.joints.kind = kind;
        joints_ = {&draft_.joints};
        note_phrase(first, fmt::format("a {} at every corner not named otherwise", spoken_joint(kind)));
        return;
    }
    set_corners(letters, kind, first);
}

// "mitre all corners", "butt at the corners": no more than the joint alone says.
void Listener::take_all_corners() {
    std::size_t k = at_;
    if (k < words_.size() && words_[k] == "at") ++k;
    k = past_links(k);
    const bool corners = k < words_.size() && (words_[k] == "corners" || words_[k] == "joints");
    if (corners && letter_at(k + 1).empty()) at_ = k + 1;
}

void Listener::set_corners(const std::vector<std::string>& letters, JointKind kind, std::size_t first) {
    std::string list;
    joints_.clear();
    for (const std::string& letter : letters) {
        SaidJoint& joint = draft_.corner_joints[letter];
        if (joint.kind && *joint.kind != kind) {
            return tell_twice("corner " + letter, std::string(spoken_joint(*joint.kind)), std::string(spoken_joint(kind)));
        }
        joint.kind = kind;
        joints_.push_back(&joint);
        list += (list.empty() ? "" : ", ") + letter;
    }
    note_phrase(first, fmt::format("a {} at {}", spoken_joint(kind), list));
}

// `corner B butt`, `joints B and C are half-laps`.
bool Listener::hear_corners(std::size_t first) {
    const std::size_t before = at_;
    const std::vector<std::string> letters = take_letters();
    if (letters.empty()) return words_[first] != "corners";  // "joints" alone says nothing
    take_links();
    const WordFound kind = word_at(at_);
    const std::optional<JointKind> joint = joint_of(kind.row);
    if (!joint) {
        tell("sentence.unknown-word", fmt::format("{}: I can't see which joint.", in_quotes(said(first, std::max(at_, before)))),
             fmt::format("Say {}: corner B butt.", joined({kJointWords.begin(), kJointWords.end()})));
        return true;
    }
    at_ += kind.count;
    set_corners(letters, *joint, first);
    return true;
}

// Goes on to the next comma, or to the closing quote if it opens with one.
Listener::Title Listener::title_end(std::size_t at) const {
    std::size_t begin = token(at).begin, end = begin;
    const std::string_view rest = text_.substr(begin);
    const std::string_view close = rest.starts_with("\"") ? "\"" : rest.starts_with("\xE2\x80\x9C") ? "\xE2\x80\x9D" : "";
    const std::size_t opened = close.empty() ? 0 : close == "\"" ? 1 : 3;
    const std::size_t closed = close.empty() ? std::string_view::npos : rest.find(close, opened);
    if (closed != std::string_view::npos) {
        end = begin + closed;
        begin += opened;
        while (token(at).kind != Kind::end && token(at).begin < end + close.size()) ++at;
    } else {
        while (token(at).kind != Kind::comma && token(at).kind != Kind::end) end = token(at++).end;
    }
    return {std::string(text_.substr(begin, end - begin)), at};
}

void Listener::hear_title(std::size_t first) {
    Title title = title_end(at_);
    at_ = title.token;
    if (title.text.empty()) return tell("sentence.number", "There is no title behind \"called\".", "Write it like: called Courtyard planter.");
    if (!draft_.title.empty()) return tell_twice("the title", in_quotes(draft_.title), in_quotes(title.text));
    draft_.title = std::move(title.text);
    note_phrase(first, "its title");
}

void Listener::hear_wish(Sense wish, std::size_t first) {
    take_links();
    const auto twice = [this](Wish::Kind kind) {
        if (draft_.wish.kind == Wish::Kind::none || draft_.wish.kind == kind) return false;
        tell("sentence.said-twice", "You say two wishes for the size.", "Leave one of them out.");
        return true;
    };
    if (wish == Sense::as_large) {
        if (twice(Wish::Kind::boards_give)) return;
        draft_.wish.kind = Wish::Kind::boards_give;
        note_phrase(first, "the largest size the boards you have allow");
    } else if (wish == Sense::fits_round) {
        if (!is_amount(at_) || starts_pair(at_)) {
            return tell("sentence.number", "\"fits round\" wants how wide the round thing is.", "Write it like: fits round 400.");
        }
        const auto size = length_of(token(at_++));
        if (!size || twice(Wish::Kind::fits_round)) return;
        draft_.wish = {Wish::Kind::fits_round, size, std::nullopt, 0.0};
        note_phrase(first, fmt::format("inside, a round thing {} across just fits", show(*size)));
    } else {
        if (!starts_pair(at_)) {
            return tell("sentence.number", "\"stands on\" wants two sizes.", "Write it like: stands on 800 by 600.");
        }
        const Pair pair = take_pair();
        const auto length = length_of(pair.first), width = length_of(pair.second);
        if (!length || !width || twice(Wish::Kind::stands_on)) return;
        draft_.wish = {Wish::Kind::stands_on, length, width, 0.0};
        note_phrase(first, fmt::format("outside, as large as stands on {} by {}", show(*length), show(*width)));
    }
}

bool Listener::hear_angle(std::optional<double>& to, const std::string& what, std::string_view means, double most_deg, std::size_t first) {
    if (is_sense(at_, Sense::on_sale) && words_[at_] == "at") ++at_;
    take_links();
    if (!is_amount(at_)) return false;
    const auto deg = angle_of(token(at_++), most_deg);
    set(to, deg, what);
    if (deg) note_phrase(first, fmt::format(fmt::runtime(means), show_angle(*deg, 2)));
    return true;
}

bool Listener::hear_reads(std::size_t first) {
    if (!hear_angle(draft_.reads_deg, "what the saw reads", "the saw's scale reads {} at a square cut", 90.0, first)) return false;
    if (is_sense(at_, Sense::on_sale) && is_sense(at_ + 1, Sense::square)) at_ += 2;
    if (draft_.reads_deg && *draft_.reads_deg != 0.0 && *draft_.reads_deg != 90.0) {
        tell("sentence.number", fmt::format("A saw reads 0 or 90 at a square cut; you say {}.", show_angle(*draft_.reads_deg, 2)),
             "Set the saw square and say what its scale shows.");
    }
    return true;
}

bool Listener::hear_leave_long(std::size_t first) {
    take_links();
    if (!is_amount(at_)) return false;
    const auto value = length_of(token(at_++), true);
    take(Sense::length);
    set(draft_.leave_long, value, "what is left long");
    if (value) note_phrase(first, fmt::format("the last board is left {} long and trimmed to fit", show(*value)));
    return true;
}

void Listener::hear_preset(const SpokenWord& row, std::size_t first) {
    const auto preset = static_cast<Preset>(row.value - 1);
    if (draft_.preset && *draft_.preset != preset) return tell_twice("how true it is to be", std::string(kPresets[static_cast<std::size_t>(*draft_.preset)]), std::string(row.word));
    draft_.preset = preset;
    note_phrase(first, fmt::format("as true as {} work", row.word));
}

bool Listener::hear_other_word(const SpokenWord& row, std::size_t first) {
    constexpr double kMostTilt_deg = 89.9;
    const Sense sense = row.sense;
    if (const std::optional<JointKind> joint = joint_of(&row)) return hear_joint_kind(*joint, first), true;
    if (sense == Sense::joint) return hear_corners(first);
    if (sense == Sense::called) return hear_title(first), true;
    if (sense == Sense::preset) return hear_preset(row, first), true;
    if (sense == Sense::tilt) return hear_angle(draft_.tilt_deg, "how far the saw tilts", "the saw tilts to {} degrees", kMostTilt_deg, first);
    if (sense == Sense::swing) return hear_angle(draft_.swing_deg, "how far the saw swings", "the saw swings to {} degrees", kMostTilt_deg, first);
    if (sense == Sense::stop) return hear_angle(draft_.stop_deg, "where the saw stops", "the saw stops at {} degrees", kMostTilt_deg, first);
    if (sense == Sense::reads) return hear_reads(first);
    if (sense == Sense::leave_long) return hear_leave_long(first);
    if (sense == Sense::fits_round || sense == Sense::stands_on || sense == Sense::as_large) return hear_wish(sense, first), true;
    return sense == Sense::about && is_amount(at_) && noun_behind(at_) == Sense::litres;
}

}  // namespace boardring
