#include <algorithm>
#include <array>
#include <iterator>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "io/sections.hpp"
#include "io/wording.hpp"

namespace boardring {
namespace {

// What frames of boards are commonly made of [mm]; common practice. Outside these a plain number may still be right.
struct Usual {
    double low_mm;
    double high_mm;
};

// In the order of Measures.
constexpr std::array<Usual, 3> kUsual{{{30.0, 15'000.0}, {8.0, 700.0}, {4.0, 200.0}}};
constexpr std::array<std::string_view, 3> kNoun{"a size of the outline", "the width of a board", "the thickness of a board"};

bool is_usual(Measures measures, double mm) {
    const Usual& usual = kUsual[static_cast<std::size_t>(measures)];
    return mm >= usual.low_mm && mm <= usual.high_mm;
}

// Units in which the same figures would be usual.
std::vector<Unit> likelier_units(const PlainLength& length, Unit job_unit) {
    std::vector<Unit> units;
    for (const Unit unit : {Unit::mm, Unit::cm, Unit::inch, Unit::foot, Unit::m}) {
        if (unit != job_unit && is_usual(length.measures, length.mm / unit_in_mm(job_unit) * unit_in_mm(unit)))
            units.push_back(unit);
    }
    return units;
}

// No number is usual: the frame may be that small or large, or all its sizes were taken in another unit. Asked once, of the
// first number, where one unit would make every one of them usual.
void warn_of_odd_job(Job& job, const std::vector<PlainLength>& lengths) {
    std::vector<Unit> units = likelier_units(lengths.front(), job.unit);
    for (const PlainLength& length : lengths) {
        const std::vector<Unit> own = likelier_units(length, job.unit);
        std::erase_if(units, [&](Unit unit) { return std::find(own.begin(), own.end(), unit) == own.end(); });
    }
    if (units.empty()) return;
    const std::string figures = show_number(lengths.front().mm / unit_in_mm(job.unit), 4);
    const std::string first = fmt::format("{} {}", figures, unit_name(job.unit));
    std::vector<std::string> sizes, keys;
    for (const Unit unit : units) {
        sizes.push_back(fmt::format("{} {}", figures, unit_name(unit)));
        keys.push_back(fmt::format("\"units\": \"{}\"", unit_name(unit)));
    }
    job.tell(lengths.front().spot, "value.odd-scale",
             fmt::format("Every size here, such as {}, is unusual for a frame of boards; {} would not be.", first,
                         joined({sizes.begin(), sizes.end()})),
             fmt::format("Write {} if you measured so. If the sizes are right, write the unit with each number: \"{}\".",
                         joined({keys.begin(), keys.end()}), first),
             Severity::warning);
}

}  // namespace

void tell_if_thicker_than_wide(Job& job, const Spot& thickness, double width_mm, double thickness_mm) {
    if (width_mm <= 0.0 || thickness_mm <= width_mm) return;
    const LengthStyle style{job.unit, job.in_inches() ? 25.4 / 64.0 : 0.1};
    job.tell(thickness, "value.odd-scale",
             fmt::format("The thickness, {}, is more than the width, {}.", show_length_unit(thickness_mm, style), show_length_unit(width_mm, style)),
             "If the two changed places, swap them; if a digit or the unit slipped, mend it; else leave it.", Severity::warning);
}

void warn_of_odd_scale(Job& job) {
    std::vector<PlainLength> lengths;
    std::copy_if(job.plain_lengths.begin(), job.plain_lengths.end(), std::back_inserter(lengths),
                 [](const PlainLength& length) { return length.measures != Measures::other && length.mm > 0.0; });
    if (lengths.empty()) return;
    const auto usual = [](const PlainLength& length) { return is_usual(length.measures, length.mm); };
    if (std::none_of(lengths.begin(), lengths.end(), usual)) return warn_of_odd_job(job, lengths);
    for (const PlainLength& length : lengths) {
        if (usual(length)) continue;
        const std::vector<Unit> units = likelier_units(length, job.unit);
        if (units.empty()) continue;
        const std::string figures = show_number(length.mm / unit_in_mm(job.unit), 4);
        const auto in = [&](Unit unit) { return fmt::format("{} {}", figures, unit_name(unit)); };
        std::string likelier = in(units.front());
        if (units.size() > 1) likelier += " or " + in(units[1]);
        // A wrong unit says why a board is thicker than wide: one question, not two.
        std::erase_if(job.findings, [&](const Finding& told) { return told.code == "value.odd-scale" && told.pointer == length.spot.pointer; });
        job.tell(length.spot, "value.odd-scale",
                 fmt::format("{} is unusual for {}; {} would not be.", in(job.unit),
                             kNoun[static_cast<std::size_t>(length.measures)], likelier),
                 fmt::format("Write the unit with it: \"{}\", or \"{}\" if it is right.", in(units.front()), in(job.unit)),
                 Severity::warning);
        if (units.size() == 1) job.mended_by(set_phrase(length.spot.pointer, in(units.front())));
    }
}

}  // namespace boardring
