#include <array>
#include <optional>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "base/names.hpp"
#include "io/reading_words.hpp"
#include "spoken/change_parts.hpp"
#include "spoken/notebook_line.hpp"

// Corners and sides: "C is 97", "AB is 902 +-2", "B is at 900, 0", and the size of a ring given in another way.

namespace boardring {
namespace {

using Type = JsonValue::Type;

bool has_mark(std::string_view value) {
    const auto line = notebook_line("A " + std::string(value));
    return line && line->has_accuracy;
}

void set_text_of_reading(Changing& changing, std::size_t index, std::string text) {
    changing.set({"outline", "readings", std::to_string(index)}, json_text(text));
}

// Below 180 an angle noted as the one outside the ring could be meant either way.
bool inward_is_plain(Changing& changing, std::string_view name, std::string_view value) {
    double deg = 0.0;
    if (is_json_number(value)) deg = std::stod(std::string(value));
    if (deg >= 180.0) return true;
    changing.read.findings.push_back(
        {Severity::error, "change.not-understood", "",
         fmt::format("{0} is noted as the angle outside the ring; {0} {1} can mean either side.", name, value),
         fmt::format("Say \"{0} is {1} inward\" for outside the ring, or \"{0} is {1} outward\" for inside.", name, value)});
    return false;
}

std::string_view without_word(std::string_view value, std::string_view word) {
    value.remove_suffix(word.size());
    const std::size_t end = value.find_last_not_of(" \t");
    return value.substr(0, end == std::string_view::npos ? 0 : end + 1);
}

// "fall 5", also as it is said, "fall is 5": beside the length of that name, never in its place.
bool change_worded_reading(Changing& changing, const NotebookHead& head, std::string_view name, std::string_view value) {
    std::string width;  // "BC to DA 898" comes here as BC and "DA 898": "to" is also what stands before a value
    if (const std::size_t blank = value.find(' '); blank != std::string_view::npos && value.substr(0, blank) != "to") {
        const auto other = notebook_head(value.substr(0, blank));
        if (other && !other->second.empty()) width = fmt::format("to {}", value);
    }
    if (!width.empty()) value = width;
    std::string_view rest = value;
    if (take_reading_word(rest) == ReadingWord::none) return false;
    std::string said(value.substr(0, value.size() - rest.size()));
    if (rest.starts_with("is ")) rest.remove_prefix(3);
    said += rest;
    const JsonValue& readings = *changing.at("/outline/readings");
    const auto index = find_worded_reading(readings, head, said);
    if (!index) {
        changing.set({"outline", "readings", "-"}, json_text(fmt::format("{} {}", name, said)));
        return true;
    }
    // Told of the corners as they stand in the line: "BA fall 5" is no "AB fall 5".
    set_text_of_reading(changing, *index, fmt::format("{} {}", name, said));
    return true;
}

void change_reading(Changing& changing, const NotebookHead& head, std::string_view name, std::string_view value) {
    if (change_worded_reading(changing, head, name, value)) return;
    const JsonValue& readings = *changing.at("/outline/readings");
    const bool outward = value.ends_with("outward");
    const bool inward = value.ends_with("inward");
    if (outward) value = without_word(value, "outward");
    const auto index = find_reading(readings, head);
    if (!index) {
        changing.set({"outline", "readings", "-"}, json_text(fmt::format("{} {}", name, value)));
        return;
    }
    const std::string& text = readings.children[*index].text;
    const NotebookLine line = *notebook_line(text);
    const std::string before = text.substr(0, line.value_begin);
    const std::string gap = before.empty() || before.back() == ' ' || before.back() == '\t' ? "" : " ";
    if (value == "inward") {
        set_text_of_reading(changing, *index, text.substr(0, line.value_end) + " inward" + text.substr(line.tail_end));
        return;
    }
    if (line.inward && !inward && !outward && !inward_is_plain(changing, name, value)) return;
    if (has_mark(value) || !line.has_accuracy || line.inward) {
        set_text_of_reading(changing, *index, before + gap + std::string(value) + text.substr(line.tail_end));
    } else {
        // What was said of its accuracy still holds.
        set_text_of_reading(changing, *index, before + gap + std::string(value) + text.substr(line.value_end));
    }
}

void change_rectangle(Changing& changing, const NotebookHead& head, std::string_view value) {
    const bool along = (head.first == "A" && head.second == "B") || (head.first == "C" && head.second == "D");
    const bool across = (head.first == "B" && head.second == "C") || (head.first == "A" && head.second == "D");
    if (!along && !across) {
        changing.no_such("This outline is a rectangle: it has the sides AB and BC, and its corners are 90.",
                         "Change AB or BC; for other corners give the outline as points or readings.");
        return;
    }
    if (const auto json = value_json(changing, Kind::length, value)) changing.set({"outline", "rectangle", along ? "length" : "width"}, *json);
}

void change_point(Changing& changing, const NotebookHead& head, std::string_view value) {
    const JsonValue& points = *changing.at("/outline/points");
    const auto index = corner_index(head.first);
    if (!head.second.empty() || !index || *index >= points.children.size()) {
        changing.no_such(fmt::format("This outline is given as {} points, by where each corner lies.", points.children.size()),
                         "Say where a corner lies: \"B is at 900, 0\" (to the right, up).");
        return;
    }
    const std::size_t comma = value.find(',');
    const std::size_t blank = value.find(' ');
    const std::size_t cut = comma != std::string_view::npos ? comma : blank;
    if (cut == std::string_view::npos) {
        changing.not_understood(value, {}, "Say how far to the right and how far up: \"B is at 900, 0\".");
        return;
    }
    const auto x = value_json(changing, Kind::length, value.substr(0, cut));
    const auto y = value_json(changing, Kind::length, Phrase(value.substr(cut + 1)).rest());
    if (!x || !y) return;
    changing.set({"outline", "points", std::to_string(*index), "0"}, *x);
    changing.set({"outline", "points", std::to_string(*index), "1"}, *y);
}

void change_corner_or_side(Changing& changing, const NotebookHead& head, std::string_view name, std::string_view value) {
    if (value.empty()) {
        changing.not_understood("", {}, "Say what it is to be: \"C is 97\", \"AB is 902\".");
    } else if (changing.at("/outline/readings") != nullptr) {
        change_reading(changing, head, name, value);
    } else if (changing.at("/outline/rectangle") != nullptr) {
        change_rectangle(changing, head, value);
    } else if (changing.at("/outline/points") != nullptr) {
        change_point(changing, head, value);
    } else {
        changing.no_such(fmt::format("This outline has one size for all its sides, none for {} alone.", name),
                         "Change that size, as in \"over flats is 660\", \"side is 400\", \"rise is 380\".");
    }
}

// A regular ring takes one size: the new one stands in the place of the old.
void change_size(Changing& changing, std::string_view key, std::string_view value) {
    constexpr std::array<std::string_view, 5> kSizes{"side", "over_flats", "over_points", "inscribed_diameter", "circumscribed_diameter"};
    const auto json = value_json(changing, Kind::length, value);
    if (!json) return;
    for (const std::string_view other : kSizes) {
        if (other == key || changing.at(fmt::format("/outline/regular/{}", other)) == nullptr) continue;
        changing.rename({"outline", "regular", std::string(other)}, std::string(key));
        break;
    }
    changing.set({"outline", "regular", std::string(key)}, *json);
}

// "margin is 6", "margin of board 3 is 0".
void change_margin(Changing& changing, Phrase phrase) {
    phrase.take("of");
    const bool board = phrase.take_any({"board", "side"});
    if (!board) {
        take_link(phrase);
        const JsonValue* margin = changing.at("/outline/margin");
        const bool by_board = margin != nullptr && margin->type == Type::object;
        if (const auto json = value_json(changing, Kind::length, phrase.rest()))
            changing.set(by_board ? JsonPath{"outline", "margin", "all"} : JsonPath{"outline", "margin"}, *json);
        return;
    }
    const std::string number(phrase.word());
    phrase.skip();
    take_link(phrase);
    const auto json = value_json(changing, Kind::length, phrase.rest());
    if (!json) return;
    const JsonValue* margin = changing.at("/outline/margin");
    if (margin == nullptr) {
        changing.set({"outline", "margin"}, fmt::format("{{ \"all\": 0, {}: {} }}", json_text(number), *json));
    } else if (margin->type == Type::object) {
        changing.set({"outline", "margin", number}, *json);
    } else {
        const std::string all = margin->type == Type::number ? margin->text : json_text(margin->text);
        changing.set({"outline", "margin"}, fmt::format("{{ \"all\": {}, {}: {} }}", all, json_text(number), *json));
    }
}

}  // namespace

void read_outline_change(Changing& changing, Phrase phrase) {
    if (phrase.take_any({"margin", "reveal"})) {
        change_margin(changing, phrase);
        return;
    }
    for (const Subject& subject : subjects()) {
        if (!subject.pointer.starts_with("/outline/")) continue;
        const JsonPath path = *json_path(subject.pointer);
        Phrase rest = phrase;
        const bool named = rest.take_any(subject.names);
        // "side AB is 900" is about one side.
        if (!named || path.size() != 3 || (notebook_head(rest.word()) && rest.word() != "is" && rest.word() != "to" && rest.word() != "at" && rest.word() != "be" && !is_json_number(rest.word())))
            continue;
        if (changing.at("/outline/" + path[1]) == nullptr) {
            changing.no_such(fmt::format("\"{}\" belongs to {} {} outline; this one is given in another way.", subject.names.front(),
                                         path[1] == "arc" ? "an" : "a", path[1]),
                             "Change a size this project has, or edit the file to give the outline in another way.");
            return;
        }
        take_link(rest);
        if (path[1] == "regular" && path[2] != "corners") {
            change_size(changing, path[2], rest.rest());
        } else if (const auto json = value_json(changing, subject.kind, rest.rest(), subject.words)) {
            changing.set(path, *json);
        }
        return;
    }
    phrase.take_any({"corner", "angle", "side"});
    phrase.take("at");
    const auto head = notebook_head(phrase.word());
    if (!head || phrase.word() == "is" || phrase.word() == "to") return;
    std::string name(phrase.written());
    if (name.find_first_not_of("abcdefghijklmnopqrstuvwxyz") == std::string::npos) {
        for (char& c : name) c = static_cast<char>(c - 'a' + 'A');
    }
    phrase.skip();
    take_link(phrase);
    change_corner_or_side(changing, *head, name, phrase.rest());
}

}  // namespace boardring
