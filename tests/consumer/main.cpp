// Plans a hexagon and prints the inside length of board 1: 640 / sqrt(3) = 369.504.
#include <cstdio>

#include "io/read_project.hpp"
#include "plan/plan.hpp"

int main() {
    const boardring::ProjectRead read = boardring::read_project(R"({
        "format": "boardring-project-1",
        "title": "consumer",
        "units": "mm",
        "outline": { "line": "inside", "regular": { "corners": 6, "over_flats": 640 } },
        "stock": { "rail": { "width": 145, "thickness": 38 } },
        "boards": { "lie": "on edge", "all": { "stock": "rail" } }
    })");
    if (!read.project) return 1;
    const boardring::Plan plan = boardring::make_plan(*read.project);
    if (!plan.complete()) return 2;
    std::printf("%.3f\n", plan.shown[0].inside_length_mm);
    return 0;
}
