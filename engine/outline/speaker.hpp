#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "base/length_text.hpp"
#include "outline/notebook.hpp"
#include "project/project.hpp"

namespace boardring {

/// What every sentence about readings needs: the readings themselves, their names and the maker's units.
class Speaker {
public:
    Speaker(const Notebook& book, const Project& project);

    /// An angle, with as many decimals as the finest given one, at least one.
    [[nodiscard]] std::string deg(double value) const;
    /// A small angle with two digits that count.
    [[nodiscard]] static std::string small_deg(double value);
    /// A length to the rule's step, with its unit.
    [[nodiscard]] std::string mm(double value) const { return show_length_unit(value, style_); }
    [[nodiscard]] std::string small_mm(double value) const { return show_small(value, style_); }
    /// "meet within 0.5 mm", or "meet".
    [[nodiscard]] std::string meet(double miss_mm) const;
    [[nodiscard]] std::string side(std::size_t k) const { return side_name(book_.chain, k); }
    /// "C at 97".
    [[nodiscard]] std::string corner_at(std::size_t corner, double interior_deg) const;
    /// "from B to D", across corner C.
    [[nodiscard]] std::string across(std::size_t corner) const;

    [[nodiscard]] const std::vector<Reading>& readings() const { return readings_; }
    [[nodiscard]] const Reading& side_reading(std::size_t k) const { return readings_[book_.side_line[k]]; }
    [[nodiscard]] const Reading& angle_reading(std::size_t c) const { return readings_[book_.angle_line[c]]; }
    [[nodiscard]] const LengthStyle& style() const { return style_; }

private:
    const Notebook& book_;
    const std::vector<Reading>& readings_;
    LengthStyle style_;
    int decimals_ = 1;
};

/// Says that a misfit is beyond the digits but not beyond the job's accuracy, and how to write that down.
void say_within_accuracy(Finding& finding, const Chain& measured, const Project& project);

/// "Five", and digits from 13 on.
std::string counted(std::size_t number);

/// "another", "one of 3 others": what is not named at the end of a list of suspects. `number` > 0.
std::string one_of_others(std::size_t number);

/// "A", "A or B", "A, B or C".
std::string listed(const std::vector<std::string>& items, const char* last_word);

}  // namespace boardring
