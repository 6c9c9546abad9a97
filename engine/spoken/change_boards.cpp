#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/names.hpp"
#include "base/quoted.hpp"
#include "io/wording.hpp"
#include "project/joint_kinds.hpp"
#include "spoken/change_parts.hpp"
#include "spoken/word_table.hpp"

// Boards and what they are cut from: "board 4 is 30", "boards are slim", "rail is 145x40", "rail 2400 costs 9.80"; and joints
// and ends.

namespace boardring {
namespace {

bool lies_on_edge(const Changing& changing) {
    const JsonValue* lie = changing.at("/boards/lie");
    return lie != nullptr && lie->text == "on edge";
}

std::vector<std::string_view> stock_names(const Changing& changing) {
    std::vector<std::string_view> names;
    if (const JsonValue* stock = changing.at("/stock")) {
        for (const JsonValue& one : stock->children) names.push_back(one.name);
    }
    return names;
}

// All that a board may be of: the file's own stock, and that of its price list.
std::vector<std::string_view> names_for_boards(const Changing& changing) {
    std::vector<std::string_view> names = stock_names(changing);
    for (const std::string& name : changing.listed) {
        if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    return names;
}

std::string without_comma(std::string_view word) {
    while (!word.empty() && (word.back() == ',' || word.back() == ';')) word.remove_suffix(1);
    return std::string(word);
}

// "145x38", "145 x 38", "5 1/2 in x 1 1/2 in": width and thickness.
bool set_both_sizes(Changing& changing, const JsonPath& path, std::string_view value) {
    std::size_t cut = value.find("x");
    std::size_t behind = cut + 1;
    if (cut == std::string_view::npos) {
        cut = value.find("\u00D7");
        behind = cut + 2;
    }
    if (cut == std::string_view::npos || cut == 0) return false;
    const auto width = value_json(changing, Kind::length, Phrase(value.substr(0, cut)).rest());
    const auto thickness = value_json(changing, Kind::length, Phrase(value.substr(behind)).rest());
    if (!width || !thickness) return true;
    JsonPath key = path;
    key.emplace_back("width");
    changing.set(key, *width);
    key.back() = "thickness";
    changing.set(key, *thickness);
    return true;
}

// A size behind "is": of the named direction, or of the one that lies in the plan, which is what the joints depend on.
void set_size(Changing& changing, const JsonPath& path, std::string_view value) {
    JsonPath key = path;
    bool thick = lies_on_edge(changing);
    for (const std::string_view word : {" thick", " wide", " high"}) {
        if (!value.ends_with(word)) continue;
        thick = word == " thick";
        value.remove_suffix(word.size());
    }
    key.emplace_back(thick ? "thickness" : "width");
    // "38 to 36.6": a board that tapers, at its first corner and at its second.
    if (const std::size_t to = value.find(" to "); to != std::string_view::npos && path.size() == 2 && path[0] == "boards") {
        const auto first = value_json(changing, Kind::length, value.substr(0, to));
        const auto second = value_json(changing, Kind::length, value.substr(to + 4));
        if (first && second) changing.set(key, fmt::format("[{}, {}]", *first, *second));
        return;
    }
    if (const auto json = value_json(changing, Kind::length, Phrase(value).rest())) changing.set(key, *json);
}

void change_board(Changing& changing, const std::string& key, Phrase phrase) {
    const JsonPath path{"boards", key};
    take_link(phrase);
    phrase.take_any({"of", "from"});
    const std::string_view value = phrase.rest();
    if (value.empty()) {
        changing.not_understood("", {}, "Say what the board is: \"board 4 is 30\", \"board 4 is 145x30\".");
        return;
    }
    const std::vector<std::string_view> known = names_for_boards(changing);
    if (std::find(known.begin(), known.end(), value) != known.end()) {
        changing.set({"boards", key, "stock"}, json_text(value));
        return;
    }
    const char first = value.front();
    if ((first >= '0' && first <= '9') || first == '.') {
        if (!set_both_sizes(changing, path, value)) set_size(changing, path, value);
        return;
    }
    std::string list;
    for (const std::string_view name : known) list += (list.empty() ? "" : ", ") + in_quotes(name);
    changing.not_understood(value, known, fmt::format("Say a size, or one of your stock: {}.", list.empty() ? "none yet" : list));
}

// ---- stock ----

std::optional<std::size_t> length_entry(const Changing& changing, const JsonValue& lengths, std::string_view text) {
    const Result<LengthRead> wanted = parse_length(text, changing.unit);
    if (!wanted.ok()) return std::nullopt;
    for (std::size_t i = 0; i < lengths.children.size(); ++i) {
        const JsonValue* given = lengths.children[i].member("length");
        if (given == nullptr) continue;
        const Result<LengthRead> read = parse_length(given->text, changing.unit);
        if (read.ok() && read.value().mm == wanted.value().mm) return i;
    }
    return std::nullopt;
}

// "rail 2400 costs 9.80", "rail 2400 count 3", "rail also 3000 costs 14.20".
void change_lengths(Changing& changing, std::string_view name, Phrase phrase) {
    const bool also = phrase.take("also");
    std::string length;
    while (!phrase.empty() && phrase.word() != "costs" && phrase.word() != "count") {
        length += (length.empty() ? "" : " ") + std::string(phrase.written());
        phrase.skip();
    }
    const bool price = phrase.take("costs");
    if (!price && !phrase.take("count") && !also) return;
    const auto json = value_json(changing, Kind::length, length);
    if (!json) return;
    std::optional<std::string> number;
    if (!also || !phrase.empty()) {
        number = value_json(changing, price ? Kind::number : Kind::count, phrase.rest());
        if (!number) return;
    }
    const JsonPath lengths{"stock", std::string(name), "lengths"};
    const JsonValue* list = value_at(changing.root, lengths);
    if (also) {
        const std::string entry = number ? fmt::format("{{ \"length\": {}, \"{}\": {} }}", *json, price ? "price" : "count", *number)
                                         : fmt::format("{{ \"length\": {} }}", *json);
        JsonPath end = lengths;
        end.emplace_back("-");
        changing.set(list == nullptr ? lengths : end, list == nullptr ? fmt::format("[ {} ]", entry) : entry);
        return;
    }
    const auto index = list == nullptr ? std::nullopt : length_entry(changing, *list, length);
    if (!index) {
        changing.no_such(fmt::format("{} has no length {}.", in_quotes(name), length),
                         fmt::format("Add it: \"{} also {} costs ...\".", name, length));
        return;
    }
    changing.set({"stock", std::string(name), "lengths", std::to_string(*index), price ? "price" : "count"}, *number);
}

struct StockWord {
    std::string_view word;
    std::string_view key;
    Kind kind;
};
constexpr StockWord kStockWords[]{{"width", "width", Kind::length},      {"thickness", "thickness", Kind::length},
                                  {"end trim", "end_trim", Kind::length}, {"trim", "end_trim", Kind::length},
                                  {"species", "species", Kind::text},     {"nominal", "nominal", Kind::text},
                                  {"surface", "surface", Kind::word}};

void change_stock(Changing& changing, std::string_view name, Phrase phrase) {
    const JsonPath path{"stock", std::string(name)};
    for (const StockWord& word : kStockWords) {
        Phrase rest = phrase;
        if (!rest.take(word.word)) continue;
        take_link(rest);
        if (const auto json = value_json(changing, word.kind, rest.rest(), {"plain", "show-face", "moulded"}))
            changing.set({"stock", std::string(name), std::string(word.key)}, *json);
        return;
    }
    change_lengths(changing, name, phrase);
    if (changing.said()) return;
    Phrase rest = phrase;
    take_link(rest);
    const std::string_view value = rest.rest();
    const bool size = !value.empty() && ((value.front() >= '0' && value.front() <= '9') || value.front() == '.');
    if (size && !set_both_sizes(changing, path, value)) {
        const bool told = value.ends_with(" thick") || value.ends_with(" wide") || value.ends_with(" high");
        if (told) set_size(changing, path, value);
    }
    if (changing.said()) return;
    changing.not_understood(phrase.rest(), {"width", "thickness", "end trim", "species", "nominal", "surface", "also", "costs", "count"},
                            fmt::format("Say \"{0} is 145x38\", \"{0} is 40 thick\", \"{0} 2400 costs 9.80\" or \"{0} also 3000 costs 12\".", name));
}

// ---- joints and ends ----

// The kind of joint that the next words say, in the words of a sentence ("halved", "half lap"), which are taken.
std::optional<std::string> take_joint_kind(Phrase& phrase) {
    std::vector<std::string> words;
    for (std::size_t k = 0; k < phrase.size(); ++k) {
        std::string word = without_comma(phrase.word(k));
        std::replace(word.begin(), word.end(), '-', ' ');  // as the word table is spelled
        words.push_back(std::move(word));
    }
    const WordFound found = find_word(words, 0);
    const auto kind = joint_of(found.row);
    if (!kind) return std::nullopt;
    phrase.skip(found.count);
    return std::string(joint_word(*kind));
}

// "B butt, 2 through", "B is a mitre", "B runs through 2".
void change_joint(Changing& changing, const std::string& key, Phrase phrase) {
    std::optional<std::string> kind;
    std::optional<std::string> through;
    while (!phrase.empty()) {
        if (const auto found = take_joint_kind(phrase)) {
            kind = found;
            continue;
        }
        const std::string word = without_comma(phrase.word());
        phrase.skip();
        if (is_json_number(word)) {
            through = word;
        } else if (word != "is" && word != "are" && word != "a" && word != "board" && word != "runs" && word != "through" && word != "with" && word != "by" && !word.empty()) {
            std::vector<std::string_view> known(kJointWords.begin(), kJointWords.end());
            known.push_back("through");
            changing.not_understood(word, known, fmt::format("Say {}; for a butt, which board runs on: \"joint B butt, 2 through\".", joined({kJointWords.begin(), kJointWords.end()})));
            return;
        }
    }
    if (!kind && !through) {
        changing.not_understood("", {}, fmt::format("Say {}: \"joint B butt, 2 through\".", joined({kJointWords.begin(), kJointWords.end()})));
        return;
    }
    const JsonPath path{"joints", key};
    const JsonValue* joint = value_at(changing.root, path);
    if (joint == nullptr || joint->type != JsonValue::Type::object) {
        std::string json = kind ? fmt::format("\"kind\": {}", json_text(*kind)) : "";
        if (through) json += fmt::format("{}\"through\": {}", json.empty() ? "" : ", ", *through);
        changing.set(path, fmt::format("{{ {} }}", json));
        return;
    }
    if (kind) changing.set({"joints", key, "kind"}, json_text(*kind));
    if (through) changing.set({"joints", key, "through"}, *through);
    if (kind && *kind != "butt" && joint->member("through") != nullptr) changing.take_out({"joints", key, "through"});
}

void change_end(Changing& changing, const std::string& key, Phrase phrase) {
    take_link(phrase);
    if (phrase.take("square") || phrase.take("cut square")) {
        changing.set({"ends", key}, "{ \"square\": true }");
        return;
    }
    if (!phrase.take("along")) {
        changing.not_understood(phrase.rest(), {"square", "along"}, "Say \"end A square\" or \"end A along 89.5\".");
        return;
    }
    const auto json = value_json(changing, Kind::angle, phrase.rest());
    if (!json) return;
    const JsonValue* end = value_at(changing.root, {"ends", key});
    if (end != nullptr && end->member("along_deg") != nullptr) {
        changing.set({"ends", key, "along_deg"}, *json);
    } else {
        changing.set({"ends", key}, fmt::format("{{ \"along_deg\": {} }}", *json));
    }
}

// The key under which a corner stands, as the file writes it: "b" and "B" are one.
std::optional<std::string> corner_key(Changing& changing, std::string_view section, std::string_view word) {
    const auto corner = corner_index(word);
    if (!corner) {
        changing.not_understood(word, {}, "Name a corner by its letter: A, B, C.");
        return std::nullopt;
    }
    if (const JsonValue* given = changing.at("/" + std::string(section))) {
        for (const JsonValue& one : given->children) {
            if (corner_index(one.name) == corner && one.name != "all") return one.name;
        }
    }
    return corner_letter(*corner);
}

}  // namespace

void read_board_change(Changing& changing, Phrase phrase) {
    if (phrase.take_any({"all boards", "boards", "every board"})) {
        if (phrase.word() != "lie") change_board(changing, "all", phrase);
        return;
    }
    if (!phrase.take("board")) return;
    const std::string number(phrase.word());
    if (number.empty() || number.find_first_not_of("0123456789") != std::string::npos) {
        changing.not_understood(number, {}, "Name a board by its number: \"board 4 is 30\".");
        return;
    }
    phrase.skip();
    change_board(changing, number, phrase);
}

void read_stock_change(Changing& changing, Phrase phrase) {
    phrase.take("stock");
    std::string_view longest;
    for (const std::string_view name : stock_names(changing)) {
        const bool stands_first = phrase.rest() == name || phrase.rest().starts_with(std::string(name) + " ");
        if (stands_first && name.size() > longest.size()) longest = name;
    }
    if (longest.empty()) return;
    phrase.skip(Phrase(longest).size());
    change_stock(changing, longest, phrase);
}

void read_joint_change(Changing& changing, Phrase phrase) {
    if (phrase.take_any({"all joints", "joints", "every joint"})) {
        change_joint(changing, "all", phrase);
    } else if (phrase.take("joint")) {
        const auto key = corner_key(changing, "joints", phrase.word());
        phrase.skip();
        if (key) change_joint(changing, *key, phrase);
    } else if (phrase.take("end")) {
        const auto key = corner_key(changing, "ends", phrase.word());
        phrase.skip();
        if (key) change_end(changing, *key, phrase);
    }
}

}  // namespace boardring
