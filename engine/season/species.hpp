#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace boardring {

/// Dimensional change coefficients of a wood: change for each 1 % of moisture and unit of size, 6 to 14 % moisture.
struct WoodMovement {
    std::string_view name;       ///< as the handbook orders it: "Oak, white"
    double radial = 0.0;         ///< towards the pith: the thickness of a flat-sawn board, the width of a quarter-sawn one
    double tangential = 0.0;     ///< along the rings
    bool from_memory = false;    ///< the numbers were not looked up again for this program
};

/// The woods known here, by name. Source: Wood Handbook, FPL-GTR-190 (2010), Table 13-5; read but for those marked from memory.
const std::vector<WoodMovement>& known_woods();

/// The wood of that name, case and order of the words aside: "white oak" is "Oak, white", "larch" is the one larch in the table. Empty where
/// there is none or several could be meant.
std::optional<WoodMovement> find_wood(std::string_view name);

/// Names that could be meant, at most `most`: those that share a word, else the nearest in spelling. As people say them: "white oak".
std::vector<std::string> woods_like(std::string_view name, std::size_t most);

/// "white oak" for "Oak, white".
std::string spoken_name(std::string_view name);

}  // namespace boardring
