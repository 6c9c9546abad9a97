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
#include "base/pointer.hpp"
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
    /// Says what mends the finding told last: a phrase of `boardring change`.
    void mended_by(std::string change) { findings.back().changes.push_back(std::move(change)); }
    void assume(std::string pointer, std::string value) { assumed.push_back({std::move(pointer), std::move(value)}); }
    /// True in inch and foot jobs, which get inch defaults.
    [[nodiscard]] bool in_inches() const { return unit == Unit::inch || unit == Unit::foot; }
};

/// Keys that are known by their kind: board numbers, corner letters, names the maker chose.
struct KeyKind {
    bool (*is_one)(std::string_view key) = nullptr;
    std::string_view called;
};

/// The members of one object. Opening it checks that it is an object and that every key is known.
class Fields {
public:
    /// Members of `spot`; nothing, and a finding, if it is no object. Keys are known by name or by `kind`.
    static std::optional<Fields> open(Job& job, const Spot& spot, std::initializer_list<std::string_view> keys,
                                      KeyKind kind = {});
    /// An object that is not in the file: every member is absent. `parent` is where it would stand.
    static Fields absent(const Spot& parent, std::string_view key);

    [[nodiscard]] const Spot& spot() const { return spot_; }
    [[nodiscard]] std::string pointer(std::string_view key) const { return spot_.pointer + pointer_step(key); }
    [[nodiscard]] std::optional<Spot> find(std::string_view key) const;
    /// As `find`; a missing key is a finding (`key.missing`): "it says ..." and what could be written, `"key": example`.
    [[nodiscard]] std::optional<Spot> require(Job& job, std::string_view key, std::string_view says,
                                              std::string_view example) const;
    /// Members by other keys than those opened with, in file order, each once.
    [[nodiscard]] std::vector<std::pair<std::string, Spot>> others() const;

private:
    Spot spot_;
    std::vector<std::string_view> keys_;
};

/// The object under `key`, or an absent one. Nothing if it is there and is no object.
std::optional<Fields> open_section(Job& job, const Fields& parent, std::string_view key,
                                   std::initializer_list<std::string_view> keys);

/// Says that a value of another type is needed: "it must be ..." and what to write.
void tell_wrong_type(Job& job, const Spot& spot, std::string_view needed, std::string fix);

}  // namespace boardring
