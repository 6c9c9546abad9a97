// Feeds files to a driver, so that what was found once is looked at by every compiler and in every run.
// usage: fuzz_NAME FILE|FOLDER...
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

#include "fuzz/driver.hpp"

int main(int count, char** words) {
    namespace fs = std::filesystem;
    std::vector<fs::path> paths;
    for (int i = 1; i < count; ++i) {
        const fs::path path = words[i];
        if (!fs::is_directory(path)) {
            paths.push_back(path);
            continue;
        }
        for (const auto& entry : fs::recursive_directory_iterator(path)) {
            if (entry.is_regular_file()) paths.push_back(entry.path());
        }
    }
    std::sort(paths.begin(), paths.end());
    for (const fs::path& path : paths) {
        std::ifstream file(path, std::ios::binary);
        const std::vector<char> bytes{std::istreambuf_iterator<char>(file), {}};
        std::fprintf(stderr, "%s\n", path.c_str());  // the last one said is the one that broke it
        LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
    }
    std::printf("%zu files\n", paths.size());
    return paths.empty() ? 1 : 0;
}
