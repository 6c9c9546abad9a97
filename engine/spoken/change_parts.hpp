#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/length_text.hpp"
#include "spoken/change_phrase.hpp"
#include "spoken/phrase.hpp"
#include "spoken/subjects.hpp"

// How the parts of a change are read, each by a file of its name: what is said becomes edits, or a finding.

namespace boardring {

/// What the readers of one phrase share.
struct Changing {
    const JsonValue& root;
    const std::vector<std::string>& listed;  ///< stock of the price list
    std::string phrase;
    Unit unit = Unit::mm;
    ChangeRead read = {};

    void set(JsonPath path, std::string json) { read.edits.push_back({Edit::Kind::set, std::move(path), std::move(json)}); }
    void take_out(JsonPath path) { read.edits.push_back({Edit::Kind::take_out, std::move(path), ""}); }
    void rename(JsonPath path, std::string key) { read.edits.push_back({Edit::Kind::rename, std::move(path), std::move(key)}); }
    [[nodiscard]] const JsonValue* at(std::string_view pointer) const;
    [[nodiscard]] bool said() const { return !read.edits.empty() || !read.findings.empty(); }

    /// change.no-such: what is asked for is not in this project.
    void no_such(std::string message, std::string fix);
    /// change.not-understood: `word` is not known here.
    void not_understood(std::string_view word, const std::vector<std::string_view>& known, std::string fix);
};

/// Takes is, are, = , to, at, be, by off the front.
void take_link(Phrase& phrase);

/// Text as a JSON value of that kind, or nothing and a finding.
std::optional<std::string> value_json(Changing& changing, Kind kind, std::string_view text, const std::vector<std::string_view>& words = {});

/// True for a number as JSON writes it.
bool is_json_number(std::string_view text);

// Each takes the phrase if it is about its part: then edits or findings of `changing` say what came of it.
void read_outline_change(Changing& changing, Phrase phrase);
void read_board_change(Changing& changing, Phrase phrase);
void read_stock_change(Changing& changing, Phrase phrase);
void read_joint_change(Changing& changing, Phrase phrase);

}  // namespace boardring
