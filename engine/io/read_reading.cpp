#include "io/read_reading.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "io/values.hpp"
#include "io/wording.hpp"
#include "outline/taped_corner.hpp"

namespace boardring {
namespace {

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
    if (mm >= kShortestMm && mm <= kLongestMm) return true;
    job.tell(spot, "value.out-of-range",
             fmt::format("{} is no distance between two corners; it must be at least 1 mm and at most 1 km.", written(spot)),
             "Measure it again.");
    return false;
}

bool angle_in_range(Job& job, const NamedLine& named, double deg) {
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

Reading::Kind kind_of(const NamedLine& named, const CornerChain& chain) {
    if (named.is_angle) return Reading::Kind::angle;
    if (std::max(named.first, named.second) >= chain.corners) return Reading::Kind::diagonal;  // to a peg
    const bool neighbours = chain.next(named.first) == named.second || chain.next(named.second) == named.first;
    return neighbours ? Reading::Kind::side : Reading::Kind::diagonal;
}

void read_accuracy_of(Job& job, const NamedLine& named, Reading& reading) {
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
void read_open_value(Job& job, const NamedLine& named, Reading& reading) {
    const Spot& spot = named.line.spot;
    std::string_view hint = without_blanks(named.line.value.substr(1));
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
    const auto value = read_value(job, spot, without_blanks(hint.substr(4)), named.is_angle);
    if (!value) return;
    const bool good = named.is_angle ? angle_in_range(job, named, value->number) : length_in_range(job, spot, value->number);
    if (good) reading.near = value->number;
}

// "B tie 900 1200 1497".
void read_tie(Job& job, const NamedLine& named, Reading& reading) {
    const Spot& spot = named.line.spot;
    std::vector<Value> lengths;
    std::string_view rest = named.line.value;
    while (!rest.empty()) {
        const std::string_view one = rest.substr(0, rest.find_first_of(" \t"));
        rest = without_blanks(rest.substr(one.size()));
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
    NamedLine as_length = named;
    as_length.is_angle = false;
    read_accuracy_of(job, as_length, tape);
    reading.value = corner->interior_deg;
    reading.deg_per_mm = corner->deg_per_mm;
    reading.half_step = corner->deg_per_mm * std::max({lengths[0].half_step, lengths[1].half_step, lengths[2].half_step});
    if (tape.accuracy) reading.accuracy = corner->deg_per_mm * *tape.accuracy;
}

// "AB fall 5", "BC plumb", "AB bow 6 inward": what only something that is there can be read for.
void read_worded(Job& job, const NamedLine& named, const CornerChain& chain, bool found, bool from_above, Reading& reading) {
    const Spot& spot = named.line.spot;
    const ReadingWord word = named.line.word;
    const bool placed = word == ReadingWord::sill || word == ReadingWord::head;
    const bool exactly = word == ReadingWord::level || word == ReadingWord::plumb || placed;
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
        const auto read = read_value(job, spot, without_blanks(text), false);
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
        case ReadingWord::sill:
        case ReadingWord::head:
            if ((!next && !previous) || std::max(named.first, named.second) >= chain.corners) {
                job.tell(spot, "reading.not-understood", fmt::format("{} names no side.", written(spot)),
                         "Write \"AB sill\" for the side at the bottom, or \"CD head\" for the one at the top.");
                reading.value.reset();
                return;
            }
            reading.kind = Reading::Kind::sill;
            if (next != (word == ReadingWord::sill)) std::swap(reading.first, reading.second);
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

}  // namespace

std::string CornerChain::side_name(std::size_t side) const {
    const std::string dash = corners > 26 ? "-" : "";
    return corner_letter(side) + dash + corner_letter(next(side));
}

Reading read_reading(Job& job, const NamedLine& named, const CornerChain& chain, bool found, bool from_above) {
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
                 std::string(kReadingExample));
    }
    if (named.line.value.empty()) {
        job.tell(spot, "reading.not-understood", fmt::format("{} names corners and gives no value.", written(spot)),
                 std::string(kReadingExample));
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

}  // namespace boardring
