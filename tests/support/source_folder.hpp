#pragma once
#include <filesystem>

namespace boardring {

/// Root of the source tree the tests were built from: where the golden files, demos and schemas lie.
std::filesystem::path source_folder();

}  // namespace boardring
