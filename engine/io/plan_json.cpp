#include "io/plan_json.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/ensure.hpp"
#include "base/names.hpp"

namespace boardring {
namespace {

// Shortest decimals that read back as the same double, always with a sign that it is one: 900.0, 1e-05.
void add_number(double value, std::string& text) {
    std::array<char, 32> digits{};
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value).ptr;
    const std::string_view written(digits.data(), static_cast<std::size_t>(end - digits.data()));
    text += written;
    if (written.find_first_of(".e") == std::string_view::npos) text += ".0";
}

void add_leaf(const Json& value, std::string& text) {
    if (value.is_number_float()) {
        add_number(value.get<double>(), text);
    } else {
        text += value.dump(-1, ' ', false, Json::error_handler_t::replace);
    }
}

// Nearly all keys are our own words, in which nothing wants escaping; in a list of wood they are the names the maker gave.
void add_key(const std::string& key, std::string& text) {
    const bool plain = std::all_of(key.begin(), key.end(), [](char c) { return c >= ' ' && c <= '~' && c != '"' && c != '\\'; });
    if (plain) {
        text.append(1, '"').append(key).append(1, '"');
    } else {
        add_leaf(key, text);
    }
    text += ": ";
}

// Adds the value on one line; false, with some of it added, as soon as it is found too long for one.
bool add_on_one_line(const Json& value, std::size_t most, std::string& text) {
    if (!value.is_structured()) {
        add_leaf(value, text);
        return text.size() <= most;
    }
    text += value.is_object() ? '{' : '[';
    for (auto item = value.begin(); item != value.end(); ++item) {
        if (item != value.begin()) text += ", ";
        if (value.is_object()) add_key(item.key(), text);
        if (!add_on_one_line(*item, most, text)) return false;
    }
    text += value.is_object() ? '}' : ']';
    return text.size() <= most;
}

// What is longer than a line stands one item below the other; so do lists of things that are looked for, even short ones.
void lay_out(const Json& value, std::size_t depth, std::string& text) {
    if (!value.is_structured()) {
        add_leaf(value, text);
        return;
    }
    constexpr std::size_t kLineLength = 100;
    const bool list_of_things = value.is_array() && !value.empty() && value.front().is_object();
    const std::size_t before = text.size();
    if (!list_of_things && add_on_one_line(value, before + kLineLength, text)) return;
    text.resize(before);
    text += value.is_object() ? "{\n" : "[\n";
    for (auto item = value.begin(); item != value.end(); ++item) {
        if (item != value.begin()) text += ",\n";
        text.append(2 * (depth + 1), ' ');
        if (value.is_object()) add_key(item.key(), text);
        lay_out(*item, depth + 1, text);
    }
    text += '\n';
    text.append(2 * depth, ' ');
    text += value.is_object() ? '}' : ']';
}

}  // namespace

Json number(double value) {
    ENSURE(std::isfinite(value));
    return value == 0.0 ? 0.0 : value;  // no "-0.0"
}

Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

Json point(Vec2 p) { return Json::array({number(p.x), number(p.y)}); }

Json points(const std::vector<Vec2>& list, bool clockwise) {
    Json j = Json::array();
    for (const Vec2 p : list) j.push_back(point({p.x, clockwise ? -p.y : p.y}));
    return j;
}

Json range(const Range& range) {
    Json j;
    j["low"] = number(range.low);
    j["high"] = number(range.high);
    return j;
}

Json board_name(std::size_t board) { return board + 1; }

Json board_name(const std::optional<std::size_t>& board) { return board ? board_name(*board) : Json(nullptr); }

std::string end_name(const Frame& frame, std::size_t board, std::size_t end) {
    return board_number(board) + corner_letter(frame.boards[board].ends[end].corner);
}

Json stock_name(const Project& project, const std::optional<std::size_t>& stock) {
    return stock ? Json(project.stock[*stock].name) : Json(nullptr);
}

std::string_view name_of(Turning turning) {
    switch (turning) {
        case Turning::as_first: return "as-first";
        case Turning::top_to_bottom: return "top-to-bottom";
        case Turning::edge_for_edge: return "edge-for-edge";
        case Turning::end_for_end: return "end-for-end";
    }
    ENSURE(false);
    return "";
}

std::string laid_out(const Json& value) {
    std::string text;
    lay_out(value, 0, text);
    text += '\n';
    return text;
}

}  // namespace boardring
