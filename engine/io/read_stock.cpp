#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"
#include "io/wording.hpp"
#include "project/nominal_size.hpp"
#include "project/used_stock.hpp"
#include "season/species.hpp"

namespace boardring {
namespace {

constexpr double kEndTrimMm = 20.0;
constexpr double kEndTrimInchMm = 0.75 * 25.4;
constexpr std::size_t kMostNameLength = 60;
constexpr CountLimits kStockCount{0, 100'000};
constexpr NumberLimits kPrice{0.0, 1e9};

bool any_key(std::string_view /*key*/) {
    return true;
}

void read_nominal(Job& job, const Spot& spot, Stock& stock) {
    const auto text = read_text(job, spot, 1, kMostNameLength);
    if (!text) return;
    const auto size = nominal_size(*text);
    if (!size) {
        const Finding unknown = nominal_unknown(*text);
        job.tell(spot, unknown.code, unknown.message, unknown.fix, unknown.severity);
        return;
    }
    stock.nominal = size->name;
    stock.width_mm = size->width_mm;
    stock.thickness_mm = size->thickness_mm;
}

// Sizes measured on the boards themselves win over the name they were sold by.
void read_section_size(Job& job, const Fields& fields, Stock& stock) {
    const auto nominal = fields.find("nominal");
    if (nominal) read_nominal(job, *nominal, stock);
    const auto size = [&](std::string_view key, std::string_view says, std::string_view example) {
        return nominal ? fields.find(key) : fields.require(job, key, says, example);
    };
    const auto width = size("width", "how wide the board is, measured", job.in_inches() ? "5.5" : "145");
    const auto thickness = size("thickness", "how thick the board is, measured", job.in_inches() ? "1.5" : "38");
    if (width) stock.width_mm = read_length(job, *width, kBoardWidth).value_or(0.0);
    if (thickness) stock.thickness_mm = read_length(job, *thickness, kBoardThickness).value_or(0.0);
    if (width && thickness) tell_if_thicker_than_wide(job, *thickness, stock.width_mm, stock.thickness_mm);
    if (!stock.nominal.empty() && !(width && thickness)) {
        job.tell(*nominal, "stock.nominal", nominal_size(stock.nominal)->note + ".",
                 "Measure one of yours and give \"width\" and \"thickness\" beside \"nominal\".", Severity::note);
    }
}

// A wood need not be known; but one slip off a known one, and what the year does would be left out for it in silence. Short names are
// left alone: lime is no slip for another wood.
void tell_species_slip(Job& job, const Spot& spot, const std::string& species) {
    constexpr std::size_t kLeastLetters = 5, kMostLetters = 64;
    if (species.size() < kLeastLetters || species.size() > kMostLetters || find_wood(species)) return;
    for (const WoodMovement& wood : known_woods()) {
        const std::string name = spoken_name(wood.name);
        const std::string last = name.substr(name.rfind(' ') + 1);  // "spruce" of "white spruce"
        for (const std::string& near : {name, last}) {
            if (near.size() < kLeastLetters || edits_between(species, near) != 1) continue;
            job.tell(spot, "stock.species-slip", fmt::format("{} is no wood I know.", in_quotes(species)),
                     fmt::format("Did you mean {}? If not, leave it: only what dry and wet months do needs the wood.", near), Severity::note);
            return;
        }
    }
}

StockLength read_stock_length(Job& job, const Spot& spot) {
    StockLength length;
    const auto fields = Fields::open(job, spot, {"length", "price", "count", "offcut"});
    if (!fields) return length;
    if (const auto mm = fields->require(job, "length", "how long the board is", job.in_inches() ? "96" : "2400"))
        length.length_mm = read_length(job, *mm, kPieceLength).value_or(0.0);
    if (const auto price = fields->find("price")) length.price = read_number(job, *price, kPrice);
    if (const auto count = fields->find("count")) length.count = read_count(job, *count, kStockCount);
    if (const auto offcut = fields->find("offcut")) length.offcut = read_flag(job, *offcut).value_or(false);
    return length;
}

Stock read_one_stock(Job& job, const std::string& name, const Spot& spot) {
    Stock stock;
    stock.name = name;
    const auto fields = Fields::open(job, spot, {"width", "thickness", "nominal", "surface", "species", "grain", "end_trim", "lengths"});
    if (!fields) return stock;
    read_section_size(job, *fields, stock);
    if (const auto surface = fields->find("surface")) {
        stock.surface = read_choice<Surface>(job, *surface, {"plain", "show-face", "moulded"}).value_or(stock.surface);
    } else {
        job.assume(fields->pointer("surface"), name + ": plain boards, either face may show");
    }
    if (const auto species = fields->find("species")) {
        stock.species = read_text(job, *species, 1, kMostNameLength).value_or("");
        tell_species_slip(job, *species, stock.species);
    }
    if (const auto grain = fields->find("grain"))
        stock.grain = read_choice<Grain>(job, *grain, {"flat-sawn", "quarter-sawn"}).value_or(stock.grain);
    stock.end_trim_mm = job.in_inches() ? kEndTrimInchMm : kEndTrimMm;
    if (const auto trim = fields->find("end_trim")) {
        stock.end_trim_mm = read_length(job, *trim, {0.0, 1e3}).value_or(0.0);
    } else {
        const LengthStyle style{job.unit, job.in_inches() ? 25.4 / 16 : 0.5};
        job.assume(fields->pointer("end_trim"),
                   fmt::format("{}: {} trimmed off each bought board", name, show_length_unit(stock.end_trim_mm, style)));
    }
    if (const auto lengths = fields->find("lengths")) {
        const auto count = read_list(job, *lengths, 0, kMostCorners, "lengths");
        for (std::size_t i = 0; i < count.value_or(0); ++i) stock.lengths.push_back(read_stock_length(job, lengths->item(i)));
    }
    return stock;
}

// The first few of the names, each as it may stand in a message.
std::string shown_names(const std::vector<std::string_view>& names) {
    constexpr std::size_t kMostShown = 12;
    std::vector<std::string> shown;
    for (std::size_t i = 0; i < names.size() && i < kMostShown; ++i) shown.push_back(in_quotes(names[i]));
    const bool all = names.size() <= kMostShown;
    return joined({shown.begin(), shown.end()}, all ? " and " : ", ") +
           (all ? "" : fmt::format(" and {} more", names.size() - kMostShown));
}

void check_stock_name(Job& job, const std::string& name, const Spot& spot) {
    JsonValue as_text;
    as_text.type = JsonValue::Type::text;
    as_text.text = name;
    as_text.name = name;
    as_text.place = spot.json->name_place;
    read_text(job, {&as_text, spot.pointer}, 1, kMostNameLength);
}

}  // namespace

StockRead read_stock(Job& job, const Fields& project) {
    StockRead read;
    const auto spot = project.find("stock");
    if (!spot) return read;
    const auto fields = Fields::open(job, *spot, {}, {any_key, "names you choose"});
    read.readable = fields.has_value();
    if (!fields) return read;
    for (const auto& [name, value] : fields->others()) {
        check_stock_name(job, name, value);
        read.stock.push_back(read_one_stock(job, name, value));
    }
    return read;
}

void note_unused_stock(Job& job, const Fields& project, const Project& read, std::size_t listed) {
    const std::vector<bool> used = used_stock(read);
    std::vector<std::string_view> unused;
    for (std::size_t s = 0; s < listed; ++s) {
        if (!used[s]) unused.push_back(read.stock[s].name);
    }
    if (unused.empty()) return;
    const auto stock = Fields::open(job, *project.find("stock"), {}, {any_key, "names you choose"});
    const char* it = unused.size() == 1 ? "it" : "them";
    const bool alone = read.pieces_alone();
    const std::string example = (alone ? "" : "\"2\": ") + fmt::format("{{ \"stock\": {} }}", in_quotes(unused.front()));
    job.tell(*stock->find(unused.front()), "stock.not-used",
             fmt::format("You list {}, but no {} is of {}.", shown_names(unused), alone ? "piece" : "board", it),
             fmt::format("If some {} of {}, say so in \"{}\": {}; else leave {}.", alone ? "piece is" : "board is", it, alone ? "pieces" : "boards", example, it),
             Severity::note);
}

std::optional<std::size_t> read_stock_name(Job& job, const Spot& spot, const StockRead& stock) {
    const auto name = read_text(job, spot, 1, kMostNameLength);
    if (!name) return std::nullopt;
    const auto at = std::find_if(stock.stock.begin(), stock.stock.end(), [&name](const Stock& s) { return s.name == *name; });
    if (at != stock.stock.end()) return static_cast<std::size_t>(at - stock.stock.begin());
    if (!stock.readable) return std::nullopt;
    std::vector<std::string_view> names;
    for (const Stock& s : stock.stock) names.push_back(s.name);
    const std::string nearest = nearest_word(*name, names);
    job.tell(spot, "stock.unknown",
             names.empty() ? fmt::format("No stock is called {}: the project has no \"stock\".", in_quotes(*name))
                                 : fmt::format("No stock is called {}; given {} {}.", in_quotes(*name),
                                               names.size() == 1 ? "is" : "are", shown_names(names)),
             nearest.empty() ? "Name one of the stock, or add it with its width and thickness."
                             : fmt::format("Did you mean {}?", in_quotes(nearest)));
    if (!nearest.empty()) job.mended_by(set_phrase(spot.pointer, nearest));
    return std::nullopt;
}

}  // namespace boardring
