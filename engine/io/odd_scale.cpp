#include <algorithm>
#include <array>
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

}  // namespace

void warn_of_odd_scale(Job& job) {
    const auto counts = [](const PlainLength& length) { return length.measures != Measures::other && length.mm > 0.0; };
    const bool any_usual = std::any_of(job.plain_lengths.begin(), job.plain_lengths.end(), [&](const PlainLength& length) {
        return counts(length) && is_usual(length.measures, length.mm);
    });
    if (!any_usual) return;  // a small or a large job throughout
    for (const PlainLength& length : job.plain_lengths) {
        if (!counts(length) || is_usual(length.measures, length.mm)) continue;
        const std::vector<Unit> units = likelier_units(length, job.unit);
        if (units.empty()) continue;
        const std::string figures = show_number(length.mm / unit_in_mm(job.unit), 4);
        const auto in = [&](Unit unit) { return fmt::format("{} {}", figures, unit_name(unit)); };
        std::string likelier = in(units.front());
        if (units.size() > 1) likelier += " or " + in(units[1]);
        job.tell(length.spot, "value.odd-scale",
                 fmt::format("{} is unusual for {}; {} would not be.", in(job.unit),
                             kNoun[static_cast<std::size_t>(length.measures)], likelier),
                 fmt::format("Write the unit with it: \"{}\", or \"{}\" if it is right.", in(units.front()), in(job.unit)),
                 Severity::warning);
        if (units.size() == 1) job.mended_by(set_phrase(length.spot.pointer, in(units.front())));
    }
}

}  // namespace boardring
