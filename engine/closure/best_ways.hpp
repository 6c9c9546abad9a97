#pragma once
#include <cstdint>
#include <tuple>
#include <vector>

#include "closure/least_miss.hpp"

namespace boardring {

// What the search of least_miss compares ways by, and the best it has met.

inline Miss sum(const Miss& a, const Miss& b) { return {a[0] + b[0], a[1] + b[1], a[2] + b[2]}; }

/// In whole kSameMiss, so that "the same" is one relation for all.
std::int64_t whole(double mm);

/// The row of a joint's tables that these ways stand in.
std::size_t row_of(const JointRule& rule, const Ways& ways);

/// Compared in this order.
struct Candidate {
    std::int64_t miss = 0;
    std::int64_t mismatch = 0;
    std::int64_t squares = 0;
    Ways ways;

    [[nodiscard]] bool before(const Candidate& other) const {
        return std::tie(miss, mismatch, squares, ways) < std::tie(other.miss, other.mismatch, other.squares, other.ways);
    }
};

/// The best ways found so far, `keep` of them at most.
class BestWays {
public:
    /// \param problem  must outlive this
    explicit BestWays(const MissProblem& problem) : problem_(problem) {}

    /// No way that leaves more is worth looking at.
    /// \param all  so few ways that every one may be kept, however much it leaves
    [[nodiscard]] double limit_mm(bool all) const;

    /// False where a way that leaves so much and moves so far is none of the best, whatever its mismatch: many ways leave the same where one
    /// number of the three can hardly be changed.
    [[nodiscard]] bool may_take(const Miss& miss, double squares) const;

    /// Takes the way if the joints allow it and it is one of the best.
    void offer(const Ways& ways, const Miss& miss);

    [[nodiscard]] const std::vector<Candidate>& found() const { return found_; }

private:
    const MissProblem& problem_;
    std::vector<Candidate> found_;
};

}  // namespace boardring
