#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/finding.hpp"

namespace boardring {

/// A softwood board by the name it is sold under.
struct NominalSize {
    std::string name;           ///< as usually written, smaller number first: "2x6", "5/4x6"
    double thickness_mm = 0.0;  ///< dressed, dry: the inch size times 25.4, so 38.1 for 1-1/2 in (tables in mm say 38)
    double width_mm = 0.0;
    std::string note;  ///< "A 2x6 is 1-1/2 by 5-1/2 in (38 by 140 mm) when dry: measure yours"
};

/// Least dressed dry size behind a nominal name: `2x6`, `2 by 6`, `2 x 6`, `2"x6"`, `2×6`, `1x6 S4S`, `6x2` (the smaller number
/// is the thickness), `5/4x6` and `1-1/4x6` (nominal 1-1/4: 1 in dressed). Thickness 3/8 to 1-1/2 (boards), 2 to 4-1/2 (dimension
/// lumber), 5 and up (timbers); widths 2 to 12, 14 and 16.
/// Nothing for other names: rough quarters (`4/4`, `6/4`, `8/4`: sold rough, planed by whoever planes them), a third number
/// (`2x6x8`), sizes in mm (`38x140`), surfacings other than S4S. Never throws on any bytes.
/// Source: American Softwood Lumber Standard, PS 20, tables of dressed sizes (docs/references.md); timbers common practice.
std::optional<NominalSize> nominal_size(std::string_view name);

/// The finding (error, `stock.nominal-unknown`, empty pointer) for a name `nominal_size` knows nothing about, with the
/// nearest known size where there is one.
Finding nominal_unknown(std::string_view name);

}  // namespace boardring
