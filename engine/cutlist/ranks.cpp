#include "cutlist/ranks.hpp"

#include <algorithm>
#include <cstddef>
#include <iterator>

namespace boardring {

Ranks::Ranks(std::vector<double> values, double tolerance) {
    std::sort(values.begin(), values.end());
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (i == 0 || values[i] - values[i - 1] > tolerance) lowest_.push_back(values[i]);
    }
}

std::size_t Ranks::of(double value) const {
    const auto above = std::upper_bound(lowest_.begin(), lowest_.end(), value);
    return above == lowest_.begin() ? 0 : static_cast<std::size_t>(std::distance(lowest_.begin(), above)) - 1;
}

}  // namespace boardring
