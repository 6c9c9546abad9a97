#include "spoken/change_phrase.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/names.hpp"
#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "io/text_bytes.hpp"
#include "spoken/change_parts.hpp"
#include "spoken/notebook_line.hpp"

namespace boardring {
namespace {

using Type = JsonValue::Type;
constexpr std::size_t kLongestPhrase = 400;
constexpr const char* kExamples =
    "I know: \"C is 97\", \"AB is 902\", \"board 4 is 30\", \"joint B butt, 2 through\", \"saw stops at 45\", \"kerf is 3\", "
    "\"title is ...\", \"leave out margin\". All of them: boardring change --help.";

Unit unit_of(const JsonValue& root) {
    const JsonValue* units = root.member("units");
    for (const Unit unit : {Unit::mm, Unit::cm, Unit::m, Unit::inch, Unit::foot}) {
        if (units != nullptr && units->text == unit_name(unit)) return unit;
    }
    return Unit::mm;
}

std::string bytes_of(const JsonValue& value) {
    switch (value.type) {
        case Type::null: return "null";
        case Type::boolean: return value.flag ? "true" : "false";
        case Type::number: return value.text;
        case Type::text: return json_text(value.text);
        case Type::list:
        case Type::object: break;
    }
    const bool object = value.type == Type::object;
    std::string inside;
    for (const JsonValue& child : value.children) {
        inside += inside.empty() ? " " : ", ";
        if (object) inside += json_text(child.name) + ": ";
        inside += bytes_of(child);
    }
    return fmt::format("{}{}{}", object ? '{' : '[', inside.empty() ? "" : inside + " ", object ? '}' : ']');
}

// ---- "/tools/kerf is 3": any place of the file, by its pointer ----

void change_by_pointer(Changing& changing, const JsonPath& path, Phrase phrase) {
    phrase.take_any({"is", "=", "to"});
    const std::string_view value = phrase.rest();
    const bool json = read_located_json(value).root.has_value();
    changing.set(path, json ? std::string(value) : json_text(value));
}

// ---- "leave out kerf", "leave out board 4", "leave out /boards/4" ----

std::optional<JsonPath> corner_path(const Changing& changing, std::string_view section, std::string_view word) {
    const auto corner = corner_index(word);
    const JsonValue* given = changing.at("/" + std::string(section));
    if (given == nullptr || !corner) return std::nullopt;
    for (const JsonValue& one : given->children) {
        if (corner_index(one.name) == corner) return JsonPath{std::string(section), one.name};
    }
    return std::nullopt;
}

std::optional<JsonPath> named_path(const Changing& changing, Phrase phrase) {
    const bool one_word = phrase.size() == 1;
    if (one_word && phrase.word().starts_with('/')) return json_path(phrase.written());
    if (one_word && changing.root.member(phrase.word()) != nullptr) return JsonPath{std::string(phrase.word())};
    for (const Subject& subject : subjects()) {
        Phrase rest = phrase;
        if (rest.take_any(subject.names) && rest.empty()) return json_path(subject.pointer);
    }
    Phrase rest = phrase;
    if (rest.take("board") && rest.size() == 1) return JsonPath{"boards", std::string(rest.word())};
    if (rest = phrase; rest.take("joint") && rest.size() == 1) return corner_path(changing, "joints", rest.word());
    if (rest = phrase; rest.take("end") && rest.size() == 1) return corner_path(changing, "ends", rest.word());
    if (rest = phrase; rest.take("margin of board") && rest.size() == 1) return JsonPath{"outline", "margin", std::string(rest.word())};
    const auto head = one_word ? notebook_head(phrase.word()) : std::nullopt;
    const JsonValue* readings = changing.at("/outline/readings");
    if (!head || readings == nullptr) return std::nullopt;
    const auto index = find_reading(*readings, *head);
    return index ? std::optional(JsonPath{"outline", "readings", std::to_string(*index)}) : std::nullopt;
}

void leave_out(Changing& changing, const Phrase& phrase) {
    const auto path = named_path(changing, phrase);
    if (path && !path->empty() && value_at(changing.root, *path) != nullptr) {
        changing.take_out(*path);
        return;
    }
    changing.no_such(fmt::format("{} is not in this project.", in_quotes(phrase.rest())),
                     "Name what stands in the file: \"leave out kerf\", \"leave out board 4\", \"leave out AC\".");
}

// ---- "corses means courses": a key that was mistyped ----

void find_keys(const JsonValue& value, std::string_view key, JsonPath& path, std::vector<JsonPath>& found) {
    for (std::size_t i = 0; i < value.children.size(); ++i) {
        const JsonValue& child = value.children[i];
        path.push_back(value.type == Type::object ? child.name : std::to_string(i));
        if (value.type == Type::object && child.name == key) found.push_back(path);
        find_keys(child, key, path, found);
        path.pop_back();
    }
}

void rename_key(Changing& changing, const std::string& from, const std::string& to) {
    std::vector<JsonPath> found;
    if (const auto named = from.starts_with('/') ? json_path(from) : std::nullopt) {
        if (value_at(changing.root, *named) != nullptr) found.push_back(*named);
    } else {
        JsonPath path;
        find_keys(changing.root, from, path, found);
    }
    if (found.empty()) changing.no_such(fmt::format("No key is called {}.", in_quotes(from)), "Name the key as it stands in the file.");
    // A slip that was copied is mended everywhere; what stands deeper first, so that the ways stay good.
    for (auto path = found.rbegin(); path != found.rend(); ++path) changing.rename(*path, to);
}

// ---- sayings that are not "this is that" ----

void change_saw_stop(Changing& changing, Phrase phrase) {
    const JsonValue* lie = changing.at("/boards/lie");
    const bool on_edge = lie != nullptr && lie->text == "on edge";
    take_link(phrase);
    if (const auto json = value_json(changing, Kind::angle, phrase.rest())) changing.set({"tools", on_edge ? "tilt_limit" : "swing_limit"}, *json);
}

void read_sayings(Changing& changing, Phrase phrase) {
    Phrase rest = phrase;
    if (rest.take_any({"units", "unit"})) {
        changing.read.findings.push_back({Severity::error, "change.units", "",
                                          "Every plain number of the file is counted in its units; other units would make each of them another length.",
                                          "Write single lengths with their own unit, as in \"kerf is 1/8 in\"; for a job in other units start a new file."});
    } else if (rest = phrase; rest.take_any({"saw stops", "saw stop"})) {
        change_saw_stop(changing, rest);
    } else if (rest = phrase; rest.take_any({"fit", "fit board"}) && rest.size() == 2 && rest.word(1) == "last") {
        if (const auto json = value_json(changing, Kind::count, rest.word())) changing.set({"wanted", "fit_last"}, *json);
    } else if (rest = phrase; rest.take("leave") && rest.word(rest.size() - 1) == "long") {
        const std::string_view value = rest.rest();
        if (const auto json = value_json(changing, Kind::length, Phrase(value.substr(0, value.size() - 4)).rest()))
            changing.set({"wanted", "leave_long"}, *json);
    } else if (rest = phrase; rest.size() == 2 && (rest.word(1) == "courses" || rest.word(1) == "course")) {
        if (const auto json = value_json(changing, Kind::count, rest.word())) changing.set({"boards", "courses"}, *json);
    }
}

void read_subjects(Changing& changing, const Phrase& phrase) {
    for (const Subject& subject : subjects()) {
        Phrase rest = phrase;
        if (subject.pointer.starts_with("/outline/") && json_path(subject.pointer)->size() == 3) continue;  // read_outline_change's
        if (!rest.take_any(subject.names)) continue;
        take_link(rest);
        if (const auto json = value_json(changing, subject.kind, rest.rest(), subject.words)) changing.set(*json_path(subject.pointer), *json);
        return;
    }
}

void not_understood_at_all(Changing& changing, const Phrase& phrase) {
    std::vector<std::string_view> known{"board", "boards", "joint", "joints", "end", "leave out", "saw stops", "courses"};
    for (const Subject& subject : subjects()) known.insert(known.end(), subject.names.begin(), subject.names.end());
    if (const JsonValue* stock = changing.at("/stock")) {
        for (const JsonValue& one : stock->children) known.push_back(one.name);
    }
    const std::string two = fmt::format("{} {}", phrase.word(), phrase.word(1));
    changing.not_understood(nearest_word(two, known).empty() ? phrase.word() : std::string_view(two), known, kExamples);
}

}  // namespace

ChangeRead read_change(std::string_view text, const JsonValue& root, const std::vector<std::string>& listed) {
    Changing changing{root, listed, std::string(text.substr(0, kLongestPhrase)), unit_of(root)};
    Phrase phrase(text);
    if (text.size() > kLongestPhrase || phrase.empty() || has_control_character(text) || first_bad_utf8(text)) {
        changing.read.findings.push_back({Severity::error, "change.not-understood", "",
                                          phrase.empty() ? "This change is empty." : fmt::format("I cannot read {}: it is too long or holds characters that cannot be printed.", in_quotes(text)),
                                          kExamples});
        return std::move(changing.read);
    }
    phrase.take_any({"set", "make"});
    phrase.take("the");
    if (const auto path = phrase.word().starts_with('/') ? json_path(phrase.written()) : std::nullopt; path && phrase.word(1) != "means") {
        phrase.skip();
        change_by_pointer(changing, *path, phrase);
        return std::move(changing.read);
    }
    if (Phrase rest = phrase; rest.take("leave out")) {
        leave_out(changing, rest);
        return std::move(changing.read);
    }
    if (phrase.size() == 3 && phrase.word(1) == "means") {
        rename_key(changing, std::string(phrase.written()), std::string(phrase.written(2)));
        return std::move(changing.read);
    }
    for (const auto reader : {read_sayings, read_board_change, read_joint_change, read_outline_change}) {
        if (!changing.said()) reader(changing, phrase);
    }
    if (!changing.said()) read_subjects(changing, phrase);
    if (!changing.said()) read_stock_change(changing, phrase);
    if (!changing.said()) not_understood_at_all(changing, phrase);
    return std::move(changing.read);
}

std::string subject_name(const JsonPath& path, const JsonValue& root) {
    const std::string pointer = json_pointer(path);
    for (const Subject& subject : subjects()) {
        if (subject.pointer == pointer) return std::string(subject.names.front());
    }
    if (path.size() == 1) return path.front();
    if (path.size() == 2 && path[0] == "boards") return "board " + path[1];
    if (path.size() == 2 && path[0] == "joints" && path[1] != "all") return "joint " + path[1];
    if (path.size() == 2 && path[0] == "ends") return "end " + path[1];
    if (pointer.starts_with("/outline/margin/") && path.back() != "all") return "margin of board " + path.back();
    const JsonValue* value = value_at(root, path);
    if (pointer.starts_with("/outline/readings/") && value != nullptr && !is_worded_reading(value->text)) {
        if (const auto line = notebook_line(value->text)) return line->head.first + (line->head.second.empty() ? "" : (line->head.first.size() + line->head.second.size() > 2 ? "-" : "") + line->head.second);
    }
    return pointer;
}

std::string phrase_for(const JsonPath& path, const JsonValue& root) {
    const JsonValue& value = *value_at(root, path);
    const std::string name = subject_name(path, root);
    const std::string by_pointer = fmt::format("{} is {}", json_pointer(path), bytes_of(value));
    if (value.type == Type::object || value.type == Type::list) return by_pointer;
    if (json_pointer(path).starts_with("/outline/readings/") && is_worded_reading(value.text)) return value.text;
    if (name.starts_with('/')) {
        const bool size = path.back() == "thickness" || path.back() == "width";
        if (!size || path.size() != 3 || is_json_number(value.type == Type::text ? value.text : "")) return by_pointer;
        const char* const way = path.back() == "width" ? "wide" : "thick";
        if (path[0] == "stock") return fmt::format("{} is {} {}", path[1], value.text, way);
        return fmt::format("{} {} {} {}", path[1] == "all" ? "boards" : "board " + path[1], path[1] == "all" ? "are" : "is", value.text, way);
    }
    if (json_pointer(path).starts_with("/outline/readings/")) {
        const NotebookLine line = *notebook_line(value.text);
        return fmt::format("{} is {}", name, value.text.substr(line.value_begin, line.tail_end - line.value_begin));
    }
    const bool number_as_text = value.type == Type::text && is_json_number(value.text) && name != "title";
    const bool says_itself = name == "boards lie" || name == "seen" || name.ends_with(" by");
    return fmt::format("{} {}{}", name, says_itself ? "" : "is ", value.type == Type::boolean ? bytes_of(value) : number_as_text ? json_text(value.text) : value.text);
}

}  // namespace boardring
