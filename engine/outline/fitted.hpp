#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "outline/fit.hpp"
#include "outline/fit_judge.hpp"
#include "outline/network.hpp"

namespace boardring {

/// A distance worth measuring next.
struct NextReading {
    std::size_t first = 0, second = 0;  ///< points of the network
    double expected_mm = 0.0;           ///< what it is by the fit
    double corners_sd_mm = 0.0;         ///< root mean square of the corners' standard deviations then, instead of now
};

/// How a found outline came about.
struct Fitted {
    Network network;
    NetworkFit fit;
    Judgement judgement;
    std::vector<double> corner_sd_mm;  ///< largest standard deviation in any direction, no corner held
    std::vector<double> side_sd_mm;
    std::vector<double> angle_sd_deg;  ///< 0 at free ends
    std::optional<NextReading>
        next;  ///< the unread distance that would make the corners known best; none if none helps by a tenth
};

}  // namespace boardring
