#include "stock/linear_program.hpp"

#include <ClpSimplex.hpp>

// LAPACK's word to the caller about a wrong argument, which its manual lets programs replace. The library's own prints through a Fortran run
// time, which nothing else here needs; the answer's status tells as much.
extern "C" void xerbla_(const char* routine, const int* argument, std::size_t routine_length);
extern "C" void xerbla_(const char* /*routine*/, const int* /*argument*/, std::size_t /*routine_length*/) {}

namespace boardring {

struct LinearProgram::Inside {
    ClpSimplex model;
    bool rows_moved = true;
    double unit = 1.0;  // of costs
};

LinearProgram::LinearProgram(std::size_t rows, double dearest) : inside_(std::make_unique<Inside>()) {
    // The largest with which the library still found its optimum was 1e12.
    while (dearest > 0x1p40 * inside_->unit) inside_->unit *= 2.0;
    inside_->model.setLogLevel(0);
    inside_->model.resize(static_cast<int>(rows), 0);
    for (std::size_t row = 0; row < rows; ++row) set_row(row, 0.0, kUnbounded);
}

LinearProgram::~LinearProgram() = default;

void LinearProgram::set_row(std::size_t row, double low, double high) {
    inside_->model.setRowBounds(static_cast<int>(row), low, high >= kUnbounded ? COIN_DBL_MAX : high);
    inside_->rows_moved = true;
}

void LinearProgram::add_column(double cost, const std::vector<Entry>& entries) {
    std::vector<int> rows;
    std::vector<double> factors;
    for (const Entry& entry : entries) {
        rows.push_back(static_cast<int>(entry.row));
        factors.push_back(entry.factor);
    }
    inside_->model.addColumn(static_cast<int>(rows.size()), rows.data(), factors.data(), 0.0, COIN_DBL_MAX, cost / inside_->unit);
}

bool LinearProgram::solve() {
    // New columns leave the last solution feasible, moved rows leave its duals feasible.
    if (inside_->rows_moved) {
        inside_->model.dual();
    } else {
        inside_->model.primal();
    }
    inside_->rows_moved = false;
    return inside_->model.isProvenOptimal();
}

std::uint64_t LinearProgram::steps() const {
    const auto columns = static_cast<std::uint64_t>(inside_->model.numberColumns() + inside_->model.numberRows());
    return columns * static_cast<std::uint64_t>(1 + inside_->model.numberIterations());
}

double LinearProgram::value() const { return inside_->unit * inside_->model.objectiveValue(); }
double LinearProgram::dual(std::size_t row) const { return inside_->unit * inside_->model.dualRowSolution()[row]; }
double LinearProgram::amount(std::size_t column) const { return inside_->model.primalColumnSolution()[column]; }

}  // namespace boardring
