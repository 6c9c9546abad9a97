#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace boardring {

// What was measured on boards that are sawn, as plain values: mm and degrees, corners and boards counted from 0.

/// One board that is cut; what was not measured is taken as planned.
struct AsCutBoard {
    std::size_t board = 0;
    std::optional<double> long_mm;                  ///< long point to long point
    std::optional<double> short_mm;                 ///< short point to short point
    std::array<std::optional<double>, 2> saw_deg;   ///< |S|, away from square, at its first and second corner
    std::string pointer;
};

/// Straight across between the inside points of two corners, boards put together dry.
struct AsCutDiagonal {
    std::size_t first = 0, second = 0;
    double mm = 0.0;
    std::string pointer;
};

/// How a joint stands open when all others are held tight.
struct DryFitGap {
    std::size_t corner = 0;
    double inside_mm = 0.0, outside_mm = 0.0;
    std::string pointer;
};

struct AsCut {
    std::vector<AsCutBoard> boards;      ///< each once, ascending
    std::vector<AsCutDiagonal> diagonals;
    std::optional<DryFitGap> gap;
    std::optional<double> length_accuracy_mm;  ///< of lengths and diagonals; else the job's for marks
    std::optional<double> angle_accuracy_deg;  ///< else the job's for cuts
};

}  // namespace boardring
