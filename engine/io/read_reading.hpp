#pragma once
#include <cstddef>
#include <string>

#include "io/reading_line.hpp"
#include "project/project.hpp"

namespace boardring {

/// The corners a list of readings speaks of, in their order.
struct CornerChain {
    std::size_t corners = 0;
    bool open = false;  ///< the first and the last corner are free ends
    [[nodiscard]] std::size_t sides() const { return open ? corners - 1 : corners; }
    [[nodiscard]] std::size_t next(std::size_t corner) const { return corner + 1 == corners && !open ? 0 : corner + 1; }
    [[nodiscard]] bool has_angle(std::size_t corner) const { return !open || (corner > 0 && corner + 1 < corners); }
    [[nodiscard]] std::string side_name(std::size_t side) const;
};

/// What one line says: its kind, its value [mm or degrees] and how good it is. Findings of the job are made where it says nothing
/// that can be; the reading then has no value.
/// `found`: sizes found with a tape. `from_above`: nothing can be read against level.
Reading read_reading(Job& job, const NamedLine& named, const CornerChain& chain, bool found, bool from_above);

}  // namespace boardring
