#pragma once

namespace boardring {

/// docs/findings.md, whole, as it stood when the program was built.
extern const char* const kFindingsText;

}  // namespace boardring
