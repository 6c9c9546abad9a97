#pragma once
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace boardring::cli {

/// Text of a file or of standard input (`-`), or why it cannot be read.
struct FileText {
    std::optional<std::string> text;
    std::string trouble;
};

FileText read_text(const std::string& path);

/// Why a file must not be replaced: it is locked against writing, a folder, or no plain file. "" where it may be, or is not there.
std::string why_not_replaced(const std::filesystem::path& path);

/// Writes every {name, text} into `folder`: all of them beside their places first, and only when that went well renames them over
/// what is there. An interrupted run leaves each file old or new, never half; where the disk is full every file stays as it was. A
/// file replaced keeps its permissions; a link there is replaced, not followed. Returns what went wrong, or "".
std::string write_all(const std::filesystem::path& folder, const std::vector<std::pair<std::string, std::string>>& files);

/// Writes one file in the same way. A link is followed: the file it leads to is the one replaced.
std::string write_text(const std::filesystem::path& path, const std::string& text);

/// A file written under a name that was free: which, or why it cannot be.
struct NewFile {
    std::string path;
    std::string trouble;
};

/// Writes `text` under the first of `name(1)`, `name(2)`, ... that is free, never over a file that is there: two runs at once write two
/// files. Whole or not at all, like write_text.
NewFile write_new(const std::function<std::filesystem::path(int)>& name, const std::string& text);

/// Writes `text` as planter.before.json beside planter.json, or with the next free number: planter.before-2.json, readable by those
/// who may read that one. Never over a file that is there.
NewFile keep_beside(const std::filesystem::path& path, const std::string& text);

/// True for names that keep_beside gives.
bool is_kept_name(const std::filesystem::path& path);

/// The project file meant by `name`: the path itself, with `.json` added, or, when `name` is empty, the only project of the folder.
struct FoundProject {
    std::string path;     ///< "" when there is none
    std::string trouble;  ///< for the maker, when there is none
    std::string next;     ///< the command that helps then
    bool chosen = false;  ///< taken because it is the only one here
    bool near = false;    ///< there is none, but one of nearly this name, which `next` plans
};
FoundProject find_project(const std::string& name);

}  // namespace boardring::cli
