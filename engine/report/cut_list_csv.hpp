#pragma once
#include <string>

#include "plan/plan.hpp"

namespace boardring {

/// The cut list as comma-separated values (RFC 4180, CRLF, header line), a row a board, extra pieces after them. Lengths in the
/// job's unit as decimal numbers rounded to the rule's step, angles rounded to 0.1. No cell can start a formula in a spreadsheet:
/// texts that begin with = + - @ tab or CR get a leading apostrophe.
std::string cut_list_csv(const Plan& plan);

}  // namespace boardring
