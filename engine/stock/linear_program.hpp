#pragma once
#include <cstddef>
#include <cstdint>
#include <memory>
#include <vector>

namespace boardring {

/// A small linear programme that grows by columns: least cost, columns >= 0, rows between two bounds. The only door to the LP library,
/// so that another one can stand behind it. What it answers is a proposal: bounds are proved elsewhere, in whole numbers (master.hpp).
class LinearProgram {
public:
    struct Entry {
        std::size_t row = 0;
        double factor = 0.0;
    };
    /// No upper bound.
    static constexpr double kUnbounded = 1e30;

    /// \param dearest  no cost is above this: the library's tolerances are absolute, so that costs beyond about 1e12 are told to it, and its
    ///                 answers taken from it, in a power of two
    LinearProgram(std::size_t rows, double dearest);
    ~LinearProgram();
    LinearProgram(const LinearProgram&) = delete;
    LinearProgram& operator=(const LinearProgram&) = delete;

    void set_row(std::size_t row, double low, double high);
    void add_column(double cost, const std::vector<Entry>& entries);
    /// From where the last solution stood. False when no optimum was found.
    bool solve();
    /// Elementary steps the last solution took, counted and not timed: each exchange of a column looks through all of them.
    [[nodiscard]] std::uint64_t steps() const;
    [[nodiscard]] double value() const;
    [[nodiscard]] double dual(std::size_t row) const;
    [[nodiscard]] double amount(std::size_t column) const;

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace boardring
