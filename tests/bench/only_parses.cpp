// The least any program of this kind does: start, read a project file, parse it, leave.
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>

int main(int argc, char** argv) {
    if (argc < 2) return 2;
    std::ifstream file(argv[1], std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    return nlohmann::json::parse(text, nullptr, false, true).is_object() ? 0 : 1;
}
