#pragma once
#include <string>
#include <utility>
#include <vector>

namespace boardring {

/// How much a finding matters: an error stops the way; a warning wants a decision; a caution is about hands and
/// wood; a note tells what was done.
enum class Severity { error, warning, caution, note };

/// One thing the maker should know. Findings are values: every stage collects all of its own, in file order.
struct Finding {
    Severity severity = Severity::error;
    std::string code;     ///< `area.kebab-name`, listed in docs/findings.md; never renamed, never reused
    std::string pointer;  ///< RFC 6901 pointer into the project file; "" is the whole file
    std::string message;  ///< what was found, what is allowed, with numbers and units; for a maker
    std::string fix;      ///< what to do, with a number where there is one
    int line = 0;         ///< line in the file, from 1, where text itself is at fault; 0 = not known here
    int column = 0;       ///< column of that line, from 1, in characters; 0 = not known here
    /// What to say to `boardring change` to mend it ("C is 98"), all of them together; none where the mend would be a guess.
    std::vector<std::string> changes = {};
};

using Findings = std::vector<Finding>;

/// True if any finding is an error.
inline bool has_error(const Findings& findings) {
    for (const Finding& f : findings) {
        if (f.severity == Severity::error) return true;
    }
    return false;
}

inline void append(Findings& to, Findings more) {
    for (Finding& f : more) to.push_back(std::move(f));
}

}  // namespace boardring
