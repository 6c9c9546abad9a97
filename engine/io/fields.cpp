#include "io/fields.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "io/text_bytes.hpp"
#include "io/wording.hpp"

namespace boardring {
namespace {

using Type = JsonValue::Type;

bool contains(const std::vector<std::string_view>& words, std::string_view word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

constexpr std::size_t kMostKeysNamed = 8;  // where none was written: more would bury what to do

std::vector<std::string_view> known_keys(std::initializer_list<std::string_view> keys, KeyKind kind) {
    std::vector<std::string_view> known = keys;
    if (kind.is_one != nullptr) known.push_back(kind.called);
    return known;
}

}  // namespace

void Job::tell(const Spot& spot, std::string code, std::string message, std::string fix, Severity severity) {
    findings.push_back({severity, std::move(code), spot.pointer, std::move(message), std::move(fix), spot.json->place.line,
                        spot.json->place.column});
}

std::optional<Fields> Fields::open(Job& job, const Spot& spot, std::initializer_list<std::string_view> keys, KeyKind kind) {
    if (spot.json->type != Type::object) {
        const std::vector<std::string_view> here = known_keys(keys, kind);
        const std::string which = here.size() > kMostKeysNamed ? "" : fmt::format(" Keys here: {}.", joined(here, ", "));
        tell_wrong_type(job, spot, "a group of keys", fmt::format("Write {{ and }}, with keys in quotes between them.{}", which));
        return std::nullopt;
    }
    Fields fields;
    fields.spot_ = spot;
    fields.keys_ = keys;
    const std::vector<std::string_view> known = known_keys(keys, kind);
    for (const JsonValue& child : spot.json->children) {
        if (contains(fields.keys_, child.name) || (kind.is_one != nullptr && kind.is_one(child.name))) continue;
        job.findings.push_back({Severity::error, "key.unknown", fields.pointer(child.name),
                                fmt::format("{} is no key of {}.", in_quotes(child.name), name_of(spot)),
                                fmt::format("{}Keys here: {}.", did_you_mean_key(child, fields.keys_), joined(known, ", ")),
                                child.name_place.line, child.name_place.column});
        const std::string near = nearest_word(child.name, fields.keys_);
        const bool plain = child.name.find_first_of(" \t\"/~") == std::string::npos && !has_control_character(child.name);
        const bool said = did_you_mean(child.name, fields.keys_).find(fmt::format("\"{}\"", near)) != std::string::npos;
        if (!near.empty() && said && plain && spot.json->member(near) == nullptr) job.mended_by(fmt::format("{} means {}", child.name, near));
    }
    return fields;
}

Fields Fields::absent(const Spot& parent, std::string_view key) {
    static const JsonValue kEmpty = [] {
        JsonValue empty;
        empty.type = Type::object;
        return empty;
    }();
    Fields fields;
    fields.spot_ = {&kEmpty, parent.pointer + pointer_step(key)};
    return fields;
}

std::optional<Spot> Fields::find(std::string_view key) const {
    const JsonValue* value = spot_.json->member(key);
    if (value == nullptr) return std::nullopt;
    return Spot{value, pointer(key)};
}

std::optional<Spot> Fields::require(Job& job, std::string_view key, std::string_view says, std::string_view example) const {
    std::optional<Spot> spot = find(key);
    if (!spot) {
        job.tell(spot_, "key.missing", fmt::format("\"{}\" is missing in {}; it says {}.", key, name_of(spot_), says),
                 fmt::format("Add, for example, \"{}\": {}.", key, example));
    }
    return spot;
}

std::vector<std::pair<std::string, Spot>> Fields::others() const {
    std::vector<std::pair<std::string, Spot>> others;
    std::set<std::string> seen;
    for (const JsonValue& child : spot_.json->children) {
        if (contains(keys_, child.name) || !seen.insert(child.name).second) continue;
        others.emplace_back(child.name, Spot{&child, pointer(child.name)});
    }
    return others;
}

std::optional<Fields> open_section(Job& job, const Fields& parent, std::string_view key,
                                   std::initializer_list<std::string_view> keys) {
    const auto spot = parent.find(key);
    return spot ? Fields::open(job, *spot, keys) : Fields::absent(parent.spot(), key);
}

void tell_wrong_type(Job& job, const Spot& spot, std::string_view needed, std::string fix) {
    job.tell(spot, "value.wrong-type", fmt::format("{} is {}; it must be {}.", name_at_start(spot), written(spot), needed),
             std::move(fix));
}

}  // namespace boardring
