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
#include <utility>
#include <vector>

#include "base/suggest.hpp"
#include "projects_here.hpp"
#include "report/command_text.hpp"
#include "report/wording.hpp"

namespace boardring::cli {
namespace {

constexpr std::size_t kMostBytes = 5u << 20;  // a little over what read_project accepts, so that it can say so itself

// A name of a file as a terminal may show it.
std::string shown_path(const std::filesystem::path& path) { return clean_line(path.string()); }

std::string reason() { return std::generic_category().message(errno); }

FileText read_descriptor(int descriptor, const std::string& name) {
    std::string text;
    std::array<char, 1 << 16> block{};
    while (text.size() <= kMostBytes) {
        const ssize_t got = ::read(descriptor, block.data(), block.size());
        if (got == 0) return {text, ""};
        if (got < 0) {
            if (errno == EINTR) continue;
            return {std::nullopt, fmt::format("cannot read {}: {}", clean_line(name), reason())};
        }
        text.append(block.data(), static_cast<std::size_t>(got));
    }
    return {text, ""};
}

constexpr int kMostLikeNamed = 10'000;

std::string unwritten(const std::filesystem::path& path) { return fmt::format("cannot write {}: {}", shown_path(path), reason()); }

// Who may read the file that is there, or what a new one gets: a plan is as readable as any other file of the maker's, and a file kept
// private stays so.
mode_t readers_of(const std::filesystem::path& path) {
    struct stat about {};
    if (::stat(path.c_str(), &about) == 0 && S_ISREG(about.st_mode)) return about.st_mode & 0777;
    const mode_t mask = ::umask(0);
    ::umask(mask);
    return 0666 & ~mask;
}

// A text written beside its place, under a name nobody else has.
struct Written {
    std::string path;
    std::string trouble;
};

// `place`: the file it is for. The name of its own is short, so that it fits wherever the other does, and hidden.
Written write_beside(const std::filesystem::path& place, const std::string& text, mode_t readers) {
    Written written{(place.parent_path() / ".boardring-XXXXXX").string(), ""};
    const int descriptor = ::mkstemp(written.path.data());
    if (descriptor < 0) {
        return {"", fmt::format("cannot write in {}: {}", place.has_parent_path() ? shown_path(place.parent_path()) : "this folder", reason())};
    }
    std::size_t done = 0;
    bool good = true;
    while (good && done < text.size()) {
        const ssize_t put = ::write(descriptor, text.data() + done, text.size() - done);
        if (put < 0 && errno == EINTR) continue;
        good = put > 0;
        if (good) done += static_cast<std::size_t>(put);
    }
    if (!good || ::fchmod(descriptor, readers) != 0 || ::fsync(descriptor) != 0) written.trouble = unwritten(place);
    if (::close(descriptor) != 0 && written.trouble.empty()) written.trouble = unwritten(place);
    if (!written.trouble.empty()) ::unlink(written.path.c_str());
    return written;
}

NewFile write_under_free_name(const std::function<std::filesystem::path(int)>& name, const std::string& text, mode_t readers) {
    const Written written = write_beside(name(1), text, readers);
    if (!written.trouble.empty()) return {"", written.trouble};
    std::string trouble = fmt::format("{} files named like {} lie here already; move some away", kMostLikeNamed, shown_path(name(1)));
    for (int number = 1; number <= kMostLikeNamed; ++number) {
        const std::filesystem::path path = name(number);
        // Taking the name and finding it free is one step.
        if (::link(written.path.c_str(), path.c_str()) == 0) {
            ::unlink(written.path.c_str());
            return {path.string(), ""};
        }
        if (errno == EEXIST) continue;
        // Some memory sticks have no second names for a file: there an empty file takes the name first.
        const int taken = ::open(path.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
        if (taken < 0 && errno == EEXIST) continue;
        if (taken >= 0) ::close(taken);
        if (taken >= 0 && ::rename(written.path.c_str(), path.c_str()) == 0) return {path.string(), ""};
        trouble = unwritten(path);
        if (taken >= 0) ::unlink(path.c_str());
        break;
    }
    ::unlink(written.path.c_str());
    return {"", trouble};
}

}  // namespace

FileText read_text(const std::string& path) {
    if (path == "-") return read_descriptor(STDIN_FILENO, "standard input");
    struct stat about {};
    if (::stat(path.c_str(), &about) == 0 && S_ISDIR(about.st_mode)) return {std::nullopt, clean_line(path) + " is a folder, not a project file"};
    const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (descriptor < 0) return {std::nullopt, fmt::format("cannot read {}: {}", clean_line(path), reason())};
    FileText file = read_descriptor(descriptor, path);
    ::close(descriptor);
    return file;
}

std::string why_not_replaced(const std::filesystem::path& path) {
    struct stat about {};
    if (::stat(path.c_str(), &about) != 0) return errno == ENOENT ? "" : unwritten(path);
    if (S_ISDIR(about.st_mode)) return fmt::format("cannot write {}: a folder of that name is there", shown_path(path));
    if (!S_ISREG(about.st_mode)) return fmt::format("cannot write {}: it is no plain file", shown_path(path));
    // Renaming over it would need no leave of the file's own, but whoever locked it meant it.
    return ::access(path.c_str(), W_OK) == 0 ? "" : unwritten(path);
}

std::filesystem::path behind_links(const std::filesystem::path& path) {
    std::error_code trouble;
    if (!std::filesystem::is_symlink(path, trouble)) return path;
    std::filesystem::path file = std::filesystem::canonical(path, trouble);
    return trouble ? path : file;
}

std::string write_all(const std::filesystem::path& folder, const std::vector<std::pair<std::string, std::string>>& files) {
    std::vector<std::string> beside;
    std::string trouble;
    for (const auto& [name, text] : files) {
        trouble = why_not_replaced(folder / name);
        if (!trouble.empty()) break;
        Written written = write_beside(folder / name, text, readers_of(folder / name));
        trouble = std::move(written.trouble);
        if (!trouble.empty()) break;
        beside.push_back(std::move(written.path));
    }
    for (std::size_t i = 0; i < beside.size(); ++i) {
        if (trouble.empty() && ::rename(beside[i].c_str(), (folder / files[i].first).c_str()) != 0) trouble = unwritten(folder / files[i].first);
        if (!trouble.empty()) ::unlink(beside[i].c_str());
    }
    return trouble;
}

std::string write_text(const std::filesystem::path& path, const std::string& text) {
    const std::filesystem::path file = behind_links(path);
    return write_all(file.parent_path(), {{file.filename().string(), text}});
}

NewFile write_new(const std::function<std::filesystem::path(int)>& name, const std::string& text) {
    return write_under_free_name(name, text, readers_of(""));
}

NewFile keep_beside(const std::filesystem::path& path, const std::string& text) {
    return write_under_free_name(
        [&path](int number) {
            const std::string ending = path.extension().string();
            return std::filesystem::path(path).replace_extension(number == 1 ? ".before" + ending : fmt::format(".before-{}{}", number, ending));
        },
        text, readers_of(path));
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
        for (const ProjectHere& project : here) list.append(1, ' ').append(clean_line(project.name));
        return {"", "Several projects lie here; name the one you mean:" + list, "boardring plan " + shell_word(here.front().name), false};
    }
    const std::string shown = clean_text(name, 200);
    std::vector<std::string_view> names;
    for (const ProjectHere& project : here) names.push_back(project.name);
    const std::string near = nearest_word(fs::path(name).stem().string(), names);
    const std::string none = fmt::format("There is no {0} and no {0}.json here.", shown);
    if (near.empty()) return {"", none, start, false};
    return {"", fmt::format("{} Did you mean {}?", none, clean_line(near)), "boardring plan " + shell_word(near), false, true};
}

}  // namespace boardring::cli
