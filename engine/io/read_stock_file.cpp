#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "io/located_json.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"

namespace boardring {
namespace {

constexpr std::string_view kFormat = "boardring-stock-1";
constexpr std::size_t kMostFiles = 20;
constexpr std::size_t kMostTitle = 200;
constexpr std::size_t kMostPath = 200;
constexpr double kSameSizeMm = 1e-6;

// A relative path that cannot leave the folder it starts in, written the same way on every system.
bool stays_below(std::string_view name) {
    if (name.front() == '/' || name.find_first_of("\\:") != std::string_view::npos) return false;
    for (std::size_t at = 0; at <= name.size();) {
        const std::size_t end = std::min(name.find('/', at), name.size());
        const std::string_view part = name.substr(at, end - at);
        if (part.empty() || part == "..") return false;
        at = end + 1;
    }
    return true;
}

// What a stock file says; its faults are told at the project's key, with their line in the other file.
StockRead read_one_file(Job& job, const Spot& spot, const std::string& name, std::string_view text) {
    Job own;
    StockRead read;
    LocatedJson json = read_located_json(text);
    own.findings = std::move(json.findings);
    const auto fields = json.root ? Fields::open(own, {&*json.root, ""}, {"format", "title", "units", "stock"}) : std::nullopt;
    if (fields) {
        if (const auto format = fields->require(own, "format", "which format this file has", fmt::format("\"{}\"", kFormat)))
            read_word(own, *format, {kFormat});
        if (const auto title = fields->find("title")) read_text(own, *title, 0, kMostTitle);
        own.unit = read_unit(own, *fields).value_or(Unit::mm);
        if (fields->require(own, "stock", "the boards on sale or at home", R"({ "rail": { "width": 145, "thickness": 38 } })"))
            read = read_stock(own, *fields);
    }
    for (const Finding& fault : own.findings) {
        const std::string code = fault.severity == Severity::error ? "stock.file-fault" : fault.code;
        job.tell(spot, code, fmt::format("In {}, line {}: {}", in_quotes(name), fault.line, fault.message), fault.fix, fault.severity);
    }
    for (Assumption& assumption : own.assumed) job.assume(spot.pointer + assumption.pointer, std::move(assumption.value));
    if (has_error(own.findings)) read.readable = false;
    return read;
}

bool same_length(const StockLength& one, const StockLength& other) {
    return one.length_mm == other.length_mm && one.price == other.price && one.count == other.count && one.offcut == other.offcut;
}

// Boards at home are there once for each list that names them; a length on sale named twice is still one.
void add_lengths(const std::vector<StockLength>& more, Stock& to) {
    for (const StockLength& length : more) {
        const bool known = !length.offcut && std::any_of(to.lengths.begin(), to.lengths.end(),
                                                         [&](const StockLength& l) { return same_length(l, length); });
        if (!known) to.lengths.push_back(length);
    }
}

void merge(Job& job, const Spot& spot, const std::string& name, StockRead file, StockRead& stock) {
    if (!file.readable) stock.readable = false;
    for (Stock& more : file.stock) {
        const auto known = std::find_if(stock.stock.begin(), stock.stock.end(), [&](const Stock& s) { return s.name == more.name; });
        if (known == stock.stock.end()) {
            stock.stock.push_back(std::move(more));
            continue;
        }
        const bool same = std::abs(known->width_mm - more.width_mm) <= kSameSizeMm &&
                          std::abs(known->thickness_mm - more.thickness_mm) <= kSameSizeMm;
        if (same) {
            add_lengths(more.lengths, *known);
            continue;
        }
        if (known->width_mm <= 0.0 || more.width_mm <= 0.0) continue;  // told where it could not be read
        const LengthStyle style{job.unit, job.in_inches() ? 25.4 / 64.0 : 0.1};
        job.tell(spot, "stock.two-sizes",
                 fmt::format("The stock {} is {} x {} in {}, but {} x {} before.", in_quotes(more.name), show_length(more.width_mm, style),
                             show_length(more.thickness_mm, style), in_quotes(name), show_length(known->width_mm, style),
                             show_length_unit(known->thickness_mm, style)),
                 "Measure one and write the same size in both, or give one of them another name.");
    }
}

void add_file(Job& job, const Spot& spot, const ReadBeside& beside, StockRead& stock) {
    const auto name = read_text(job, spot, 1, kMostPath);
    if (!name) {
        stock.readable = false;
        return;
    }
    if (!stays_below(*name)) {
        stock.readable = false;
        job.tell(spot, "stock.file-place", fmt::format("The stock file {} does not lie beside the project or in a folder below it.", in_quotes(*name)),
                 "Put a copy beside the project and name it alone, as in \"yard.json\".");
        return;
    }
    const BesideText file = beside ? beside(*name) : BesideText{std::nullopt, "this project has no folder to look in"};
    if (!file.text) {
        stock.readable = false;
        job.tell(spot, "stock.file-unreadable", fmt::format("I cannot read the stock file {}: {}.", in_quotes(*name), file.trouble),
                 "Put it beside the project, or correct the name.");
        return;
    }
    merge(job, spot, *name, read_one_file(job, spot, *name, *file.text), stock);
}

}  // namespace

void add_stock_files(Job& job, const Fields& project, const ReadBeside& beside, StockRead& stock) {
    const auto spot = project.find("stock_file");
    if (!spot) return;
    if (spot->json->type != JsonValue::Type::list) {
        add_file(job, *spot, beside, stock);
        return;
    }
    const auto count = read_list(job, *spot, 1, kMostFiles, "stock files");
    for (std::size_t i = 0; i < count.value_or(0); ++i) add_file(job, spot->item(i), beside, stock);
}

}  // namespace boardring
