#pragma once
#include <cstddef>
#include <vector>

namespace boardring {

/// Values that differ only by rounding made comparable: sorted, and cut into runs wherever the gap to the next value exceeds a
/// tolerance. Two values are the same exactly if they lie in one run. Unlike rounding to a grid no two near values can fall on
/// different sides of a line, and unlike pairwise comparison sameness is transitive and does not depend on the order of the values.
/// A run could only grow long if values lay closer than the tolerance all along it.
class Ranks {
public:
    /// \param values  finite; those that will be asked for
    Ranks(std::vector<double> values, double tolerance);

    /// Number of the run `value` lies in, from 0, ascending; of the run below it if it was not among the values.
    [[nodiscard]] std::size_t of(double value) const;

    /// Lowest value of each run, ascending.
    [[nodiscard]] const std::vector<double>& lowest() const { return lowest_; }

private:
    std::vector<double> lowest_;
};

}  // namespace boardring
