#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/names.hpp"
#include "io/read_reading.hpp"
#include "io/reading_line.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"
#include "io/wording.hpp"

// Notebook lines: "AB 900", "A-C 1423 +-3", "A 108", "E 90 inward", "CD ?", "C ? near 97"; with words (reading_words.hpp)
// "AB fall 5", "BC plumb", "AB bow 6 inward", "B tie 900 1200 1497".
//
// Every line is split first (reading_line.hpp), then the corners are counted, and only then is each value read
// (read_reading.hpp) and the list looked at as a whole.

namespace boardring {
namespace {

using Pair = std::pair<std::size_t, std::size_t>;

Pair key_of(const Reading& reading) {
    return std::minmax(reading.first, reading.second);
}

void tell_repeated(Job& job, const std::vector<NamedLine>& named, const std::vector<Reading>& readings) {
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

void tell_missing(Job& job, const Spot& list, const CornerChain& chain, const std::vector<Reading>& readings) {
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
void tell_open_values(Job& job, const std::vector<NamedLine>& named, const std::vector<Reading>& readings, bool open_chain) {
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

void tell_angles_at_free_ends(Job& job, const CornerChain& chain, const std::vector<NamedLine>& named) {
    for (const NamedLine& line : named) {
        if (!line.is_angle || chain.has_angle(line.first)) continue;
        job.tell(line.line.spot, "reading.free-end",
                 fmt::format("{} is an angle at a free end: only one board comes to {}.", written(line.line.spot),
                             corner_letter(line.first)),
                 "Say under \"ends\" how that end is cut, and remove the reading.");
    }
}

// Corners of a found outline: the letters from A without a gap, and whatever has an angle. A letter behind a gap that stands
// only in distances is a peg.
std::size_t corners_found(const std::vector<NamedLine>& named) {
    std::set<std::size_t> letters;
    std::size_t corners = 0;
    for (const NamedLine& line : named) {
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
    std::vector<ReadingLine> lines;
    for (std::size_t i = 0; i < *count; ++i) {
        if (auto line = split_reading(job, list.item(i))) lines.push_back(*std::move(line));
    }
    const bool beyond_z = std::any_of(lines.begin(), lines.end(), [](const ReadingLine& line) {
        return !line.second.empty() && std::max(line.first.size(), line.second.size()) > 1;
    });
    std::vector<NamedLine> named;
    for (const ReadingLine& line : lines) {
        if (auto corners = name_corners(job, line, beyond_z)) named.push_back(*std::move(corners));
    }
    const bool all_named = named.size() == *count;
    CornerChain chain{0, open};
    if (found) chain.corners = corners_found(named);
    for (const NamedLine& line : named) {
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
                     std::string(kReadingExample));
        return read;
    }
    for (const NamedLine& line : named) read.outline.readings.push_back(read_reading(job, line, chain, found, from_above));
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
