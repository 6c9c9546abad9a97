#include <string>
#include <string_view>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"
#include "io/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostOfAKind = 1000;
constexpr std::size_t kMostKinds = 100;

bool is_blank(char c) { return c == ' ' || c == '\t'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
    return text;
}

// "5 of 38" in its two parts; no count if it is no such text.
struct CountOf {
    std::optional<std::size_t> count;
    std::string size;
};

CountOf split_count(std::string_view text) {
    constexpr std::size_t kMostDigits = 6;
    std::size_t digits = 0, count = 0;
    while (digits < text.size() && digits < kMostDigits && is_digit(text[digits])) {
        count = 10 * count + static_cast<std::size_t>(text[digits++] - '0');
    }
    std::string_view rest = text.substr(digits);
    if (digits == 0 || rest.empty() || !is_blank(rest.front())) return {};
    rest = trimmed(rest);
    if (!rest.starts_with("of") || rest.size() < 4 || !is_blank(rest[2])) return {};
    return {count, std::string(trimmed(rest.substr(2)))};
}

// The size named in a longer text, read and checked as if it stood alone at the same place.
std::optional<double> read_size(Job& job, const Spot& spot, const std::string& size, Lie lie) {
    JsonValue alone = *spot.json;
    alone.text = size;
    const std::size_t before = job.plain_lengths.size();
    const auto mm = read_length(job, {&alone, spot.pointer}, lie == Lie::flat ? kBoardWidth : kBoardThickness);
    for (std::size_t i = before; i < job.plain_lengths.size(); ++i) job.plain_lengths[i].spot = spot;
    return mm;
}

class PileReader {
public:
    PileReader(Job& job, Lie lie, const BoardEntry& all, const StockRead& stock) : job_(job), lie_(lie), all_(all), stock_(stock) {}

    // One or more "5 of 38", parted by commas.
    void read_text(const Spot& spot) {
        std::string_view rest = spot.json->text;
        for (bool more = true; more;) {
            const std::size_t comma = rest.find(',');
            more = comma != std::string_view::npos;
            const std::string_view part = trimmed(rest.substr(0, comma));
            rest = more ? rest.substr(comma + 1) : std::string_view();
            if (!read_part(spot, part)) return;
        }
    }

    void read_group(const Spot& spot) {
        const auto fields = Fields::open(job_, spot, {"count", "stock", "width", "thickness"});
        if (!fields) {
            whole_ = false;
            return;
        }
        std::optional<std::size_t> count = 1;
        if (const auto given = fields->find("count")) count = read_count(job_, *given, {1, kMostOfAKind});
        add(spot, count, read_board_entry(job_, *fields, stock_, std::nullopt));
    }

    [[nodiscard]] const std::vector<PileKind>& kinds() const { return kinds_; }
    [[nodiscard]] bool whole() const { return whole_; }  ///< every entry could be counted

private:
    bool read_part(const Spot& spot, std::string_view part) {
        const CountOf found = split_count(part);
        if (!found.count) {
            whole_ = false;
            job_.tell(spot, "pile.not-understood",
                      fmt::format("{} does not say how many boards of what {}.", in_quotes(part), lie_ == Lie::flat ? "width" : "thickness"),
                      "Write how many, \"of\", and the size: \"5 of 38\", or \"5 of 38, 1 of 28\"; a decimal takes a point: \"1 of 28.5\".");
            return false;
        }
        std::optional<std::size_t> count = found.count;
        if (*count < 1 || *count > kMostOfAKind) {
            job_.tell(spot, "value.out-of-range",
                      fmt::format("{} is {} boards; it must be from 1 to {}.", in_quotes(part), *count, kMostOfAKind),
                      "Write how many boards of this size lie in the pile.");
            count = std::nullopt;
        }
        BoardEntry entry;
        entry.pointer = spot.pointer;
        const double mm = read_size(job_, spot, found.size, lie_).value_or(0.0);
        (lie_ == Lie::flat ? entry.has_width : entry.has_thickness) = true;
        (lie_ == Lie::flat ? entry.width_mm : entry.thickness_mm) = mm;
        add(spot, count, entry);
        return true;
    }

    void add(const Spot& spot, std::optional<std::size_t> count, const BoardEntry& own) {
        BoardEntry board = merged(all_, own, stock_);
        if (!board.has_width || !board.has_thickness) {
            job_.tell(spot, "board.no-size", fmt::format("{} has no width and thickness.", name_at_start(spot)),
                      "Give \"stock\", or \"width\" and \"thickness\" as measured: for the whole pile under \"all\".");
        }
        whole_ = whole_ && count.has_value();
        kinds_.push_back({count.value_or(1), {board.stock, board.width_mm, board.thickness_mm, spot.pointer}});
    }

    Job& job_;
    Lie lie_;
    const BoardEntry& all_;
    const StockRead& stock_;
    std::vector<PileKind> kinds_;
    bool whole_ = true;
};

}  // namespace

std::vector<PileKind> read_pile(Job& job, const Spot& spot, Lie lie, const BoardEntry& all, const StockRead& stock,
                                std::optional<std::size_t> boards) {
    PileReader reader(job, lie, all, stock);
    if (spot.json->type == JsonValue::Type::text) {
        reader.read_text(spot);
    } else {
        const auto count = read_list(job, spot, 1, kMostKinds, "entries such as \"5 of 38\"");
        if (!count) return {};
        for (std::size_t i = 0; i < *count; ++i) {
            const Spot item = spot.item(i);
            item.json->type == JsonValue::Type::text ? reader.read_text(item) : reader.read_group(item);
        }
    }
    std::size_t in_pile = 0;
    for (const PileKind& kind : reader.kinds()) in_pile += kind.count;
    if (reader.whole() && boards && in_pile < *boards) {
        job.tell(spot, "pile.too-few",
                 fmt::format("The outline takes {} boards, and {} in the pile.", *boards,
                             in_pile == 1 ? std::string("1 is") : fmt::format("{} are", in_pile)),
                 fmt::format("Add {} to the pile, or choose an outline of {} boards.", *boards - in_pile, in_pile));
    }
    return reader.kinds();
}

}  // namespace boardring
