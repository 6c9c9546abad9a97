#include "outline/fit_slips.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/angle.hpp"

namespace boardring {
namespace {

// Before anyone has looked: an error is a usual slip as often as not; any other is spread evenly over these ranges.
constexpr double kRange_mm = 1000.0;
constexpr double kLevelRange_mm = 100.0;  // what is out against level by more is seen without a level
constexpr double kRange_deg = 120.0;
constexpr double kOutOfNoise = 3.0;  // a slip smaller than this many standard deviations explains nothing
constexpr double kFitsWithin = 2.0;  // so near, in standard deviations, it is told

std::vector<FittingSlip> length_slips(const Observation& o, const SlipContext& context) {
    std::vector<FittingSlip> slips;
    const auto offer = [&](SideSlip slip, double meant_mm) {
        if (!(meant_mm > 0.0) || meant_mm == o.value) return;
        slips.push_back({slip, std::nullopt, std::nullopt, meant_mm});
    };
    const bool inches = context.style.unit == Unit::inch || context.style.unit == Unit::foot;
    const double unit_mm = unit_in_mm(context.style.unit);
    for (const double sign : {-1.0, 1.0}) {
        if (!inches) {
            offer(SideSlip::hundred, o.value + sign * 100.0);
            offer(SideSlip::ten, o.value + sign * 10.0);
        }
        offer(SideSlip::inch, o.value + sign * 25.4);
        const double up = sign > 0.0 ? 1.0 : -1.0;
        offer(SideSlip::factor_ten, o.value * std::pow(10.0, up));
        offer(SideSlip::factor_inch, o.value * std::pow(25.4, up));
        if (inches) offer(SideSlip::factor_twelve, o.value * std::pow(12.0, up));
    }
    for (const double swapped : with_digits_swapped(o.value / unit_mm)) offer(SideSlip::swapped, swapped * unit_mm);
    if (o.line < context.other_lines.size()) {
        for (const auto& [slip, more_mm] : context.other_lines[o.line]) offer(slip, o.value + more_mm);
    }
    return slips;
}

std::vector<FittingSlip> angle_slips_of(const Observation& o) {
    std::vector<FittingSlip> slips;
    const auto offer = [&](Slip slip, double meant_deg) {
        if (meant_deg > 0.0 && meant_deg < 360.0 && meant_deg != o.value) slips.push_back({std::nullopt, slip, std::nullopt, meant_deg});
    };
    for (const bool inward : {false, true}) {
        for (const Slip slip : {Slip::outside_ring, Slip::turn, Slip::half, Slip::saw}) {
            const bool same = inward && (slip == Slip::outside_ring || slip == Slip::half);
            if (!same) offer(slip, corner_that_gives(slip, o.value, inward));
        }
    }
    for (const double swapped : with_digits_swapped(o.value)) offer(Slip::swapped, swapped);
    return slips;
}

// Unlike a length these may be on either side of nothing; nothing itself, level, has no other way.
std::vector<FittingSlip> level_slips(const Observation& o, const SlipContext& context) {
    std::vector<FittingSlip> slips;
    if (o.value == 0.0) return slips;
    const auto offer = [&](LevelSlip slip, double meant_mm) { slips.push_back({std::nullopt, std::nullopt, slip, meant_mm}); };
    offer(LevelSlip::other_way, -o.value);
    for (const double by : {0.1, 10.0}) offer(LevelSlip::factor_ten, by * o.value);
    for (const double by : {1.0 / 25.4, 25.4}) offer(LevelSlip::factor_inch, by * o.value);
    const double unit_mm = unit_in_mm(context.style.unit), sign = o.value < 0.0 ? -1.0 : 1.0;
    for (const double swapped : with_digits_swapped(std::abs(o.value) / unit_mm)) offer(LevelSlip::swapped, sign * swapped * unit_mm);
    return slips;
}

double range_of(Observation::Kind kind) {
    switch (kind) {
        case Observation::Kind::angle:
            return kRange_deg;
        case Observation::Kind::height:
        case Observation::Kind::sideways:
            return kLevelRange_mm;
        case Observation::Kind::distance:
            break;
    }
    return kRange_mm;
}

}  // namespace

std::vector<FittingSlip> slips_of(const Observation& observation, const SlipContext& context) {
    switch (observation.kind) {
        case Observation::Kind::distance:
            return length_slips(observation, context);
        case Observation::Kind::angle:
            return angle_slips_of(observation);
        case Observation::Kind::height:
        case Observation::Kind::sideways:
            return level_slips(observation, context);
    }
    return {};
}

WeighedSlips weigh_slips(const Observation& observation, double would_be, double would_be_sd, const SlipContext& context) {
    const std::vector<FittingSlip> slips = slips_of(observation, context);
    const double s = std::hypot(observation.sigma, would_be_sd);
    const double range = range_of(observation.kind);
    WeighedSlips weighed;
    std::vector<std::pair<double, FittingSlip>> near;
    double density = 0.0;
    for (const FittingSlip& slip : slips) {
        if (std::abs(slip.meant - observation.value) < kOutOfNoise * s) continue;
        const double z = std::abs(slip.meant - would_be) / s;
        density += std::exp(-0.5 * z * z) / (s * std::sqrt(2.0 * kPi));
        if (z < kFitsWithin) near.emplace_back(z, slip);
    }
    std::stable_sort(near.begin(), near.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (const auto& [z, slip] : near) weighed.fitting.push_back(slip);
    if (!slips.empty()) weighed.speaks_for = 2.0 * std::log1p(density * range / static_cast<double>(slips.size()));
    return weighed;
}

}  // namespace boardring
