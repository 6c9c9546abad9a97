#include "io/edit_json.hpp"

#include <algorithm>
#include <cstddef>

#include <fmt/format.h>

#include "base/pointer.hpp"
#include "io/json_fault.hpp"

namespace boardring {
namespace {

using Type = JsonValue::Type;
constexpr std::string_view kBlank = " \t\r\n";

std::optional<std::size_t> index_of(std::string_view step, std::size_t count) {
    if (step.empty() || step.size() > 6 || (step.size() > 1 && step.front() == '0')) return std::nullopt;
    std::size_t index = 0;
    for (const char c : step) {
        if (c < '0' || c > '9') return std::nullopt;
        index = index * 10 + static_cast<std::size_t>(c - '0');
    }
    return index < count ? std::optional(index) : std::nullopt;
}

std::optional<std::size_t> child_index(const JsonValue& parent, std::string_view step) {
    if (parent.type == Type::list) return index_of(step, parent.children.size());
    for (std::size_t i = 0; i < parent.children.size(); ++i) {
        if (parent.type == Type::object && parent.children[i].name == step) return i;
    }
    return std::nullopt;
}

std::size_t start_of(const JsonValue& parent, const JsonValue& child) {
    return parent.type == Type::object ? child.name_begin : child.begin;
}

// The line break and blanks before byte `at` when nothing else stands before it on its line.
std::optional<std::string> line_start(std::string_view text, std::size_t at) {
    const std::size_t line_end = at == 0 ? std::string_view::npos : text.rfind('\n', at - 1);
    if (line_end == std::string_view::npos) return std::nullopt;
    const std::string_view before = text.substr(line_end + 1, at - line_end - 1);
    if (before.find_first_not_of(" \t") != std::string_view::npos) return std::nullopt;
    const bool carriage = line_end > 0 && text[line_end - 1] == '\r';
    return (carriage ? "\r\n" : "\n") + std::string(before);
}

// Behind the comments that follow byte `at` on its line.
std::size_t behind_comments(std::string_view text, std::size_t at) {
    for (;;) {
        const std::size_t next = text.find_first_not_of(" \t", at);
        if (next == std::string_view::npos) return at;
        if (text.substr(next).starts_with("//")) {
            const std::size_t end = std::min(text.find('\n', next), text.size());
            return text.find_last_not_of(kBlank, end - 1) + 1;
        }
        const std::size_t close = text.substr(next).starts_with("/*") ? text.find("*/", next + 2) : std::string_view::npos;
        if (close == std::string_view::npos) return at;
        at = close + 2;
    }
}

std::string entry_of(const JsonValue& parent, std::string_view step, std::string_view json) {
    return parent.type == Type::object ? fmt::format("{}: {}", json_text(step), json) : std::string(json);
}

std::string added_first(std::string_view text, const JsonValue& parent, const std::string& entry) {
    std::string edited(text);
    const std::string_view gap = text.substr(parent.begin + 1, parent.end - parent.begin - 2);
    std::string before(gap.empty() ? "" : " ");
    if (const auto closing = line_start(text, parent.end - 1); closing && gap.find('\n') != std::string_view::npos)
        before = *closing + "  ";
    return edited.insert(parent.begin + 1, before + entry);
}

std::string added_last(std::string_view text, const JsonValue& parent, const std::string& entry) {
    std::string edited(text);
    const JsonValue& last = parent.children.back();
    const auto own_line = line_start(text, start_of(parent, last));
    if (!own_line) return edited.insert(last.end, ", " + entry);
    edited.insert(behind_comments(text, last.end), *own_line + entry);
    return edited.insert(last.end, ",");
}

std::optional<std::string> if_json(std::string edited) {
    return read_located_json(edited).root ? std::optional(std::move(edited)) : std::nullopt;
}

}  // namespace

std::optional<JsonPath> json_path(std::string_view pointer) {
    JsonPath path;
    if (!pointer.empty() && pointer.front() != '/') return std::nullopt;
    for (std::size_t i = 0; i < pointer.size(); ++i) {
        if (pointer[i] == '/') {
            path.emplace_back();
        } else if (pointer[i] != '~') {
            path.back() += pointer[i];
        } else if (++i < pointer.size() && (pointer[i] == '0' || pointer[i] == '1')) {
            path.back() += pointer[i] == '0' ? '~' : '/';
        } else {
            return std::nullopt;
        }
    }
    return path;
}

std::string json_pointer(const JsonPath& path) {
    std::string pointer;
    for (const std::string& step : path) pointer += pointer_step(step);
    return pointer;
}

const JsonValue* value_at(const JsonValue& root, const JsonPath& path) {
    const JsonValue* value = &root;
    for (const std::string& step : path) {
        const auto index = child_index(*value, step);
        if (!index) return nullptr;
        value = &value->children[*index];
    }
    return value;
}

std::optional<std::string> with_value(std::string_view text, const JsonPath& path, std::string_view json) {
    const LocatedJson read = read_located_json(text);
    if (!read.root || path.empty()) return std::nullopt;
    const JsonValue* parent = &*read.root;
    std::size_t depth = 0;
    for (; depth < path.size(); ++depth) {
        const auto index = child_index(*parent, path[depth]);
        if (!index) break;
        parent = &parent->children[*index];
    }
    if (depth == path.size()) {
        return if_json(std::string(text).replace(parent->begin, parent->end - parent->begin, json));
    }
    const bool item = parent->type == Type::list && depth + 1 == path.size() && path[depth] == "-";
    if (parent->type != Type::object && !item) return std::nullopt;
    std::string value(json);
    for (std::size_t i = path.size(); i-- > depth + 1;) value = fmt::format("{{ {}: {} }}", json_text(path[i]), value);
    const std::string entry = entry_of(*parent, path[depth], value);
    return if_json(parent->children.empty() ? added_first(text, *parent, entry) : added_last(text, *parent, entry));
}

std::optional<std::string> without_value(std::string_view text, const JsonPath& path) {
    const LocatedJson read = read_located_json(text);
    if (!read.root || path.empty()) return std::nullopt;
    const JsonValue* parent = value_at(*read.root, JsonPath(path.begin(), path.end() - 1));
    const auto index = parent != nullptr ? child_index(*parent, path.back()) : std::nullopt;
    if (!index) return std::nullopt;
    const JsonValue& child = parent->children[*index];
    const std::size_t start = start_of(*parent, child);
    std::string edited(text);
    if (*index + 1 < parent->children.size()) {
        const std::size_t comma = skip_blank_and_comments(text, child.end);
        const std::size_t next = std::min(text.find_first_not_of(kBlank, comma + 1), text.size());
        edited.erase(comma, next - comma);
        edited.erase(start, child.end - start);
        return if_json(std::move(edited));
    }
    const std::size_t blanks = text.find_last_not_of(kBlank, start - 1) + 1;
    std::string keeping_blanks = edited;
    edited.erase(blanks, child.end - blanks);
    keeping_blanks.erase(start, child.end - start);
    if (*index > 0) {
        const std::size_t comma = skip_blank_and_comments(text, parent->children[*index - 1].end);
        edited.erase(comma, 1);
        keeping_blanks.erase(comma, 1);
    }
    // The line end before it may be what ends a comment.
    const auto whole = if_json(std::move(edited));
    return whole ? whole : if_json(std::move(keeping_blanks));
}

std::optional<std::string> with_key(std::string_view text, const JsonPath& path, std::string_view key) {
    const LocatedJson read = read_located_json(text);
    if (!read.root || path.empty()) return std::nullopt;
    const JsonValue* parent = value_at(*read.root, JsonPath(path.begin(), path.end() - 1));
    const auto index = parent != nullptr && parent->type == Type::object ? child_index(*parent, path.back()) : std::nullopt;
    if (!index) return std::nullopt;
    const std::size_t start = parent->children[*index].name_begin;
    std::size_t end = start + 1;
    while (text[end] != '"') end += text[end] == '\\' ? std::size_t{2} : std::size_t{1};
    return if_json(std::string(text).replace(start, end + 1 - start, json_text(key)));
}

std::string json_text(std::string_view characters) {
    std::string text = "\"";
    for (const char c : characters) {
        if (c == '"' || c == '\\') text += '\\';
        if (static_cast<unsigned char>(c) < 0x20) {
            text += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
        } else {
            text += c;
        }
    }
    return text + '"';
}

}  // namespace boardring
