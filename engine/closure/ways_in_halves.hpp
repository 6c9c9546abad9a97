#pragma once
#include <cstddef>
#include <cstdint>
#include <vector>

#include "closure/best_ways.hpp"
#include "closure/least_miss.hpp"

namespace boardring {

/// The ways of some choices in two lists, ready to be counted with any ways of the others: a part of one list is put together with those of
/// the other that could leave less than the best so far and that the joints between both allow.
class WaysInHalves {
public:
    /// \param problem  must outlive this
    /// \param indices  of the choices, at most kMostCounted
    WaysInHalves(const MissProblem& problem, const std::vector<std::size_t>& indices);

    /// \param fixed       what is left with these choices 0 and the others as in `ways`
    /// \param looks_left  so many ways that leave little enough may be looked at
    /// \return false if they ran out
    bool count(const Miss& fixed, Ways ways, BestWays& best, std::size_t& looks_left) const;

private:
    // What each way of some choices adds, and that way as bits.
    struct Part {
        Miss adds{};
        double squares = 0.0;
        std::uint32_t bits = 0;
    };

    // A joint of which both halves hold choices, or a half and choices that stand still, and which refuses some ways: what each part says
    // of its row in the tables.
    struct Crossing {
        const JointRule* rule = nullptr;
        bool in_high = false;
        std::vector<std::uint8_t> outer_rows, inner_rows;
    };

    class Matches;

    [[nodiscard]] bool holds(std::size_t choice) const;
    void find_crossings();
    static std::vector<Part> parts_of(const MissProblem& problem, const std::vector<std::size_t>& indices);
    static std::vector<std::uint8_t> rows_of(const JointRule& rule, const std::vector<std::size_t>& indices, const std::vector<Part>& parts);

    const MissProblem& problem_;
    bool all_;
    std::vector<std::size_t> low_, high_;
    std::vector<Part> outer_, inner_;
    std::size_t axis_ = 0;
    std::vector<Crossing> crossings_;
};

}  // namespace boardring
