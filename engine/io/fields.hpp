#pragma once
#include <cstddef>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/finding.hpp"
#include "base/length_text.hpp"
#include "io/located_json.hpp"
#include "project/project.hpp"

// How the parts of a project file are read: every reader takes a Spot, says what is wrong with it as findings of the Job, and
// gives a value only when nothing was. Readers never stop at the first trouble.

namespace boardring {

/// One value of the file and the pointer to it.
struct Spot {
    const JsonValue* json = nullptr;
    std::string pointer;

    [[nodiscard]] Spot item(std::size_t index) const { return {&json->children[index], pointer + pointer_step(index)}; }
};

/// What a length measures; decides when a plain number looks like one of another unit (`value.odd-scale`).
enum class Measures { outline, width, thickness, other };

/// A length given as a plain number, which takes the job's unit.
struct PlainLength {
    Spot spot;
    Measures measures = Measures::other;
    double mm = 0.0;
};

/// What all readers of one file share.
struct Job {
    Unit unit = Unit::mm;
    Findings findings;
    std::vector<Assumption> assumed;
    std::vector<PlainLength> plain_lengths;

    void tell(const Spot& spot, std::string code, std::string message, std::string fix, Severity severity = Severity::error);
    void assume(std::string pointer, std::string value) { assumed.push_back({std::move(pointer), std::move(value)}); }
    /// True in inch and foot jobs, which get inch defaults.
    [[nodiscard]] bool in_inches() const { return unit == Unit::inch || unit == Unit::foot; }
};

/// Limits of a length [mm].
struct LengthLimits {
    double low_mm = 0.0;
    double high_mm = 0.0;
    bool low_allowed = true;  ///< the lower limit itself is allowed
    Measures measures = Measures::other;
};

inline constexpr double kLongestMm = 1e6;
inline constexpr LengthLimits kOutlineSize{0.0, kLongestMm, false, Measures::outline};
inline constexpr LengthLimits kBoardWidth{0.0, 1e4, false, Measures::width};
inline constexpr LengthLimits kBoardThickness{0.0, 1e4, false, Measures::thickness};
inline constexpr LengthLimits kPositiveLength{0.0, kLongestMm, false};
inline constexpr LengthLimits kLengthOrNone{0.0, kLongestMm};
inline constexpr LengthLimits kSignedLength{-kLongestMm, kLongestMm};

/// Limits of an angle [deg] or of a plain number.
struct NumberLimits {
    double low = 0.0;
    double high = 0.0;
    bool low_allowed = true;
    bool high_allowed = true;
};

struct CountLimits {
    std::size_t low = 0;
    std::size_t high = 0;
};

/// The members of one object. Opening it checks that it is an object and that every key is known.
class Fields {
public:
    /// Members of `spot`; nothing, and a finding, if it is no object. `also` says which keys beyond `keys` are known.
    static std::optional<Fields> open(Job& job, const Spot& spot, std::initializer_list<std::string_view> keys,
                                      bool (*also)(std::string_view) = nullptr);
    /// An object that is not in the file: every member is absent. `parent` is where it would stand.
    static Fields absent(const Spot& parent, std::string_view key);

    [[nodiscard]] const Spot& spot() const { return spot_; }
    [[nodiscard]] std::string pointer(std::string_view key) const { return spot_.pointer + pointer_step(key); }
    [[nodiscard]] std::optional<Spot> find(std::string_view key) const;
    /// As `find`; a missing key is a finding (`key.missing`) saying what it is for.
    [[nodiscard]] std::optional<Spot> require(Job& job, std::string_view key, std::string_view what_for) const;
    /// Members by other keys than those opened with, in file order, each once.
    [[nodiscard]] std::vector<std::pair<std::string, Spot>> others() const;

private:
    Spot spot_;
    std::vector<std::string_view> keys_;
};

/// The object under `key`, or an absent one. Nothing if it is there and is no object.
std::optional<Fields> open_section(Job& job, const Fields& parent, std::string_view key, std::initializer_list<std::string_view> keys);

/// A length: a plain number in the job's unit, or text with or without its own unit. mm.
std::optional<double> read_length(Job& job, const Spot& spot, const LengthLimits& limits);
/// An angle: a plain number of degrees, or text. Degrees.
std::optional<double> read_angle(Job& job, const Spot& spot, const NumberLimits& limits);
std::optional<double> read_number(Job& job, const Spot& spot, const NumberLimits& limits);
/// A whole number; 3.0 is 3, "3" is not.
std::optional<std::size_t> read_count(Job& job, const Spot& spot, const CountLimits& limits);
std::optional<bool> read_flag(Job& job, const Spot& spot);
/// Text of `least` to `most` characters without control characters.
std::optional<std::string> read_text(Job& job, const Spot& spot, std::size_t least, std::size_t most);
/// A list (empty ones are a finding unless allowed); gives the number of its items.
std::optional<std::size_t> read_list(Job& job, const Spot& spot, std::size_t least, std::size_t most, std::string_view items);
/// Index of the word among the allowed ones.
std::optional<std::size_t> read_word(Job& job, const Spot& spot, const std::vector<std::string_view>& allowed);

/// The choice whose word, in the order of the enumeration's values, stands at `spot`.
template <class Choice>
std::optional<Choice> read_choice(Job& job, const Spot& spot, const std::vector<std::string_view>& words_in_order) {
    const auto index = read_word(job, spot, words_in_order);
    if (!index) return std::nullopt;
    return static_cast<Choice>(*index);
}

/// What stands at `spot`, short enough to quote in a message.
std::string written(const Spot& spot);
/// Says that a value of another type is needed.
void tell_wrong_type(Job& job, const Spot& spot, std::string_view needed);
/// Last key of the pointer, in quotes.
std::string key_name(const Spot& spot);
/// The words of a list: "a, b or c".
std::string joined(const std::vector<std::string_view>& words, std::string_view last_link = " or ");

}  // namespace boardring
