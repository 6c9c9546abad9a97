#include "spoken/interview.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/inch_units.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "io/edit_json.hpp"
#include "io/read_project.hpp"
#include "io/text_bytes.hpp"
#include "spoken/notebook_line.hpp"
#include "spoken/phrase.hpp"
#include "spoken/sentence.hpp"

namespace boardring {
namespace {

enum Asked : std::size_t { kShape, kBasis, kSize, kPile, kLie, kShows, kJoints, kSaw, kTrue };

constexpr std::array<std::string_view, Interview::kQuestions> kQuestion{
    "What shape? triangle, hexagon, octagon, rectangle, L, half ring, arch, window, door ... or how many sides",
    "Are these sizes you want, or sizes you found with a tape? wanted or found",
    "How large, measured how, and on which side: inside (the soil side) or outside (the air side)?",
    "Which boards? width x thickness, as measured; then those that differ: one 28, or boards 2 and 3 are 30",
    "How do they lie? on edge (standing, as a planter's) or flat (as a casing's); and how many courses",
    "What shows? both faces alike, show face (one good face), or moulded",
    "How do they meet? mitred, butt or half-lap; single corners too: butt at B, 2 through",
    "How far does your saw go, and what does its scale read at a plain square cut, 0 or 90?",
    "How true must it be? garden (3 mm), joinery (1 mm) or fine (0.3 mm)"};

constexpr std::array<std::string_view, Interview::kQuestions> kWhy{
    "The shape says how many boards there are, and what the corners must add up to.",
    "A size you want is taken as it is. Sizes you found have small errors: I check that they can close, and say which one is likely wrong if they cannot.",
    "The same number inside or outside is another planter: two boards' thickness apart. Over flats is straight across from side to side, over points from corner to corner.",
    "Where a thick board meets a thin one their cuts differ, and so do their lengths. Measure them: a sawn 2 by 6 is neither.",
    "On edge the cut tilts through the thickness, flat it swings across the width. Nothing else changes the angles as much.",
    "A board with one good face may not be turned over when sawing saves wood that way; a moulding may not be turned at all.",
    "A mitre hides the end grain and wants the saw set twice; a butt joint is one square or slanted cut; a half-lap is strong and wants two shoulders.",
    "Cuts beyond its stop need a jig or another joint: better known before buying. I print the number of your own scale.",
    "It says which errors I plan for, how finely I print, and how wide a joint may stand open in the end."};

constexpr std::string_view kReadings =
    "Read me your notebook, a line at a time: AB 900 (a side), A 108 (its corner), AC 1423 (straight across); and outside, if that is where you "
    "measured, or margin 6. An empty line ends";
constexpr std::string_view kWhyReadings =
    "Sides and corners say the outline; every length straight across is a check, and can tell which reading is wrong. A ? stands for what you could not measure.";

Draft draft_of(std::string_view phrases) {
    return hear_phrases(phrases).draft;
}

std::string usual_size(const Draft& draft) {
    switch (draft.shape) {
        case SpokenShape::rectangle: return "1200 by 600 inside";
        case SpokenShape::ell: return "1800 by 1200 outside, notch 700 by 500";
        case SpokenShape::u_shape: return "1800 by 1200 outside, notch 800 by 600";
        case SpokenShape::tee: return "1800 by 1200 outside, notch 600 by 700";
        case SpokenShape::part_ring: return "radius 500 inside, 7 pieces";
        case SpokenShape::arch: return "1100 wide, rise 400 inside, 7 pieces";
        case SpokenShape::window: return "900 by 1200, margin 6";
        case SpokenShape::door: return "762 by 1981, margin 6";
        case SpokenShape::none:
        case SpokenShape::regular: break;
    }
    if (draft.half) return draft.corners % 4 == 2 ? "800 inside points" : fmt::format("1200 inside flats, {} boards", draft.corners / 2 + 1);
    if (draft.circle) return "radius 400 inside, 12 pieces";
    if (draft.corners == 4) return "600 inside";
    return draft.corners % 2 == 0 ? "640 inside flats" : "side 400 inside";
}

bool on_a_wall(const Draft& draft) {
    return draft.shape == SpokenShape::window || draft.shape == SpokenShape::door || draft.shape == SpokenShape::arch;
}

const char* corner_word(double interior_deg) {
    return interior_deg > 180.0 ? "in-corner" : interior_deg > 90.0 ? "blunt corner" : interior_deg < 90.0 ? "sharp corner" : "square";
}

// "8 corners of 135: blunt corner, boards turn by 45"
std::string corners_in_words(const Draft& draft) {
    if (draft.shape != SpokenShape::regular || draft.corners < 3 || draft.half) return "";
    const double turn_deg = 360.0 / static_cast<double>(draft.corners);
    return fmt::format("{} corners of {}: {}, boards turn by {}", draft.corners, show_angle(180.0 - turn_deg), corner_word(180.0 - turn_deg),
                       show_angle(turn_deg));
}

bool is_whole_number(std::string_view text) {
    return !text.empty() && text.size() < 5 && text.find_first_not_of("0123456789") == std::string_view::npos;
}

std::string all_of(const std::vector<std::string>& phrases) {
    std::string text;
    for (const std::string& phrase : phrases) text += (text.empty() || phrase.empty() ? "" : ", ") + phrase;
    return text;
}

std::vector<std::string> told(const Findings& findings) {
    std::vector<std::string> lines;
    for (const Finding& finding : findings) lines.push_back(finding.message + " " + finding.fix);
    return lines;
}

std::size_t corners_of(const std::vector<std::string>& readings) {
    std::size_t most = 0;
    for (const std::string& reading : readings) {
        const NotebookLine line = *notebook_line(reading);
        for (const std::string& letter : {line.head.first, line.head.second}) {
            if (const auto corner = corner_index(letter)) most = std::max(most, *corner + 1);
        }
    }
    return most;
}

// How many corners the shape itself has; 0 where that is open.
std::size_t corners_of_shape(const Draft& draft) {
    switch (draft.shape) {
        case SpokenShape::rectangle:
        case SpokenShape::window: return 4;  // A to D: of an opening without sill D is the foot of the left leg
        case SpokenShape::ell: return 6;
        case SpokenShape::u_shape:
        case SpokenShape::tee: return 8;
        case SpokenShape::regular: return draft.circle || draft.half ? 0 : draft.corners;
        case SpokenShape::door: return 4;
        case SpokenShape::none:
        case SpokenShape::part_ring:
        case SpokenShape::arch: break;
    }
    return 0;
}

std::string without_first_line(const std::string& text) {
    return text.substr(std::min(text.find('\n'), text.size() - 1) + 1);
}

// "Pentagon", "Window": the shape as it was said, for a title; "window" for a name.
std::string shape_name(const std::string& phrase, bool as_title) {
    std::string name;
    for (const char c : phrase) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        const bool large = c >= 'A' && c <= 'Z';
        if (plain || large) {
            name += as_title || plain ? c : static_cast<char>(c - 'A' + 'a');
        } else if (!name.empty() && name.back() != ' ' && name.back() != '-') {
            name += as_title ? ' ' : '-';
        }
        if (name.size() >= 40) break;
    }
    while (!name.empty() && (name.back() == ' ' || name.back() == '-')) name.pop_back();
    if (name.empty()) name = as_title ? "Ring" : "ring";
    if (as_title && name.front() >= 'a' && name.front() <= 'z') name.front() = static_cast<char>(name.front() - 'a' + 'A');
    return name;
}

// As finely as a tape is read, in the unit it was read in.
std::string said_length(const LengthRead& length) {
    const bool inches = in_inches(length.unit);
    return show_length_unit(length.mm, {length.unit, inches ? 25.4 / 64.0 : 0.1});
}

// What a line of the notebook says: "from A to B: 900 mm", "the corner at A: 108, blunt corner, boards turn by 72".
std::string reading_in_words(const NotebookLine& line, const std::string& value, Unit unit) {
    const bool angle = line.head.second.empty();
    std::string words = angle ? "the corner at " + line.head.first : fmt::format("from {} to {}", line.head.first, line.head.second);
    if (value == "?") return words + ": left open, I work it out";
    if (!angle) return fmt::format("{}: {}", words, said_length(parse_length(value, unit).value()));
    const double deg = parse_angle(value).value().deg;
    const double interior_deg = line.inward ? 360.0 - deg : deg;
    return fmt::format("{}: {}, {}, boards turn by {}", words, show_angle(deg), corner_word(interior_deg), show_angle(std::abs(180.0 - interior_deg)));
}

// What is heard of the phrases behind the first `known`.
std::vector<std::string> heard_in(const std::string& phrases, std::size_t known) {
    std::vector<std::string> says;
    const std::vector<HeardPhrase> heard = hear_phrases(phrases).phrases;
    for (std::size_t i = known; i < heard.size(); ++i) says.push_back(fmt::format("{}: {}", heard[i].said, heard[i].means));
    return says;
}

}  // namespace

bool Interview::asks_readings() const {
    return found_ && at_ == kSize;
}

std::string Interview::question() const {
    if (done()) return "";
    return std::string(asks_readings() ? kReadings : kQuestion[at_]);
}

std::string Interview::usual() const {
    return done() || asks_readings() ? "" : usual_of(at_);
}

std::string Interview::usual_of(std::size_t question) const {
    const Draft shape = answers_.empty() ? Draft() : draft_of(answers_.front());
    const Unit unit = draft_of(all_of(phrases_said())).unit;
    const bool wall = on_a_wall(shape), inches = in_inches(unit);
    switch (question) {
        case kShape: return "hexagon";
        case kBasis: return "wanted";
        case kSize: return usual_size(shape);
        case kPile: return inches ? (wall ? "3 1/2 in x 3/4 in" : "5 1/2 in x 1 1/2 in") : wall ? "95x20" : "145x38";
        case kLie: return wall ? "flat" : "on edge";
        case kShows: return wall ? "show face" : "both alike";
        case kJoints: return "mitred";
        case kSaw: return "saw stops at 45, saw reads 0";
        case kTrue: return wall ? "joinery" : "garden";
        default: return "";
    }
}

Unit Interview::notebook_unit() const {
    for (const std::string& reading : readings_) {
        const NotebookLine line = *notebook_line(reading);
        const std::string value = reading.substr(line.value_begin, line.value_end - line.value_begin);
        if (line.head.second.empty() || value == "?") continue;
        const Unit unit = parse_length(value, Unit::mm).value().unit;
        return in_inches(unit) ? Unit::inch : Unit::mm;
    }
    return Unit::mm;
}

// The answers so far as phrases of a sentence. Found sizes stand in the notebook: there the sentence says only how many sides there are,
// and that its ends are open if they are.
std::vector<std::string> Interview::phrases_said() const {
    std::vector<std::string> phrases = answers_;
    if (!found_ || phrases.size() <= kSize) return phrases;
    phrases[kShape] = on_a_wall(draft_of(answers_.front())) ? "casing from the room" : "";
    std::string beside = all_of(beside_readings_);
    if (beside.find("outside") == std::string::npos && beside.find("inside") == std::string::npos && beside.find("middle") == std::string::npos)
        beside = beside.empty() ? "inside" : "inside, " + beside;
    const std::string size = notebook_unit() == Unit::inch ? "20 in" : "500";
    const std::size_t corners = corners_of(readings_);
    phrases[kSize] = is_open(draft_of(answers_.front())) ? fmt::format("half ring radius {} {}, {} pieces, corners touch", size, beside, corners - 1)
                                                         : fmt::format("{} sides, side {} {}", corners, size, beside);
    return phrases;
}

// For the rest what an empty line would say: the whole reads if the answers are sound.
std::string Interview::sentence_with_usual() const {
    std::vector<std::string> phrases = phrases_said();
    for (std::size_t question = phrases.size(); question < kQuestions; ++question) {
        const std::string usual = usual_of(question);
        phrases.push_back(question == kBasis || usual == "both alike" ? "" : usual);
    }
    return all_of(phrases);
}

Answered Interview::answer(std::string_view line) {
    if (done()) return {};
    if (first_bad_utf8(line) || has_control_character(line) || line.size() > kLongestAnswer) {
        return {false, {"I cannot read this: it is too long or holds characters that cannot be printed."}};
    }
    const std::string said(Phrase(line).rest());
    if (said == "?") return {false, {std::string(asks_readings() ? kWhyReadings : kWhy[at_])}};
    if (said == "<") {
        if (lines_.empty()) return {false, {"This is the first question."}};
        go_back();
        return {false, {}};
    }
    const std::string meant = said.empty() ? usual() : said;
    Answered answered = asks_readings() ? take_reading(said) : at_ == kBasis ? take_basis(meant) : take(meant);
    if (answered.taken) lines_.emplace_back(said);
    return answered;
}

void Interview::go_back() {
    std::vector<std::string> lines = std::move(lines_);
    lines.pop_back();
    *this = Interview();
    for (const std::string& line : lines) answer(line);
}

Answered Interview::take_basis(std::string_view answer) {
    const std::string word = nearest_word(answer, {"wanted", "found"});
    if (word.empty()) return {false, {"Say wanted or found."}};
    const Draft shape = draft_of(answers_.front());
    found_ = word == "found";
    answers_.emplace_back();
    ++at_;
    if (!found_) return {true, {"wanted: taken as you say them"}};
    return {true, {is_open(shape) ? "found: its ends are open, so lengths straight across are what checks the readings" : "found: I check that the readings can close"}};
}

Answered Interview::take_reading(std::string_view said) {
    if (said.empty()) return end_readings();
    const Unit unit = notebook_unit();
    const auto line = notebook_line(said);
    if (!line || line->value_begin == line->value_end) {
        // Heard behind a size, so that plain numbers are in the notebook's unit.
        const std::string size = unit == Unit::inch ? "side 20 in, " : "side 500, ";
        const PhrasesHeard heard = hear_phrases(size + std::string(said));
        const bool placed = heard.findings.empty() && (heard.draft.line || heard.draft.margin);
        if (!placed) {
            return {false, {fmt::format("I don't understand {}. Say \"AB 900\" for a side, \"A 108\" for a corner, \"AC 1423\" for a length straight across, "
                                        "outside if you measured there.", in_quotes(said))}};
        }
        beside_readings_.emplace_back(said);
        if (!heard.draft.line) return {true, heard_in(size + std::string(said), 1)};
        constexpr std::array<std::string_view, 3> kLines{"inside", "outside", "along the middle"};
        return {true, {fmt::format("measured {}", kLines[static_cast<std::size_t>(*heard.draft.line)])}};
    }
    const std::string value(said.substr(line->value_begin, line->value_end - line->value_begin));
    const bool angle = line->head.second.empty();
    const Findings wrong = value == "?" ? Findings{} : angle ? parse_angle(value).findings() : parse_length(value, unit).findings();
    if (has_error(wrong)) return {false, told(wrong)};
    for (const std::string& earlier : readings_) {
        if (notebook_line(earlier)->head == line->head)
            return {false, {fmt::format("{} measures what {} does. Go back with < to say it anew.", in_quotes(said), in_quotes(earlier))}};
    }
    readings_.emplace_back(said);
    return {true, {reading_in_words(*line, value, unit)}};
}

Answered Interview::end_readings() {
    const std::size_t corners = corners_of(readings_);
    if (corners < 3) return {false, {"A ring has at least three corners: A, B and C. Go on with their sides and angles."}};
    const std::size_t wanted = corners_of_shape(draft_of(answers_.front()));
    if (wanted != 0 && wanted != corners) {
        return {false, {fmt::format("Your notebook names {} corners, A to {}; {} has {}. Go on reading, or go back with < and say another shape.", corners,
                                    corner_letter(corners - 1), answers_.front(), wanted)}};
    }
    answers_.emplace_back();
    ++at_;
    // What the readings lack is told while the notebook is still open.
    Findings wrong;
    for (Finding& finding : read_project(project().text).findings) {
        if (finding.severity == Severity::error && finding.code.starts_with("reading.")) wrong.push_back(std::move(finding));
    }
    if (!wrong.empty()) {
        answers_.pop_back();
        --at_;
        return {false, told(wrong)};
    }
    return {true, {fmt::format("{} readings, {} corners", readings_.size(), corners)}};
}

Answered Interview::take(const std::string& answer) {
    const std::size_t known = hear_phrases(all_of(phrases_said())).phrases.size();
    const std::size_t asked = at_;
    std::string phrase = asked == kShape && is_whole_number(answer) ? answer + " sides" : answer;
    constexpr std::array<std::string_view, 5> kAlike{"both alike", "both", "both faces alike", "both faces", "plain"};
    if (asked == kShows && std::find(kAlike.begin(), kAlike.end(), answer) != kAlike.end()) phrase.clear();
    if (asked == kTrue && is_whole_number(answer)) return {false, {"Say garden, joinery or fine."}};
    answers_.push_back(phrase);
    ++at_;
    Findings wrong = read_sentence(sentence_with_usual()).findings;
    if (has_error(wrong)) {
        answers_.pop_back();
        at_ = asked;
        return {false, told(wrong)};
    }
    if (phrase.empty()) return {true, {"both faces alike: pieces may be turned any way"}};
    const std::string corners = asked == kShape ? corners_in_words(draft_of(phrase)) : "";
    if (!corners.empty()) return {true, {fmt::format("{}: {}", phrase, corners)}};
    return {true, heard_in(all_of(phrases_said()), known)};
}

// The ring (or the open chain) of as many equal sides, with its outline taken out and the notebook put in.
InterviewProject Interview::with_notebook(InterviewProject project) const {
    std::string list = "[";
    for (std::size_t i = 0; i < readings_.size(); ++i) list += fmt::format("{}\n      {}", i == 0 ? "" : ",", json_text(readings_[i]));
    list += "\n    ]";
    std::string text = "// From nine answers; the sizes were found with a tape.\n" + without_first_line(project.text);
    const auto edited = [&text](std::optional<std::string> next) { text = std::move(next).value_or(text); };
    const bool open = is_open(draft_of(answers_.front()));
    edited(without_value(text, {"outline", open ? "arc" : "regular"}));
    if (open) edited(with_value(text, {"outline", "open"}, "true"));
    edited(with_value(text, {"outline", "basis"}, "\"found\""));
    edited(with_value(text, {"outline", "readings"}, list));
    edited(with_value(text, {"title"}, json_text(shape_name(answers_.front(), true) + " as found")));
    project.text = std::move(text);
    project.name = shape_name(answers_.front(), false) + "-found";
    project.sentence.clear();
    return project;
}

InterviewProject Interview::project() const {
    const std::string sentence = sentence_with_usual();
    SentenceRead read = read_sentence(sentence);
    InterviewProject project{std::move(read.project_text), std::move(read.name), sentence, std::move(read.assumed), std::move(read.findings)};
    return !found_ || project.text.empty() ? project : with_notebook(std::move(project));
}

}  // namespace boardring
