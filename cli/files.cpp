#include "files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdlib>
#include <system_error>
#include <string_view>
#include <vector>

#include "base/suggest.hpp"
#include "projects_here.hpp"
#include "report/command_text.hpp"

namespace boardring::cli {
namespace {

constexpr std::size_t kMostBytes = 5u << 20;  // a little over what read_project accepts, so that it can say so itself

std::string reason() { return std::generic_category().message(errno); }

FileText read_descriptor(int descriptor, const std::string& name) {
    std::string text;
    std::array<char, 1 << 16> block{};
    while (text.size() <= kMostBytes) {
        const ssize_t got = ::read(descriptor, block.data(), block.size());
        if (got == 0) return {text, ""};
        if (got < 0) {
            if (errno == EINTR) continue;
            return {std::nullopt, fmt::format("cannot read {}: {}", name, reason())};
        }
        text.append(block.data(), static_cast<std::size_t>(got));
    }
    return {text, ""};
}

}  // namespace

FileText read_text(const std::string& path) {
    if (path == "-") return read_descriptor(STDIN_FILENO, "standard input");
    struct stat about {};
    if (::stat(path.c_str(), &about) == 0 && S_ISDIR(about.st_mode)) return {std::nullopt, path + " is a folder, not a project file"};
    const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (descriptor < 0) return {std::nullopt, fmt::format("cannot read {}: {}", path, reason())};
    FileText file = read_descriptor(descriptor, path);
    ::close(descriptor);
    return file;
}

std::string write_text(const std::filesystem::path& path, const std::string& text) {
    std::string beside = path.string() + ".XXXXXX";
    const int descriptor = ::mkstemp(beside.data());
    if (descriptor < 0) return fmt::format("cannot write in {}: {}", path.parent_path().string(), reason());
    const auto unwritten = [&path] { return fmt::format("cannot write {}: {}", path.string(), reason()); };
    std::size_t done = 0;
    bool good = true;
    while (good && done < text.size()) {
        const ssize_t put = ::write(descriptor, text.data() + done, text.size() - done);
        if (put < 0 && errno == EINTR) continue;
        good = put > 0;
        if (good) done += static_cast<std::size_t>(put);
    }
    std::string trouble;
    if (!good) trouble = unwritten();
    if (good) {
        const mode_t mask = ::umask(0);  // mkstemp makes files private; a plan is as readable as any other file of the maker's
        ::umask(mask);
        if (::fchmod(descriptor, 0666 & ~mask) != 0 || ::fsync(descriptor) != 0) trouble = unwritten();
    }
    if (::close(descriptor) != 0 && trouble.empty()) trouble = unwritten();
    if (trouble.empty() && ::rename(beside.c_str(), path.c_str()) != 0) trouble = unwritten();
    if (!trouble.empty()) ::unlink(beside.c_str());
    return trouble;
}

KeptFile keep_beside(const std::filesystem::path& path, const std::string& text) {
    constexpr int kMostKept = 10'000;
    for (int number = 1; number <= kMostKept; ++number) {
        std::filesystem::path kept = path;
        kept.replace_extension(number == 1 ? fmt::format(".before{}", path.extension().string())
                                           : fmt::format(".before-{}{}", number, path.extension().string()));
        // Taking the name and finding it free is one step, so that two changes at once keep two files.
        const int taken = ::open(kept.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
        if (taken < 0 && errno == EEXIST) continue;
        if (taken < 0) return {"", fmt::format("cannot keep the old file as {}: {}", kept.string(), reason())};
        ::close(taken);
        std::string trouble = write_text(kept, text);
        if (!trouble.empty()) ::unlink(kept.c_str());
        return {kept.string(), std::move(trouble)};
    }
    return {"", fmt::format("{} older versions of {} are kept already; move some away", kMostKept, path.string())};
}

bool is_kept_name(const std::filesystem::path& path) {
    const std::string ending = path.stem().extension().string();
    return ending == ".before" || (ending.starts_with(".before-") && ending.find_first_not_of("0123456789", 8) == std::string::npos);
}

FoundProject find_project(const std::string& name) {
    namespace fs = std::filesystem;
    std::error_code ignored;
    if (!name.empty()) {
        if (name == "-" || fs::exists(name, ignored)) {
            if (!fs::is_directory(name, ignored) || !fs::exists(name + ".json", ignored)) return {name, "", "", false};
        }
        if (fs::exists(name + ".json", ignored)) return {name + ".json", "", "", false};
    }
    const std::vector<ProjectHere> here = projects_here();
    if (name.empty() && here.size() == 1) return {here.front().name + ".json", "", "", true};
    const std::string start = here.size() == 1 ? "boardring plan " + shell_word(here.front().name) : "boardring";
    if (name.empty() && here.empty()) return {"", "No project file lies in this folder.", start, false};
    if (name.empty()) {
        std::string list;
        for (const ProjectHere& project : here) list.append(1, ' ').append(project.name);
        return {"", "Several projects lie here; name the one you mean:" + list, "boardring plan " + shell_word(here.front().name), false};
    }
    const std::string shown = name.substr(0, 200);
    std::vector<std::string_view> names;
    for (const ProjectHere& project : here) names.push_back(project.name);
    const std::string near = nearest_word(fs::path(name).stem().string(), names);
    const std::string none = fmt::format("There is no {0} and no {0}.json here.", shown);
    if (near.empty()) return {"", none, start, false};
    return {"", fmt::format("{} Did you mean {}?", none, near), "boardring plan " + shell_word(near), false};
}

}  // namespace boardring::cli
