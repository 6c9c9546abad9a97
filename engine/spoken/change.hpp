#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"
#include "io/read_project.hpp"

namespace boardring {

/// Lines of the text that one phrase changed, for people to see.
struct LinesChanged {
    std::size_t line = 0;             ///< number of the first one, from 1
    std::vector<std::string> before;  ///< without line ends; empty where lines were added
    std::vector<std::string> after;   ///< empty where lines were taken out
};

/// A project file after some changes.
struct ChangedProject {
    std::string text;                 ///< the new text; the old one where nothing was changed
    std::vector<LinesChanged> lines;  ///< one for each phrase, in their order; no lines where it changed nothing
    std::vector<std::string> back;    ///< the phrases that undo it, in the order in which to say them; empty if none would
    Findings findings;                ///< why nothing was changed; each error
    [[nodiscard]] bool ok() const { return findings.empty(); }
};

/// Changes the text of a project file as the phrases say, one after the other; every other byte stays. The new text must read
/// as a project; a file that already has faults may keep them, but none may be added.
/// \param beside  gives the files the project names, as for read_project: what stands in its price list can be spoken of
/// Law  change_project(new text, back) gives the old bytes, wherever `back` is not empty [change_property_test]
/// Problems  those of read_change; file.* where the text is no JSON; what read_project finds in the new text
ChangedProject change_project(std::string_view text, const std::vector<std::string>& phrases, const ReadBeside& beside = {});

}  // namespace boardring
