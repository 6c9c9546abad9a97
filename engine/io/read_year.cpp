#include <algorithm>
#include <charconv>
#include <optional>
#include <string_view>

#include <fmt/format.h>

#include "base/length_text.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"
#include "season/moisture.hpp"
#include "season/species.hpp"

namespace boardring {
namespace {

constexpr NumberLimits kMoisture{0.0, kFibreSaturationPct};
constexpr NumberLimits kHumidity{0.0, 98.0};
constexpr NumberLimits kCelsius{-30.0, 60.0};
constexpr NumberLimits kFahrenheit{-22.0, 140.0};

// Common practice: outdoors wood goes 4 points either way, indoors 2.5.
constexpr Year kOutdoors{10.0, 18.0, 14.0, false};
constexpr Year kIndoors{6.0, 11.0, 8.5, false};

// "6 %", "6.5%".
std::optional<double> percent_in(std::string_view text) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{}) return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    return text == "%" ? std::optional(value) : std::nullopt;
}

std::optional<double> moisture_of_air(Job& job, const Spot& spot) {
    const auto fields = Fields::open(job, spot, {"celsius", "fahrenheit", "humidity"});
    if (!fields) return std::nullopt;
    std::optional<double> celsius;
    const auto fahrenheit = fields->find("fahrenheit");
    if (fahrenheit && fields->find("celsius")) {
        job.tell(*fahrenheit, "key.unknown", "The air is given in Celsius and in Fahrenheit.", "Keep one of the two.");
    } else if (fahrenheit) {
        if (const auto f = read_number(job, *fahrenheit, kFahrenheit)) celsius = (*f - 32.0) / 1.8;
    } else if (const auto c = fields->require(job, "celsius", "how warm the air is (or \"fahrenheit\")", "20")) {
        celsius = read_number(job, *c, kCelsius);
    }
    std::optional<double> humidity;
    if (const auto h = fields->require(job, "humidity", "how moist the air is, in per cent", "45")) humidity = read_number(job, *h, kHumidity);
    if (!celsius || !humidity) return std::nullopt;
    return moisture_in_air_pct(*celsius, *humidity);
}

// Per cent, as a number or a text, or the air the wood stands in.
std::optional<double> read_moisture(Job& job, const Spot& spot) {
    if (spot.json->type == JsonValue::Type::object) return moisture_of_air(job, spot);
    if (spot.json->type != JsonValue::Type::text) return read_number(job, spot, kMoisture);
    const auto percent = percent_in(spot.json->text);
    if (!percent || *percent < kMoisture.low || *percent > kMoisture.high) {
        job.tell(spot, "value.out-of-range", "The moisture of wood is given from 0 to 30 %: above that it swells no more.",
                 "Write 9, \"9 %\", or the air it stands in: { \"celsius\": 20, \"humidity\": 45 }.");
        return std::nullopt;
    }
    return percent;
}

std::string shown_pct(double pct) { return show_number(pct, 1); }

std::optional<Year> usual_year(Job& job, const Spot& project, const std::vector<Stock>& stock, Preset preset) {
    const bool all_known =
        !stock.empty() && std::all_of(stock.begin(), stock.end(), [](const Stock& s) { return find_wood(s.species).has_value(); });
    if (!all_known) return std::nullopt;
    const Year year = preset == Preset::garden ? kOutdoors : kIndoors;
    job.assume(project.pointer + "/year", fmt::format("over the year the wood goes from {} to {} % moisture and is worked at {}",
                                                      shown_pct(year.dry_pct), shown_pct(year.wet_pct), shown_pct(year.made_pct)));
    return year;
}

}  // namespace

std::optional<Year> read_year(Job& job, const Fields& project, const std::vector<Stock>& stock, Preset preset) {
    const auto spot = project.find("year");
    if (!spot) return usual_year(job, project.spot(), stock, preset);
    const auto fields = Fields::open(job, *spot, {"dry", "wet", "made"});
    if (!fields) return std::nullopt;
    const auto read = [&](std::string_view key, std::string_view says, std::string_view example) {
        const auto at = fields->require(job, key, says, example);
        return at ? read_moisture(job, *at) : std::nullopt;
    };
    const auto dry = read("dry", "the wood's moisture in the driest month", "6"), wet = read("wet", "the wood's moisture in the wettest month", "12");
    if (!dry || !wet) return std::nullopt;
    if (*dry >= *wet) {
        job.tell(*spot, "season.dry-and-wet", fmt::format("Dry is {} % and wet is {} %: dry must be less.", shown_pct(*dry), shown_pct(*wet)),
                 "Swap them, or mend the one that slipped.");
        return std::nullopt;
    }
    Year year{*dry, *wet, 0.5 * (*dry + *wet), true};
    if (const auto made = fields->find("made")) {
        const auto pct = read_moisture(job, *made);
        if (!pct) return std::nullopt;
        year.made_pct = *pct;
    } else {
        job.assume(fields->pointer("made"), fmt::format("the wood is worked at {} % moisture", shown_pct(year.made_pct)));
    }
    return year;
}

}  // namespace boardring
