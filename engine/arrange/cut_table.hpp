#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "arrange/arrange.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

/// What the search knows of a board: two with equal sizes are one kind to it.
struct BoardSize {
    double width_mm = 0.0;   ///< in the joint
    double height_mm = 0.0;
};

/// The two cuts at one corner: settings as ranks among all settings of the table.
struct CornerCuts {
    std::uint32_t before = 0, after = 0;
    std::uint8_t beyond_saw = 0;  ///< how many of the two no motion reaches
    bool can_be_made = true;      ///< false: no such joint (a mitre of unequal boards in one line)
};

/// The cuts at every corner for every two sizes of board: a cut depends on nothing else.
class CutTable {
public:
    CutTable(const Project& project, const Outline& outline, const std::vector<BoardSize>& sizes);

    [[nodiscard]] std::size_t sizes() const { return sizes_; }
    /// At a corner that joins two boards.
    [[nodiscard]] const CornerCuts& at(std::size_t corner, std::size_t before, std::size_t after) const {
        return cuts_[(class_of_corner_[corner] * sizes_ + before) * sizes_ + after];
    }
    /// Free ends of an open chain, by size: setting in `before`.
    [[nodiscard]] const CornerCuts& first_end(std::size_t size) const { return first_end_[size]; }
    [[nodiscard]] const CornerCuts& last_end(std::size_t size) const { return last_end_[size]; }
    /// Settings the extra pieces need whatever the order, ascending.
    [[nodiscard]] const std::vector<std::uint32_t>& of_pieces() const { return of_pieces_; }
    [[nodiscard]] double setting_deg(std::uint32_t rank) const { return setting_deg_[rank]; }
    /// Settings of the cut list for cuts of these ranks. \param ascending  each once
    [[nodiscard]] std::size_t settings(const std::vector<std::uint32_t>& ascending) const;

private:
    std::size_t sizes_ = 0;
    std::vector<std::size_t> class_of_corner_;  // corners with one turn and one kind of joint share their cuts
    std::vector<CornerCuts> cuts_;
    std::vector<CornerCuts> first_end_, last_end_;
    std::vector<std::uint32_t> of_pieces_;
    std::vector<double> setting_deg_;
    std::vector<std::uint32_t> reach_;  // per setting the highest no maker could set apart from it
};

/// Score of a whole order. \param order  per board an index into the table's sizes; empty if some joint cannot be made
std::optional<PlaceScore> score_of(const CutTable& table, const Outline& outline, const std::vector<std::size_t>& order);

}  // namespace boardring
