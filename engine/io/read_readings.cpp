#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "base/quoted.hpp"
#include "io/reading_words.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"
#include "io/wording.hpp"
#include "outline/taped_corner.hpp"

// Notebook lines: "AB 900", "A-C 1423 +-3", "A 108", "E 90 inward", "CD ?", "C ? near 97"; with words (reading_words.hpp)
// "AB fall 5", "BC plumb", "AB bow 6 inward", "B tie 900 1200 1497".
//
// A line is first split into its parts without knowing how many corners there are (two letters are a distance, or one corner
// of a ring of more than 26); then the corners are counted, and only then is each value read as a length or an angle.

namespace boardring {
namespace {

constexpr std::string_view kBlank = " \t";
constexpr std::string_view kInward = "inward";
constexpr std::string_view kOutward = "outward";
constexpr std::string_view kExample =
    "Write \"AB 900\" for a side, \"AC 1423\" for a length straight across, \"A 108\" for an angle.";
const std::vector<std::string_view> kDashes{"-", "\u2010", "\u2011", "\u2012", "\u2013", "\u2014", "\u2212"};
const std::vector<std::string_view> kPlusMinus{"+-", "+/-", "\u00B1"};

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(kBlank) + 1 - first);
}

std::string_view take_letters(std::string_view& text) {
    std::size_t end = 0;
    while (end < text.size() && is_letter(text[end])) ++end;
    const std::string_view letters = text.substr(0, end);
    text.remove_prefix(end);
    return letters;
}

// Takes one of `marks` off the front of the text.
bool take_mark(std::string_view& text, const std::vector<std::string_view>& marks) {
    for (const std::string_view mark : marks) {
        if (text.starts_with(mark)) {
            text.remove_prefix(mark.size());
            return true;
        }
    }
    return false;
}

// A line split into its parts; all are views into the text of the file.
struct Line {
    Spot spot;
    std::string_view first;   // letters
    std::string_view second;  // letters behind a dash, else empty
    std::string_view value;
    std::string_view accuracy;  // behind the +-, else empty
    bool has_accuracy = false;
    bool inward = false;
    bool outward = false;
    ReadingWord word = ReadingWord::none;
};

// Takes "inward" or "outward" off the end of the text.
bool take_side(std::string_view& text, std::string_view word) {
    if (!text.ends_with(word)) return false;
    const std::string_view before = text.substr(0, text.size() - word.size());
    if (!before.empty() && is_letter(before.back())) return false;
    text = trimmed(before);
    return true;
}

void split_value(std::string_view text, Line& line) {
    line.word = take_reading_word(text);
    line.inward = take_side(text, kInward);
    if (line.word == ReadingWord::bow) line.outward = take_side(text, kOutward);
    for (std::size_t at = 0; at < text.size(); ++at) {
        std::string_view rest = text.substr(at);
        if (!take_mark(rest, kPlusMinus)) continue;
        line.has_accuracy = true;
        line.accuracy = trimmed(rest);
        text = trimmed(text.substr(0, at));
        break;
    }
    line.inward = take_side(text, kInward) || line.inward;
    if (line.word == ReadingWord::bow) line.outward = take_side(text, kOutward) || line.outward;
    line.value = text;
}

// Nothing, and a finding, if the line does not start with letters of corners.
std::optional<Line> split_line(Job& job, const Spot& spot) {
    if (spot.json->type != JsonValue::Type::text) {
        tell_wrong_type(job, spot, "a line of the notebook", "Write it in quotes, such as \"AB 900\".");
        return std::nullopt;
    }
    Line line;
    line.spot = spot;
    std::string_view text = trimmed(spot.json->text);
    line.first = take_letters(text);
    std::string_view behind_blank = trimmed(text);
    if (take_mark(behind_blank, kDashes)) {
        std::string_view behind_dash = trimmed(behind_blank);
        if (!behind_dash.empty() && is_letter(behind_dash.front())) {
            line.second = take_letters(behind_dash);
            text = behind_dash;
        }
    }
    const bool separated = text.empty() || !is_letter(text.front());
    const bool too_long = line.first.size() > 3 || line.second.size() > 3;
    if (line.first.empty() || too_long || !separated) {
        job.tell(spot, "reading.not-understood",
                 fmt::format("The reading {} does not start with the letters of its corners.", quoted(spot.json->text)),
                 std::string(kExample));
        return std::nullopt;
    }
    split_value(trimmed(text), line);
    return line;
}

// Letters of a line with its corners found.
struct Named {
    Line line;
    bool is_angle = false;
    std::size_t first = 0;
    std::size_t second = 0;
};

// Two letters without a dash are two corners, unless the ring has corners beyond Z: then they are one.
std::optional<Named> name_corners(Job& job, const Line& line, bool beyond_z) {
    Named named{line};
    std::string_view first = line.first;
    std::string_view second = line.second;
    if (second.empty() && first.size() == 2 && !beyond_z) {
        second = first.substr(1);
        first = first.substr(0, 1);
    }
    named.is_angle = second.empty();
    const auto a = corner_index(first);
    const auto b = named.is_angle ? a : corner_index(second);
    if (named.is_angle && first.size() > 1 && !beyond_z) {
        job.tell(line.spot, "reading.not-understood", fmt::format("{} could be more than one pair of corners.", quoted(first)),
                 "Put a dash between the two corners: \"A-AB 900\".");
        return std::nullopt;
    }
    if (!a || !b || *a >= kMostCorners || *b >= kMostCorners) {
        job.tell(line.spot, "reading.not-understood",
                 fmt::format("{} names a corner beyond the {} a ring may have.", quoted(line.spot.json->text), kMostCorners),
                 std::string(kExample));
        return std::nullopt;
    }
    if (!named.is_angle && *a == *b) {
        job.tell(line.spot, "reading.not-understood",
                 fmt::format("{} runs from a corner to itself.", quoted(line.spot.json->text)), std::string(kExample));
        return std::nullopt;
    }
    named.first = *a;
    named.second = *b;
    return named;
}

struct Chain {
    std::size_t corners = 0;
    bool open = false;
    [[nodiscard]] std::size_t sides() const { return open ? corners - 1 : corners; }
    [[nodiscard]] std::size_t next(std::size_t corner) const { return corner + 1 == corners && !open ? 0 : corner + 1; }
    [[nodiscard]] bool has_angle(std::size_t corner) const { return !open || (corner > 0 && corner + 1 < corners); }
    [[nodiscard]] std::string side_name(std::size_t side) const {
        const std::string dash = corners > 26 ? "-" : "";
        return corner_letter(side) + dash + corner_letter(next(side));
    }
};

// What one value text says, mm or degrees.
struct Value {
    double number = 0.0;
    double half_step = 0.0;
};

std::optional<Value> read_value(Job& job, const Spot& spot, std::string_view text, bool is_angle) {
    if (is_angle) {
        const Result<AngleRead> read = parse_angle(text);
        take_text_findings(job, spot, read.findings());
        return read.ok() ? std::optional(Value{read.value().deg, read.value().half_step_deg}) : std::nullopt;
    }
    const Result<LengthRead> read = parse_length(text, job.unit);
    take_text_findings(job, spot, read.findings());
    if (!read.ok()) return std::nullopt;
    if (!read.value().unit_given) job.plain_lengths.push_back({spot, Measures::outline, read.value().mm});
    return Value{read.value().mm, read.value().half_step_mm};
}

bool length_in_range(Job& job, const Spot& spot, double mm) {
    if (mm > 0.0 && mm <= kLongestMm) return true;
    job.tell(spot, "value.out-of-range",
             fmt::format("{} is no distance between two corners; it must be more than 0 and at most 1 km.", written(spot)),
             "Measure it again.");
    return false;
}

bool angle_in_range(Job& job, const Named& named, double deg) {
    const Spot& spot = named.line.spot;
    if (!(deg > 0.0 && deg < 360.0)) {
        job.tell(spot, "value.out-of-range",
                 fmt::format("{} is no corner; an angle must be more than 0 and less than 360 degrees.", written(spot)),
                 deg > 360.0 ? "One letter is an angle; write two for a length: \"AB 900\"." : "Measure the corner again.");
        return false;
    }
    if (named.line.inward && deg > 180.0) {
        job.tell(spot, "reading.inward-twice",
                 fmt::format("{} is over 180 already, so \"inward\" would turn it round.", written(spot)),
                 fmt::format("Write the angle outside the ring, \"{} {} inward\", or the one inside without \"inward\".",
                             corner_letter(named.first), show_angle(360.0 - deg)));
        job.mended_by(fmt::format("{} is {}", corner_letter(named.first), named.line.value));
        return false;
    }
    return true;
}

Reading::Kind kind_of(const Named& named, const Chain& chain) {
    if (named.is_angle) return Reading::Kind::angle;
    if (std::max(named.first, named.second) >= chain.corners) return Reading::Kind::diagonal;  // to a peg
    const bool neighbours = chain.next(named.first) == named.second || chain.next(named.second) == named.first;
    return neighbours ? Reading::Kind::side : Reading::Kind::diagonal;
}

void read_accuracy_of(Job& job, const Named& named, Reading& reading) {
    if (!named.line.has_accuracy) return;
    const Spot& spot = named.line.spot;
    if (named.line.accuracy.empty()) {
        job.tell(spot, "reading.not-understood", fmt::format("Nothing follows the +- of {}.", written(spot)),
                 "Write how good the reading is, \"AB 900 +-3\", or remove the +-.");
        return;
    }
    const auto accuracy = read_value(job, spot, named.line.accuracy, named.is_angle);
    if (!accuracy) return;
    if (!named.is_angle && !job.plain_lengths.empty() && job.plain_lengths.back().spot.json == spot.json) {
        job.plain_lengths.back().measures = Measures::other;
    }
    if (accuracy->number > 0.0) {
        reading.accuracy = accuracy->number;
    } else {
        job.tell(spot, "value.out-of-range", fmt::format("The +- of {} must be more than 0.", written(spot)),
                 "Write how good the reading is, for instance +-3.");
    }
}

// "?", "? near 97", "? inward".
void read_open_value(Job& job, const Named& named, Reading& reading) {
    const Spot& spot = named.line.spot;
    std::string_view hint = trimmed(named.line.value.substr(1));
    if (reading.kind == Reading::Kind::diagonal) {
        job.tell(spot, "reading.unknown-value", fmt::format("{} asks for a length straight across; those are only checks.", written(spot)),
                 "Remove it: boardring plan says under CHECK how long they are.");
        return;
    }
    if (named.line.has_accuracy) {
        job.tell(spot, "reading.not-understood", fmt::format("{} is open, so there is nothing a +- could belong to.", written(spot)),
                 "Remove the +-.");
        return;
    }
    if (hint.empty()) return;
    if (!hint.starts_with("near")) {
        job.tell(spot, "reading.not-understood", fmt::format("{} is open; I do not understand what follows the ?.", written(spot)),
                 named.is_angle ? "Write \"C ?\", or \"C ? near 97\" where there are two answers."
                                : "Write \"CD ?\", or \"CD ? near 400\" where there are two answers.");
        return;
    }
    const auto value = read_value(job, spot, trimmed(hint.substr(4)), named.is_angle);
    if (!value) return;
    const bool good = named.is_angle ? angle_in_range(job, named, value->number) : length_in_range(job, spot, value->number);
    if (good) reading.near = value->number;
}

// "B tie 900 1200 1497".
void read_tie(Job& job, const Named& named, Reading& reading) {
    const Spot& spot = named.line.spot;
    std::vector<Value> lengths;
    std::string_view rest = named.line.value;
    while (!rest.empty()) {
        const std::string_view one = rest.substr(0, rest.find_first_of(kBlank));
        rest = trimmed(rest.substr(one.size()));
        const auto length = read_value(job, spot, one, false);
        if (!length || !length_in_range(job, spot, length->number)) return;
        lengths.push_back(*length);
    }
    if (!named.is_angle || lengths.size() != 3) {
        job.tell(spot, "reading.not-understood", fmt::format("{} is no taped triangle.", written(spot)),
                 "Write the corner, the marks along its two legs, and the length across between them: \"B tie 900 1200 1497\".");
        return;
    }
    const auto corner = taped_corner(lengths[0].number, lengths[1].number, lengths[2].number);
    if (!corner) {
        const LengthStyle style{job.unit, job.in_inches() ? 25.4 / 16.0 : 0.5};
        job.tell(spot, "reading.no-triangle",
                 fmt::format("{} makes no triangle: with legs of {} and {} the length across lies between {} and {}.", written(spot),
                             show_length_unit(lengths[0].number, style), show_length_unit(lengths[1].number, style),
                             show_length_unit(std::abs(lengths[0].number - lengths[1].number), style),
                             show_length_unit(lengths[0].number + lengths[1].number, style)),
                 "Write the two legs first and the length across last, and measure it again.");
        return;
    }
    Reading tape;
    Named as_length = named;
    as_length.is_angle = false;
    read_accuracy_of(job, as_length, tape);
    reading.value = corner->interior_deg;
    reading.deg_per_mm = corner->deg_per_mm;
    reading.half_step = corner->deg_per_mm * std::max({lengths[0].half_step, lengths[1].half_step, lengths[2].half_step});
    if (tape.accuracy) reading.accuracy = corner->deg_per_mm * *tape.accuracy;
}

// "AB fall 5", "BC plumb", "AB bow 6 inward": what only something that is there can be read for.
void read_worded(Job& job, const Named& named, const Chain& chain, bool found, bool from_above, Reading& reading) {
    const Spot& spot = named.line.spot;
    const ReadingWord word = named.line.word;
    const bool exactly = word == ReadingWord::level || word == ReadingWord::plumb;
    if (named.is_angle || exactly != named.line.value.empty()) {
        job.tell(spot, "reading.not-understood", fmt::format("{} does not say what falls, leans or bows, or by how much.", written(spot)),
                 "Write \"AB fall 5\", \"AB level\", \"BC right 4\", \"BC plumb\", \"AB bow 6 inward\" or \"BC to DA 898\".");
        return;
    }
    if (!found) {
        job.tell(spot, "reading.only-found", fmt::format("{} is something one finds; these readings are sizes you want.", written(spot)),
                 "Write \"basis\": \"found\" if this was measured; else leave it out.");
        return;
    }
    if (word != ReadingWord::bow && word != ReadingWord::to && from_above) {
        job.tell(spot, "reading.level-from-above",
                 fmt::format("{} is read against level, but the outline is seen from above, where nothing falls.", written(spot)),
                 "Write \"seen\": \"from the room\" for an opening in a wall; on the ground measure lengths held level.");
        return;
    }
    Value value{0.0, 0.0};
    std::string_view text = named.line.value;
    const std::string_view other = word == ReadingWord::to ? take_letters(text) : std::string_view{};
    if (!exactly) {
        const auto read = read_value(job, spot, trimmed(text), false);
        if (!read) return;
        value = *read;
        if (!(value.number >= 0.0 && value.number <= kLongestMm)) {
            job.tell(spot, "value.out-of-range", fmt::format("{} must be 0 or more and at most 1 km.", written(spot)),
                     "Say which way by the word: fall or rise, left or right, inward or outward.");
            return;
        }
        if (!job.plain_lengths.empty() && job.plain_lengths.back().spot.json == spot.json) {
            job.plain_lengths.back().measures = Measures::other;
        }
    }
    read_accuracy_of(job, named, reading);
    reading.half_step = value.half_step;
    reading.value = value.number;
    const bool next = chain.next(named.first) == named.second, previous = chain.next(named.second) == named.first;
    switch (word) {
        case ReadingWord::to: {
            const auto c = other.size() == 2 ? corner_index(other.substr(0, 1)) : std::nullopt;
            const auto d = other.size() == 2 ? corner_index(other.substr(1)) : std::nullopt;
            const bool both = c && d && std::max({named.first, named.second, *c, *d}) < chain.corners && (next || previous) &&
                              (chain.next(*c) == *d || chain.next(*d) == *c);
            if (!both || !(value.number > 0.0)) {
                job.tell(spot, "reading.not-understood", fmt::format("{} does not say from which side to which, and how far.", written(spot)),
                         "Write \"BC to DA 898\": from the middle of side BC to the middle of side DA.");
                reading.value.reset();
                return;
            }
            reading.kind = Reading::Kind::width;
            reading.first = next ? named.first : named.second;
            reading.second = chain.next(*c) == *d ? *c : *d;
            return;
        }
        case ReadingWord::bow:
            if (named.line.inward == named.line.outward || (!next && !previous) ||
                std::max(named.first, named.second) >= chain.corners) {
                job.tell(spot, "reading.not-understood", fmt::format("{} does not say which side bows, and which way.", written(spot)),
                         "Write \"AB bow 6 inward\" where the middle of the side stands towards the middle of the ring, else outward.");
                reading.value.reset();
                return;
            }
            reading.kind = Reading::Kind::bow;
            if (!next) std::swap(reading.first, reading.second);
            if (named.line.inward) reading.value = -value.number;
            reading.inward = false;
            return;
        case ReadingWord::fall:
        case ReadingWord::rise:
        case ReadingWord::level:
            reading.kind = Reading::Kind::fall;
            if (word == ReadingWord::rise) std::swap(reading.first, reading.second);
            return;
        case ReadingWord::right:
        case ReadingWord::left:
        case ReadingWord::plumb:
        case ReadingWord::tie:
        case ReadingWord::none:
            reading.kind = Reading::Kind::right;
            if (word == ReadingWord::left) std::swap(reading.first, reading.second);
            return;
    }
}

Reading read_one(Job& job, const Named& named, const Chain& chain, bool found, bool from_above) {
    Reading reading;
    const Spot& spot = named.line.spot;
    reading.text = spot.json->text;
    reading.pointer = spot.pointer;
    reading.kind = kind_of(named, chain);
    reading.first = named.first;
    reading.second = named.second;
    if (reading.kind == Reading::Kind::side && chain.next(named.first) != named.second) std::swap(reading.first, reading.second);
    reading.inward = named.line.inward;
    if (named.line.word == ReadingWord::tie) {
        read_tie(job, named, reading);
        return reading;
    }
    if (named.line.word != ReadingWord::none) {
        reading.first = named.first;
        reading.second = named.second;
        read_worded(job, named, chain, found, from_above, reading);
        return reading;
    }
    if (named.line.inward && !named.is_angle) {
        job.tell(spot, "reading.not-understood", fmt::format("{} is a distance; \"inward\" belongs to an angle.", written(spot)),
                 std::string(kExample));
    }
    if (named.line.value.empty()) {
        job.tell(spot, "reading.not-understood", fmt::format("{} names corners and gives no value.", written(spot)),
                 std::string(kExample));
        return reading;
    }
    if (named.line.value == "?" && found) return reading;  // not read: the others make it
    if (named.line.value.front() == '?') {
        read_open_value(job, named, reading);
        return reading;
    }
    const auto value = read_value(job, spot, named.line.value, named.is_angle);
    read_accuracy_of(job, named, reading);
    if (!value) return reading;
    const bool good = named.is_angle ? angle_in_range(job, named, value->number) : length_in_range(job, spot, value->number);
    if (!good) return reading;
    reading.value = value->number;
    reading.half_step = value->half_step;
    return reading;
}

using Pair = std::pair<std::size_t, std::size_t>;

Pair key_of(const Reading& reading) {
    return std::minmax(reading.first, reading.second);
}

void tell_repeated(Job& job, const std::vector<Named>& named, const std::vector<Reading>& readings) {
    std::map<Pair, std::size_t> seen;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        if (named[i].line.word != ReadingWord::none && named[i].line.word != ReadingWord::tie) continue;  // told already
        const auto [earlier, is_new] = seen.emplace(key_of(readings[i]), i);
        if (is_new) continue;
        const Spot& before = named[earlier->second].line.spot;
        job.tell(named[i].line.spot, "reading.repeated",
                 fmt::format("{} measures what {} of line {} measures already.", written(named[i].line.spot), written(before),
                             before.json->place.line),
                 "Keep the better of the two.");
    }
}

void tell_missing(Job& job, const Spot& list, const Chain& chain, const std::vector<Reading>& readings) {
    std::vector<bool> has_side(chain.sides(), false);
    std::vector<bool> has_angle(chain.corners, false);
    for (const Reading& reading : readings) {
        if (reading.kind == Reading::Kind::angle) has_angle[reading.first] = true;
        if (reading.kind == Reading::Kind::side) has_side[reading.first] = true;
    }
    std::vector<std::string> missing;
    for (std::size_t side = 0; side < chain.sides(); ++side) {
        if (!has_side[side]) missing.push_back(chain.side_name(side));
    }
    for (std::size_t corner = 0; corner < chain.corners; ++corner) {
        if (!has_angle[corner] && chain.has_angle(corner)) missing.push_back("the angle at " + corner_letter(corner));
    }
    if (missing.empty()) return;
    constexpr std::size_t kMostListed = 12;
    std::vector<std::string_view> shown(missing.begin(),
                                        missing.begin() + static_cast<std::ptrdiff_t>(std::min(missing.size(), kMostListed)));
    const std::string rest = missing.size() > kMostListed ? fmt::format(" and {} more", missing.size() - kMostListed) : "";
    job.tell(list, "reading.missing",
             fmt::format("The highest letter is {}, so the {} has {} corners, and {} not given: {}{}.",
                         corner_letter(chain.corners - 1), chain.open ? "chain" : "ring", chain.corners,
                         missing.size() == 1 ? "this is" : "these are", joined(shown, rest.empty() ? " and " : ", "), rest),
             chain.open ? "Measure or decide what is missing; an open chain needs every side and the angle at every inner corner."
                        : "Measure or decide what is missing, or leave up to three open with ?, such as \"C ?\", to have them worked "
                          "out; lengths straight across are extra checks.");
}

// What is open has to follow from the rest: three conditions of a ring, two of them about lengths.
void tell_open_values(Job& job, const std::vector<Named>& named, const std::vector<Reading>& readings, bool open_chain) {
    std::size_t sides = 0, angles = 0;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const Reading& reading = readings[i];
        if (named[i].line.value.empty() || named[i].line.value.front() != '?' || reading.kind == Reading::Kind::diagonal) continue;
        ++(reading.kind == Reading::Kind::side ? sides : angles);
        const Spot& spot = named[i].line.spot;
        if (open_chain) {
            job.tell(spot, "reading.unknown-value", fmt::format("{} is open, and in an open chain nothing else says how much it is.", written(spot)),
                     "Measure or decide it, and write it instead of the ?.");
        } else if (sides + angles > 3) {
            job.tell(spot, "reading.unknown-value", fmt::format("{} is one open value too many: at most three follow from the rest.", written(spot)),
                     "Measure or decide it, and write it instead of the ?.");
            return;
        } else if (sides > 2) {
            job.tell(spot, "reading.unknown-value",
                     fmt::format("{} is the third open side; at most two follow from the rest, as angles say nothing of size.", written(spot)),
                     "Give one of the three sides.");
            return;
        }
    }
}

void tell_angles_at_free_ends(Job& job, const Chain& chain, const std::vector<Named>& named) {
    for (const Named& line : named) {
        if (!line.is_angle || chain.has_angle(line.first)) continue;
        job.tell(line.line.spot, "reading.free-end",
                 fmt::format("{} is an angle at a free end: only one board comes to {}.", written(line.line.spot),
                             corner_letter(line.first)),
                 "Say under \"ends\" how that end is cut, and remove the reading.");
    }
}

// Corners of a found outline: the letters from A without a gap, and whatever has an angle. A letter behind a gap that stands
// only in distances is a peg.
std::size_t corners_found(const std::vector<Named>& named) {
    std::set<std::size_t> letters;
    std::size_t corners = 0;
    for (const Named& line : named) {
        letters.insert(line.first);
        letters.insert(line.second);
        if (line.is_angle) corners = std::max(corners, line.first + 1);
    }
    while (letters.contains(corners)) ++corners;
    return corners;
}

}  // namespace

ReadingsRead read_readings(Job& job, const Spot& list, bool open, bool found, bool from_above) {
    ReadingsRead read;
    const auto count = read_list(job, list, 1, 100'000, "readings");
    if (!count) return read;
    std::vector<Line> lines;
    for (std::size_t i = 0; i < *count; ++i) {
        if (auto line = split_line(job, list.item(i))) lines.push_back(*std::move(line));
    }
    const bool beyond_z = std::any_of(lines.begin(), lines.end(), [](const Line& line) {
        return !line.second.empty() && std::max(line.first.size(), line.second.size()) > 1;
    });
    std::vector<Named> named;
    for (const Line& line : lines) {
        if (auto corners = name_corners(job, line, beyond_z)) named.push_back(*std::move(corners));
    }
    const bool all_named = named.size() == *count;
    Chain chain{0, open};
    if (found) chain.corners = corners_found(named);
    for (const Named& line : named) {
        if (!found) chain.corners = std::max({chain.corners, line.first + 1, line.second + 1});
    }
    read.outline.found = found;
    read.outline.corners = chain.corners;
    const std::size_t least = open ? 2 : 3;
    if (chain.corners < least) {
        if (all_named)
            job.tell(list, "reading.missing",
                     fmt::format("These readings name {} corners; {} needs at least {}.", chain.corners,
                                 open ? "an open chain" : "a ring", least),
                     std::string(kExample));
        return read;
    }
    for (const Named& line : named) read.outline.readings.push_back(read_one(job, line, chain, found, from_above));
    if (!found) {
        tell_repeated(job, named, read.outline.readings);
        tell_angles_at_free_ends(job, chain, named);
    }
    if (all_named && !found) {
        tell_missing(job, list, chain, read.outline.readings);
        tell_open_values(job, named, read.outline.readings, open);
    }
    if (all_named) read.boards = chain.sides();
    return read;
}

}  // namespace boardring
