#include "support/source_folder.hpp"

namespace boardring {

// The path is compiled into this file alone: trees in two folders then share every other object in a compiler cache.
std::filesystem::path source_folder() { return BOARDRING_SOURCE_DIR; }

}  // namespace boardring
