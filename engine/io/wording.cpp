#include "io/wording.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "base/suggest.hpp"

namespace boardring {
namespace {

// Words makers use for what is called otherwise here; looked up before the nearest spelling.
struct OtherWord {
    std::string_view word;
    std::string_view ours;
};
constexpr OtherWord kOtherWords[] = {
    {"depth", "thickness"},
    {"thick", "thickness"},
    {"unit", "units"},
    {"name", "title"},
    {"sides", "corners"},
    {"diameter", "inscribed_diameter"},
    {"flats", "over_flats"},
    {"across_flats", "over_flats"},
    {"points", "over_points"},
    {"span", "span_deg"},
    {"angle", "span_deg"},
    {"saw_cut", "kerf"},
    {"blade", "kerf"},
    {"layers", "courses"},
    {"reveal", "margin"},
    {"inch", "in"},
    {"inches", "in"},
    {"foot", "ft"},
    {"feet", "ft"},
    {"edge", "on edge"},
    {"upright", "on edge"},
    {"miter", "mitre"},
    {"halving", "half-lap"},
    {"anticlockwise", "counterclockwise"},
    {"board", "boards"},
};

// Sizes of a form of the outline that are given beside it, as lists or plain.
struct FormSize {
    std::string_view key;
    std::string_view form;
    std::string_view example;
    std::string_view as_list;
};
constexpr std::string_view kRegularExample = R"("regular": { "corners": 6, "over_flats": 640 })";
constexpr std::string_view kRectangleExample = R"("rectangle": { "length": 1200, "width": 600 })";
constexpr std::string_view kArcExample = R"("arc": { "radius": 500, "span_deg": 180, "pieces": 7 })";
constexpr FormSize kFormSizes[] = {{"corners", "regular", kRegularExample, "points"},
                                   {"sides", "regular", kRegularExample, "readings"},
                                   {"side", "regular", kRegularExample, ""},
                                   {"over_flats", "regular", kRegularExample, ""},
                                   {"over_points", "regular", kRegularExample, ""},
                                   {"diameter", "regular", kRegularExample, ""},
                                   {"length", "rectangle", kRectangleExample, ""},
                                   {"width", "rectangle", kRectangleExample, ""},
                                   {"radius", "arc", kArcExample, ""},
                                   {"span_deg", "arc", kArcExample, ""},
                                   {"chord", "arc", kArcExample, ""},
                                   {"rise", "arc", kArcExample, ""},
                                   {"pieces", "arc", kArcExample, ""}};

bool contains(const std::vector<std::string_view>& words, std::string_view word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

std::string meant(std::string_view word, const std::vector<std::string_view>& known) {
    for (const OtherWord& other : kOtherWords) {
        if (other.word == word && contains(known, other.ours)) return std::string(other.ours);
    }
    return nearest_word(word, known);
}

// Keys that name things by number, letter or the maker's own name; everything else is named by its key.
struct Named {
    std::string_view section;
    std::string_view one;
    std::string_view all;
    bool in_quotes;
    bool by_number;
};
constexpr std::array<Named, 5> kNamed{{{"/boards/", "board", "all boards", false, true},
                                       {"/joints/", "joint", "all joints", false, false},
                                       {"/ends/", "end", "all ends", false, false},
                                       {"/stock/", "stock", "stock \"all\"", true, false},
                                       {"/outline/margin/", "the margin of board", "the margin of all boards", false, true}}};

std::string name_of_pointer(const std::string& pointer, std::string_view key) {
    const std::size_t slash = pointer.rfind('/');
    const std::string last = pointer.substr(slash + 1);
    for (const Named& named : kNamed) {
        if (pointer.substr(0, slash + 1) != named.section) continue;
        if (key == "all") return std::string(named.all);
        if (named.by_number && key.find_first_not_of("0123456789") != std::string_view::npos) break;
        const std::string shown = in_quotes(key);
        return fmt::format("{} {}", named.one, named.in_quotes || shown.size() != key.size() + 2 ? shown : std::string(key));
    }
    const bool is_entry = key.empty() && !last.empty() && slash > 0 && last.find_first_not_of("0123456789") == std::string::npos;
    if (!is_entry) return in_quotes(key);
    const std::string list = pointer.substr(0, slash);
    return fmt::format("entry {} of {}", std::stoul(last) + 1, name_of_pointer(list, list.substr(list.rfind('/') + 1)));
}

}  // namespace

std::string name_of(const Spot& spot) {
    if (spot.pointer.empty()) return "the project";
    return name_of_pointer(spot.pointer, spot.json->name);
}

std::string name_at_start(const Spot& spot) {
    std::string name = name_of(spot);
    if (name.front() >= 'a' && name.front() <= 'z') name.front() = static_cast<char>(name.front() - 'a' + 'A');
    return name;
}

std::string written(const Spot& spot) {
    switch (spot.json->type) {
        case JsonValue::Type::null:
            return "null";
        case JsonValue::Type::boolean:
            return spot.json->flag ? "true" : "false";
        case JsonValue::Type::number:
            return spot.json->text.size() <= 24 ? spot.json->text : spot.json->text.substr(0, 21) + "...";
        case JsonValue::Type::text:
            return in_quotes(spot.json->text);
        case JsonValue::Type::list:
            return "a list";
        case JsonValue::Type::object:
            return "a group of keys";
    }
    return {};
}

std::string joined(const std::vector<std::string_view>& words, std::string_view last_link) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) text += i + 1 == words.size() ? last_link : std::string_view(", ");
        text += words[i];
    }
    return text;
}

std::string set_phrase(const std::string& pointer, std::string_view value) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 6> kNames{{{"/boards/lie", "lie is"},
                                                                                  {"/outline/line", "line is"},
                                                                                  {"/outline/letters", "letters are"},
                                                                                  {"/outline/seen", "seen"},
                                                                                  {"/accuracy/preset", "accuracy is"},
                                                                                  {"/tools/slope_by", "slopes by"}}};
    for (const auto& [known, name] : kNames) {
        if (pointer == known) return fmt::format("{} {}", name, value);
    }
    const std::size_t last = pointer.rfind('/');
    const std::string_view parent = std::string_view(pointer).substr(0, last);
    const std::string_view name = parent.substr(std::min(parent.rfind('/') + 1, parent.size()));
    if (pointer == "/boards/all/stock") return fmt::format("boards are {}", value);
    if (pointer.starts_with("/boards/") && pointer.ends_with("/stock")) return fmt::format("board {} is {}", name, value);
    if (pointer == "/joints/all/kind") return fmt::format("joints {}", value);
    if (pointer.starts_with("/joints/") && pointer.ends_with("/kind")) return fmt::format("joint {} {}", name, value);
    const bool size = pointer.ends_with("/width") || pointer.ends_with("/thickness");
    if (pointer.starts_with("/stock/") && size && name.find_first_of("~ ") == std::string_view::npos)
        return fmt::format("{} is {} {}", name, value, pointer.ends_with("/width") ? "wide" : "thick");
    return fmt::format("{} is {}", pointer, value);
}

std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& known) {
    if (word == "height" && contains(known, "width")) {
        return "The height of a board on edge is its \"width\", of a flat one its \"thickness\". ";
    }
    const std::string guess = meant(word, known);
    return guess.empty() ? std::string() : fmt::format("Did you mean \"{}\"? ", guess);
}

std::string did_you_mean_key(const JsonValue& given, const std::vector<std::string_view>& known) {
    const bool list = given.type == JsonValue::Type::list;
    for (const FormSize& size : kFormSizes) {
        if (size.key != given.name || !contains(known, size.form)) continue;
        if (list && !size.as_list.empty()) return fmt::format("Did you mean \"{}\"? ", size.as_list);
        if (!list) return fmt::format("Write it inside \"{}\": {}. ", size.form, size.example);
    }
    return did_you_mean(given.name, known);
}

}  // namespace boardring
