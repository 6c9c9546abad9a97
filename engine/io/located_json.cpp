#include "io/located_json.hpp"

#include <cstdint>
#include <utility>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/pointer.hpp"
#include "io/json_fault.hpp"
#include "io/text_bytes.hpp"

namespace boardring {
namespace {

using Json = nlohmann::json;
using Type = JsonValue::Type;

Finding fault(std::string code, Place place, std::string message, std::string fix) {
    return {Severity::error, std::move(code), "", std::move(message), std::move(fix), place.line, place.column};
}

// Listens to the library's parser and builds the tree. The parser tells what it understood but not where: the cursor follows it
// through the text, one understood thing at a time, so that between two of them only blanks, comments, one comma or one colon
// lie.
class TreeBuilder {
public:
    explicit TreeBuilder(std::string_view text) : text_(text), places_(text) { stop_.offset = byte_order_mark_length(text); }

    bool null() { return leaf(Type::null, 4); }
    bool boolean(bool value) {
        pending_.flag = value;
        return leaf(Type::boolean, value ? 4 : 5);
    }
    bool number_integer(Json::number_integer_t value) { return number(static_cast<double>(value)); }
    bool number_unsigned(Json::number_unsigned_t value) { return number(static_cast<double>(value)); }
    bool number_float(Json::number_float_t value, const std::string& /*as_written*/) { return number(value); }
    bool string(std::string& value) {
        pending_.text = std::move(value);
        return leaf(Type::text, quoted_length(next_offset()));
    }
    bool binary(Json::binary_t& /*value*/) { return false; }  // JSON text has none

    bool start_object(std::size_t /*elements*/) { return open(Type::object, JsonWait::first_key); }
    bool start_array(std::size_t /*elements*/) { return open(Type::list, JsonWait::first_item); }
    bool end_object() { return close(); }
    bool end_array() { return close(); }

    bool key(std::string& name) {
        stop_.key_offset = next_offset();
        stop_.offset = stop_.key_offset + quoted_length(stop_.key_offset);
        stop_.wait = JsonWait::colon;
        const Place place = places_.at(stop_.key_offset);
        const auto [earlier, is_new] = names_.back().emplace(name, place);
        if (!is_new) tell_duplicate(name, place, earlier->second);
        pending_.name = std::move(name);
        pending_.name_place = place;
        pending_.name_begin = stop_.key_offset;
        return true;
    }

    bool parse_error(std::size_t /*position*/, const std::string& /*last_token*/, const Json::exception& /*why*/) {
        findings_.push_back(explain_json_fault(text_, stop_));
        return false;
    }

    LocatedJson take(bool complete) {
        LocatedJson read;
        if (complete) read.root = std::move(root_);
        read.findings = std::move(findings_);
        return read;
    }

private:
    // First byte of the thing the parser has just understood.
    std::size_t next_offset() const {
        std::size_t offset = skip_blank_and_comments(text_, stop_.offset);
        while (offset < text_.size() && (text_[offset] == ',' || text_[offset] == ':')) {
            offset = skip_blank_and_comments(text_, offset + 1);
        }
        return offset;
    }

    std::size_t quoted_length(std::size_t start) const {
        std::size_t end = start + 1;
        while (end < text_.size() && text_[end] != '"') end += text_[end] == '\\' ? std::size_t{2} : std::size_t{1};
        return end + 1 - start;
    }

    bool number(double value) {
        const std::size_t start = next_offset();
        const std::size_t length = json_number_length(text_.substr(start));
        pending_.number = value;
        pending_.text = text_.substr(start, length);
        return leaf(Type::number, length);
    }

    bool leaf(Type type, std::size_t length) {
        if (!add(type)) return false;
        stop_.offset += length;
        last_->end = stop_.offset;
        value_is_complete();
        return true;
    }

    bool open(Type type, JsonWait wait) {
        if (stop_.open.size() == kMostLevels) {
            findings_.push_back(fault("file.too-deep", places_.at(next_offset()),
                                      fmt::format("Brackets stand more than {} deep here; a project needs 6.", kMostLevels),
                                      "Look for brackets opened again and again, and close or remove them."));
            return false;
        }
        if (!add(type)) return false;
        open_values_.push_back(last_);
        names_.emplace_back();
        stop_.open.push_back(stop_.offset);
        ++stop_.offset;
        stop_.wait = wait;
        return true;
    }

    bool close() {
        stop_.offset = next_offset() + 1;
        notice_odd_pair(stop_.open.back(), stop_.offset - 1);
        stop_.value_offset = stop_.open.back();
        stop_.open.pop_back();
        open_values_.back()->end = stop_.offset;
        open_values_.pop_back();
        names_.pop_back();
        value_is_complete();
        return true;
    }

    // Start of the line that `offset` stands in.
    std::size_t line_start(std::size_t offset) const {
        const std::size_t line_end = text_.rfind('\n', offset);
        return line_end == std::string_view::npos ? byte_order_mark_length(text_) : line_end + 1;
    }

    // Whether nothing but blanks stands before it in its line. Looks at those blanks only: a file may be one line of megabytes.
    bool is_first_of_line(std::size_t offset) const {
        std::size_t start = offset;
        while (start > 0 && (text_[start - 1] == ' ' || text_[start - 1] == '\t')) --start;
        return start == 0 || text_[start - 1] == '\n' || start == byte_order_mark_length(text_);
    }

    std::size_t indentation(std::size_t offset) const {
        const std::size_t start = line_start(offset);
        return text_.find_first_not_of(" \t", start) - start;
    }

    // A bracket that stands under another line than the one it closes is where people lost or doubled one.
    void notice_odd_pair(std::size_t opener, std::size_t closer) {
        if (stop_.odd_pair || !is_first_of_line(closer)) return;
        if (indentation(closer) != indentation(opener)) stop_.odd_pair = {opener, closer};
    }

    // Moves the pending value to its place in the tree and the cursor to its first byte.
    bool add(Type type) {
        if (++values_ > kMostValues) {
            findings_.push_back(fault("file.too-large", places_.at(next_offset()),
                                      fmt::format("The file holds more than {} values.", kMostValues),
                                      "Keep one project in a file; 1000 boards with all their readings are the limit."));
            return false;
        }
        stop_.offset = stop_.value_offset = next_offset();
        pending_.type = type;
        pending_.place = places_.at(stop_.offset);
        pending_.begin = stop_.offset;
        if (open_values_.empty()) {
            root_ = std::move(pending_);
            last_ = &root_;
        } else {
            last_ = &open_values_.back()->children.emplace_back(std::move(pending_));
        }
        pending_ = JsonValue();
        return true;
    }

    void value_is_complete() {
        if (open_values_.empty()) {
            stop_.wait = JsonWait::end;
        } else {
            stop_.wait = open_values_.back()->type == Type::object ? JsonWait::after_member : JsonWait::after_item;
        }
    }

    std::string pointer_to_open_object() const {
        std::string pointer;
        for (std::size_t i = 1; i < open_values_.size(); ++i) {
            const JsonValue& parent = *open_values_[i - 1];
            pointer +=
                parent.type == Type::object ? pointer_step(open_values_[i]->name) : pointer_step(parent.children.size() - 1);
        }
        return pointer;
    }

    void tell_duplicate(const std::string& name, Place here, Place earlier) {
        Finding finding = fault("key.duplicate", here,
                                fmt::format("\"{}\" is given twice: first at line {} column {}, again at line {} column {}.",
                                            name, earlier.line, earlier.column, here.line, here.column),
                                "Keep the one that is right and remove the other.");
        finding.pointer = pointer_to_open_object() + pointer_step(name);
        findings_.push_back(std::move(finding));
    }

    std::string_view text_;
    PlaceFinder places_;
    JsonStop stop_;
    JsonValue root_;
    JsonValue pending_;
    JsonValue* last_ = nullptr;
    // Pointers into the tree stay good: only the innermost open value grows, and nothing inside it is open.
    std::vector<JsonValue*> open_values_;
    std::vector<std::map<std::string, Place>> names_;
    std::size_t values_ = 0;
    Findings findings_;
};

// Troubles of the bytes as such, before any JSON is looked for.
std::optional<Finding> byte_trouble(std::string_view text) {
    if (text.size() > kMostBytes) {
        return fault("file.too-large", {1, 1},
                     fmt::format("The file holds {:.1f} MB; a project file is at most {} MB.",
                                 static_cast<double>(text.size()) / 1e6, kMostBytes / 1'000'000),
                     "Check that this is the project file; 1000 boards need less than 1 MB.");
    }
    constexpr std::string_view kSaveAgain = "Save it again as plain text in UTF-8, and retype the letters that look wrong.";
    if (const auto nul = text.find('\0'); nul != std::string_view::npos) {
        return fault("file.encoding", PlaceFinder(text).at(nul),
                     "The file is no plain UTF-8 text: it holds zero bytes, as UTF-16 text does.", std::string(kSaveAgain));
    }
    if (const auto bad = first_bad_utf8(text)) {
        return fault("file.encoding", PlaceFinder(text).at(*bad),
                     fmt::format("A character here is not UTF-8 (byte {:02X}).", static_cast<unsigned char>(text[*bad])),
                     std::string(kSaveAgain));
    }
    return std::nullopt;
}

void collect_places(const JsonValue& value, const std::string& pointer, std::map<std::string, Place>& places) {
    places.emplace(pointer, value.place);
    for (std::size_t i = 0; i < value.children.size(); ++i) {
        const JsonValue& child = value.children[i];
        collect_places(child, pointer + (value.type == Type::object ? pointer_step(child.name) : pointer_step(i)), places);
    }
}

}  // namespace

const JsonValue* JsonValue::member(std::string_view key) const {
    if (type != Type::object) return nullptr;
    for (const JsonValue& child : children) {
        if (child.name == key) return &child;
    }
    return nullptr;
}

LocatedJson read_located_json(std::string_view text) {
    if (auto trouble = byte_trouble(text)) return {std::nullopt, {*std::move(trouble)}};
    TreeBuilder builder(text);
    const bool complete = Json::sax_parse(text.data(), text.data() + text.size(), &builder, Json::input_format_t::json,
                                          /*strict=*/true, /*ignore_comments=*/true);
    return builder.take(complete);
}

std::map<std::string, Place> places_of(const JsonValue& root) {
    std::map<std::string, Place> places;
    collect_places(root, "", places);
    return places;
}

}  // namespace boardring
